"""Writing a file whole or not at all."""

from __future__ import annotations

import contextlib
import os
import secrets
from pathlib import Path

from threads.shared.in_place import discard, put_in_place


def write_whole(path: str | os.PathLike[str], content: bytes) -> None:
    """Write a file so that a crash leaves either the old one or the new one, never a part. Raises OSError, ValueError.

    The content goes to a new file beside it, is forced to the disk and then takes the name. Of a symbolic link, the
    file that it points to is replaced.
    """
    target = Path(os.path.realpath(path))
    beside = target.with_name(f".{target.name[:50]}.{secrets.token_hex(4)}.tmp")
    # Not through tempfile: the file shall get the permissions that the person's umask gives to any new file.
    descriptor = os.open(beside, os.O_WRONLY | os.O_CREAT | os.O_EXCL | getattr(os, "O_BINARY", 0), 0o666)
    try:
        with os.fdopen(descriptor, "wb") as file:
            file.write(content)
            file.flush()
            os.fsync(file.fileno())
        put_in_place(beside, target)
    except BaseException:
        discard(beside)
        raise
    with contextlib.suppress(OSError):  # the new name itself; not possible on every system
        folder = os.open(target.parent, os.O_RDONLY)
        try:
            os.fsync(folder)
        finally:
            os.close(folder)
