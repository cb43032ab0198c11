"""How far a polished edge recedes because it mirrors the backlight at grazing incidence.

A surface whose curvature radius along the line of sight is rho throws light into the camera from a band of width
rho A^2 / 8 inside its edge, A being the half cone of the backlight seen from the part (radians): a ray that grazes at
the angle g is turned by 2 g, and leaves the band at depth rho g^2 / 2 with 2 g = A. With the reflectivity f the
half-level edge recedes by about f rho A^2 / 8 (derived here). On a plain cylinder rho = R; on a flank of half angle
a, rho = R / sin(a) along the flank's normal, hence 1 / sin(a)^2 times the cylinder's recession as seen on the diameter.

Round gauges recede too: a scale from pins is too large by the part rho = f A^2 / 8. For crests and roots, which are
round like the pins, this cancels. Along the axis and on the flanks it does not: pitch, widths and pitch diameter are
scaled by 1 - rho, with the middle of what is possible when the cone is unknown (JCGM 100:2008, F.2.4.3). What the
flanks themselves lose, f D (A^2 / 8) / sin(a)^2 on the pitch diameter, is not corrected: it is a one-sided bound.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

REFLECTIVITY = 0.8
"""Of polished metal near grazing incidence (common practice, no source): an upper figure, dull steel has less."""

ASSUMED_CONE_DEG = 4.0
"""Half cone assumed when nobody has said one: a light pad masked to a patch, as the set-up asks for."""


@dataclass(frozen=True)
class Grazing:
    """What mirrored light may do to this measurement (mm, degrees).

    Attributes:
        cone_deg: half cone that was reckoned with.
        known: whether the calibration states it.
        scale_excess: rho, the part by which the scale is taken to be too large.
        scale_u: its standard uncertainty.
        pitch_diameter, crest_width, root_width: one-sided bounds, "true minus measured".
        flank_angle: bound of the change of each flank angle, degrees.
    """

    cone_deg: float
    known: bool
    scale_excess: float
    scale_u: float
    pitch_diameter: float
    crest_width: float
    root_width: float
    flank_angle: float


def grazing_effects(
    diameter: float, flank: float, stated_cone_deg: float | None, excess_variance: float, *, round_gauges: bool
) -> Grazing:
    """Effects on a thread.

    Args:
        diameter: pitch diameter, mm.
        flank: half angle of the flanks, radians.
        stated_cone_deg: half cone of the backlight, None when unknown.
        excess_variance: how much the flanks' edges are blurred more than the crests', mm^2 (variance). Light that
            creeps over the edge in a band w with reflectivity f adds f (1 - f) w^2; a cone wider than assumed shows so.
        round_gauges: whether the scale comes from pins.
    """
    sin_a, cos_a = float(np.sin(flank)), float(np.cos(flank))
    if stated_cone_deg is not None:
        cone = float(np.radians(stated_cone_deg))
    else:
        band = np.sqrt(max(excess_variance, 0.0) / (REFLECTIVITY * (1 - REFLECTIVITY)))
        cone = max(float(np.radians(ASSUMED_CONE_DEG)), float(np.sqrt(8 * band * sin_a / (diameter / 2))))
    most = REFLECTIVITY * cone**2 / 8
    # unknown: anything from no mirror at all to the full effect; known: from dull (a quarter) to polished
    low = 0.0 if stated_cone_deg is None else most / 4
    normal = most * diameter / 2 / sin_a
    return Grazing(
        cone_deg=float(np.degrees(cone)),
        known=stated_cone_deg is not None,
        scale_excess=(low + most) / 2 if round_gauges else 0.0,
        scale_u=(most - low) / np.sqrt(12) if round_gauges else 0.0,
        pitch_diameter=most * diameter / sin_a**2,
        crest_width=2 * normal / cos_a,
        root_width=-2 * normal / cos_a,
        # the recession is proportional to the radius, so that the flank leans by its part of the radius
        flank_angle=float(np.degrees(sin_a * cos_a * most / sin_a**2)),
    )
