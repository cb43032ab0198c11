"""The figure of a data sheet: one ridge over the zones of the classes, beside it the flank magnified again.

The measured ridge is the axial section; its upright axis is the diameter, so that limits can be read off it, and
lengths along and across the part are drawn to one scale. As a file of its own it is drawn by ``figures.thread_view``.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from records.figures.style import BLACK, BLUE, GREY, VERMILION, Scale, scale_of
from records.figures.thread_view import DEEPER, REACH, Zone, flank_reach, zones_of
from records.report.spoken import Spoken
from records.report.vector import Area, Array, Clipped, Dots, Line, Shape, VectorFigure, Words
from threads.measured.axial_profile import AxialProfile
from threads.shared.formatting import MM_PER_INCH
from threads.shared.quantity import Quantity
from threads.standards.limits import Limits
from vision.result.folded import Folded

_SAMPLES = 1600  # of a curve: a fifth of a point apart, which no printer shows
_STRAIGHT = 1e-6  # points: of three neighbours that lie on a line so closely the middle one is left out
_FRAME = "#444444"
_LEAST_PLACE = 24.0  # points: width and height that a view has at least

_LEFT, _VIEW, _CLOSE, _CLOSE_WIDE, _LEGEND = 0.085, 0.545, 0.71, 0.27, 0.640  # of the width
_BELOW, _ABOVE, _ROOM_FOR_LEGEND = 33.0, 21.6, 95.0


@dataclass(frozen=True, eq=False)
class RidgeView:
    """What is drawn: the folded ridges, the limits of the classes, and the pitch diameter for the band of its U95."""

    folded: Folded
    limits: tuple[Limits, ...]
    pitch_diameter: Quantity


@dataclass(frozen=True)
class _View:
    """Where a piece of the section stands: the box in points, and the section's place at its lower left corner.

    ``scale``: points a mm, along the axis and of radii. ``s, r``: mm.
    """

    left: float
    bottom: float
    wide: float
    high: float
    scale: float
    s: float
    r: float

    @property
    def box(self) -> tuple[float, float, float, float]:
        return self.left, self.bottom, self.wide, self.high

    @property
    def times(self) -> str:
        """How many times larger than life."""
        return f"{self.scale * MM_PER_INCH / 72:.0f}"

    def at(self, s: npt.ArrayLike, r: npt.ArrayLike) -> Array:
        s, r = np.broadcast_arrays(np.asarray(s, dtype=np.float64), np.asarray(r, dtype=np.float64))
        return np.column_stack([self.left + self.scale * (s - self.s), self.bottom + self.scale * (r - self.r)])

    def curve(self, section: AxialProfile, reach: float) -> Array:
        """The section from ``-reach`` to ``reach`` pitches without the points that lie on straight pieces."""
        points = self.at(*section.curve(reach, _SAMPLES))
        bent = np.abs(np.diff(points, 2, axis=0)).max(axis=1) > _STRAIGHT
        return points[np.concatenate([[True], bent, [True]])]


def ridge_figure(ridge: RidgeView, size: tuple[float, float], spoken: Spoken) -> VectorFigure:
    """The figure in ``size`` points: it is as many times larger than life as stands over each view."""
    folded, zones, scale = ridge.folded, zones_of(ridge.limits), scale_of(inches=spoken.inches)
    width, height = size
    section, word = folded.section, spoken.word
    view = _whole(section, zones, (_LEFT * width, height - _ABOVE), (_VIEW * width, height - _ABOVE - _BELOW))
    close = _magnified(
        folded, zones, (_CLOSE * width, height - _ABOVE), (_CLOSE_WIDE * width, height - _ABOVE - _ROOM_FOR_LEGEND)
    )
    middle, right, top = view.at(0, section.pitch_radius)[0, 1], view.left + view.wide, height - _ABOVE
    pitch_line = Line(np.array([[view.left, middle], [right, middle]]), GREY, 0.6, (4.8, 1.8, 0.6, 1.8))
    ridges = word("{ridges} ridges folded onto one, magnified {times} times" if folded.ridges else
                  "axial section, magnified {times} times")  # fmt: skip
    shapes: list[Shape] = [
        Clipped(view.box, (*_inside(view, ridge.folded, zones, 0.30, 2.6), pitch_line, _fitted(view, section, 0.8))),
        Clipped(
            close.box,
            (
                *_inside(close, folded, zones, 0.45, 3.6, _u95(close, section, ridge.pitch_diameter)),
                _fitted(close, section, 0.9),
            ),
        ),
        Words(f"{word('pitch line')} ", right, middle + 2.0, 7.5, GREY, "end"),
        *_axes(view, scale, (5, 6), 8.0),
        *_axes(close, scale, (2, 4), 7.0),
        Words(ridges.format(ridges=folded.ridges, times=view.times), view.left, top + 10.0, 10.0, bold=True),
        Words(word("right flank, {times} times").format(times=close.times), close.left, top + 10.0, 8.5),
        _below(view, f"{word('along the axis, from the middle of the ridge')}, {scale.name}"),
        _below(close, f"{word('along the axis')}, {scale.name}"),
        Words(
            f"{word('diameter')}, {scale.name}", view.left - 35.0, view.bottom + view.high / 2, 8.5, place="middle",
            turned=True,
        ),
        *_legend(zones, _LEGEND * width, spoken),
    ]  # fmt: skip
    return VectorFigure(width, height, tuple(shapes))


def _whole(
    section: AxialProfile, zones: Sequence[Zone], corner: tuple[float, float], room: tuple[float, float]
) -> _View:
    """The whole ridge with its zones, as large as it goes into ``room`` below ``corner``, its upper left one."""
    crest = max([section.crest, *(zone.section.most.crest for zone in zones)])
    root = min([section.root, *(zone.section.most.root for zone in zones)])
    deep = max(crest - root, 0.01 * section.pitch) * (1 + 2 * DEEPER)
    return _view(corner, room, -REACH * section.pitch, (crest + root) / 2 - deep / 2, 2 * REACH * section.pitch, deep)


def _magnified(folded: Folded, zones: Sequence[Zone], corner: tuple[float, float], room: tuple[float, float]) -> _View:
    """The right flank where it crosses the pitch line."""
    middle, reach = folded.section.pitch / 4, flank_reach(folded, zones)
    radius = float(folded.section.radius(middle))
    return _view(corner, room, middle - reach, radius - reach, 2 * reach, 2 * reach)


def _view(
    corner: tuple[float, float], room: tuple[float, float], s: float, r: float, long: float, deep: float
) -> _View:
    scale = min(max(room[0], _LEAST_PLACE) / long, max(room[1], _LEAST_PLACE) / deep)
    return _View(corner[0], corner[1] - scale * deep, scale * long, scale * deep, scale, s, r)


def _inside(
    view: _View, folded: Folded, zones: Sequence[Zone], opacity: float, size: float, *more: Area
) -> Iterator[Line | Area | Dots]:
    """The zones, what lies over them, and the edge points that are in view."""
    for zone in zones:
        look = zone.look
        least, most = (view.curve(one, REACH) for one in (zone.section.least, zone.section.most))
        yield Area(np.vstack([least, most[::-1]]), look.colour, opacity, look.hatch)
        for line in (least, most):
            yield Line(line, look.colour, 1.0, () if isinstance(look.dashes, str) else look.dashes[1])
    yield from more
    points = view.at(folded.s, folded.r)
    low = np.array([view.left, view.bottom]) - size
    seen = ((points > low) & (points < low + 2 * size + [view.wide, view.high])).all(axis=1)
    # the second edge smaller, so that neither hides the other
    yield Dots(points[seen & folded.upper], BLUE, size)
    yield Dots(points[seen & ~folded.upper], VERMILION, 0.55 * size, square=True)


def _fitted(view: _View, section: AxialProfile, wide: float) -> Line:
    return Line(view.curve(section, REACH), BLACK, wide)


def _u95(view: _View, section: AxialProfile, measured: Quantity) -> Area:
    """The band within which the flank lies, by the U95 of the pitch diameter."""
    curve, up = view.curve(section, REACH), np.array([0.0, view.scale * measured.u95 / 2])
    return Area(np.vstack([curve - up, (curve + up)[::-1]]), BLACK, 0.16)


def _axes(view: _View, scale: Scale, most: tuple[int, int], size: float) -> Iterator[Shape]:
    """The two axes of a view with numbers; ``most``: intervals between them, along and across."""
    left, bottom, wide, high = view.box
    yield Line(np.array([[left, bottom + high], [left, bottom], [left + wide, bottom]]), _FRAME, 0.7)
    for place, words in ticks(view.s * scale.of, (view.s + wide / view.scale) * scale.of, most[0]):
        x = left + (place / scale.of - view.s) * view.scale
        yield Line(np.array([[x, bottom], [x, bottom - 3.5]]), _FRAME, 0.8)
        yield Words(words, x, bottom - 7.0 - 0.76 * size, size, place="middle")
    for place, words in ticks(2 * view.r * scale.of, 2 * (view.r + high / view.scale) * scale.of, most[1]):
        y = bottom + (place / scale.of / 2 - view.r) * view.scale
        yield Line(np.array([[left - 3.5, y], [left, y]]), _FRAME, 0.8)
        yield Words(words, left - 7.0, y - 0.36 * size, size, place="end")


def _below(view: _View, text: str) -> Words:
    return Words(text, view.left + view.wide / 2, view.bottom - 25.0, 8.5, place="middle")


def _legend(zones: Sequence[Zone], left: float, spoken: Spoken) -> Iterator[Shape]:
    size, step, word = 6.8, 8.3, spoken.word
    rows = len(zones) + 3

    def place(row: int) -> float:
        return 3.0 + (rows - 1 - row) * step

    for row, zone in enumerate(zones):
        y = place(row)
        box = np.array([[left, y], [left + 13.6, y], [left + 13.6, y + 4.8], [left, y + 4.8]])
        yield Area(box, zone.look.colour, 0.30, zone.look.hatch)
        yield Words(f"{zone.name}, {word('least to most material')}", left + 19.0, y, size)
    y = place(len(zones))
    yield Dots(np.array([[left + 6.8, y + 2.4]]), BLUE, 2.6)
    yield Words(word("edge points, one edge"), left + 19.0, y, size)
    y = place(len(zones) + 1)
    yield Dots(np.array([[left + 6.8, y + 2.4]]), VERMILION, 0.55 * 2.6, square=True)
    yield Words(word("the opposite edge"), left + 19.0, y, size)
    y = place(len(zones) + 2)
    yield Line(np.array([[left, y + 2.4], [left + 13.6, y + 2.4]]), BLACK, 0.8)
    yield Words(word("fitted axial section"), left + 19.0, y, size)


def ticks(low: float, high: float, most: int) -> list[tuple[float, str]]:
    """Round numbers from ``low`` to ``high``, written alike, with ``most`` steps between them at most.

    >>> ticks(-0.39, 0.39, 5)
    [(-0.2, '−0.2'), (0.0, '0.0'), (0.2, '0.2')]
    """
    if not high > low:
        return []
    power = math.floor(math.log10((high - low) / most))
    for mantissa in (1.0, 2.0, 2.5, 5.0, 10.0):
        step = mantissa * 10.0**power
        first, last = math.ceil(low / step - 1e-9), math.floor(high / step + 1e-9)
        if last - first <= most and (high - low) / step <= most + 1:
            break
    digits = max(0, -power + (mantissa == 2.5) - (mantissa == 10.0))
    return [
        (float(place), f"{place + 0.0:.{digits}f}".replace("-", "−"))
        for place in (round(step * n, digits) for n in range(first, last + 1))
    ]
