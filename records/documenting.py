"""Documenting a part: where it belongs, its picture, what was measured and what it was taken for, in one action."""

from __future__ import annotations

import json
import sqlite3
import uuid
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from calib.calibration import Calibration
from calib.file import calibration_document
from flankwise.reasons import sentence
from records import drawing, filing
from records.connection import rows
from records.correction import correct
from records.lookup import check_new_name, instrument_called, job_called, known_part, part_at, position_called
from records.register import Register, Writing
from threads.identify.identification import Identification
from threads.identify.identity_words import short_words
from threads.measured.possible import impossible
from threads.shared.plain_json import plain
from threads.shared.refusal import RefusalError
from vision.pictures.picture import Picture
from vision.result.measurement import Measurement


@dataclass(frozen=True)
class Place:
    """Where a part belongs, in a person's words; names that are not on file yet are made.

    Attributes:
        instrument, position, job: names, or numbers of those on file. A position needs an instrument; a job that is on
            file knows its own.
        maker, model, serial, made, country, owner_note: of the instrument.
        part: the number of a part on file of which this is one more picture; nothing else is given then but ``name``.
        name: what the part is, such as "index arm screw".
        another: there may be one at this position already.
        create: make new names even where they look like a slip of the pen.
    """

    instrument: str | None = None
    position: str | None = None
    job: str | None = None
    maker: str | None = None
    model: str | None = None
    serial: str | None = None
    made: tuple[int, int] | None = None
    country: str | None = None
    owner_note: str | None = None
    part: int | None = None
    name: str | None = None
    another: bool = False
    create: bool = False


@dataclass(frozen=True)
class Documented:
    """What was filed. ``measurement`` is None for a picture that was not measured; ``made``: names that are new."""

    part: int
    picture: int
    measurement: int | None
    new_part: bool
    made: tuple[str, ...]


def document_measured(
    register: Register,
    measurement: Measurement,
    place: Place,
    *,
    identification: Mapping[str, Any] | None = None,
    check: Mapping[str, Any] | None = None,
    note: str | None = None,
    who: str | None = None,
    more_pictures: Sequence[Picture] = (),
    also: Callable[[Writing, int], object] | None = None,
) -> Documented:
    """File a measured part with the picture and the calibration behind it; nothing is measured again.

    ``identification`` is that of ``identification_document``, ``check`` the object of ``check --json``;
    ``more_pictures`` are kept with the part: the others of a measurement that joins several; ``also`` is called with
    the part's id and files more in the same action.

    Raises RefusalError: name_alike, position_taken, no_part_on_file, place_contradicts and what
    ``faults.faults_told`` raises. Nothing is filed then.
    """
    with register.writing(who) as writing:
        done, uid = file_measured(writing, measurement, place, identification=identification)
        if check is not None and done.measurement is not None:
            filing.add_check(writing, done.measurement, check)
        for one in more_pictures:
            filing.show_part(writing, done.part, filing.add_read_picture(writing, one))
        if note:
            filing.add_note(writing, note, part=done.part)
        if also is not None:
            also(writing, done.part)
    # for reports; it is no part of what is filed, and is made again where it is missing
    drawing.keep(register.store.folder, uid, drawing.to_bytes(drawing.drawing_of(measurement)))
    return done


def file_measured(
    writing: Writing, measurement: Measurement, place: Place, *, identification: Mapping[str, Any] | None = None
) -> tuple[Documented, str]:
    """``document_measured`` within an action that files more; the uid of the measurement too, for its drawing.

    Raises RefusalError as that.
    """
    reason = impossible(measurement.thread)
    if reason is not None:
        raise RefusalError(reason)
    part, new_part, made = part_at_place(writing, place)
    picture = filing.add_read_picture(writing, measurement.picture)
    calibration = None
    if isinstance(measurement.plane, Calibration):
        document = calibration_document(measurement.plane, sentence)
        calibration = filing.add_calibration(writing, json.dumps(document, ensure_ascii=False, allow_nan=False))
    uid = str(uuid.uuid4())
    measured = filing.add_measurement(
        writing, part, plain(measurement.to_dict(), sentence), picture=picture, calibration=calibration, uid=uid
    )
    if identification is not None:
        filing.add_identification(writing, measured, identification)
    return Documented(part, picture, measured, new_part, made), uid


