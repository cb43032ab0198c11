"""What to do at the die, or with the blank, after a check: in words with numbers.

A die that is closed or opened moves pitch and minor diameter alike; the major diameter is that of the blank, which a
die only trims (common practice, no source).
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

from threads.judge.check import Check, added_by_errors, usable_zone
from threads.judge.judgement import ACCEPTED_FROM, CONFORMS, DOES_NOT_CONFORM, Judgement
from threads.shared.formatting import format_difference

_Words = Callable[[float], str]

_LARGE_SHARE = 0.25  # of the tolerance: errors of pitch and angle that use up more are worth another die
_WORTH_SAYING = 0.0005  # mm, nearer to the middle a die cannot be set


@dataclass(frozen=True)
class DieMove:
    """By how much the pitch diameter has to change; mm, positive: larger.

    Attributes:
        to_middle: to the middle of the zone that this thread, with its errors of pitch and angle, may use.
        least, most: changes between which the thread is sure to conform, guard bands included; ``least`` > ``most``
            where no setting is sure to. They enclose 0 where it conforms as it is.
    """

    to_middle: float
    least: float
    most: float

    @property
    def sure(self) -> bool:
        """Whether some setting is sure to conform."""
        return self.least <= self.most


def die_move(found: Check) -> DieMove | None:
    """The move at the die; None where a limit of the pitch diameter is not set."""
    zone = usable_zone(found)
    if zone is None:
        return None
    simple, virtual = found.of("pitch_diameter").reach, found.of("virtual_pitch_diameter").reach
    toward_low, toward_high = (virtual, simple) if found.thread.internal else (simple, virtual)
    value = found.thread.pitch_diameter.value
    return DieMove(
        to_middle=(zone[0] + zone[1]) / 2 - value,
        least=zone[0] + toward_low.down(ACCEPTED_FROM) - value,
        most=zone[1] - toward_high.up(ACCEPTED_FROM) - value,
    )


def advice(found: Check, *, inches: bool = False) -> tuple[str, ...]:
    """What to do, one sentence each, the die first."""

    def words(length: float) -> str:
        return format_difference(abs(length), "mm", inches=inches)

    said: list[str] = []
    move = die_move(found)
    if move is not None:
        broken = found.of("pitch_diameter").verdict == DOES_NOT_CONFORM
        said.append(_at_the_tap(move, words) if found.thread.internal else _at_the_die(move, words, broken=broken))
        zone = usable_zone(found)
        assert zone is not None
        errors = added_by_errors(found)
        whole = zone[1] - zone[0] + errors
        if whole > 0 and errors > _LARGE_SHARE * whole:
            which = "pitch" if found.virtual.pitch_part.value > found.virtual.angle_part.value else "flank angles"
            tool = "tap" if found.thread.internal else "die"
            said.append(
                f"Errors of pitch and flank angles, mostly of the {which}, use up {words(errors)} of the "
                f"{words(whole)} that the pitch diameter is allowed: a truer {tool} gives more room."
            )
    if not found.thread.internal:
        said += [line for line in (_major(found, words), _minor(found, move, words), _root(found)) if line]
    return tuple(said)


def _at_the_die(move: DieMove, words: _Words, *, broken: bool) -> str:
    if not move.sure:
        return (
            "No setting of the die is sure to conform: what errors of pitch and angle and the uncertainty leave of the "
            f"zone is {words(move.most - move.least)} too narrow. Measure with less uncertainty, or use a truer die; "
            f"the middle of the zone is {words(move.to_middle)} {'larger' if move.to_middle > 0 else 'smaller'}."
        )
    if move.most < 0:
        return (
            f"Close the die: the pitch diameter must come down by {words(move.to_middle)} to the middle of the zone; "
            f"by {words(move.most)} at least and not more than {words(move.least)}."
        )
    if move.least > 0:
        thin = "It is too thin" if broken else "It may be too thin"
        return (
            f"{thin}, and what is cut off cannot be put back. Open the die for the next one: its pitch diameter must "
            "come out "
            f"{words(move.to_middle)} larger for the middle of the zone; {words(move.least)} at least and not more "
            f"than {words(move.most)}."
        )
    return f"Leave the die as it is: {_place(move, words)}"


def _at_the_tap(move: DieMove, words: _Words) -> str:
    if not move.sure:
        return (
            "No tap is sure to conform: what errors of pitch and angle and the uncertainty leave of the zone is "
            f"{words(move.most - move.least)} too narrow."
        )
    if move.least > 0:
        return (
            f"Cut larger: the pitch diameter must grow by {words(move.to_middle)} to the middle of the zone; by "
            f"{words(move.least)} at least and not more than {words(move.most)}."
        )
    if move.most < 0:
        return (
            "What is cut away cannot be put back. Take a smaller tap for the next one: its pitch diameter must come "
            f"out {words(move.to_middle)} smaller for the middle of the zone."
        )
    return f"Keep this tap: {_place(move, words)}"


def _place(move: DieMove, words: _Words) -> str:
    room = f"it may still come down by {words(move.least)} or grow by {words(move.most)} and be sure to conform."
    if abs(move.to_middle) < _WORTH_SAYING:
        return f"the pitch diameter is in the middle of the zone; {room}"
    side = "below" if move.to_middle > 0 else "above"
    return f"the pitch diameter is {words(move.to_middle)} {side} the middle of the zone; {room}"


def _major(found: Check, words: _Words) -> str:
    one = found.of("major_diameter")
    if one.verdict == CONFORMS or one.measured is None:
        return ""
    if _is_over(one) and one.high is not None:
        room = "" if one.low is None else f"; {words(one.measured.value - (one.low + one.high) / 2)} to the middle"
        return f"Take the crests down, and turn the next blank thinner, by {words(_to_be_sure(one))} at least{room}."
    if one.low is not None:
        return f"Turn the next blank thicker, by {words(_to_be_sure(one))} at least."
    return ""


def _minor(found: Check, move: DieMove | None, words: _Words) -> str:
    one = found.of("minor_diameter")
    if one.verdict == CONFORMS or one.measured is None or one.margin is None:
        return ""
    if _is_over(one):
        if move is not None and move.most < 0 and move.to_middle <= -_to_be_sure(one):
            return ""  # closing the die sets it right
        return (
            f"The groove is too shallow or may be: the minor diameter must come down by {words(_to_be_sure(one))}. "
            "The crests of the die are worn or clogged: clean it or use another."
        )
    return f"The groove is too deep or may be, by {words(_to_be_sure(one))}: another die."


def _root(found: Check) -> str:
    if found.of("root_form").verdict != DOES_NOT_CONFORM:
        return ""
    return "The root is not rounded as the form asks: use a die of this form that is not worn."


def _is_over(one: Judgement) -> bool:
    assert one.measured is not None
    if one.low is None or one.high is None:
        return one.low is None
    return one.measured.value > (one.low + one.high) / 2


def _to_be_sure(one: Judgement) -> float:
    """By how much the value must move to clear the nearer limit by its guard."""
    assert one.margin is not None
    assert one.guard is not None
    return one.guard - one.margin
