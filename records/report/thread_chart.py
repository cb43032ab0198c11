"""Threads on paper: a chart of all by diameter and pitch, and a wall chart of the workshop's own series."""

from __future__ import annotations

import io
import math
from collections.abc import Callable, Iterator
from dataclasses import dataclass

from reportlab import rl_config
from reportlab.lib.colors import HexColor, black
from reportlab.lib.pagesizes import A4
from reportlab.lib.units import mm
from reportlab.pdfbase.pdfmetrics import stringWidth
from reportlab.pdfgen.canvas import Canvas

from records.report.typefaces import BOLD, REGULAR, Types, load_types
from threads.judge.wires import wire_sizes
from threads.rules.forms import FORMS
from threads.rules.series_tables import MM_PER_INCH, SAME_DIAMETER, SAME_PITCH, Entry
from threads.standards.designation import designation_of, usual_class
from threads.standards.limits import Band, Limits, limits_of
from threads.standards.series import entries
from threads.workshop.tap_drill import USUAL_PERCENT, hole_of_percent
from threads.workshop.tools import tools_of

MOST_PAGES = 4
_MARGIN, _HEAD = 12 * mm, 9 * mm
_COLUMNS, _TYPE, _LINE = 3, 5.6, 7.0  # points: small, to be looked up and not to be read across the room
_WALL_TYPE = 10.0
_ANGLES = (60.0, 55.0, 53.13, 47.5)
_SIGNS = {
    60.0: ("circle", "#0072B2"),
    55.0: ("square", "#D55E00"),
    53.13: ("cross", "#000000"),
    47.5: ("up", "#009E73"),
}
"""Sign and colour of each flank angle (Okabe and Ito): either alone tells them apart."""


@dataclass(frozen=True)
class Printed:
    """A document and what is in it."""

    content: bytes
    pages: int
    threads: int


@dataclass(frozen=True)
class _Thread:
    """What one diameter, pitch and flank angle share: diameter and pitch in mm, angle in degrees, names."""

    major: float
    pitch: float
    angle: float
    names: str


def chart_pdf() -> Printed:
    """All threads: one page with diameter against pitch, then a list by diameter; four pages of A4 at most."""
    threads = _threads(entries())
    page = _Page("Threads by diameter and pitch")
    _plot(page, threads)
    heads = "diameter mm   pitch mm   to the inch   angle   names"
    room = int((page.top - _MARGIN - _LINE) / _LINE)
    lines = [line for thread in threads for line in _lines_of(thread, page)]
    per_page = _COLUMNS * room
    for start in range(0, len(lines), per_page):
        page.turn()
        for column in range(_COLUMNS):
            left = _MARGIN + column * page.column
            page.text(left, page.top, heads, bold=True, size=_TYPE)
            for row, line in enumerate(lines[start + column * room : start + (column + 1) * room]):
                page.text(left, page.top - (row + 1) * _LINE, line, size=_TYPE)
    return Printed(page.done(), page.number, len(threads))


def wall_pdf() -> Printed | None:
    """The workshop's own series with what is needed to make each size; None where there is none."""
    own = [entry for entry in entries() if entry.own]
    if not own:
        return None
    rows = [_wall_row(entry) for entry in own]
    heads = ("thread", "blank", "pitch", "pitch diameter", "over wires", "tapping drill", "die")
    page = _Page("Our own threads (mm)", landscape=True)
    room = page.top - _MARGIN
    line = max(min(2.0 * _WALL_TYPE, MOST_PAGES * room / (len(rows) + MOST_PAGES)), _LINE)
    size = min(_WALL_TYPE, line / 1.4)
    widths = [max(stringWidth(row[i], BOLD, size) for row in (heads, *rows)) + 8 for i in range(len(heads))]
    squeeze = min(1.0, (page.width - 2 * _MARGIN) / sum(widths))
    per_page = int(room / line) - 1
    for start in range(0, len(rows), per_page):
        if start:
            page.turn()
        for number, row in enumerate((heads, *rows[start : start + per_page])):
            left = _MARGIN
            for cell, wide in zip(row, widths, strict=True):
                page.text(left, page.top - number * line, cell, bold=number == 0, size=size * squeeze)
                left += wide * squeeze
    return Printed(page.done(), page.number, len(own))


