"""The sheet of an instrument, worth handing to its owner: plain words first, its positions as a plan, numbers below."""

from __future__ import annotations

import io
from collections.abc import Iterator
from dataclasses import dataclass
from datetime import UTC, datetime
from pathlib import Path
from typing import Any

from reportlab.lib.units import inch, mm
from reportlab.platypus import Flowable, Image, KeepTogether, Paragraph, Spacer, Table

from flankwise.reasons import chance, sentence, word
from flankwise.words import CAUTION
from records import drawing
from records.batch.processes import by_processes, cores
from records.filing import program_version
from records.instrument import chart_of
from records.instrument_page import InstrumentPage, PlannedPlace, instrument_page
from records.letterhead import letterhead
from records.register import Register
from records.report.flowables import GREY, PALE, Length, PhotographFlowable
from records.report.illustrate import Photograph, photograph_of
from records.report.map_sheet import MapFlowable, maps_of
from records.report.pdf import Styles, built, frame_of, letterhead_of, styles_of
from records.report.printed import Printed
from records.report.typefaces import REGULAR, Types, load_types
from threads.shared.formatting import format_quantity
from threads.shared.refusal import Reason, RefusalError
from threads.workshop.instrument_sheet import InstrumentSheet, Tool, supplier_notes

_CARDS = 5  # side by side
_FEW = 12
"""So many photographs are made in this process: to start others would take longer."""
_CARD_PICTURE = 30 * mm, 20 * mm
_SHAPE = 1.5
_CHART, _GROWTH = 2.9, 2.1  # inches high
_SIGNATURE = 72 * mm
_MAP_HIGH = 95 * mm


@dataclass(frozen=True)
class _Wanted:
    picture: str
    drawing: bytes | None
    inches: bool


@dataclass(frozen=True)
class _Sheet:
    """What is printed, and in which language: ``say`` and ``word`` put it into words."""

    page: InstrumentPage
    pictures: dict[int, Photograph]
    types: Types
    styles: Styles
    width: float
    inches: bool
    language: str
    maps: list[MapFlowable]

    def say(self, reason: Reason) -> str:
        return sentence(reason, language=self.language, inches=self.inches, to_do=False)

    def word(self, text: str) -> str:
        return word(text, self.language)

    def text(self, text: str, style: str = "body") -> Paragraph:
        return Paragraph(self.types.markup(text), getattr(self.styles, style))

    def heading(self, text: str) -> Paragraph:
        return Paragraph(self.types.markup(self.word(text)), self.styles.heading)


def print_instrument(
    register: Register,
    instrument: int,
    *,
    paper: str = "a4",
    inches: bool = False,
    language: str = "en",
    processes: int | None = None,
) -> Printed:
    """The sheet of the instrument with this id as a PDF on one of ``PAPERS``, in "en" or "de".

    Raises RefusalError: no_measured_screw, and what reading raises.
    """
    page = instrument_page(register, instrument)
    name = page.filed.instrument.name
    if page.answer is None:
        raise RefusalError("no_measured_screw", instrument=name)
    frame = frame_of(paper)
    styles = styles_of()
    pictures = _pictures(register, page, inches=inches, processes=processes)
    about = _about(page, language)
    head = letterhead(register)
    maps = maps_of(register, instrument, page, (frame.width, _MAP_HIGH))
    letters = "".join((name, *head, *about, *(one.name for one in page.places), *map(str, page.missing)))
    types = load_types(letters)
    sheet = _Sheet(page, pictures, types, styles, frame.width, inches, language, maps)
    begin = letterhead_of(head, types, styles)
    printed = datetime.now(UTC).astimezone().strftime("%Y-%m-%d")
    foot = f"{name[:60]}    {word('printed', language)} {printed}, flankwise {program_version()}    ± = U95 (k = 2)"
    lines = foot, word(CAUTION, language), word("of", language)
    content = built([*begin, *_flow(sheet, about)], frame, name, types, lines, program_version())
    return Printed(
        content, name, len(page.by_part), len(page.filed.screws), "".join(chr(code) for code in sorted(types.nowhere))
    )


def _about(page: InstrumentPage, language: str) -> list[str]:
    one = page.filed.instrument
    made = ""
    if one.made is not None:
        made = str(one.made[0]) if one.made[0] == one.made[1] else f"{one.made[0]}-{one.made[1]}"
    serial = one.serial and f"{word('no.', language)} {one.serial}"
    line = ", ".join(text for text in (one.maker, one.model, serial, made, one.country) if text)
    return [text for text in (line, one.owner_note) if text]


def _pictures(
    register: Register, page: InstrumentPage, *, inches: bool, processes: int | None
) -> dict[int, Photograph]:
    """The photograph of each part with its outline and dimensions, as far as there is one."""
    store = register.store
    uids, files = _filed_pictures(register, list(page.by_part))
    drawings = {part: drawing.kept(store.folder, uid) for part, uid in uids.items()}
    wanted = [_Wanted(str(store.original(*file)), drawings.get(part), inches) for part, file in files.items()]
    few = len(wanted) <= _FEW or (processes or cores()) < 2
    made = map(_photograph, wanted) if few else by_processes(_photograph, wanted, processes or cores(), _nothing)
    return {part: one for part, one in zip(files, made, strict=True) if one is not None}


