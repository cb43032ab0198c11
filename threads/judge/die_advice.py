"""What to do at the die, or with the blank, after a check: codes with numbers.

A die that is closed or opened moves pitch and minor diameter alike; the major diameter is that of the blank, which a
die only trims (common practice, no source).
"""

from __future__ import annotations

from dataclasses import dataclass

from threads.judge.check import Check, added_by_errors, usable_zone
from threads.judge.judgement import ACCEPTED_FROM, CONFORMS, DOES_NOT_CONFORM, Judgement
from threads.shared.refusal import Reason

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


def advice(found: Check) -> tuple[Reason, ...]:
    """What to do, the die first."""
    told: list[Reason] = []
    move = die_move(found)
    if move is not None:
        broken = found.of("pitch_diameter").verdict == DOES_NOT_CONFORM
        told.append(_at_the_tap(move) if found.thread.internal else _at_the_die(move, broken=broken))
        zone = usable_zone(found)
        assert zone is not None
        errors = added_by_errors(found)
        whole = zone[1] - zone[0] + errors
        if whole > 0 and errors > _LARGE_SHARE * whole:
            mostly = "pitch" if found.virtual.pitch_part.value > found.virtual.angle_part.value else "flank angles"
            tool = "tap" if found.thread.internal else "die"
            told.append(Reason("errors_use_up", mostly=mostly, errors=errors, zone=whole, tool=tool))
    if not found.thread.internal:
        told += [one for one in (_major(found), _minor(found, move), _root(found)) if one is not None]
    return tuple(told)


def _at_the_die(move: DieMove, *, broken: bool) -> Reason:
    if not move.sure:
        side = "larger" if move.to_middle > 0 else "smaller"
        return Reason(f"die_no_setting.{side}", short=move.most - move.least, middle=move.to_middle)
    if move.most < 0:
        return Reason("die_close", middle=move.to_middle, least=move.most, most=move.least)
    if move.least > 0:
        case = "too_thin" if broken else "perhaps"
        return Reason(f"die_open.{case}", middle=move.to_middle, least=move.least, most=move.most)
    return Reason(f"die_keep.{_place(move)}", middle=move.to_middle, least=move.least, most=move.most)


def _at_the_tap(move: DieMove) -> Reason:
    if not move.sure:
        return Reason("tap_no_setting", short=move.most - move.least)
    if move.least > 0:
        return Reason("tap_larger", middle=move.to_middle, least=move.least, most=move.most)
    if move.most < 0:
        return Reason("tap_smaller", middle=move.to_middle)
    return Reason(f"tap_keep.{_place(move)}", middle=move.to_middle, least=move.least, most=move.most)


def _place(move: DieMove) -> str:
    """Where the pitch diameter lies in the zone."""
    if abs(move.to_middle) < _WORTH_SAYING:
        return "middle"
    return "below" if move.to_middle > 0 else "above"


def _major(found: Check) -> Reason | None:
    one = found.of("major_diameter")
    if one.verdict == CONFORMS or one.measured is None:
        return None
    if _is_over(one) and one.high is not None:
        if one.low is None:
            return Reason("crests_over.no_minimum", least=_to_be_sure(one))
        return Reason("crests_over", least=_to_be_sure(one), middle=one.measured.value - (one.low + one.high) / 2)
    return None if one.low is None else Reason("crests_under", least=_to_be_sure(one))


def _minor(found: Check, move: DieMove | None) -> Reason | None:
    one = found.of("minor_diameter")
    if one.verdict == CONFORMS or one.measured is None or one.margin is None:
        return None
    if not _is_over(one):
        return Reason("groove_deep", least=_to_be_sure(one))
    if move is not None and move.most < 0 and move.to_middle <= -_to_be_sure(one):
        return None  # closing the die sets it right
    return Reason("groove_shallow", least=_to_be_sure(one))


def _root(found: Check) -> Reason | None:
    return Reason("root_not_rounded") if found.of("root_form").verdict == DOES_NOT_CONFORM else None


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
