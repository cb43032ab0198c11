"""What the window does to the register, each a plain call for a worker; and how each step is undone."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from PySide6.QtGui import QImage

    from flankwise.holes import HoleAnswer
    from flankwise.judging_instrument import InstrumentAnswer
    from gui.piece import Piece
    from records.entries import Part, Position
    from records.instrument_map import MapMark
    from records.instrument_page import InstrumentPage
    from records.listing import Conditions, Page
    from records.nearest import Likeness
    from records.overview import Overview
    from records.register import Register
    from threads.identify.stated import Stated
    from vision.shared.plane import PlaneMap


@dataclass(frozen=True)
class Back:
    """How a step is gone back on: the rows that it added are withdrawn, or its corrections are taken back."""

    table: str = ""
    row: int = 0
    corrections: tuple[int, ...] = ()
    more: tuple[int, ...] = ()


@dataclass(frozen=True)
class Whole:
    """Everything about a part that is shown.

    ``small``: its thumbnail, JPEG. ``path``: where its picture lies, "" for none. ``names``: of the positions,
    instruments and jobs that its corrections mention, by (column, id).
    ``hole``: what the trials in a hole say; None where it is none, or no screw has gone in yet.
    """

    part: Part
    small: bytes
    path: str
    names: dict[tuple[str, int], str]
    hole: HoleAnswer | None = None


def opened(file: str | None, *, create: bool = False) -> Register:
    """The current register. Raises RefusalError."""
    from gui.work import told_to_wait
    from records.register import open_register

    return open_register(file, create=create, waits=told_to_wait)


def upgraded(file: str | None) -> Path | None:
    """Open the register; the copy of it that was made, where it was of an older version. Raises RefusalError."""
    return opened(file).upgraded_from


def go_back(file: str | None, back: Back) -> Back:
    """Go back on a step; returns how to go back on that. Raises RefusalError (corrected_since)."""
    from records.correction import take_back, withdraw

    with opened(file).writing() as writing:
        if back.table:
            gone = (withdraw(writing, back.table, row) for row in (back.row, *back.more))
            return Back(corrections=tuple(one for each in gone for one in each))
        return Back(corrections=tuple(take_back(writing, back.corrections)))


def look_over(file: str | None) -> Overview | None:
    """Instruments and jobs with their parts; None where there is no register yet."""
    from records.overview import overview
    from records.register_path import register_path

    if not register_path(file).exists():
        return None
    return overview(opened(file))


def instruments_on_file(file: str | None) -> list[str]:
    """Their names, in order; none where there is no register yet."""
    from records.reading import instruments
    from records.register_path import register_path

    if not register_path(file).exists():
        return []
    with opened(file).reading() as connection:
        return [one.name for one in instruments(connection)]


def page_of_instrument(file: str | None, instrument: int) -> InstrumentPage:
    """Everything about an instrument, its screws judged together. Raises RefusalError."""
    from records.instrument_page import instrument_page

    return instrument_page(opened(file), instrument)


def save_instrument_sheet(file: str | None, instrument: int, path: Path, *, inches: bool, language: str) -> None:
    """Write the sheet of an instrument as a PDF. Raises RefusalError, OSError."""
    from records.report.instrument_sheet import print_instrument
    from threads.shared.whole_file import write_whole

    write_whole(path, print_instrument(opened(file), instrument, inches=inches, language=language).content)


def save_tools(answer: InstrumentAnswer, path: Path) -> None:
    """Write the list of an instrument's tools as a table. Raises OSError."""
    from records.instrument import tools_csv
    from threads.shared.whole_file import write_whole

    write_whole(path, tools_csv(answer))


def places_on(file: str | None, instrument: int) -> tuple[tuple[Position, int], ...]:
    """The positions on an instrument, and how many parts are on file for each."""
    from records.overview import position_counts

    return position_counts(opened(file), instrument)


def page(file: str | None, conditions: Conditions, first: int, most: int) -> Page:
    """Some of the parts that meet the conditions; none where there is no register yet."""
    from records.listing import Page, page_of_parts
    from records.register_path import register_path

    if not register_path(file).exists():
        return Page((), 0, 0)
    with opened(file).reading() as connection:
        return page_of_parts(connection, conditions, first=first, most=most)


def small_pictures(file: str | None, parts: Sequence[int], width: int, height: int) -> dict[int, QImage]:
    """The pictures of these parts, ready for the screen; a null one where there is none."""
    from PySide6.QtCore import QByteArray, QSize, Qt
    from PySide6.QtGui import QImage

    from records.overview import thumbnails

    found = {part: QImage() for part in parts}
    for part, content in thumbnails(opened(file), list(parts)).items():
        image = QImage.fromData(QByteArray(content))
        if not image.isNull():
            size, smooth = QSize(width, height), Qt.TransformationMode.SmoothTransformation
            found[part] = image.scaled(size, Qt.AspectRatioMode.KeepAspectRatio, smooth)
    return found


def large_picture(path: str, most: int) -> QImage:
    """The picture in ``path`` for the screen, hardly larger than ``most`` px. Raises RefusalError."""
    from gui.levels import levels_of_light
    from gui.picture_view import image_of
    from vision.pictures.picture import read_picture

    levels = levels_of_light(read_picture(path).light)
    return image_of(next((one for one in levels if max(one.shape[:2]) <= most), levels[-1])).copy()


