"""Limits of size of ISO metric threads, by tolerance grade and position (ISO 965-1).

The standard is its tables, not the formulas behind them: the printed values depart from the rounded formulas by up to
one step of the R40 series. So the tables in ``data`` come first; a row that was not read says that it is grade 6 times
the ratio of grades. Where they have no row, the standard has left the grade out for that pitch (or goes further than
the table, above 30 mm): then it follows from grade 6 by the ratio, or from the formula; ``source`` says so.
"""

from __future__ import annotations

import math
import re
from dataclasses import dataclass
from functools import cache

from threads.rules.rounding import round_to
from threads.rules.table import FROM_MEMORY, join_sources, rows
from threads.rules.zone import Edge, Zone

BASIC_SOURCE = "basic sizes by ISO 68-1 / ISO 724: d2 = d - 0.649519 P, D1 = d - 1.082532 P"

DIAMETER_RANGES = ((0.99, 1.4), (1.4, 2.8), (2.8, 5.6), (5.6, 11.2), (11.2, 22.4), (22.4, 45.0), (45.0, 90.0))
"""Steps of the basic major diameter for the pitch-diameter tolerance, mm: over ... up to and including (ISO 965-1)."""

# Grade ratios to grade 6 (Machinery's Handbook, 27th ed., p. 1797). TD2 counts from the external Td2 of grade 6.
_RATIOS: dict[str, dict[int, float]] = {
    "Td": {4: 0.63, 6: 1.0, 8: 1.6},
    "TD1": {4: 0.63, 5: 0.8, 6: 1.0, 7: 1.25, 8: 1.6},
    "Td2": {3: 0.5, 4: 0.63, 5: 0.8, 6: 1.0, 7: 1.25, 8: 1.6, 9: 2.0},
    "TD2": {4: 0.85, 5: 1.06, 6: 1.32, 7: 1.7, 8: 2.12},
}
_DEVIATION_BASE = {"e": 50.0, "f": 30.0, "g": 15.0, "G": 15.0}
_POSITIONS = {False: ("e", "f", "g", "h"), True: ("G", "H")}

# One decade of the preferred numbers R40 (ISO 3, ISO 497), to which ISO 965-1 rounds tolerances.
_R40 = (
    1.0, 1.06, 1.12, 1.18, 1.25, 1.32, 1.4, 1.5, 1.6, 1.7, 1.8, 1.9, 2.0, 2.12, 2.24, 2.36, 2.5, 2.65, 2.8, 3.0,
    3.15, 3.35, 3.55, 3.75, 4.0, 4.25, 4.5, 4.75, 5.0, 5.3, 5.6, 6.0, 6.3, 6.7, 7.1, 7.5, 8.0, 8.5, 9.0, 9.5, 10.0,
)  # fmt: skip


@dataclass(frozen=True)
class ToleranceClass:
    """A class such as ``6g``, ``5g6g`` or ``6H``: grade and position, for the pitch and for the crest diameter."""

    pitch_grade: int
    pitch_position: str
    crest_grade: int
    crest_position: str

    @property
    def internal(self) -> bool:
        return self.pitch_position.isupper()


def tolerance_class(text: str) -> ToleranceClass | None:
    """Read ``6g``, ``5g6g``, ``6H``, ``5H6H`` ...; None if ISO 965-1 has no such class. Upper case means internal."""
    match = re.fullmatch(r"(\d)([a-zA-Z])(?:(\d)([a-zA-Z]))?", text)
    if match is None:
        return None
    grade, position = int(match[1]), match[2]
    crest_grade, crest_position = (int(match[3]), match[4]) if match[3] else (grade, position)
    internal = position.isupper()
    pitch_kind, crest_kind = ("TD2", "TD1") if internal else ("Td2", "Td")
    known = (
        {position, crest_position} <= set(_POSITIONS[internal])
        and grade in _RATIOS[pitch_kind]
        and crest_grade in _RATIOS[crest_kind]
    )
    return ToleranceClass(grade, position, crest_grade, crest_position) if known else None


def diameter_range(major: float) -> tuple[float, float]:
    """The diameter step of ISO 965-1 that ``major`` (mm) falls in. Raises ValueError outside 0.99 mm to 90 mm."""
    for over, up_to in DIAMETER_RANGES:
        if over < major <= up_to:
            return over, up_to
    raise ValueError(f"ISO 965-1 has no diameter step for {major} mm in the tables at hand")


def round_r40(value: float) -> float:
    """``value`` (um, >= 1) to the nearest preferred number R40, then to a whole micrometre (a half to the even one)."""
    decade = 10.0 ** math.floor(math.log10(value))
    nearest = min((step * decade for step in _R40), key=lambda step: abs(math.log(step / value)))
    return float(round(nearest))


