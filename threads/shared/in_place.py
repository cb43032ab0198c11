"""Putting a file in the place of another and removing one, where another program may hold it for a moment.

Windows refuses both while a scanner for viruses or a program that keeps folders in step has the file open, which is for
some tenths of a second after it was written. Elsewhere an open file is no obstacle, and nothing is tried again.
"""

from __future__ import annotations

import contextlib
import time
from collections.abc import Callable
from pathlib import Path

PAUSES_S = (0.02, 0.05, 0.1, 0.2, 0.4, 0.8)
"""Before each further attempt; together 1.6 s, for longer than that somebody works with the file."""

HELD = (5, 32, 33)
"""What Windows says of a file that is held: ERROR_ACCESS_DENIED, ERROR_SHARING_VIOLATION, ERROR_LOCK_VIOLATION."""


def put_in_place(new: Path, target: Path) -> None:
    """Let the file ``new`` be called ``target`` from now on; one of that name goes. Raises OSError."""
    _until_let_go(lambda: new.replace(target))


def remove(path: Path, *, missing_ok: bool = False) -> None:
    """Remove the file ``path``. Raises OSError."""
    _until_let_go(lambda: path.unlink(missing_ok=missing_ok))


def _until_let_go(do: Callable[[], object]) -> None:
    for pause in PAUSES_S:
        try:
            do()
        except PermissionError as error:
            if getattr(error, "winerror", None) not in HELD:
                raise
            time.sleep(pause)
        else:
            return
    do()


def discard(path: Path) -> None:
    """Remove the file ``path`` if that can be done."""
    with contextlib.suppress(OSError):
        remove(path, missing_ok=True)
