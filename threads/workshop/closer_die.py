"""What would come closer to the original: how to set the die, and which other die or class to set it to.

A die set to the middle of a class cuts the middle of its zone; how far that is from the original, errors of pitch and
angle counted as they act on the pitch diameter, is what candidates are compared by. The major diameter is not: it is
turned on the blank.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from functools import cache

from threads.identify.field import Field, competitors_of, field_of, sizes_by_distance
from threads.identify.zone_prior import observation_of
from threads.judge.compare import Comparison
from threads.judge.pairing import OTHER_HAND, OTHER_STARTS, SAME_PITCH
from threads.measured.thread import MeasuredThread
from threads.measured.virtual_pitch_diameter import angle_allowance, flanks_of, pitch_allowance, usual_engagement
from threads.own.own_folder import Edition, edition
from threads.rules.forms import FORMS
from threads.shared.formatting import MM_PER_INCH, format_difference
from threads.shared.quantity import Quantity
from threads.standards.limits import Limits
from threads.standards.series import entries
from threads.workshop.tools import tools_of

Words = Callable[[float], str]

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
    field = _field(edition())
    limits = competitors_of(field, sizes_by_distance(field, observation_of(original))[:_SIZES]).limits
    found = []
    for one in limits:
        low, high = one.pitch_diameter.low, one.pitch_diameter.high
        if low is None or high is None:
            continue
        middle = (low + high) / 2 - original.pitch_diameter.value
        found.append(Nearby(one, middle, _errors(original, one.pitch, FORMS[one.form].flank_angle_deg)))
    return tuple(sorted(found, key=lambda one: one.off))


def advice(comparison: Comparison, *, inches: bool = False) -> tuple[str, ...]:
    """What to do, one sentence each: the die's setting first, then the blank, then other dies and classes."""

    def words(length: float) -> str:
        return format_difference(abs(length), "mm", inches=inches)

    def with_u95(quantity: Quantity) -> str:
        return f"{words(quantity.value)} (± {words(quantity.u95)})"

    differences, significant = comparison.differences, comparison.significant
    diameter, major = differences["pitch_diameter"], differences["major_diameter"]
    if other := _other_thread(comparison, words):
        return (other, *_other_die(comparison, words))
    said = []
    if not significant:
        said.append(
            "No significant difference: what is seen may be chance. The pitch diameters agree to within "
            f"{_most(diameter, words)}."
        )
        return tuple(said)
    hole = comparison.original.internal
    if "pitch_diameter" not in significant:
        tool = "tap" if hole else "die"
        said.append(f"Leave the {tool} as it is set: the pitch diameters agree to within {_most(diameter, words)}.")
    elif hole:
        more = "wider" if diameter.value > 0 else "narrower"
        said.append(f"The hole is {with_u95(diameter)} {more} than the original on the pitch diameter.")
    elif diameter.value > 0:
        said.append(
            f"Close the die: the pitch diameter must come down by {with_u95(diameter)} to that of the original."
        )
    else:
        said.append(
            "The replacement is thinner than the original, and what is cut off cannot be put back. Open the die for "
            f"the next one by {with_u95(diameter)} of pitch diameter."
        )
    if "major_diameter" in significant and not hole:
        do = "thinner" if major.value > 0 else "thicker"
        said.append(f"Turn the blank {do} by {with_u95(major)}, or leave it: the flanks carry, not the crests.")
    said += _other_die(comparison, words)
    return tuple(said)


def _other_thread(comparison: Comparison, words: Words) -> str:
    """Why the two are not one thread, which no setting makes of them; empty where they are."""
    pair, diameter = comparison.pair, comparison.differences["pitch_diameter"]
    one, two = comparison.original, comparison.replacement
    tool = "tap" if one.internal else "die"
    if pair.verdict in (OTHER_HAND, OTHER_STARTS):
        return f"The two are of another hand or number of starts: no setting of the {tool} helps."
    if pair.other_pitch:
        assert pair.turns_to_bind is not None
        pitches = " against ".join(
            f"{t.pitch.value:.4g} mm ({MM_PER_INCH / t.pitch.value:.3g} to the inch)" for t in (one, two)
        )
        return (
            f"The two are different threads: pitch {pitches}. In a hole that just takes the original the replacement "
            f"would bind after {pair.turns_to_bind:.1f} turns: another {tool}."
        )
    if pair.other_angle:
        angles = " against ".join(format_difference(2 * _half(t), "deg") for t in (one, two))
        return f"The two are different threads: flank angle {angles}. Another {tool}."
    if abs(diameter.value) > _DIE_REACH:
        return (
            f"The pitch diameter is {words(diameter.value)} {'larger' if diameter.value > 0 else 'smaller'} than that "
            f"of the original, more than a {tool} can be set (about {words(_DIE_REACH)}): another {tool}."
        )
    return ""


def _most(quantity: Quantity, words: Words) -> str:
    """The most that two may differ by, difference and U95 together."""
    return words(abs(quantity.value) + quantity.u95)


def _other_die(comparison: Comparison, words: Words) -> list[str]:
    original, replacement = comparison.original, comparison.replacement
    said = []
    pitch = comparison.differences["pitch"]
    if "pitch" in comparison.significant and not comparison.pair.other_pitch:
        over = pitch.value / original.pitch.value * usual_engagement(original)
        said.append(
            f"The pitch differs: over {usual_engagement(original):.2f} mm of engagement it runs off by {words(over)}, "
            f"which makes the screw {words(pitch_allowance(over, _half(original)))} thicker to the nut of the other."
        )
    now = abs(replacement.pitch_diameter.value - original.pitch_diameter.value)
    now += _errors(original, replacement.pitch.value, _half(replacement))
    if not {"pitch_diameter", "pitch", "flank_angle_left", "flank_angle_right"} & set(comparison.significant):
        return said
    for one in nearby(original)[:_NAMED]:
        if one.off > _MUCH_CLOSER * now:
            break
        limits = one.limits
        if abs(limits.pitch / original.pitch.value - 1) > SAME_PITCH:
            continue  # a die of another pitch makes no replacement, however near its diameter comes
        mark = " (limits from memory, unverified)" if limits.unverified else ""
        same = abs(limits.pitch / replacement.pitch.value - 1) < _SAME_DIE and (
            abs(FORMS[limits.form].flank_angle_deg - _half(replacement)) < _OTHER_FORM_DEG / 2
        )
        reached = abs(comparison.differences["pitch_diameter"].value) <= _DIE_REACH
        what = "The same die set to" if same and reached else f"A die for {tools_of(limits).ask_for}, set to"
        said.append(
            f"{what} the middle of {limits.designation}{mark} would come within {words(one.off)} of the original; the "
            f"replacement is {words(now)} off."
        )
    return said


def _errors(original: MeasuredThread, pitch: float, half_angle_deg: float) -> float:
    """What another pitch and flank angle do on the pitch diameter over the usual engagement, mm."""
    flanks = flanks_of(None, _half(original))
    over = abs(pitch / original.pitch.value - 1) * usual_engagement(original)
    lean = half_angle_deg - _half(original)
    return pitch_allowance(over, flanks.half_angle_deg) + angle_allowance(lean, lean, original.pitch.value, flanks)


def _half(thread: MeasuredThread) -> float:
    return (thread.flank_angle_left.value + thread.flank_angle_right.value) / 2


@cache
def _field(_edition: Edition) -> Field:
    return field_of(tuple(entries()))
