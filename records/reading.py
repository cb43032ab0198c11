"""Reading from the register: rows as the dataclasses of ``entries``. Every function takes sqlite3's connection.

``Register.reading`` gives one; inside ``Register.writing`` it is ``Writing.connection``.
"""

from __future__ import annotations

import json
import sqlite3
from collections.abc import Sequence
from typing import Any

from records.connection import rows
from records.entries import (
    Correction,
    FiledCheck,
    FiledDie,
    FiledHole,
    FiledIdentification,
    FiledMeasurement,
    FiledPicture,
    FiledTrial,
    Instrument,
    Job,
    Note,
    Part,
    Position,
    Replacement,
)
from records.lookup import known_part
from threads.shared.refusal import RefusalError


def instruments(connection: sqlite3.Connection) -> list[Instrument]:
    """All instruments, in the order of their names."""
    return [_instrument(row) for row in rows(connection, "SELECT * FROM instruments ORDER BY name")]


def read_instrument(connection: sqlite3.Connection, instrument: int) -> Instrument:
    """The instrument with this id. Raises IndexError where there is none."""
    return _instrument(rows(connection, "SELECT * FROM instruments WHERE id = ?", (instrument,))[0])


def jobs(connection: sqlite3.Connection) -> list[Job]:
    """All jobs, the latest first."""
    return [_job(row) for row in rows(connection, "SELECT * FROM jobs ORDER BY added DESC, id DESC")]


def dies(connection: sqlite3.Connection, *, withdrawn: bool = False) -> list[FiledDie]:
    """All dies and taps in the order of their names; those that were withdrawn only if asked for."""
    found = rows(connection, "SELECT * FROM dies ORDER BY name")
    return [_die(row) for row in found if withdrawn or not row["withdrawn"]]


def part_counts(connection: sqlite3.Connection, what: str) -> dict[int, int]:
    """How many parts that were not withdrawn belong to each of ``"instruments"`` or ``"jobs"``, by id."""
    column = {"instruments": "instrument_id", "jobs": "job_id"}[what]
    query = f"SELECT {column}, count(*) FROM parts WHERE withdrawn = 0 AND {column} IS NOT NULL GROUP BY {column}"
    return dict(connection.execute(query).fetchall())


def positions(connection: sqlite3.Connection, instrument: int) -> list[Position]:
    """The positions on an instrument, in their order."""
    found = rows(connection, "SELECT * FROM positions WHERE instrument_id = ? ORDER BY place, id", (instrument,))
    return [_position(row) for row in found]


def part_ids_of_job(connection: sqlite3.Connection, job: int) -> list[int]:
    """The parts of a job that were not withdrawn, in the order of their positions, those without one last."""
    found = connection.execute(
        "SELECT p.id FROM parts p LEFT JOIN positions o ON o.id = p.position_id "
        "LEFT JOIN instruments i ON i.id = p.instrument_id "
        "WHERE p.job_id = ? AND p.withdrawn = 0 ORDER BY i.name, o.place IS NULL, o.place, p.id",
        (job,),
    )
    return [part for (part,) in found]


def read_part(connection: sqlite3.Connection, part: int) -> Part:
    """A part with everything about it. Raises RefusalError (no_part_on_file) where there is none with this number."""
    known_part(connection, part)
    row = rows(connection, "SELECT * FROM parts WHERE id = ?", (part,))[0]
    measurements = _measurements(connection, part)
    replacements = [
        _replacement(one)
        for one in rows(connection, "SELECT * FROM replacements WHERE part_id = ? ORDER BY made, id", (part,))
    ]
    notes = [_note(one) for one in rows(connection, "SELECT * FROM notes WHERE part_id = ? ORDER BY id", (part,))]
    place = [
        _of(connection, "instruments", row["instrument_id"]),
        _of(connection, "positions", row["position_id"]),
        _of(connection, "jobs", row["job_id"]),
    ]
    uids: list[str] = [row["uid"], *(one["uid"] for one in place if one is not None)]
    hole = _hole(connection, part)
    for entries in (measurements, replacements, notes):
        uids += [entry.uid for entry in entries]
    uids += [] if hole is None else [hole.uid, *(one.uid for one in hole.trials)]
    pictures = rows(
        connection,
        "SELECT c.*, s.shows FROM part_pictures s JOIN pictures c ON c.id = s.picture_id WHERE s.part_id = ? "
        "ORDER BY s.id",
        (part,),
    )
    return Part(
        id=row["id"],
        uid=row["uid"],
        name=row["name"],
        instrument=None if place[0] is None else _instrument(place[0]),
        position=None if place[1] is None else _position(place[1]),
        job=None if place[2] is None else _job(place[2]),
        added=row["added"],
        who=row["who"],
        withdrawn=bool(row["withdrawn"]),
        pictures=tuple(_picture(one) for one in pictures),
        measurements=tuple(measurements),
        replacements=tuple(replacements),
        notes=tuple(notes),
        corrections=tuple(corrections_of(connection, uids)),
        hole=hole,
    )


def measurement_of(connection: sqlite3.Connection, part: int) -> FiledMeasurement:
    """The measurement of a part that counts.

    Raises RefusalError: no_part_on_file, not_measured.
    """
    found = read_part(connection, part).measurement
    if found is None:
        raise RefusalError("not_measured", part=part)
    return found


def notes_on(connection: sqlite3.Connection, *, instrument: int | None = None, job: int | None = None) -> list[Note]:
    """The notes on an instrument or a job."""
    found = rows(connection, "SELECT * FROM notes WHERE instrument_id = ? OR job_id = ? ORDER BY id", (instrument, job))
    return [_note(row) for row in found]


