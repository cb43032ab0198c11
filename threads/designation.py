"""Reads a thread designation as people write it and gives it back as the standard writes it."""

from __future__ import annotations

import difflib
import math
import re
from dataclasses import dataclass, replace
from functools import cache

from threads import american_national, asme_machine_screws, iso_metric, own_names, trade_names, unified, workshop_band
from threads.series import Edition, Entry, builtin_names, edition, entries


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


_INCH = re.compile(
    r"#?(?P<size>(?:(?:\d-)?\d{1,4}(?:/\d{1,2})?|\d?\.\d{2,5})-\d{1,3})"
    r"(?P<series>[a-z]+?)-?(?P<class>\d[ab]?)?-?(?P<nut>nut)?",
    re.ASCII,
)
_MINIATURE = re.compile(
    r"#?(?:(?P<unm>\d?\.\d{1,2}|\d)unm|s(?P<s>\d?\.\d{1,2}|\d))-?(?P<nut>nut)?",
    re.ASCII,
)
_METRIC = re.compile(
    r"m(?P<major>\d{1,3}(?:\.\d{1,3})?)(?:x(?P<pitch>\d{1,2}(?:\.\d{1,3})?|\.\d{1,3}))?(?:-?(?P<class>\d[a-z](?:\d[a-z])?))?",
    re.ASCII | re.IGNORECASE,
)
_ROUNDED_ROOT = {"unrc": "UNC", "unrf": "UNF", "unref": "UNEF", "unrs": "UNS", "unr": "UN"}
_SAME_DIAMETER = 0.0005 + 1e-9  # in: what a diameter with three decimals leaves open
_CONSTANT_PITCH = ("8N", "12N", "16N")
"""American National series of one pitch: written 1/2-12 N-2, where the pitch tells which."""
_WITHOUT_CLASS = (asme_machine_screws.CLASS, workshop_band.CLASS)
"""Classes that are not written: a thread with one of these has no other."""
_SPELLING = str.maketrans(dict.fromkeys("‐‑‒–—−", "-") | {"×": "x", ",": "."})


def parse(text: str, *, internal: bool | None = None) -> Designation:
    """Read a designation: ``4-40 UNC-2A``, ``1/4-20 UNC-2B``, ``4-40 NC-2``, ``M2.5x0.45-6g``, ``M3-6H``, ``4 BA``,
    ``1/4-20 BSW``, ``SI 6x1``, ``Lowenherz 2.6`` (see ``trade_names``), and the workshop's own (see ``own_names``).

    Case, spaces, a leading ``#`` and a multiplication sign for ``x`` do not matter. One letter is the exception: the
    position in an ISO class, where the standard gives ``6h`` to the screw and ``6H`` to the nut.

    ``M3`` means the coarse pitch. Without a class the usual one is assumed: 2A (nut 2B), American National 2, 6g (nut
    6H; up to 1.4 mm 6h and 5H), BA normal, BSW and BSF medium. The screw is meant unless ``internal`` is True or the
    class is one of nuts or says ``nut``; in American National only ``internal`` tells. ``UNRC``, ``UNRF``, ``UNREF``
    are UNC, UNF, UNEF with the UNR form.
    A class of the standard that is not tabulated for the size (``4-40 UNC-1A``, ``M3-5g6g``) is accepted.

    Raises:
        UnknownDesignationError: the tables do not have it, or the class and ``internal`` contradict each other.
    """
    if own := own_names.read("".join(text.split()).translate(_SPELLING).lower()):
        entry, thread_class, nut = own
        return _in_trade_words(text, entry, thread_class, nut=nut or bool(internal), asked=internal)
    return parse_standard(text, internal=internal)


def parse_standard(text: str, *, internal: bool | None = None) -> Designation:
    """As ``parse``, of the built-in series alone."""
    compact = "".join(text.split()).translate(_SPELLING)
    if named := trade_names.read(compact.lower()):
        return _named(text, named, internal)
    if match := _INCH.fullmatch(compact.lower()):
        return _inch(text, match, internal)
    if match := _METRIC.fullmatch(compact):
        return _metric(text, match, internal)
    if match := _MINIATURE.fullmatch(compact.lower()):
        return _miniature(text, match, internal)
    raise UnknownDesignationError(text, "is not a thread designation with a series", _nearest(compact))


