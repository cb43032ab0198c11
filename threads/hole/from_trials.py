"""How large a tapped hole is, from which measured screws go in, stop, and by how much they shake.

The hole's virtual pitch diameter h lies on an even axis. Its prior are the classes of the thread and what belongs to
none (``classes``); every screw adds a factor (``likelihood``), for many draws of what is common to its bench: a bench
that measures 3 um large finds a hole 3 um large, however many screws are tried. The product over the screws, averaged
over the draws, is the answer.

Not to be believed where the screws were not measured over the length that engages, where a screw was forced, or where
the hole is not round or not straight: what is found is the largest perfect screw that goes all the way in.
"""

from __future__ import annotations

from collections.abc import Hashable, Mapping, Sequence
from dataclasses import dataclass, replace

import numpy as np
import numpy.typing as npt

from threads.hole import likelihood
from threads.hole.classes import HoleThread, prior_of, zones_of
from threads.hole.contradictions import cause_of
from threads.hole.found_hole import CAN_BE_TOLD, ClassShare, FoundHole, JudgedTrial, quantiles
from threads.hole.likelihood import Axis, Sized
from threads.hole.movement import check_reach, travel_of
from threads.hole.next_trial import Planned, next_trial
from threads.hole.screw_to_make import screw_to_make
from threads.hole.trial import MOVED, Trial, TriedScrew, check_trials
from threads.shared.quantity import COVERAGE_FACTOR
from threads.shared.refusal import Reason
from threads.workshop.predicted_play import Spread

Array = npt.NDArray[np.float64]

DRAWS = 160
SEED = 1
CONTRADICTS = 0.05
"""A trial whose outcome has a smaller probability by all others contradicts them."""

_STEP = 0.001
_MARGIN = 0.04  # mm; errors of a bench and of a screw stay within


@dataclass(frozen=True)
class _Evidence:
    """All trials on one axis.

    ``of_trial``: which of the screws each trial is of. ``due``: (trials, clearances), ``likelihood.probability_of``.
    ``shift``: (screws, draws). ``logs``: (screws, draws, m). ``prior``: (classes + 1, m).
    """

    thread: HoleThread
    trials: Sequence[Trial]
    engagement: float
    axis: Axis
    screws: tuple[Sized, ...]
    of_trial: tuple[int, ...]
    due: Array
    shift: Array
    prior: Array

    def factor(self, number: int, instead: Mapping[int, Array | None]) -> Array:
        """(draws, m) what a screw says; ``instead``: what stands for the factor of a trial, None: the trial is not."""
        factors = []
        for k, trial in enumerate(self.trials):
            if self.of_trial[k] == number:
                factor = instead[k] if k in instead else likelihood.mixed(trial, self.due[k], self.thread)
                factors += [] if factor is None else [factor]
        one = self.screws[number]
        if not factors:
            return np.ones((1, 1))
        return likelihood.at_sizes(
            likelihood.of_screw(factors, one, self.axis), one.size + self.shift[number], self.axis
        )


def hole_from_trials(
    thread: HoleThread,
    trials: Sequence[Trial],
    *,
    engagement: float,
    depth: float | None = None,
    at_hand: Sequence[TriedScrew] = (),
    draws: int = DRAWS,
    seed: int = SEED,
) -> FoundHole:
    """The hole that these trials are of.

    Args:
        thread: of the hole.
        trials: at least one screw that went in.
        engagement: over which full threads engage, mm.
        depth: of the hole, mm.
        at_hand: measured screws that could be tried next.
        draws: of what is common to a bench.
        seed: the same seed gives the same result.

    Raises HoleError: what cannot be a trial in this hole (``check_trials``).
    """
    check_trials(thread, trials, engagement, depth)
    evidence = _evidence(thread, trials, engagement, draws, np.random.default_rng(seed))
    logs = np.array([np.log(evidence.factor(number, {})) for number in range(len(evidence.screws))])
    total = logs.sum(axis=0)
    joint = evidence.prior * np.exp(total - total.max()).mean(axis=0)
    joint /= joint.sum()
    density = joint.sum(axis=0)
    sizes = evidence.axis.sizes
    low, median, high = quantiles(sizes, density, (0.025, 0.5, 0.975))
    pitch_diameter = Spread(float(median), float(low), float(high), "mm")
    shares = joint[:-1].sum(axis=1)
    classes = tuple(
        ClassShare(one.designation, float(share), *map(float, zone))
        for share, one, zone in sorted(
            zip(shares, thread.limits, zones_of(thread), strict=True), key=lambda item: -item[0]
        )
    )
    none = float(joint[-1].sum())
    top = max(one.high for one in classes[:1])
    worn = float(quantiles(sizes, joint[-1], 0.5)) - top
    judged = _judged(evidence, logs)
    bench, follows = _follows(evidence, total)
    return FoundHole(
        thread=thread.name,
        base=thread.limits[0].designation,
        engagement=engagement,
        depth=depth,
        pitch_diameter=pitch_diameter,
        classes=classes,
        no_class=none,
        worn_by=max(worn, 0.0),
        open_class=_open_class(classes, none),
        trials=judged,
        to_make=screw_to_make(thread, sizes, density, trials, engagement),
        next_trial=next_trial(
            Planned(thread, evidence.axis, evidence.screws, evidence.shift, engagement),
            evidence.prior.sum(axis=0),
            total,
            trials,
            at_hand,
        ),
        bench=bench,
        follows=follows,
        sizes=sizes,
        density=density,
    )