def identification_document(
    found: Identification, origin: str | None = None, made: tuple[int, int] | None = None
) -> dict[str, Any]:
    """What is kept of an identification: its JSON form, in a few words, and the evidence it was given."""
    given = {"origin": origin, "made": made}
    words = short_words(found)
    return {
        **plain(found.to_dict({}), sentence),
        "says": sentence(words),
        "words": plain(words.to_dict(), sentence),
        "given": given,
    }


def document_picture(
    register: Register,
    picture: Picture,
    place: Place,
    *,
    shows: str | None = None,
    note: str | None = None,
    who: str | None = None,
) -> Documented:
    """File a picture of a part without measuring: its head, or one in which no thread can be measured.

    Raises RefusalError as ``document_measured``.
    """
    with register.writing(who) as writing:
        part, new_part, made = part_at_place(writing, place)
        filed = filing.add_read_picture(writing, picture)
        filing.show_part(writing, part, filed, shows=shows)
        if note:
            filing.add_note(writing, note, part=part)
    return Documented(part, filed, None, new_part, made)


def instrument_of(connection: sqlite3.Connection, place: Place) -> int | None:
    """The id of the instrument on file that ``place`` means: by name, by its part or its job."""
    if place.part is not None:
        found = connection.execute("SELECT instrument_id FROM parts WHERE id = ?", (place.part,)).fetchone()
        return None if found is None else found[0]
    if place.instrument is not None:
        return instrument_called(connection, place.instrument)
    job = None if place.job is None else job_called(connection, place.job)
    if job is None:
        return None
    (instrument,) = connection.execute("SELECT instrument_id FROM jobs WHERE id = ?", (job,)).fetchone()
    return instrument if instrument is None else int(instrument)


def part_at_place(writing: Writing, place: Place) -> tuple[int, bool, tuple[str, ...]]:
    """The part meant, whether it is new, and the names that were made for it."""
    if place.part is not None:
        return _known_part(writing, place), False, ()
    made: list[str] = []
    job = None if place.job is None else job_called(writing.connection, place.job)
    instrument = _instrument(writing, place, made)
    if place.job is not None and job is None:
        if not place.create:
            check_new_name(writing.connection, "jobs", place.job)
        job = filing.add_job(writing, place.job.strip(), instrument=instrument)
        made.append(f"job {place.job.strip()}")
    position = None if place.position is None else _position(writing, place, instrument, made)
    part = filing.add_part(writing, name=place.name, instrument=instrument, position=position, job=job)
    return part, True, tuple(made)


def _known_part(writing: Writing, place: Place) -> int:
    assert place.part is not None
    known_part(writing.connection, place.part)
    if place.name is not None:
        correct(writing, "parts", place.part, {"name": place.name})
    return place.part


def _instrument(writing: Writing, place: Place, made: list[str]) -> int | None:
    facts: dict[str, Any] = {
        "maker": place.maker,
        "model": place.model,
        "serial": place.serial,
        "country": place.country,
        "owner_note": place.owner_note,
    }
    instrument = instrument_of(writing.connection, place)
    if instrument is None and place.instrument is not None:
        if not place.create:
            check_new_name(writing.connection, "instruments", place.instrument)
        made.append(f"instrument {place.instrument.strip()}")
        instrument = filing.add_instrument(writing, place.instrument.strip(), made=place.made, **facts)
    elif instrument is not None:
        if place.made is not None:
            facts |= {"made_from": place.made[0], "made_to": place.made[1]}
        _complete(writing, instrument, {key: value for key, value in facts.items() if value is not None})
    return instrument


def _complete(writing: Writing, instrument: int, facts: dict[str, Any]) -> None:
    """Write down what was not known of an instrument. Raises RefusalError where the file says otherwise."""
    row = rows(writing.connection, "SELECT * FROM instruments WHERE id = ?", (instrument,))[0]
    for key, value in facts.items():
        if row[key] not in (None, value):
            raise RefusalError(
                "place_contradicts", name=row["name"], what=key.replace("_", " "), kept=row[key], given=value
            )
    correct(writing, "instruments", instrument, facts, why="added")


def _position(writing: Writing, place: Place, instrument: int | None, made: list[str]) -> int:
    assert place.position is not None
    if instrument is None:
        raise RefusalError("no_instrument")
    position = position_called(writing.connection, instrument, place.position)
    if position is None:
        if not place.create:
            check_new_name(writing.connection, "positions", place.position, instrument=instrument)
        made.append(f"position {place.position.strip()}")
        return filing.add_position(writing, instrument, place.position.strip())
    there = part_at(writing.connection, position)
    if there is not None and not place.another:
        raise RefusalError("position_taken", part=there, position=place.position.strip())
    return position
