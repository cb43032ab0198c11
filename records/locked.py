"""A file that one program at a time has; whoever is killed lets go of it."""

from __future__ import annotations

import errno
import os
import sys


def locked(descriptor: int) -> bool:
    """Take the open file for this program; False where another has it. True, too, on a disk that knows no locks."""
    try:
        if sys.platform == "win32":
            import msvcrt

            os.lseek(
                descriptor, 3 << 29, os.SEEK_SET
            )  # far behind the content, which could not be read; SQLite locks at 1 << 30
            msvcrt.locking(descriptor, msvcrt.LK_NBLCK, 1)
        else:
            import fcntl

            fcntl.flock(descriptor, fcntl.LOCK_EX | fcntl.LOCK_NB)
    except OSError as error:
        return error.errno not in (errno.EAGAIN, errno.EACCES, errno.EDEADLK)
    return True