def reads_as_standard(compact: str) -> bool:
    """Whether a designation without spaces, in lower case, is written as one of a built-in series is."""
    if match := _INCH.fullmatch(compact):
        return match["series"] in _ROUNDED_ROOT or _inch_series(match) != ""
    return bool(trade_names.read(compact) or _METRIC.fullmatch(compact) or _MINIATURE.fullmatch(compact))


def designation_of(entry: Entry, thread_class: str, *, internal: bool) -> Designation:
    """The designation of a series entry with a class. Nothing is checked: take the class from the entry."""
    if entry.own:
        text = own_names.text_of(entry, thread_class, internal=internal)
    elif entry.form == "ISO metric":
        text = f"{entry.size}-{thread_class}"
    elif entry.series in trade_names.SERIES:
        text = trade_names.text_of(entry, thread_class, internal=internal)
    elif thread_class in _WITHOUT_CLASS:
        text = f"S{entry.size}" if entry.series == "S" else f"{entry.size} {entry.series}"
        text += " nut" if internal else ""
    else:
        series = entry.series.replace("UN", "UNR") if entry.form == "UNR" else entry.series
        text = f"{entry.size} {'N' if series in _CONSTANT_PITCH else series}-{thread_class}"
    return Designation(entry.series, entry.size, thread_class, internal, text, entry)


def usual_class(entry: Entry, *, internal: bool) -> str:
    """The class meant when none is written: 2A, 2B; 2; 6g, 6H (up to 1.4 mm 6h, 5H or 4H); normal, nut; medium."""
    classes = entry.internal_classes if internal else entry.classes
    usual = ("2B", "2") if internal else ("2A", "2", "normal")
    return next((name for name in usual if name in classes), classes[0])  # other tables name the usual class first


def _inch(text: str, match: re.Match[str], internal: bool | None) -> Designation:
    name, size = match["series"], match["size"]
    entry = _entry(_ROUNDED_ROOT.get(name) or _inch_series(match), size)
    if entry is None or entry.major_in is None:
        raise UnknownDesignationError(text, "is not in the tables", _nearest(match.string))
    if name in _ROUNDED_ROOT:
        entry = replace(entry, form="UNR")
    nut = bool(internal) or match["nut"] is not None
    written = match["class"].upper() if match["class"] else usual_class(entry, internal=nut)
    if written in (entry.internal_classes if nut else entry.classes) or entry.classes[0] in _WITHOUT_CLASS:
        known, is_internal = written in entry.classes + entry.internal_classes, nut
    elif entry.form == "American National":
        known, is_internal = written in american_national.CLASSES, nut
    else:
        known = written in unified.CLASSES + unified.INTERNAL_CLASSES
        is_internal = written in unified.INTERNAL_CLASSES
    asked = True if match["nut"] and internal is None else internal
    return _checked(text, entry, written, known=known, is_internal=is_internal, asked=asked)


def _inch_series(match: re.Match[str]) -> str:
    """The series that is written, empty if it is none."""
    name = match["series"]
    by_pitch = f"{match['size'].rpartition('-')[2]}N" if name == "n" else name
    return _series_names().get(by_pitch.lower(), "")


@cache
def _series_names() -> dict[str, str]:
    """Series by how they are written without spaces, in lower case."""
    return {"".join(name.split()).lower(): name for name in builtin_names()}


def _miniature(text: str, match: re.Match[str], internal: bool | None) -> Designation:
    series, size = ("UNM", match["unm"]) if match["unm"] else ("S", match["s"])
    entry = next((entry for entry in entries(series) if entry.major_mm == float(size)), None)
    if entry is None:
        raise UnknownDesignationError(text, "is not in the tables", _nearest(match.string))
    nut = bool(internal) or match["nut"] is not None
    thread_class = usual_class(entry, internal=nut)
    return _checked(text, entry, thread_class, known=True, is_internal=nut, asked=internal)