def _evidence(
    thread: HoleThread, trials: Sequence[Trial], engagement: float, draws: int, rng: np.random.Generator
) -> _Evidence:
    keys: dict[Hashable, int] = {}
    for trial in trials:
        keys.setdefault(trial.screw.key, len(keys))
    first = {keys[trial.screw.key]: trial.screw for trial in reversed(trials)}
    screws = tuple(likelihood.sized(thread, first[number], engagement) for number in range(len(keys)))
    low, high = thread.reach
    measured = [one.size for one in screws]
    sizes = np.arange(min(low, *measured), max(high, *measured), _STEP)
    reach = float(sizes[-1] - sizes[0]) + _MARGIN  # also of any screw that could be tried next
    clearances = np.arange(-reach, reach, _STEP)
    of_trial = tuple(keys[trial.screw.key] for trial in trials)
    for trial in trials:
        if trial.outcome == MOVED and trial.movement is not None:
            most = travel_of(thread, trial.screw, np.array([2 * thread.height]), engagement, trial.overhang)
            check_reach(thread, trial.screw, trial.movement, most)
    due = [
        likelihood.probability_of(trial, screws[of], thread, engagement, clearances)
        for trial, of in zip(trials, of_trial, strict=True)
    ]
    room = _MARGIN - 2 * _STEP
    return _Evidence(
        thread=thread,
        trials=trials,
        engagement=engagement,
        axis=Axis(sizes, clearances, _STEP),
        screws=screws,
        of_trial=of_trial,
        due=np.array(due),
        shift=np.clip(likelihood.shifts(screws, draws, rng), -room, room),
        prior=prior_of(thread, sizes),
    )


def _judged(evidence: _Evidence, logs: Array) -> tuple[JudgedTrial, ...]:
    """Each trial against all others. ``logs``: (screws, draws, m)."""
    prior, total = evidence.prior.sum(axis=0), logs.sum(axis=0)
    thread, axis = evidence.thread, evidence.axis
    found: list[JudgedTrial] = []
    short: list[bool] = []  # the movement is less than it should be
    for k, trial in enumerate(evidence.trials):
        number = evidence.of_trial[k]
        one, others = evidence.screws[number], total - logs[number]
        weight = prior * np.exp(others - others.max())

        def sum_with(factor: Array | None, weight: Array = weight, number: int = number, k: int = k) -> float:
            return float(np.sum(weight * evidence.factor(number, {k: factor})))

        without, own = sum_with(None), float(np.sum(weight * np.exp(logs[number])))
        less = False
        if trial.outcome == MOVED:
            p = sum_with(likelihood.below(trial, one, thread, evidence.engagement, axis.clearances)) / without
            expected, less = 2 * min(p, 1 - p), p < 0.5
        else:
            expected = sum_with(evidence.due[k]) / without
        wrong = likelihood.WRONG[trial.outcome] * likelihood.anyhow(trial, thread) * without / own
        u95 = COVERAGE_FACTOR * one.virtual.quantity.standard_uncertainty
        found.append(JudgedTrial(trial, float(np.clip(expected, 0, 1)), float(min(wrong, 1.0)), one.size, u95))
        short.append(less)
    worst = max((one.wrong for one in found if one.expected < CONTRADICTS), default=0.0)
    return tuple(
        replace(one, cause=cause_of(one, found, evidence.screws[evidence.of_trial[k]].virtual, less=short[k]))
        if one.expected < CONTRADICTS and one.wrong >= worst / 2
        else one
        for k, one in enumerate(found)
    )


def _follows(evidence: _Evidence, total: Array) -> tuple[str, float]:
    """The bench of most screws, and how the hole's size goes with what that bench's screws are larger than measured."""
    benches = [one.screw.common.bench for one in evidence.screws if one.screw.common is not None]
    if not benches:
        return "", 0.0
    bench = max(benches, key=benches.count)
    number = next(k for k, one in enumerate(evidence.screws) if one.screw.common and one.screw.common.bench == bench)
    sizes, larger = evidence.axis.sizes, evidence.shift[number]
    weight = evidence.prior.sum(axis=0) * np.exp(total - total.max())
    weight /= weight.sum()
    middle = float(np.sum(weight * sizes))
    share = weight.sum(axis=1)
    off = larger - float(share @ larger)
    together = float(off @ (weight @ (sizes - middle)))
    spread = float(share @ off**2) * float(np.sum(weight * (sizes - middle) ** 2))
    return str(bench), float(np.clip(together / np.sqrt(spread), 0.0, 0.99)) if spread > 0 else 0.0


def _open_class(classes: Sequence[ClassShare], none: float) -> Reason | None:
    """Why the class cannot be told: which classes have the size in their zones, and how much they share."""
    if max(classes[0].probability, none) >= CAN_BE_TOLD:
        return None
    open_ones = [one for one in classes if one.probability >= 0.05]
    if len(open_ones) < 2:
        return Reason(
            "hole_class_open.edge", designation=classes[0].designation, low=classes[0].low, high=classes[0].high
        )
    one, two = open_ones[:2]
    shared = min(one.high, two.high) - max(one.low, two.low)
    return Reason(
        "hole_class_open.shared",
        names=tuple(item.designation for item in open_ones),
        shared=max(shared, 0.0),
        width=max(one.high - one.low, two.high - two.low),
        first=one.designation,
        second=two.designation,
    )
