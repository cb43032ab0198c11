"""Designations of a workshop's own threads: size, series, class where there is one, and ``nut`` for a nut.

``1.8x0.35 QW``, ``1.8x0.35 QW close``, ``1.8x0.35 QW nut``.
"""

from __future__ import annotations

from collections.abc import Iterator
from functools import cache

from threads.own.own_folder import Edition, edition
from threads.rules import workshop_band
from threads.rules.series_tables import Entry
from threads.standards import spelling
from threads.standards.series import entries

NUT = "nut"


def text_of(entry: Entry, thread_class: str, *, internal: bool) -> str:
    """The canonical designation of a size of an own series."""
    parts = [entry.size, entry.series]
    if thread_class != workshop_band.CLASS:
        parts.append(thread_class)
    if internal:
        parts.append(NUT)
    return " ".join(parts)


def compact(text: str) -> str:
    """A designation as it is looked up: in the one spelling, in lower case."""
    return spelling.compact(text).lower()


def spellings(entry: Entry) -> Iterator[tuple[str, str | None, bool]]:
    """Every way to write the threads of a size, compact, with the class that is written and whether ``nut`` is."""
    stem = f"{entry.size} {entry.series}"
    for internal, classes in ((False, entry.classes), (True, entry.internal_classes)):
        nut = NUT if internal else ""
        yield compact(f"{stem} {nut}"), None, internal
        for name in classes:
            yield compact(f"{stem} {name} {nut}"), name, internal
            yield compact(f"{stem}-{name} {nut}"), name, internal


def read(written: str) -> tuple[Entry, str | None, bool] | None:
    """Entry, written class and whether a nut is written; None if ``written`` (compact) is no own thread."""
    return _known(edition()).get(written)


@cache
def _known(_edition: Edition) -> dict[str, tuple[Entry, str | None, bool]]:
    known: dict[str, tuple[Entry, str | None, bool]] = {}
    for entry in entries():
        if entry.own:
            for text, thread_class, nut in spellings(entry):
                known.setdefault(text, (entry, thread_class, nut))
    return known
