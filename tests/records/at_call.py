"""Ends a piece of work at its n-th system call, or lets that call fail: for the writer itself, nothing is forged.

Counted is what Python hands to the operating system or to SQLite: opening, writing, forcing to the disk, naming,
removing, and every statement; and, for kills, what SQLite itself writes, cuts and removes. The
work runs in a process of its own (``fork``), which is killed as by a power cut.
"""

from __future__ import annotations

import ctypes
import ctypes.util
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
            _within_sqlite(_at(call, lambda: os.kill(os.getpid(), signal.SIGKILL)))
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


def _at(call: int, deed: Callable[[], None]) -> Callable[[], None]:
    """Do ``deed`` at that call; what is returned counts one more."""
    count = 0

    def counted() -> None:
        nonlocal count
        count += 1
        if count == call:
            sys.setprofile(None)
            deed()

    def look(_: FrameType, event: str, argument: Any) -> None:
        if event == "c_call" and argument.__name__ in _NAMES:
            counted()

    sys.setprofile(look)
    return counted


class _Vfs(ctypes.Structure):
    """SQLite's table of what it asks of the operating system (sqlite3.h, ``sqlite3_vfs``, version 3)."""

    _fields_ = (
        ("version", ctypes.c_int), ("file", ctypes.c_int), ("path", ctypes.c_int), ("next", ctypes.c_void_p),
        ("name", ctypes.c_char_p), ("data", ctypes.c_void_p), ("methods", ctypes.c_void_p * 13),
        ("set_call", ctypes.CFUNCTYPE(ctypes.c_int, ctypes.c_void_p, ctypes.c_char_p, ctypes.c_void_p)),
        ("get_call", ctypes.CFUNCTYPE(ctypes.c_void_p, ctypes.c_void_p, ctypes.c_char_p)),
    )  # fmt: skip


_CALLS = {
    b"pwrite": (ctypes.c_ssize_t, ctypes.c_int, ctypes.c_void_p, ctypes.c_size_t, ctypes.c_longlong),
    b"pwrite64": (ctypes.c_ssize_t, ctypes.c_int, ctypes.c_void_p, ctypes.c_size_t, ctypes.c_longlong),
    b"ftruncate": (ctypes.c_int, ctypes.c_int, ctypes.c_longlong),
    b"unlink": (ctypes.c_int, ctypes.c_char_p),
}
_kept: list[Any] = []
"""Functions that SQLite calls by their address."""


def _within_sqlite(counted: Callable[[], None]) -> None:
    """Count SQLite's own calls, too, where its library is one of its own."""
    found = ctypes.util.find_library("sqlite3")
    if found is None or sqlite3.sqlite_version.encode() != _version(library := ctypes.CDLL(found)):
        return
    library.sqlite3_vfs_find.restype = ctypes.POINTER(_Vfs)
    vfs = library.sqlite3_vfs_find(None)
    for name, (result, *arguments) in _CALLS.items():
        kind = ctypes.CFUNCTYPE(result, *arguments, use_errno=True)
        address = vfs.contents.get_call(vfs, name)
        if not address:
            continue
        real = kind(address)

        def call(*given: Any, real: Any = real) -> Any:
            counted()
            return real(*given)

        _kept.append(kind(call))
        vfs.contents.set_call(vfs, name, ctypes.cast(_kept[-1], ctypes.c_void_p))


def _version(library: ctypes.CDLL) -> bytes:
    library.sqlite3_libversion.restype = ctypes.c_char_p
    return bytes(library.sqlite3_libversion())
