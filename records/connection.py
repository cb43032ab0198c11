"""Connections to the register's file: bare ones for reading, SQLAlchemy's for writing.

SQLAlchemy takes a third of a second to be imported, more than everything else that ``flankwise record list`` does; so
reading goes by SQL on sqlite3's own connection. Writing goes through SQLAlchemy, and ``Writing.raw`` is the connection
under it, for the reading functions to be used within the same transaction.
"""

from __future__ import annotations

import sqlite3
from collections.abc import Sequence
from pathlib import Path
from typing import TYPE_CHECKING, Any
from urllib.parse import quote

if TYPE_CHECKING:
    from sqlalchemy.engine import Engine

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


def engine_of(path: Path, *, foreign_keys: bool = True) -> Engine:
    """SQLAlchemy's way to the file at ``path``; what begins takes the right to write at once, or waits for it."""
    from sqlalchemy import create_engine, event
    from sqlalchemy.pool import NullPool

    engine = create_engine("sqlite://", creator=lambda: connect(path, foreign_keys=foreign_keys), poolclass=NullPool)
    # sqlite3 begins transactions late and not before every statement; so it is told not to, and this does
    event.listen(engine, "begin", lambda connection: connection.exec_driver_sql("BEGIN IMMEDIATE"))
    return engine


def rows(connection: sqlite3.Connection, sql: str, parameters: Sequence[Any] = ()) -> list[sqlite3.Row]:
    """All rows of a query, their columns by name."""
    cursor = connection.cursor()
    cursor.row_factory = sqlite3.Row
    try:
        return cursor.execute(sql, parameters).fetchall()
    finally:
        cursor.close()


def _uri(path: Path, options: str) -> str:
    return f"file:{quote(str(path.absolute()))}?{options}"
