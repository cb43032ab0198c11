"""Limits of size of American National threads (NC, NF, NEF, NS, 8N, 12N, 16N): screw and nut, classes 1, 2 and 3.

The rules are those of NBS Handbook H28 (1942, 1944) and ASA B1.1-1935 as they are remembered: neither text could be
read. So all limits here are marked ``from memory, unverified``; tolerances of classes 2 and 3 that are confirmed by
printed maximum pitch diameters say so in addition. Classes 4 and 5 are left out: no source can be named for them.
The tolerances by threads per inch are those of NC and NF. The other series, whose own ones could not be read, take
them over, and where NC and NF have no such pitch, classes 2 and 3 take the formula for special threads
(``special_tolerance``).
"""

from __future__ import annotations

from functools import cache

from threads.rules.rounding import round_to
from threads.rules.table import FROM_MEMORY, join_sources, rows
from threads.rules.zone import Edge, Zone

CLASSES = ("1", "2", "3")

SPECIAL_SOURCE = (
    f"{FROM_MEMORY}: tolerance by the formula for special threads (NBS Handbook H28), engagement = diameter"
)
RULES = f"{FROM_MEMORY}: the rules for major and minor diameter (NBS Handbook H28, ASA B1.1-1935)"


@cache
def _tolerances() -> dict[tuple[float, str], tuple[float, float, str]]:
    return {
        (float(row["threads_per_inch"]), row["class"]): (
            float(row["pitch_diameter_tolerance_in"]),
            float(row["allowance_in"]),
            row["source"],
        )
        for row in rows("american_national_tolerances.csv")
    }


_SPECIAL = {"2": 0.010, "3": 0.005}  # factor of the square root of the pitch


def special_tolerance(major: float, pitch: float, thread_class: str) -> float:
    """Tolerance of the pitch diameter of a special thread engaged over its diameter, class 2 or 3, in inches.

    0.002 D^(1/2) + 0.002 Q + C p^(1/2), with the length of engagement Q = D and C = 0.010 (class 2), 0.005 (class 3);
    from memory, unverified: the section on special threads of NBS Handbook H28. Raises KeyError for another class.

    >>> round_to(special_tolerance(0.25, 0.05, "3"), 4)
    0.0026
    """
    return 0.002 * major**0.5 + 0.002 * major + _SPECIAL[thread_class] * pitch**0.5


def _tolerance(major: float, threads_per_inch: float, thread_class: str) -> tuple[float, float, str]:
    """Tolerance of the pitch diameter, allowance, and their source."""
    known = _tolerances().get((float(threads_per_inch), thread_class))
    if known is not None:
        return known
    return round_to(special_tolerance(major, 1 / threads_per_inch, thread_class), 4), 0.0, SPECIAL_SOURCE


def zone(major: float, threads_per_inch: float, thread_class: str, *, internal: bool) -> Zone:
    """Limits of an American National screw or nut, inches, four decimals.

    ``major`` is the basic major diameter in inches, ``thread_class`` one of ``CLASSES``. With E = D - 0.6495 p and the
    tolerance T of the pitch diameter (by threads per inch and class):
    screw: E max = E - allowance, E min = E max - T; D max = D - allowance, D min = D max - 2 T (class 1: its own T,
    classes 2 and 3: that of class 2); K max = D - 1.2269 p - allowance, K min = E min - 0.6495 p.
    nut: E min = E, E max = E + T; K min = D - 1.0825 p, K max not recalled: None; D min = D, D max = E max + 0.7939 p.
    Raises KeyError for a class without a tolerance.
    """
    pitch = 1 / threads_per_inch
    tolerance, allowance, source = _tolerance(major, threads_per_inch, thread_class)
    basic_pd = round_to(major - 0.64951905 * pitch, 4)
    basic_minor = round_to(major - 1.29903811 * pitch, 4)
    if internal:
        allowance = 0.0
        pd_max = round_to(basic_pd + tolerance, 4)
        major_edge: Edge = (round_to(major, 4), round_to(pd_max + 0.79385662 * pitch, 4))
        pd_edge: Edge = (basic_pd, pd_max)
        minor_edge: Edge = (round_to(major - 1.08253175 * pitch, 4), None)
    else:
        own = thread_class if thread_class == "1" else "2"
        major_tolerance, _, major_source = _tolerance(major, threads_per_inch, own)
        top = round_to(major - allowance, 4)
        pd_max = round_to(basic_pd - allowance, 4)
        pd_min = round_to(pd_max - tolerance, 4)
        major_edge = (round_to(top - 2 * major_tolerance, 4), top)
        pd_edge = (pd_min, pd_max)
        minor_edge = (round_to(pd_min - 0.64951905 * pitch, 4), round_to(top - 1.22687 * pitch, 4))
        source = join_sources(source, major_source)
    return Zone(
        unit="in",
        basic_major=major,
        basic_pitch_diameter=basic_pd,
        basic_minor=basic_minor,
        allowance=allowance,
        major=major_edge,
        pitch_diameter=pd_edge,
        minor=minor_edge,
        source=join_sources(RULES, source),
    )
