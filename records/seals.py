"""A hash of every row that matters: what was changed other than by this program, or by a failing disk, is found.

Triggers note in the table ``unsealed`` which rows are added or changed; at the end of an action ``seal`` keeps their
hashes in ``seals``. What stays in ``unsealed`` was changed by another program. Hashed are all tables whose rows have a
``uid``, and the documents of measurements. A column that is NULL takes no part, so a later version may add columns; one
with a default, or another name for a column, needs ``seal_all``.
"""

from __future__ import annotations

import hashlib
import sqlite3
from collections.abc import Iterable, Iterator, Sequence

from records.connection import value

TABLES = (
    """CREATE TABLE seals (
        table_name TEXT NOT NULL, row INTEGER NOT NULL, sha256 BLOB NOT NULL, filed INTEGER NOT NULL,
        PRIMARY KEY (table_name, row)) WITHOUT ROWID""",
    "CREATE TABLE unsealed (id INTEGER PRIMARY KEY NOT NULL, table_name TEXT NOT NULL, row INTEGER NOT NULL)",
)
"""``filed``: 1 where the hash was taken when the row was filed, 0 where it was there before there were hashes."""

_AT_ONCE = 500


def watched(connection: sqlite3.Connection) -> list[str]:
    """The tables whose rows are hashed."""
    found = connection.execute(
        "SELECT s.name FROM sqlite_schema s JOIN pragma_table_info(s.name) c ON c.name = 'uid' WHERE s.type = 'table' "
        "UNION SELECT name FROM sqlite_schema WHERE name = 'measurement_documents' ORDER BY 1"
    )
    return [name for (name,) in found]


def watch(connection: sqlite3.Connection) -> None:
    """Make the triggers that are not there yet, also those of tables that a later version added."""
    for table in watched(connection):
        for event in ("INSERT", "UPDATE"):
            connection.execute(
                f"CREATE TRIGGER IF NOT EXISTS {table}_{event.lower()}_noted AFTER {event} ON {table} "
                f"BEGIN INSERT INTO unsealed (table_name, row) VALUES ('{table}', NEW.rowid); END"
            )


def last_unsealed(connection: sqlite3.Connection) -> int:
    """A mark before an action: what is noted after it is of the action."""
    return int(value(connection, "SELECT ifnull(max(id), 0) FROM unsealed"))


def seal(connection: sqlite3.Connection, after: int) -> None:
    """Hash what was noted after the mark, within the transaction that changed it."""
    noted: dict[str, list[int]] = {}
    for table, row in connection.execute("SELECT DISTINCT table_name, row FROM unsealed WHERE id > ?", (after,)):
        noted.setdefault(table, []).append(row)
    for table, keys in noted.items():
        _keep(connection, table, keys, filed=1)
    connection.execute("DELETE FROM unsealed WHERE id > ?", (after,))


def seal_all(connection: sqlite3.Connection, table: str) -> None:
    """Hash every row of ``table`` as it is found."""
    _keep(connection, table, [key for (key,) in connection.execute(f"SELECT rowid FROM {table}")], filed=0)


def hashes(connection: sqlite3.Connection, table: str, keys: Sequence[int]) -> Iterator[tuple[int, bytes]]:
    """The ids of those rows that are there, with the hashes of what they hold now. Raises sqlite3.Error."""
    for start in range(0, len(keys), _AT_ONCE):
        some = keys[start : start + _AT_ONCE]
        found = connection.execute(f"SELECT rowid, * FROM {table} WHERE rowid IN ({','.join('?' * len(some))})", some)
        names = [f"{column[0]} ".encode() for column in found.description[1:]]
        for key, *content in found:
            yield key, _hash(names, content)


def _keep(connection: sqlite3.Connection, table: str, keys: Sequence[int], *, filed: int) -> None:
    connection.executemany(
        "INSERT OR REPLACE INTO seals (table_name, row, sha256, filed) VALUES (?, ?, ?, ?)",
        ((table, key, digest, filed) for key, digest in list(hashes(connection, table, keys))),
    )


def _hash(names: Sequence[bytes], content: Iterable[object]) -> bytes:
    """SHA-256 over name, kind, length and content of every column that is not NULL."""
    digest = hashlib.sha256()
    for name, one in zip(names, content, strict=True):
        if one is None:
            continue
        if isinstance(one, str):
            kind, written = b"t", one.encode("utf-8", "surrogateescape")
        elif isinstance(one, bytes):
            kind, written = b"b", one
        else:  # int, float: repr gives every digit
            kind, written = b"n", repr(one).encode()
        digest.update(b"%b%b%d " % (name, kind, len(written)))
        digest.update(written)
    return digest.digest()
