"""Whether a register was changed since one last looked, told from its files alone: no other program is kept waiting."""

from __future__ import annotations

import os
from pathlib import Path

from records.register_path import register_path

Mark = tuple[tuple[int, int], ...]


def change_mark(given: str | os.PathLike[str] | None = None) -> Mark:
    """A mark of the register's content that is another one after each change by any program.

    Length and time of the register's file and of the changes that wait beside it (SQLite's write-ahead log); an empty
    log counts as none, because it comes and goes with every reader. A register that is not there has a mark, too.
    """
    path = register_path(given)
    return tuple(found for one in (path, path.with_name(path.name + "-wal")) if (found := _state(one)) is not None)


def _state(path: Path) -> tuple[int, int] | None:
    try:
        state = path.stat()
    except OSError:
        return None
    return (state.st_size, state.st_mtime_ns) if state.st_size else None