def whole_part(file: str | None, part: int) -> Whole:
    """Everything on file about a part."""
    from records.holes import judge_filed_hole
    from records.lookup import name_of
    from records.overview import thumbnails
    from records.reading import read_part

    register = opened(file)
    with register.reading() as connection:
        found = read_part(connection, part)
        names = {}
        for one in found.corrections:
            for key in (one.before, one.after):
                name = name_of(connection, one.column, key)
                if name is not None:
                    names[one.column, int(key)] = name
        hole = None if found.hole is None else judge_filed_hole(connection, part)
    picture = found.picture
    path = "" if picture is None else str(register.store.original(picture.sha256, picture.suffix))
    return Whole(found, thumbnails(register, [part]).get(part, b""), path, names, hole)


def plane_of(file: str | None, part: int) -> PlaneMap | None:
    """The calibration, or the scale by hand, that a part was measured by; None where it is not on file."""
    from records.measured_again import filed_plane
    from records.reading import calibration_text, read_part

    with opened(file).reading() as connection:
        measurement = read_part(connection, part).measurement
        if measurement is None:
            return None
        known = measurement.calibration
        try:
            return filed_plane(measurement.document, None if known is None else calibration_text(connection, known))
        except (KeyError, TypeError, ValueError):
            return None


def correct_part(file: str | None, part: int, changes: dict[str, Any]) -> Back:
    """Set something right."""
    from records.correction import correct

    with opened(file).writing() as writing:
        return Back(corrections=tuple(correct(writing, "parts", part, changes)))


def correct_job(file: str | None, job: int, changes: dict[str, Any]) -> Back:
    """Set something right about a job."""
    from records.correction import correct

    with opened(file).writing() as writing:
        return Back(corrections=tuple(correct(writing, "jobs", job, changes)))


def letterhead_lines(file: str | None) -> str:
    """The letterhead as it is kept. Raises RefusalError."""
    from records.letterhead import letterhead

    return "\n".join(letterhead(opened(file)))


def keep_head(file: str | None, text: str) -> None:
    """Keep another letterhead. Raises RefusalError."""
    from records.letterhead import keep_letterhead

    keep_letterhead(opened(file, create=True), text)


@dataclass(frozen=True)
class MapShown:
    """The map of an instrument: its marks, where the picture used last lies ("" for none) and its number."""

    marks: tuple[MapMark, ...]
    path: str = ""
    picture: int = 0


def map_of_instrument(file: str | None, instrument: int) -> MapShown:
    """The marks on file. Raises RefusalError."""
    from records.instrument_map import map_marks, map_pictures

    register = opened(file)
    with register.reading() as connection:
        marks, pictures = map_marks(connection, instrument), map_pictures(connection, instrument)
    last = next((one for one in marks if pictures and one.picture == pictures[-1]), None)
    if last is None:
        return MapShown(tuple(marks))
    return MapShown(tuple(marks), str(register.store.original(last.sha256, last.suffix)), last.picture)


def mark_position(file: str | None, position: int, picture: int | str, across: float, down: float) -> Back:
    """Mark a position in a picture on file (its number), or in one that is filed with the mark (its path)."""
    from records.filing import add_map_mark, add_read_picture
    from vision.pictures.picture import read_picture

    read = read_picture(picture) if isinstance(picture, str) else None
    with opened(file).writing() as writing:
        key = picture if isinstance(picture, int) else 0
        if read is not None:
            key = add_read_picture(writing, read)
        return Back("map_marks", add_map_mark(writing, position, key, across, down))


def move_part(file: str | None, part: int, instrument: str, position: str, job: str) -> Back:
    """Let a part belong elsewhere; "" is nowhere. A position that is new is made, instruments and jobs are on file.

    Raises RefusalError (no_such_name).
    """
    from records.correction import correct
    from records.filing import add_position
    from records.lookup import known_instrument, known_job, position_called

    with opened(file).writing() as writing:
        owner = known_instrument(writing.connection, instrument) if instrument else None
        there = None
        if position and owner is not None:
            there = position_called(writing.connection, owner, position) or add_position(writing, owner, position)
        changes = {
            "instrument_id": owner,
            "position_id": there,
            "job_id": known_job(writing.connection, job) if job else None,
        }
        return Back(corrections=tuple(correct(writing, "parts", part, changes)))


def note_part(file: str | None, part: int, text: str) -> Back:
    """Add a note."""
    from records.filing import add_note

    with opened(file).writing() as writing:
        return Back("notes", add_note(writing, text, part=part))


def state_of_instrument(file: str | None, instrument: int, said: Stated, source: str) -> Back:
    """Keep what a document or a person says of an instrument, as a note that counts."""
    from records.filing import add_note
    from records.statements import statement_note

    with opened(file).writing() as writing:
        return Back("notes", add_note(writing, statement_note(said, source), instrument=instrument))


def replaced_part(file: str | None, part: int, *, die: str, setting: str, stock: str) -> Back:
    """Write down a replacement that was made."""
    from records.filing import add_replacement

    with opened(file).writing() as writing:
        row = add_replacement(writing, part, die=die or None, setting=setting or None, stock=stock or None)
        return Back("replacements", row)


def like_these(file: str | None, piece: Piece) -> list[Likeness]:
    """The parts on file nearest to the one on the bench, within the joint uncertainty first."""
    from records.nearest import nearest_parts

    assert piece.measurement is not None
    with opened(file).reading() as connection:
        return list(nearest_parts(connection, piece.measurement.thread, without_part=piece.filed))
