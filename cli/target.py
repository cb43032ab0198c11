"""A file that is to be written, looked at before anything is done."""

from __future__ import annotations

import os
from collections.abc import Sequence
from pathlib import Path

from cli.errors import CommandLineError


def file_to_write(option: str, text: str, endings: Sequence[str]) -> Path:
    """The path typed as ``text`` for ``option``; what is there already is the caller's business.

    Raises CommandLineError for another ending, a folder, and a place that is missing or cannot be written to.
    """
    target = Path(text)
    if target.suffix.lower() not in endings:
        *others, last = endings
        words = f"{', '.join(others)} or {last}" if others else last
        raise CommandLineError(f"{option} {text}: the name must end in {words}")
    if target.is_dir():
        raise CommandLineError(f"{option} {text} is a folder: name the file to write")
    if not target.parent.is_dir():
        raise CommandLineError(f"{option} {text}: there is no folder {target.parent}")
    if not os.access(target.parent, os.W_OK):
        raise CommandLineError(f"{option} {text}: the folder {target.parent} cannot be written to")
    return target
