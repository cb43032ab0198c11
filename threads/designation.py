"""Reads a thread designation as people write it and gives it back as the standard writes it."""

from __future__ import annotations

import difflib
import re
from dataclasses import dataclass, replace
from functools import cache

from threads import american_national, british_association, iso_metric, unified
from threads.series import Entry, entries


class UnknownDesignationError(ValueError):
    """A designation that is not in the tables. ``nearest`` holds known designations that look like it."""

    def __init__(self, text: str, reason: str, nearest: tuple[str, ...]) -> None:
        self.nearest = nearest
        shown = ascii(" ".join(text.split())[:60])
        hint = f"; nearest: {', '.join(nearest)}" if nearest else ""
        super().__init__(f"{shown} {reason}{hint}")


@dataclass(frozen=True)
class Designation:
    """A thread of a series, with its class.

    ``text`` is the canonical designation (``4-40 UNC-2A``, ``M2.5x0.45-6g``, ``4-40 NC-2``, ``4 BA close``).
    ``parse(text, internal=internal)`` gives the same designation back. ``entry`` is the row of the series table.
    """

    series: str
    size: str
    thread_class: str
    internal: bool
    text: str
    entry: Entry


_INCH = re.compile(r"#?(?P<size>\d{1,4}(?:/\d{1,2})?-\d{1,3})(?P<series>[a-z]+)-?(?P<class>\d[ab]?)?", re.ASCII)
_METRIC = re.compile(
    r"m(?P<major>\d{1,3}(?:\.\d{1,3})?)(?:x(?P<pitch>\d{1,2}(?:\.\d{1,3})?|\.\d{1,3}))?(?:-?(?P<class>\d[a-z](?:\d[a-z])?))?",
    re.ASCII | re.IGNORECASE,
)
_BRITISH_ASSOCIATION = re.compile(r"#?(?P<size>\d{1,2})ba-?(?P<class>[a-z]+)?", re.ASCII)
_ROUNDED_ROOT = {"unrc": "UNC", "unrf": "UNF", "unref": "UNEF"}
_SPELLING = str.maketrans(dict.fromkeys("‐‑‒–—−", "-") | {"×": "x", ",": "."})


def parse(text: str, *, internal: bool | None = None) -> Designation:
    """Read a designation: ``4-40 UNC-2A``, ``1/4-20 UNC-2B``, ``4-40 NC-2``, ``M2.5x0.45-6g``, ``M3-6H``, ``4 BA``.

    Case, spaces, a leading ``#`` and a multiplication sign for ``x`` do not matter. One letter is the exception: the
    position in an ISO class, where the standard gives ``6h`` to the screw and ``6H`` to the nut.

    ``M3`` means the coarse pitch. Without a class the usual one is assumed: 2A (nut 2B), American National 2, 6g (nut
    6H; up to 1.4 mm 6h and 5H), BA normal. The screw is meant unless ``internal`` is True or the class is one of nuts;
    in American National only ``internal`` tells. ``UNRC``, ``UNRF``, ``UNREF`` are UNC, UNF, UNEF with the UNR form.
    A class of the standard that is not tabulated for the size (``4-40 UNC-1A``, ``M3-5g6g``) is accepted.

    Raises:
        UnknownDesignationError: the tables do not have it, or the class and ``internal`` contradict each other.
    """
    compact = "".join(text.split()).translate(_SPELLING)
    if match := _INCH.fullmatch(compact.lower()):
        return _inch(text, match, internal)
    if match := _METRIC.fullmatch(compact):
        return _metric(text, match, internal)
    if match := _BRITISH_ASSOCIATION.fullmatch(compact.lower()):
        return _british_association(text, match, internal)
    raise UnknownDesignationError(text, "is not a thread designation with a series", _nearest(compact))


def designation_of(entry: Entry, thread_class: str, *, internal: bool) -> Designation:
    """The designation of a series entry with a class. Nothing is checked: take the class from the entry."""
    if entry.form == "ISO metric":
        text = f"{entry.size}-{thread_class}"
    elif entry.form == "BA":
        text = f"{entry.size} {entry.series} {thread_class}"
    else:
        series = entry.series.replace("UN", "UNR") if entry.form == "UNR" else entry.series
        text = f"{entry.size} {series}-{thread_class}"
    return Designation(entry.series, entry.size, thread_class, internal, text, entry)


