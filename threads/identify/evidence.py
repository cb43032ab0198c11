"""Each measured quantity against the limits of one candidate, in words, decided with guard bands."""

from __future__ import annotations

import math
from dataclasses import dataclass

from threads.identify.zone_prior import FLANK_SPREAD, PITCH_SPREAD
from threads.measured.thread import MeasuredThread
from threads.rules.forms import FORMS, Form
from threads.shared.quantity import Quantity
from threads.standards.limits import Limits

INSIDE, ABOVE, BELOW, CANNOT_TELL, NOT_JUDGED = "inside", "above", "below", "cannot tell", "not judged"
NOT_RESOLVED, ROUND_NOT_FLAT, FLAT_NOT_ROUND = "not resolved", "round, not flat", "flat, not round"
"""Verdicts on crest and root besides these: the picture does not show which, or shows what the form has otherwise."""

DECIDES = ("major_diameter", "pitch_diameter", "pitch", "flank_angle_left", "flank_angle_right")
"""Quantities that can speak against a candidate. The minor diameter can by being too large only (``TOO_LARGE_ONLY``;
tools of every standard cut deeper). The virtual pitch diameter cannot (pitch and angle errors of an old screw keep it
out of the gauge, but it is the same thread), nor crest and root (wear rounds, and a die leaves flat what it does not
reach: ``shape_prior``)."""
TOO_LARGE_ONLY = "minor_diameter"


@dataclass(frozen=True)
class Evidence:
    """One quantity against one candidate's limits.

    ``low`` and ``high`` are mm or degrees, None where there is no limit. For pitch and flank angles, which no
    standard limits by themselves, they are the nominal value and what 95 % of taps and dies keep to (``zone_prior``).
    For the width or the radius of crest and root they are what the limits of the diameters leave of it.
    ``verdict`` is one of ``inside``, ``above``, ``below``, ``cannot tell``, ``not judged``, and for crest and root
    ``not resolved``, ``round, not flat``, ``flat, not round``.
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
    """The measured quantities against one candidate: diameters, pitch, flank angles, crest and root.

    Crest and root are judged by their width where the picture shows a flat, by their radius where it shows a rounding;
    of a thread whose widths and radii are not known there is no such row.
    """
    form = FORMS[limits.form]
    half = form.flank_angle_deg
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
    rows = [
        Evidence(name, measured, low, high, verdict_of(measured, low, high)) for name, measured, (low, high) in judged
    ]
    return (*rows, *_crest_and_root(thread, limits, form))


def _crest_and_root(thread: MeasuredThread, limits: Limits, form: Form) -> list[Evidence]:
    outer, middle, inner = limits.major, limits.pitch_diameter, limits.minor
    ends = (
        ("crest", thread.flat_crest, thread.crest_width, thread.crest_radius, form.rounded_crest, outer, middle),
        ("root", thread.flat_root, thread.root_width, thread.root_radius, form.rounded_root, middle, inner),
    )
    rows = []
    for end, flat, width, radius, asks_round, larger, smaller in ends:
        name, measured = (f"{end}_radius", radius) if flat is False else (f"{end}_width", width)
        if measured is None:
            continue
        if flat is None:
            rows.append(Evidence(name, measured, None, None, NOT_RESOLVED))
        elif flat == asks_round:
            rows.append(Evidence(name, measured, None, None, FLAT_NOT_ROUND if flat else ROUND_NOT_FLAT))
        else:
            per_width = 1.0 if flat else 0.5 / math.tan(math.radians(90 - form.flank_angle_deg) / 2)
            low = _width(larger.high, smaller.low, limits.pitch, form, per_width)
            high = _width(larger.low, smaller.high, limits.pitch, form, per_width)
            rows.append(Evidence(name, measured, low, high, verdict_of(measured, low, high)))
    return rows


def _width(larger: float | None, smaller: float | None, pitch: float, form: Form, per_width: float) -> float | None:
    """What is left between two flanks that are half a pitch apart on the pitch line, mm, times ``per_width``.

    0.5 / tan((90 deg - half angle) / 2) makes of a width the radius that rounds it fully.
    """
    if larger is None or smaller is None:
        return None
    left = pitch / 2 - (larger - smaller) * math.tan(math.radians(form.flank_angle_deg))
    return max(left, 0.0) * per_width
