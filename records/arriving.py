"""A folder for pictures on their way into the register, beside those that are there; nothing is locked meanwhile.

While a program works in it, it has the lock of a file beside it; what has no such owner was left by a kill.
"""

from __future__ import annotations

import contextlib
import os
import secrets
import shutil
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

from records.disk import private_folder
from records.locked import locked

_BEGINS, _ENDS = "arriving-", ".lock"


@contextmanager
def arriving(store: Path) -> Iterator[Path]:
    """An empty folder under ``store``, gone afterwards. Raises OSError."""
    private_folder(store)
    mark = store / f"{_BEGINS}{secrets.token_hex(4)}{_ENDS}"
    descriptor = os.open(mark, os.O_RDWR | os.O_CREAT | os.O_EXCL, 0o600)
    try:
        locked(descriptor)
        folder = mark.with_suffix("")
        folder.mkdir(mode=0o700)
        yield folder
    finally:
        _remove(mark)
        os.close(descriptor)


def clear_arriving(store: Path) -> int:
    """Remove what killed programs left; how many files that were."""
    removed = 0
    for mark in store.glob(f"{_BEGINS}*{_ENDS}"):
        with contextlib.suppress(OSError):
            descriptor = os.open(mark, os.O_RDWR)
            try:
                if locked(descriptor):
                    removed += _remove(mark)
            finally:
                os.close(descriptor)
    return removed


def _remove(mark: Path) -> int:
    folder = mark.with_suffix("")
    count = 1 + len(list(folder.glob("*")))
    shutil.rmtree(folder, ignore_errors=True)
    with contextlib.suppress(OSError):
        mark.unlink()
    return count
