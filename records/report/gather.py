"""Everything that a report of one job needs, read from the register at one moment, and its pictures made."""

from __future__ import annotations

import sqlite3
import zlib
from collections.abc import Callable, Iterator
from dataclasses import dataclass, replace
from datetime import UTC, datetime
from pathlib import Path

from flankwise.holes import HoleAnswer
from records import drawing, reading
from records.batch.processes import by_processes, cores
from records.connection import rows
from records.entries import Part
from records.figures.hole_view import hole_view
from records.filed_part import part_words
from records.filing import program_version
from records.holes import judge_filed_hole
from records.letterhead import letterhead
from records.register import Register
from records.report.illustrate import Illustration, Wanted, illustrate, illustrated_before, nothing_drawn
from records.report.sheet import Sheet, instrument_words, is_measurement, sheet_of
from records.report.spoken import Spoken
from records.report.summary import summary_of
from threads.identify.instrument import LEAST_SCREWS
from threads.shared.refusal import Reason, RefusalError

MAKER = "Flankwise report"
"""Stands in every report, so that one is known from another file."""

FEW = 3
"""So many sheets are illustrated in this process: to start others would take longer."""


@dataclass(frozen=True)
class Report:
    """A job as it is printed.

    ``head``: the letterhead. ``about``: lines under its name. ``owners``: what is on file about them. ``summary``: in
    plain words. ``sheets`` in the order of the positions, with an illustration each (None: part not measured) and a
    thumbnail, JPEG. ``single``: the sheet of one part, without the list of a job.
    """

    job: str
    about: tuple[str, ...]
    instruments: tuple[str, ...]
    sheets: tuple[Sheet, ...]
    illustrations: tuple[Illustration | None, ...]
    thumbnails: tuple[bytes | None, ...]
    printed: str
    version: str
    spoken: Spoken
    head: tuple[str, ...] = ()
    owners: tuple[str, ...] = ()
    summary: tuple[str, ...] = ()
    single: bool = False


def gather(
    register: Register,
    job: int,
    spoken: Spoken,
    *,
    figure_size: tuple[float, float],
    jobs: int | None = None,
    part: int | None = None,
    reached: Callable[[float], None] = lambda _: None,
) -> Report:
    """Read the job with this id and make its pictures, in ``jobs`` processes (one a core if None).

    ``part``: this part alone, whatever job it is of. ``reached``: told what share of the pictures is made.

    Drawings that had to be made again are kept for the next time. Raises RefusalError: empty_job, and what reading
    raises.
    """
    verdicts = () if part is not None else tuple(_verdicts(register, job))  # first: it takes memory, and lets it go
    store = register.store
    with register.reading() as connection:
        if part is None:
            (row,) = rows(connection, "SELECT * FROM jobs WHERE id = ?", (job,))
            name, about, owner = str(row["name"]), row["about"], row["owner"]
            notes = [note.text for note in reading.notes_on(connection, job=job) if not note.withdrawn]
            order = reading.part_ids_of_job(connection, job)
        else:
            about, notes, owner, order = None, [], None, [part]
            name = spoken.named(part_words(reading.read_part(connection, part)))
        if not order:
            raise RefusalError("empty_job", name=name)
        parts: list[Part] = []
        sheets: list[Sheet] = []
        wanted: dict[int, Wanted] = {}
        small: list[Path | None] = []
        holes: dict[int, HoleAnswer | None] = {}
        texts: dict[str | None, str | None] = {}  # of calibrations: one for many parts
        for number in order:
            one = reading.read_part(connection, number)
            calibration = _calibration(connection, one)
            calibration = texts.setdefault(calibration, calibration)
            if one.hole is not None:
                holes[number] = judge_filed_hole(connection, number)
            sheet = sheet_of(one, calibration, spoken, holes.get(number))
            picture, measurement = one.picture, one.measurement
            original = None if picture is None else store.original(picture.sha256, picture.suffix)
            small.append(None if picture is None else store.thumbnail(picture.sha256))
            if measurement is not None and is_measurement(measurement.document):
                wanted[number] = Wanted(
                    uid=measurement.uid,
                    picture=None if original is None or measurement.picture is None else str(original),
                    document=zlib.compress(measurement.text.encode(), 1),
                    calibration=calibration,
                    folder=store.folder,
                    limits=sheet.limits,
                    inches=spoken.inches,
                )
            sheets.append(sheet)
            parts.append(_lean(one))
    said = dict.fromkeys(one.instrument.owner_note for one in parts if one.instrument is not None and part is None)
    summary = [] if part is not None else summary_of(parts, verdicts)
    instruments = tuple(dict.fromkeys(words for one in parts if (words := instrument_words(one, spoken))))
    del parts
    made: dict[int, Illustration] = {}
    count = len(wanted)
    for part_id, drawn in _illustrated(wanted, jobs or cores()):
        made[part_id] = drawn
        reached(len(made) / count)
    for picture_of in made.values():
        if picture_of.made is not None:
            drawing.keep(store.folder, picture_of.uid, picture_of.made)
    for number, hole in holes.items():
        if hole is not None and number not in made:
            figure = hole_view(hole.found, figure_size, inches=spoken.inches, language=spoken.language)
            made[number] = Illustration(f"hole {number}", None, figure, None, ())
    return Report(
        job=name,
        about=tuple(line for line in (about, *said, *notes) if line),
        instruments=instruments,
        sheets=tuple(sheets),
        illustrations=tuple(map(made.get, order)),
        thumbnails=tuple(
            None if path is None or _is_photographed(made.get(one)) else _content(path)
            for one, path in zip(order, small, strict=True)
        ),
        printed=datetime.now(UTC).astimezone().strftime("%Y-%m-%d"),
        version=program_version(),
        spoken=spoken,
        head=letterhead(register),
        owners=(owner,) if owner else (),
        summary=tuple(map(spoken.say, summary)),
        single=part is not None,
    )


