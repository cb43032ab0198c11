"""All ridges in view folded onto one: edge points mapped back into the axial section.

A camera sees the shadow of a helix, not its section. Each edge point is therefore traced to the point of the fitted
thread that casts it (the polar angle at which the surface stands out farthest, searched for numerically, so that this
shares no formula with the fit) and drawn there, as far inside or outside the fitted section as it lay from the fitted
shadow. Errors of single ridges, noise and dirt show as they are; where flanks hide the root's corner no points lie.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np
import numpy.typing as npt

from threads.measured.axial_profile import AxialProfile, profile_of
from vision.model.shadow import INDEX, full_radii
from vision.shared.robust import OUTLIER

if TYPE_CHECKING:  # whoever only draws what was folded before does not load what measures
    from vision.result.measurement import Measurement

Array = npt.NDArray[np.float64]

_ANGLES = 121  # about the axis at which the casting point is looked for first
_WIDEST = 0.6  # radians: lead angles of several starts keep within


@dataclass(frozen=True)
class Folded:
    """One ridge with the points of all.

    Attributes:
        section: the fitted section; s grows toward the free end of the part, so that "left" is left.
        s, r: (n,) place of the points, mm.
        upper: (n,) whether a point is of the upper edge in the picture (for a part that points right).
        out: (n,) how far outside the fitted thread it lies, mm.
        along: (n,) where along the thread in view it is, mm from its middle, toward the free end.
        ridges: how many ridges were folded.
    """

    section: AxialProfile
    s: Array
    r: Array
    upper: npt.NDArray[np.bool_]
    out: Array
    along: Array
    ridges: int


def fold(measurement: Measurement) -> Folded:
    """Fold the ridges of ``measurement``; points that the fit took for dirt or damage are left out.

    Of a cast it is the cast's own section that is shown.
    """
    solution = measurement.solution
    x, seen = solution.fit.x, solution.seen
    good = np.abs(solution.fit.residual) < OUTLIER * solution.fit.scale
    pitch, starts = x[INDEX["pitch"]], seen.starts
    u, w, side = seen.u[good], seen.w[good], seen.side[good]
    angle = x[INDEX["rotation"]]
    z = np.cos(angle) * u + np.sin(angle) * (w - x[INDEX["offset"]])
    place = z - x[INDEX["phase"]] - np.where(side > 0, 0.0, starts / 2) * pitch
    ridge = np.rint(place / pitch)
    sections = _sections(measurement)
    s = _cast_by(sections[0], place - ridge * pitch, z, side, x, seen.centre, starts)
    section = sections[1]
    s = s * section.pitch / pitch
    out = solution.fit.residual[good]
    along_s, along_r = section.normal(s)
    toward = 1.0 if measurement.part.free_end_right else -1.0
    if toward < 0:
        section = section.mirrored()
    at_s, at_r = s + out * along_s, sections[1].radius(s) + out * along_r
    return Folded(
        section=section,
        s=toward * at_s,
        r=at_r,
        upper=side > 0,
        out=out,
        along=toward * (z - (solution.start + solution.end) / 2),
        ridges=int(ridge.max() - ridge.min()) + 1 if ridge.size else 0,
    )


def _sections(measurement: Measurement) -> tuple[AxialProfile, AxialProfile]:
    """The section as fitted, by which points are traced, and the one of the reported dimensions; both with +s as +u."""
    x = measurement.solution.fit.x
    p = measurement.solution.parameters
    crest_full, root_full = full_radii(x)
    corners = min(p.crest_corner, crest_full), min(p.root_corner, root_full)
    right, left = float(np.degrees(p.flank_right)), float(np.degrees(p.flank_left))
    middle = (measurement.solution.start + measurement.solution.end) / 2
    grow = p.taper * middle
    fitted = AxialProfile(
        p.pitch, p.crest + grow, p.pitch_radius + grow, p.root + grow, left, right, corners[0], corners[1]
    )
    if measurement.thread.internal:
        return fitted, fitted
    reported = profile_of(measurement.thread, crest_corner=corners[0], root_corner=corners[1])
    if not measurement.part.free_end_right:
        reported = reported.mirrored()
    return fitted, reported


def _cast_by(
    section: AxialProfile, d: Array, z: Array, side: Array, x: Array, centre: tuple[float, float], starts: int
) -> Array:
    """(n,) the place s in the section of the point that casts the shadow's edge ``d`` mm from the middle of its ridge.

    A surface point at polar angle phi with radius R(s) lands on d = s + k phi - R sin(phi) T and stands R cos(phi) high
    (``vision.model.shadow``); the one that stands out farthest casts the edge.
    """
    k = starts * x[INDEX["pitch"]] / (2 * np.pi)
    tilt = side * (x[INDEX["tilt"]] - x[INDEX["nearness"]] * (z - centre[0]))
    near = side * x[INDEX["nearness"]]
    across = side * (x[INDEX["offset"]] - centre[1])

    def reached(phi: Array) -> tuple[Array, Array]:
        s = d[:, None] - k * phi + section.pitch_radius * np.sin(phi) * tilt[:, None]
        r = section.radius(s)
        s = d[:, None] - k * phi + r * np.sin(phi) * tilt[:, None]
        r = section.radius(s)
        height = r * np.cos(phi) + near[:, None] * r * np.sin(phi) * (r * np.cos(phi) + across[:, None])
        return s, height

    grid = np.linspace(-_WIDEST, _WIDEST, _ANGLES)
    rows = np.arange(d.size)
    phi = np.broadcast_to(grid, (d.size, _ANGLES))
    for _ in range(2):  # once over all angles, once finely about the best one
        s, height = reached(phi)
        best = np.argmax(height, axis=1)
        step = (phi[:, 1] - phi[:, 0])[:, None]
        found, phi = s[rows, best], phi[rows, best][:, None] + step * np.linspace(-1, 1, 21)
    s, height = reached(phi)
    found = s[rows, np.argmax(height, axis=1)]
    return np.asarray(found)
