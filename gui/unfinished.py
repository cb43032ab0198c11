"""What is in the tray and not on file: written down at every step, found again after a crash or on the next day.

The file holds no picture, only where each lies, what was said about it and as what it was to be filed; it goes when the
window is closed and nothing is to be kept.
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

from gui.piece import Choices
from gui.register.filing import Entry
from gui.tray.cards import Card
from threads.shared.data_folder import data_folder
from threads.shared.in_place import put_in_place, remove

SCHEMA = "flankwise/unfinished/2"


@dataclass(frozen=True)
class Left:
    """A card of a run that has ended: its picture, what was said of it, and as what it was to be filed."""

    path: str
    choices: Choices
    meant: Entry | None = None


@dataclass(frozen=True)
class Unfinished:
    """What runs of the program left: the bench's file ("" for none), and the cards in the order of their arrival.

    ``kept``: the person asked for that; otherwise the program ended badly.
    """

    bench: str
    cards: tuple[Left, ...]
    kept: bool = False


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


def write_down(file: Path, bench: str, cards: Sequence[Card], *, kept: bool = False) -> None:
    """Keep what is not on file; nothing left: no file. Where nothing can be written, nothing is."""
    with suppress(OSError):
        if not cards:
            remove(file, missing_ok=True)
            return
        content = {"schema": SCHEMA, "bench": bench, "kept": kept, "cards": [_written(card) for card in cards]}
        file.parent.mkdir(parents=True, exist_ok=True)
        half = file.with_suffix(".part")
        half.write_text(json.dumps(content), "utf-8")
        put_in_place(half, file)


def _written(card: Card) -> dict[str, Any]:
    meant = card.meant if card.given is None else card.given.entry
    path = str(Path(card.piece.path).absolute())
    return {"path": path, "choices": asdict(card.choices), "meant": None if meant is None else asdict(meant)}


def left_behind(folder: Path | None = None) -> Unfinished | None:
    """What runs that have ended left, the oldest first; what it lay in is taken away.

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
    if not found:
        return None
    runs = [run for _, run in sorted(found, key=lambda each: each[0])]
    cards = {card.path: card for run in runs for card in run.cards}
    return Unfinished(runs[-1].bench, tuple(cards.values()), all(run.kept for run in runs))


def _read(content: Mapping[str, Any]) -> Unfinished:
    if content["schema"] != SCHEMA:
        raise ValueError("another schema")
    names = {field.name for field in fields(Choices)}
    cards = []
    for entry in content["cards"]:
        said = {name: _tuples(value) for name, value in entry["choices"].items() if name in names}
        meant = None if entry["meant"] is None else Entry(**entry["meant"])
        cards.append(Left(str(entry["path"]), Choices(**said), meant))
    return Unfinished(str(content["bench"]), tuple(cards), bool(content["kept"]))


def _tuples(value: Any) -> Any:
    """JSON knows lists only; choices are made of tuples."""
    return tuple(_tuples(one) for one in value) if isinstance(value, list) else value
