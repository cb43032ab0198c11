"""A predicted fit in words."""

from __future__ import annotations

from threads.judge import pairing
from threads.judge.pairing import Pair
from threads.shared.formatting import MM_PER_INCH, format_difference, format_length, format_probability
from threads.workshop.play import Beside, Feel, Play, Spread

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


def sentences(found: Play, *, inches: bool = False) -> list[str]:
    """What will be felt, and against the other screws."""
    said = [_what_is_felt(found, inches=inches)]
    if not is_held_off(found.screw):
        said += [_against(one) for one in found.beside if one.comparable]
    return said


def _what_is_felt(found: Play, *, inches: bool) -> str:
    feel = found.screw
    hole = f"a {found.hole} hole" if found.by_class else found.hole
    if not feel.pair.meshes:
        return no_pair(feel.pair, hole, inches=inches)
    if verdict(feel) == WILL_NOT_ENTER:
        return f"It will not enter {hole}: {_why_not(feel, inches=inches)}."
    if verdict(feel) == ENTERS:
        enters = f"It enters {hole}"
    else:
        holes = "of the holes of that class" if found.by_class else "of what hole and screw may truly be"
        enters = f"It may not enter {hole} ({format_probability(1 - feel.enters)} {holes} are too tight)"
    if feel.radial_clearance.median < 0:
        most = format_difference(max(feel.radial_clearance.high95, 0.0), "mm", inches=inches)
        return f"{enters}; where it does, its axis can move {most} to each side at most."
    clearance, within = _in_words(feel.radial_clearance, inches=inches)
    length = format_length(found.engagement, inches=inches)
    tilt = format_difference(feel.tilt.median, "deg")
    text = f"{enters}; engaged over {length} its axis can move {clearance} to each side ({within}) and lean {tilt}"
    if found.overhang > 0:
        end, end_within = _in_words(feel.end_movement, inches=inches)
        out = format_length(found.overhang, inches=inches)
        text += f", so that its end, {out} out, moves {end} to each side ({end_within})"
    text += f". Its crests reach over {_share(feel.pair)} of the height of the hole's thread"
    if feel.pair.other_angle:
        text += f". Its flank angle is another: {_angles(feel.pair)}; it bears on the edges of its flanks"
    return text + "."


def no_pair(pair: Pair, hole: str, *, inches: bool = False) -> str:
    """Why a screw and ``hole`` are no pair."""
    if pair.verdict == pairing.OTHER_HAND:
        return f"It is no screw for {hole}: the one is left-hand, the other right-hand."
    if pair.verdict == pairing.OTHER_STARTS:
        return f"It is no screw for {hole}: their numbers of starts differ, and so do their leads."
    if pair.verdict == pairing.DROPS_THROUGH:
        gap = format_difference(abs(2 * pair.overlap), "mm", inches=inches)
        if pair.overlap <= 0:
            text = f"It drops through {hole}: its crests are {gap} smaller across than those of the hole"
        else:
            text = f"It is pulled through {hole}: its crests reach over {_share(pair)} of the height of its thread"
        return f"{text}. Its pitch is another, too: {_pitches(pair)}." if pair.other_pitch else f"{text}."
    if pair.verdict == pairing.OTHER_PITCH:
        assert pair.turns_to_bind is not None
        turns = pair.turns_to_bind
        binds = f"it binds after {turns:.1f} turns" if turns >= _A_START else "it does not start"
        if turns > pair.turns_engaged:
            binds = (
                f"it would bind after {turns:.0f} turns; here the flanks of one turn bear, and nothing is said of play"
            )
        return f"It is no screw for {hole}: its pitch is another, {_pitches(pair)}, and {binds}."
    return f"It will not enter {hole}: its flank angle is another, {_angles(pair)}."


def _share(pair: Pair) -> str:
    return f"{100 * pair.overlap_share:.0f} %"


def _pitches(pair: Pair) -> str:
    """Both pitches, as 0.635 mm (40.0 to the inch) against ..."""
    screw, hole = (f"{pitch:.4g} mm ({MM_PER_INCH / pitch:.3g} to the inch)" for pitch in pair.pitches)
    return f"{screw} against {hole}"


def _angles(pair: Pair) -> str:
    """Both included angles."""
    screw, hole = (format_difference(2 * angle, "deg") for angle in pair.angles)
    return f"{screw} against {hole}"


def _in_words(spread: Spread, *, inches: bool) -> tuple[str, str]:
    """Median and range of a play, which is none where the screw does not enter."""
    median, _ = written(spread, inches=inches)
    low, high = (format_difference(value, spread.unit, inches=inches) for value in (spread.low95, spread.high95))
    return median, f"95 %: {low if spread.low95 > 0 else 'none'} to {high}"


def _why_not(feel: Feel, *, inches: bool) -> str:
    """By how much it is too large, and what most of that comes from."""
    excess = -2 * feel.radial_clearance.median
    by = format_difference(excess, "mm", inches=inches)
    first = max(feel.touches_first, key=lambda name: feel.touches_first[name])
    if first == "crests":
        return f"its crests meet the roots of the hole, {by} too large on the major diameter"
    if first == "roots":
        return f"its roots meet the crests of the hole, {by} too large on the minor diameter"
    losses = {
        "the error of its pitch": feel.pitch_loss.median,
        "the errors of its flank angles": feel.angle_loss.median,
    }
    main = max(losses, key=lambda name: losses[name])
    text = f"on the virtual pitch diameter it is too large by {by}"
    if losses[main] > excess / 3:
        text += f", {main} over the engagement counting {format_difference(losses[main], 'mm', inches=inches)}"
    return text


def _against(one: Beside) -> str:
    if one.times is None:
        return f"{one.what[0].upper()}{one.what[1:]} would enter in {format_probability(one.feel.enters)} of the cases."
    times = f"{_times(one.times.median)} times"
    within = f"95 %: {_times(one.times.low95)} to {_times(one.times.high95)}"
    if one.looser >= SURE:
        return f"That is about {times} as loose as {one.what} ({within})."
    if one.looser <= 1 - SURE:
        return f"That is tighter than {one.what}: {times} its clearance ({within})."
    if abs(one.times.median - 1) <= _ALIKE:
        return f"That is about as loose as {one.what} ({times} its clearance, {within})."
    leaning = format_probability(one.looser)
    return (
        f"Whether it is looser than {one.what} cannot be told: {times} its clearance ({within}), looser in {leaning}."
    )


def _times(factor: float) -> str:
    return "over 20" if factor > 20 else f"{factor:.1f}" if factor < 9.95 else f"{factor:.0f}"
