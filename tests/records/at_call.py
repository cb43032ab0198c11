"""Ends a piece of work at its n-th system call, or lets that call fail: for the writer itself, nothing is forged.

Counted is what Python hands to the operating system or to SQLite: opening, writing, forcing to the disk, naming,
removing, and every statement. The work runs in a process of its own (``fork``), which is killed as by a power cut.
"""

from __future__ import annotations

import os
import signal
import sqlite3
import sys
import warnings
from collections.abc import Callable
from types import FrameType
from typing import Any

_NAMES = frozenset({
    "open", "fsync", "rename", "replace", "unlink", "mkdir", "rmdir", "link", "chmod", "write", "sendfile", "ftruncate",
    "flock", "connect", "execute", "executemany", "backup", "utime",
})  # fmt: skip
_DONE, _FAILED = 0, 1


def killed_at(call: int, work: Callable[[], object]) -> bool:
    """Do ``work`` in a process that is killed just before its call of this number; whether it came so far."""
    with warnings.catch_warnings():
        warnings.simplefilter("ignore")  # newer versions warn of threads, none of which takes part
        child = os.fork()
    if child == 0:
        try:
            _at(call, lambda: os.kill(os.getpid(), signal.SIGKILL))
            work()
            os._exit(_DONE)
        except BaseException:  # noqa: BLE001 - nothing may come back into the tests
            os._exit(_FAILED)
    _, status = os.waitpid(child, 0)
    assert os.waitstatus_to_exitcode(status) in (_DONE, -signal.SIGKILL)
    return os.WIFSIGNALED(status)


def failing_at(call: int, work: Callable[[], object], error: Exception) -> Exception | None:
    """Do ``work`` here, its call of this number raising ``error``; what came of it, None where it was done."""

    def fail() -> None:
        raise error

    _at(call, fail)
    try:
        work()
    except Exception as raised:  # noqa: BLE001 - the test looks at it
        return raised
    finally:
        sys.setprofile(None)
    return None


def full_disk() -> sqlite3.OperationalError:
    """What SQLite raises where the disk is full."""
    error = sqlite3.OperationalError("database or disk is full")
    error.sqlite_errorcode = sqlite3.SQLITE_FULL
    return error


def _at(call: int, deed: Callable[[], None]) -> None:
    count = 0

    def look(_: FrameType, event: str, argument: Any) -> None:
        nonlocal count
        if event == "c_call" and argument.__name__ in _NAMES:
            count += 1
            if count == call:
                sys.setprofile(None)
                deed()

    sys.setprofile(look)
