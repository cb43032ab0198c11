"""Limits of size of the microscope objective's screw, 0.8 in, 36 to the inch, Whitworth form; inches.

What could be read are the limits of the objective's major diameter. The greatest lies 0.0018 in. below basic: that
allowance is taken for the pitch diameter, too, and the rest is the workshop band. The nosepiece has the workshop band.
"""

from __future__ import annotations

from threads.rules import workshop_band
from threads.rules.rounding import round_to
from threads.rules.table import join_sources
from threads.rules.zone import Zone

SERIES = "RMS"
CLASS = "single"
"""The one class of the screw."""

MAJOR = (0.7952, 0.7982)
SOURCE = (
    "major diameter 0.7952 to 0.7982 in: a web page on optical threads; pitch diameter: the same allowance below basic "
    "and our own workshop band, no standard's"
)


def zone(major: float, threads_per_inch: float) -> Zone:
    """Limits of the objective, inches, four decimals; ``major``, ``threads_per_inch``: its basic sizes."""
    band = workshop_band.zone(major, 1 / threads_per_inch, "Whitworth", "in", internal=False)
    allowance = round_to(major - MAJOR[1], 4)
    low, high = (round_to(edge - allowance, 4) for edge in band.pitch_diameter if edge is not None)
    assert band.minor[1] is not None
    return Zone(
        unit="in",
        basic_major=major,
        basic_pitch_diameter=band.basic_pitch_diameter,
        basic_minor=band.basic_minor,
        allowance=allowance,
        major=MAJOR,
        pitch_diameter=(low, high),
        minor=(None, round_to(band.minor[1] - allowance, 4)),
        source=join_sources(band.source, SOURCE),
    )
