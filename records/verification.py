"""Is everything on file there, whole, and as it was filed?"""

from __future__ import annotations

import hashlib
import json
import sqlite3
from collections.abc import Callable, Iterator
from dataclasses import dataclass

from records import derived, seals
from records.connection import rows, value
from records.picture_store import PictureStore, file_sha256
from records.register import Register
from threads.measured.measured_document import MeasurementDocumentError, possible_thread
from threads.shared.refusal import Reason, RefusalError

_COUNTED = ("instruments", "jobs", "parts", "pictures", "calibrations", "measurements", "identifications")

_PART_OF = {
    "parts": "SELECT id FROM parts WHERE id = ?",
    "measurements": "SELECT part_id FROM measurements WHERE id = ?",
    "measurement_documents": "SELECT part_id FROM measurements WHERE id = ?",
    "identifications": (
        "SELECT m.part_id FROM identifications d JOIN measurements m ON m.id = d.measurement_id WHERE d.id = ?"
    ),
    "checks": "SELECT m.part_id FROM checks d JOIN measurements m ON m.id = d.measurement_id WHERE d.id = ?",
}
"""Which part a row is of, for the message."""


@dataclass(frozen=True)
class Verification:
    """The outcome.

    Attributes:
        counts: rows looked at, by table.
        faults: what is missing, altered or damaged; none in a sound register.
        remarks: what does no harm, such as a picture file that no part mentions.
        altered: table and id of every row that is not what was filed.
    """

    counts: dict[str, int]
    faults: tuple[Reason, ...]
    remarks: tuple[Reason, ...]
    altered: tuple[tuple[str, int], ...] = ()


def verify(register: Register) -> Verification:
    """Look through the whole register: database, references, the hash of every row and of every picture.

    What cannot be read is named, and the rest is looked at all the same. Raises RefusalError where nothing can be read.
    """
    remarks: list[Reason] = []
    altered: list[tuple[str, int]] = []
    counts: dict[str, int] = {}

    def look() -> Iterator[Reason]:
        yield from _structure(connection)
        for table in _COUNTED:
            yield from _guarded(table, lambda table=table: _count(connection, table, counts))  # type: ignore[misc]
        for table in seals.watched(connection):
            yield from _guarded(table, lambda table=table: _rows(connection, table, altered))  # type: ignore[misc]
        yield from _guarded("measurements", lambda: _documents(connection))
        yield from _guarded("part_words", lambda: _derived(connection))
        yield from _guarded("pictures", lambda: _pictures(connection, register.store, remarks))

    with register.reading() as connection:
        connection.text_factory = lambda content: content.decode("utf-8", "surrogateescape")
        faults = tuple(dict.fromkeys(look()))
    return Verification(counts, faults, tuple(remarks), tuple(altered))


def _guarded(table: str, look: Callable[[], Iterator[Reason]]) -> Iterator[Reason]:
    """What ``look`` finds, and where it cannot go on, that: the next table is looked at all the same."""
    try:
        yield from look()
    except (sqlite3.DatabaseError, TypeError, ValueError, AttributeError) as error:
        yield Reason("rows_unreadable", table=table, why=str(error))


def _count(connection: sqlite3.Connection, table: str, counts: dict[str, int]) -> Iterator[Reason]:
    ((counts[table],),) = connection.execute(f"SELECT count(*) FROM {table}")
    yield from ()


def _structure(connection: sqlite3.Connection) -> Iterator[Reason]:
    try:
        for (text,) in connection.execute("PRAGMA integrity_check(20)"):
            if text != "ok":
                yield Reason("register_damaged.database", why=text)
        for table, row, other, _ in connection.execute("PRAGMA foreign_key_check"):
            yield Reason("reference_broken", row=row, table=table, other=other)
    except sqlite3.DatabaseError as error:
        yield Reason("register_damaged.database", why=str(error))


