"""The hole to be tapped: what to drill, which drills there are for it, and how much of the thread they leave.

The percentage of thread is the depth that a hole leaves, over the depth of the full thread, both from the major
diameter. The full thread is as deep below the pitch line as its basic crest stands above: 0.6495 p (3/4 H) for all 60
degree forms with a crest flat of p/8, 0.6403 p for Whitworth, 0.6 p for BA, 0.75 p for Lowenherz. That is the
percentage of Machinery's Handbook, 31st ed. (p. 2155: hole = D - 1.299 p x percentage).
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

from threads.rules.forms import FORMS, Form, addendum
from threads.standards.limits import Limits
from threads.workshop.drill_sizes import FRACTION, LETTER, METRIC, NUMBER, Drill, best_drill, drills, holds

USUAL_PERCENT = 75.0
"""Percentage of thread to drill for where the minor diameter has no two limits (common practice, no source)."""

LEAST_PERCENT = 50.0
"""A hole that leaves less is called too wide where its standard does not say how wide it may be (common practice, no
source)."""

MIDDLE = "the middle of the limits of the minor diameter"
BY_PERCENT = f"{USUAL_PERCENT:.0f} % of thread: the standard's limits of the minor diameter are not both known"

_SETS = ((METRIC,), (NUMBER, LETTER), (FRACTION,))


@dataclass(frozen=True)
class DrillChoice:
    """A drill for a hole. ``percent``: of thread that it leaves. ``within``: the hole is within its limits."""

    drill: Drill
    percent: float
    within: bool

    def to_dict(self) -> dict[str, Any]:
        """The plain form used in JSON."""
        return {
            "kind": self.drill.kind,
            "name": self.drill.name,
            "diameter": self.drill.diameter_mm,
            "thread_percent": self.percent,
            "within_limits": self.within,
        }


@dataclass(frozen=True)
class TapDrill:
    """What to drill before tapping. Lengths are mm.

    Attributes:
        low, high: limits of the hole, that is of the internal minor diameter; None where there is none.
        target: the hole to aim at. basis: why.
        percent: percentage of thread at ``target``; most_percent, least_percent: at ``low`` and ``high``.
        full_depth: depth of 100 % of thread, one side.
        recommended: the drill to take of each set: millimetres, numbers and letters, fractions of an inch.
        fitting: every drill within the limits, smallest first.
    """

    low: float | None
    high: float | None
    target: float
    basis: str
    percent: float
    most_percent: float | None
    least_percent: float | None
    full_depth: float
    recommended: tuple[DrillChoice, ...]
    fitting: tuple[DrillChoice, ...]

    def to_dict(self) -> dict[str, Any]:
        """The plain form used in JSON."""
        return {
            "hole": {"min": self.low, "max": self.high},
            "target": self.target,
            "basis": self.basis,
            "thread_percent": self.percent,
            "thread_percent_at": {"min": self.most_percent, "max": self.least_percent},
            "full_thread_depth": self.full_depth,
            "recommended": [choice.to_dict() for choice in self.recommended],
            "fitting": [choice.to_dict() for choice in self.fitting],
        }


def full_depth(form: Form, pitch: float) -> float:
    """Depth of the full thread, one side: twice the height of the basic crest above the pitch line."""
    return 2 * addendum(form) * pitch


def thread_percent(form: Form, major: float, pitch: float, hole: float) -> float:
    """Percentage of thread that a hole leaves; all lengths in one unit.

    >>> round(thread_percent(FORMS["UN"], 0.112, 1 / 40, 0.0890), 1)
    70.8
    """
    return 100 * (major - hole) / (2 * full_depth(form, pitch))


def hole_of_percent(form: Form, major: float, pitch: float, percent: float) -> float:
    """The hole that leaves ``percent`` of the thread; all lengths in one unit."""
    return major - 2 * full_depth(form, pitch) * percent / 100


def tap_drill(limits: Limits) -> TapDrill | None:
    """What to drill for an internal thread; None for an external one."""
    if not limits.internal:
        return None
    form, major, pitch = FORMS[limits.form], limits.basic_major, limits.pitch
    low, high = limits.minor.low, limits.minor.high
    if limits.tap_drill is not None:
        target, basis = limits.tap_drill, MIDDLE
    else:
        target, basis = max(hole_of_percent(form, major, pitch, USUAL_PERCENT), low or 0.0), BY_PERCENT
    widest = hole_of_percent(form, major, pitch, LEAST_PERCENT) if high is None else high

    def choice(drill: Drill) -> DrillChoice:
        percent = thread_percent(form, major, pitch, drill.diameter_mm)
        return DrillChoice(drill, percent, holds(drill.diameter_mm, low, widest))

    fitting = sorted(
        (drill for drill in drills() if holds(drill.diameter_mm, low, widest)), key=lambda drill: drill.diameter_mm
    )
    return TapDrill(
        low=low,
        high=high,
        target=target,
        basis=basis,
        percent=thread_percent(form, major, pitch, target),
        most_percent=None if low is None else thread_percent(form, major, pitch, low),
        least_percent=None if high is None else thread_percent(form, major, pitch, high),
        full_depth=full_depth(form, pitch),
        recommended=tuple(choice(best_drill(target, low, widest, kinds, below=basis == MIDDLE)) for kinds in _SETS),
        fitting=tuple(choice(drill) for drill in fitting),
    )
