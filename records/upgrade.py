"""Making a register, and bringing an older one up to date by the steps in ``migrations``."""

from __future__ import annotations

import contextlib
import os
import secrets
import sqlite3
from pathlib import Path

from records import seals
from records.connection import connect
from records.copying import copy_database, stamp
from records.disk import sync_file, sync_folder
from records.faults import faults_told
from threads.shared.file_name import plain_name
from threads.shared.in_place import discard, put_in_place
from threads.shared.refusal import RefusalError

_OF_THE_STEP = (sqlite3.SQLITE_ERROR, sqlite3.SQLITE_CONSTRAINT)
"""Results that speak against a step of the migration; all others are the disk's or another program's doing."""

_HASHED_FROM = 4
"""Version from which on every row has a hash."""

_PRIVATE_FROM = 4
"""Version from which on a register is made for its owner's eyes only; a later change of that is a person's will."""


def make_register(path: Path) -> None:
    """Make an empty register at ``path`` where there is no file; it appears whole or not at all.

    Where another process makes one at the same time, the first one stays: from then on it may clear away what the
    others have begun (``picture_store.clear_leftovers``), at any moment of theirs. Raises RefusalError.
    """
    with faults_told(path):
        path.parent.mkdir(parents=True, exist_ok=True)
        beside = path.with_name(f".{path.name[:50]}.{secrets.token_hex(4)}.tmp")
        try:
            beside.touch(mode=0o600)
            migrate(beside)
            sync_file(beside)
            _give_name(beside, path)
            sync_folder(path.parent)
        except Exception:
            if not path.exists():
                raise
        finally:
            for ending in ("", "-wal", "-shm", "-journal"):
                discard(beside.with_name(beside.name + ending))


def _give_name(beside: Path, path: Path) -> None:
    """Let the file ``beside`` be called ``path``, unless there is one: a link never takes another's place."""
    try:
        os.link(beside, path)
    except FileExistsError:
        return
    except OSError:  # a disk without hard links
        if not path.exists():
            put_in_place(beside, path)


def bring_up_to_date(path: Path, version: int) -> Path:
    """Bring the register at ``path``, which is of ``version``, up to the present one, and return where a copy of it is.

    The copy is made first; the change is one transaction, and afterwards every reference is looked at. Raises
    RefusalError, and then the register is as it was.
    """
    copy = path.with_name(f"{path.stem}.before-upgrade-from-{version}.{stamp()}{path.suffix}")
    with faults_told(path):
        copy_database(path, copy)
        try:
            migrate(path)
        except sqlite3.Error as error:
            if getattr(error, "sqlite_errorcode", sqlite3.SQLITE_ERROR) & 0xFF not in _OF_THE_STEP:
                raise
            raise RefusalError(
                "register_not_upgraded", name=plain_name(path), why=str(error), copy=plain_name(copy)
            ) from error
        if version < _PRIVATE_FROM:
            for private, mode in ((path, 0o600), (path.with_suffix(".pictures"), 0o700)):
                with contextlib.suppress(OSError):  # another account's
                    private.chmod(mode)
    return copy


def migrate(path: Path, version: int | None = None) -> None:
    """Take the steps that the file at ``path`` lacks, up to ``version`` (the last one if None), in one transaction.

    The file is made where there is none. Raises sqlite3.Error, RefusalError (register_damaged).
    """
    from records.migrations import STEPS

    with contextlib.closing(sqlite3.connect(path)) as made:
        made.execute("PRAGMA journal_mode = WAL")
    # tables may have to be made anew with their rows, so references are looked at afterwards
    with contextlib.closing(connect(path, foreign_keys=False)) as connection:
        connection.execute("BEGIN IMMEDIATE")
        ((present,),) = connection.execute("PRAGMA user_version")
        unsealed = seals.last_unsealed(connection) if present >= _HASHED_FROM else 0
        for number, step in enumerate(STEPS[:version], 1):
            if number > present:
                step(connection)
                connection.execute(f"PRAGMA user_version = {number}")
        if len(STEPS[:version]) >= _HASHED_FROM:
            seals.seal(connection, unsealed)
            seals.watch(connection)
        broken = connection.execute("PRAGMA foreign_key_check").fetchall()
        if broken:
            raise RefusalError("register_damaged.references", references=len(broken), name=plain_name(path))
        connection.execute("COMMIT")
