"""Limits of size of American National threads (NC, NF): screw and nut, classes 1, 2 and 3.

The rules are those of NBS Handbook H28 (1942, 1944) and ASA B1.1-1935 as they are remembered: neither text could be
read. So all limits here are marked ``from memory, unverified``; tolerances of classes 2 and 3 that are confirmed by
printed maximum pitch diameters say so in addition.
"""

from __future__ import annotations

from functools import cache

from threads.rounding import round_to
from threads.table import FROM_MEMORY, join_sources, rows
from threads.zone import Edge, Zone

CLASSES = ("1", "2", "3")

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


def zone(major: float, threads_per_inch: float, thread_class: str, *, internal: bool) -> Zone:
    """Limits of an American National screw or nut, inches, four decimals.

    ``major`` is the basic major diameter in inches, ``thread_class`` one of ``CLASSES``. With E = D - 0.6495 p and the
    tolerance T of the pitch diameter (by threads per inch and class):
    screw: E max = E - allowance, E min = E max - T; D max = D - allowance, D min = D max - 2 T (class 1: its own T,
    classes 2 and 3: that of class 2); K max = D - 1.2269 p - allowance, K min = E min - 0.6495 p.
    nut: E min = E, E max = E + T; K min = D - 1.0825 p, K max not recalled: None; D min = D, D max = E max + 0.7939 p.
    Raises KeyError for a pitch or class without a tolerance.
    """
    pitch = 1 / threads_per_inch
    tolerance, allowance, source = _tolerances()[float(threads_per_inch), thread_class]
    basic_pd = round_to(major - 0.64951905 * pitch, 4)
    basic_minor = round_to(major - 1.29903811 * pitch, 4)
    if internal:
        allowance = 0.0
        pd_max = round_to(basic_pd + tolerance, 4)
        major_edge: Edge = (major, round_to(pd_max + 0.79385662 * pitch, 4))
        pd_edge: Edge = (basic_pd, pd_max)
        minor_edge: Edge = (round_to(major - 1.08253175 * pitch, 4), None)
    else:
        own = thread_class if thread_class == "1" else "2"
        major_tolerance, _, major_source = _tolerances()[float(threads_per_inch), own]
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