class _Page:
    """The sheet that is being drawn."""

    def __init__(self, title: str, *, landscape: bool = False) -> None:
        self.width, self.height = A4[::-1] if landscape else A4
        self._title, self._stream = title, io.BytesIO()
        self._types: Types = load_types(title)
        self.canvas = Canvas(self._stream, pagesize=(self.width, self.height), invariant=rl_config.invariant)
        self.canvas.setTitle(title)
        self.number = 0
        self.column = (self.width - 2 * _MARGIN) / _COLUMNS
        self.top = self.height - _MARGIN - _HEAD
        self._begin()

    def _begin(self) -> None:
        self.number += 1
        self.text(_MARGIN, self.height - _MARGIN, self._title, bold=True, size=12)
        self.text(self.width - _MARGIN - 20, self.height - _MARGIN, f"{self.number}", size=9)

    def turn(self) -> None:
        """Go on to the next page."""
        self.canvas.showPage()
        self._begin()

    def text(self, x: float, y: float, words: str, *, size: float, bold: bool = False) -> None:
        """Write one line; ``x``, ``y``, ``size`` in points."""
        self.canvas.setFont(BOLD if bold else REGULAR, size)
        self.canvas.setFillColor(black)
        self.canvas.drawString(x, y, self._types.plain(words))

    def done(self) -> bytes:
        """The document."""
        self.canvas.save()
        return self._stream.getvalue()


def _threads(listed: tuple[Entry, ...]) -> list[_Thread]:
    """What is one thread under several names, once."""
    found: list[list[Entry]] = []
    ordered = sorted(listed, key=lambda entry: (entry.major_mm, entry.pitch_mm, FORMS[entry.form].flank_angle_deg))
    for entry in ordered:
        same = next((group for group in reversed(found[-60:]) if _same(group[0], entry)), None)
        if same is None:
            found.append([entry])
        else:
            same.append(entry)
    return [
        _Thread(group[0].major_mm, group[0].pitch_mm, FORMS[group[0].form].included_angle_deg, _names(group))
        for group in found
    ]


def _same(one: Entry, other: Entry) -> bool:
    return (
        abs(one.major_mm - other.major_mm) <= SAME_DIAMETER
        and abs(one.pitch_mm / other.pitch_mm - 1) <= SAME_PITCH
        and abs(FORMS[one.form].included_angle_deg - FORMS[other.form].included_angle_deg) < 0.1
    )


def _names(group: list[Entry]) -> str:
    """Size and series of each; a size that several series share is written once."""
    by_size: dict[str, list[str]] = {}
    for entry in group:
        by_size.setdefault(entry.size, []).append(entry.series)
    return ", ".join(f"{size} {' '.join(dict.fromkeys(series))}" for size, series in by_size.items())


def _lines_of(thread: _Thread, page: _Page) -> Iterator[str]:
    """One line, and more where the names need them."""
    inch = MM_PER_INCH / thread.pitch
    per_inch = f"{inch:.0f}" if abs(inch - round(inch)) < 0.01 else f"{inch:.1f}"
    line = f"{thread.major:.3f}   {thread.pitch:.4f}   {per_inch}   {thread.angle:.3g}°  "
    for word in thread.names.split(" "):
        if stringWidth(f"{line} {word}", REGULAR, _TYPE) > page.column - 4:
            yield line
            line = "       "
        line += f" {word}"
    yield line


