"""Reads a thread designation as people write it and gives it back as the standard writes it."""

from __future__ import annotations

import re
from collections.abc import Callable
from dataclasses import dataclass, replace
from functools import cache

from threads.rules import american_national, asme_machine_screws, iso_metric, unified, workshop_band
from threads.rules.series_tables import ALIASES, Entry, builtin_names
from threads.shared.refusal import Given, Reason, ReasonedError
from threads.standards import nearest_threads, own_names, spelling, trade_names
from threads.standards.series import entries, series_names


class UnknownDesignationError(ReasonedError, ValueError):
    """A designation that is not in the tables, or can be read in more than one way.

    ``nearest`` holds known designations near it in diameter and pitch, or the readings.
    """

    def __init__(
        self, text: str, case: str, nearest: tuple[str, ...], *, offered: str = "offered.nearest", **values: Given
    ) -> None:
        self.nearest = nearest
        shown = ascii(" ".join(text.split())[:60])
        offer = Reason(offered, names=nearest) if nearest else Reason("offered.nothing")
        super().__init__(Reason(f"unknown_designation.{case}", text=shown, offer=offer, **values))


@dataclass(frozen=True)
class Designation:
    """A thread of a series, with its class.

    ``text`` is the canonical designation (``4-40 UNC-2A``, ``M2.5x0.45-6g-LH``, ``4-40 NC-2``, ``4 BA close``).
    ``parse(text, internal=internal)`` gives the same designation back. ``entry`` is the row of the series table.
    """

    series: str
    size: str
    thread_class: str
    internal: bool
    text: str
    entry: Entry
    left_hand: bool = False


_DIAMETER = r"(?P<diameter>(?:\d{1,2}-)?\d{1,3}/\d{1,2}|\d?\.\d{1,5}|0{1,4}|[1-9]\d?)(?:[-x](?P<tpi>[1-9]\d{0,2}))?"
_INCH = re.compile(rf"{_DIAMETER}(?P<series>[a-z]+?)-?(?P<class>\d[ab]?)?-?(?P<nut>nut)?", re.ASCII)
_INCH_NAME_FIRST = re.compile(rf"(?P<series>[a-z]+)-?{_DIAMETER}(?:-(?P<class>\d[ab]?))?-?(?P<nut>nut)?", re.ASCII)
_SIZE_ONLY = re.compile(_DIAMETER, re.ASCII)
_SMALL = r"\d?\.\d{1,2}|\d"
_MINIATURE = re.compile(
    rf"(?:(?:(?P<unm>{_SMALL})unm|unm(?P<unm_>{_SMALL}))|s(?P<s>{_SMALL}))-?(?P<nut>nut)?", re.ASCII
)
_METRIC = re.compile(
    r"m(?P<major>(?:0|[1-9]\d{0,2})(?:\.\d{1,3})?)(?:[x-](?P<pitch>(?:0|[1-9]\d?)(?:\.\d{1,3})?|\.\d{1,3}))?"
    r"(?:-(?P<class>\d[a-z](?:\d[a-z])?))?",
    re.ASCII | re.IGNORECASE,
)
_ROUNDED_ROOT = {"unrc": "UNC", "unrf": "UNF", "unref": "UNEF", "unrs": "UNS", "unr": "UN"}
_CONSTANT_PITCH = ("8N", "12N", "16N")
"""American National series of one pitch: written 1/2-12 N-2, where the pitch tells which."""
_HYPHENATED = ("UN", "UNR", "ISO metric", "American National")
"""Forms whose standards write ``-LH`` behind the class."""
_WITHOUT_CLASS = (asme_machine_screws.CLASS, workshop_band.CLASS)
"""Classes that are not written: a thread with one of these has no other."""


