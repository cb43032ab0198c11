"""Limits of size of Unified threads (UN and UNR), by the formulas of ASME B1.1, for any length of engagement.

The formulas are those of ASME B1.1-2003, paragraphs 5.8, 8.3 and 10.1, as public transcriptions and Machinery's
Handbook (31st ed., worked examples for 19/64-36 UNS-2A and 2B) give them. Every quantity is rounded to four decimals of
an inch before it enters the next sum; that reproduces the printed tables, apart from ``PRINTED_OTHERWISE``.
"""

from __future__ import annotations

from threads.rules.rounding import round_to
from threads.rules.zone import Edge, Zone

CLASSES = ("1A", "2A", "3A")
INTERNAL_CLASSES = ("1B", "2B", "3B")

SOURCE = "computed by the formulas of ASME B1.1-2003 (paras 5.8, 8.3, 10.1); Machinery's Handbook, 31st ed."

_PITCH_DIAMETER_FACTOR = {"1A": 1.5, "2A": 1.0, "3A": 0.75, "1B": 1.95, "2B": 1.30, "3B": 0.975}

PRINTED_OTHERWISE: dict[tuple[str, str, str], tuple[float, str]] = {
    ("6-32", "3B", "pitch_diameter_max"): (
        0.1204,
        "the tables print 0.1204, where the formula gives 0.1205 (0.975 T = 0.00275004, which the tables round down)",
    ),
    ("1-8", "2A", "pitch_diameter_min"): (
        0.9101,
        "the tables print 0.9101, where the formula gives 0.9100 (T = 0.00675 exactly, which the tables round down)",
    ),
    **dict.fromkeys(
        [("5/8-11", "1A", "allowance"), ("5/8-11", "2A", "allowance")],
        (0.0016, "the tables print an allowance of 0.0016, where the formula gives 0.0017 (0.300 T = 0.00165033)"),
    ),
    ("10-36", "2B", "minor_max"): (
        0.166,
        "the tables print 0.166, where the formula gives 0.167 (tolerance 0.0070, the tables have its lower bound)",
    ),
}
"""(size, class, limit) -> printed value in inches and the reason why the formula does not give it."""

TABULATED_AS = {"12-32": 0.190, "9/16-24": 0.500}
"""size -> diameter, in, whose tolerance of the pitch diameter the tables give it: that of the next smaller size."""


def pitch_diameter_tolerance_2a(major: float, pitch: float, engagement: float) -> float:
    """T in inches, six decimals: 0.0015 D^(1/3) + 0.0015 LE^(1/2) + 0.015 P^(2/3), all lengths in inches."""
    return round_to(0.0015 * major ** (1 / 3) + 0.0015 * engagement**0.5 + 0.015 * pitch ** (2 / 3), 6)


def minor_diameter_tolerance(major: float, threads_per_inch: float, thread_class: str) -> float:
    """Tolerance of the internal minor diameter (1B, 2B, 3B), inches, six decimals."""
    pitch = 1 / threads_per_inch
    base = min(0.05 * pitch ** (2 / 3) + 0.03 * pitch / major - 0.002, 0.394 * pitch)
    if thread_class == "3B":
        least = 0.23 * pitch - 1.5 * pitch**2 if threads_per_inch >= 13 else 0.120 * pitch
        return round_to(max(base, least), 6)
    if major < 0.25:
        return round_to(max(base, 0.25 * pitch - 0.4 * pitch**2), 6)
    return round_to(0.25 * pitch - 0.4 * pitch**2 if threads_per_inch >= 4 else 0.15 * pitch, 6)


def tabulated_for_diameter(series: str, threads_per_inch: float) -> bool:
    """Whether the tables of a series stand for a length of engagement of one diameter (UNC, UNF, 4-, 6- and 8-UN).

    Those of all other series stand for nine pitches (Machinery's Handbook, 31st ed.; ASME B1.1-2003, 5.8).
    """
    return series in ("UNC", "UNF") or (series == "UN" and threads_per_inch <= 8)


