"""Does a freshly cut thread keep to the limits of its class? Every limit judged after ISO 14253-1 (``judgement``).

What is held against which limit (ASME B1.3, System 22, as a gauge maker's summary gives it; NBS Handbook H28 and
ISO 1502 gauge alike, from memory, unverified):

* Pitch diameter, where ridge and groove are equally wide: against both limits. The least one is the limit of minimum
  material, at which the flanks are gauged by themselves, errors of pitch and angle left out.
* Virtual pitch diameter, errors of pitch and flank angles over the length of engagement included: against the greatest
  limit of the pitch diameter, in a hole the least. That is the limit of maximum material, which a GO gauge of full form
  looks for.
* Pitch and flank angles have no limits of their own: a thread that keeps both limits has shown that these errors
  together are within what is allowed. They decide through the virtual pitch diameter. Beside it each is held against
  the error that would use up the whole tolerance by itself: what is beyond that cannot conform, whatever the pitch
  diameter.
* Major and minor diameter: against their limits, where the standard sets any.
* Root: its depth by the minor diameter; and rounded where the form asks for a rounding.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import Any

from threads.judge.judgement import CANNOT_TELL, CONFORMS, DOES_NOT_CONFORM, NOT_LIMITED, Judgement, judged, overall
from threads.measured.thread import MeasuredThread
from threads.measured.virtual_pitch_diameter import (
    VirtualPitchDiameter,
    angle_allowance,
    pitch_allowance,
    virtual_pitch_diameter,
)
from threads.rules.forms import FORMS
from threads.shared.quantity import Quantity
from threads.shared.refusal import Reason, ReasonedError
from threads.standards.limits import Limits

METHOD = (
    "stricter than the default of ISO 14253-1 (1.65 u): a limit is kept if it is cleared by 2 u, broken if it is "
    "passed by 2.6 u (five limits may condemn a part), u being the standard uncertainty; effects known in direction "
    "only are added in full"
)
ROOM_LEFT = ("pitch", "flank_angle_left", "flank_angle_right")
"""Quantities that have no limit of their own, but the room that the tolerance of the pitch diameter leaves them."""

ROUND_ROOT = frozenset({"BA", "Whitworth", "Whitworth, truncated", "Cycle", "Thury", "UNR", "UNM"})
"""Forms of which the rounded root is part. ISO metric asks for it only of bolts of property class 8.8 and above
(ISO 965-1; from memory, unverified); the other forms with a rounded root are taken alike."""
_UNR_RADIUS = 0.108  # of the pitch, the least root radius of UNR (Machinery's Handbook, 31st ed.)


class CheckError(ReasonedError, ValueError):
    """A thread that cannot be held against these limits. The message is one line."""


@dataclass(frozen=True)
class Check:
    """The outcome.

    Attributes:
        against: designation, or the name of the part, that it was held against.
        limits: those of the class; None where it was held against a part.
        verdict: ``conforms``, ``does_not_conform`` or ``cannot_tell``.
        judgements: one for each quantity.
        virtual: the virtual pitch diameter with its parts, for the form and pitch of the class.
        thread: what was judged.
    """

    against: str
    limits: Limits | None
    verdict: str
    judgements: tuple[Judgement, ...]
    virtual: VirtualPitchDiameter
    thread: MeasuredThread

    def of(self, quantity: str) -> Judgement:
        """The judgement of one quantity. Raises KeyError for one that was not judged."""
        found = next((one for one in self.judgements if one.quantity == quantity), None)
        if found is None:
            raise KeyError(quantity)
        return found

    def to_dict(self, measurement: dict[str, Any], advice: tuple[Reason, ...]) -> dict[str, Any]:
        """The JSON form, schema ``flankwise/check/1``, around the JSON form of the measurement."""
        source = {} if self.limits is None else {"standard": self.limits.standard, "source": self.limits.source}
        return {
            "schema": "flankwise/check/1",
            "against": self.against,
            "verdict": self.verdict,
            "quantities": [one.to_dict() for one in self.judgements],
            "advice": list(advice),
            "method": METHOD,
            "engagement": {"value": self.virtual.engagement_mm, "unit": "mm"},
            **source,
            "measurement": measurement,
        }


def check(thread: MeasuredThread, limits: Limits, *, engagement_mm: float | None = None) -> Check:
    """Hold ``thread`` against the limits of its class.

    Args:
        thread: the measured thread, its covariance with pitch diameter, pitch and flank angles.
        limits: of a screw, or of a hole if ``thread.internal``.
        engagement_mm: length of engagement over which errors of pitch count; None: one major diameter, at most what
            is in view.

    Raises:
        CheckError: a screw against the limits of a nut or the reverse, or another size altogether: pitch or diameter
            are too far off for a verdict to make sense.
    """
    _check_same_kind(thread, limits)
    virtual = virtual_pitch_diameter(thread, form=limits.form, pitch_mm=limits.pitch, engagement_mm=engagement_mm)
    low, high = limits.pitch_diameter.low, limits.pitch_diameter.high
    half = FORMS[limits.form].flank_angle_deg
    tolerance = None if low is None or high is None else high - low
    judgements = (
        judged("major_diameter", thread.major_diameter, limits.major.low, limits.major.high),
        judged("pitch_diameter", thread.pitch_diameter, low, high),
        judged("minor_diameter", thread.minor_diameter, limits.minor.low, limits.minor.high),
        judged("virtual_pitch_diameter", virtual.quantity, *((low, None) if thread.internal else (None, high))),
        *pitch_and_angles(thread, (limits.pitch, half, half), tolerance, virtual),
        root_judgement(thread, limits),
    )
    return Check(limits.designation, limits, overall(judgements), judgements, virtual, thread)


def _check_same_kind(thread: MeasuredThread, limits: Limits) -> None:
    if thread.internal != limits.internal:
        case = "screw" if thread.internal else "hole"
        raise CheckError(f"not_this_kind.{case}", designation=limits.designation)
    pitch, diameter = thread.pitch.value, thread.pitch_diameter.value
    if abs(pitch / limits.pitch - 1) > 0.04 or abs(diameter - limits.basic_pitch_diameter) > limits.pitch:
        raise CheckError(
            "another_size",
            designation=limits.designation,
            pitch_mm=limits.pitch,
            diameter_mm=limits.basic_pitch_diameter,
            part_pitch_mm=pitch,
            part_diameter_mm=diameter,
        )


def pitch_and_angles(
    thread: MeasuredThread,
    nominal: tuple[float, float, float],
    tolerance: float | None,
    virtual: VirtualPitchDiameter,
) -> tuple[Judgement, ...]:
    """Pitch and flank angles against what would use up the ``tolerance`` of the pitch diameter (mm) by itself.

    ``nominal`` is the pitch, mm, and the left and right flank angle, degrees.
    """
    measured: tuple[tuple[str, Quantity], ...] = (
        ("pitch", thread.pitch),
        ("flank_angle_left", thread.flank_angle_left),
        ("flank_angle_right", thread.flank_angle_right),
    )
    if tolerance is None:
        return tuple(Judgement(name, quantity, None, None, NOT_LIMITED) for name, quantity in measured)
    pitch, half = nominal[0], virtual.flanks.half_angle_deg
    error = tolerance / pitch_allowance(1.0, half) * pitch / virtual.engagement_mm
    lean = tolerance / angle_allowance(1.0, 0.0, pitch, virtual.flanks)
    room = (error, lean, lean)
    found = []
    for (name, quantity), middle, reach in zip(measured, nominal, room, strict=True):
        one = judged(name, quantity, middle - reach, middle + reach)
        case = "counts_in_virtual" if one.verdict == CONFORMS else "uses_up"
        found.append(replace(one, reason=Reason(f"judged.{case}")))
    return tuple(found)


def root_judgement(thread: MeasuredThread, limits: Limits) -> Judgement:
    """Whether the root is rounded where the form asks for it; its depth is judged by the minor diameter."""
    name, form = "root_form", FORMS[limits.form]
    round_seen = None if thread.flat_root is None else not thread.flat_root
    seen = thread.root_radius if round_seen else thread.root_width
    measured = seen if round_seen is not None else (thread.root_width or thread.root_radius)
    if limits.form not in ROUND_ROOT or limits.internal:
        shape = {True: "rounded", False: "flat", None: "flat or rounded, not resolved"}[round_seen]
        case = "root_open_bolts" if form.rounded_root and round_seen is False else "root_open"
        return Judgement(name, measured, None, None, NOT_LIMITED, reason=Reason(f"judged.{case}", shape=shape))
    if round_seen is None:
        return Judgement(name, measured, None, None, CANNOT_TELL, reason=Reason("judged.root_not_resolved"))
    if not round_seen:
        return Judgement(name, measured, None, None, DOES_NOT_CONFORM, reason=Reason("judged.root_flat"))
    if limits.form == "UNR" and measured is not None:
        return judged(name, measured, _UNR_RADIUS * limits.pitch, None)
    return Judgement(name, measured, None, None, CONFORMS, reason=Reason("judged.root_rounded"))


def usable_zone(found: Check) -> tuple[float, float] | None:
    """Between which pitch diameters this thread, with the errors of pitch and angle it has, keeps both limits, mm.

    The limit that the virtual pitch diameter must keep is moved in by what the errors add. None where one is not set.
    """
    simple, virtual = found.of("pitch_diameter"), found.of("virtual_pitch_diameter")
    low, high = (virtual.low, simple.high) if found.thread.internal else (simple.low, virtual.high)
    if low is None or high is None:
        return None
    added = added_by_errors(found)
    return (low + added, high) if found.thread.internal else (low, high - added)


def added_by_errors(found: Check) -> float:
    """What errors of pitch and flank angles add to the pitch diameter (take off, in a hole), mm, not negative."""
    return found.virtual.pitch_part.value + found.virtual.angle_part.value
