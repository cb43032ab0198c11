"""Designations of threads that the trade calls by diameter or number and a name: ``1/4-20 BSW``, ``4 BA``, ``SI 6x1``.

Nuts say so: ``1/4-20 BSW medium nut``, ``4 BA nut``. The class of a thread that has none (``workshop_band``) is not
written. The standards write no name for Lowenherz, Thury and the metric threads before ISO that would tell them from
others of the same diameter: here the name of the series goes first.
"""

from __future__ import annotations

import math
import re
from dataclasses import dataclass
from functools import cache

from threads.rules import workshop_band
from threads.rules.series_tables import ALIASES, MM_PER_INCH, Entry
from threads.standards import spelling
from threads.standards.series import entries

NAME_LAST = ("BA", "BSW", "BSF", "BSB", "BSC", "ME")
NAME_FIRST = ("SI", "SF", "DIN", "VSM", "Lowenherz", "Thury")
SERIES = NAME_LAST + NAME_FIRST
METRIC_BEFORE_ISO = ("DIN", "SI")
"""Where to look for a metric diameter that ISO does not have."""

NUT = "nut"
NUMBERED = ("BA", "Thury")
"""Series that write a number instead of a diameter: it falls as the number rises."""
SAME_DECIMAL_IN = 0.0005 + 1e-9
"""What a diameter in decimals of an inch leaves open, as three places do: 0.312 and 0.3125 are 5/16."""
_SAME = 1e-6  # mm
_CLASSES = ("close", "medium", "free", "normal", workshop_band.CLASS)

_NAMES = {**{name.lower(): name for name in SERIES}, **ALIASES}
_NAME = rf"(?P<name>{'|'.join(sorted(_NAMES, key=len, reverse=True))})"
_CLASS = rf"-?(?P<class>{'|'.join(_CLASSES)})?-?(?P<nut>{NUT})?"
_WHOLE = r"(?:0|[1-9]\d?)"
_INCHES = rf"(?P<diameter>(?:\d{{1,2}}-)?\d{{1,2}}/\d{{1,2}}|{_WHOLE}|\d?\.\d{{1,4}})(?:[-x](?P<pitch>{_WHOLE}))?"
_MM = rf"m?(?P<diameter>-?{_WHOLE}(?:\.\d{{1,3}})?)(?:[-x](?P<pitch>\d(?:\.\d{{1,4}})?|\.\d{{1,4}}))?"
_LAST, _FIRST = (
    tuple(re.compile(f"{order}{_CLASS}", re.ASCII) for order in (f"{size}-?{_NAME}", f"{_NAME}{size}"))
    for size in (_INCHES, _MM)
)
"""How sizes of ``NAME_LAST`` and of ``NAME_FIRST`` are written; either name may stand at the other end, too."""


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
    both = ((NAME_LAST, _LAST), (NAME_FIRST, _FIRST))
    found = ((pattern.fullmatch(compact), names) for names, patterns in both for pattern in patterns)
    match = next((match for match, names in found if match and _NAMES[match["name"]] in names), None)
    if match is None:
        return None
    series = _NAMES[match["name"]]
    if series == "ME" and match["pitch"] == "26":
        series = "BSB"
    diameter, pitch = _mm(series, match["diameter"], match["pitch"])
    decimal = series in NAME_LAST and "." in match["diameter"]
    sizes = _sizes(series, diameter, pitch, SAME_DECIMAL_IN * MM_PER_INCH if decimal else _SAME)
    return TradeName(series, sizes, match["class"], match["nut"] is not None)


def text_of(entry: Entry, thread_class: str, *, internal: bool) -> str:
    """The canonical designation of a size of one of ``SERIES``."""
    parts = [entry.size, entry.series] if entry.series in NAME_LAST else [entry.series, entry.size]
    if thread_class not in (workshop_band.CLASS, NUT):
        parts.append(thread_class)
    if internal:
        parts.append(NUT)
    return " ".join(parts)


def _mm(series: str, diameter: str, pitch: str | None) -> tuple[float, float | None]:
    """Diameter (or number) and pitch in mm; inch series are written in inches and threads to the inch."""
    if series in NAME_FIRST or (series in NUMBERED and "/" not in diameter):
        return float(diameter), float(pitch) if pitch else None
    return spelling.inches(diameter) * MM_PER_INCH, MM_PER_INCH / (float(pitch) or math.inf) if pitch else None


@cache
def _sizes(series: str, diameter: float, pitch: float | None, same: float) -> tuple[Entry, ...]:
    listed = entries(series)
    if series in NUMBERED:
        return tuple(entry for entry in listed if int(entry.size) == diameter and pitch is None)
    of_diameter = [entry for entry in listed if abs(entry.major_mm - diameter) <= same]
    if pitch is None:
        return tuple(of_diameter[:1] if series in NAME_FIRST else of_diameter)  # the coarse pitch stands first there
    return tuple(entry for entry in of_diameter if abs(entry.pitch_mm - pitch) < _SAME)
