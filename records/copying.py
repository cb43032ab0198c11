"""A copy of the register's file as it is at one moment, while others read and write."""

from __future__ import annotations

import contextlib
import sqlite3
from datetime import UTC, datetime
from pathlib import Path

from records.connection import connect_for_reading
from records.disk import sync_file, sync_folder


def copy_database(source: Path, target: Path) -> None:
    """Copy the register's file as it is at one moment to the new file ``target``. Raises sqlite3.Error, OSError.

    ``target`` is one file, complete: nothing waits beside it.
    """
    target.touch(exist_ok=False)
    try:
        with (
            contextlib.closing(connect_for_reading(source)) as original,
            contextlib.closing(sqlite3.connect(target)) as copy,
        ):
            original.backup(copy)
            copy.execute("PRAGMA journal_mode = DELETE")
        sync_file(target)
        sync_folder(target.parent)
    except BaseException:
        target.unlink(missing_ok=True)
        raise


def stamp() -> str:
    """The time in the name of a copy."""
    return datetime.now(UTC).strftime("%Y%m%dT%H%M%S%f")[:18] + "Z"
