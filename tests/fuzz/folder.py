"""A folder for the files of the harnesses, gone with the process; in memory where there is such a place."""

from __future__ import annotations

import os
import tempfile
from functools import cache
from pathlib import Path

_MEMORY = Path("/dev/shm")
_KEPT: list[tempfile.TemporaryDirectory[str]] = []


@cache
def folder() -> Path:
    """The same for all harnesses of a process."""
    made = tempfile.TemporaryDirectory(prefix="flankwise-fuzz-", dir=_MEMORY if os.access(_MEMORY, os.W_OK) else None)
    _KEPT.append(made)
    return Path(made.name)
