"""Reads a thread designation as people write it and gives it back as the standard writes it."""

from __future__ import annotations

import difflib
import re
from dataclasses import dataclass, replace
from functools import cache

from threads import american_national, iso_metric, unified
from threads.series import Entry, entries


class UnknownDesignationError(ValueError):
    """A designation that is not in the tables. ``nearest`` holds known designations that look like it."""

    def __init__(self, text: str, reason: str, nearest: tuple[str, ...]) -> None:
        self.nearest = nearest
        shown = " ".join(text.split())[:60]
        hint = f"; nearest: {', '.join(nearest)}" if nearest else ""
        super().__init__(f"{shown!r} {reason}{hint}")


@dataclass(frozen=True)
class Designation:
    """A thread of a series, with its class.

    ``text`` is the canonical designation (``4-40 UNC-2A``, ``M2.5x0.45-6g``, ``4-40 NC-2``); ``parse(text, internal=internal)`` gives
    the same designation back. ``entry`` is the row of the series table.
    """

    series: str
    size: str
    thread_class: str
    internal: bool
    text: str
    entry: Entry


_INCH = re.compile(r"#?(?P<size>\d{1,4}(?:/\d{1,2})?-\d{1,3})(?P<series>[a-z]+)-?(?P<class>\d[ab]?)?")
_METRIC = re.compile(
    r"m(?P<major>\d{1,3}(?:\.\d{1,3})?)(?:x(?P<pitch>\d{0,2}(?:\.\d{1,3})?))?(?:-?(?P<class>\d[a-z](?:\d[a-z])?))?",
    re.IGNORECASE,
)
_ROUNDED_ROOT = {"unrc": "UNC", "unrf": "UNF", "unref": "UNEF"}
_DASHES = dict.fromkeys(map(ord, "‐‑‒–—−"), "-")


def parse(text: str, *, internal: bool | None = None) -> Designation:
    """Read a designation such as ``4-40 UNC-2A``, ``1/4-20 UNC-2B``, ``4-40 NC-2``, ``M2.5x0.45-6g`` or ``M3-6H``.

    Case, spaces, a leading ``#`` and a multiplication sign for ``x`` do not matter. One letter is the exception: the
    position in an ISO class, where the standard gives ``6h`` to the screw and ``6H`` to the nut.

    ``M3`` means the coarse pitch. Without a class the usual one is assumed: 2A (2B), American National 2, 6g (6H), and for
    ISO threads up to 1.4 mm 6h (5H). The external one is meant unless ``internal`` is True; ``internal`` also tells
    nut from screw where the class does not, in American National. ``UNRC``, ``UNRF``, ``UNREF`` are read as UNC, UNF, UNEF with the UNR form.

    Raises:
        UnknownDesignationError: nothing in the tables has this designation, or class and ``internal`` contradict each other.
    """
    compact = "".join(text.split()).translate(_DASHES).replace("×", "x")
    inch = _INCH.fullmatch(compact.lower())
    if inch:
        return _inch(text, inch, internal)
    metric = _METRIC.fullmatch(compact)
    if metric:
        return _metric(text, metric, internal)
    raise UnknownDesignationError(text, "is not a thread designation", _nearest(compact))


def designation_of(entry: Entry, thread_class: str, *, internal: bool) -> Designation:
    """The designation of a series entry with a class. Nothing is checked: take the class from the entry."""
    metric = entry.major_in is None
    series = entry.series.replace("UN", "UNR") if entry.form == "UNR" else entry.series
    text = f"{entry.size}-{thread_class}" if metric else f"{entry.size} {series}-{thread_class}"
    return Designation(entry.series, entry.size, thread_class, internal, text, entry)


def usual_class(entry: Entry, *, internal: bool) -> str:
    """The class that is meant when none is written (2A, 2B; 2; 6g, 6H; ISO up to 1.4 mm 6h, 5H)."""
    classes = entry.internal_classes if internal else entry.classes
    for usual in ("2B" if internal else "2A", "2"):
        if usual in classes:
            return usual
    return classes[0]  # the tables of ISO sizes name the usual class first


def _inch(text: str, match: re.Match[str], internal: bool | None) -> Designation:
    name = match["series"]
    series = _ROUNDED_ROOT.get(name, name.upper())
    entry = next((e for e in entries() if e.major_in and e.series == series and e.size == match["size"]), None)
    if entry is None:
        raise UnknownDesignationError(text, "is not in the tables", _nearest(match.string))
    if name in _ROUNDED_ROOT:
        entry = replace(entry, form="UNR")
    written = match["class"].upper() if match["class"] else None
    if entry.form == "American National":
        external, nuts = american_national.CLASSES, american_national.CLASSES
    else:
        external, nuts = unified.CLASSES, unified.INTERNAL_CLASSES
    if written is None:
        written = usual_class(entry, internal=bool(internal))
    is_internal = bool(internal) if external == nuts else written in nuts
    if written not in (*external, *nuts):
        raise UnknownDesignationError(text, f"has no class {written} in {entry.series}", _classes_of(entry))
    _agree(text, written, is_internal, internal, entry)
    return designation_of(entry, written, internal=is_internal)


def _metric(text: str, match: re.Match[str], internal: bool | None) -> Designation:
    major = float(match["major"])
    of_diameter = [entry for entry in entries() if entry.form == "ISO metric" and entry.major_mm == major]
    if match["pitch"] is None:
        found = [entry for entry in of_diameter if entry.series == "M"]
    else:
        found = [entry for entry in of_diameter if match["pitch"] and entry.pitch_mm == _number(match["pitch"])]
    if not found:
        raise UnknownDesignationError(text, "is not in the tables", _nearest(match.string))
    entry = found[0]
    written = match["class"] or usual_class(entry, internal=bool(internal))
    tolerance_class = iso_metric.tolerance_class(written)
    if tolerance_class is None:
        raise UnknownDesignationError(text, f"has no class {written} of ISO 965-1", _classes_of(entry))
    _agree(text, written, tolerance_class.internal, internal, entry)
    return designation_of(entry, written, internal=tolerance_class.internal)


def _number(text: str) -> float | None:
    return float(text) if text.strip(".") else None


def _agree(text: str, thread_class: str, is_internal: bool, asked: bool | None, entry: Entry) -> None:
    if asked is not None and asked != is_internal:
        kind, other = ("an internal", "external") if is_internal else ("an external", "internal")
        raise UnknownDesignationError(
            text,
            f"names {thread_class}, which is {kind} class; an {other} thread was asked for",
            _classes_of(entry, asked),
        )


def _classes_of(entry: Entry, internal: bool | None = None) -> tuple[str, ...]:
    external = [] if internal is True else [designation_of(entry, c, internal=False).text for c in entry.classes]
    nuts = [] if internal is False else [designation_of(entry, c, internal=True).text for c in entry.internal_classes]
    return tuple(dict.fromkeys([*external, *nuts]))[:6]


@cache
def _known() -> dict[str, str]:
    known: dict[str, str] = {}
    for entry in entries():
        for internal, classes in ((False, entry.classes), (True, entry.internal_classes)):
            for thread_class in classes:
                text = designation_of(entry, thread_class, internal=internal).text
                known.setdefault(text.replace(" ", "").lower(), text)
    return known


def _nearest(compact: str) -> tuple[str, ...]:
    close = difflib.get_close_matches(compact.lower()[:40], list(_known()), n=3, cutoff=0.4)
    return tuple(_known()[match] for match in close)
