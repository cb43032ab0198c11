"""What is most likely the matter with a trial that contradicts all others."""

from __future__ import annotations

from collections.abc import Sequence

from threads.hole.found_hole import JudgedTrial
from threads.hole.likelihood import STARTS
from threads.hole.trial import MOVED, STOPPED, WENT_IN
from threads.measured.virtual_pitch_diameter import VirtualPitchDiameter
from threads.shared.refusal import Reason

PITCH_MATTERS = 0.005
"""A screw whose pitch error takes more than this off its room, mm, may bind although others of its size enter."""


def cause_of(
    one: JudgedTrial, found: Sequence[JudgedTrial], virtual: VirtualPitchDiameter, *, less: bool = False
) -> Reason:
    """The likeliest cause (common practice, no source).

    Args:
        one: the trial that contradicts the others.
        found: all trials.
        virtual: of its screw.
        less: its movement is smaller than the others say, not larger.
    """
    trial, name = one.trial, one.trial.screw.name
    against = _against(one, found)
    if trial.outcome == MOVED:
        return Reason("hole_contradicts.less" if less else "hole_contradicts.more", name=name)
    if trial.outcome == WENT_IN:
        return Reason("hole_contradicts.mixed_up", name=name, against=against)
    turns = trial.turns or 0.0
    if turns > STARTS or virtual.pitch_part.value > PITCH_MATTERS:
        return Reason("hole_contradicts.pitch", name=name, against=against, taken=virtual.pitch_part.value)
    major = trial.screw.thread.major_diameter
    entered = [other.trial.screw.thread.major_diameter for other in found if other.trial.outcome != STOPPED]
    if entered and all(major.value - other.value > major.u95 + other.u95 for other in entered):
        by = major.value - max(other.value for other in entered)
        return Reason("hole_contradicts.crests", name=name, against=against, by=by)
    return Reason("hole_contradicts.burr", name=name, against=against)


def _against(one: JudgedTrial, found: Sequence[JudgedTrial]) -> Reason:
    """The trial that speaks most plainly against this one."""
    stopped = one.trial.outcome == STOPPED
    others = [other for other in found if (other.trial.outcome == STOPPED) != stopped]
    if stopped and others:
        largest = max(others, key=lambda other: other.size)
        if largest.size > one.size:
            return Reason("hole_against.larger_went_in", other=largest.trial.screw.name, by=largest.size - one.size)
    if not stopped and others:
        smallest = min(others, key=lambda other: other.size)
        if smallest.size < one.size:
            return Reason("hole_against.smaller_stopped", other=smallest.trial.screw.name, by=one.size - smallest.size)
    return Reason("hole_against.others")
