"""Cutting to fit: what the attempts so far say, and what to do at the die before the next one.

How far a turn of the die's screw moves the pitch diameter is learned from the attempts alone (``learnt``), so there is
no advice in turns before two of them, at different settings. A difference to an original that was measured on the same
bench leaves out what the bench does to both.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

import numpy as np

from threads.cutting.learnt import Estimate, LearntDie, Observed
from threads.cutting.setting import TURN, way_in_words
from threads.hole.likelihood import FEEL
from threads.hole.screw_to_make import ENTERS, WIDTH
from threads.shared.quantity import COVERAGE_FACTOR, Quantity
from threads.shared.refusal import Reason
from threads.standards.designation import parse
from threads.standards.limits import Limits, limits_of
from threads.workshop.drawn_thread import TriedHole
from threads.workshop.mating_class import mating_screw

ORIGINAL, CLASS, HOLE = "original", "class", "hole"

GOOD_WITHIN_MM = 0.006
"""A screw whose pitch diameter is that near to the original's is as good as it: 3 um of play to either side, a tenth of
what a screw of a free class has in its hole (workshop assumption)."""
ROOM_MM = 0.02
"""Pitch diameters below the largest that enters a hole for sure: a good half of class 3 of an M2.5 screw (workshop
assumption)."""
SURE_ENOUGH = 0.8
"""From this probability of lying inside the target on, the answer is to stop."""
STOP_RATHER = 0.5
"""From this one on it is to stop where another attempt is no more likely to lie inside."""
_STEPS = 4  # of the search for a setting; the way is nearly straight


@dataclass(frozen=True)
class Target:
    """What is cut for: pitch diameters from ``low`` to ``high``, best ``aim``; mm.

    ``kind``: ORIGINAL, CLASS or HOLE; ``name``: of it. ``original``: that of ORIGINAL, as measured, at ``aim``.
    """

    kind: str
    name: str
    low: float
    aim: float
    high: float
    original: Observed | None = None


def like_original(original: Observed, name: str) -> Target:
    """As the original that was measured."""
    aim = original.pitch_diameter.value
    return Target(ORIGINAL, name, aim - GOOD_WITHIN_MM, aim, aim + GOOD_WITHIN_MM, original)


def in_class(limits: Limits, added: float = 0.0) -> Target | None:
    """Inside the limits of a screw's class; None where it sets none on both sides.

    ``added``: what errors of pitch and flank angle add to the pitch diameter, mm: so much less may it be.
    """
    low, high = limits.pitch_diameter.low, limits.pitch_diameter.high
    if low is None or high is None:
        return None
    high = max(high - added, low)
    return Target(CLASS, limits.designation, low, (low + high) / 2, high)


def in_hole(hole: Quantity, name: str, added: float = 0.0) -> Target:
    """To fit a measured hole of this pitch diameter (the virtual one), mm: sure to enter, and no looser than need be.

    ``added`` as in ``in_class``.
    """
    high = hole.value - hole.u95 - added
    return Target(HOLE, name, high - ROOM_MM, high - ROOM_MM / 2, high)


def in_tried_hole(hole: TriedHole, added: float = 0.0) -> Target:
    """To fit a hole that screws were tried in: what ``hole.screw_to_make`` says; ``added`` as in ``in_class``."""
    mate = mating_screw(parse(hole.limits.designation, internal=True))
    zone = hole.limits.pitch_diameter if mate is None else limits_of(mate).pitch_diameter
    tolerance = 0.0 if zone.low is None or zone.high is None else zone.high - zone.low
    high = float(np.quantile(hole.pitch_diameters, 1 - ENTERS)) - FEEL - added
    low = high - float(np.clip(tolerance / 2, *WIDTH))
    return Target(HOLE, hole.name, low, (low + high) / 2, high)


def as_quantity(hole: TriedHole) -> Quantity:
    """The pitch diameter of a hole known by trials: its middle, and a quarter of the range that holds 95 % of it."""
    low, middle, high = np.quantile(hole.pitch_diameters, (0.025, 0.5, 0.975))
    return Quantity(float(middle), float(high - low) / 4, "mm")


@dataclass(frozen=True)
class Fitting:
    """Where the loop stands.

    Attributes:
        target: what is cut for.
        die: what the attempts say of the die; None before the first.
        off: by how much the last attempt is larger than ``target.aim``, mm; None before the first.
        inside: probability that the last attempt lies inside the target.
        setting: where to set the die next; ``way``: how far from where it is; both None where nothing can be advised.
        next_cut: what it will cut there; ``next_inside``: probability that this lies inside the target.
        told: what to do, the one line first.
    """

    target: Target
    die: LearntDie | None
    off: Quantity | None
    inside: float
    setting: float | None
    way: float | None
    next_cut: Quantity | None
    next_inside: float | None
    told: tuple[Reason, ...]

    @property
    def good(self) -> bool:
        """Whether to stop."""
        return self.told[0].code == "cut_good"

    def to_dict(self) -> dict[str, Any]:
        """The JSON form, schema ``flankwise/fitting/1``; mm."""
        target, die = self.target, self.die
        slope = None if die is None or die.tried < 2 else die.per_setting.quantity()
        numbers = {"off": self.off, "per_turn": slope, "next_cut": self.next_cut}
        return {
            "schema": "flankwise/fitting/1",
            "target": {"kind": target.kind, "name": target.name, "pitch_diameter": {
                "min": target.low, "aim": target.aim, "max": target.high}},
            "attempts": [] if die is None else [
                {"pitch_diameter": one.observed.pitch_diameter.to_dict(), "setting": value}
                for one, value in zip(die.cuts, die.settings, strict=True)],
            "good": self.good,
            "inside": self.inside,
            **{name: None if one is None else one.to_dict() for name, one in numbers.items()},
            "set_to": self.setting,
            "turn_by": self.way,
            "unit": None if die is None else die.unit,
            "next_inside": self.next_inside,
        }  # fmt: skip


def fitted(target: Target, die: LearntDie | None) -> Fitting:
    """Say where the attempts, all cut by one die, stand against the target, and what to do next."""
    if die is None:
        return Fitting(target, None, None, 0.0, None, None, None, None, (Reason("cut_first"),))
    against, low, aim, high = target.original, target.low, target.aim, target.high
    if against is not None:
        low, aim, high = low - aim, 0.0, high - aim
    side = die.cuts[-1].observed.pitch_diameter.one_sided
    sides = side, 0.0 if against is None else against.pitch_diameter.one_sided
    measured = die.cut(len(die.cuts) - 1, against)
    last = measured.with_light(*sides)
    off = (
        Quantity(measured.mean - aim, measured.u, "mm", side) if against is None else Quantity(last.mean, last.u, "mm")
    )
    inside = last.between(low, high)
    setting, told_why = _setting(die, against, aim)
    following = None if setting is None else die.next_cut(setting, against, closed_to=True)
    following_inside = None if following is None else following.with_light(*sides).between(low, high)
    best = max(following_inside or 0.0, die.next_cut(None, against).with_light(*sides).between(low, high))
    if inside >= SURE_ENOUGH or (inside >= STOP_RATHER and inside >= best):
        told: tuple[Reason, ...] = (Reason("cut_good", off=off, inside=inside),)
    else:
        told = _advice(die, off, setting, told_why, following_inside)
    return Fitting(
        target=target,
        die=die,
        off=off,
        inside=inside,
        setting=setting,
        way=None if setting is None or die.last_setting is None else setting - die.last_setting,
        next_cut=None if following is None else _absolute(following, target),
        next_inside=following_inside,
        told=told,
    )


def _absolute(found: Estimate, target: Target) -> Quantity:
    """The next cut as a pitch diameter on the chart: a difference to the original stands at the original's value."""
    return Quantity(found.mean + (target.aim if target.original is not None else 0.0), found.u, "mm")


