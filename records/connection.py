"""Connections to the register's file, and the few statements that every module of the register needs.

Everything goes by SQL on sqlite3's own connection: a mapper takes longer to be imported than the rest of ``flankwise
record list`` takes to run, and its tables would say a second time what ``migrations`` says.
"""

from __future__ import annotations

import sqlite3
from collections.abc import Mapping, Sequence
from pathlib import Path
from typing import Any
from urllib.parse import quote

BUSY_TIMEOUT_S = 10.0
"""How long one program waits for another that is writing."""


def connect(path: Path, *, foreign_keys: bool = True, timeout: float = BUSY_TIMEOUT_S) -> sqlite3.Connection:
    """A connection for reading and writing to the file at ``path``, which exists. Raises sqlite3.Error."""
    connection = sqlite3.connect(_uri(path, "mode=rw"), uri=True, timeout=timeout, isolation_level=None)
    try:
        connection.execute(f"PRAGMA foreign_keys = {int(foreign_keys)}")
        connection.execute("PRAGMA synchronous = FULL")  # a committed row survives a power cut, not only a kill
    except sqlite3.Error:
        connection.close()
        raise
    return connection


def connect_for_reading(path: Path) -> sqlite3.Connection:
    """A connection that refuses to write; one transaction's view lasts from the first row read. Raises sqlite3.Error.

    In a folder that cannot be written, SQLite cannot keep its notes beside the file: then the file is read as one that
    nobody changes, provided that no change waits beside it.
    """
    try:
        connection = connect(path)
        try:
            connection.execute("SELECT count(*) FROM sqlite_schema").fetchone()
            connection.execute("PRAGMA query_only = 1")
        except sqlite3.Error:
            connection.close()
            raise
    except sqlite3.OperationalError as error:
        waiting = path.with_name(path.name + "-wal")
        code = error.sqlite_errorcode & 0xFF
        if code not in (sqlite3.SQLITE_CANTOPEN, sqlite3.SQLITE_READONLY) or (
            waiting.exists() and waiting.stat().st_size
        ):
            raise
        return sqlite3.connect(_uri(path, "mode=ro&immutable=1"), uri=True, isolation_level=None)
    return connection


def rows(connection: sqlite3.Connection, sql: str, parameters: Sequence[Any] = ()) -> list[sqlite3.Row]:
    """All rows of a query, their columns by name."""
    cursor = connection.cursor()
    cursor.row_factory = sqlite3.Row
    try:
        return cursor.execute(sql, parameters).fetchall()
    finally:
        cursor.close()


def value(connection: sqlite3.Connection, sql: str, parameters: Sequence[Any] = ()) -> Any:
    """The first column of the first row of a query, None where there is no row."""
    found = connection.execute(sql, parameters).fetchone()
    return None if found is None else found[0]


def insert(connection: sqlite3.Connection, table: str, values: Mapping[str, Any]) -> int:
    """Add a row and return its id. ``table`` and the keys are names of ours, never what a person typed."""
    columns, marks = ", ".join(values), ", ".join("?" * len(values))
    added = connection.execute(f"INSERT INTO {table} ({columns}) VALUES ({marks})", tuple(values.values()))
    assert added.lastrowid is not None
    return added.lastrowid


def _uri(path: Path, options: str) -> str:
    return f"file:{quote(str(path.absolute()))}?{options}"
