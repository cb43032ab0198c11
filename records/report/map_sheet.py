"""The map of an instrument on paper: pictures of it with the number of each part where it sits, and the list of them.

Where there is no picture there is a frame to sketch the instrument in by hand, and the same list.
"""

from __future__ import annotations

import io
from collections.abc import Iterator
from dataclasses import dataclass
from datetime import UTC, datetime
from typing import Any

from reportlab.lib.colors import black, white
from reportlab.lib.units import mm
from reportlab.lib.utils import ImageReader
from reportlab.platypus import Flowable, PageBreak, Paragraph, Spacer, Table

from records.filing import program_version
from records.instrument_map import MapMark, map_marks
from records.instrument_page import InstrumentPage, PlannedPlace, instrument_page
from records.letterhead import letterhead
from records.register import Register
from records.report.flowables import GREY, PALE, Ruled
from records.report.illustrate import Photograph, photograph_of
from records.report.pdf import built, foot_of, frame_of, letterhead_of, styles_of
from records.report.printed import Printed
from records.report.spoken import Spoken
from records.report.typefaces import BOLD, Types, load_types
from threads.shared.refusal import Reason, RefusalError

_MOST_PX = 1800
_HIGH = 0.56  # of the page: the picture
_RADIUS = 3.1 * mm
_CLEAR = 2.1 * _RADIUS  # two discs nearer than this are moved apart
_COLUMNS = 2


class MapFlowable(Flowable):  # type: ignore[misc]  # reportlab has no types
    """A picture with numbered discs, each beside its place and joined to it; none covers another."""

    def __init__(self, photograph: Photograph | None, marks: list[tuple[str, float, float]], room: Any) -> None:
        super().__init__()
        self.photograph, self.marks = photograph, marks
        shape = 1.5 if photograph is None else photograph.width / photograph.height
        wide, high = room
        self.width = min(wide, high * shape)
        self.height = self.width / shape
        self.hAlign = "CENTER"

    def wrap(self, *_: Any) -> tuple[float, float]:
        return self.width, self.height

    def draw(self) -> None:
        canvas = self.canv
        canvas.setStrokeColor(GREY)
        canvas.setLineWidth(0.4)
        if self.photograph is not None:
            image = ImageReader(io.BytesIO(self.photograph.content))
            canvas.drawImage(image, 0, 0, self.width, self.height)
        canvas.rect(0, 0, self.width, self.height)
        for text, place, disc in self._placed():
            canvas.setLineWidth(1.6)
            canvas.setStrokeColor(white)
            canvas.line(*place, *disc)
            canvas.setLineWidth(0.7)
            canvas.setStrokeColor(black)
            canvas.line(*place, *disc)
            for colour, radius in ((white, 1.6), (black, 0.9)):
                canvas.setFillColor(colour)
                canvas.circle(*place, radius, stroke=0, fill=1)
            canvas.setFillColor(white)
            canvas.setLineWidth(1.0)
            wide = max(_RADIUS, canvas.stringWidth(text, BOLD, 8) / 2 + 2)
            canvas.roundRect(disc[0] - wide, disc[1] - _RADIUS, 2 * wide, 2 * _RADIUS, _RADIUS, stroke=1, fill=1)
            canvas.setFillColor(black)
            canvas.setFont(BOLD, 8)
            canvas.drawCentredString(disc[0], disc[1] - 2.9, text)

    def _placed(self) -> Iterator[tuple[str, tuple[float, float], tuple[float, float]]]:
        """Each number, its place, and where its disc has room: beside the place, so that the screw itself is seen."""
        taken: list[tuple[float, float]] = []
        for text, across, down in self.marks:
            x, y = across * self.width, (1 - down) * self.height
            best = None
            for reach in (1.7, 3.0, 4.5, 6.5):
                for right, up in ((1, 1), (-1, 1), (1, -1), (-1, -1), (0, 1), (0, -1), (1, 0), (-1, 0)):
                    disc = x + right * reach * _RADIUS, y + up * reach * _RADIUS
                    inside = _RADIUS <= disc[0] <= self.width - _RADIUS and _RADIUS <= disc[1] <= self.height - _RADIUS
                    clear = all(abs(disc[0] - a) + abs(disc[1] - b) > _CLEAR for a, b in taken)
                    if inside and clear:
                        best = disc
                        break
                if best is not None:
                    break
            found = best or (x, y)
            taken += [found, (x, y)]
            yield text, (x, y), found


@dataclass(frozen=True)
class _Map:
    page: InstrumentPage
    marks: list[MapMark]
    types: Types
    spoken: Spoken