def calibration_text(connection: sqlite3.Connection, calibration: int) -> str:
    """The text of a calibration file on file. Raises KeyError."""
    found = connection.execute("SELECT document FROM calibrations WHERE id = ?", (calibration,)).fetchone()
    if found is None:
        raise KeyError(calibration)
    return str(found[0])


def corrections_of(connection: sqlite3.Connection, uids: Sequence[str]) -> list[Correction]:
    """What was set right in the rows with these uids, oldest first."""
    marks = ",".join("?" * len(uids))
    found = rows(connection, f"SELECT * FROM corrections WHERE row_uid IN ({marks}) ORDER BY added, id", uids)
    return [
        Correction(
            id=row["id"],
            uid=row["uid"],
            table=row["table_name"],
            row_uid=row["row_uid"],
            column=row["column_name"],
            before=json.loads(row["before"]),
            after=json.loads(row["after"]),
            added=row["added"],
            who=row["who"],
            why=row["why"],
        )
        for row in found
    ]


def _measurements(connection: sqlite3.Connection, part: int) -> list[FiledMeasurement]:
    identifications = [
        FiledIdentification(
            **_outcome(row),
            status=row["status"],
            says=row["says"],
            designation=row["designation"],
            probability=row["probability"],
        )
        for row in _outcomes(connection, "identifications", part)
    ]
    checks = [
        FiledCheck(**_outcome(row), against=row["against"], verdict=row["verdict"])
        for row in _outcomes(connection, "checks", part)
    ]
    return [
        FiledMeasurement(
            id=row["id"],
            uid=row["uid"],
            part=row["part_id"],
            picture=row["picture_id"],
            calibration=row["calibration_id"],
            calibration_name=row["calibration"],
            measured=row["measured"],
            who=row["who"],
            version=row["version"],
            withdrawn=bool(row["withdrawn"]),
            text=row["document"],
            identifications=tuple(one for one in identifications if one.measurement == row["id"]),
            checks=tuple(one for one in checks if one.measurement == row["id"]),
        )
        for row in rows(
            connection,
            "SELECT m.*, c.calibration, d.document FROM measurements m "
            "JOIN measurement_documents d ON d.measurement_id = m.id "
            "LEFT JOIN calibrations c ON c.id = m.calibration_id WHERE m.part_id = ? ORDER BY m.measured, m.id",
            (part,),
        )
    ]


def _outcomes(connection: sqlite3.Connection, table: str, part: int) -> list[sqlite3.Row]:
    """What was concluded from the measurements of a part, oldest first."""
    query = f"SELECT d.* FROM {table} d JOIN measurements m ON m.id = d.measurement_id WHERE m.part_id = ?"
    return rows(connection, f"{query} ORDER BY d.added, d.id", (part,))


def _outcome(row: sqlite3.Row) -> dict[str, Any]:
    words = {name: row[name] for name in ("id", "uid", "added", "who")}
    return {**words, "measurement": row["measurement_id"], "document": json.loads(row["document"])}


def _of(connection: sqlite3.Connection, table: str, key: int | None) -> sqlite3.Row | None:
    return None if key is None else rows(connection, f"SELECT * FROM {table} WHERE id = ?", (key,))[0]


def _instrument(row: sqlite3.Row) -> Instrument:
    made = None if row["made_from"] is None else (row["made_from"], row["made_to"])
    words = {name: row[name] for name in ("maker", "model", "serial", "country", "owner_note")}
    return Instrument(id=row["id"], uid=row["uid"], name=row["name"], made=made, **words)


def _job(row: sqlite3.Row) -> Job:
    return Job(*(row[name] for name in ("id", "uid", "name", "instrument_id", "about", "added", "owner")))


def _position(row: sqlite3.Row) -> Position:
    return Position(row["id"], row["uid"], row["instrument_id"], row["name"], row["place"])


def _picture(row: sqlite3.Row) -> FiledPicture:
    names = ("id", "uid", "sha256", "suffix", "file_name", "bytes", "width_px", "height_px", "added", "shows")
    return FiledPicture(*(row[name] for name in names))


def _die(row: sqlite3.Row) -> FiledDie:
    words = {name: row[name] for name in ("id", "uid", "name", "kind", "cuts", "remark")}
    return FiledDie(**words, withdrawn=bool(row["withdrawn"]))


def _replacement(row: sqlite3.Row) -> Replacement:
    words = {name: row[name] for name in ("made", "die", "setting", "stock", "remark", "who")}
    return Replacement(
        id=row["id"],
        uid=row["uid"],
        part=row["part_id"],
        made_part=row["made_part_id"],
        cut_by=row["cut_by_id"],
        withdrawn=bool(row["withdrawn"]),
        **words,
    )


def _hole(connection: sqlite3.Connection, part: int) -> FiledHole | None:
    for row in rows(connection, "SELECT * FROM holes WHERE part_id = ?", (part,)):
        trials = rows(connection, "SELECT * FROM trials WHERE hole_id = ? ORDER BY tried, id", (row["id"],))
        words = {name: row[name] for name in ("id", "uid", "thread", "engagement", "depth")}
        return FiledHole(**words, trials=tuple(map(_trial, trials)))
    return None


def _trial(row: sqlite3.Row) -> FiledTrial:
    names = (
        "id", "uid", "name", "tried", "outcome", "turns", "movement", "movement_u95", "overhang", "remark", "who",
    )  # fmt: skip
    words = {name: row[name] for name in names}
    return FiledTrial(**words, screw=row["screw_id"], withdrawn=bool(row["withdrawn"]), text=row["document"])


def _note(row: sqlite3.Row) -> Note:
    return Note(row["id"], row["uid"], row["text"], row["added"], row["who"], bool(row["withdrawn"]))
