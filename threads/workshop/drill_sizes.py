"""Twist drills as the trade has them: in millimetres, by number, by letter and in fractions of an inch."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from functools import cache

from threads.rules.series_tables import MM_PER_INCH
from threads.rules.table import rows

METRIC, NUMBER, LETTER, FRACTION = "metric", "number", "letter", "fraction"


@dataclass(frozen=True)
class Drill:
    """One drill: ``kind`` is one of the four above, ``name`` as it is stamped (``No. 43``, ``3/32 in``, ``2.5 mm``)."""

    kind: str
    name: str
    diameter_mm: float


@cache
def drills() -> tuple[Drill, ...]:
    """All drills, in the order of the table: each kind by itself."""
    return tuple(
        Drill(row["kind"], row["name"], float(row["diameter"]) * (MM_PER_INCH if row["unit"] == "in" else 1.0))
        for row in rows("drill_sizes.csv")
    )


def best_drill(
    target: float, low: float | None, high: float | None, kinds: Iterable[str], *, below: bool = True
) -> Drill:
    """The drill of these kinds to take for a hole of ``target`` mm that may be from ``low`` to ``high`` mm.

    Drills cut a little larger than they are: with ``below`` the largest within the limits that is not above the target
    comes first. Then follow the nearest one within the limits, and the nearest one of all. ``None`` is no limit.

    >>> best_drill(2.529, 2.459, 2.599, [METRIC]).name, best_drill(2.271, 2.156, 2.385, [NUMBER, LETTER]).name
    ('2.5 mm', 'No. 43')
    """
    of_kind = [drill for drill in drills() if drill.kind in set(kinds)]
    fitting = [drill for drill in of_kind if holds(drill.diameter_mm, low, high)]
    not_above = [drill for drill in fitting if drill.diameter_mm <= target] if below else []
    if not_above:
        return max(not_above, key=lambda drill: drill.diameter_mm)
    return min(fitting or of_kind, key=lambda drill: abs(drill.diameter_mm - target))


def holds(diameter: float, low: float | None, high: float | None) -> bool:
    """Whether a hole of ``diameter`` mm is within its limits; ``None`` is no limit."""
    return (low is None or diameter >= low) and (high is None or diameter <= high)
