"""What SQLite and the disk report, as refusals: one line that says what is wrong and what to do about it."""

from __future__ import annotations

import errno
import shutil
import sqlite3
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

from threads.shared.file_name import plain_name
from threads.shared.refusal import RefusalError

_BY_RESULT = {
    sqlite3.SQLITE_BUSY: "register_locked",
    sqlite3.SQLITE_LOCKED: "register_locked",
    sqlite3.SQLITE_READONLY: "register_read_only",
    sqlite3.SQLITE_PERM: "register_read_only",
    sqlite3.SQLITE_AUTH: "register_read_only",
    sqlite3.SQLITE_FULL: "disk_full.register",
    sqlite3.SQLITE_CORRUPT: "register_damaged",
    sqlite3.SQLITE_NOTADB: "not_a_register.opened",
    sqlite3.SQLITE_CANTOPEN: "register_not_opened",
    sqlite3.SQLITE_IOERR: "register_fault",
}
_MAY_BE_FULL = ("register_fault", "register_not_opened")
"""What SQLite says, too, where a full disk keeps it from enlarging the files that it needs beside the register."""
_FULL = 100_000
"""Free bytes below which a disk is full: SQLite enlarges its index of pending changes by 32 kB."""


@contextmanager
def faults_told(path: Path) -> Iterator[None]:
    """Turn what goes wrong outside the program while the register at ``path`` is in use into a RefusalError.

    Raises:
        RefusalError: register_locked, register_read_only, disk_full, register_damaged, not_a_register,
            register_not_opened, register_fault, folder_not_written, text_not_readable. Any other error passes as it is.
    """
    try:
        yield
    except RefusalError:
        raise
    except OSError as error:
        raise _of_the_disk(error, path) from error
    except UnicodeEncodeError as error:
        raise RefusalError("text_not_readable") from error
    except sqlite3.Error as error:
        known = _BY_RESULT.get(getattr(error, "sqlite_errorcode", -1) & 0xFF)
        if known is None:
            raise
        if known in _MAY_BE_FULL and _is_full(path):
            known = "disk_full.register"
        if known == "disk_full.register" and path.is_dir():  # a backup
            raise RefusalError("disk_full", path=plain_name(path)) from error
        raise RefusalError(known, name=plain_name(path)) from error


def _is_full(path: Path) -> bool:
    try:
        return shutil.disk_usage(path if path.is_dir() else path.parent).free < _FULL
    except OSError:
        return False


def _of_the_disk(error: OSError, path: Path) -> RefusalError:
    where = plain_name(error.filename) if isinstance(error.filename, str) else plain_name(path)
    if error.errno in (errno.ENOSPC, errno.EDQUOT, errno.EFBIG):
        return RefusalError("disk_full", path=where)
    return RefusalError("folder_not_written", path=where, why=error.strerror or "not a usable path")
