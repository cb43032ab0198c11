"""A tray on paper: the picture with the number of each part in it, and what each of them is."""

from __future__ import annotations

from datetime import UTC, datetime
from pathlib import Path
from typing import Any

from reportlab.lib.units import mm
from reportlab.platypus import Flowable, Paragraph, Spacer, Table

from records import reading
from records.connection import rows
from records.entries import Part
from records.filing import program_version
from records.letterhead import letterhead
from records.register import Register
from records.report.flowables import PALE, Ruled
from records.report.illustrate import photograph_of
from records.report.map_sheet import MapFlowable
from records.report.pdf import built, foot_of, frame_of, letterhead_of, styles_of
from records.report.printed import Printed
from records.report.sheet import Sheet, place_words, sheet_of
from records.report.spoken import Spoken
from records.report.typefaces import load_types
from threads.shared.refusal import Reason, RefusalError
from vision.outline.silhouette import find_parts
from vision.pictures.picture import read_picture

_MOST_PX = 1800
_HIGH = 0.5  # of the page: the picture


def print_tray(register: Register, part: int, spoken: Spoken, *, paper: str = "a4") -> Printed:
    """The tray that this part on file was measured in, with all parts on file of that picture.

    Raises RefusalError: no_part_on_file, not_measured, part_without_picture, and what reading the picture raises.
    """
    with register.reading() as connection:
        picture = reading.measurement_of(connection, part).picture
        first = reading.read_part(connection, part)
        file = next((one for one in first.pictures if one.id == picture), None)
        if file is None:
            raise RefusalError("part_without_picture", part=part)
        found = rows(
            connection,
            "SELECT p.id FROM parts p JOIN current c ON c.part_id = p.id "
            "JOIN measurements m ON m.id = c.measurement_id WHERE m.picture_id = ? AND p.withdrawn = 0 ORDER BY p.id",
            (file.id,),
        )
        parts = [reading.read_part(connection, row["id"]) for row in found]
    path = Path(register.store.original(file.sha256, file.suffix))
    numbered = _numbered(path, parts)
    name, head, frame = file.file_name, letterhead(register), frame_of(paper)
    sheets = {number: sheet_of(one, None, spoken) for number, one in numbered.items() if one is not None}
    types = load_types("".join((name, *head, *(place_words(one, spoken) for one in parts))))
    styles = styles_of()
    size = (file.width_px, file.height_px)
    marks = [(str(number), *_share(box, size)) for number, box in _boxes(path).items()]
    flow: list[Flowable] = [*letterhead_of(head, types, styles)]
    title = spoken.say(Reason("tray_sheet.title", name=name))
    photograph = photograph_of(path, None, 1.5, inches=False, most_wide=_MOST_PX)
    flow += [Paragraph(types.markup(title), styles.title), Spacer(1, 3)]
    flow += [MapFlowable(photograph, marks, (frame.width, _HIGH * frame.height)), Spacer(1, 6)]
    lines = [_line(number, sheets.get(number), types.markup, spoken) for number in sorted(numbered)]
    style = [
        ("VALIGN", (0, 0), (-1, -1), "TOP"), ("LINEBELOW", (0, 0), (-1, -1), 0.3, PALE),
        ("LEFTPADDING", (0, 0), (-1, -1), 0), ("TOPPADDING", (0, 0), (-1, -1), 1.5),
        ("BOTTOMPADDING", (0, 0), (-1, -1), 2.5),
    ]  # fmt: skip
    wide = frame.width
    flow.append(Table(lines, colWidths=[8 * mm, 0.55 * wide, 0.45 * wide - 8 * mm], style=style, hAlign="LEFT"))
    flow.append(Ruled(spoken.word("For notes by hand")))
    foot = foot_of(name, datetime.now(UTC).astimezone().strftime("%Y-%m-%d"), program_version(), spoken)
    content = built(flow, frame, name, types, foot, program_version())
    return Printed(content, name, len(parts), len(parts), "".join(map(chr, sorted(types.nowhere))))


def _line(number: int, sheet: Sheet | None, markup: Any, spoken: Spoken) -> list[Any]:
    styles = styles_of()
    count = Paragraph(f"<b>{number}</b>", styles.right)
    if sheet is None:
        return [count, Paragraph(markup(spoken.word("not on file")), styles.small), ""]
    words = [
        Paragraph(f"<b>{markup(sheet.place)}</b>", styles.body),
        Paragraph(markup(sheet.answer), styles.body),
        Paragraph(markup(", ".join(text for text in (sheet.number, sheet.instrument) if text)), styles.small),
    ]
    return [count, words, [Paragraph(markup(line), styles.body) for line in sheet.key.split("; ") if line]]


def _boxes(path: Path) -> dict[int, tuple[int, int, int, int]]:
    return dict(enumerate(find_parts(read_picture(path)), start=1))


def _share(box: tuple[int, int, int, int], size: tuple[int, int]) -> tuple[float, float]:
    left, top, wide, high = box
    return (left + wide / 2) / size[0], (top + high / 2) / size[1]


def _numbered(path: Path, parts: list[Part]) -> dict[int, Part | None]:
    """The parts by their numbers in the picture, told by where each was measured."""
    boxes = _boxes(path)
    found: dict[int, Part | None] = dict.fromkeys(boxes)
    for one in parts:
        measurement = one.measurement
        middle = None if measurement is None else measurement.document.get("part", {}).get("middle_px")
        for number, (left, top, wide, high) in boxes.items():
            if middle is not None and left <= middle[0] <= left + wide and top <= middle[1] <= top + high:
                found[number] = one
                break
    return found
