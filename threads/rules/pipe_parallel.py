"""Limits of size of parallel pipe threads G, by ISO 228-1: screws of class A and B, and the one class of nut, mm."""

from __future__ import annotations

from functools import cache

from threads.rules.rounding import round_to
from threads.rules.table import rows
from threads.rules.zone import Edge, Zone

SOURCE = "tolerances as given in a public CAD library's table of ISO 228-1, after a trade table"

_CLASS_B = 2
"""The pitch diameter of a class B screw has twice the tolerance of class A."""


@cache
def _sizes() -> dict[str, dict[str, str]]:
    return {row["size"]: row for row in rows("pipe_parallel.csv")}


def zone(size: str, thread_class: str) -> Zone:
    """Limits of the pipe thread ``size``, mm. ``thread_class``: ``A``, ``B`` (screws) or ``nut``.

    The greatest screw and the least nut are basic. Raises KeyError for an unknown size.
    """
    row = _sizes()[size]
    major, pitch_diameter, minor = (float(row[name]) for name in ("major_mm", "pitch_diameter_mm", "minor_mm"))
    tolerance = float(row["pitch_tolerance_mm"])
    if thread_class == "nut":
        edges: tuple[Edge, Edge, Edge] = (
            (major, None),
            (pitch_diameter, round_to(pitch_diameter + tolerance, 3)),
            (minor, round_to(minor + float(row["minor_tolerance_mm"]), 3)),
        )
    else:
        below = tolerance * (_CLASS_B if thread_class == "B" else 1)
        edges = (
            (round_to(major - float(row["major_tolerance_mm"]), 3), major),
            (round_to(pitch_diameter - below, 3), pitch_diameter),
            (None, minor),
        )
    return Zone("mm", major, pitch_diameter, minor, 0.0, *edges, source=SOURCE)
