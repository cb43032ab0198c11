"""What each measured quantity says about one candidate, in words, decided with guard bands."""

from __future__ import annotations

from dataclasses import dataclass

from threads.forms import FORMS
from threads.limits import Limits
from threads.measured import MeasuredThread
from threads.quantity import Quantity
from threads.zone_prior import FLANK_SPREAD, PITCH_SPREAD

INSIDE, ABOVE, BELOW, CANNOT_TELL, NOT_JUDGED = "inside", "above", "below", "cannot tell", "not judged"

DECIDES = ("major_diameter", "pitch_diameter", "pitch", "flank_angle_left", "flank_angle_right")
"""Quantities that can speak against a candidate. The minor diameter cannot (tools of every standard cut deeper), nor
the virtual pitch diameter (pitch and angle errors of an old screw keep it out of the gauge, but it is the same
thread)."""


@dataclass(frozen=True)
class Evidence:
    """One quantity against one candidate's limits.

    ``low`` and ``high`` are mm or degrees, None where there is no limit. For pitch and flank angles, which no
    standard limits by themselves, they are the nominal value and what 95 % of taps and dies keep to (``zone_prior``).
    ``verdict`` is one of ``inside``, ``above``, ``below``, ``cannot tell``, ``not judged``.
    """

    quantity: str
    measured: Quantity
    low: float | None
    high: float | None
    verdict: str

    def to_dict(self) -> dict[str, object]:
        """The plain form used in JSON."""
        return {
            "quantity": self.quantity,
            "measured": self.measured.to_dict(),
            "low": self.low,
            "high": self.high,
            "verdict": self.verdict,
        }


def verdict_of(measured: Quantity, low: float | None, high: float | None) -> str:
    """Inside, above or below only if the limit is cleared by U95, else "cannot tell" (ISO 14253-1).

    A side without a limit is no bar. Without any limit: "not judged".
    """
    if low is None and high is None:
        return NOT_JUDGED
    value, guard = measured.value, measured.u95
    if high is not None and value > high + guard:
        return ABOVE
    if low is not None and value < low - guard:
        return BELOW
    clear_of_low = low is None or value >= low + guard
    clear_of_high = high is None or value <= high - guard
    return INSIDE if clear_of_low and clear_of_high else CANNOT_TELL


def evidence_of(thread: MeasuredThread, limits: Limits) -> tuple[Evidence, ...]:
    """The measured quantities against one candidate: its diameters, pitch and flank angles."""
    half = FORMS[limits.form].flank_angle_deg
    flank = (half - 2 * FLANK_SPREAD, half + 2 * FLANK_SPREAD)
    pitch = (limits.pitch * (1 - 2 * PITCH_SPREAD), limits.pitch * (1 + 2 * PITCH_SPREAD))
    judged: tuple[tuple[str, Quantity, tuple[float | None, float | None]], ...] = (
        ("major_diameter", thread.major_diameter, (limits.major.low, limits.major.high)),
        ("pitch_diameter", thread.pitch_diameter, (limits.pitch_diameter.low, limits.pitch_diameter.high)),
        ("minor_diameter", thread.minor_diameter, (limits.minor.low, limits.minor.high)),
        ("virtual_pitch_diameter", thread.virtual_pitch_diameter, (None, limits.pitch_diameter.high)),
        ("pitch", thread.pitch, pitch),
        ("flank_angle_left", thread.flank_angle_left, flank),
        ("flank_angle_right", thread.flank_angle_right, flank),
    )
    return tuple(
        Evidence(name, measured, low, high, verdict_of(measured, low, high)) for name, measured, (low, high) in judged
    )