def print_map(register: Register, instrument: int, spoken: Spoken, *, paper: str = "a4") -> Printed:
    """The map of the instrument with this id as a PDF on one of ``records.report.pdf.PAPERS``. Raises RefusalError."""
    page = instrument_page(register, instrument)
    with register.reading() as connection:
        marks = map_marks(connection, instrument)
    name, head, frame = page.filed.instrument.name, letterhead(register), frame_of(paper)
    types = load_types("".join((name, *head, *(one.name for one in page.places))))
    shown = _Map(page, marks, types, spoken)
    photographs = {one.picture: _photograph(register, one) for one in marks}
    flow: list[Flowable] = []
    styles, room = styles_of(), (frame.width, _HIGH * frame.height)
    for number, picture in enumerate(photographs or [None]):
        flow += [PageBreak()] if number else list(letterhead_of(head, types, styles))
        title = spoken.say(Reason("map_sheet.title", name=name))
        flow += [Paragraph(types.markup(title), styles.title), Spacer(1, 3)]
        here = [one for one in marks if one.picture == picture]
        numbers = _numbers(page)
        placed = [(numbers[one.position], one.across, one.down) for one in here if one.position in numbers]
        flow.append(MapFlowable(None if picture is None else photographs[picture], placed, room))
        if picture is None:
            flow.append(Paragraph(types.markup(spoken.word("Sketch the instrument here and number it.")), styles.small))
        flow.append(Spacer(1, 6))
        at = {one.position for one in here}
        listed = [one for one in page.places if picture is None or one.position in at]
        flow += _list(shown, listed)
        if number == len(photographs) - 1:
            marked = {one.position for one in marks}
            left = [one for one in page.places if one.position not in marked]
            if left:
                flow.append(Paragraph(types.markup(spoken.word("Not on the map")), styles.heading))
                flow += _list(shown, left)
    flow.append(Ruled(spoken.word("For notes by hand")))
    foot = foot_of(name, datetime.now(UTC).astimezone().strftime("%Y-%m-%d"), program_version(), spoken)
    content = built(flow, frame, name, types, foot, program_version())
    missing = "".join(map(chr, sorted(types.nowhere)))
    return Printed(content, name, len(page.by_part), len(page.filed.screws), missing)


def maps_of(register: Register, instrument: int, page: InstrumentPage, room: tuple[float, float]) -> list[MapFlowable]:
    """The marked pictures of an instrument, for another sheet; none where there are none."""
    with register.reading() as connection:
        marks = map_marks(connection, instrument)
    numbers = _numbers(page)
    found = []
    for picture in dict.fromkeys(one.picture for one in marks):
        here = [one for one in marks if one.picture == picture and one.position in numbers]
        photograph = _photograph(register, here[0]) if here else None
        if photograph is not None:
            found.append(MapFlowable(photograph, [(numbers[m.position], m.across, m.down) for m in here], room))
    return found


def _numbers(page: InstrumentPage) -> dict[int, str]:
    """The numbers of the parts at each position."""
    found: dict[int, list[str]] = {}
    for one in page.places:
        if one.position is not None:
            found.setdefault(one.position, []).append(str(one.number))
    return {position: ", ".join(each) for position, each in found.items()}


def _photograph(register: Register, mark: MapMark) -> Photograph | None:
    try:
        path = register.store.original(mark.sha256, mark.suffix)
        return photograph_of(path, None, 1.5, inches=False, most_wide=_MOST_PX)
    except RefusalError:
        return None


def _list(shown: _Map, places: list[PlannedPlace]) -> list[Flowable]:
    """The places in columns, read downwards: number, name, part and thread."""
    if not places:
        return []
    styles, markup, word = styles_of(), shown.types.markup, shown.spoken.word
    cells: list[list[Any]] = []
    for one in places:
        part = "" if one.part is None else f"{word('part')} {one.part}"
        more = ", ".join(text for text in (part, one.thread or word(one.state)) if text)
        name = Paragraph(f"<b>{markup(one.name)}</b>  {markup(more)}", styles.body)
        cells.append([Paragraph(f"<b>{one.number}</b>", styles.right), name])
    high = -(-len(cells) // _COLUMNS)
    cells += [["", ""]] * (_COLUMNS * high - len(cells))
    rows = [[cell for column in range(_COLUMNS) for cell in cells[row + column * high]] for row in range(high)]
    style = [
        ("VALIGN", (0, 0), (-1, -1), "TOP"), ("LINEBELOW", (0, 0), (-1, -1), 0.3, PALE),
        ("LEFTPADDING", (0, 0), (-1, -1), 0), ("TOPPADDING", (0, 0), (-1, -1), 1),
        ("BOTTOMPADDING", (0, 0), (-1, -1), 2),
    ]  # fmt: skip
    widths = [8 * mm, None] * _COLUMNS
    return [Table(rows, colWidths=widths, style=style, hAlign="LEFT")]
