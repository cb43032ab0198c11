"""Forcing files and the names of files to the disk, so that a power cut finds them there."""

from __future__ import annotations

import contextlib
import os
from pathlib import Path


def sync_file(path: Path) -> None:
    """Force a file to the disk. Raises OSError."""
    with path.open("rb+") as file:
        os.fsync(file.fileno())


def private_folder(folder: Path) -> None:
    """Make a folder that nobody but its owner can look into, unless it is there. Raises OSError."""
    if not folder.is_dir():
        folder.mkdir(mode=0o700, parents=True, exist_ok=True)


def sync_folder(folder: Path) -> None:
    """Force the names in a folder to the disk, where the system can do that."""
    with contextlib.suppress(OSError):
        descriptor = os.open(folder, os.O_RDONLY)
        try:
            os.fsync(descriptor)
        finally:
            os.close(descriptor)
