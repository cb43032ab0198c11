"""A copy of the register's file as it is at one moment, while others read and write."""

from __future__ import annotations

import contextlib
import glob
import os
import secrets
import sqlite3
from datetime import UTC, datetime
from pathlib import Path

from records.connection import connect_for_reading
from records.disk import sync_file, sync_folder
from records.locked import locked
from threads.shared.in_place import discard, put_in_place, remove

_UNFINISHED = ".tmp"


def copy_database(source: Path, target: Path) -> None:
    """Copy the register's file as it is at one moment to the new file ``target``. Raises sqlite3.Error, OSError.

    ``target`` is one file, complete: nothing waits beside it. It gets its name last; what a program that is killed
    leaves is cleared by ``clear_unfinished``.
    """
    beside = target.with_name(f".{source.name[:50]}.{secrets.token_hex(4)}{_UNFINISHED}")
    descriptor = os.open(beside, os.O_RDWR | os.O_CREAT | os.O_EXCL, 0o600)
    try:
        locked(descriptor)
        with (
            contextlib.closing(connect_for_reading(source)) as original,
            contextlib.closing(sqlite3.connect(beside)) as copy,
        ):
            original.backup(copy)
            copy.execute("PRAGMA journal_mode = DELETE")
        sync_file(beside)
        if os.name == "nt":  # which names no open file anew
            os.close(descriptor)
            descriptor = -1
        put_in_place(beside, target)
        sync_folder(target.parent)
    except BaseException:
        discard(beside)
        raise
    finally:
        if descriptor >= 0:
            os.close(descriptor)


def clear_unfinished(folder: Path, name: str = "") -> int:
    """Remove what killed programs left of files called ``name`` (any if empty) in ``folder``; how many those were.

    What another program is writing just now stays.
    """
    begins = f".{glob.escape(name[:50])}." if name else "."
    removed = 0
    for path in folder.glob(f"{begins}*{_UNFINISHED}*"):
        main = path.with_name(path.name[: path.name.rindex(_UNFINISHED) + len(_UNFINISHED)])
        with contextlib.suppress(OSError):
            if main.exists():
                descriptor = os.open(main, os.O_RDWR)
                try:
                    if not locked(descriptor):
                        continue
                finally:
                    os.close(descriptor)
            remove(path)
            removed += 1
    return removed


def stamp() -> str:
    """The time in the name of a copy."""
    return datetime.now(UTC).strftime("%Y%m%dT%H%M%S%f")[:18] + "Z"
