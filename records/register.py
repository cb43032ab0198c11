"""A parts register: where it is, what state it is in, opening it to read and to write.

Beside the file ``NAME.sqlite`` stands the folder ``NAME.pictures`` with the pictures (``picture_store``).
"""

from __future__ import annotations

import getpass
import os
import sqlite3
from collections.abc import Callable, Iterator
from contextlib import closing, contextmanager
from dataclasses import dataclass, field
from datetime import UTC, datetime
from pathlib import Path

from records import seals
from records.connection import connect, connect_for_reading
from records.faults import faults_told
from records.picture_store import PictureStore, clear_leftovers
from records.register_path import register_path
from threads.shared.file_name import plain_name
from threads.shared.refusal import RefusalError

VERSION = 5
"""Of the tables; the number of the last module in ``migrations``."""

_UNNOTICED_MS = 300
"""So long another program may keep this one waiting without a word."""

APPLICATION_ID = int.from_bytes(b"FLKW")
"""In the header of the file: SQLite's place for whose file it is."""

USER_VARIABLE = "FLANKWISE_USER"
"""Names who is at the bench, in place of the name of the account."""


@dataclass
class Writing:
    """One action of a person: everything done through it is kept together, or not at all.

    Attributes:
        connection: in a transaction, which ends with the action.
        store: the pictures; ``who`` and ``now``: what is written into the rows.
        parts: ids of parts for which ``derived`` has to be made anew.
    """

    connection: sqlite3.Connection
    store: PictureStore
    who: str
    now: str
    parts: set[int] = field(default_factory=set)


@dataclass(frozen=True)
class Register:
    """A register that has been opened: its file is there, and of the present version.

    ``upgraded_from``: the copy of an older register that was brought up to date when this one was opened; ``cleared``:
    how many files that a killed program had left were cleared away; ``waits`` is called where another program keeps
    this one waiting for the right to write.
    """

    path: Path
    upgraded_from: Path | None = None
    cleared: int = 0
    waits: Callable[[], None] = field(default=lambda: None, compare=False)

    @property
    def store(self) -> PictureStore:
        return PictureStore(self.path.with_suffix(".pictures"))

    @contextmanager
    def reading(self) -> Iterator[sqlite3.Connection]:
        """A connection to read with; all that is read inside is of one moment. Raises RefusalError."""
        with faults_told(self.path):
            connection = connect_for_reading(self.path)
            try:
                connection.execute("BEGIN")
                yield connection
            finally:
                connection.close()

    def _take_the_right(self, connection: sqlite3.Connection) -> None:
        """Take the right to write at once, or wait for it, and say so if that takes longer than a person notices."""
        ((patience_ms,),) = connection.execute("PRAGMA busy_timeout")
        connection.execute(f"PRAGMA busy_timeout = {min(patience_ms, _UNNOTICED_MS)}")
        try:
            connection.execute("BEGIN IMMEDIATE")
        except sqlite3.OperationalError as error:
            if error.sqlite_errorcode & 0xFF != sqlite3.SQLITE_BUSY or patience_ms <= _UNNOTICED_MS:
                raise
            self.waits()
            connection.execute(f"PRAGMA busy_timeout = {patience_ms}")
            connection.execute("BEGIN IMMEDIATE")

    @contextmanager
    def writing(self, who: str | None = None) -> Iterator[Writing]:
        """One transaction; what is raised inside undoes it, files included. Raises RefusalError.

        Others who want to write wait until it ends, and are refused after ``connection.BUSY_TIMEOUT_S``.
        """
        from records.derived import refresh

        with faults_told(self.path), closing(connect(self.path)) as connection:
            self._take_the_right(connection)
            store, unsealed = self.store, seals.last_unsealed(connection)
            writing = Writing(connection, store, who or user_name(), utc_now())
            try:
                yield writing
                refresh(connection, writing.parts)
                seals.seal(connection, unsealed)
            except BaseException:
                store.take_back()  # while the right to write is still held: nobody else can count on them
                raise
            connection.execute("COMMIT")  # closing without it undoes everything
            store.settle()


def open_register(
    path: str | os.PathLike[str] | None = None, *, create: bool = False, waits: Callable[[], None] = lambda: None
) -> Register:
    """Open the register at ``path`` (``register_path``); with ``create`` an empty one is made where there is none.

    One of an older version is brought up to date, after a copy of it was made. What a killed program left half done is
    cleared away.

    Raises:
        RefusalError: no_register, not_a_register, register_newer, register_not_upgraded and what
            ``faults.faults_told`` raises. The file is untouched then.
    """
    file = register_path(path)
    if not file.exists():
        if not create:
            raise RefusalError("no_register", path=str(file))
        from records.upgrade import make_register

        make_register(file)
    version = version_of(file)
    copy = None
    if version < VERSION:
        from records.upgrade import bring_up_to_date

        copy = bring_up_to_date(file, version)
    return Register(file, copy, clear_leftovers(Register(file).store, file), waits)


def version_of(path: Path) -> int:
    """The version of the register at ``path``; nothing is written.

    The header is read before SQLite sees the file: a file that is not ours is not even opened for writing.

    Raises:
        RefusalError: not_a_register, register_newer (of a later version than this program knows), and what
            ``faults.faults_told`` raises.
    """
    name = plain_name(path)
    with faults_told(path):
        with path.open("rb") as file:
            header = file.read(100)
        if len(header) < 100 or not header.startswith(b"SQLite format 3\0"):
            raise RefusalError("not_a_register", name=name)
        _check_marks(int.from_bytes(header[68:72]), int.from_bytes(header[60:64]), name)
        connection = connect_for_reading(path)  # changes may still wait beside the file
        try:
            ((application,),) = connection.execute("PRAGMA application_id")
            ((version,),) = connection.execute("PRAGMA user_version")
        finally:
            connection.close()
    _check_marks(application, version, name)
    return int(version)


def _check_marks(application: int, version: int, name: str) -> None:
    if application != APPLICATION_ID:
        raise RefusalError("not_a_register.database", name=name)
    if version > VERSION:
        raise RefusalError("register_newer", name=name, version=version, known=VERSION)


def user_name() -> str:
    """Who is at the bench: ``FLANKWISE_USER`` or the name of the account."""
    named = os.environ.get(USER_VARIABLE, "").strip()
    if named:
        return named
    try:
        return getpass.getuser()
    except (OSError, KeyError, ImportError):  # an account without a name
        return "not known"


def utc_now() -> str:
    """The time as it is written into rows."""
    return datetime.now(UTC).isoformat(timespec="milliseconds").replace("+00:00", "Z")