def _setting(die: LearntDie, against: Observed | None, aim: float) -> tuple[float | None, Reason | None]:
    """Where the next cut comes out at ``aim``; else why nobody can say."""
    if len(die.cuts) < 2:
        return None, Reason("cut_why.one")
    if die.last_setting is None:
        return None, Reason("cut_why.no_setting")
    if die.tried < 2:
        return None, Reason("cut_why.one_setting")
    slope = die.per_setting
    if abs(slope.mean) <= COVERAGE_FACTOR * slope.u:
        return None, Reason("cut_why.too_near")
    return die.last_setting + way_to(die, against, aim), None


def way_to(die: LearntDie, against: Observed | None, aim: float) -> float:
    """How far to turn from the last setting so that the next cut comes out at ``aim``, mm; its settings are known."""
    assert die.last_setting is not None
    slope, way = die.per_setting.mean, 0.0
    for _ in range(_STEPS):
        way -= (die.next_cut(die.last_setting + way, against, closed_to=True).mean - aim) / slope
    return way


def _advice(
    die: LearntDie, off: Quantity, setting: float | None, why: Reason | None, inside: float | None
) -> tuple[Reason, ...]:
    """What to do where the last attempt is not good."""
    thick = off.value > 0
    if setting is None:
        assert why is not None
        return (Reason("cut_thick.unknown" if thick else "cut_thin.unknown", by=off, why=why),)
    assert die.last_setting is not None
    way = way_in_words(setting - die.last_setting, die.unit)
    key = "cut_thick" if thick else "cut_thin"
    basis = (
        Reason("cut_basis.two")
        if die.tried == 2 and len(die.cuts) == 2
        else Reason("cut_basis.more", count=len(die.cuts))
    )
    slope = die.per_setting
    per = Quantity(abs(slope.mean), slope.u, "mm")
    following = "cut_next.turn" if die.unit == TURN else "cut_next.mark"
    return (Reason(key, by=off, way=way, basis=basis), Reason(following, setting=setting, inside=inside, per=per))