def _plot(page: _Page, threads: list[_Thread]) -> None:
    """Diameter against pitch, both logarithmic."""
    left, bottom = _MARGIN + 26, _MARGIN + 26
    right, top = page.width - _MARGIN, page.top - 16
    spans = [
        (min(values) * 0.9, max(values) * 1.1) for values in ([t.major for t in threads], [t.pitch for t in threads])
    ]
    across, up = (_scale(*span, *ends) for span, ends in zip(spans, ((left, right), (bottom, top)), strict=True))
    canvas = page.canvas
    canvas.setLineWidth(0.3)
    for place, span, low, high, upright in ((across, spans[0], bottom, top, True), (up, spans[1], left, right, False)):
        for mark in (0.05, 0.1, 0.2, 0.3, 0.5, 0.7, 1, 1.5, 2, 3, 4, 6, 8, 10, 15, 20, 30, 50, 80):
            if span[0] <= mark <= span[1]:
                canvas.setStrokeColor(HexColor("#BBBBBB"))
                at = place(mark)
                if upright:
                    canvas.line(at, low, at, high)
                    page.text(at - 5, bottom - 10, f"{mark:g}", size=7)
                else:
                    canvas.line(low, at, high, at)
                    page.text(left - 20, at - 2, f"{mark:g}", size=7)
    page.text((left + right) / 2 - 40, bottom - 22, "major diameter, mm", size=8)
    page.text(left, top + 5, "pitch, mm", size=8)
    for thread in threads:
        _sign(canvas, across(thread.major), up(thread.pitch), _family(thread.angle))
    for number, angle in enumerate(_ANGLES):
        x = right - 240 + 60 * number
        _sign(canvas, x, top + 7, angle)
        page.text(x + 5, top + 5, f"{angle:.4g}°", size=7)


def _family(angle: float) -> float:
    return min(_ANGLES, key=lambda known: abs(known - angle))


def _scale(low: float, high: float, start: float, end: float) -> Callable[[float], float]:
    def place(value: float) -> float:
        return start + (end - start) * math.log(value / low) / math.log(high / low)

    return place


def _sign(canvas: Canvas, x: float, y: float, angle: float) -> None:
    shape, colour = _SIGNS[angle]
    canvas.setStrokeColor(HexColor(colour))
    canvas.setLineWidth(0.6)
    r = 1.7
    if shape == "circle":
        canvas.circle(x, y, r, stroke=1, fill=0)
    elif shape == "square":
        canvas.rect(x - r, y - r, 2 * r, 2 * r, stroke=1, fill=0)
    elif shape == "cross":
        canvas.line(x - r, y - r, x + r, y + r)
        canvas.line(x - r, y + r, x + r, y - r)
    else:
        canvas.lines([(x - r, y - r, x + r, y - r), (x + r, y - r, x, y + r), (x, y + r, x - r, y - r)])


def _wall_row(entry: Entry) -> tuple[str, ...]:
    name = usual_class(entry, internal=False)
    screw = limits_of(designation_of(entry, name, internal=False))
    nut = (
        limits_of(designation_of(entry, usual_class(entry, internal=True), internal=True))
        if entry.internal_classes
        else None
    )
    wires = wire_sizes(screw)
    over = (
        ""
        if wires.least is None or wires.greatest is None
        else (f"{wires.least:.3f} to {wires.greatest:.3f} on {wires.wire:.3f}")
    )
    return (
        screw.designation,
        _span(screw.major),
        f"{screw.pitch:.3f}",
        _span(screw.pitch_diameter),
        over,
        "" if nut is None else f"{_hole(nut):.2f}",
        tools_of(screw).ask_for,
    )


def _hole(nut: Limits) -> float:
    """What to drill: the middle of the limits, or the usual percentage of thread where they are not both known, mm."""
    usual = hole_of_percent(FORMS[nut.form], nut.basic_major, nut.pitch, USUAL_PERCENT)
    return usual if nut.tap_drill is None else nut.tap_drill


def _span(band: Band) -> str:
    if band.low is None or band.high is None:
        return "" if band.high is None else f"at most {band.high:.3f}"
    return f"{band.low:.3f} to {band.high:.3f}"
