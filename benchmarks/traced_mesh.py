"""Screws as meshes of triangles, and the sizes of their section, read back off the triangles themselves.

For ``benchmarks.traced``: nothing here knows how a shadow is computed or drawn. The section is a polygon of flats and
flanks whose corners are rounded; it is swept along the helix, cut to length and chamfered. x is the axis (the free end
toward +x), and (x, y, z) is right-handed, so that a point which turns from y to z while it moves along +x draws a
right-hand thread.
"""

from __future__ import annotations

from dataclasses import dataclass
from math import atan, cos, degrees, pi, radians, sin, tan
from pathlib import Path

import numpy as np
import numpy.typing as npt

Array = npt.NDArray[np.float64]
Ints = npt.NDArray[np.int64]

TURN_STEPS = 960
"""Facets around: their chords lie 0.005 um inside a cylinder of 2.5 mm on the mean."""
ARC_STEPS, FLANK_STEPS, FLAT_STEPS = 8, 10, 4


@dataclass(frozen=True)
class Form:
    """A thread by its section, mm and degrees; ``left`` is the flank that faces away from the free end.

    A corner radius of None rounds crest or root fully: one arc from flank to flank. None is below 0.002 mm: metal has
    no sharper corners.
    """

    name: str
    pitch: float
    major: float
    pitch_diameter: float
    minor: float
    left: float = 30.0
    right: float = 30.0
    crest_corner: float | None = 0.004
    root_corner: float | None = 0.004


@dataclass(frozen=True)
class Mesh:
    """Vertices (n, 3) in mm, their outward normals (n, 3) and the triangles (m, 3)."""

    vertices: Array
    normals: Array
    triangles: Ints

    def moved(self, turn: Array, shift: Array) -> Mesh:
        """The mesh turned by the matrix ``turn`` (3, 3), then shifted."""
        return Mesh(self.vertices @ turn.T + shift, self.normals @ turn.T, self.triangles)

    def write(self, path: Path) -> None:
        """As a binary PLY file with normals."""
        head = "\n".join(
            (
                "ply\nformat binary_little_endian 1.0",
                f"element vertex {len(self.vertices)}",
                *(f"property float {name}" for name in ("x", "y", "z", "nx", "ny", "nz")),
                f"element face {len(self.triangles)}\nproperty list uchar int vertex_indices\nend_header\n",
            )
        )
        faces = np.empty(len(self.triangles), dtype=[("n", "u1"), ("v", "<i4", 3)])
        faces["n"], faces["v"] = 3, self.triangles
        points = np.hstack([self.vertices, self.normals]).astype("<f4")
        path.write_bytes(head.encode() + points.tobytes() + faces.tobytes())


def one_pitch(form: Form) -> Array:
    """(n, 3) place along the axis, radius and slope angle (rad) along one pitch, from the middle of a root flat on."""
    quarter, at_pitch = form.pitch / 4, form.pitch_diameter / 2
    up, down = form.major / 2 - at_pitch, at_pitch - form.minor / 2
    left, right = radians(form.left), radians(form.right)
    crest = [-quarter + up * tan(left), quarter - up * tan(right)]
    root = [quarter + down * tan(right), 3 * quarter - down * tan(left)]
    turns = [pi / 2 - left, pi / 2 - right]

    def corner(given: float | None, flat: float) -> float:
        return flat / (tan(turns[0] / 2) + tan(turns[1] / 2)) if given is None else given

    round_crest = corner(form.crest_corner, crest[1] - crest[0])
    round_root = corner(form.root_corner, root[1] - root[0])
    corners = (
        # place, radius of the corner, slope before and after it, radius of its arc
        (root[1] - form.pitch, form.minor / 2, 0.0, turns[0], round_root),
        (crest[0], form.major / 2, turns[0], 0.0, round_crest),
        (crest[1], form.major / 2, 0.0, -turns[1], round_crest),
        (root[0], form.minor / 2, -turns[1], 0.0, round_root),
    )
    arcs = [_arc(*c) for c in corners]
    start = (root[0] - form.pitch + root[1] - form.pitch) / 2
    ends = [np.array([[start, form.minor / 2, 0.0]]), *arcs, np.array([[start + form.pitch, form.minor / 2, 0.0]])]
    if round_root * (tan(turns[0] / 2) + tan(turns[1] / 2)) > root[1] - root[0] - 1e-9:
        ends[0], ends[-1] = arcs[0][:1], arcs[0][:1] + np.array([form.pitch, 0.0, 0.0])
    steps = (FLAT_STEPS, FLANK_STEPS, 2 * FLAT_STEPS, FLANK_STEPS, FLAT_STEPS)
    pieces = []
    for before, after, count in zip(ends[:-1], ends[1:], steps, strict=True):
        pieces += [before, before[-1] + (after[0] - before[-1]) * np.arange(1, count)[:, None] / count]
    points = np.vstack([*pieces, ends[-1]])
    return points[np.append(True, np.diff(points[:, 0]) > 1e-9)][:-1]


