"""Where in the picture each quantity was taken, as a draughtsman dimensions it: lines, extension lines, place of text.

Diameters stand beyond the free end of the thread, the smallest nearest, beyond the picture where that ends. Pitch and
angle are shown at a ridge near the middle. What is drawn is the fitted axial section: lines lie within the width of
the drawn outline of where the shadow was seen, and nothing is measured from them.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from threads.measured.thread import RidgeError
from threads.shared.quantity import Quantity
from vision.model.shadow import ShadowParameters
from vision.result.fitted_outline import in_picture
from vision.result.measurement import Measurement

Array = npt.NDArray[np.float64]

DRAWN = ("minor_diameter", "pitch_diameter", "major_diameter", "pitch", "included_angle", "length")
"""What is always drawn; the others are shown when somebody asks for them."""
ELSEWHERE = {"lead": "pitch", "threads_per_inch": "pitch"}
"""Quantities that are taken where another is."""

_LONG = ("thread", "head", "shoulder", "shank")
"""Sections whose length is drawn; points and undercuts are too short for it."""
_GAP = 0.18  # of the major diameter, between dimension lines: text stands between them
_OVER = 0.04  # of the major diameter, that an extension line stands over the dimension line
_ARC = 24  # pieces of an arc


@dataclass(frozen=True, eq=False)
class Dimension:
    """One quantity in the picture, all in px.

    Attributes:
        quantity: field of ``MeasuredThread``, or "length" of a section of the part. value: what it measures.
        line: (n, 2) from arrow to arrow; an arc for an angle.
        extensions: (2, 2) each, from the part to the line.
        text_at: (2,) middle of the line. away: (2,) unit vector from there to where the value stands.
    """

    quantity: str
    value: Quantity
    line: Array
    extensions: tuple[Array, ...]
    text_at: Array
    away: Array


def dimensions(measurement: Measurement) -> tuple[Dimension, ...]:
    """The dimensions of ``DRAWN``, of flank angles, and of crest and root where these are known."""
    drawn = _Drawn(measurement)
    return (*drawn.diameters(), drawn.pitch(), *drawn.angles(), *drawn.widths(), *drawn.lengths())


@dataclass(frozen=True)
class FlankSeen:
    """A flank in the picture: the quantity that is its angle, and its ridge, None where that has no numbers of its own.

    ``number``: of the ridge on its edge, counted from the free end, 1 the first.
    """

    quantity: str
    ridge: RidgeError | None
    number: int


def flank_at(measurement: Measurement, x: float, y: float, within: float) -> FlankSeen | None:
    """The flank of which a point of the picture (px) is at most ``within`` px away, or None."""
    drawn = _Drawn(measurement)
    found = None
    for quantity, edge, along, line in drawn.flanks():
        distance = _distance(line, np.array([x, y]))
        if distance <= within:
            within, found = distance, (quantity, edge, along - drawn.solution.start)
    if found is None:
        return None
    quantity, edge, position = found
    of_edge = [one for one in measurement.thread.per_thread if one.edge == edge]
    ridge = next((one for one in of_edge if abs(one.position - position) < drawn.p.pitch / 2), None)
    number = 0 if ridge is None else of_edge[:: -int(drawn.toward)].index(ridge) + 1
    return FlankSeen(quantity, ridge, number)


class _Drawn:
    """The fitted thread of one measurement: sizes in mm along and across its axis, and how they lie in the picture."""

    def __init__(self, measurement: Measurement) -> None:
        self.measurement, self.solution = measurement, measurement.solution
        self.p = ShadowParameters(*(float(v) for v in self.solution.fit.x))
        self.toward = 1.0 if measurement.part.free_end_right else -1.0
        middle = (self.solution.start + self.solution.end) / 2
        self.ridge = self.p.phase + self.p.pitch * float(np.floor((middle - self.p.phase) / self.p.pitch))
        self.size = 2 * self.p.crest
        self.right, self.left = float(np.tan(self.p.flank_right)), float(np.tan(self.p.flank_left))

    def points(self, along: Sequence[float] | Array, across: Sequence[float] | Array) -> Array:
        """(n, 2) px of places along the axis and across it, mm."""
        return in_picture(self.measurement, np.asarray(along, float), np.asarray(across, float))

    def dimension(
        self, quantity: str, line: Array, extensions: Sequence[Array], away: Array, value: Quantity | None = None
    ) -> Dimension:
        value = value or getattr(self.measurement.thread, quantity)
        text_at = line[len(line) // 2] if len(line) > 2 else line.mean(axis=0)
        return Dimension(quantity, value, line, tuple(extensions), text_at, away / max(float(np.hypot(*away)), 1e-12))

    def diameters(self) -> list[Dimension]:
        """Minor, pitch and major diameter beyond the free end; beyond the border where the part reaches it."""
        p, end = self.p, self.solution.end if self.toward > 0 else self.solution.start
        beyond = self._point() + _GAP * self.size / 2
        found = []
        sizes = (("minor_diameter", p.root), ("pitch_diameter", p.pitch_radius), ("major_diameter", p.crest))
        for step, (name, of_middle) in enumerate(sizes):
            radius = of_middle + p.taper * end
            at = self.toward * (beyond + step * _GAP * self.size)
            line = self.points([at, at], [radius, -radius])
            over = at + self.toward * _OVER * self.size
            extensions = [self.points([end, over], [side * radius] * 2) for side in (1.0, -1.0)]
            ends = self.points([at - 1.0, at], [0.0, 0.0])
            found.append(self.dimension(name, line, extensions, ends[0] - ends[1]))
        return found

    def _point(self) -> float:
        """Where the part ends toward its free end, mm along the axis, counted that way."""
        part, end = self.measurement.part, self.solution.end if self.toward > 0 else self.solution.start
        farthest = self.toward * end
        if part.view is not None and part.free_end != "not in view":
            px = part.view.frame.to_picture(part.view.points)
            mm = self.solution.seen.px_mm
            farthest = max(farthest, float((self.toward * self.solution.frame.to_frame(px * mm)[:, 0]).max()))
        return farthest

    def pitch(self) -> Dimension:
        """From ridge to ridge, above the upper edge."""
        p, at = self.p, self.p.crest + 0.8 * _GAP * self.size
        ends = [self.ridge, self.ridge + p.pitch]
        line = self.points(ends, [at, at])
        over = at + _OVER * self.size
        extensions = [self.points([z, z], [p.crest, over]) for z in ends]
        return self.dimension("pitch", line, extensions, self._up())

    def _up(self) -> Array:
        ends = self.points([self.ridge, self.ridge], [1.0, 0.0])
        return np.asarray(ends[0] - ends[1])

    def angles(self) -> list[Dimension]:
        """The angle of the groove of the lower edge, and that of each of its flanks against the normal of the axis."""
        p = self.p
        # z of the groove on the lower edge: its ridges stand half a lead along
        ridge = self.ridge + (self.solution.seen.starts / 2 % 1) * p.pitch
        depth = p.pitch / 2 / (self.right + self.left)
        apex_z, apex_r = ridge + p.pitch / 4 + depth * self.right, p.pitch_radius - depth
        far = p.crest - apex_r + 0.9 * _GAP * self.size

        def ray(angle: float, start: float, end: float) -> Array:
            turn = np.array([start, end]) / np.cos(angle)
            return self.points(apex_z + turn * np.sin(angle), -(apex_r + turn * np.cos(angle)))

        def arc(first: float, last: float) -> Array:
            turn = np.linspace(first, last, _ARC + 1)
            return self.points(apex_z + far * np.sin(turn), -(apex_r + far * np.cos(turn)))

        crest, over = p.crest - apex_r, far + _OVER * self.size
        before, behind = -p.flank_right, p.flank_left  # seen from the apex: the +u flank of a ridge lies before it
        names = ("flank_angle_right", "flank_angle_left")[:: int(self.toward)]
        normal = ray(0.0, crest, over)
        down = -self._up()
        return [
            self.dimension(
                "included_angle", arc(before, behind), [ray(a, crest, over) for a in (before, behind)], down
            ),
            self.dimension(names[0], arc(before, 0.0), [ray(before, 0.0, over), normal], down),
            self.dimension(names[1], arc(0.0, behind), [normal, ray(behind, 0.0, over)], down),
        ]

    def widths(self) -> list[Dimension]:
        """Of the flat of a crest, above it, and of the root beside it."""
        p, spread = self.p, self.right + self.left
        found = []
        for name, middle, radius, wide in (
            ("crest_width", self.ridge, p.crest, p.pitch / 2 - (p.crest - p.pitch_radius) * spread),
            ("root_width", self.ridge + p.pitch / 2, p.root, p.pitch / 2 - (p.pitch_radius - p.root) * spread),
        ):
            if getattr(self.measurement.thread, name) is None:
                continue
            at = p.crest + _GAP * self.size / 2
            ends = [middle - wide / 2, middle + wide / 2]
            extensions = [self.points([z, z], [radius, at + _OVER * self.size]) for z in ends]
            found.append(self.dimension(name, self.points(ends, [at, at]), extensions, self._up()))
        return found

    def lengths(self) -> list[Dimension]:
        """Of the sections that the picture shows from end to end, in one line below the part."""
        part, found = self.measurement.part, []
        if part.view is None:
            return []
        left = float(part.view.points[:, 0].min()) * self.solution.seen.px_mm
        at = -(part.largest_diameter / 2 + 2 * _GAP * self.size)
        for section in part.sections:
            if section.length is None or section.cut_off or section.kind not in _LONG:
                continue
            ends = [left + section.start, left + section.end]
            line = self.points(ends, [at, at])
            edge = -(section.diameter.value if section.diameter is not None else part.largest_diameter) / 2
            extensions = [self.points([z, z], [edge, at - _OVER * self.size]) for z in ends]
            found.append(self.dimension("length", line, extensions, -self._up(), section.length))
        return found

    def flanks(self) -> Iterator[tuple[str, int, float, Array]]:
        """Every flank of both edges in view, from root to crest.

        The quantity that is its angle, its edge (+1 upper), where its ridge is along the axis, and its line.
        """
        p = self.p
        toward_u, from_u = ("flank_angle_right", "flank_angle_left")[:: int(self.toward)]
        first = int(np.floor((self.solution.start - p.phase) / p.pitch)) - 1
        last = int(np.ceil((self.solution.end - p.phase) / p.pitch)) + 1
        low, high = p.root - p.pitch_radius, p.crest - p.pitch_radius
        for side, moved in ((1, 0.0), (-1, self.solution.seen.starts / 2)):
            for number in range(first, last):
                ridge = p.phase + (number + moved) * p.pitch
                if not self.solution.start <= ridge <= self.solution.end:
                    continue
                across = [side * p.root, side * p.crest]
                out = p.pitch / 4 - low * self.right, p.pitch / 4 - high * self.right
                back = p.pitch / 4 - low * self.left, p.pitch / 4 - high * self.left
                yield toward_u, side, ridge, self.points([ridge + out[0], ridge + out[1]], across)
                yield from_u, side, ridge, self.points([ridge - back[0], ridge - back[1]], across)


def _distance(line: Array, point: Array) -> float:
    """From a point to a piece of a straight line (2, 2)."""
    along = line[1] - line[0]
    share = float(np.clip((point - line[0]) @ along / max(float(along @ along), 1e-12), 0.0, 1.0))
    return float(np.hypot(*(point - line[0] - share * along)))
