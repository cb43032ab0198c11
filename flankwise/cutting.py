"""Dies and taps by what they cut, and cutting to fit."""

from __future__ import annotations

import math
from collections.abc import Hashable, Mapping, Sequence
from dataclasses import dataclass, replace
from functools import partial
from typing import TYPE_CHECKING, Any

from flankwise.amounts import Amount, in_mm
from flankwise.judging import limits_named
from flankwise.judging_instrument import common_errors
from flankwise.part import Part
from flankwise.reasons import sentence
from flankwise.reference import Reference, reference_of
from threads.shared.plain_json import plain
from threads.shared.refusal import Reason, ReasonedError

if TYPE_CHECKING:
    from threads.cutting.die_choice import DieChoice, KnownDie, MeasuredCut
    from threads.cutting.to_fit import Fitting, Target
    from threads.measured.thread import MeasuredThread
    from threads.standards.limits import Limits
    from threads.workshop.drawn_thread import TriedHole

WORTH_SAYING_MM = 0.006
"""Errors of pitch and angle that act on the pitch diameter by so much more than the original's are told of."""


class CuttingError(ReasonedError, ValueError):
    """What cannot be cut to. The message is one line."""


@dataclass(frozen=True, eq=False, repr=False)
class CutToFit:
    """Where the attempts stand: ``found.off``, ``found.setting``, ``found.good``; ``advised``: what to do, as codes."""

    found: Fitting
    advised: tuple[Reason, ...]

    def advice(self, *, inches: bool = False) -> tuple[str, ...]:
        """What to do, the one line first."""
        return tuple(sentence(one, inches=inches) for one in self.advised)

    def to_dict(self, *, inches: bool = False) -> dict[str, Any]:
        """The plain form used in JSON, schema ``flankwise/fitting/1``; ``inches`` is for the words only."""
        return dict(plain({**self.found.to_dict(), "advice": list(self.advised)}, partial(sentence, inches=inches)))

    def __str__(self) -> str:
        return "\n".join(self.advice())

    __repr__ = __str__


@dataclass(frozen=True, eq=False, repr=False)
class DiesAnswer:
    """Dies held against an original, nearest first: ``choices[0].state.die.name``, ``choices[0].difference``."""

    choices: tuple[DieChoice, ...]

    def to_dict(self, part: int | str) -> dict[str, Any]:
        """The object of ``flankwise record dies --for PART --json``."""
        document = {"schema": "flankwise/dies/1", "part": part, "dies": [one.to_dict() for one in self.choices]}
        return dict(plain(document, sentence))

    def __str__(self) -> str:
        return "\n".join(f"{one.state.die.name}: {sentence(one.note)}" for one in self.choices)

    __repr__ = __str__


def cut_to_fit(
    target: str | Limits | Part | Reference | TriedHole, attempts: Sequence[tuple[Part | Reference, str | None]]
) -> CutToFit:
    """Say what to do at the die after some attempts, all cut by one die.

    Args:
        target: the original; or a hole as measured or tried (``flankwise.hole(...).as_tried``), which the screw shall
            fit; or a class of screw or of hole, such as ``"4-40 NC-2"``.
        attempts: the screws cut so far, in their order, each with how the die was set: ``"open 1/4 turn"``, counted
            always from the same place; None where nobody wrote it down.

    Returns:
        What to do. How far to turn is learned from the attempts; before two at different settings nothing is said of
        it.

    Raises ValueError (CuttingError) for an attempt that is a hole or another thread than the target, a class without
    limits, and an unknown designation.
    """
    aim: MeasuredCut | Limits | TriedHole
    if isinstance(target, Part | Reference):
        aim = measured_cut(target)
    else:
        aim = limits_named(target) if isinstance(target, str) else target
    name = reference_of(target).name if isinstance(target, Part | Reference) else ""
    return fit(aim, [measured_cut(part, setting) for part, setting in attempts], name=name)


def fit(target: MeasuredCut | Limits | TriedHole, attempts: Sequence[MeasuredCut], *, name: str = "") -> CutToFit:
    """As ``cut_to_fit``, of threads as ``measured_cut`` gives them; ``name``: of the original or the hole."""
    from threads.cutting.die_choice import MeasuredCut
    from threads.cutting.learnt import learn
    from threads.cutting.to_fit import fitted

    for number, cut in enumerate(attempts, 1):
        if cut.thread.internal:
            raise CuttingError("attempt_is_hole", number=number)
    # the third is the first to follow what is advised, which says from which side to come
    cuts = [replace(one.cut, closed_to=True if number > 1 else None) for number, one in enumerate(attempts)]
    found = fitted(_target(target, attempts, name), learn({0: cuts}).get(0))
    more: tuple[Reason, ...] = ()
    if isinstance(target, MeasuredCut) and attempts and not target.thread.internal:
        by = attempts[-1].added - target.added
        more = (Reason("cut_errors_differ", by=by),) if by > WORTH_SAYING_MM else ()
    return CutToFit(found, (*found.told, *more))


