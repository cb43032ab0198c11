"""The drawing of a part on one sheet: side view, thread magnified, limits, a bar to check the scale by, title block."""

from __future__ import annotations

import io
from collections.abc import Iterator, Sequence
from dataclasses import dataclass

import numpy as np
import numpy.typing as npt
from reportlab.lib.colors import black
from reportlab.lib.pagesizes import A4, LETTER, landscape
from reportlab.lib.units import mm
from reportlab.pdfgen.canvas import Canvas
from reportlab.platypus import Paragraph, Table

from flankwise.words import CAUTION
from records.from_memory import FOOTNOTE
from records.report.flowables import GREY, PALE
from records.report.gather import MAKER
from records.report.pdf import styles_of
from records.report.spoken import Spoken
from records.report.typefaces import REGULAR, Types, load_types
from records.workshop_drawing.part_to_make import CLASS, GENERAL, HOLE, OWN, PartToMake, Range, ThreadToMake
from records.workshop_drawing.view import AXIS, EDGE, TYPE, LengthLine, View, view_of
from threads.shared.formatting import MM_PER_INCH
from threads.shared.refusal import Reason

Array = npt.NDArray[np.float64]

PAPERS = {"a4": landscape(A4), "letter": landscape(LETTER)}
SCALES = (100.0, 50.0, 20.0, 10.0, 5.0, 2.0, 1.0, 0.5, 0.2, 0.1)
"""Of drawings: those of ISO 5455, and 100 for threads."""

_FRAME, _INSIDE = 9.0, 5.0
_LOW_BAND = 84.0  # the thread, the limits and the title block stand in it
_TITLE = (100.0, 46.0)
_DETAIL = (74.0, 58.0)
_TABLE = 74.0
_WEIGHTS = {EDGE: 0.5, "THIN": 0.2, AXIS: 0.2}  # mm, as ISO 128 pairs them
_OUT = 4.5  # mm: arrows from outside
_ARROW = (2.6, 0.45)  # length and half width, mm
_NARROW = 9.0  # mm of the paper: below it arrows come from outside
_BAR = {False: (50.0, 5.0, "50 mm"), True: (2 * MM_PER_INCH, 0.25 * MM_PER_INCH, "2 in")}
"""The bar: its length, its divisions, mm, and its words; for mm and for inches."""


@dataclass(frozen=True)
class Title:
    """What stands in the title block. ``part``: its number; ``place``, ``instrument``: where it belongs.

    ``mate``: what its hole is called, where the tolerances come from one; ``asked``: somebody named the class.
    """

    head: tuple[str, ...]
    part: str
    place: str
    instrument: str
    day: str
    version: str
    mate: str = ""
    asked: bool = False


def drawing_pdf(part: PartToMake, title: Title, paper: str, spoken: Spoken) -> bytes:
    """The sheet. ``paper``: a key of ``PAPERS``, laid across."""
    types = load_types("".join((*title.head, title.place, title.instrument, title.mate)))
    content = io.BytesIO()
    canvas = Canvas(content, pagesize=PAPERS[paper], invariant=1, initialFontName=REGULAR)
    canvas.setTitle(types.plain(f"{title.place}: {spoken.word('drawing')}"))
    canvas.setCreator(f"{MAKER}, version {title.version}")
    _Sheet(canvas, types, spoken, PAPERS[paper]).draw(part, title)
    canvas.showPage()
    canvas.save()
    return content.getvalue()


def scaled(part: PartToMake, spoken: Spoken, room: tuple[float, float]) -> tuple[float, View]:
    """The largest scale at which the view has room (mm of the paper), and the view."""
    for scale in SCALES:
        view = view_of(part, spoken, 1 / scale)
        wide, high = ((view.high[i] - view.low[i]) * scale for i in (0, 1))
        if (wide <= room[0] and high <= room[1]) or scale == SCALES[-1]:
            return scale, view
    raise AssertionError("there is a last scale")


def scale_words(scale: float) -> str:
    """The scale as a drawing states it.

    >>> scale_words(10), scale_words(0.5)
    ('10 : 1', '1 : 2')
    """
    return f"{scale:g} : 1" if scale >= 1 else f"1 : {1 / scale:g}"