def parse(text: str, *, internal: bool | None = None) -> Designation:
    """Read a designation: ``4-40 UNC-2A``, ``1/4-20 UNC-2B``, ``4-40 NC-2``, ``M2.5x0.45-6g``, ``M3-6H``, ``4 BA``,
    ``1/4-20 BSW``, ``SI 6x1``, ``Lowenherz 2.6`` (see ``trade_names``), and the workshop's own (see ``own_names``).

    Case does not matter, nor do the signs that ``spelling.compact`` knows, nor whether the name of the series goes
    first or last. One letter is the exception: the position in an ISO class, where the standard gives ``6h`` to the
    screw and ``6H`` to the nut. A space between two digits is a hyphen or the space of a mixed number; where leaving it
    out gives a thread as well, the text is refused.

    ``M3`` means the coarse pitch; of another series the pitch may be left out where it has one for the diameter.
    Without a class the usual one is assumed: 2A (nut 2B), American National 2, 6g (nut 6H; up to 1.4 mm 6h and 5H), BA
    normal, BSW and BSF medium. The screw is meant unless ``internal`` is True or the class is one of nuts or says
    ``nut``; in American National only ``internal`` tells. ``UNRC``, ``UNRF``, ``UNREF`` are UNC, UNF, UNEF with the UNR
    form. ``LH`` at the end is a left-hand thread.
    A class of the standard that is not tabulated for the size (``4-40 UNC-1A``, ``M3-5g6g``) is accepted.

    Raises:
        UnknownDesignationError: the tables do not have it, it can be read in two ways, or the class and ``internal``
            contradict each other.
    """
    compact = spelling.compact(text).lower()
    for written, left_hand in dict.fromkeys(((compact, False), spelling.without_hand(compact))):
        if own := own_names.read(written):
            entry, thread_class, nut = own
            found = _in_trade_words(text, entry, thread_class, nut=nut or bool(internal), asked=internal)
            return _of_hand(found, left_hand=left_hand)
    return parse_standard(text, internal=internal)


def parse_standard(text: str, *, internal: bool | None = None) -> Designation:
    """As ``parse``, of the built-in series alone."""
    compact, left_hand = spelling.without_hand(spelling.compact(text))
    written = spelling.readings(compact)
    run_together = dict.fromkeys(
        found.text for reading in written.run_together if (found := _read_or_none(text, reading, internal))
    )
    try:
        found = _read(text, written.meant, internal)
    except UnknownDesignationError:
        if not run_together:
            raise
        raise UnknownDesignationError(text, "space", tuple(run_together), offered="offered.without_it") from None
    if set(run_together) - {found.text}:
        readings = (found.text, *run_together)
        raise UnknownDesignationError(text, "two_readings", readings, offered="offered.write_one")
    return _of_hand(found, left_hand=left_hand)


def reads_as_standard(compact: str) -> bool:
    """Whether a designation as ``own_names.compact`` gives it is written as one of a built-in series is."""
    written = spelling.readings(spelling.without_hand(compact)[0])
    return any(_reader(reading) is not None for reading in (written.meant, *written.run_together))


_Reader = Callable[[str, bool | None], Designation]


def _read(text: str, compact: str, internal: bool | None) -> Designation:
    reader = _reader(compact)
    if reader is None:
        raise UnknownDesignationError(text, "no_series", _nearest(compact, internal))
    return reader(text, internal)


def _read_or_none(text: str, compact: str, internal: bool | None) -> Designation | None:
    try:
        return _read(text, compact, internal)
    except UnknownDesignationError:
        return None


def _reader(compact: str) -> _Reader | None:
    """What reads a designation without spaces; None if it is written as one of no built-in series."""
    lower = compact.lower()
    if named := trade_names.read(lower):
        return lambda text, internal: _named(text, lower, named, internal)
    if metric := _METRIC.fullmatch(compact):
        return lambda text, internal: _metric(text, metric, internal)
    if miniature := _MINIATURE.fullmatch(lower):
        return lambda text, internal: _miniature(text, miniature, internal)
    if bare := _SIZE_ONLY.fullmatch(lower):
        return lambda text, internal: _without_series(text, bare, internal)
    for pattern in (_INCH, _INCH_NAME_FIRST):
        if (inch := pattern.fullmatch(lower)) and (inch["series"] in _ROUNDED_ROOT or _inch_series(inch)):
            return lambda text, internal: _inch(text, inch, internal)
    return None


def _of_hand(found: Designation, *, left_hand: bool) -> Designation:
    if not left_hand:
        return found
    return designation_of(found.entry, found.thread_class, internal=found.internal, left_hand=True)


