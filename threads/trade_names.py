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

from threads import workshop_band
from threads.series import MM_PER_INCH, Entry, entries

NAME_LAST = ("BA", "BSW", "BSF", "BSB", "BSC", "ME")
NAME_FIRST = ("SI", "SF", "DIN", "VSM", "Lowenherz", "Thury")
SERIES = NAME_LAST + NAME_FIRST
METRIC_BEFORE_ISO = ("DIN", "SI")
"""Where to look for a metric diameter that ISO does not have."""

ALIASES = {
    "whitworth": "BSW", "whit": "BSW", "brass": "BSB", "cei": "BSC", "cycle": "BSC",
    "löwenherz": "Lowenherz", "loewenherz": "Lowenherz",
}  # fmt: skip
"""Other names of a series, as people write them."""

NUT = "nut"
_NUMBERED = ("BA", "Thury")
_SAME = 1e-6  # mm
_CLASSES = ("close", "medium", "free", "normal", workshop_band.CLASS)

_NAMES = {**{name.lower(): name for name in SERIES}, **ALIASES}
_NAME = "|".join(sorted(_NAMES, key=len, reverse=True))
_CLASS = rf"-?(?P<class>{'|'.join(_CLASSES)})?-?(?P<nut>{NUT})?"
_LAST = re.compile(
    rf"#?(?P<diameter>\d{{1,2}}(?:/\d{{1,2}})?|\d?\.\d{{1,4}})(?:-(?P<pitch>\d{{1,2}}))?-?(?P<name>{_NAME}){_CLASS}",
    re.ASCII,
)
_FIRST = re.compile(
    rf"#?(?P<name>{_NAME})#?m?(?P<diameter>-?\d{{1,2}}(?:\.\d{{1,3}})?)(?:x(?P<pitch>\d(?:\.\d{{1,4}})?|\.\d{{1,4}}))?{_CLASS}",
    re.ASCII,
)


@dataclass(frozen=True)
class TradeName:
    """What was written: ``sizes`` are the entries that it can mean (none: not in the tables; several: say the pitch).

    ``thread_class`` is None where none is written. ``nut`` is True where the word stands.
    """

    series: str
    sizes: tuple[Entry, ...]
    thread_class: str | None
    nut: bool
    diameter: float
    pitch: float | None

    def distance(self, entry: Entry) -> tuple[float, float]:
        """How far a size of the series is from what was written: in diameter or number, then in pitch."""
        if self.series in _NUMBERED:
            return abs(int(entry.size) - self.diameter), 0.0
        return abs(entry.major_mm - self.diameter), abs(entry.pitch_mm - self.pitch) if self.pitch else 0.0


def read(compact: str) -> TradeName | None:
    """Read a designation without spaces, in lower case; None if it is none of these series.

    A pitch may be left out where the series has one for the diameter only, or, of metric series, for the coarse one.
    ``1/4-26 ME`` is the brass thread: the 26 to the inch of Model Engineer and brass are one and the same.
    """
    match = _LAST.fullmatch(compact) or _FIRST.fullmatch(compact)
    if match is None:
        return None
    series = _NAMES[match["name"]]
    if (series in NAME_LAST) != (match.re is _LAST):
        return None
    if series == "ME" and match["pitch"] == "26":
        series = "BSB"
    diameter, pitch = _mm(series, match["diameter"], match["pitch"])
    sizes = _sizes(series, diameter, pitch)
    return TradeName(series, sizes, match["class"], match["nut"] is not None, diameter, pitch)


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
    top, _, bottom = diameter.partition("/")
    size = float(top) / (int(bottom or 1) or math.inf)
    if series in NAME_FIRST or series in _NUMBERED:
        return size, float(pitch) if pitch else None
    return size * MM_PER_INCH, MM_PER_INCH / (float(pitch) or math.inf) if pitch else None


@cache
def _sizes(series: str, diameter: float, pitch: float | None) -> tuple[Entry, ...]:
    listed = entries(series)
    if series in _NUMBERED:
        return tuple(entry for entry in listed if int(entry.size) == diameter and pitch is None)
    of_diameter = [entry for entry in listed if abs(entry.major_mm - diameter) < _SAME]
    if pitch is None:
        return tuple(of_diameter[:1] if series in NAME_FIRST else of_diameter)  # the coarse pitch stands first there
    return tuple(entry for entry in of_diameter if abs(entry.pitch_mm - pitch) < _SAME)
