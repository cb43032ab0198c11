"""What the window does to the register, each a plain call for a worker; and how each step is undone."""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING, Any

import numpy as np

from gui.levels import Bytes
from vision.refusal import RefusalError

if TYPE_CHECKING:
    from gui.piece import Piece
    from records.entries import Part
    from records.listing import Conditions, Page
    from records.nearest import Likeness
    from records.overview import Overview
    from records.register import Register

_TRAILING_NUMBER = re.compile(r"^(.*?)(\d+)(\D*)$")


@dataclass(frozen=True)
class Entry:
    """What the strip says about a part that is to be filed."""

    instrument: str
    job: str
    position: str
    name: str
    another: bool = False
    create: bool = False


@dataclass(frozen=True)
class Filed:
    """What was filed: the part, the measurement, and what taking it back means."""

    part: int
    new_part: bool
    measurement: int | None
    name: str


def opened(file: str | None, *, create: bool = False) -> Register:
    """The register in force. Raises RefusalError."""
    from records.register import open_register

    return open_register(file, create=create)


def file_piece(file: str | None, piece: Piece, entry: Entry) -> Filed:
    """File ``piece`` with its measurement and identification; its picture alone where it was refused.

    Raises RefusalError: name_alike, position_taken and others; nothing is filed then.
    """
    from records.documenting import Place, document_measured, document_picture, identification_document

    register = opened(file, create=True)
    choices = piece.choices
    place = Place(
        instrument=entry.instrument or None,
        position=entry.position or None,
        job=entry.job or None,
        name=entry.name or piece.name,
        made=choices.made if entry.instrument else None,
        country=choices.origin if entry.instrument else None,
        another=entry.another,
        create=entry.create,
    )
    if piece.measurement is None:
        if piece.picture is None:
            raise RefusalError("no_picture", "There is no picture to be filed.")
        done = document_picture(register, piece.picture, place)
    else:
        found = piece.identification
        document = None if found is None else identification_document(found, choices.origin, choices.made)
        done = document_measured(register, piece.measurement, place, identification=document)
    return Filed(done.part, done.new_part, done.measurement, entry.name or piece.name)


def take_back_filing(file: str | None, filed: Filed) -> None:
    """Withdraw what was filed; nothing is struck out."""
    from records.correction import withdraw

    with opened(file).writing() as writing:
        if filed.new_part or filed.measurement is None:
            withdraw(writing, "parts", filed.part)
        else:
            withdraw(writing, "measurements", filed.measurement)


def file_again(file: str | None, filed: Filed) -> None:
    """Bring back what ``take_back_filing`` withdrew."""
    from records.correction import bring_back

    with opened(file).writing() as writing:
        if filed.new_part or filed.measurement is None:
            bring_back(writing, "parts", filed.part)
        else:
            bring_back(writing, "measurements", filed.measurement)


def look_over(file: str | None) -> Overview | None:
    """Instruments and jobs with their parts; None where there is no register yet."""
    from records.overview import overview
    from records.register import register_path

    if not register_path(file).exists():
        return None
    return overview(opened(file))


def page(file: str | None, conditions: Conditions, first: int, most: int) -> tuple[Page, dict[int, bytes]]:
    """Some parts, with their thumbnails."""
    from records.listing import page_of_parts
    from records.overview import thumbnails

    register = opened(file)
    with register.reading() as connection:
        found = page_of_parts(connection, conditions, first=first, most=most)
    return found, thumbnails(register, [line.id for line in found.lines])


def whole_part(file: str | None, part: int) -> tuple[Part, bytes, str]:
    """Everything on file about a part, its thumbnail, and where its picture lies ("" for none)."""
    from records.overview import thumbnails
    from records.reading import read_part

    register = opened(file)
    with register.reading() as connection:
        found = read_part(connection, part)
    picture = found.picture
    path = "" if picture is None else str(register.store.original(picture.sha256, picture.suffix))
    return found, thumbnails(register, [part]).get(part, b""), path


def correct_part(file: str | None, part: int, changes: dict[str, Any]) -> list[int]:
    """Set something right; returns what ``take_back`` needs."""
    from records.correction import correct

    with opened(file).writing() as writing:
        return correct(writing, "parts", part, changes)


