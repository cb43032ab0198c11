"""The side view of a part with its dimensions, as plain lines and texts that PDF and DXF draw alike.

Everything is in mm of the part, its axis on y = 0; ``paper`` is one mm of the paper in mm of the part.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from records.report.spoken import Spoken
from records.workshop_drawing.part_to_make import PartToMake, Piece, general_tolerance
from threads.shared.formatting import MM_PER_INCH
from threads.shared.quantity import Quantity
from threads.shared.refusal import Reason

Array = npt.NDArray[np.float64]

EDGE, THIN, AXIS = "EDGE", "THIN", "AXIS"
"""Visible edges; thread roots and breaks; the axis."""

TYPE = 3.0
"""Height of the type, mm of the paper; ``_LETTER``: how wide a letter of it is."""
_LETTER = 1.9
_FIRST, _ROW = 9.0, 7.0  # mm of the paper: from the part to the first row of lengths, from row to row
_ABOVE, _LEVEL = 7.0, 5.5  # mm of the paper: from the part to the first row of leaders, from row to row
_OUT = 4.5  # mm of the paper: arrows from outside
_OVER = 4.0  # of the axis beyond the part


@dataclass(frozen=True, eq=False)
class Line:
    """A polyline, (n, 2), in one of the weights above."""

    weight: str
    points: Array


@dataclass(frozen=True)
class Leader:
    """A text with a line to where on the part it belongs, from ``foot``; ``text_at``: middle of its lower edge."""

    text: str
    tip: tuple[float, float]
    foot: tuple[float, float]
    text_at: tuple[float, float]


@dataclass(frozen=True)
class LengthLine:
    """A dimension along the axis between two places; ``y``: of its line, below the part; ``text_x``: middle of its
    text, which stands beside the line where that is short.
    """

    text: str
    text_x: float
    start: float
    end: float
    from_y: tuple[float, float]
    y: float


@dataclass(frozen=True, eq=False)
class View:
    """The whole view; ``low``, ``high``: corners of all that is drawn."""

    lines: tuple[Line, ...]
    leaders: tuple[Leader, ...]
    lengths: tuple[LengthLine, ...]
    low: tuple[float, float]
    high: tuple[float, float]


def view_of(part: PartToMake, spoken: Spoken, paper: float) -> View:
    """The view at a scale of 1 / ``paper``."""
    lines = tuple(_lines(part, paper))
    lengths = tuple(_lengths(part, spoken, paper))
    leaders = tuple(_leaders(part, spoken, paper))
    lowest = min([-part.radius - _FIRST * paper, *(one.y for one in lengths)]) - TYPE * paper
    highest = max([part.radius, *(one.text_at[1] + TYPE * paper for one in leaders)])
    half = [_half(one.text, paper) for one in leaders]
    left = min([-_OVER * paper, *(one.text_at[0] - h for one, h in zip(leaders, half, strict=True))])
    right = max([part.length + _OVER * paper, *(one.text_at[0] + h for one, h in zip(leaders, half, strict=True))])
    return View(lines, leaders, lengths, (left, lowest), (right, highest))


def _lines(part: PartToMake, paper: float) -> Iterator[Line]:
    before = 0.0
    for number, one in enumerate(part.pieces):
        for sign in (1, -1):
            yield Line(EDGE, one.edge * (1, sign))
        first, last = float(one.edge[0, 1]), float(one.edge[-1, 1])
        if number or part.in_view[0]:
            yield _across(EDGE, one.start, max(before, first))
        if one.chamfer is not None:
            inner = one.edge[1, 0]
            yield _across(EDGE, float(inner), one.radius)
        yield from _thread_root(part, one)
        yield from _slot(one)
        before = last
    if part.in_view[1]:
        yield _across(EDGE, part.length, before)
    for seen, x, radius in zip(part.in_view, (0.0, part.length), (part.pieces[0].edge[0, 1], before), strict=True):
        if not seen:
            yield _break(x, float(radius), paper)
    yield Line(AXIS, np.array([(-_OVER * paper, 0.0), (part.length + _OVER * paper, 0.0)]))


def _across(weight: str, x: float, radius: float) -> Line:
    return Line(weight, np.array([(x, -radius), (x, radius)]))


def _thread_root(part: PartToMake, one: Piece) -> Iterator[Line]:
    """The root as a thin line, as ISO 6410-1 draws threads."""
    if one.kind != "thread":
        return
    depth = part.thread.most.crest - part.thread.most.root
    root = max(one.radius - depth, 0.1 * one.radius)
    start, end = one.start, one.end
    if one.chamfer is not None:  # it ends on the chamfer
        low = float(one.edge[:, 1].min())
        off = one.chamfer[0] * min(max((root - low) / max(one.radius - low, 1e-9), 0.0), 1.0)
        start, end = (start + off, end) if one.outer == "left" else (start, end - off)
    for sign in (1, -1):
        yield Line(THIN, np.array([(start, sign * root), (end, sign * root)]))


def _slot(one: Piece) -> Iterator[Line]:
    """A slot seen end-on, at the outer end."""
    if one.slot is None or not one.outer:
        return
    width, depth = one.slot
    x, into = (one.start, one.start + depth) if one.outer == "left" else (one.end, one.end - depth)
    yield Line(EDGE, np.array([(x, width / 2), (into, width / 2), (into, -width / 2), (x, -width / 2)]))


def _break(x: float, radius: float, paper: float) -> Line:
    """A freehand line where the picture ends and the part goes on."""
    y = np.linspace(-radius, radius, 25)
    return Line(THIN, np.stack([x + 0.8 * paper * np.sin(np.linspace(0, 3 * np.pi, y.size)), y], axis=1))


# --- dimensions


def number(value: float, spoken: Spoken) -> str:
    """A length as it stands on a drawing: mm to 0.01, inches to 0.001."""
    return f"{value / MM_PER_INCH:.3f}" if spoken.inches else f"{value:.2f}"


def _sized(value: Quantity, spoken: Spoken) -> str:
    """With a sign where it is known less well than the general tolerance asks for."""
    allowed = general_tolerance(value.value)
    sign = "≈ " if allowed is not None and value.u95 > allowed else ""
    return sign + number(value.value, spoken)


def _lengths(part: PartToMake, spoken: Spoken, paper: float) -> Iterator[LengthLine]:
    """A length a section, the next one in the next row where two texts would touch; below them the whole part."""
    busy: list[float] = []
    for one in part.pieces:
        text = "…………" if one.length is None else _sized(one.length, spoken)
        beside = len(text) * _LETTER * paper > one.end - one.start
        begins, ends = one.start, one.end
        if beside:
            begins, ends = begins - _OUT * paper, _text_x(text, one.start, one.end, paper) + _half(text, paper)
        row = next((n for n, until in enumerate(busy) if until <= begins), len(busy))
        busy += [-1e9] * (row + 1 - len(busy))
        busy[row] = ends if not beside else ends + paper
        yield _length_line(text, one.start, one.end, (-one.edge[0, 1], -one.edge[-1, 1]), row, part, paper)
    if part.whole and len(part.pieces) > 1:
        feet = -float(part.pieces[0].edge[0, 1]), -float(part.pieces[-1].edge[-1, 1])
        yield _length_line(number(part.length, spoken), 0.0, part.length, feet, len(busy), part, paper)


def _length_line(
    text: str, start: float, end: float, from_y: tuple[float, float], row: int, part: PartToMake, paper: float
) -> LengthLine:
    return LengthLine(
        text,
        _text_x(text, start, end, paper),
        start,
        end,
        (float(from_y[0]), float(from_y[1])),
        -part.radius - (_FIRST + row * _ROW) * paper,
    )


def _half(text: str, paper: float) -> float:
    return len(text) * _LETTER * paper / 2


def _text_x(text: str, start: float, end: float, paper: float) -> float:
    """The middle of the text: over the line, or beyond its right end where it is longer than that."""
    half = _half(text, paper)
    return (start + end) / 2 if 2 * half <= end - start else end + _OUT * paper + half


def _leaders(part: PartToMake, spoken: Spoken, paper: float) -> Iterator[Leader]:
    """Diameters and what else a section has, above the part, each in the lowest row in which it has room."""
    busy: list[float] = []
    for text, x, y, outer in sorted(_told(part, spoken), key=lambda one: one[1]):
        half = _half(text, paper)
        middle = x + {"left": -half, "right": half}.get(outer, 0.0)  # what is at an end is told beyond it
        row = next((n for n, until in enumerate(busy) if until <= middle - half), len(busy))
        busy += [-1e9] * (row + 1 - len(busy))
        busy[row] = middle + half + 2 * paper
        up = part.radius + (_ABOVE + row * _LEVEL) * paper
        yield Leader(text, (x, y), (x, up), (middle, up))


def _end_of(part: PartToMake, x: float) -> str:
    """The end of the part that a place is at, "" for none."""
    return "left" if x < 0.02 * part.length else "right" if x > 0.98 * part.length else ""


def _told(part: PartToMake, spoken: Spoken) -> Iterator[tuple[str, float, float, str]]:
    """Each text, where on the part it belongs, and the end beyond which it stands ("" for neither)."""
    for one in part.pieces:
        middle = (one.start + one.end) / 2
        if one.kind == "thread" and one.measured:
            hand = f" {spoken.word('LH')}" if part.thread.hand == "left" else ""
            starts = "" if part.thread.starts == 1 else f", {part.thread.starts}×"
            yield part.thread.marked + hand + starts, middle, one.radius, ""
        elif one.diameter is not None:
            yield f"⌀{_sized(one.diameter, spoken)}", *one.middle_of(sloping=False), ""
        if one.traced and (one.diameter is None or 2 * one.radius > 1.01 * one.diameter.value):
            widest = one.edge[int(np.argmax(one.edge[:, 1]))]
            yield f"⌀{number(2 * one.radius, spoken)}", float(widest[0]), one.radius, _end_of(part, float(widest[0]))
        if one.chamfer is not None:
            along, angle = one.chamfer
            x = one.start + along / 2 if one.outer == "left" else one.end - along / 2
            yield f"{number(along, spoken)} × {angle:.0f}°", x, float(one.edge[:, 1].mean()), one.outer
        if one.cone_angle is not None:
            yield f"{one.cone_angle.value:.0f}°", *one.middle_of(sloping=True), ""
        if one.slot is not None:
            x = one.start if one.outer == "left" else one.end
            sizes = tuple(number(side, spoken) for side in one.slot)
            yield spoken.say(Reason("drawing_sheet.slot", wide=sizes[0], deep=sizes[1])), x, one.slot[0] / 2, one.outer
