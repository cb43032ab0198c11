"""A predicted fit in words."""

from __future__ import annotations

from threads.judge import pairing
from threads.judge.pairing import Pair
from threads.shared.formatting import MM_PER_INCH, format_difference
from threads.shared.refusal import Reason, Value
from threads.workshop.predicted_play import CRESTS, ROOTS, Beside, Feel, Play, Spread

SURE = 0.975
"""A probability from which on, or below 1 - which, it is said without a doubt."""

ENTERS, MAY_NOT_ENTER, WILL_NOT_ENTER = "enters", "may not enter", "will not enter"
FALLS_THROUGH = "drops through"

_ALIKE = 0.1
"""Up to this part more or less, two clearances are called alike."""

_A_START = 0.1
"""Turns; a screw that binds sooner does not start."""


def verdict(feel: Feel) -> str:
    """``enters``, ``may not enter``, ``will not enter`` or ``drops through``."""
    if feel.pair.verdict == pairing.DROPS_THROUGH:
        return FALLS_THROUGH
    if feel.enters >= SURE:
        return ENTERS
    return MAY_NOT_ENTER if feel.enters > 1 - SURE else WILL_NOT_ENTER


def is_held_off(feel: Feel) -> bool:
    """Whether there is no play to state: the screw does not enter, or it and the hole are no pair."""
    return verdict(feel) in (WILL_NOT_ENTER, FALLS_THROUGH)


def written(spread: Spread, *, inches: bool = False) -> tuple[str, str]:
    """Median and 95 % range as a person reads them."""
    median, low, high = (
        format_difference(value, spread.unit, inches=inches) for value in (spread.median, spread.low95, spread.high95)
    )
    return median, f"{low} to {high}"


def sentences(found: Play) -> list[Reason]:
    """What will be felt, and against the other screws."""
    told = [_what_is_felt(found)]
    if not is_held_off(found.screw):
        told += [_against(one) for one in found.beside if one.comparable]
    return told


def pitch_of(pitch_mm: float) -> Reason:
    """A pitch, as 0.635 mm (40.0 to the inch)."""
    return Reason("pitch_of", pitch_mm=pitch_mm, per_inch=MM_PER_INCH / pitch_mm)


def _what_is_felt(found: Play) -> Reason:
    feel = found.screw
    how = "hole_of_class" if found.by_class else "hole_tried" if found.tried else "hole_named"
    hole = Reason(how, name=found.hole)
    if not feel.pair.meshes:
        return no_pair(feel.pair, hole)
    if verdict(feel) == WILL_NOT_ENTER:
        return Reason("felt.will_not", hole=hole, why=_why_not(feel))
    if verdict(feel) == ENTERS:
        enters = Reason("enters.sure", hole=hole)
    else:
        enters = Reason(
            "enters.perhaps_class" if found.by_class else "enters.perhaps", hole=hole, share=1 - feel.enters
        )
    clearance = feel.radial_clearance
    if clearance.median < 0:
        return Reason("felt.barely", enters=enters, most=max(clearance.high95, 0.0))
    plays: dict[str, Value] = {
        "enters": enters,
        "engagement": found.engagement,
        "clearance": clearance.median,
        "clearance_range": _range(clearance),
        "tilt": feel.tilt.median,
        "reach": _reach(feel.pair),
    }
    if found.overhang <= 0:
        return Reason("felt.plays", **plays)
    end = feel.end_movement
    return Reason("felt.plays_out", **plays, overhang=found.overhang, end=end.median, end_range=_range(end))


def _reach(pair: Pair) -> Reason:
    """How much of the thread carries."""
    percent = 100 * pair.overlap_share
    return (
        Reason("reach_over.other_angle", percent=percent, **_angles(pair))
        if pair.other_angle
        else Reason("reach_over", percent=percent)
    )


def no_pair(pair: Pair, hole: Reason) -> Reason:
    """Why a screw and ``hole`` are no pair."""
    if pair.verdict == pairing.OTHER_HAND:
        return Reason("no_pair.hand", hole=hole)
    if pair.verdict == pairing.OTHER_STARTS:
        return Reason("no_pair.starts", hole=hole)
    screw_pitch, hole_pitch = map(pitch_of, pair.pitches)
    pitches = {"screw_pitch": screw_pitch, "hole_pitch": hole_pitch}
    if pair.verdict == pairing.DROPS_THROUGH:
        more = pitches if pair.other_pitch else {}
        if pair.overlap <= 0:
            key = "no_pair.drops_pitch" if pair.other_pitch else "no_pair.drops"
            return Reason(key, hole=hole, gap=2 * pair.overlap, **more)
        key = "no_pair.pulled_pitch" if pair.other_pitch else "no_pair.pulled"
        return Reason(key, hole=hole, percent=100 * pair.overlap_share, **more)
    if pair.verdict == pairing.OTHER_PITCH:
        assert pair.turns_to_bind is not None
        turns = pair.turns_to_bind
        if turns > pair.turns_engaged:
            return Reason("no_pair.bears", hole=hole, turns=turns, **pitches)
        if turns < _A_START:
            return Reason("no_pair.no_start", hole=hole, **pitches)
        return Reason("no_pair.binds", hole=hole, turns=turns, **pitches)
    return Reason("no_pair.angle", hole=hole, **_angles(pair))


def _angles(pair: Pair) -> dict[str, float]:
    """Both included angles."""
    screw, hole = pair.angles
    return {"screw_angle": 2 * screw, "hole_angle": 2 * hole}


def _range(spread: Spread) -> Reason:
    """The range of a play, which is none where the screw does not enter."""
    if spread.low95 > 0:
        return Reason("range.both", low=spread.low95, high=spread.high95)
    return Reason("range.from_none", high=spread.high95)


def _why_not(feel: Feel) -> Reason:
    """By how much it is too large, and what most of that comes from."""
    excess = -2 * feel.radial_clearance.median
    first = max(feel.touches_first, key=lambda name: feel.touches_first[name])
    if first in (CRESTS, ROOTS):
        return Reason("why_not.crests" if first == CRESTS else "why_not.roots", by=excess)
    pitch, angles = feel.pitch_loss.median, feel.angle_loss.median
    if max(pitch, angles) <= excess / 3:
        return Reason("why_not.flanks", by=excess)
    return Reason("why_not.pitch" if pitch >= angles else "why_not.angles", by=excess, loss=max(pitch, angles))


def _against(one: Beside) -> Reason:
    if one.times is None:
        return Reason("beside.enters", what=one.what, share=one.feel.enters)
    against: dict[str, Value] = {
        "what": one.what,
        "times": one.times.median,
        "within": Reason("range.times", low=one.times.low95, high=one.times.high95),
    }
    if one.looser >= SURE:
        return Reason("beside.looser", **against)
    if one.looser <= 1 - SURE:
        return Reason("beside.tighter", **against)
    if abs(one.times.median - 1) <= _ALIKE:
        return Reason("beside.alike", **against)
    return Reason("beside.open", **against, share=one.looser)
