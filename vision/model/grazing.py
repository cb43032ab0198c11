"""How far an edge moves because metal mirrors the backlight at grazing incidence and the lens looks past it.

Mirrored light. A surface whose curvature radius along the line of sight is rho throws light into the camera from a band
of width rho A^2 / 8 inside its edge, A being the half cone of the backlight seen from the part (radians): a ray that
grazes at the angle g is turned by 2 g, and leaves the band at depth rho g^2 / 2 with 2 g = A. With the reflectivity f
the half-level edge recedes by about f rho A^2 / 8 (derived here). On a plain cylinder rho = R; on a flank of half angle
a, rho = R / sin(a) along the flank's normal, hence 1 / sin(a)^2 times the cylinder's recession as seen on the diameter.

Surface. f is that of the metal (0.78 to 0.9 for steel, by Fresnel's equations) only where it is smooth. A surface of
microfacets of roughness alpha (Walter et al., Microfacet models for refraction through rough surfaces, EGSR 2007)
scatters most of it past the lens. The integral over its lobes, done numerically for cones of 2 to 8 deg and alpha of
0.01 to 0.2, is f / (1 + (B / A)^2) with B = 3.85 alpha within 0.04: at 4 deg alpha 0.01 leaves three quarters, 0.02 a
half, 0.05 a tenth, 0.1 a fortieth.

Lens. A lens that takes in a cone of half angle NA sees an edge from many directions at once, and each sees past it by
rho d^2 / 2, d being its angle to the axis; over the round opening that is rho NA^2 / 8 on average. The edge grows as by
a recession of -NA^2 / 8 (derived here).

View. An edge off the middle does not see the whole patch: at the place P (from the optical axis, outward normal n) a
ray from a camera at the distance D that is turned by 2 g toward n meets a patch of half width h at the distance d where
|P (1 + d / D) + 2 g d n| = h. The largest such 2 g is the half cone of that edge; it differs between the two flanks of
a ridge, and is smaller at both edges of a thick part than in the middle (derived here).

Round gauges do the same: a scale from pins is too large by the part f A^2 / 8 - NA^2 / 8. Each edge point is put back
by that part of R / sin(angle between the edge and the axis), and a scale from pins is made smaller, before anything is
fitted. What is not known is corrected by the middle of what is possible, with the rectangular share in the uncertainty
(JCGM 100:2008, F.2.4.3): the surface from dull to polished, the cone up to ``ASSUMED_CONE_DEG``.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Protocol

import numpy as np
import numpy.typing as npt

from threads.shared.quantity import COVERAGE_FACTOR

Array = npt.NDArray[np.float64]

REFLECTIVITY = 0.85
"""Of polished steel near grazing incidence: Fresnel's equations with n = 2.9, k = 3.1 (from memory), averaged over the
band, give 0.91 to 0.78 for cones of 2 to 8 deg."""

SURFACES: dict[str | None, tuple[float, float]] = {
    "bright": (0.51, 0.26),
    "dull": (0.06, 0.05),
    "black": (0.015, 0.015),
    None: (0.4, 0.28),
}
"""What of the light a surface mirrors into the camera, and its standard uncertainty. Bright: from polish to what still
shines, roughness up to 0.05; dull: 0.08 and more; black: blued or oxidised. None: anything from nothing to polish, the
rectangular share of which is 0.25; both ends are common."""

PINS = (0.35, 0.25)
"""The same of gauge pins, which are bright; in wide cones it grows, see ``_of_pins``."""
_LAPPED_B = 3.85 * 0.02
"""B (radians) of a lapped pin, of roughness 0.02."""
MEAN_REFLECTIVITY, PINS_REFLECTIVITY_U = 0.7, 0.1
"""Of pins whose loss shows against flat gauges: the cone that is found from it is the one of polished pins."""
_STEEP_CONE_DEG = 8.0
"""At such a cone the band is no longer small against the flank: the rule itself is good to a sixth (1 sd) only."""

ASSUMED_CONE_DEG = 5.3
"""A cone that is not stated lies between none and this one, its square evenly: a pad behind the part, masked or far."""


STATED_RELATIVE_U = 0.07
"""Standard uncertainty of a half cone that is stated: patch and distance, each known to a tenth (U95; the middle of a
mask's soft rim, millimetres read off a rule; workshop assumption)."""
OPENING_RELATIVE_U = 0.1
"""Standard uncertainty of a lens opening that is stated: from an f-number and a magnification (workshop assumption)."""


class Lit(Protocol):
    """What a bench knows of its light and lens; a ``vision.shared.plane.PlaneMap`` is one."""

    @property
    def light_cone_deg(self) -> float | None: ...
    @property
    def light_cone_u_deg(self) -> float: ...
    @property
    def light_cone_most_deg(self) -> float | None: ...
    @property
    def lens_opening(self) -> float | None: ...
    @property
    def light_patch_mm(self) -> float | None: ...
    @property
    def light_distance_mm(self) -> float | None: ...
    @property
    def working_distance_mm(self) -> float | None: ...
    @property
    def round_gauges(self) -> bool: ...


@dataclass(frozen=True)
class Patch:
    """A round patch of light behind the part, its middle on the optical axis, mm.

    ``half`` is its radius, ``distance`` how far behind the part it is, ``camera`` how far before it the camera is.
    """

    half: float
    distance: float
    camera: float

    def shares(self, along: Array, across: Array, normal_along: Array, normal_across: Array) -> Array:
        """(n,) what A^2 is at edges at these places (from the optical axis) with these outward normals, over that at 0.

        >>> Patch(5.0, 100.0, math.inf).shares(*(np.array([v]) for v in (0.0, 1.0, 0.0, 1.0))).round(3)
        array([0.64])
        """
        spread = 1 + self.distance / self.camera
        x, y = along * spread, across * spread
        toward = x * normal_along + y * normal_across
        reach = np.sqrt(np.maximum(self.half**2 - x**2 - y**2 + toward**2, 0.0)) - toward
        return np.asarray((np.maximum(reach, 0.0) / self.half) ** 2)


@dataclass(frozen=True)
class Mirror:
    """The correction for mirrored light and the lens, in parts of a radius.

    Attributes:
        cone_deg: half cone of the light: as stated, or as wide as it may be.
        recession: f A^2 / 8 - NA^2 / 8, by which the edge of a round part stands back.
        mirrored: the share of the light in ``recession``.
        patch: where the light comes from, if that was stated: each edge then has its own cone.
        scale_excess: by how much the scale is too large: the same of round gauges where it comes from these, else 0.
        surface_u: standard uncertainty of ``recession`` from the part's surface, and of the rule in wide cones.
        pins_u: that of ``scale_excess`` from the surface of the gauges.
        cone_u, pins_cone_u: those of both from the cone, one cause.
        opening_u, pins_opening_u: those of both from the lens opening, one cause.
        stated: whether the cone was stated, or found from the gauges.
        most_deg: half cone above which a light not stated would show at the gauges; None where they do not tell.
        round_gauges: whether the scale comes from round gauges.
        opening: numerical aperture of the lens, if stated; its growth is in ``recession`` as that of edges in focus.
    """

    cone_deg: float = 0.0
    recession: float = 0.0
    mirrored: float = 0.0
    patch: Patch | None = None
    scale_excess: float = 0.0
    surface_u: float = 0.0
    pins_u: float = 0.0
    cone_u: float = 0.0
    pins_cone_u: float = 0.0
    opening_u: float = 0.0
    pins_opening_u: float = 0.0
    stated: bool = True
    most_deg: float | None = None
    round_gauges: bool = False
    opening: float = 0.0

    @property
    def round_u(self) -> float:
        """Relative standard uncertainty that all of it leaves on a diameter of a round part."""
        cone, opening = self.cone_u - self.pins_cone_u, self.opening_u - self.pins_opening_u
        return float(np.sqrt(self.surface_u**2 + self.pins_u**2 + cone**2 + opening**2))

    @property
    def scale_u(self) -> float:
        """The same on a length along the axis, which knows the scale's share only."""
        return float(np.sqrt(self.pins_u**2 + self.pins_cone_u**2 + self.pins_opening_u**2))


NO_MIRROR = Mirror()


def mirror_of(light: Lit, surface: str | None = None, radius_mm: float = 0.0) -> Mirror:
    """The correction for a part of this surface (``SURFACES``) on a bench with this light.

    ``radius_mm`` is about that of the part, and of the gauges: so far from the middle their edges are.
    """
    reflectivity, reflectivity_u = SURFACES[surface]
    stated = light.light_cone_deg is not None
    if light.light_cone_deg is None:
        cone = min(ASSUMED_CONE_DEG, light.light_cone_most_deg or ASSUMED_CONE_DEG)
        full = float(np.radians(cone)) ** 2 / 16
        full_u = float(np.radians(cone)) ** 2 / 8 / float(np.sqrt(12))
    else:
        cone = light.light_cone_deg
        full = float(np.radians(cone)) ** 2 / 8
        cone_u = max(light.light_cone_u_deg, STATED_RELATIVE_U * cone)
        full_u = float(np.radians(cone) * np.radians(cone_u)) / 4
    rule = full / float(np.radians(_STEEP_CONE_DEG)) ** 2 * 8 / 6
    grown = (light.lens_opening or 0.0) ** 2 / 8
    grown_u = 2 * OPENING_RELATIVE_U * grown
    patch = None
    if light.light_patch_mm is not None and light.light_distance_mm is not None:
        patch = Patch(light.light_patch_mm / 2, light.light_distance_mm, light.working_distance_mm or math.inf)
    pins = 1.0 if light.round_gauges else 0.0
    seen = 1.0 if patch is None else float(patch.shares(*(np.array([v]) for v in (0.0, radius_mm, 0.0, 1.0)))[0])
    wider = cone * float(np.sqrt(1 + full_u / full)) if full else cone
    both = float(np.hypot(full, full_u))  # where surface and cone are both wide open, their product is as well
    return Mirror(
        cone_deg=cone,
        recession=reflectivity * full - grown,
        mirrored=reflectivity * full,
        patch=patch,
        scale_excess=pins * (_of_pins(cone) * full * seen - grown),
        surface_u=float(np.hypot(both * reflectivity_u, full * reflectivity * rule)),
        pins_u=pins * both * seen * PINS[1],
        cone_u=reflectivity * full_u,
        pins_cone_u=pins * (_of_pins(wider) * (full + full_u) - _of_pins(cone) * full) * seen,
        opening_u=grown_u,
        pins_opening_u=pins * grown_u,
        stated=stated,
        most_deg=None if stated else light.light_cone_most_deg,
        round_gauges=light.round_gauges,
        opening=light.lens_opening or 0.0,
    )


def out_of_focus(opening: float, depth: Array, sharp: float) -> Array:
    """What is left of the growth by the lens, NA^2 / 8, of edges that lie ``depth`` (mm) off the plane of focus.

    There the lens spreads the edge over NA z to both sides, and half of the light no longer stands at the middle of
    what its places see, but nearer to what its own middle sees. With t = NA z / s, s being the blur in focus, the
    growth falls as 1 - t^2 / 8 (derived here); beyond t = 1 it was found on traced pictures of a blackened screw.

    >>> out_of_focus(0.04, np.array([0.0, 0.1, 0.2]), 0.004).round(3)
    array([1.   , 0.904, 0.76 ])
    """
    return np.asarray((1 + (opening * depth / sharp) ** 2 / 2) ** -0.25)


def _of_pins(cone_deg: float) -> float:
    """The part of the light that pins mirror: what all of them do, and of wide cones what lapped metal does."""
    cone = float(np.radians(cone_deg))
    return max(PINS[0], REFLECTIVITY * cone**2 / (cone**2 + _LAPPED_B**2))


@dataclass(frozen=True)
class SetupEffect:
    """What a backlight does to the pitch diameter of a thread, mm.

    Attributes:
        cone_deg: half cone of the backlight.
        taken: by how much the pitch diameter of a polished thread looks too small when nothing is put right.
        u95: what remains of it, as U95, when it is put right by what is known.
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


@dataclass(frozen=True)
class _Light:
    """A light of which only this is known."""

    light_cone_deg: float | None
    light_cone_u_deg: float
    round_gauges: bool
    light_cone_most_deg: float | None = None
    lens_opening: float | None = None
    light_patch_mm: float | None = None
    light_distance_mm: float | None = None
    working_distance_mm: float | None = None


def setup_effect(
    cone_deg: float | None,
    diameter: float,
    flank_deg: float = 30.0,
    *,
    cone_u_deg: float = 0.0,
    round_gauges: bool = True,
    surface: str | None = None,
) -> SetupEffect:
    """What a light of this cone takes from a pitch diameter, and what U95 remains (from this cause alone).

    The flanks stand back by 1 / sin(a)^2 times what a cylinder loses; a scale from pins, too large by the part that
    these lose, gives one of it back.

    Args:
        cone_deg: half cone of the light seen from the part, None where it is not known.
        diameter: pitch diameter, mm.
        flank_deg: half angle of the flanks.
        cone_u_deg: standard uncertainty of the cone.
        round_gauges: whether the scale comes from pins.
        surface: of the part, see ``SURFACES``.

    >>> e = setup_effect(2.0, 2.5, surface="bright")
    >>> round(1000 * e.taken, 2), round(1000 * e.u95, 2)
    (0.64, 0.84)
    """
    light = _Light(cone_deg, cone_u_deg, round_gauges)
    mirror, polished = mirror_of(light, surface), mirror_of(light, "bright")
    steep = 1 / float(np.sin(np.radians(flank_deg))) ** 2
    cone = steep * mirror.cone_u - mirror.pins_cone_u
    u = diameter * float(np.sqrt((steep * mirror.surface_u) ** 2 + mirror.pins_u**2 + cone**2))
    taken = diameter * (steep * polished.recession - polished.scale_excess)
    return SetupEffect(mirror.cone_deg, taken, COVERAGE_FACTOR * u)
