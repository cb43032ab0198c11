"""What was on the desk and not on file: written down at every step, found again after a crash.

The file holds no picture, only where each lies and what was said about it; it goes when the window is closed in the
ordinary way.
"""

from __future__ import annotations

import json
import os
from collections.abc import Mapping, Sequence
from contextlib import suppress
from dataclasses import asdict, dataclass, fields
from pathlib import Path
from typing import Any

from PySide6.QtCore import QLockFile

from gui.piece import Choices, Piece
from threads.shared.data_folder import data_folder

SCHEMA = "flankwise/unfinished/1"


@dataclass(frozen=True)
class Unfinished:
    """What a run of the program left: the bench's file ("" for none), and (picture, choices) of each piece."""

    bench: str
    pieces: tuple[tuple[str, Choices], ...]


def own_file(folder: Path | None = None) -> Path:
    """Where this run writes it down: two windows do not mix theirs."""
    return (folder or data_folder()) / f"unfinished-{os.getpid()}.json"


def hold(file: Path) -> QLockFile:
    """The lock that says that this run goes on: kept until it ends, however it ends."""
    with suppress(OSError):
        file.parent.mkdir(parents=True, exist_ok=True)
    lock = QLockFile(str(_lock_file(file)))
    lock.setStaleLockTime(0)
    lock.tryLock(0)
    return lock


def _lock_file(file: Path) -> Path:
    return file.with_suffix(".lock")


def write_down(file: Path, bench: str, pieces: Sequence[Piece]) -> None:
    """Keep what is not on file, the newest first; nothing left: no file. Where nothing can be written, nothing is."""
    left = [piece for piece in pieces if piece.filed is None]
    with suppress(OSError):
        if not left:
            file.unlink(missing_ok=True)
            return
        content = {
            "schema": SCHEMA,
            "bench": bench,
            "pieces": [{"path": str(Path(piece.path).absolute()), "choices": asdict(piece.choices)} for piece in left],
        }
        file.parent.mkdir(parents=True, exist_ok=True)
        half = file.with_suffix(".part")
        half.write_text(json.dumps(content), "utf-8")
        half.replace(file)


def left_behind(folder: Path | None = None) -> Unfinished | None:
    """What a run that ended badly left, the newest of them; what it lay in is taken away.

    Files of runs that are still going on are left alone; what cannot be read is nothing.
    """
    there = folder or data_folder()
    found: list[tuple[float, Unfinished]] = []
    for file in there.glob("unfinished-*.json"):
        lock = QLockFile(str(_lock_file(file)))
        lock.setStaleLockTime(0)
        if not lock.tryLock(0):
            continue  # its run goes on
        with suppress(OSError, ValueError, KeyError, TypeError):
            found.append((file.stat().st_mtime, _read(json.loads(file.read_text("utf-8")))))
        with suppress(OSError):
            file.unlink()
        lock.unlock()
    return max(found, key=lambda each: each[0])[1] if found else None


def _read(content: Mapping[str, Any]) -> Unfinished:
    if content["schema"] != SCHEMA:
        raise ValueError("another schema")
    names = {field.name for field in fields(Choices)}
    pieces = []
    for entry in content["pieces"]:
        kept = {name: _tuples(value) for name, value in entry["choices"].items() if name in names}
        pieces.append((str(entry["path"]), Choices(**kept)))
    return Unfinished(str(content["bench"]), tuple(pieces))


def _tuples(value: Any) -> Any:
    """JSON knows lists only; choices are made of tuples."""
    return tuple(_tuples(one) for one in value) if isinstance(value, list) else value
