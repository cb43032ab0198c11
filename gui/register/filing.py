"""Filing what the strip says, as plain calls for a worker; and what a person has to be asked before."""

from __future__ import annotations

import sqlite3
from dataclasses import dataclass, replace
from pathlib import Path
from typing import TYPE_CHECKING

from gui.register.deeds import Back, opened
from threads.shared.refusal import RefusalError

if TYPE_CHECKING:
    from flankwise.bench import Bench
    from gui.piece import Piece
    from records.tray import TrayPart

ASKED = ("name_alike", "position_taken")
"""Refusals that are a plain choice for the person."""


@dataclass(frozen=True)
class Entry:
    """What the strip says about a part that is to be filed.

    ``part``: it is one more picture of this part on file. ``another``: there may be one at the position already.
    ``create``: names are made even if they look like a slip of the pen.
    """

    instrument: str
    job: str
    position: str
    name: str
    part: int | None = None
    another: bool = False
    create: bool = False


@dataclass(frozen=True)
class Filed:
    """What was filed: the part, the measurement, and what taking it back means."""

    part: int
    new_part: bool
    measurement: int | None
    name: str

    @property
    def back(self) -> Back | None:
        """How it is taken back; None for a picture that was added to a part: it stays with it."""
        if self.new_part:
            return Back("parts", self.part)
        return None if self.measurement is None else Back("measurements", self.measurement)


@dataclass(frozen=True)
class Doubt:
    """Why nothing was filed yet.

    Attributes:
        part: the one that is on file for this position, or with this picture; None where a name is in doubt.
        field: "instrument", "job" or "position" whose name is in doubt; ``twin``: the name on file that is like it.
        again: it is the picture that is on file, not the position.
    """

    part: int | None = None
    field: str = ""
    twin: str = ""
    again: bool = False


def file_piece(file: str | None, piece: Piece, entry: Entry) -> Filed | Doubt:
    """File ``piece`` with its measurement and identification; its picture alone where it was refused.

    Raises RefusalError; nothing is filed then.
    """
    from records.documenting import Place, document_measured, document_picture, identification_document
    from records.statements import statement_note

    if not piece.decoded or piece.picture is None:
        raise RefusalError("no_picture")
    if piece.filed is not None and entry.part is None and not entry.another:
        return Doubt(piece.filed, again=True)
    register = opened(file, create=True)
    choices = piece.choices
    name = entry.name or piece.name
    if entry.part is not None:
        place = Place(part=entry.part, name=entry.name or None)
    else:
        place = Place(
            instrument=entry.instrument or None,
            position=entry.position or None,
            job=entry.job or None,
            name=name,
            made=choices.made if entry.instrument else None,
            country=choices.origin if entry.instrument else None,
            another=entry.another,
            create=entry.create,
        )
    try:
        if piece.measurement is not None:
            found = piece.identification
            document = None if found is None else identification_document(found, choices.origin, choices.made)
            said = choices.statement
            note = None if said is None else statement_note(said, choices.source)
            done = document_measured(register, piece.measurement, place, identification=document, note=note)
        else:
            done = document_picture(register, piece.picture, place)
    except RefusalError as refusal:
        if refusal.reasons[0].code not in ASKED:
            raise
        with register.reading() as connection:
            doubt = _doubt(connection, entry)
        if doubt is None:
            raise
        return doubt
    return Filed(done.part, done.new_part, done.measurement, name)


def file_all_parts(file: str | None, piece: Piece, bench: Bench, entry: Entry) -> tuple[TrayPart, ...]:
    """File every part in the picture of ``piece``, its positions counted on from that of ``entry``.

    Raises RefusalError; nothing is filed then.
    """
    from flankwise.measuring import measure_all
    from records.documenting import Place
    from records.tray import file_tray

    choices = piece.choices
    place = Place(
        instrument=entry.instrument or None,
        job=entry.job or None,
        name=entry.name or piece.name,
        made=choices.made if entry.instrument else None,
        country=choices.origin if entry.instrument else None,
        create=entry.create,
    )
    found = measure_all(Path(piece.path), bench)
    return file_tray(opened(file, create=True), found, place, (entry.position,) if entry.position else ())


def _doubt(connection: sqlite3.Connection, entry: Entry) -> Doubt | None:
    """What stands in the way: the first name that is nearly one on file, or the part at the position."""
    from records import reading
    from records.lookup import instrument_called, job_called, part_at, position_called

    instruments, jobs = reading.instruments(connection), reading.jobs(connection)
    instrument = None
    if entry.instrument:
        instrument = instrument_called(connection, entry.instrument)
        if instrument is None:
            return _alike("instrument", entry.instrument, [one.name for one in instruments])
    if entry.job:
        job = job_called(connection, entry.job)
        if job is None and (doubt := _alike("job", entry.job, [one.name for one in jobs])):
            return doubt
        if instrument is None:
            instrument = next((one.instrument for one in jobs if one.id == job), None)
    if instrument is None or not entry.position:
        return None
    position = position_called(connection, instrument, entry.position)
    if position is None:
        names = [one.name for one in reading.positions(connection, instrument)]
        return _alike("position", entry.position, names)
    there = part_at(connection, position)
    return None if there is None else Doubt(there)


def _alike(field: str, typed: str, names: list[str]) -> Doubt | None:
    from records.lookup import near_names

    near = near_names(field, typed, names)
    return Doubt(field=field, twin=near[0]) if near else None


def with_twin(entry: Entry, doubt: Doubt) -> Entry:
    """The entry with the name on file in place of the one that is like it."""
    names = {"instrument": entry.instrument, "job": entry.job, "position": entry.position, doubt.field: doubt.twin}
    return replace(entry, instrument=names["instrument"], job=names["job"], position=names["position"])


def known_positions(file: str | None, instrument: str, job: str) -> dict[str, bool]:
    """The positions of the instrument (or that of the job) in their order, and whether a part is on file there."""
    from records.lookup import instrument_called, job_called
    from records.overview import position_counts
    from records.reading import jobs
    from records.register_path import register_path

    if not register_path(file).exists():
        return {}
    register = opened(file)
    with register.reading() as connection:
        number = instrument_called(connection, instrument) if instrument else None
        if number is None and job and not instrument:
            called = job_called(connection, job)
            number = next((one.instrument for one in jobs(connection) if one.id == called), None)
    if number is None:
        return {}
    return {position.name: count > 0 for position, count in position_counts(register, number)}
