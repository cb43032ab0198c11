"""The trial that would narrow the size of a hole most.

For every trial that could be made, its outcomes are weighed as the trials so far let expect them, and the 95 % range
after each is reckoned. What has the smallest expected range is advised: to try a screw of a certain pitch diameter, or
to measure the movement of one that went in.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from threads.hole.classes import HoleThread
from threads.hole.found_hole import NextTrial, quantiles
from threads.hole.likelihood import FEEL, WRONG, Axis, Sized, at_sizes, of_screw
from threads.hole.movement import spread_of_travel, travel_of
from threads.hole.trial import FEELER, MOVED, READ_WITH, STOPPED, WENT_IN, Trial, TriedScrew
from threads.shared.normal import ndtr
from threads.shared.quantity import COVERAGE_FACTOR

Array = npt.NDArray[np.float64]

OVERHANG = 20.0
"""Overhang at which a movement is advised to be read where none was read yet, mm."""
WORTH_IT = 0.92
"""A trial that is not expected to bring the range down to this part of it is not advised."""
NEAR_BEST = 1.25
"""A screw at hand is named where it is expected to leave at most so many times the range of the best size."""

_DRAWS = 64
_SHARES = (0.03, 0.08, 0.15, 0.25, 0.35, 0.45, 0.55, 0.65, 0.75, 0.85, 0.92, 0.97)
_OUTCOMES = (np.arange(7) + 0.5) / 7


@dataclass(frozen=True)
class Planned:
    """What a further trial would be made with: the hole, the axis, the screws so far and their common errors."""

    thread: HoleThread
    axis: Axis
    screws: Sequence[Sized]
    shift: Array
    engagement: float


def next_trial(
    plan: Planned, prior: Array, total: Array, trials: Sequence[Trial], at_hand: Sequence[TriedScrew]
) -> NextTrial | None:
    """The best further trial; None where none is worth it.

    Args:
        plan: see there.
        prior: (m,) of the sizes.
        total: (draws, m) log likelihood of all trials.
        trials: so far.
        at_hand: measured screws that could be tried; those tried already are left out.
    """
    some = total[:_DRAWS]
    joint = prior * np.exp(some - some.max())
    joint /= joint.sum()
    density = joint.sum(axis=0)
    now = _half_width(plan.axis.sizes, density)
    options = [*_screws(plan, joint, density, now, at_hand), *_movements(plan, joint, density, now, trials)]
    best = min(options, key=lambda one: one.half_width[1])
    if best.half_width[1] > WORTH_IT * now:
        return None
    named = [one for one in options if one.screw is not None and one.half_width[1] <= NEAR_BEST * best.half_width[1]]
    return min(named, key=lambda one: one.half_width[1]) if named else best


def _screws(
    plan: Planned, joint: Array, density: Array, now: float, at_hand: Sequence[TriedScrew]
) -> Iterator[NextTrial]:
    axis = plan.axis
    own = float(np.median([one.own_u for one in plan.screws]))
    shift = next((row for one, row in zip(plan.screws, plan.shift, strict=True) if one.screw.common), plan.shift[0])
    enters = ndtr(axis.clearances / np.hypot(FEEL, own))
    sizes: list[tuple[float, str | None]] = [(float(x), None) for x in quantiles(axis.sizes, density, _SHARES)]
    tried = {one.screw.key for one in plan.screws}
    low, high = quantiles(axis.sizes, density, (0.02, 0.98))
    for screw in at_hand:
        size = screw.thread.virtual_pitch_diameter.value
        if screw.key not in tried and low <= size <= high:
            sizes.append((size, screw.name))
    for size, name in sizes:
        went = at_sizes(enters, size + shift[: joint.shape[0]], axis)
        chance = float(np.sum(joint * went))
        after = 0.0
        for due, share, outcome in ((went, chance, WENT_IN), (1 - went, 1 - chance, STOPPED)):
            mixed = (1 - WRONG[outcome]) * due + WRONG[outcome] / 2
            after += share * _half_width(axis.sizes, np.sum(joint * mixed, axis=0))
        yield NextTrial(False, name, size, 0.0, (now, after))


def _movements(plan: Planned, joint: Array, density: Array, now: float, trials: Sequence[Trial]) -> Iterator[NextTrial]:
    axis = plan.axis
    moved = [one for one in trials if one.outcome == MOVED]
    overhang = moved[-1].overhang if moved and moved[-1].overhang > 0 else OVERHANG
    reading = READ_WITH[FEELER] / COVERAGE_FACTOR
    if moved and moved[-1].movement is not None:
        reading = moved[-1].movement.standard_uncertainty
    read = {one.screw.key for one in moved}
    stopped = {one.screw.key for one in trials if one.outcome == STOPPED}
    able = [k for k, one in enumerate(plan.screws) if one.screw.key not in read | stopped]
    able.sort(key=lambda k: -plan.screws[k].size)
    fits = ndtr(axis.clearances / FEEL)
    holes = quantiles(axis.sizes, density, _OUTCOMES)
    for k in dict.fromkeys((*able[:1], *able[-1:])):
        one = plan.screws[k]
        due = travel_of(plan.thread, one.screw, np.maximum(axis.clearances, 0.0), plan.engagement, overhang)
        u = spread_of_travel(due, reading, overhang)
        middle = due.mean(axis=0)
        after = []
        for hole in holes:
            y = np.interp(hole - one.size, axis.clearances, middle)
            density_of_y = (np.exp(-0.5 * ((y - due) / u) ** 2) / u).mean(axis=0) * fits
            factor = of_screw([density_of_y / density_of_y.max()], one, axis)
            seen = at_sizes(factor, one.size + plan.shift[k, : joint.shape[0]], axis)
            after.append(_half_width(axis.sizes, np.sum(joint * seen, axis=0)))
        yield NextTrial(True, one.screw.name, one.size, overhang, (now, float(np.mean(after))))


def _half_width(sizes: Array, density: Array) -> float:
    low, high = quantiles(sizes, density, (0.025, 0.975))
    return float(high - low) / 2
