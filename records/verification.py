"""Is everything on file there, whole, and as it was filed?"""

from __future__ import annotations

import hashlib
import json
import sqlite3
from collections.abc import Iterator
from dataclasses import dataclass

from records import derived
from records.connection import rows
from records.picture_store import PictureStore, file_sha256
from records.register import Register
from threads.measured.measured_document import MeasurementDocumentError, thread_from_dict
from threads.shared.refusal import Reason, RefusalError

_COUNTED = ("instruments", "jobs", "parts", "pictures", "calibrations", "measurements", "identifications")


@dataclass(frozen=True)
class Verification:
    """The outcome.

    Attributes:
        counts: rows looked at, by table.
        faults: what is missing, altered or damaged; none in a sound register.
        remarks: what does no harm, such as a picture file that no part mentions.
    """

    counts: dict[str, int]
    faults: tuple[Reason, ...]
    remarks: tuple[Reason, ...]


def verify(register: Register) -> Verification:
    """Look through the whole register: database, references, documents, and the hash of every picture.

    Raises RefusalError where it cannot be read at all.
    """
    with register.reading() as connection:
        structure = list(_structure(connection))
        if structure:
            return Verification({}, tuple(structure), ())
        counts = {table: int(connection.execute(f"SELECT count(*) FROM {table}").fetchone()[0]) for table in _COUNTED}
        faults = [*_documents(connection), *_derived(connection)]
        missing, strays = _pictures(connection, register.store)
    return Verification(counts, (*faults, *missing), tuple(strays))


def _structure(connection: sqlite3.Connection) -> Iterator[Reason]:
    try:
        for (text,) in connection.execute("PRAGMA integrity_check(20)"):
            if text != "ok":
                yield Reason("register_damaged.database", why=text)
        for table, row, other, _ in connection.execute("PRAGMA foreign_key_check"):
            yield Reason("reference_broken", row=row, table=table, other=other)
    except sqlite3.DatabaseError as error:
        if error.sqlite_errorcode & 0xFF != sqlite3.SQLITE_CORRUPT:
            raise
        yield Reason("register_damaged.database", why=str(error))


def _documents(connection: sqlite3.Connection) -> Iterator[Reason]:
    query = (
        "SELECT m.id, m.part_id, m.pitch, m.pitch_diameter, m.major_diameter, d.document FROM measurements m "
        "LEFT JOIN measurement_documents d ON d.measurement_id = m.id"
    )
    for measurement, part, pitch, pitch_diameter, major, text in connection.execute(query):
        try:
            thread = thread_from_dict(json.loads(text or ""))
        except (ValueError, MeasurementDocumentError, RecursionError) as error:
            yield Reason("measurement_damaged", measurement=measurement, part=part, why=str(error))
            continue
        numbers = (thread.pitch.value, thread.pitch_diameter.value, thread.major_diameter.value)
        if numbers != (pitch, pitch_diameter, major):
            yield Reason("measurement_altered", measurement=measurement, part=part)
    for row in rows(connection, "SELECT id, calibration, sha256, document FROM calibrations"):
        if hashlib.sha256(row["document"].encode()).hexdigest() != row["sha256"]:
            yield Reason("calibration_altered.kept", calibration=row["calibration"])
    for table in ("identifications", "checks", "trials"):
        for key, text in connection.execute(f"SELECT id, document FROM {table} WHERE document IS NOT NULL"):
            try:
                json.loads(text)
            except (ValueError, RecursionError):
                yield Reason("document_damaged", key=key, table=table)


def _derived(connection: sqlite3.Connection) -> Iterator[Reason]:
    for part in derived.stale(connection):
        yield Reason("index_stale", part=part)


def _pictures(connection: sqlite3.Connection, store: PictureStore) -> tuple[list[Reason], list[Reason]]:
    faults, remarks, known = [], [], set()
    for row in rows(connection, "SELECT sha256, suffix, file_name, bytes FROM pictures"):
        path, name = store.original(row["sha256"], row["suffix"]), row["file_name"]
        known.add(path)
        try:
            length = path.stat().st_size
            if length != row["bytes"] or file_sha256(path) != row["sha256"]:
                faults.append(Reason("picture_altered", name=name, path=path))
        except FileNotFoundError:
            faults.append(Reason("picture_missing", name=name, path=path))
        except OSError as error:
            faults.append(Reason("picture_unreadable", name=name, path=path, why=str(error.strerror)))
        if not store.thumbnail(row["sha256"]).exists():
            remarks.append(Reason("thumbnail_missing", name=name))
    remarks += [
        Reason("picture_unknown", path=path)
        for path in sorted((store.folder / "originals").glob("*/*"))
        if path not in known
    ]
    remarks += [Reason("left_over", path=path) for path in sorted(store.incoming.glob("*"))]
    return faults, remarks


def refuse_faults(found: Verification) -> None:
    """Raise RefusalError with every fault; nothing where there is none."""
    if found.faults:
        first, *more = found.faults
        raise RefusalError(first, *more)