def _arc(place: float, radius: float, before: float, after: float, rounding: float) -> Array:
    """Points of the arc in the corner between slopes ``before`` and ``after``, with their slopes."""
    side = 1.0 if after > before else -1.0  # a left turn has its centre above
    tangent = rounding * tan(abs(after - before) / 2)
    first = np.array([place - tangent * cos(before), radius - tangent * sin(before)])
    centre = first + side * rounding * np.array([-sin(before), cos(before)])
    slope = np.linspace(before, after, ARC_STEPS + 1)
    return np.column_stack(
        [centre[0] + side * rounding * np.sin(slope), centre[1] - side * rounding * np.cos(slope), slope]
    )


def screw(form: Form, start: float, end: float) -> Mesh:
    """The thread from ``start`` to the free end at x = ``end``, chamfered by 45 degrees below the root."""
    section = one_pitch(form)
    pitches = np.arange(np.floor((start - end) / form.pitch) - 1, 3) * form.pitch + end
    along, radius, slope = (section[None] + pitches[:, None, None] * [1.0, 0.0, 0.0]).reshape(-1, 3).T
    turn = 2 * pi * np.arange(TURN_STEPS) / TURN_STEPS
    x = along[None, :] + form.pitch * turn[:, None] / (2 * pi) - form.pitch
    r, tilt = np.broadcast_to(radius, x.shape).copy(), np.broadcast_to(slope, x.shape).copy()
    cone = 0.48 * form.minor + (end - x)
    cut = cone < r
    r, tilt = np.where(cut, cone, r), np.where(cut, -pi / 4, tilt)
    beyond = x >= end
    rim = beyond & ~np.roll(beyond, 1, axis=1)
    r, x = np.where(rim, 0.48 * form.minor, np.where(beyond, 0.0, r)), np.minimum(x, end)
    y, z = r * np.cos(turn)[:, None], r * np.sin(turn)[:, None]
    # the normal of (x, r cos, r sin) swept along the helix: across both the section and the helix
    lead = np.where(cut | beyond, 0.0, form.pitch / (2 * pi))
    ds, dr = np.cos(tilt), np.sin(tilt)
    c, s = np.cos(turn)[:, None], np.sin(turn)[:, None]
    normal = np.stack([-dr * r, ds * r * c - lead * dr * s, ds * r * s + lead * dr * c], axis=-1)
    flat = beyond & ~rim
    normal[flat] = [1.0, 0.0, 0.0]
    normal /= np.linalg.norm(normal, axis=-1, keepdims=True)
    return Mesh(
        np.stack([x, y, z], axis=-1).reshape(-1, 3), normal.reshape(-1, 3), _triangles(x.shape[1], len(section))
    )


def _triangles(columns: int, pitch_columns: int) -> Ints:
    """Two for each cell; the last row of cells closes on the first row, one pitch further on."""
    cell = np.arange(TURN_STEPS)[:, None] * columns + np.arange(columns - 1)[None, :]
    ahead = cell + columns
    ahead[-1] = np.arange(columns - 1) + pitch_columns
    keep = np.ones(cell.shape, bool)
    keep[-1, columns - 1 - pitch_columns :] = False
    a, b = cell[keep], ahead[keep]
    return np.vstack([np.column_stack([a, b, a + 1]), np.column_stack([a + 1, b, b + 1])])