def usual_class(entry: Entry, *, internal: bool) -> str:
    """The class that is meant when none is written: 2A, 2B; 2; 6g, 6H (up to 1.4 mm 6h, 5H or 4H); normal, nut."""
    classes = entry.internal_classes if internal else entry.classes
    usual = ("2B" if internal else "2A", "2", "normal")
    return next((name for name in usual if name in classes), classes[0])  # the ISO tables name the usual class first


def _inch(text: str, match: re.Match[str], internal: bool | None) -> Designation:
    name = match["series"]
    series = _ROUNDED_ROOT.get(name, name.upper())
    entry = _entry(series, match["size"])
    if entry is None or entry.major_in is None:
        raise UnknownDesignationError(text, "is not in the tables", _nearest(match.string))
    if name in _ROUNDED_ROOT:
        entry = replace(entry, form="UNR")
    written = (match["class"] or usual_class(entry, internal=bool(internal))).upper()
    if entry.form == "American National":
        known, is_internal = written in american_national.CLASSES, bool(internal)
    else:
        known = written in unified.CLASSES + unified.INTERNAL_CLASSES
        is_internal = written in unified.INTERNAL_CLASSES
    return _checked(text, entry, written, known=known, is_internal=is_internal, asked=internal)


def _metric(text: str, match: re.Match[str], internal: bool | None) -> Designation:
    major = float(match["major"])
    of_diameter = [entry for entry in entries() if entry.form == "ISO metric" and entry.major_mm == major]
    if match["pitch"] is None:
        found = [entry for entry in of_diameter if entry.series == "M"]
    else:
        found = [entry for entry in of_diameter if entry.pitch_mm == float(match["pitch"])]
    if not found:
        nearest = tuple(_classes_of(entry, internal)[0] for entry in of_diameter) or _nearest(match.string)
        raise UnknownDesignationError(text, "is not in the tables", nearest)
    written = match["class"] or usual_class(found[0], internal=bool(internal))
    iso_class = iso_metric.tolerance_class(written)
    is_internal = iso_class.internal if iso_class else False
    return _checked(text, found[0], written, known=iso_class is not None, is_internal=is_internal, asked=internal)


def _british_association(text: str, match: re.Match[str], internal: bool | None) -> Designation:
    entry = _entry("BA", match["size"])
    if entry is None:
        number = int(match["size"])
        closest = min(entries("BA"), key=lambda known: abs(int(known.size) - number))
        raise UnknownDesignationError(text, "is not in the tables", _classes_of(closest, internal))
    written = match["class"] or usual_class(entry, internal=bool(internal))
    known = written in entry.classes + entry.internal_classes
    is_internal = written in british_association.INTERNAL_CLASSES
    return _checked(text, entry, written, known=known, is_internal=is_internal, asked=internal)


def _entry(series: str, size: str) -> Entry | None:
    return next((entry for entry in entries() if entry.series == series and entry.size == size), None)


def _checked(
    text: str, entry: Entry, thread_class: str, *, known: bool, is_internal: bool, asked: bool | None
) -> Designation:
    if not known:
        reason = f"names class {thread_class}, which {entry.standard} does not have for it"
        raise UnknownDesignationError(text, reason, _classes_of(entry, asked))
    if asked is not None and asked != is_internal:
        kind, other = ("internal", "external") if is_internal else ("external", "internal")
        reason = f"names {thread_class}, a class of {kind} threads, where an {other} thread was asked for"
        raise UnknownDesignationError(text, reason, _classes_of(entry, asked))
    return designation_of(entry, thread_class, internal=is_internal)


def _classes_of(entry: Entry, internal: bool | None) -> tuple[str, ...]:
    external = () if internal is True else entry.classes
    nuts = () if internal is False else entry.internal_classes
    return tuple(designation_of(entry, name, internal=False).text for name in dict.fromkeys(external + nuts))


@cache
def _known() -> dict[str, str]:
    known: dict[str, str] = {}
    for entry in entries():
        for text in _classes_of(entry, internal=None):
            known.setdefault(text.replace(" ", "").lower(), text)
    return known


def _nearest(compact: str) -> tuple[str, ...]:
    close = difflib.get_close_matches(compact.lower()[:40], list(_known()), n=3, cutoff=0.4)
    return tuple(_known()[match] for match in close)