def range_rows(thread: ThreadToMake, spoken: Spoken) -> list[tuple[str, str, str]]:
    """The limits of the thread: quantity, least, most."""

    def written(one: float | None) -> str:
        if one is None:
            return "–"
        return f"{one / MM_PER_INCH:.4f}" if spoken.inches else f"{one:.3f}"

    def row(one: Range) -> tuple[str, str, str]:
        return spoken.word(one.words), written(one.low), written(one.high)

    pitch = f"{thread.pitch / MM_PER_INCH:.5f}" if spoken.inches else f"{thread.pitch:.4f}"
    more = [(spoken.word("pitch"), pitch, ""), (spoken.word("included angle"), f"{thread.included_angle:.1f}°", "")]
    return [*map(row, thread.ranges), *more]


def notes_of(part: PartToMake, title: Title, spoken: Spoken) -> list[str]:
    """What else to know: where the limits come from, the general tolerance, what the picture did not show."""
    by = {
        CLASS: Reason(
            "drawing_sheet.by_asked" if title.asked else "drawing_sheet.by_class", designation=part.thread.name
        ),
        HOLE: Reason("drawing_sheet.by_hole", hole=title.mate),
        OWN: Reason("drawing_sheet.by_own"),
    }[part.thread.by]
    told = [by, *([part.thread.wires] if part.thread.wires is not None else [])]
    if len(part.pieces) > 1 or part.whole:
        steps = "; ".join(_general(spoken))
        told.append(Reason("drawing_sheet.general", steps=steps))
    if not part.whole or any(one.length is None for one in part.pieces):
        told.append(Reason("drawing_sheet.cut_off"))
    if part.thread.hand == "not determined":
        told.append(Reason("drawing_sheet.hand"))
    return [*map(spoken.say, told), *([spoken.word(FOOTNOTE)] if part.thread.unverified else [])]


def _general(spoken: Spoken) -> Iterator[str]:
    for most, allowed in GENERAL[:3]:
        if spoken.inches:
            yield f"≤ {most / MM_PER_INCH:.2f} in ± {allowed / MM_PER_INCH:.3f} in"
        else:
            yield f"≤ {most:g} mm ± {allowed:g} mm"