def _filed_pictures(register: Register, parts: list[int]) -> tuple[dict[int, str], dict[int, tuple[str, str]]]:
    """Uid of the measurement that counts, and hash and suffix of the picture, of each part that has one."""
    from records.connection import rows

    with register.reading() as connection:
        found = rows(
            connection,
            "SELECT p.id, m.uid, k.sha256, k.suffix FROM parts p LEFT JOIN current c ON c.part_id = p.id "
            "LEFT JOIN measurements m ON m.id = c.measurement_id "
            "JOIN pictures k ON k.id = ifnull(m.picture_id, (SELECT s.picture_id FROM part_pictures s "
            f"WHERE s.part_id = p.id ORDER BY s.id DESC LIMIT 1)) WHERE p.id IN ({','.join('?' * len(parts))})",
            parts,
        )
    uids = {int(row["id"]): str(row["uid"]) for row in found if row["uid"] is not None}
    return uids, {int(row["id"]): (str(row["sha256"]), str(row["suffix"])) for row in found}


def _photograph(wanted: _Wanted) -> Photograph | None:
    try:
        drawn = None if wanted.drawing is None else drawing.from_bytes(wanted.drawing)
    except ValueError:
        drawn = None
    try:
        return photograph_of(Path(wanted.picture), drawn, _SHAPE, inches=wanted.inches)
    except RefusalError:
        return None


def _nothing(_wanted: _Wanted) -> Photograph | None:
    return None


def _flow(sheet: _Sheet, about: list[str]) -> Iterator[Flowable]:
    page = sheet.page
    answer = page.answer
    assert answer is not None
    judged = answer.sheet
    yield sheet.text(page.filed.instrument.name, "title")
    yield from (sheet.text(line) for line in about)
    yield Spacer(1, 5)
    yield sheet.text(sheet.say(page.verdict), "answer")
    yield Spacer(1, 3)
    yield from (
        sheet.text(f"{one.number}  {one.name}: {sheet.say(one.why)}") for one in page.places if one.why is not None
    )
    if page.missing:
        yield sheet.heading("Still missing")
        yield sheet.text("; ".join(map(sheet.say, page.missing)))
    yield sheet.heading("Where each screw belongs (class, and pitch diameter with U95)")
    for one in sheet.maps:
        yield one
        yield Spacer(1, 4)
    yield _plan(sheet)
    yield sheet.heading("To have ready")
    yield _tools(sheet, judged.tools)
    yield from (sheet.text(sheet.say(note), "small") for note in supplier_notes(judged.tools))
    yield sheet.heading("Every screw among the classes")
    yield from _charts(sheet, judged)
    yield sheet.heading("Sizes")
    yield _sizes(sheet, judged)
    yield KeepTogether(list(_end(sheet, judged)))  # the lines to sign do not stand on a page of their own


def _end(sheet: _Sheet, judged: InstrumentSheet) -> Iterator[Flowable]:
    yield sheet.heading("Thread systems")
    yield _systems(sheet, judged)
    said = judged.found.stated
    if said is not None:
        told = Reason("instrument_sheet.stated", text=said.text, by=said.by, weight=said.weight)
        yield sheet.text(sheet.say(told), "small")
    yield from (sheet.text(sheet.say(note), "small") for note in judged.notes)
    yield Spacer(1, 26)
    yield _signature(sheet)


def _plan(sheet: _Sheet) -> Table:
    """The positions in the order of the strip, each with its picture, thread and pitch diameter."""
    wide = sheet.width / _CARDS
    cells: list[Any] = [_card(sheet, one, wide - 6) for one in sheet.page.places]
    rows = [cells[i : i + _CARDS] for i in range(0, len(cells), _CARDS)]
    rows[-1] += [""] * (_CARDS - len(rows[-1]))
    style = [
        ("VALIGN", (0, 0), (-1, -1), "TOP"),
        ("LEFTPADDING", (0, 0), (-1, -1), 0),
        ("RIGHTPADDING", (0, 0), (-1, -1), 6),
        ("TOPPADDING", (0, 0), (-1, -1), 3),
        ("BOTTOMPADDING", (0, 0), (-1, -1), 4),
        ("LINEABOVE", (0, 0), (-1, -1), 0.4, PALE),
    ]
    return Table(rows, colWidths=[wide] * _CARDS, style=style, hAlign="LEFT")