def withdraw_part(file: str | None, part: int) -> list[int]:
    """Withdraw a part; returns what ``take_back`` needs."""
    from records.correction import withdraw

    with opened(file).writing() as writing:
        return withdraw(writing, "parts", part)


def take_back(file: str | None, corrections: Sequence[int]) -> list[int]:
    """Undo corrections; returns what undoes that."""
    from records.correction import take_back as again

    with opened(file).writing() as writing:
        return again(writing, corrections)


def note_part(file: str | None, part: int, text: str) -> int:
    """Add a note; returns its id."""
    from records.filing import add_note

    with opened(file).writing() as writing:
        return add_note(writing, text, part=part)


def replaced_part(file: str | None, part: int, *, die: str, setting: str, stock: str) -> int:
    """Write down a replacement that was made; returns its id."""
    from records.filing import add_replacement

    with opened(file).writing() as writing:
        return add_replacement(writing, part, die=die or None, setting=setting or None, stock=stock or None)


def withdraw_row(file: str | None, table: str, row: int) -> list[int]:
    """Withdraw a note or a replacement."""
    from records.correction import withdraw

    with opened(file).writing() as writing:
        return withdraw(writing, table, row)


def like_these(file: str | None, piece: Piece) -> list[Likeness]:
    """The parts on file nearest to the one on the bench, within the joint uncertainty first."""
    from records.nearest import nearest_parts

    assert piece.measurement is not None
    with opened(file).reading() as connection:
        return list(nearest_parts(connection, piece.measurement.thread, without_part=piece.filed))


def printed(file: str | None, job: int, kind: str, paper: str, *, inches: bool) -> bytes:
    """The report of a job: "pdf" or "html"."""
    from records.report.printed import print_job

    return print_job(opened(file), job, kind, paper=paper, inches=inches).content


def pages(file: str | None, job: int, paper: str, *, inches: bool, dots_per_inch: int) -> list[Bytes]:
    """The pages of the report of a job as pictures (height, width, 3) BGR."""
    import pypdfium2

    document = pypdfium2.PdfDocument(printed(file, job, "pdf", paper, inches=inches))
    try:
        return [
            np.ascontiguousarray(page.render(scale=dots_per_inch / 72, rev_byteorder=False).to_numpy()[..., :3])
            for page in document
        ]
    finally:
        document.close()


def exported(file: str | None, target: Path, job: int | None) -> int:
    """Write parts as CSV, JSON or a bundle; returns how many."""
    from records.exchange.outgoing import chosen_parts, write_parts

    register = opened(file)
    with register.reading() as connection:
        parts = chosen_parts(connection, job=job, instrument=None, parts=())
    return write_parts(register, parts, target).get("parts", len(parts))


def imported(file: str | None, source: Path) -> dict[str, int]:
    """Take a bundle, a document or a table in: all of it, or nothing. Returns what was filed, by kind."""
    kind = source.suffix.lower()
    if kind == ".csv":
        from records.exchange.table import file_table, read_table

        lines = read_table(source.read_bytes(), source.name)
        return dict(file_table(opened(file, create=True), lines, who=None).filed)
    from records.exchange.arrival import file_document, read_document

    if kind == ".json":
        document = read_document(source, source.name)
        return dict(file_document(opened(file, create=True), document, lambda _sha256, _target: False).filed)
    from records.exchange.bundle import open_bundle

    with open_bundle(source) as bundle:
        return dict(file_document(opened(file, create=True), bundle.document, bundle.extract).filed)


def backed_up(file: str | None, folder: Path) -> None:
    """Copy the register and its pictures into an empty ``folder``, while it is in use."""
    from records.backup import back_up

    back_up(opened(file), folder)


def verified(file: str | None) -> tuple[str, ...]:
    """What is wrong with the register, a sentence each; nothing where all is well."""
    from records.verification import verify

    return tuple(fault.message for fault in verify(opened(file)).faults)


def next_position(position: str) -> str:
    """The position after ``position``: its last number goes up by one.

    >>> next_position("post 3"), next_position("bell brace"), next_position("key 9b")
    ('post 4', '', 'key 10b')
    """
    found = _TRAILING_NUMBER.match(position.strip())
    if found is None:
        return ""
    head, number, tail = found.groups()
    return f"{head}{int(number) + 1:0{len(number)}d}{tail}"