def _metric(text: str, match: re.Match[str], internal: bool | None) -> Designation:
    major = float(match["major"])
    of_diameter = [
        entry for entry in entries() if entry.form == "ISO metric" and entry.major_mm == major and not entry.own
    ]
    if match["pitch"] is None:
        found = [entry for entry in of_diameter if entry.series == "M"]
    else:
        found = [entry for entry in of_diameter if entry.pitch_mm == float(match["pitch"])]
    if not found:
        near = (
            of_diameter or _before_iso(major) or sorted(entries("M"), key=lambda entry: abs(entry.major_mm - major))[:3]
        )
        raise UnknownDesignationError(
            text, "is not in the tables", tuple(_classes_of(entry, internal)[0] for entry in near)
        )
    written = match["class"] or usual_class(found[0], internal=bool(internal))
    iso_class = iso_metric.tolerance_class(written)
    is_internal = iso_class.internal if iso_class else False
    return _checked(text, found[0], written, known=iso_class is not None, is_internal=is_internal, asked=internal)


def _before_iso(major: float) -> list[Entry]:
    """Metric threads of a diameter that ISO does not have, such as 1.7, 2.3 and 2.6 mm."""
    return [entry for name in trade_names.METRIC_BEFORE_ISO for entry in entries(name) if entry.major_mm == major]


def _named(text: str, named: trade_names.TradeName, internal: bool | None) -> Designation:
    if not named.sizes:
        raise UnknownDesignationError(text, "is not in the tables", _nearest_named(named, internal))
    if len(named.sizes) > 1:
        near = tuple(_classes_of(entry, internal)[0] for entry in named.sizes)
        raise UnknownDesignationError(text, "leaves its pitch open", near)
    nut = named.nut or bool(internal)
    return _in_trade_words(text, named.sizes[0], named.thread_class, nut=nut, asked=internal)


def _in_trade_words(text: str, entry: Entry, thread_class: str | None, *, nut: bool, asked: bool | None) -> Designation:
    written = thread_class
    if written is None:
        written = usual_class(entry, internal=nut)
    elif not nut and written not in entry.classes:
        nut = written in entry.internal_classes  # "normal" of a BSW thread is a class of nuts
    known = written in (entry.internal_classes if nut else entry.classes)
    return _checked(text, entry, written, known=known, is_internal=nut, asked=asked)


def _nearest_named(named: trade_names.TradeName, internal: bool | None) -> tuple[str, ...]:
    """Of a series that has no such size, the sizes nearest in diameter, then in pitch."""
    listed = sorted(entries(named.series), key=named.distance)
    return tuple(_classes_of(entry, internal)[0] for entry in listed[:3])


def _entry(series: str, size: str) -> Entry | None:
    """The size as the table writes it, or a fraction, mixed number (1-1/8-8) or decimal of the same diameter."""
    listed = [entry for entry in entries() if entry.series == series]
    exact = next((entry for entry in listed if entry.size == size), None)
    diameter, _, threads = size.rpartition("-")
    if exact or not ("/" in diameter or "." in diameter):
        return exact
    inches = _inches(diameter)
    # decimals are written with three or four places: 0.312 and 0.3125 are 5/16
    same = (entry for entry in listed if entry.major_in and abs(entry.major_in - inches) <= _SAME_DIAMETER)
    return next((entry for entry in same if entry.threads_per_inch == int(threads)), None)


def _inches(diameter: str) -> float:
    whole, _, rest = diameter.rpartition("-")
    top, _, bottom = rest.partition("/")
    return int(whole or 0) + float(top) / (int(bottom or 1) or math.inf)


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
    screws = [(name, False) for name in entry.classes if internal is not True]
    nuts = [(name, True) for name in entry.internal_classes if internal is not False]
    return tuple(dict.fromkeys(designation_of(entry, name, internal=nut).text for name, nut in screws + nuts))


@cache
def _known(_edition: Edition) -> dict[str, str]:
    known: dict[str, str] = {}
    for entry in entries():
        for text in _classes_of(entry, internal=None):
            known.setdefault(text.replace(" ", "").lower(), text)
    return known


def known_designations(*, internal: bool) -> tuple[str, ...]:
    """Every designation in the tables, of screws or of holes, for whoever completes what is being typed."""
    return tuple(dict.fromkeys(text for entry in entries() for text in _classes_of(entry, internal)))


def _nearest(compact: str) -> tuple[str, ...]:
    known = _known(edition())
    close = difflib.get_close_matches(compact.lower()[:40], list(known), n=3, cutoff=0.4)
    return tuple(known[match] for match in close)