def section_sizes(mesh: Mesh, first: float, last: float, *, rounded: tuple[bool, bool]) -> dict[str, float]:
    """Sizes of the axial section between two places of the axis, cut out of the triangles, mm and degrees.

    The mesh lies as ``screw`` made it. The plane of the cut holds the axis and lies askew to the facets. ``rounded``
    says whether crest and root are one arc between the flanks; such a one has a radius, else the width between the
    flanks produced.
    """
    places, radii = _cut(mesh, 0.3, first, last)
    crest, root = float(radii.max()), float(radii.min())

    def crossings(level: float) -> Array:
        above = radii > level
        at = np.flatnonzero(above[1:] != above[:-1])
        share = (level - radii[at]) / (radii[at + 1] - radii[at])
        found = places[at] + share * (places[at + 1] - places[at])
        found = found[(0 if above[at[0] + 1] else 1) :]  # begin with a flank that rises
        return np.asarray(found[: len(found) // 2 * 2].reshape(-1, 2))

    low, high = root + 0.3 * (crest - root), crest - 0.3 * (crest - root)
    pitch = float(np.diff(crossings((low + high) / 2)[:, 0]).mean())
    for _ in range(60):
        level = (low + high) / 2
        ridge = float(np.mean(np.ptp(crossings(level), axis=1)))
        low, high = (level, high) if ridge > pitch / 2 else (low, level)
    part = 0.1 * (crest - root)
    lower, upper = _same_ridges(crossings(level - part), crossings(level + part), pitch)
    slopes = [abs(float(np.mean(upper[:, k] - lower[:, k]))) / (0.2 * (crest - root)) for k in (0, 1)]
    flats = [pitch / 2 - abs(line - level) * sum(slopes) for line in (crest, root)]
    arc = 1 / sum(
        tan((pi / 2 - atan(slope)) / 2) for slope in slopes
    )  # of a circle that touches a flat and both flanks
    return {
        "pitch": pitch,
        "major_diameter": 2 * crest,
        "pitch_diameter": 2 * level,
        "minor_diameter": 2 * root,
        "flank_angle_left": degrees(atan(slopes[0])),
        "flank_angle_right": degrees(atan(slopes[1])),
        "included_angle": degrees(sum(atan(slope) for slope in slopes)),
    } | {
        f"{place}_{'radius' if whole else 'width'}": flat * arc if whole else flat
        for place, flat, whole in zip(("crest", "root"), flats, rounded, strict=True)
    }


def _same_ridges(lower: Array, upper: Array, pitch: float) -> tuple[Array, Array]:
    """Those ridges, one a row, that both have: one at the end of what was cut may be whole at one level only."""
    first = lower[0].mean()
    number = [np.rint((ridges.mean(axis=1) - first) / pitch).astype(int) for ridges in (lower, upper)]
    return lower[np.isin(number[0], number[1])], upper[np.isin(number[1], number[0])]


def _cut(mesh: Mesh, angle: float, first: float, last: float) -> tuple[Array, Array]:
    """The half plane at ``angle`` about the axis cuts the triangles: places along the axis, in order, and radii."""
    v = mesh.vertices
    off = -v[:, 1] * sin(angle) + v[:, 2] * cos(angle)
    out = v[:, 1] * cos(angle) + v[:, 2] * sin(angle)
    found = []
    for i, j in ((0, 1), (1, 2), (2, 0)):
        a, b = mesh.triangles[:, i], mesh.triangles[:, j]
        cut = (off[a] > 0) != (off[b] > 0)
        a, b = a[cut], b[cut]
        share = (off[a] / (off[a] - off[b]))[:, None]
        cut_at = [np.column_stack([v[ends, 0], out[ends]]) for ends in (a, b)]
        found.append(cut_at[0] * (1 - share) + cut_at[1] * share)
    points = np.vstack(found)
    points = points[(points[:, 1] > 0) & (points[:, 0] > first) & (points[:, 0] < last)]
    points = points[np.argsort(points[:, 0])]
    return points[:, 0], points[:, 1]