def dies_for(
    original: MeasuredCut,
    dies: Sequence[KnownDie],
    *,
    hole: str | Limits | Part | Reference | TriedHole | None = None,
    like: str | Limits | None = None,
    engagement: Amount | None = None,
) -> DiesAnswer:
    """Hold the workshop's dies against an original: which comes nearest, and what its screw would do.

    Args:
        original: as ``measured_cut`` gives it: a screw; or a hole, for taps.
        dies: with what they cut.
        hole: where the screw goes, a class, or as measured or tried. The class that goes with ``like`` if not said.
        like: the class that it shall keep to.
        engagement: over which length full threads engage; one diameter if not said.

    Raises ValueError for an unknown designation.
    """
    from threads.cutting.die_choice import nearest_dies
    from threads.standards.designation import parse
    from threads.standards.limits import limits_of
    from threads.workshop.mating_class import mating_hole, mating_screw
    from threads.workshop.play import Reading

    internal = original.thread.internal
    limits = limits_named(like, internal=internal) if isinstance(like, str) else like
    mate = None
    if limits is not None and internal:
        fitting = mating_screw(parse(limits.designation, internal=True))
        mate = None if fitting is None else limits_of(fitting)
    held = limits_named(hole, internal=True) if isinstance(hole, str) else hole
    if held is None and limits is not None and not internal:
        fitting = mating_hole(parse(limits.designation, internal=False))
        held = None if fitting is None else limits_of(fitting)
    in_hole = Reading(reference_of(held).thread) if isinstance(held, Part | Reference) else held
    length = None if engagement is None else in_mm(engagement, "engagement")
    return DiesAnswer(nearest_dies(original, dies, hole=in_hole, limits=limits, mate=mate, engagement_mm=length))


def measured_cut(part: Part | Reference, setting: str | None = None) -> MeasuredCut:
    """A measured part with what its errors share with its bench, where its measurement is at hand."""
    from threads.cutting.die_choice import MeasuredCut

    held = reference_of(part)
    measurement = held.measurement
    if measurement is None:
        return MeasuredCut(held.thread, None, setting)
    terms = {quantity: [(t.source, t.u) for t in lines] for quantity, lines in measurement.budget.items()}
    return cut_of(held.thread, terms, measurement.plane.id, setting)


def cut_of(
    thread: MeasuredThread,
    budget: Mapping[str, Sequence[tuple[str, float]]],
    bench: Hashable | None,
    setting: str | None = None,
) -> MeasuredCut:
    """As ``measured_cut``, from a measurement's budget: (source, u) of each quantity. ``bench`` None: not known."""
    from threads.cutting.die_choice import MeasuredCut
    from vision.fit.budget import MIRRORED_BY_FLANKS

    if bench is None:
        return MeasuredCut(thread, None, setting)
    surface = math.hypot(*(u for source, u in budget.get("pitch_diameter", ()) if source == MIRRORED_BY_FLANKS), 0.0)
    return MeasuredCut(thread, common_errors(budget, thread, bench), setting, surface)


def _target(target: MeasuredCut | Limits | TriedHole, cuts: Sequence[MeasuredCut], name: str) -> Target:
    from threads.cutting.die_choice import MeasuredCut, other_pitch, other_thread
    from threads.cutting.to_fit import in_class, in_hole, in_tried_hole, like_original
    from threads.standards.designation import parse
    from threads.standards.limits import limits_of
    from threads.workshop.drawn_thread import TriedHole
    from threads.workshop.mating_class import mating_screw

    added = cuts[-1].added if cuts else 0.0
    if isinstance(target, MeasuredCut):
        _check([other_thread(target.thread, one.thread) for one in cuts])
        if target.thread.internal:
            return in_hole(target.thread.virtual_pitch_diameter, name, added)
        return like_original(target.observed, name)
    if isinstance(target, TriedHole):
        _check([other_pitch(target.limits.pitch, one.thread) for one in cuts])
        return in_tried_hole(target, added)
    limits = target
    if limits.internal:
        mate = mating_screw(parse(limits.designation, internal=True))
        limits = limits if mate is None else limits_of(mate)
    _check([other_pitch(limits.pitch, one.thread) for one in cuts])
    found = in_class(limits, added)
    if found is None:
        raise CuttingError("no_class_to_cut_to", designation=limits.designation)
    return found


def _check(why: Sequence[Reason | None]) -> None:
    """Raises CuttingError for the first attempt that is another thread."""
    for number, other in enumerate(why, 1):
        if other is not None:
            raise CuttingError("attempt_other_thread", number=number, why=other)
