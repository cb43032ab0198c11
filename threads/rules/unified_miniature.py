"""Limits of size of Unified miniature threads (UNM), ASME B1.10M: the printed table, millimetres.

The nut's minor diameter is D - 1.04 p. That of ISO 1501 (series S), which has the same diameters and pitches, is
D - 0.96 p: the two are not to be mixed.
"""

from __future__ import annotations

from functools import cache

from threads.rules.rounding import round_to
from threads.rules.table import rows
from threads.rules.zone import Edge, Zone

CLASS = "single"
"""The one class of screw and nut."""

_EDGES = {
    False: ("major", "pitch_diameter", "minor"),
    True: ("nut_major", "nut_pitch_diameter", "nut_minor"),
}


@cache
def _row(size: str) -> dict[str, str]:
    return next(row for row in rows("unified_miniature.csv") if row["size"] == size)


def zone(size: str, *, internal: bool) -> Zone:
    """Limits of a UNM screw or nut as printed, mm.

    The standard prints the least minor diameter of the screw and the limits of the nut's major diameter for reference:
    they are those of the tools. Raises StopIteration for a size that the table does not have.

    >>> zone("0.80", internal=False).pitch_diameter
    (0.646, 0.67)
    """
    row = _row(size)
    edges: list[Edge] = [(float(row[f"{name}_min_mm"]), float(row[f"{name}_max_mm"])) for name in _EDGES[internal]]
    major, pitch = float(row["major_mm"]), float(row["pitch_mm"])
    return Zone(
        unit="mm",
        basic_major=major,
        basic_pitch_diameter=float(row["pitch_diameter_max_mm"]),
        basic_minor=round_to(major - 1.04 * pitch, 3),
        allowance=0.0,
        major=edges[0],
        pitch_diameter=edges[1],
        minor=edges[2],
        source=row["source"],
    )