def _rows(connection: sqlite3.Connection, table: str, altered: list[tuple[str, int]]) -> Iterator[Reason]:
    """Every row against its hash."""
    kept = dict(connection.execute("SELECT row, sha256 FROM seals WHERE table_name = ?", (table,)).fetchall())
    now: dict[int, bytes] = {}
    try:
        now.update(seals.hashes(connection, table, list(kept)))
    except sqlite3.DatabaseError:  # row by row, to name those that cannot be read
        for row, sha256 in kept.items():
            try:
                now.update(seals.hashes(connection, table, [row]))
            except sqlite3.DatabaseError as error:
                altered.append((table, row))
                yield Reason("row_altered.unreadable", table=table, row=row, why=str(error))
                now[row] = sha256
    for row, sha256 in kept.items():
        if now.get(row) == sha256:
            continue
        altered.append((table, row))
        part = value(connection, _PART_OF[table], (row,)) if table in _PART_OF else None
        if row not in now:
            yield Reason("row_altered.gone", table=table, row=row)
        elif part is None:
            yield Reason("row_altered", table=table, row=row)
        else:
            yield Reason("row_altered.part", table=table, row=row, part=str(part))
    for (row,) in connection.execute(f"SELECT rowid FROM {table}"):
        if row not in kept:
            yield Reason("row_foreign", table=table, row=row)


def _documents(connection: sqlite3.Connection) -> Iterator[Reason]:
    """What was on file before rows had hashes: here alone a document can say what its hash does not."""
    before = "SELECT row FROM seals WHERE filed = 0 AND table_name"
    query = (
        "SELECT m.id, m.part_id, m.pitch, m.pitch_diameter, m.major_diameter, d.document FROM measurements m "
        f"LEFT JOIN measurement_documents d ON d.measurement_id = m.id WHERE m.id IN ({before} = 'measurements')"
    )
    for measurement, part, pitch, pitch_diameter, major, text in connection.execute(query):
        try:
            thread = possible_thread(json.loads(text or ""))
        except (ValueError, TypeError, MeasurementDocumentError, RecursionError) as error:
            yield Reason("measurement_damaged", measurement=measurement, part=part, why=str(error))
            continue
        numbers = (thread.pitch.value, thread.pitch_diameter.value, thread.major_diameter.value)
        if numbers != (pitch, pitch_diameter, major):
            yield Reason("measurement_altered", measurement=measurement, part=part)
    for row in rows(connection, "SELECT id, calibration, sha256, document FROM calibrations"):
        text = str(row["document"]).encode("utf-8", "surrogateescape")
        if hashlib.sha256(text).hexdigest() != row["sha256"]:
            yield Reason("calibration_altered.kept", calibration=str(row["calibration"]))
    for table in ("identifications", "checks", "trials"):
        query = f"SELECT id, document FROM {table} WHERE document IS NOT NULL AND id IN ({before} = ?)"
        for key, text in connection.execute(query, (table,)):
            try:
                json.loads(text)
            except (ValueError, TypeError, RecursionError):
                yield Reason("document_damaged", key=key, table=table)


def _derived(connection: sqlite3.Connection) -> Iterator[Reason]:
    for part in derived.stale(connection):
        yield Reason("index_stale", part=part)


def _pictures(connection: sqlite3.Connection, store: PictureStore, remarks: list[Reason]) -> Iterator[Reason]:
    known = set()
    for row in rows(connection, "SELECT sha256, suffix, file_name, bytes FROM pictures"):
        path, name = store.original(str(row["sha256"]), str(row["suffix"])), str(row["file_name"])
        known.add(path)
        try:
            length = path.stat().st_size
            if length != row["bytes"] or file_sha256(path) != row["sha256"]:
                yield Reason("picture_altered", name=name, path=path)
        except FileNotFoundError:
            yield Reason("picture_missing", name=name, path=path)
        except OSError as error:
            yield Reason("picture_unreadable", name=name, path=path, why=str(error.strerror))
        if not store.thumbnail(str(row["sha256"])).exists():
            remarks.append(Reason("thumbnail_missing", name=name))
    remarks += [
        Reason("picture_unknown", path=path)
        for path in sorted((store.folder / "originals").glob("*/*"))
        if path not in known
    ]
    remarks += [Reason("left_over", path=path) for path in sorted(store.incoming.glob("*"))]


def refuse_faults(found: Verification) -> None:
    """Raise RefusalError with every fault; nothing where there is none."""
    if found.faults:
        first, *more = found.faults
        raise RefusalError(first, *more)