def tolerance_by_formula(kind: str, grade: int, pitch: float, major: float) -> float:
    """The tolerance in um by the formulas of ISO 965-1, rounded to R40 (formulas from memory, unverified; ratios read).

    ``kind``: ``Td`` (external major), ``TD1`` (internal minor), ``Td2`` and ``TD2`` (pitch diameter). ``pitch`` and
    ``major`` in mm. The printed tables differ from it by up to one R40 step; use ``tolerance``, which asks them first.
    """
    if kind == "Td":
        value = 180 * pitch ** (2 / 3) - 3.15 / math.sqrt(pitch)
    elif kind == "TD1":
        value = 433 * pitch - 190 * pitch**1.22 if pitch <= 0.8 else 230 * pitch**0.7
    else:
        over, up_to = diameter_range(major)
        value = 90 * pitch**0.4 * math.sqrt(over * up_to) ** 0.1
    return round_r40(value * _RATIOS[kind][grade])


@cache
def _tolerance_table() -> dict[tuple[str, int, float, float], tuple[float, str]]:
    return {
        (row["tolerance"], int(row["grade"]), float(row["over_mm"] or 0), float(row["pitch_mm"])): (
            float(row["value_um"]),
            row["source"],
        )
        for row in rows("iso_tolerances.csv")
    }


def tolerance(kind: str, grade: int, pitch: float, major: float) -> tuple[float, str]:
    """Tolerance in um and its source: from the table; else from the table's grade 6 by ratio; else by the formula.

    ``kind``: ``Td``, ``TD1``, ``Td2`` or ``TD2``; ``pitch`` and ``major`` in mm. Raises ValueError for a diameter
    outside the steps of the standard.
    """
    over = diameter_range(major)[0] if kind in ("Td2", "TD2") else 0.0
    table = _tolerance_table()
    if (kind, grade, over, pitch) in table:
        value, source = table[kind, grade, over, pitch]
        return value, f"{source}: {kind} grade {grade}"
    grade_6 = "Td2" if kind == "TD2" else kind
    if (grade_6, 6, over, pitch) in table:
        value, source = table[grade_6, 6, over, pitch]
        ratio = _RATIOS[kind][grade]
        derived = (
            f"ISO 965-1 leaves out {kind} grade {grade} for P {pitch:g}: {ratio} x {grade_6} grade 6, rounded to R40"
        )
        return round_r40(value * ratio), f"{derived} ({source})"
    formula = f"{FROM_MEMORY}: {kind} grade {grade} for P {pitch:g} by the formula of ISO 965-1, not by its table"
    return tolerance_by_formula(kind, grade, pitch, major), formula


@cache
def _deviation_table() -> dict[tuple[str, float], tuple[float, str]]:
    return {
        (row["position"], float(row["pitch_mm"])): (float(row["deviation_um"]), row["source"])
        for row in rows("iso_fundamental_deviations.csv")
    }


def fundamental_deviation(position: str, pitch: float) -> tuple[float, str]:
    """Distance of the zone from the basic profile, um (negative for e, f, g; positive for G), and its source."""
    if position in ("h", "H"):
        return 0.0, ""
    if (position, pitch) in _deviation_table():
        value, source = _deviation_table()[position, pitch]
        return value, f"{source}: deviation {position}"
    size = float(round(_DEVIATION_BASE[position] + 11 * pitch))
    source = f"{FROM_MEMORY}: deviation {position} for P {pitch:g} by the formula of ISO 965-1, not by its table"
    return (size if position.isupper() else -size), source


def zone(major: float, pitch: float, thread_class: ToleranceClass) -> Zone:
    """Limits of an ISO metric thread, mm, to 1 um; ``major`` and ``pitch`` in mm.

    Of the external minor diameter only the greatest is set (d2 max - 0.433013 P, where the basic profile ends; the root
    rounding goes deeper); of the internal major diameter only the least.
    """
    basic_pd = major - 0.64951905 * pitch
    basic_minor = major - 1.08253175 * pitch
    pd_shift, pd_source = fundamental_deviation(thread_class.pitch_position, pitch)
    crest_shift, crest_source = fundamental_deviation(thread_class.crest_position, pitch)
    internal = thread_class.internal
    pd_tol, pd_tol_source = tolerance("TD2" if internal else "Td2", thread_class.pitch_grade, pitch, major)
    crest_tol, crest_tol_source = tolerance("TD1" if internal else "Td", thread_class.crest_grade, pitch, major)

    def mm(basic: float, *micrometres: float) -> float:
        return round_to(basic + sum(micrometres) / 1000, 3)

    if internal:
        pd_edge: Edge = (mm(basic_pd, pd_shift), mm(basic_pd, pd_shift, pd_tol))
        minor_edge: Edge = (mm(basic_minor, crest_shift), mm(basic_minor, crest_shift, crest_tol))
        major_edge: Edge = (mm(major, pd_shift), None)
    else:
        pd_edge = (mm(basic_pd, pd_shift, -pd_tol), mm(basic_pd, pd_shift))
        major_edge = (mm(major, crest_shift, -crest_tol), mm(major, crest_shift))
        minor_edge = (None, mm(basic_pd - 0.4330127 * pitch, pd_shift))
    return Zone(
        unit="mm",
        basic_major=major,
        basic_pitch_diameter=round_to(basic_pd, 3),
        basic_minor=round_to(basic_minor, 3),
        allowance=abs(pd_shift) / 1000,
        major=major_edge,
        pitch_diameter=pd_edge,
        minor=minor_edge,
        source=join_sources(BASIC_SOURCE, pd_source, crest_source, pd_tol_source, crest_tol_source),
    )
