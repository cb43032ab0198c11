"""Setting right what can be set right of a damaged register; nothing is guessed.

Pictures and rows are taken back from where they are still as they were filed, which their hashes say. What is kept for
searching and the small pictures are made anew.
"""

from __future__ import annotations

import contextlib
import os
import sqlite3
from collections.abc import Iterable, Iterator, Sequence
from pathlib import Path

from records import derived, seals
from records.backup import read_backup
from records.connection import connect_for_reading, rows, value
from records.picture_store import file_sha256
from records.register import Register, Writing
from records.thumbnail import thumbnail_of
from records.verification import Verification, verify
from threads.shared.refusal import Reason, RefusalError
from threads.shared.whole_file import write_whole


def repair(register: Register, sources: Sequence[Path] = ()) -> tuple[tuple[Reason, ...], Verification]:
    """Set right what can be; what was done, and what ``verify`` finds afterwards.

    ``sources``: folders in which missing pictures are looked for under any name, and backups from which rows are taken.
    Raises RefusalError as ``Register.writing``.
    """
    found = verify(register)
    done: list[Reason] = []
    with register.writing() as writing:
        for folder in sources:
            done += _rows(writing, found.altered, folder)
        writing.parts.update(derived.stale(writing.connection))
        done += [Reason("repaired.index", part=part) for part in sorted(writing.parts)]
        wanted = [row for row in rows(writing.connection, "SELECT * FROM pictures") if not _sound(register, row)]
        done += _pictures(writing, wanted, sources)
        on_file = rows(writing.connection, "SELECT * FROM pictures")
    done += _thumbnails(register, on_file)
    return tuple(done), verify(register)


def _sound(register: Register, row: sqlite3.Row) -> bool:
    path = register.store.original(row["sha256"], row["suffix"])
    try:
        return path.stat().st_size == row["bytes"] and file_sha256(path) == row["sha256"]
    except OSError:
        return False


def _pictures(writing: Writing, wanted: list[sqlite3.Row], sources: Iterable[Path]) -> Iterator[Reason]:
    by_size: dict[int, list[sqlite3.Row]] = {}
    for row in wanted:
        by_size.setdefault(row["bytes"], []).append(row)
    for path in _files(sources):
        with contextlib.suppress(OSError):
            candidates = by_size.get(path.stat().st_size)
            if not candidates:
                continue
            sha256 = file_sha256(path)
            for row in [one for one in candidates if one["sha256"] == sha256]:
                writing.store.take_in(path, sha256, None)
                candidates.remove(row)
                yield Reason("repaired.picture", name=row["file_name"])


def _files(sources: Iterable[Path]) -> Iterator[Path]:
    for source in sources:
        for folder, _, names in os.walk(source):
            yield from (Path(folder, name) for name in sorted(names))


def _rows(writing: Writing, altered: Iterable[tuple[str, int]], folder: Path) -> Iterator[Reason]:
    """Take rows from the backup in ``folder`` that have there the hash under which they were filed here."""
    altered = list(altered)
    if not altered:
        return
    try:
        database = read_backup(folder).database
    except RefusalError:  # a folder of pictures
        return
    here = writing.connection
    with contextlib.closing(connect_for_reading(database)) as kept:
        if not value(kept, "SELECT count(*) FROM sqlite_schema WHERE name = 'seals'"):
            return
        for table, row in altered:
            filed = value(here, "SELECT sha256 FROM seals WHERE table_name = ? AND row = ?", (table, row))
            if dict(seals.hashes(here, table, [row])).get(row) == filed:
                continue  # from another backup
            if dict(seals.hashes(kept, table, [row])).get(row) != filed:
                continue
            (good,) = rows(kept, f"SELECT * FROM {table} WHERE rowid = ?", (row,))
            columns = good.keys()
            # "or replace" takes the row's place without an update, which the tables forbid
            here.execute(
                f"INSERT OR REPLACE INTO {table} ({', '.join(columns)}) VALUES ({', '.join('?' * len(columns))})",
                tuple(good),
            )
            yield Reason("repaired.row", table=table, row=row)


def _thumbnails(register: Register, on_file: Iterable[sqlite3.Row]) -> Iterator[Reason]:
    from vision.pictures.picture import read_picture

    for row in on_file:
        small = register.store.thumbnail(row["sha256"])
        if small.exists():
            continue
        with contextlib.suppress(OSError, RefusalError):
            content = thumbnail_of(read_picture(register.store.original(row["sha256"], row["suffix"])))
            small.parent.mkdir(parents=True, exist_ok=True)
            write_whole(small, content)
            yield Reason("repaired.thumbnail", name=row["file_name"])