def _card(sheet: _Sheet, one: PlannedPlace, wide: float) -> list[Flowable]:
    picture = None if one.part is None else sheet.pictures.get(one.part)
    height = min(_CARD_PICTURE[1], wide / _SHAPE) if sheet.pictures else 0.0
    image: list[Flowable] = [Spacer(1, height)]
    if picture is not None:
        shown = PhotographFlowable(picture, min(_CARD_PICTURE[0], wide), height, detailed=False)
        image = [Spacer(1, height - shown.height), shown]
    lines = [one.thread or sheet.word(one.state)]
    if one.diameter is not None:
        lines.append(f"⌀ {format_quantity(one.diameter, inches=sheet.inches)}")
    if one.why is not None:
        lines.append(sheet.word(one.state))
    number = sheet.types.markup(f"{one.number}  {one.name}")
    return [*image, Paragraph(f"<b>{number}</b>", sheet.styles.body), *(sheet.text(line, "small") for line in lines)]


def _tools(sheet: _Sheet, tools: tuple[Tool, ...]) -> Table:
    """A line a kind: names, for how many screws, and what is at hand."""
    lines: dict[str, list[str]] = {}
    for tool in tools:
        name = tool.name.replace(" and ", " + ") if tool.kind == "pins" else f"{tool.name} ({tool.screws})"
        hand = f" [{sheet.word('at hand')}: {', '.join(tool.at_hand)}]" if tool.at_hand else ""
        lines.setdefault(tool.kind, []).append(name + hand)
    rows = [[sheet.text(sheet.word(kind)), sheet.text(", ".join(names))] for kind, names in lines.items()]
    return _table(rows, [0.16 * sheet.width, 0.84 * sheet.width])


def _charts(sheet: _Sheet, judged: InstrumentSheet) -> Iterator[Flowable]:
    from records.figures.instrument_view import chart_jpeg, growth_jpeg

    page = sheet.page
    assert page.answer is not None
    numbers = {part: place.number for part, place in page.by_part.items()}
    charted, zones = chart_of(page.filed, page.answer, sheet.say)
    numbered = [numbers[one.part] for one in page.filed.screws]
    wide = sheet.width / inch
    spoken = sheet.language
    for content, high in (
        (chart_jpeg(charted, zones, numbers, (wide, _CHART), inches=sheet.inches, language=spoken), _CHART),
        (growth_jpeg(numbered, judged.found, (wide, _GROWTH), language=spoken), _GROWTH),
    ):
        yield Image(io.BytesIO(content), sheet.width, high * inch)


def _sizes(sheet: _Sheet, judged: InstrumentSheet) -> Table:
    heads = ("thread", "screws", "mean pitch diameter", "spread", "most probable class", "one die")
    rows = [[sheet.text(sheet.word(head), "small") for head in heads]]
    for size in judged.sizes:
        name, share = size.classes[0] if size.classes else (size.limits.designation, 1.0)
        one_die = "" if size.one_die is None else sheet.word("yes" if size.one_die else "no")
        spread = "" if size.spread is None else format_quantity(size.spread, inches=sheet.inches)
        mean = format_quantity(size.mean, inches=sheet.inches)
        cells = (size.thread, str(len(size.parts)), mean, spread, f"{name} ({chance(share, sheet.language)})", one_die)
        rows.append([sheet.text(cell) for cell in cells])
    return _table(rows, [share * sheet.width for share in (0.13, 0.09, 0.23, 0.19, 0.25, 0.11)])


def _systems(sheet: _Sheet, judged: InstrumentSheet) -> Table:
    heads = ("", "", "thread system", "by the measurements alone")
    rows: list[list[Any]] = [[sheet.text(sheet.word(head) if head else "", "small") for head in heads]]
    for one in judged.found.systems[:3]:
        bar = Length(one.probability, 0.2 * sheet.width)
        told = (
            chance(one.probability, sheet.language),
            sheet.word(one.system),
            chance(one.measurement_only, sheet.language),
        )
        rows.append([bar, *map(sheet.text, told)])
    return _table(rows, [share * sheet.width for share in (0.23, 0.13, 0.34, 0.30)])


def _table(rows: list[list[Any]], widths: list[float]) -> Table:
    style = [
        ("VALIGN", (0, 0), (-1, -1), "TOP"),
        ("LEFTPADDING", (0, 0), (-1, -1), 0),
        ("TOPPADDING", (0, 0), (-1, -1), 1),
        ("BOTTOMPADDING", (0, 0), (-1, -1), 1.5),
        ("LINEBELOW", (0, 0), (-1, -1), 0.3, PALE),
    ]
    return Table(rows, colWidths=widths, style=style, hAlign="LEFT")


def _signature(sheet: _Sheet) -> Table:
    """Lines to be signed on: who judged it, and when."""
    words = [sheet.text(sheet.word(text), "small") for text in ("measured and judged by", "place and date")]
    table = Table([[words[0], "", words[1]]], colWidths=[_SIGNATURE, 12 * mm, _SIGNATURE], hAlign="LEFT")
    table.setStyle([
        ("LINEABOVE", (0, 0), (0, 0), 0.6, GREY), ("LINEABOVE", (2, 0), (2, 0), 0.6, GREY),
        ("LEFTPADDING", (0, 0), (-1, -1), 0), ("FONT", (0, 0), (-1, -1), REGULAR, 8),
    ])  # fmt: skip
    return table