def zone(
    size: str,
    major: float,
    threads_per_inch: float,
    thread_class: str,
    *,
    long_engagement: bool,
    form: str = "UN",
    engagement: float | None = None,
) -> Zone:
    """Limits of a Unified thread, inches.

    Args:
        size: the size as the table writes it, for the few limits that are printed otherwise than computed.
        major: basic major diameter, in.
        threads_per_inch: of a single-start thread.
        thread_class: one of ``CLASSES`` (external) or ``INTERNAL_CLASSES``.
        long_engagement: what ``tabulated_for_diameter`` says: the tables are for an engagement of D, or of 9 P.
        form: ``"UN"`` or ``"UNR"``; decides the greatest external minor diameter (flat or rounded root).
        engagement: length of engagement, in, for which the tolerance of the pitch diameter and the allowance (0.300 of
            that of 2A) are computed; None: the length that the tables are for.

    The standard sets no least external minor diameter and no greatest internal major diameter: these are None.
    Raises KeyError for another class.
    """
    factor = _PITCH_DIAMETER_FACTOR[thread_class]
    pitch = round(1 / threads_per_inch, 8)
    tabulated = major if long_engagement else 9 * pitch
    notes = [SOURCE]
    diameter = major
    if size in TABULATED_AS and engagement is None:
        diameter = TABULATED_AS[size]
        notes.append(f"the tables take the tolerance of the pitch diameter for a diameter of {diameter:.3f} in")
    tolerance = pitch_diameter_tolerance_2a(diameter, pitch, tabulated if engagement is None else engagement)
    pd_tolerance = round_to(factor * tolerance, 4)
    basic_pd = round_to(major - round(0.64951905 * pitch, 6), 4)
    basic_minor = round_to(major - round(1.08253175 * pitch, 6), 4)
    if engagement is not None:
        # The tables hold up to 1.5 D where they are for D, and from 5 P to 15 P where they are for 9 P.
        least, most = (0.0, 1.5 * major) if long_engagement else (5 * pitch, 15 * pitch)
        holds = "covers" if least <= engagement <= most else "does not cover"
        notes.append(f"for a length of engagement of {engagement:.4f} in, which the standard's table {holds}")

    def limit(name: str, value: float) -> float:
        tabulated_length = engagement is None or name == "minor_max"  # the minor diameter does not depend on it
        if (size, thread_class, name) not in PRINTED_OTHERWISE or not tabulated_length:
            return round_to(value, 4)
        printed, reason = PRINTED_OTHERWISE[size, thread_class, name]
        notes.append(reason)
        return printed

    allowance = limit("allowance", 0.300 * tolerance) if thread_class in ("1A", "2A") else 0.0
    if thread_class in CLASSES:
        top = limit("major_max", major - allowance)
        major_tolerance = round_to((0.090 if thread_class == "1A" else 0.060) * pitch ** (2 / 3), 4)
        major_edge: Edge = (limit("major_min", top - major_tolerance), top)
        pd_top = limit("pitch_diameter_max", top - round(0.64951905 * pitch, 6))
        pd_edge: Edge = (limit("pitch_diameter_min", pd_top - pd_tolerance), pd_top)
        # Twice the depth of thread: 5/8 H with a flat root, and 1/16 H more with a rounded one, where the tables take
        # both terms rounded.
        depth = round(1.08253175 * pitch, 6)
        if form == "UNR":
            depth = round_to(depth, 4) + round_to(0.10825318 * pitch, 4)
        minor_edge: Edge = (None, limit("minor_max", top - depth))
    else:
        major_edge = (round_to(major, 4), None)
        pd_edge = (basic_pd, limit("pitch_diameter_max", basic_pd + pd_tolerance))
        least_minor, greatest_minor = _internal_minor(major, threads_per_inch, thread_class, basic_minor)
        minor_edge = (least_minor, limit("minor_max", greatest_minor))
    return Zone(
        unit="in",
        basic_major=major,
        basic_pitch_diameter=basic_pd,
        basic_minor=basic_minor,
        allowance=allowance,
        major=major_edge,
        pitch_diameter=pd_edge,
        minor=minor_edge,
        source="; ".join(notes),
    )


def _internal_minor(
    major: float, threads_per_inch: float, thread_class: str, basic_minor: float
) -> tuple[float, float]:
    """Least and greatest minor diameter, in.

    From 0.138 in up the tables round the least one, and the greatest of 1B and 2B, from four decimals to three, halves
    to the even digit (as ASME B1.30 rounds).
    """
    greatest = round_to(basic_minor + round_to(minor_diameter_tolerance(major, threads_per_inch, thread_class), 4), 4)
    if major < 0.138:
        return basic_minor, greatest
    return _to_three(basic_minor), greatest if thread_class == "3B" else _to_three(greatest)


def _to_three(value: float) -> float:
    """A number of four decimals to three, halves to the even digit.

    >>> _to_three(0.1555), _to_three(0.9385), _to_three(0.2074)
    (0.156, 0.938, 0.207)
    """
    whole, rest = divmod(round(value * 10000), 10)
    return (whole + (rest > 5 or (rest == 5 and whole % 2 == 1))) / 1000
