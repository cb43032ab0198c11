"""What was found of a tapped hole, in sentences."""

from __future__ import annotations

from threads.hole.found_hole import CAN_BE_TOLD, FoundHole, NextTrial
from threads.hole.movement import MovementFound
from threads.hole.trial import MOVED, STOPPED, Trial
from threads.shared.refusal import Reason

SAY_NONE = 0.30
"""From this probability on it is said that the hole may be of no class."""


def sentences(found: FoundHole) -> list[Reason]:
    """The size first, then the class, contradictions, what to make, and what to try next."""
    contradictions = [one.cause for one in found.trials if one.cause is not None]
    return [size_words(found), *class_words(found), *contradictions, make_words(found), next_words(found)]


def size_words(found: FoundHole) -> Reason:
    """How large it is."""
    size = found.pitch_diameter
    return Reason("hole_size", thread=found.thread, median=size.median, range=(size.low95, size.high95))


def class_words(found: FoundHole) -> list[Reason]:
    """Its class, or why that cannot be told, and whether it may be of none."""
    best = found.classes[0]
    if best.probability >= CAN_BE_TOLD:
        return [Reason("hole_class.told", designation=best.designation, share=best.probability)]
    told = [] if found.open_class is None else [found.open_class]
    if found.no_class >= SAY_NONE:
        case = "worn" if found.worn_by > 0 else "tight"
        none = Reason(f"hole_class.{case}", share=found.no_class, by=found.worn_by)
        return [none] if found.no_class >= CAN_BE_TOLD else [*told, none]
    return told


def make_words(found: FoundHole) -> Reason:
    """The screw to make."""
    make = found.to_make
    return Reason(
        "hole_make",
        range=(make.low, make.high),
        die=make.die,
        movement=make.movement.median,
        most=make.movement.high95,
        overhang=make.overhang,
    )


def next_words(found: FoundHole) -> Reason:
    """The next trial."""
    advice = found.next_trial
    return Reason("hole_next.none") if advice is None else next_trial_words(advice)


def next_trial_words(advice: NextTrial) -> Reason:
    """One advised trial."""
    now, then = advice.half_width
    case = "move" if advice.move else "size" if advice.screw is None else "screw"
    return Reason(
        f"hole_next.{case}",
        name=advice.screw,
        size=advice.pitch_diameter,
        overhang=advice.overhang,
        now=now,
        then=then,
    )


def trial_words(trial: Trial) -> Reason:
    """What came of a trial."""
    if trial.outcome == MOVED and trial.movement is not None:
        return Reason("hole_trial.moved", movement=trial.movement.value, overhang=trial.overhang)
    if trial.turns is not None:
        return Reason("hole_trial.stopped_after", turns=trial.turns)
    return Reason("hole_trial.stopped" if trial.outcome == STOPPED else "hole_trial.went_in")


def movement_words(found: MovementFound) -> Reason:
    """What a movement says."""
    return Reason(
        "hole_movement",
        movement=found.movement.value,
        overhang=found.overhang,
        clearance=found.clearance,
        hole=found.hole,
    )
