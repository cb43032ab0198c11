"""What would come closer to the original: how to set the die, and which other die or class to set it to.

A die set to the middle of a class cuts the middle of its zone; how far that is from the original, errors of pitch and
angle counted as they act on the pitch diameter, is what candidates are compared by. The major diameter is not: it is
turned on the blank.
"""

from __future__ import annotations

from dataclasses import dataclass

from threads.identify.field import competitors_of, field_now, sizes_by_distance
from threads.identify.zone_prior import observation_of
from threads.judge.compare import Comparison
from threads.judge.pairing import OTHER_HAND, OTHER_STARTS, SAME_PITCH
from threads.measured.thread import MeasuredThread
from threads.measured.virtual_pitch_diameter import angle_allowance, flanks_of, pitch_allowance, usual_engagement
from threads.own.own_folder import edition
from threads.rules.forms import FORMS
from threads.shared.refusal import Reason, Value
from threads.standards.limits import Limits
from threads.workshop.play_words import pitch_of
from threads.workshop.tools import tools_of

_SIZES = 12  # the nearest sizes that are looked at
_MUCH_CLOSER = 0.6  # of what the replacement is off: from there on another die is worth a word
_SAME_DIE = 0.002  # relative: pitches nearer than this are cut by one die
_OTHER_FORM_DEG = 2.0
_DIE_REACH = 0.15
"""mm of pitch diameter by which a split die can be closed or opened; common practice, no source."""
_NAMED = 2


@dataclass(frozen=True)
class Nearby:
    """A class whose middle comes near the original.

    Attributes:
        limits: of the class.
        pitch_diameter: by how much the middle of its zone is larger than the original's pitch diameter, mm.
        errors: what its pitch and flank angle, being other than the original's, do on the pitch diameter, mm.
    """

    limits: Limits
    pitch_diameter: float
    errors: float

    @property
    def off(self) -> float:
        """How far it is from the original, mm."""
        return abs(self.pitch_diameter) + self.errors


def nearby(original: MeasuredThread) -> tuple[Nearby, ...]:
    """Classes of the nearest sizes, nearest first; none for the thread of a hole."""
    if original.internal:
        return ()
    field = field_now((), edition())
    limits = competitors_of(field, sizes_by_distance(field, observation_of(original))[:_SIZES]).limits
    found = []
    for one in limits:
        low, high = one.pitch_diameter.low, one.pitch_diameter.high
        if low is None or high is None:
            continue
        middle = (low + high) / 2 - original.pitch_diameter.value
        found.append(Nearby(one, middle, _errors(original, one.pitch, FORMS[one.form].flank_angle_deg)))
    return tuple(sorted(found, key=lambda one: one.off))


def advice(comparison: Comparison) -> tuple[Reason, ...]:
    """What to do: the die's setting first, then the blank, then other dies and classes."""
    differences, significant = comparison.differences, comparison.significant
    diameter, major = differences["pitch_diameter"], differences["major_diameter"]
    other = _other_thread(comparison)
    if other is not None:
        return (other, *_other_die(comparison))
    most = abs(diameter.value) + diameter.u95  # that two may differ by
    if not significant:
        return (Reason("no_difference", most=most),)
    hole = comparison.original.internal
    if "pitch_diameter" not in significant:
        told = [Reason("keep_setting", tool="tap" if hole else "die", most=most)]
    elif hole:
        told = [Reason("hole_differs.wider" if diameter.value > 0 else "hole_differs.narrower", by=diameter)]
    else:
        told = [Reason("die_close.original" if diameter.value > 0 else "die_open.original", by=diameter)]
    if "major_diameter" in significant and not hole:
        told.append(Reason("turn_blank.thinner" if major.value > 0 else "turn_blank.thicker", by=major))
    return (*told, *_other_die(comparison))


def _other_thread(comparison: Comparison) -> Reason | None:
    """Why the two are not one thread, which no setting makes of them; None where they are."""
    pair, diameter = comparison.pair, comparison.differences["pitch_diameter"].value
    one, two = comparison.original, comparison.replacement
    tool = "tap" if one.internal else "die"
    if pair.verdict in (OTHER_HAND, OTHER_STARTS):
        return Reason("other_thread.hand", tool=tool)
    if pair.other_pitch:
        original, replacement = (pitch_of(t.pitch.value) for t in (one, two))
        turns = pair.turns_to_bind
        return Reason("other_thread.pitch", original=original, replacement=replacement, turns=turns, tool=tool)
    if pair.other_angle:
        return Reason("other_thread.angle", original=2 * _half(one), replacement=2 * _half(two), tool=tool)
    if abs(diameter) > _DIE_REACH:
        key = "other_thread.larger" if diameter > 0 else "other_thread.smaller"
        return Reason(key, by=diameter, tool=tool, reach=_DIE_REACH)
    return None


def _other_die(comparison: Comparison) -> list[Reason]:
    original, replacement = comparison.original, comparison.replacement
    told = []
    pitch = comparison.differences["pitch"]
    if "pitch" in comparison.significant and not comparison.pair.other_pitch:
        engagement = usual_engagement(original)
        over = pitch.value / original.pitch.value * engagement
        thicker = pitch_allowance(over, _half(original))
        told.append(Reason("pitch_differs", engagement_mm=engagement, over=over, thicker=thicker))
    now = abs(replacement.pitch_diameter.value - original.pitch_diameter.value)
    now += _errors(original, replacement.pitch.value, _half(replacement))
    if not {"pitch_diameter", "pitch", "flank_angle_left", "flank_angle_right"} & set(comparison.significant):
        return told
    for one in nearby(original)[:_NAMED]:
        if one.off > _MUCH_CLOSER * now:
            break
        limits = one.limits
        if abs(limits.pitch / original.pitch.value - 1) > SAME_PITCH:
            continue  # a die of another pitch makes no replacement, however near its diameter comes
        same = abs(limits.pitch / replacement.pitch.value - 1) < _SAME_DIE and (
            abs(FORMS[limits.form].flank_angle_deg - _half(replacement)) < _OTHER_FORM_DEG / 2
        )
        same = same and abs(comparison.differences["pitch_diameter"].value) <= _DIE_REACH
        case = ("same" if same else "other") + ("_unverified" if limits.unverified else "")
        die: dict[str, Value] = {} if same else {"die": tools_of(limits).ask_for}
        told.append(Reason(f"closer_die.{case}", designation=limits.designation, off=one.off, now=now, **die))
    return told


def _errors(original: MeasuredThread, pitch: float, half_angle_deg: float) -> float:
    """What another pitch and flank angle do on the pitch diameter over the usual engagement, mm."""
    flanks = flanks_of(None, _half(original))
    over = abs(pitch / original.pitch.value - 1) * usual_engagement(original)
    lean = half_angle_deg - _half(original)
    return pitch_allowance(over, flanks.half_angle_deg) + angle_allowance(lean, lean, original.pitch.value, flanks)


def _half(thread: MeasuredThread) -> float:
    return (thread.flank_angle_left.value + thread.flank_angle_right.value) / 2
