"""Screws tried in a tapped hole: what was tried, what came of it, and what cannot be."""

from __future__ import annotations

import math
from collections.abc import Hashable, Sequence
from dataclasses import dataclass

from threads.hole.classes import HoleThread
from threads.identify.screw_evidence import CommonErrors
from threads.judge.pairing import Profile, pair_of, profile_of
from threads.measured.thread import MeasuredThread
from threads.rules.forms import FORMS
from threads.shared.quantity import Quantity
from threads.shared.refusal import ReasonedError

WENT_IN, STOPPED, MOVED = "went_in", "stopped", "moved"

RULER, FEELER, INDICATOR = "ruler", "feeler", "indicator"
READ_WITH = {RULER: 0.3, FEELER: 0.03, INDICATOR: 0.02}
"""U95 of a movement that is the difference of two readings, mm. Ruler in half millimetres: each reading within 0.2 mm.
Feeler leaves in steps of 0.05 mm. Indicator in 0.01 mm: each reading within a division. Common practice, no source."""

SMALLER, LARGER = 0.50, 0.25
"""A screw whose pitch diameter is so far below or above all classes of the hole, in heights of thread, is of another
size."""


class HoleError(ReasonedError, ValueError):
    """What cannot be a trial in this hole. The message is one line."""


@dataclass(frozen=True)
class TriedScrew:
    """A measured screw. ``key`` tells it from others, ``name`` is what it is called; ``common``: its bench's errors."""

    key: Hashable
    name: str
    thread: MeasuredThread
    common: CommonErrors | None = None


@dataclass(frozen=True)
class Trial:
    """One screw tried once.

    Attributes:
        screw: which.
        outcome: ``WENT_IN``, ``STOPPED`` or ``MOVED`` (it went in and shook).
        turns: after how many turns it stopped; None: not counted.
        movement: whole travel from side to side, mm.
        overhang: from the mouth of the hole to where the movement was read, mm.
    """

    screw: TriedScrew
    outcome: str
    turns: float | None = None
    movement: Quantity | None = None
    overhang: float = 0.0


def check_trials(thread: HoleThread, trials: Sequence[Trial], engagement: float, depth: float | None = None) -> None:
    """Refuse what cannot be: ``engagement`` and ``depth`` of the hole in mm.

    Raises HoleError: engagement and depth, no screw that went in, another thread, turns and movements out of reach.
    """
    check_hole(thread, engagement, depth)
    for one in trials:
        check_trial(thread, one, engagement)
    if not any(one.outcome in (WENT_IN, MOVED) for one in trials):
        raise HoleError("hole_none_went_in", thread=thread.name)


def check_hole(thread: HoleThread, engagement: float, depth: float | None = None) -> None:
    """Refuse lengths that no hole has. Raises HoleError."""
    if not math.isfinite(engagement) or engagement < thread.pitch:
        raise HoleError("engagement_short", engagement_mm=engagement, pitch_mm=thread.pitch)
    if depth is not None and not 0 < depth < math.inf:
        raise HoleError("hole_depth", depth_mm=depth)
    if depth is not None and engagement > depth:
        raise HoleError("hole_engagement_long", engagement_mm=engagement, depth_mm=depth)


def check_trial(thread: HoleThread, trial: Trial, engagement: float) -> None:
    """Refuse one trial that cannot be. Raises HoleError."""
    check_screw(thread, trial.screw, engagement)
    name, most = trial.screw.name, engagement / thread.pitch
    if trial.turns is not None and not 0 <= trial.turns <= most:
        raise HoleError("hole_turns", name=name, turns=trial.turns, most=most)
    if trial.outcome != MOVED:
        return
    assert trial.movement is not None
    if not math.isfinite(trial.overhang) or trial.overhang < 0:
        raise HoleError("overhang_negative", overhang_mm=trial.overhang)
    value, u = trial.movement.value, trial.movement.standard_uncertainty
    if not (0 <= value < math.inf and 0 < u < math.inf):
        raise HoleError("hole_movement_negative", name=name, movement=value)


def check_screw(thread: HoleThread, screw: TriedScrew, engagement: float) -> None:
    """Refuse the screw of another thread than the hole's. Raises HoleError."""
    of, limits = screw.thread, thread.limits[0]
    if of.internal:
        raise HoleError("hole_no_screw", name=screw.name)
    angle = FORMS[limits.form].flank_angle_deg
    hand = "left" if thread.left_hand else "right"
    diameters = (limits.basic_major, limits.basic_pitch_diameter, limits.basic_minor)
    hole = Profile(*diameters, limits.pitch, angle, angle, hand)
    pair = pair_of(
        profile_of(of), hole, height=thread.height, engagement=engagement,
        pitch_u95=of.pitch.u95, angle_u95=of.included_angle.u95 / 2,
    )  # fmt: skip
    low, high = thread.span
    size = of.pitch_diameter.value
    other_size = not low - SMALLER * thread.height <= size <= high + LARGER * thread.height
    if not pair.meshes or pair.other_angle or other_size:
        raise HoleError(
            "hole_other_thread",
            name=screw.name,
            thread=thread.name,
            pitch_mm=of.pitch.value,
            diameter_mm=of.pitch_diameter.value,
            hole_pitch_mm=limits.pitch,
            hole_diameter_mm=limits.basic_pitch_diameter,
        )
