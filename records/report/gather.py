"""Everything that a report of one job needs, read from the register at one moment, and its pictures made."""

from __future__ import annotations

import sqlite3
from collections.abc import Iterator
from dataclasses import dataclass
from datetime import UTC, datetime
from pathlib import Path

from records import drawing, reading
from records.batch.processes import by_processes, cores
from records.connection import rows
from records.entries import Part
from records.filing import program_version
from records.register import Register
from records.report.illustrate import Illustration, Wanted, illustrate, nothing_drawn
from records.report.sheet import Sheet, instrument_words, is_measurement, sheet_of
from threads.shared.refusal import RefusalError

PHOTO_SHAPE = 1.36
"""Width over height of the photograph's place."""

MAKER = "Flankwise report"
"""Stands in every report, so that one is known from another file."""

FEW = 3
"""So many sheets are illustrated in this process: to start others would take longer."""


@dataclass(frozen=True)
class Report:
    """A job as it is printed.

    ``about``: lines under its name. ``sheets`` in the order of the positions, with an illustration each (None: part not
    measured) and a thumbnail, JPEG.
    """

    job: str
    about: tuple[str, ...]
    instruments: tuple[str, ...]
    sheets: tuple[Sheet, ...]
    illustrations: tuple[Illustration | None, ...]
    thumbnails: tuple[bytes | None, ...]
    printed: str
    version: str
    inches: bool


def gather(
    register: Register, job: int, *, inches: bool, figure_size: tuple[float, float], jobs: int | None = None
) -> Report:
    """Read the job with this id and make its pictures, in ``jobs`` processes (one a core if None).

    Drawings that had to be made again are kept for the next time. Raises RefusalError: empty_job, and what reading
    raises.
    """
    with register.reading() as connection:
        (row,) = rows(connection, "SELECT * FROM jobs WHERE id = ?", (job,))
        notes = [note.text for note in reading.notes_on(connection, job=job) if not note.withdrawn]
        parts = [reading.read_part(connection, part) for part in reading.part_ids_of_job(connection, job)]
        if not parts:
            raise RefusalError("empty_job", name=row["name"])
        calibrations = {part.id: _calibration(connection, part) for part in parts}
    sheets = tuple(sheet_of(part, calibrations[part.id], inches=inches) for part in parts)
    store = register.store
    wanted: dict[int, Wanted] = {}
    thumbnails = []
    for part, sheet in zip(parts, sheets, strict=True):
        picture, measurement = part.picture, part.measurement
        original = None if picture is None else store.original(picture.sha256, picture.suffix)
        thumbnails.append(None if picture is None else _content(store.thumbnail(picture.sha256)))
        if measurement is not None and is_measurement(measurement.document):
            wanted[part.id] = Wanted(
                uid=measurement.uid,
                picture=None if original is None or measurement.picture is None else str(original),
                document=measurement.text,
                calibration=calibrations[part.id],
                drawing=drawing.kept(store.folder, measurement.uid),
                limits=sheet.limits,
                inches=inches,
                shape=PHOTO_SHAPE,
                size=figure_size,
            )
    made = dict(zip(wanted, _illustrated(list(wanted.values()), jobs or cores()), strict=True))
    for one in made.values():
        if one.made is not None:
            drawing.keep(store.folder, one.uid, one.made)
    return Report(
        job=row["name"],
        about=tuple(line for line in (row["about"], *notes) if line),
        instruments=tuple(dict.fromkeys(words for part in parts if (words := instrument_words(part)))),
        sheets=sheets,
        illustrations=tuple(made.get(part.id) for part in parts),
        thumbnails=tuple(thumbnails),
        printed=datetime.now(UTC).astimezone().strftime("%Y-%m-%d"),
        version=program_version(),
        inches=inches,
    )


def _illustrated(wanted: list[Wanted], jobs: int) -> Iterator[Illustration]:
    if len(wanted) <= FEW or jobs < 2:
        return map(illustrate, wanted)
    return by_processes(illustrate, wanted, min(jobs, len(wanted)), nothing_drawn)


def _calibration(connection: sqlite3.Connection, part: Part) -> str | None:
    measurement = part.measurement
    if measurement is None or measurement.calibration is None:
        return None
    return reading.calibration_text(connection, measurement.calibration)


def _content(path: Path) -> bytes | None:
    try:
        return path.read_bytes()
    except OSError:
        return None


def is_report(path: Path) -> bool:
    """Whether the file at ``path`` is a report of this program, as PDF or HTML."""
    return MAKER.encode() in (_content(path) or b"")