@dataclass(frozen=True)
class _Sheet:
    """The sheet under way; all its measures in mm from the lower left corner."""

    canvas: Canvas
    types: Types
    spoken: Spoken
    size: tuple[float, float]

    def draw(self, part: PartToMake, title: Title) -> None:
        wide, high = self.size[0] / mm, self.size[1] / mm
        self.canvas.setLineWidth(0.5 * mm)
        self.canvas.rect(_FRAME * mm, _FRAME * mm, (wide - 2 * _FRAME) * mm, (high - 2 * _FRAME) * mm)
        left, bottom = _FRAME + _INSIDE, _FRAME + _LOW_BAND
        room = wide - 2 * left, high - _FRAME - _INSIDE - bottom
        scale, view = scaled(part, self.spoken, room)
        middle = (view.low[0] + view.high[0]) / 2, (view.low[1] + view.high[1]) / 2
        origin = left + room[0] / 2 - middle[0] * scale, bottom + room[1] / 2 - middle[1] * scale
        self._view(view, origin, scale)
        self._detail(part.thread, (left, _FRAME + 17.0))
        self._bar((left, _FRAME + 6.5))
        self._limits(part, title, (left + _DETAIL[0] + 6, bottom - 2))
        self._title_block(title, scale, (wide - _FRAME - _TITLE[0], _FRAME))

    # --- strokes

    def _line(self, points: Array, weight: float, dash: Sequence[float] = ()) -> None:
        canvas = self.canvas
        canvas.setStrokeColor(black)
        canvas.setLineWidth(weight * mm)
        canvas.setLineJoin(1)
        canvas.setDash([one * mm for one in dash])
        path = canvas.beginPath()
        path.moveTo(*(points[0] * mm))
        for point in points[1:]:
            path.lineTo(*(point * mm))
        canvas.drawPath(path)
        canvas.setDash([])

    def _arrow(self, tip: Array, direction: Array) -> None:
        """An arrowhead at ``tip`` that points along ``direction``."""
        along = direction / np.hypot(*direction)
        across = np.array([-along[1], along[0]])
        path = self.canvas.beginPath()
        path.moveTo(*(tip * mm))
        for side in (1, -1):
            path.lineTo(*((tip - _ARROW[0] * along + side * _ARROW[1] * across) * mm))
        path.close()
        self.canvas.setFillColor(black)
        self.canvas.drawPath(path, stroke=0, fill=1)

    def _words(self, text: str, x: float, y: float, size: float = TYPE, *, centred: bool = False) -> None:
        """``size``: height of the type, mm."""
        canvas = self.canvas
        canvas.setFillColor(black)
        canvas.setFont(REGULAR, size * mm)
        (canvas.drawCentredString if centred else canvas.drawString)(x * mm, y * mm, self.types.plain(text))

    # --- the view

    def _view(self, view: View, origin: tuple[float, float], scale: float) -> None:
        def at(points: Array | Sequence[tuple[float, float]]) -> Array:
            return np.asarray(origin) + scale * np.asarray(points)

        for line in view.lines:
            self._line(at(line.points), _WEIGHTS[line.weight], (4, 1, 0.6, 1) if line.weight == AXIS else ())
        for one in view.leaders:
            tip, foot, text_at = at([one.tip, one.foot, one.text_at])
            foot = foot - np.array([0.0, 0.8])
            self._line(np.array([tip, foot]), 0.18)
            self._arrow(tip, tip - foot)
            self._words(one.text, *text_at, centred=True)
        for length in view.lengths:
            self._length(length, at, scale)

    def _length(self, one: LengthLine, at: object, scale: float) -> None:
        assert callable(at)
        start, end = at([(one.start, one.y), (one.end, one.y)])
        for x, y_part in ((one.start, one.from_y[0]), (one.end, one.from_y[1])):
            top, foot = at([(x, y_part), (x, one.y)])
            self._line(np.array([(top[0], top[1] - 1.0), (foot[0], foot[1] - 1.5)]), 0.18)
        narrow = (one.end - one.start) * scale < _NARROW
        out = np.array([_OUT, 0.0]) if narrow else np.zeros(2)
        self._line(np.array([start - out, end + out]), 0.18)
        way = np.array([1.0, 0.0]) if narrow else np.array([-1.0, 0.0])
        self._arrow(start, way)
        self._arrow(end, -way)
        text_x = float(at([(one.text_x, one.y)])[0, 0])
        self._words(one.text, text_x, start[1] + 0.8, centred=True)

    # --- the thread

    def _detail(self, thread: ThreadToMake, corner: tuple[float, float]) -> None:
        """One groove and two ridges between most and least material."""
        section, other = thread.most, thread.least
        reach = 1.75 * section.pitch
        deep = section.crest - min(section.root, other.root)
        scale = next((one for one in SCALES if one * reach <= _DETAIL[0] and one * deep <= _DETAIL[1] - 20), SCALES[-1])
        s = np.linspace(-0.375, 1.375, 600) * section.pitch
        low = min(section.root, other.root)
        left, bottom = corner[0] + (_DETAIL[0] - scale * reach) / 2, corner[1] + 8.0

        def at(along: Array | float, radius: Array | float) -> Array:
            x = left + scale * (np.asarray(along) - s[0])
            return np.stack(np.broadcast_arrays(x, bottom + scale * (np.asarray(radius) - low)), axis=-1)

        self._line(at(s, section.radius(s)), 0.5)
        if thread.by == CLASS:
            self._line(at(s, other.radius(s)), 0.25, (1.5, 1.0))
        self._line(at(s[[0, -1]], np.full(2, section.pitch_radius)), 0.18, (4, 1, 0.6, 1))
        top = scale * (section.crest - low) + bottom
        ends = [at(along, section.crest) for along in (0.0, section.pitch)]
        for end in ends:
            self._line(np.array([(end[0], end[1] + 1.0), (end[0], top + 7.0)]), 0.18)
        row = np.array([(end[0], top + 5.5) for end in ends])
        self._line(row, 0.18)
        self._arrow(row[0], np.array([-1.0, 0.0]))
        self._arrow(row[1], np.array([1.0, 0.0]))
        inches = self.spoken.inches
        pitch = f"{thread.pitch / MM_PER_INCH:.4f}" if inches else f"{thread.pitch:.3f}"
        self._words(pitch, row[:, 0].mean(), top + 6.3, centred=True)
        groove = at(section.pitch / 2, section.pitch_radius)
        self._words(f"{thread.included_angle:.0f}°", groove[0], groove[1] + 1.0, centred=True)
        words = self.spoken.say(Reason("drawing_sheet.thread", scale=scale_words(scale)))
        if thread.by == CLASS:
            words += f"  ({self.spoken.word('dashed: least material')})"
        self._words(words, corner[0], corner[1], 2.5)

    def _bar(self, corner: tuple[float, float]) -> None:
        """A bar to hold a rule to: a page that was printed smaller or larger is seen at once."""
        long, step, words = _BAR[self.spoken.inches]
        x, y = corner
        self._line(np.array([(x, y), (x + long, y)]), 0.35)
        for n in range(round(long / step) + 1):
            high = 3.0 if n in (0, round(long / step)) else 1.6
            self._line(np.array([(x + n * step, y), (x + n * step, y + high)]), 0.2)
        self._words(self.spoken.say(Reason("drawing_sheet.bar", length=words)), x, y - 3.4, 2.3)

    # --- words

    def _limits(self, part: PartToMake, title: Title, corner: tuple[float, float]) -> None:
        styles, markup, word = styles_of(), self.types.markup, self.spoken.word
        width = min(_TABLE, self.size[0] / mm - _FRAME - _TITLE[0] - corner[0] - 3)
        heads = [part.thread.marked, word("least"), word("most")]
        rows = [heads, *range_rows(part.thread, self.spoken)]
        table = Table(
            [[Paragraph(markup(cell), styles.body) for cell in row] for row in rows],
            colWidths=[share * width * mm for share in (0.6, 0.2, 0.2)],
            style=[
                ("LINEBELOW", (0, 0), (-1, -1), 0.4, PALE), ("LEFTPADDING", (0, 0), (-1, -1), 1),
                ("RIGHTPADDING", (0, 0), (-1, -1), 1),
                ("TOPPADDING", (0, 0), (-1, -1), 0.6), ("BOTTOMPADDING", (0, 0), (-1, -1), 1.4),
            ],
        )  # fmt: skip
        x, y = corner[0] * mm, corner[1] * mm
        _, high = table.wrapOn(self.canvas, width * mm, 200 * mm)
        table.drawOn(self.canvas, x, y - high)
        y -= high + 2
        for note in notes_of(part, title, self.spoken):
            paragraph = Paragraph(markup(note), styles.small)
            _, high = paragraph.wrapOn(self.canvas, width * mm, 200 * mm)
            y -= high + 1
            paragraph.drawOn(self.canvas, x, y)

    def _title_block(self, title: Title, scale: float, corner: tuple[float, float]) -> None:
        canvas, styles, say, word = self.canvas, styles_of(), self.spoken.say, self.spoken.word
        x, y = corner
        wide, high = _TITLE
        canvas.setLineWidth(0.5 * mm)
        canvas.rect(x * mm, y * mm, wide * mm, high * mm)
        canvas.setLineWidth(0.18 * mm)
        for up in (6.5, 13.0, 19.5):
            canvas.line(x * mm, (y + up) * mm, (x + wide) * mm, (y + up) * mm)
        third = wide / 3
        for n in (1, 2):
            canvas.line((x + n * third) * mm, (y + 6.5) * mm, (x + n * third) * mm, (y + 19.5) * mm)
        unit = "inches" if self.spoken.inches else "mm"
        cells = (
            (0, 15.0, say(Reason("drawing_sheet.scale", scale=scale_words(scale)))),
            (1, 15.0, say(Reason("drawing_sheet.unit", unit=unit))),
            (2, 15.0, title.day),
            (0, 8.5, f"{word('material')}:"), (1, 8.5, f"{word('finish')}:"), (2, 8.5, f"{word('drawn by')}:"),
        )  # fmt: skip
        for column, up, text in cells:
            self._words(text, x + column * third + 1.2, y + up, 2.4)
        caution = Paragraph(self.types.markup(word(CAUTION)), styles.small.clone("caution", fontSize=4.6, leading=5.4))
        _, tall = caution.wrapOn(canvas, (wide - 2) * mm, 20 * mm)
        caution.drawOn(canvas, (x + 1) * mm, (y + 3.25) * mm - tall / 2)
        lines = [
            (title.head[0] if title.head else "", styles.small), (title.place, styles.answer),
            (", ".join(text for text in (title.part, title.instrument) if text), styles.body),
        ]  # fmt: skip
        factor, room = 1.0, (high - 21.0) * mm
        while True:
            made = [
                Paragraph(
                    self.types.markup(text),
                    style.clone("title", fontSize=factor * style.fontSize, leading=factor * style.leading),
                )
                for text, style in lines
                if text
            ]
            heights = [one.wrapOn(canvas, (wide - 3) * mm, 1e6)[1] for one in made]
            if sum(heights) <= room or factor < 0.5:
                break
            factor *= 0.93
        up = (y + high - 1) * mm
        for one, tall in zip(made, heights, strict=True):
            up -= tall
            one.drawOn(canvas, (x + 1.5) * mm, up)
        canvas.setStrokeColor(GREY)
