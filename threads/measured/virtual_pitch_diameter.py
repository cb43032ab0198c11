"""Virtual pitch diameter: the pitch diameter of the perfect nut, or screw, that the thread just assembles with.

Errors of pitch and of the flank angles make a screw effectively thicker and a hole effectively narrower. The pitch
error over the length of engagement counts cot(a) times, a being the nominal half angle; flank angle errors d (radians)
count (he / sin 2a) (|d left| + |d right|), he being the depth over which straight flanks bear (derived from the
geometry of a V; the same formulas stand in a university lecture on the measurement of screw threads, and the
coefficients 1.732 p and 0.0105 p in the practice of gauge makers). Cleared at crests and roots, as ASME B1.2 and
ISO 5408 define it.

Absolute values of noisy errors are too large on average: a perfect thread would be given a virtual pitch diameter that
grows with the noise. So each error is reduced by what noise alone would show, in quadrature, and U95 is drawn from the
distribution of what the true errors may be. On a perfect thread about a third of the noise's share is left, and U95
covers it.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from functools import cache

import numpy as np
import numpy.typing as npt

from threads.measured.form_errors import spread, without_noise, worst_pair
from threads.measured.thread import MeasuredThread, RidgeError
from threads.rules.forms import FORMS
from threads.shared.quantity import Quantity
from threads.standards.series import entries

Array = npt.NDArray[np.float64]

SAME_PITCH = 0.004
"""Up to this part a pitch is taken for the tabulated one: inch and metric pitches next to each other differ by more
than twice as much, cut threads are true to 0.3 % (Machinery's Handbook, 31st ed., p. 1001: taps)."""
_DRAWS = 4000


@dataclass(frozen=True)
class Flanks:
    """A family of forms with one flank angle.

    Attributes:
        half_angle_deg: nominal half angle.
        engaged_depth: depth over which straight flanks of screw and nut bear, in multiples of the pitch.
        name: of the family.
    """

    half_angle_deg: float
    engaged_depth: float
    name: str


_H60, _H55 = math.sqrt(3) / 2, 0.5 / math.tan(math.radians(27.5))
_BA_ROUNDING = 0.1808346 * (1 - math.sin(math.radians(23.75)))  # height of each rounding, BS 93

FAMILIES = (
    Flanks(30.0, 5 / 8 * _H60, "60 degrees"),  # screw crest to nut crest, American National nuts alike
    Flanks(27.5, _H55 * (1 - 2 / 6) - 2 * 0.0739176, "55 degrees, Whitworth"),  # 2/3 H less both roundings, BS 84
    Flanks(math.degrees(math.atan(0.5)), 0.75, "53 degrees 8 minutes"),
    Flanks(23.75, 0.6 - 2 * _BA_ROUNDING, "47.5 degrees, BA"),
)


@dataclass(frozen=True)
class VirtualPitchDiameter:
    """The virtual pitch diameter and what it is made of.

    Attributes:
        quantity: the virtual pitch diameter, mm.
        pitch_part, angle_part: what pitch and flank angle errors add (take off, in a hole), mm, not negative.
        flanks: the nominal flanks.
        pitch_mm: the nominal pitch; the measured one where no table has a pitch so near: then only the differences
            between threads count as pitch error.
        engagement_mm: length of engagement.
    """

    quantity: Quantity
    pitch_part: Quantity
    angle_part: Quantity
    flanks: Flanks
    pitch_mm: float
    engagement_mm: float


def pitch_allowance(pitch_error: float, half_angle_deg: float) -> float:
    """What a pitch error over the length of engagement (mm) adds to the pitch diameter, mm: |dp| cot(a).

    >>> round(pitch_allowance(0.005, 30), 5)
    0.00866
    """
    return abs(pitch_error) / math.tan(math.radians(half_angle_deg))


def angle_allowance(left_deg: float, right_deg: float, pitch: float, flanks: Flanks) -> float:
    """What errors of both flank angles (degrees) add to the pitch diameter, mm: (he / sin 2a) (|d left| + |d right|).

    >>> round(angle_allowance(0.5, -0.5, 0.635, FAMILIES[0]), 5)
    0.00693
    """
    return angle_reach(pitch, flanks) * math.radians(abs(left_deg) + abs(right_deg))


def angle_reach(pitch: float, flanks: Flanks) -> float:
    """What a radian of error of one flank adds to the pitch diameter, mm: he / sin 2a, he in mm."""
    return flanks.engaged_depth * pitch / math.sin(math.radians(2 * flanks.half_angle_deg))


def flanks_of(form: str | None, half_angle_deg: float) -> Flanks:
    """The family of the ``form`` named (a key of ``forms.FORMS``), else that with the nearest half angle.

    Raises KeyError for a form that is not known.
    """
    angle = half_angle_deg if form is None else FORMS[form].flank_angle_deg
    return min(FAMILIES, key=lambda family: abs(family.half_angle_deg - angle))


def tabulated_pitch(pitch_mm: float, flanks: Flanks) -> float | None:
    """The nearest pitch that a series with these flanks has, mm, or None where the nearest is more than 0.4 % off."""
    near = [pitch for pitch in _pitches(flanks) if abs(pitch / pitch_mm - 1) < SAME_PITCH]
    return min(near, key=lambda pitch: abs(pitch - pitch_mm), default=None)


@cache
def _pitches(flanks: Flanks) -> tuple[float, ...]:
    return tuple(sorted({entry.pitch_mm for entry in entries() if flanks_of(entry.form, 0.0) == flanks}))


def usual_engagement(thread: MeasuredThread) -> float:
    """Length of engagement if none is stated, mm: the length in view, one major diameter at most.

    The tolerances of ASME B1.1 for coarse and fine series rest on one diameter; it lies in or near the normal group of
    ISO 965-1 (2.24 to 6.7 p d^0.2).
    """
    return min(thread.threads_in_view * thread.pitch.value, thread.major_diameter.value)


def virtual_pitch_diameter(
    thread: MeasuredThread,
    *,
    form: str | None = None,
    pitch_mm: float | None = None,
    engagement_mm: float | None = None,
) -> VirtualPitchDiameter:
    """The virtual pitch diameter of a measured thread.

    Args:
        thread: the thread; its own virtual_pitch_diameter is not looked at. In a hole the errors are taken off.
        form: key of ``forms.FORMS`` of the candidate; without it the nearest flank angle is the nominal one.
        pitch_mm: pitch of the candidate; without it the nearest tabulated pitch of that flank angle.
        engagement_mm: length of engagement; without it ``usual_engagement``. Beyond the threads in view the pitch is
            taken to go on as measured.

    The pitch error is the largest between any two threads on one edge no farther apart than the engagement, progressive
    error against the nominal pitch included.
    """
    mean = (thread.flank_angle_left.value + thread.flank_angle_right.value) / 2
    flanks = flanks_of(form, mean)
    tabulated = pitch_mm if pitch_mm is not None else tabulated_pitch(thread.pitch.value, flanks)
    nominal = thread.pitch.value if tabulated is None else tabulated
    length = usual_engagement(thread) if engagement_mm is None else engagement_mm
    reach = math.radians(angle_reach(nominal, flanks))
    cot = 1 / math.tan(math.radians(flanks.half_angle_deg))

    rng = np.random.default_rng(5408)
    error = rng.multivariate_normal(
        np.zeros(4),
        thread.covariance.of(("pitch_diameter", "pitch", "flank_angle_left", "flank_angle_right")),
        _DRAWS,
        method="eigh",
        check_valid="ignore",
    )
    if tabulated is None:
        error[:, 1] = 0.0
    ridge_noise = rng.standard_normal((_DRAWS, len(thread.per_thread))) * [r.pitch_error_u for r in thread.per_thread]

    # pitch
    drift = thread.pitch.value / nominal - 1
    local = np.array([r.pitch_error for r in thread.per_thread])
    found = float(worst_pitch_error(thread.per_thread, drift + np.zeros(1), local[None, :], length)[0])
    noise = worst_pitch_error(thread.per_thread, error[:, 1] / nominal, ridge_noise, length)
    expected = float(np.sqrt(np.mean(noise**2)))
    pitch_error = without_noise(found, expected)
    true_share = pitch_error / found if found > 0 else 0.0
    pitch_draws = cot * worst_pitch_error(
        thread.per_thread, true_share * drift + error[:, 1] / nominal, true_share * local[None, :] + ridge_noise, length
    )
    # flank angles
    angle_value = 0.0
    angle_draws = np.zeros(_DRAWS)
    for name, column in (("flank_angle_left", 2), ("flank_angle_right", 3)):
        quantity: Quantity = getattr(thread, name)
        d, u = quantity.value - flanks.half_angle_deg, quantity.standard_uncertainty
        angle_value += reach * without_noise(d, u)
        angle_draws += reach * np.abs(d + error[:, column])
    pitch_value = cot * pitch_error
    added, draws = pitch_value + angle_value, pitch_draws + angle_draws
    simple = thread.pitch_diameter
    direction = -1.0 if thread.internal else 1.0
    u = max(spread(error[:, 0] + direction * (draws - added)), simple.standard_uncertainty)
    return VirtualPitchDiameter(
        quantity=Quantity(simple.value + direction * added, u, "mm", simple.one_sided),
        pitch_part=Quantity(pitch_value, spread(pitch_draws - pitch_value), "mm"),
        angle_part=Quantity(angle_value, spread(angle_draws - angle_value), "mm"),
        flanks=flanks,
        pitch_mm=nominal,
        engagement_mm=length,
    )


def worst_pitch_error(ridges: Sequence[RidgeError], drift: Array, local: Array, length: float) -> Array:
    """Pitch error over the engagement: the largest between any two ridges on one edge no farther apart than that.

    Args:
        ridges: n ridges, for their places; none: the drift alone counts.
        drift: (m,) progressive errors, per unit of length.
        local: (m, n) errors of the ridges, mm.
        length: of engagement, mm. Beyond the ridges the drift goes on.

    Returns:
        (m,) mm, not negative.
    """
    worst = np.abs(drift) * length if not ridges else np.zeros(max(drift.size, local.shape[0]))
    position = np.array([r.position for r in ridges])
    edges = np.array([r.edge for r in ridges])
    for edge in np.unique(edges):
        on = edges == edge
        z = position[on]
        along = worst_pair(z, local[:, on] + drift[:, None] * z, length)
        beyond = max(length - float(np.ptp(z)), 0.0)
        worst = np.maximum(worst, along + np.abs(drift) * beyond)
    return np.asarray(worst)
