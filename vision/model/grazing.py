"""How far a polished edge recedes because it mirrors the backlight at grazing incidence.

A surface whose curvature radius along the line of sight is rho throws light into the camera from a band of width
rho A^2 / 8 inside its edge, A being the half cone of the backlight seen from the part (radians): a ray that grazes at
the angle g is turned by 2 g, and leaves the band at depth rho g^2 / 2 with 2 g = A. With the reflectivity f the
half-level edge recedes by about f rho A^2 / 8 (derived here). On a plain cylinder rho = R; on a flank of half angle
a, rho = R / sin(a) along the flank's normal, hence 1 / sin(a)^2 times the cylinder's recession as seen on the diameter.

Round gauges recede too: a scale from pins is too large by the part f A^2 / 8.

Known cone (``Mirror``): each edge point is put back by f (A^2 / 8) R / sin(angle between the edge and the axis), and a
scale from pins is made smaller, before anything is fitted. What is left are the uncertainties of f and A.

Unknown cone (``Grazing``): for crests and roots, which are round like the pins, the two cancel. Along the axis and on
the flanks they do not: pitch, widths and pitch diameter are scaled by 1 - rho, with the middle of what is possible
(JCGM 100:2008, F.2.4.3). What the flanks themselves lose, f D (A^2 / 8) / sin(a)^2 on the pitch diameter, is not
corrected: it is a one-sided bound.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from threads.shared.quantity import COVERAGE_FACTOR

REFLECTIVITY = 0.85
"""Of polished metal near grazing incidence (common practice, no source): an upper figure, dull steel has less."""

MEAN_REFLECTIVITY = 0.7
REFLECTIVITY_U = 0.15
"""Assumed for clean machined metal, and its standard uncertainty (workshop assumption): 0.4 to 1 at U95."""
PINS_REFLECTIVITY_U = 0.1
_STEEP_CONE_DEG = 8.0
"""At such a cone the band is no longer small against the flank: the rule itself is good to a sixth (1 sd) only."""

ASSUMED_CONE_DEG = 4.0
"""Half cone assumed when none is stated: a light pad masked to a patch, as the set-up asks for."""


@dataclass(frozen=True)
class Mirror:
    """The correction for a known cone, all in parts of a radius.

    Attributes:
        recession: f A^2 / 8, by which the edge of a round part stands back.
        part_u, pins_u: standard uncertainties of it for the part and for round gauges, from their reflectivity.
        cone_u: its standard uncertainty from the cone, common to both.
        scale_excess: by how much the scale is too large: ``recession`` when it comes from round gauges, else 0.
    """

    recession: float
    part_u: float
    pins_u: float
    cone_u: float
    scale_excess: float


NO_MIRROR = Mirror(0.0, 0.0, 0.0, 0.0, 0.0)


def mirror_of(cone_deg: float | None, cone_u_deg: float = 0.0, *, round_gauges: bool) -> Mirror:
    """The correction for a backlight of half cone ``cone_deg``; none at all when it is unknown.

    Args:
        cone_deg: half cone of the backlight seen from the part, None when unknown.
        cone_u_deg: its standard uncertainty.
        round_gauges: whether the scale comes from pins.
    """
    if cone_deg is None:
        return NO_MIRROR
    full = float(np.radians(cone_deg)) ** 2 / 8
    rule = (cone_deg / _STEEP_CONE_DEG) ** 2 / 6
    recession = MEAN_REFLECTIVITY * full
    return Mirror(
        recession=recession,
        part_u=full * float(np.hypot(REFLECTIVITY_U, MEAN_REFLECTIVITY * rule)),
        pins_u=full * PINS_REFLECTIVITY_U if round_gauges else 0.0,
        cone_u=MEAN_REFLECTIVITY * float(np.radians(cone_deg) * np.radians(cone_u_deg)) / 4,
        scale_excess=recession if round_gauges else 0.0,
    )


@dataclass(frozen=True)
class Grazing:
    """Bounds on the effect of mirrored light when the cone of the light is not stated (mm, degrees).

    Attributes:
        cone_deg: half cone assumed.
        scale_excess: rho, the part by which the scale is taken to be too large.
        scale_u: its standard uncertainty.
        pitch_diameter, crest_width, root_width: one-sided bounds, "true minus measured".
        flank_angle: bound of the change of each flank angle, degrees.
    """

    cone_deg: float
    scale_excess: float
    scale_u: float
    pitch_diameter: float
    crest_width: float
    root_width: float
    flank_angle: float


NO_GRAZING = Grazing(0.0, 0.0, 0.0, 0.0, 0.0, 0.0, 0.0)


def grazing_effects(diameter: float, flank: float, excess_variance: float, *, round_gauges: bool) -> Grazing:
    """Effects on a thread in a light of unknown cone.

    Args:
        diameter: pitch diameter, mm.
        flank: half angle of the flanks, radians.
        excess_variance: how much the flanks' edges are blurred more than the crests', mm^2 (variance). Light that
            creeps over the edge in a band w with reflectivity f adds f (1 - f) w^2; a cone wider than assumed shows so.
        round_gauges: whether the scale comes from pins.
    """
    sin_a, cos_a = float(np.sin(flank)), float(np.cos(flank))
    band = np.sqrt(max(excess_variance, 0.0) / (REFLECTIVITY * (1 - REFLECTIVITY)))
    cone = max(float(np.radians(ASSUMED_CONE_DEG)), float(np.sqrt(8 * band * sin_a / (diameter / 2))))
    most = REFLECTIVITY * cone**2 / 8
    normal = most * diameter / 2 / sin_a
    return Grazing(
        cone_deg=float(np.degrees(cone)),
        # anything from no mirror at all to the full effect
        scale_excess=most / 2 if round_gauges else 0.0,
        scale_u=most / float(np.sqrt(12)) if round_gauges else 0.0,
        pitch_diameter=most * diameter / sin_a**2,
        crest_width=2 * normal / cos_a,
        root_width=-2 * normal / cos_a,
        # the recession is proportional to the radius, so that the flank leans by its part of the radius
        flank_angle=float(np.degrees(sin_a * cos_a * most / sin_a**2)),
    )


@dataclass(frozen=True)
class SetupEffect:
    """What a backlight does to the pitch diameter of a polished thread, mm.

    Attributes:
        cone_deg: half cone of the backlight.
        taken: by how much the pitch diameter looks too small when nothing is put right.
        u95: what remains of it, as U95, when the cone was given and the correction made.
    """

    cone_deg: float
    taken: float
    u95: float


def half_cone(patch_mm: float, distance_mm: float) -> float:
    """Half cone (degrees) under which a part sees a round patch of light ``patch_mm`` wide from ``distance_mm``.

    >>> round(half_cone(10.0, 150.0), 3)
    1.909
    """
    return float(np.degrees(np.arctan(patch_mm / 2 / distance_mm)))


def setup_effect(
    cone_deg: float, diameter: float, flank_deg: float = 30.0, *, cone_u_deg: float = 0.0, round_gauges: bool = True
) -> SetupEffect:
    """What a light of this cone takes from a pitch diameter, and what U95 remains (from this cause alone).

    The flanks stand back by 1 / sin(a)^2 times what a cylinder loses; a scale from pins, too large by the part that
    these lose, gives one of it back.

    Args:
        cone_deg: half cone of the light seen from the part.
        diameter: pitch diameter, mm.
        flank_deg: half angle of the flanks.
        cone_u_deg: standard uncertainty of the cone.
        round_gauges: whether the scale comes from pins.

    >>> e = setup_effect(2.0, 2.5)
    >>> round(1000 * e.taken, 2), round(1000 * e.u95, 2)
    (0.8, 0.46)
    """
    mirror = mirror_of(cone_deg, cone_u_deg, round_gauges=round_gauges)
    steep = 1 / float(np.sin(np.radians(flank_deg))) ** 2
    net = steep - (1.0 if round_gauges else 0.0)
    u = diameter * float(np.sqrt((steep * mirror.part_u) ** 2 + mirror.pins_u**2 + (net * mirror.cone_u) ** 2))
    return SetupEffect(cone_deg, diameter * net * mirror.recession, COVERAGE_FACTOR * u)
