"""How far a polished edge recedes because it mirrors the backlight at grazing incidence.

A surface whose curvature radius along the line of sight is rho throws light into the camera from a band of width
rho A^2 / 8 inside its edge, A being the half cone of the backlight seen from the part (radians): a ray that grazes at
the angle g is turned by 2 g, and leaves the band at depth rho g^2 / 2 with 2 g = A. With the reflectivity f the
half-level edge recedes by about f rho A^2 / 8 (derived here). On a plain cylinder rho = R; on a flank of half angle
a, rho = R / sin(a) along the flank's normal, hence 1 / sin(a)^2 times the cylinder's recession as seen on the diameter.

Nothing is corrected here. The scale comes from pins that recede too, so that a diameter is too small by
f D (A^2 / 8) (1 / sin(a)^2 - 1), and the pitch too large by the part f A^2 / 8.
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
    """Full possible effect, each as "true minus measured" (mm, degrees).

    Attributes:
        cone_deg: half cone that was reckoned with.
        known: whether the calibration states it.
        pitch_diameter, crest_width, root_width: one-sided bounds.
        pitch_relative: by how much of itself the pitch may be too large.
        flank_angle: bound of the change of each flank angle, degrees.
    """

    cone_deg: float
    known: bool
    pitch_diameter: float
    crest_width: float
    root_width: float
    pitch_relative: float
    flank_angle: float


def grazing_bounds(
    diameter: float, depth: float, flank: float, stated_cone_deg: float | None, excess_variance: float
) -> Grazing:
    """Bounds of the effect for a thread.

    Args:
        diameter: pitch diameter, mm.
        depth: radial length of the flank, mm.
        flank: half angle of the flanks, radians.
        stated_cone_deg: half cone of the backlight, None when unknown.
        excess_variance: how much the flanks' edges are blurred more than the crests', mm^2 (variance). Light that
        creeps
            over the edge in a band w with reflectivity f adds f (1 - f) w^2; a cone wider than assumed shows itself so.
    """
    sin_a = float(np.sin(flank))
    known = stated_cone_deg is not None
    if stated_cone_deg is not None:
        cone = float(np.radians(stated_cone_deg))
    else:
        band = np.sqrt(max(excess_variance, 0.0) / (REFLECTIVITY * (1 - REFLECTIVITY)))
        seen = float(np.sqrt(8 * band * sin_a / (diameter / 2)))
        cone = max(float(np.radians(ASSUMED_CONE_DEG)), seen)
    unit = REFLECTIVITY * cone**2 / 8
    normal = unit * diameter / 2 / sin_a
    shift = unit * diameter * (1 / sin_a**2 - 1)
    # the recession is proportional to the radius: over the flank's depth it changes by this much, in radial measure
    lean = unit / sin_a**2
    turn = float(np.degrees(np.sin(flank) * np.cos(flank) * lean)) if depth > 0 else 0.0
    return Grazing(
        float(np.degrees(cone)),
        known,
        shift,
        2 * normal / float(np.cos(flank)),
        -2 * normal / float(np.cos(flank)),
        unit,
        turn,
    )
