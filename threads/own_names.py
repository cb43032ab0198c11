"""Designations of a workshop's own threads: size, series, class where there is one, and ``nut`` for a nut.

``1.8x0.35 QW``, ``1.8x0.35 QW close``, ``1.8x0.35 QW nut``.
"""

from __future__ import annotations

from collections.abc import Iterator
from functools import cache

from threads import workshop_band
from threads.series import Edition, Entry, edition, entries

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
    """A designation as it is looked up: without spaces, in lower case."""
    return "".join(text.split()).lower()


def spellings(entry: Entry) -> Iterator[tuple[str, str | None, bool]]:
    """Every way to write the threads of a size, compact, with the class that is written and whether ``nut`` is."""
    stem = compact(f"{entry.size}{entry.series}")
    for internal, classes in ((False, entry.classes), (True, entry.internal_classes)):
        nut = NUT if internal else ""
        yield f"{stem}{nut}", None, internal
        for name in classes:
            yield f"{stem}{name.lower()}{nut}", name, internal
            yield f"{stem}-{name.lower()}{nut}", name, internal


def read(written: str) -> tuple[Entry, str | None, bool] | None:
    """Entry, written class and whether a nut is written; None if ``written`` (compact) is no own thread."""
    return _known(edition()).get(written.removeprefix("#"))


@cache
def _known(_edition: Edition) -> dict[str, tuple[Entry, str | None, bool]]:
    known: dict[str, tuple[Entry, str | None, bool]] = {}
    for entry in entries():
        if entry.own:
            for spelling, thread_class, nut in spellings(entry):
                known.setdefault(spelling, (entry, thread_class, nut))
    return known
