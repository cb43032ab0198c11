"""Which parts are to go out, and the file that they go out in."""

from __future__ import annotations

import sqlite3
from collections import Counter
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from pathlib import Path

from records import drawing, reading
from records.exchange.arrival import checked_document
from records.exchange.bundle import write_bundle
from records.exchange.document import document_of
from records.exchange.dxf import dxf_of
from records.exchange.table import table_of
from records.filing import document_text, program_version
from records.register import Register
from records.report.sheet import instrument_words
from records.report.spoken import Spoken
from threads.shared.file_name import plain_name
from threads.shared.refusal import Reason, RefusalError
from threads.shared.whole_file import write_whole

MOST_OF_A_FILE = 40_000_000
"""Characters of measurements in one file: a fifth of what an import takes, so that neither needs much memory."""
MOST_PARTS_OF_A_FILE = 2000

_SIZES = """
SELECT m.part_id, sum(length(d.document) + ifnull((SELECT sum(length(i.document)) FROM identifications i
        WHERE i.measurement_id = m.id), 0) + ifnull((SELECT sum(length(c.document)) FROM checks c
        WHERE c.measurement_id = m.id), 0))
FROM measurements m JOIN measurement_documents d ON d.measurement_id = m.id GROUP BY m.part_id
"""


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


@dataclass(frozen=True)
class Written:
    """What was written: rows by kind, over all files; pictures that are not in them, and why."""

    counts: Mapping[str, int]
    missing: tuple[Reason, ...] = ()


def files_for(register: Register, parts: Sequence[int], target: Path) -> dict[Path, list[int]]:
    """The files into which ``parts`` go, each small enough to be taken in: one, or several with numbers.

    Each can be taken in alone and in any order. Raises RefusalError as ``Register.reading``.
    """
    if target.suffix.lower() in (".csv", ".dxf"):
        return {target: list(parts)}
    with register.reading() as connection:
        sizes = dict(connection.execute(_SIZES).fetchall())
    groups: list[list[int]] = [[]]
    size = 0
    for part in parts:
        size += sizes.get(part, 0)
        if groups[-1] and (size > MOST_OF_A_FILE or len(groups[-1]) >= MOST_PARTS_OF_A_FILE):
            groups.append([])
            size = sizes.get(part, 0)
        groups[-1].append(part)
    if len(groups) == 1:
        return {target: groups[0]}
    return {target.with_stem(f"{target.stem}-{number}"): group for number, group in enumerate(groups, 1)}


def write_parts(register: Register, parts: Sequence[int], target: Path) -> Written:
    """Write ``parts`` (ids) as the ending of ``target`` says: .csv, .json, .dxf (one part), else bundles.

    What is written is looked at as an import does, before: nothing is written that would be refused there. Raises
    OSError; RefusalError: not_measured, and those of ``arrival.checked_document``.
    """
    counts: Counter[str] = Counter()
    missing: list[Reason] = []
    for file, some in files_for(register, parts, target).items():
        written = _write(register, some, file)
        counts.update(written.counts)
        missing += written.missing
    return Written(counts, tuple(missing))


def _write(register: Register, parts: Sequence[int], target: Path) -> Written:
    kind = target.suffix.lower()
    if kind == ".dxf":
        write_whole(target, part_drawing(register, parts[0]))
        return Written({"parts": 1})
    with register.reading() as connection:
        if kind == ".csv":
            write_whole(target, table_of(connection, parts))
            return Written({"parts": len(parts)})
        document = document_of(connection, parts)
    counts = {name: len(found) for name, found in document.items() if isinstance(found, list)}
    checked_document(document, plain_name(target))
    if kind == ".json":
        write_whole(target, document_text(document).encode())
        return Written(counts)
    return Written(counts, tuple(write_bundle(target, document, register.store)))


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
    names = (part.position.name if part.position else None, part.name, instrument_words(part, Spoken()))
    title = [f"part {part.id}", *(name for name in names if name)]
    title.append(f"measured {measurement.measured[:10]}, flankwise {program_version()}")
    return dxf_of(measurement.thread, found, title)
