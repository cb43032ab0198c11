"""None, True and False are kept from running out, on a Python that counts them.

From Python 3.12 on these objects are never given up (PEP 683), and extensions built for it hand them back without
counting. PySide6 6.12.0 does so on Python 3.11 as well, where it is installed all the same: every call that returns
nothing and every signal that is sent takes one away (measured: 200 calls of ``QLabel.setText``, 200 references to None
fewer; 100 signals, 100 fewer to True). A live picture runs True down within a minute, and the interpreter aborts. So
many references are added here that no session uses them up; that is all that Python 3.12 does about it.
"""

from __future__ import annotations

import ctypes
import sys

MANY = 1 << 40


def keep_singletons() -> None:
    """Add ``MANY`` references to None, True and False, once; nothing on Python 3.12 and later."""
    if sys.version_info >= (3, 12) or sys.implementation.name != "cpython":
        return
    for thing in (None, True, False):
        count = ctypes.c_ssize_t.from_address(id(thing))
        # only where the count is what lies first in the object, as in every ordinary build
        if abs(count.value - sys.getrefcount(thing)) < 1000 and count.value < MANY // 2:
            count.value += MANY