def designation_of(entry: Entry, thread_class: str, *, internal: bool, left_hand: bool = False) -> Designation:
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
    if left_hand:
        text += "-LH" if entry.form in _HYPHENATED and not entry.own else " LH"
    return Designation(entry.series, entry.size, thread_class, internal, text, entry, left_hand)


def usual_class(entry: Entry, *, internal: bool) -> str:
    """The class meant when none is written: 2A, 2B; 2; 6g, 6H (up to 1.4 mm 6h, 5H or 4H); normal, nut; medium."""
    classes = entry.internal_classes if internal else entry.classes
    usual = ("2B", "2") if internal else ("2A", "2", "normal")
    return next((name for name in usual if name in classes), classes[0])  # other tables name the usual class first


def _inch(text: str, match: re.Match[str], internal: bool | None) -> Designation:
    name = match["series"]
    found = _entries(_ROUNDED_ROOT.get(name) or _inch_series(match), match["diameter"], match["tpi"])
    if not found:
        raise UnknownDesignationError(text, "not_in_tables", _nearest(match.string, internal))
    if len(found) > 1:
        raise _pitch_left_open(text, found, internal)
    entry = replace(found[0], form="UNR") if name in _ROUNDED_ROOT else found[0]
    nut = bool(internal) or match["nut"] is not None
    written = match["class"].upper() if match["class"] else usual_class(entry, internal=nut)
    is_internal = nut
    if entry.form in ("UN", "UNR"):
        known, is_internal = written in unified.CLASSES + unified.INTERNAL_CLASSES, written in unified.INTERNAL_CLASSES
    elif entry.form == "American National":
        known = written in american_national.CLASSES
    else:
        known = written in (entry.internal_classes if nut else entry.classes)
    asked = True if match["nut"] and internal is None else internal
    return _checked(text, entry, written, known=known, is_internal=is_internal, asked=asked)


def _without_series(text: str, match: re.Match[str], internal: bool | None) -> Designation:
    inch = [name for name in builtin_names() if entries(name)[0].threads_per_inch]
    found = [entry for name in inch for entry in _entries(name, match["diameter"], match["tpi"]) if match["tpi"]]
    texts = tuple(_usual(entry, internal) for entry in found)
    if len(found) == 1:
        return parse_standard(texts[0], internal=internal)
    if not found:
        raise UnknownDesignationError(text, "no_series", _nearest(match.string, internal))
    raise UnknownDesignationError(text, "no_series", texts, offered="offered.write_one")


def _inch_series(match: re.Match[str]) -> str:
    """The series that is written, empty if it is none."""
    name = match["series"]
    by_pitch = f"{match['tpi']}N" if name == "n" else name
    return _series_names().get(by_pitch.lower(), "")


@cache
def _series_names() -> dict[str, str]:
    """Series by how they are written without spaces, in lower case."""
    return {"".join(name.split()).lower(): name for name in builtin_names()}


def _miniature(text: str, match: re.Match[str], internal: bool | None) -> Designation:
    unm = match["unm"] or match["unm_"]
    series, size = ("UNM", unm) if unm else ("S", match["s"])
    entry = next((entry for entry in entries(series) if entry.major_mm == float(size)), None)
    if entry is None:
        raise UnknownDesignationError(text, "not_in_tables", _nearest(match.string, internal))
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
        in_inches = trade_names.read(re.sub(r"^m", "lens", match.string.lower()))
        if in_inches and in_inches.sizes:  # M39x26 of lens mounts: 26 to the inch
            return _named(text, match.string.lower(), in_inches, internal)
        raise UnknownDesignationError(text, "not_in_tables", _nearest(match.string.lower(), internal))
    written = match["class"] or usual_class(found[0], internal=bool(internal))
    iso_class = iso_metric.tolerance_class(written)
    is_internal = iso_class.internal if iso_class else False
    return _checked(text, found[0], written, known=iso_class is not None, is_internal=is_internal, asked=internal)


def _named(text: str, compact: str, named: trade_names.TradeName, internal: bool | None) -> Designation:
    if not named.sizes:
        raise UnknownDesignationError(text, "not_in_tables", _nearest(compact, internal))
    if len(named.sizes) > 1:
        raise _pitch_left_open(text, named.sizes, internal)
    nut = named.nut or bool(internal)
    return _in_trade_words(text, named.sizes[0], named.thread_class, nut=nut, asked=internal)


