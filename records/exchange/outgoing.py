"""Which parts are to go out, and the file that they go out in."""

from __future__ import annotations

import sqlite3
from collections.abc import Sequence
from pathlib import Path

from records import drawing, reading
from records.exchange.bundle import write_bundle
from records.exchange.document import document_of
from records.exchange.dxf import dxf_of
from records.exchange.table import table_of
from records.filing import document_text, program_version
from records.register import Register
from records.report.sheet import instrument_words
from threads.shared.refusal import RefusalError
from threads.shared.whole_file import write_whole


def chosen_parts(
    connection: sqlite3.Connection, *, job: int | None, instrument: int | None, parts: Sequence[int]
) -> list[int]:
    """Ids of the parts meant: those numbered, those of a job or an instrument; without a word all of them.

    Raises RefusalError: no_part_on_file, nothing_to_export.
    """
    for part in parts:
        if connection.execute("SELECT 1 FROM parts WHERE id = ?", (part,)).fetchone() is None:
            raise RefusalError("no_part_on_file", part=part)
    if parts:
        return list(dict.fromkeys(parts))
    where = {"job_id": job, "instrument_id": instrument}
    asked = {column: key for column, key in where.items() if key is not None}
    sql = " AND ".join(f"{column} = ?" for column in asked) or "1"
    found = [
        key for (key,) in connection.execute(f"SELECT id FROM parts WHERE {sql} ORDER BY id", list(asked.values()))
    ]
    if not found:
        raise RefusalError("nothing_to_export")
    return found


def write_parts(register: Register, parts: Sequence[int], target: Path) -> dict[str, int]:
    """Write ``parts`` (ids) as the ending of ``target`` says: .csv, .json, .dxf (one part), else a bundle.

    Returns what is in the file, by kind. Raises OSError; RefusalError: picture_missing, not_measured.
    """
    kind = target.suffix.lower()
    if kind == ".dxf":
        write_whole(target, part_drawing(register, parts[0]))
        return {"parts": 1}
    with register.reading() as connection:
        if kind == ".csv":
            write_whole(target, table_of(connection, parts))
            return {"parts": len(parts)}
        document = document_of(connection, parts)
    counts = {name: len(found) for name, found in document.items() if isinstance(found, list)}
    if kind == ".json":
        write_whole(target, document_text(document).encode())
    else:
        write_bundle(target, document, register.store)
    return counts


def part_drawing(register: Register, number: int) -> bytes:
    """The DXF of a part. Raises RefusalError: no_part_on_file, not_measured."""
    with register.reading() as connection:
        measurement = reading.measurement_of(connection, number)
        part = reading.read_part(connection, number)
        calibration = None
        if measurement.calibration is not None:
            calibration = reading.calibration_text(connection, measurement.calibration)
    store, picture = register.store, part.picture
    original = None
    if picture is not None and picture.id == measurement.picture:
        original = store.original(picture.sha256, picture.suffix)
    kept = drawing.kept(store.folder, measurement.uid)
    found, made = drawing.drawing_found(kept, original, measurement.document, calibration)
    if made is not None:
        drawing.keep(store.folder, measurement.uid, made)
    names = (part.position.name if part.position else None, part.name, instrument_words(part))
    title = [f"part {part.id}", *(name for name in names if name)]
    title.append(f"measured {measurement.measured[:10]}, flankwise {program_version()}")
    return dxf_of(measurement.thread, found, title)