def _lean(part: Part) -> Part:
    """The part as a summary needs it: the documents of hundreds take more memory than all that is drawn."""
    measurement = part.measurement
    if measurement is None:
        return part
    found, checks = measurement.identification, measurement.checks
    if found is not None:
        found = replace(found, document={"candidates": found.document.get("candidates", [])[:1]})
    last = tuple(replace(one, document={}) for one in checks[-1:])
    lean = replace(measurement, text="", identifications=() if found is None else (found,), checks=last)
    return replace(part, measurements=(lean,))


def _is_photographed(illustration: Illustration | None) -> bool:
    return illustration is not None and illustration.photograph is not None


def _verdicts(register: Register, job: int) -> Iterator[Reason]:
    """Which thread system the maker of each instrument used, where its screws can be judged together."""
    from records.instrument_page import instrument_page

    with register.reading() as connection:
        found = rows(connection, "SELECT id, instrument_id FROM parts WHERE job_id = ?", (job,))
        of = {one["id"]: one["instrument_id"] for one in found}
        order = [of[one] for one in reading.part_ids_of_job(connection, job)]
    for instrument in dict.fromkeys(one for one in order if one is not None):
        page = instrument_page(register, instrument)
        if page.answer is not None and len(page.answer.sheet.screws) >= LEAST_SCREWS:
            yield page.verdict


def _illustrated(wanted: dict[int, Wanted], jobs: int) -> Iterator[tuple[int, Illustration]]:
    """The pictures of each part: those that were kept at once, the others in processes. Empties ``wanted``."""
    left = {}
    for part in list(wanted):
        one = wanted.pop(part)  # with its document
        before = illustrated_before(one)
        if before is None:
            left[part] = one
        else:
            yield part, before
    tasks = list(left.values())
    few = len(tasks) <= FEW or jobs < 2
    made = map(illustrate, tasks) if few else by_processes(illustrate, tasks, min(jobs, len(tasks)), nothing_drawn)
    yield from zip(left, made, strict=True)


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