def _pitch_left_open(text: str, found: tuple[Entry, ...], internal: bool | None) -> UnknownDesignationError:
    near = tuple(_classes_of(entry, internal)[0] for entry in found)
    return UnknownDesignationError(text, "pitch_open", near, offered="offered.write_one")


def _in_trade_words(text: str, entry: Entry, thread_class: str | None, *, nut: bool, asked: bool | None) -> Designation:
    written = thread_class
    if written is None:
        written = usual_class(entry, internal=nut)
    elif not nut and written not in entry.classes:
        nut = written in entry.internal_classes  # "normal" of a BSW thread is a class of nuts
    known = written in (entry.internal_classes if nut else entry.classes)
    return _checked(text, entry, written, known=known, is_internal=nut, asked=asked)


def _entries(series: str, diameter: str, tpi: str | None) -> tuple[Entry, ...]:
    """The sizes of an inch series with a diameter as the table writes it, or as a fraction, mixed number or decimal."""
    listed = [entry for entry in entries(series) if tpi is None or entry.size.rpartition("-")[2] == tpi]
    if exact := tuple(entry for entry in listed if entry.size.rpartition("-")[0] == diameter):
        return exact
    if not ("/" in diameter or "." in diameter):
        return ()
    inches = spelling.inches(diameter)
    same = trade_names.SAME_DECIMAL_IN if "." in diameter else 1e-9
    return tuple(entry for entry in listed if entry.major_in and abs(entry.major_in - inches) <= same)


def _checked(
    text: str, entry: Entry, thread_class: str, *, known: bool, is_internal: bool, asked: bool | None
) -> Designation:
    if not known:
        named = {"thread_class": thread_class, "standard": entry.standard}
        raise UnknownDesignationError(text, "class", _classes_of(entry, asked), **named)
    if asked is not None and asked != is_internal:
        case = "internal" if asked else "external"
        raise UnknownDesignationError(text, case, _classes_of(entry, asked), thread_class=thread_class)
    return designation_of(entry, thread_class, internal=is_internal)


def _classes_of(entry: Entry, internal: bool | None) -> tuple[str, ...]:
    screws = [(name, False) for name in entry.classes if internal is not True]
    nuts = [(name, True) for name in entry.internal_classes if internal is not False]
    return tuple(dict.fromkeys(designation_of(entry, name, internal=nut).text for name, nut in screws + nuts))


def known_designations(*, internal: bool) -> tuple[str, ...]:
    """Every designation in the tables, of screws or of holes, for whoever completes what is being typed."""
    return tuple(dict.fromkeys(text for entry in entries() for text in _classes_of(entry, internal)))


def _nearest(compact: str, internal: bool | None) -> tuple[str, ...]:
    """Designations of the threads nearest to what is written; the classes of the one that only its class keeps off."""
    written = compact.lower()
    series = _series_written(written)
    metric = bool(re.match(r"m[\d.]", written)) or any(entries(name)[0].threads_per_inch is None for name in series)
    numbered = next((name for name in series if name in trade_names.NUMBERED), None)
    guesses = nearest_threads.guesses_of(written, metric=metric, numbered=numbered)
    near = nearest_threads.nearest(guesses, series)
    if near and near[0].series in series and nearest_threads.fits(near[0], guesses):
        return _classes_of(near[0], internal)
    return tuple(dict.fromkeys(_usual(entry, internal) for entry in near))


def _series_written(written: str) -> tuple[str, ...]:
    """The series that the words of ``written`` may name."""
    known = {"".join(name.split()).lower(): name for name in series_names()}
    known |= ALIASES | _ROUNDED_ROOT
    words = re.findall(r"[a-zö]+", written)
    starts = [[name for name in known if word.startswith(name)] for word in words]
    named = [known[max(names, key=len)] for names in starts if names]  # "baloose" is BA with a class that it lacks
    return ("M", "M fine") if named == ["M"] else tuple(dict.fromkeys(named))


def _usual(entry: Entry, internal: bool | None) -> str:
    return designation_of(entry, usual_class(entry, internal=bool(internal)), internal=bool(internal)).text
