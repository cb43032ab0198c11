"""What documents and people say of threads, kept as notes: on an instrument or a part, with its weight and its source.

A note that begins with ``stated:`` is such a statement. The latest one that was not withdrawn counts; withdrawing the
note withdraws the evidence, and another weight is another statement.
"""

from __future__ import annotations

import hashlib
import re
from collections.abc import Iterable
from pathlib import Path

from records.entries import Note
from threads.identify.stated import Stated, stated

_STATED = re.compile(r"(?:^|; )stated: (?P<text>[^;]+?), by (?P<by>\w+)(?:, weight (?P<weight>[0-9.e+]+))?(?:; |$)")


def statement_note(said: Stated, source: str | None = None) -> str:
    """The note that keeps a statement. ``source``: where it stands, in words, or a file, which is named by its hash."""
    words = f"stated: {said.text}, by {said.by}, weight {said.weight:g}"
    return words if not source else f"{words}; source: {_source(source)}"


def _source(source: str) -> str:
    file = Path(source)
    try:
        content = file.read_bytes() if file.is_file() else None
    except OSError:
        content = None
    if content is None:
        return " ".join(source.split())
    return f"{file.name} (SHA-256 {hashlib.sha256(content).hexdigest()[:16]}...)"


def stated_in(notes: Iterable[str]) -> Stated | None:
    """The latest statement among notes, the oldest first; None where there is none that can be read."""
    for text in reversed(list(notes)):
        found = _STATED.search(text)
        if found is not None:
            try:
                return stated(found["text"], found["by"], None if found["weight"] is None else float(found["weight"]))
            except ValueError:
                continue  # of a series that this workshop no longer has
    return None


def stated_on(notes: Iterable[Note]) -> tuple[Stated, int] | None:
    """The latest statement among notes that were not withdrawn, and the number of its note."""
    for note in reversed([one for one in notes if not one.withdrawn]):
        found = stated_in([note.text])
        if found is not None:
            return found, note.id
    return None
