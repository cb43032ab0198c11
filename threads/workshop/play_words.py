"""A predicted fit in words."""

from __future__ import annotations

from threads.shared.formatting import format_difference, format_length, format_probability
from threads.workshop.play import Beside, Feel, Play, Spread

SURE = 0.975
"""A probability from which on, or below 1 - which, it is said without a doubt."""

ENTERS, MAY_NOT_ENTER, WILL_NOT_ENTER = "enters", "may not enter", "will not enter"

_ALIKE = 0.1
"""Up to this part more or less, two clearances are called alike."""


def verdict(feel: Feel) -> str:
    """``enters``, ``may not enter`` or ``will not enter``."""
    if feel.enters >= SURE:
        return ENTERS
    return MAY_NOT_ENTER if feel.enters > 1 - SURE else WILL_NOT_ENTER


def written(spread: Spread, *, inches: bool = False) -> tuple[str, str]:
    """Median and 95 % range as a person reads them."""
    median, low, high = (
        format_difference(value, spread.unit, inches=inches) for value in (spread.median, spread.low95, spread.high95)
    )
    return median, f"{low} to {high}"


def sentences(found: Play, *, inches: bool = False) -> list[str]:
    """What will be felt, and against the other screws."""
    said = [_what_is_felt(found, inches=inches)]
    if verdict(found.screw) != WILL_NOT_ENTER:
        said += [_against(one) for one in found.beside]
    return said


def _what_is_felt(found: Play, *, inches: bool) -> str:
    feel = found.screw
    hole = f"a {found.hole} hole" if found.by_class else found.hole
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
    return text + "."


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
