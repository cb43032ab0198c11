"""What is wrong with the form of a thread as a body in space: oval, drunken, bent, cut with a wandering lead.

A part can be turned about its own axis, so that several pictures show it from several sides. Angles are counted about
the axis, right-handed toward the free end; phi is the angle in front of the camera, psi = phi - turned that in the
part.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from math import inf, isinf, radians

import numpy as np
import numpy.typing as npt

Array = npt.NDArray[np.float64]
Radius = Callable[[Array, Array], Array]


@dataclass(frozen=True)
class Imperfections:
    """Errors of form. Each is that of the whole thread, crest, flanks and root alike.

    Attributes:
        turned_deg: how far the part is turned about its axis.
        ovality_um: largest less smallest diameter, two of each round the part; the mean is the nominal one.
        oval_at_deg: where, in the part, the largest diameter stands.
        drunkenness_um: amplitude of the axial error d sin(psi) that repeats with every turn.
        drunken_at_deg: where, in the part, that error is 0 and rising.
        bend_radius_mm: radius of curvature of the axis, which stays in place at the middle of the picture.
        bent_at_deg: toward which side of the part the bend bulges.
        lead_errors: (distance from the free end in mm, axial error in um) nodes; straight lines between them. Positive
            shifts the thread toward the free end.
    """

    turned_deg: float = 0.0
    ovality_um: float = 0.0
    oval_at_deg: float = 0.0
    drunkenness_um: float = 0.0
    drunken_at_deg: float = 0.0
    bend_radius_mm: float = inf
    bent_at_deg: float = 0.0
    lead_errors: tuple[tuple[float, float], ...] = ()

    def faults(self) -> list[str]:
        """What keeps these from being drawn; empty when nothing does."""
        found = []
        if not self.bend_radius_mm >= 20:
            found.append("the axis is bent to a radius of 20 mm or more")
        if any(b[0] <= a[0] for a, b in zip(self.lead_errors, self.lead_errors[1:], strict=False)):
            found.append("the distances of lead_errors grow")
        return found


def imperfect(perfect: Radius, errors: Imperfections, z_centre: float) -> Radius:
    """The radius function of the thread with its errors.

    Args:
        perfect: radius at (z, psi) of the thread without errors; z in mm from the free end, negative in the part.
        errors: what is wrong with it.
        z_centre: place of the axis that the bend leaves where it is.

    Returns:
        The radius at (z, phi) round the straight axis. On a bent part it is solved for by repetition; displacement and
        slope of the axis are taken to the first order, which errs by (slope squared) times the radius, under 0.1 um on
        a radius of curvature of 200 mm and 2 mm from the middle.
    """
    turned, oval_at, drunken_at = (radians(a) for a in (errors.turned_deg, errors.oval_at_deg, errors.drunken_at_deg))
    bulge = radians(errors.bent_at_deg) + turned
    nodes = np.array(errors.lead_errors, dtype=np.float64).reshape(-1, 2)[::-1]

    def straight(z: Array, phi: Array) -> Array:
        psi = phi - turned
        moved = errors.drunkenness_um * 1e-3 * np.sin(psi - drunken_at)
        if nodes.size:
            moved = moved + np.interp(z, -nodes[:, 0], nodes[:, 1] * 1e-3)
        return perfect(z - moved, psi) + errors.ovality_um * 1e-3 / 4 * np.cos(2 * (psi - oval_at))

    if isinf(errors.bend_radius_mm):
        return straight

    def bent(z: Array, phi: Array) -> Array:
        away = -((z - z_centre) ** 2) / (2 * errors.bend_radius_mm)
        slope = -(z - z_centre) / errors.bend_radius_mm
        c, s = np.cos(phi - bulge), np.sin(phi - bulge)
        r = straight(z, phi) + away * c
        for _ in range(3):
            # sections stand square on the bent axis, round a centre that is displaced
            own = np.arctan2(r * s, r * c - away) + bulge
            own = phi + (own - phi + np.pi) % (2 * np.pi) - np.pi
            r = away * c + np.sqrt(straight(z + slope * r * c, own) ** 2 - (away * s) ** 2)
        return r

    return bent
