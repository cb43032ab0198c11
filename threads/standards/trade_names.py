"""Designations of threads that the trade calls by diameter or number and a name: ``1/4-20 BSW``, ``4 BA``, ``SI 6x1``.

Nuts say so: ``1/4-20 BSW medium nut``, ``4 BA nut``. The class of a thread that has none (``workshop_band``) is not
written. The standards write no name for Lowenherz, Thury and the metric threads before ISO that would tell them from
others of the same diameter: here the name of the series goes first.
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from functools import cache

from threads.rules import workshop_band
from threads.rules.series_tables import ALIASES, MM_PER_INCH, Entry
from threads.standards import spelling
from threads.standards.series import entries

NAME_LAST = ("BA", "BSW", "BSF", "BSB", "BSC", "ME", "RMS", "IP", "SM", "WP", "V")
NAME_FIRST = ("SI", "SF", "DIN", "VSM", "JIS", "FR", "Lowenherz", "Thury", "Lens", "G")
WRITTEN_AS = {"SI small": "SI"}
"""Series that go by the name of another: the small screws beside the Systeme International."""
SERIES = (*NAME_LAST, *NAME_FIRST, *WRITTEN_AS)

NUT = "nut"
NUMBERED = ("BA", "Thury", "WP")
"""Series that write a number instead of a diameter: it falls as the number rises."""
_BY_SIZE = (*NUMBERED, "G", "IP")
"""Series whose size is a name, not a diameter."""
_ONE_SIZE = {"rms": "RMS"}
"""Series of one size, which need not be written."""
SAME_DECIMAL_IN = 0.0005 + 1e-9
"""What a diameter in decimals of an inch leaves open, as three places do: 0.312 and 0.3125 are 5/16."""
_SAME, _PITCH_SAME = 1e-6, 1e-5  # mm
_CLASSES = ("close", "medium", "free", "normal", "single", workshop_band.CLASS)
_NOT_WRITTEN = (NUT, "single", workshop_band.CLASS)

_NAMES = {**{name.lower(): name for name in (*NAME_LAST, *NAME_FIRST)}, **ALIASES}
_NAME = rf"(?P<name>{'|'.join(sorted(_NAMES, key=len, reverse=True))})"
_NAME_BEHIND = _NAME.replace("|g|", "|")
"""``3-6 G`` would be an ISO class."""
_CLASS = rf"-?(?P<class>{'|'.join(_CLASSES)}|(?<=\d)-?[ab])?-?(?P<nut>{NUT})?"
_WHOLE = r"(?:0|[1-9]\d?)"
_FRACTION = r"(?:\d{1,2}-)?\d{1,2}/\d{1,2}"
_INCHES = rf"(?P<diameter>{_FRACTION}|{_WHOLE}|\d?\.\d{{1,4}})(?:[-x](?P<pitch>{_WHOLE}))?"
_MM = (
    rf"m?(?P<diameter>{_FRACTION}|-?{_WHOLE}(?:\.\d{{1,3}})?)"
    rf"(?:[-x](?P<pitch>{_WHOLE}(?:\.\d{{1,4}})?|\.\d{{1,4}}|1/{_WHOLE}))?"
)
_LAST, _FIRST = (
    tuple(re.compile(f"{order}{_CLASS}", re.ASCII) for order in (f"{size}-?{_NAME_BEHIND}", f"{_NAME}{size}"))
    for size in (_INCHES, _MM)
)
"""How sizes of ``NAME_LAST`` and of ``NAME_FIRST`` are written; either name may stand at the other end, too."""
_ALONE = re.compile(f"(?P<name>{'|'.join(_ONE_SIZE)}){_CLASS}", re.ASCII)


@dataclass(frozen=True)
class TradeName:
    """What was written: ``sizes`` are the entries that it can mean (none: not in the tables; several: say the pitch).

    ``thread_class`` is None where none is written. ``nut`` is True where the word stands.
    """

    series: str
    sizes: tuple[Entry, ...]
    thread_class: str | None
    nut: bool


def read(compact: str) -> TradeName | None:
    """Read a designation without spaces, in lower case; None if it is none of these series.

    A pitch may be left out where the series has one for the diameter only, or, of metric series, for the coarse one.
    ``1/4-26 ME`` is the brass thread: the 26 to the inch of Model Engineer and brass are one and the same.
    """
    if alone := _ALONE.fullmatch(compact):
        series = _ONE_SIZE[alone["name"]]
        return TradeName(series, entries(series), alone["class"], alone["nut"] is not None)
    both = ((NAME_LAST, _LAST), (NAME_FIRST, _FIRST))
    found = ((pattern.fullmatch(compact), names) for names, patterns in both for pattern in patterns)
    match = next((match for match, names in found if match and _NAMES[match["name"]] in names), None)
    if match is None:
        return None
    series = _NAMES[match["name"]]
    if series == "ME" and match["pitch"] == "26":
        series = "BSB"
    written = match["class"]
    if written and len(written.lstrip("-")) == 1:
        written = written.lstrip("-").upper()
        if series != "G":
            return None
    of_name = [series, *(other for other, name in WRITTEN_AS.items() if name == series)]
    sizes = tuple(entry for name in of_name for entry in _sizes(name, match["diameter"], match["pitch"]))
    return TradeName(series, sizes, written, match["nut"] is not None)


def text_of(entry: Entry, thread_class: str, *, internal: bool) -> str:
    """The canonical designation of a size of one of ``SERIES``."""
    name = WRITTEN_AS.get(entry.series, entry.series)
    parts = [entry.size, name] if name in NAME_LAST else [name, entry.size]
    if entry.size == name:
        parts = [name]
    if thread_class not in _NOT_WRITTEN:
        parts.append(thread_class)
    if internal:
        parts.append(NUT)
    return " ".join(parts)


@cache
def _sizes(series: str, diameter: str, pitch: str | None) -> tuple[Entry, ...]:
    """The sizes of a series with what is written as diameter (or number) and pitch."""
    listed = entries(series)
    if series in _BY_SIZE:
        named = (entry for entry in listed if entry.size == diameter)
        return tuple(entry for entry in named if pitch is None or _has_pitch(entry, pitch, of_inch=True))
    of_inch = listed[0].threads_per_inch is not None
    inches = of_inch and series in NAME_LAST
    if not inches and "/" in diameter:
        return ()
    size = spelling.inches(diameter) * MM_PER_INCH if inches else float(diameter)
    same = SAME_DECIMAL_IN * MM_PER_INCH if inches and "." in diameter else 1e-4 if of_inch else _SAME
    of_diameter = [entry for entry in listed if abs(entry.major_mm - size) <= same]
    if pitch is None:
        return tuple(of_diameter if series in NAME_LAST else of_diameter[:1])  # the coarse pitch stands first there
    return tuple(entry for entry in of_diameter if _has_pitch(entry, pitch, of_inch=of_inch))


def _has_pitch(entry: Entry, pitch: str, *, of_inch: bool) -> bool:
    """Whether a pitch is written: in mm, or threads to the inch, with or without ``1/`` before them."""
    written = float(pitch.removeprefix("1/"))
    return written > 0 and abs(entry.pitch_mm - (MM_PER_INCH / written if of_inch else written)) < _PITCH_SAME
