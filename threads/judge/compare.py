"""Two measured threads side by side: by how much the replacement differs from the original, and whether it does.

What both pictures have in common (gauges, temperature, light: ``common``) moves both alike and falls out of the
difference. Per quantity, the same error of the bench moves the two by amounts in the ratio of their own standard
uncertainties from it, so that of a common part C of the original and a ratio r (diagonal) there is left

    (1 - r) C (1 - r)

beside the own parts of both. For parts of one size r is nearly 1 and nothing of it is left; what is common to angles
and lengths of the two stays consistent, being one quadratic form.

One part never lies just where the other lay, and no lens has the same scale everywhere: what a calibration leaves of
that is not common to both, and stays in every difference (``LENS_SCALE_U``, ``LENS_TAPER_U``).

Differences of some ten quantities are looked at together. Each is called significant from so many u on that two equal
parts show any significant difference in at most 5 % of cases (Bonferroni: each at 5 % divided by their number).
"""

from __future__ import annotations

import math
from dataclasses import dataclass, replace
from statistics import NormalDist
from typing import Any

import numpy as np
import numpy.typing as npt

from threads.judge.pairing import Pair, pair_of, profile_of
from threads.measured.thread import Covariance, MeasuredThread, RidgeError
from threads.measured.virtual_pitch_diameter import (
    angle_reach,
    flanks_of,
    tabulated_pitch,
    usual_engagement,
    worst_pitch_error,
)
from threads.shared.formatting import MM_PER_INCH
from threads.shared.quantity import Quantity
from threads.shared.refusal import Reason, ReasonedError

Array = npt.NDArray[np.float64]

IN_COVARIANCE = (
    "major_diameter", "pitch_diameter", "minor_diameter", "pitch", "flank_angle_left", "flank_angle_right",
    "crest_width", "root_width", "taper",
)  # fmt: skip
DERIVED = ("lead", "threads_per_inch", "included_angle")
"""Quantities that say nothing beyond others: shown, not called significant."""
ORDER = (
    "pitch", "lead", "threads_per_inch", "major_diameter", "pitch_diameter", "minor_diameter",
    "virtual_pitch_diameter", "included_angle", "flank_angle_left", "flank_angle_right", "crest_width", "root_width",
    "crest_radius", "root_radius", "taper",
)  # fmt: skip
WRONGLY_SIGNIFICANT = 0.05
"""Share of pairs of equal parts in which any difference may be called significant."""

LENS_TAPER_U = 0.05
"""What a lens may add to the taper of a part that lies elsewhere in the picture, um/mm, standard uncertainty: 0.3 px in
the corners, too little to be taken out, make the scale grow by 4e-5 a mm at a tenth of the picture from its middle, and
a 3 mm screw 0.1 um/mm conical (derived here)."""
LENS_SCALE_U = 3e-5
"""What a lens may change the scale from one place in the picture to another, relative standard uncertainty, along and
across the axis each: at x, y from the middle, in parts of the way R to a corner, k1 (3 x^2 + y^2) of a distortion k1 R
in the corners. Of 0.3 px at R = 1000 px, too little to be taken out, and places up to R / 4 from the middle, 6e-5 at
most, evenly distributed (derived here)."""
ALONG, ACROSS = ("pitch", "crest_width", "root_width"), ("major_diameter", "pitch_diameter", "minor_diameter")
_A_LITTLE_MORE = 1.01  # whole pitches, so that the number of ridges in view does not decide over which the error runs
_WORST_OF_MANY = 3.0  # the largest difference of twenty ridges is that many times the scatter of one (1 to 4)

Common = tuple[Covariance, Covariance]
"""The common part of the covariance of original and replacement."""


class CompareError(ReasonedError, ValueError):
    """Two parts that cannot be compared. The message is one line."""


@dataclass(frozen=True)
class Comparison:
    """The differences, replacement minus original.

    Attributes:
        original, replacement: what was compared; the replacement's left and right exchanged if ``turned``.
        differences: per quantity; a quantity that one of them lacks is left out.
        significant: names of those that differ by more than their uncertainties explain.
        threshold: by how many u a difference must be off zero to be called significant.
        turned: True where it could not be seen which way the parts point, and left of one is right of the other.
        covariance: of the differences of ``IN_COVARIANCE``.
        common_left_out: True if the pictures had a common part.
        pair: the replacement as a screw in a hole that the original just fills (of two holes: the original's screw in
            the replacement); its verdict says whether they are one thread at all.
    """

    original: MeasuredThread
    replacement: MeasuredThread
    differences: dict[str, Quantity]
    significant: tuple[str, ...]
    threshold: float
    turned: bool
    covariance: Covariance
    common_left_out: bool
    pair: Pair

    def to_dict(self, advice: tuple[Reason, ...]) -> dict[str, Any]:
        """The JSON form, schema ``flankwise/comparison/1``; mm and degrees."""
        return {
            "schema": "flankwise/comparison/1",
            "differences": {name: q.to_dict() for name, q in self.differences.items()},
            "significant": list(self.significant),
            "threshold_u": self.threshold,
            "left_and_right_exchanged": self.turned,
            "common_part_left_out": self.common_left_out,
            "covariance": {
                "order": list(self.covariance.order),
                "matrix": [[float(v) for v in row] for row in self.covariance.matrix],
            },
            "advice": list(advice),
            "pair": self.pair.to_dict(),
        }


def compare(
    original: MeasuredThread,
    replacement: MeasuredThread,
    *,
    common: Common | None = None,
    ends_known: bool = True,
) -> Comparison:
    """Compare two threads.

    Args:
        original: what was there.
        replacement: what was made for it.
        common: covariances that pictures of one bench share, in the order of either thread's own covariance; None
            where the two have nothing in common.
        ends_known: whether both pictures show which way the part points. If not, left and right of the replacement are
            exchanged where that fits better.

    Raises:
        CompareError: a screw and a hole.
    """
    if original.internal != replacement.internal:
        raise CompareError("screw_and_hole")
    straight = _compare(original, replacement, common)
    if ends_known:
        return straight
    swapped = None if common is None else (common[0], _end_for_end_covariance(common[1]))
    other = replace(_compare(original, end_for_end(replacement), swapped), turned=True)
    return min((straight, other), key=_of_sides)


def _compare(original: MeasuredThread, replacement: MeasuredThread, common: Common | None) -> Comparison:
    names = tuple(name for name in IN_COVARIANCE if all(_has(thread, name) for thread in (original, replacement)))
    values = [np.array([getattr(thread, name).value for name in names]) for thread in (original, replacement)]
    matrix = _difference_covariance(original, replacement, common, names)
    u = np.sqrt(np.maximum(np.diag(matrix), 0.0))
    found = {
        name: Quantity(float(step), float(sigma), getattr(original, name).unit, _one_sided(original, replacement, name))
        for name, step, sigma in zip(names, values[1] - values[0], u, strict=True)
    }
    found |= _derived(original, replacement, found, Covariance(names, matrix))
    found["virtual_pitch_diameter"] = _virtual(original, replacement, found, Covariance(names, matrix))
    for name in ("crest_radius", "root_radius"):
        one, two = getattr(original, name), getattr(replacement, name)
        if one is not None and two is not None:
            spread = math.hypot(one.standard_uncertainty, two.standard_uncertainty)
            found[name] = Quantity(two.value - one.value, spread, one.unit)
    told = [name for name in found if name not in DERIVED]
    threshold = NormalDist().inv_cdf(1 - WRONGLY_SIGNIFICANT / 2 / len(told))
    differences = {name: found[name] for name in ORDER if name in found}
    return Comparison(
        original=original,
        replacement=replacement,
        differences=differences,
        significant=tuple(
            name
            for name, q in differences.items()
            if name not in DERIVED and abs(q.value) > threshold * q.standard_uncertainty + abs(q.one_sided)
        ),
        threshold=threshold,
        turned=False,
        covariance=Covariance(names, matrix),
        common_left_out=common is not None,
        pair=_pair(original, replacement, found),
    )


def _pair(original: MeasuredThread, replacement: MeasuredThread, found: dict[str, Quantity]) -> Pair:
    screw, hole = (original, replacement) if original.internal else (replacement, original)
    flanks = flanks_of(None, (original.flank_angle_left.value + original.flank_angle_right.value) / 2)
    return pair_of(
        profile_of(screw),
        profile_of(hole, facing=True),
        height=flanks.engaged_depth * original.pitch.value,
        engagement=usual_engagement(original),
        pitch_u95=found["pitch"].u95,
        angle_u95=found["included_angle"].u95 / 2,
    )


def _has(thread: MeasuredThread, name: str) -> bool:
    return name in thread.covariance.order and getattr(thread, name) is not None


def _difference_covariance(
    original: MeasuredThread, replacement: MeasuredThread, common: Common | None, names: tuple[str, ...]
) -> Array:
    total = original.covariance.of(names) + replacement.covariance.of(names)
    for lengths in (ALONG, ACROSS):
        larger = [max(getattr(t, n).value for t in (original, replacement)) if n in lengths else 0.0 for n in names]
        moved = LENS_SCALE_U * np.array(larger)
        total += np.outer(moved, moved)
    if "taper" in names:
        total[names.index("taper"), names.index("taper")] += LENS_TAPER_U**2
    if common is None:
        return total
    one, two = (part.of(names) for part in common)
    u_one, u_two = (np.sqrt(np.maximum(np.diag(part), 0.0)) for part in (one, two))
    left = 1 - np.divide(u_two, u_one, out=np.ones_like(u_one), where=u_one > 0)
    return np.asarray(total - one - two + one * np.outer(left, left))


def _one_sided(original: MeasuredThread, replacement: MeasuredThread, name: str) -> float:
    """Bound of what either part's light may do to the difference: one may be bright and the other dull."""
    bounds: list[float] = [getattr(thread, name).one_sided for thread in (original, replacement)]
    return max(bounds, key=abs)


def _derived(
    original: MeasuredThread, replacement: MeasuredThread, found: dict[str, Quantity], covariance: Covariance
) -> dict[str, Quantity]:
    pitch, starts = found["pitch"], original.starts
    one, two = original.pitch, replacement.pitch
    per_inch = MM_PER_INCH / two.value - MM_PER_INCH / one.value
    slope = MM_PER_INCH / (one.value * two.value)
    out = {"threads_per_inch": Quantity(per_inch, slope * pitch.standard_uncertainty, "1/in")}
    if starts == replacement.starts:
        out["lead"] = Quantity(starts * pitch.value, starts * pitch.standard_uncertainty, "mm")
    angles = covariance.of(("flank_angle_left", "flank_angle_right"))
    both = found["flank_angle_left"].value + found["flank_angle_right"].value
    out["included_angle"] = Quantity(both, math.sqrt(max(float(np.sum(angles)), 0.0)), "deg")
    return out


def _virtual(
    original: MeasuredThread, replacement: MeasuredThread, found: dict[str, Quantity], covariance: Covariance
) -> Quantity:
    """Difference of the virtual pitch diameters, both for the original's nominal pitch and angle.

    Errors are added up as they are, without taking out what noise adds on average: it adds alike to both. As the
    difference of two magnitudes is at most that of what they are magnitudes of, u is that of pitch and angles, and what
    the noise of single ridges adds to either.
    """
    flanks = flanks_of(None, (original.flank_angle_left.value + original.flank_angle_right.value) / 2)
    pitch = tabulated_pitch(original.pitch.value, flanks) or original.pitch.value
    length = min(usual_engagement(thread) for thread in (original, replacement))
    length = max(math.floor(length / pitch), 1) * pitch * _A_LITTLE_MORE
    cot, reach = 1 / math.tan(math.radians(flanks.half_angle_deg)), math.radians(angle_reach(pitch, flanks))
    added, noise = [], []
    for thread in (original, replacement):
        errors = np.array([[ridge.pitch_error for ridge in thread.per_thread]])
        drift = np.array([thread.pitch.value / pitch - 1])
        worst = float(worst_pitch_error(thread.per_thread, drift, errors, length)[0])
        lean = sum(abs(q.value - flanks.half_angle_deg) for q in (thread.flank_angle_left, thread.flank_angle_right))
        added.append(cot * worst + reach * lean)
        u_ridge = max((ridge.pitch_error_u for ridge in thread.per_thread), default=0.0)
        noise.append(cot * _WORST_OF_MANY * u_ridge)
    u_angles = float(np.sum(np.diag(covariance.of(("flank_angle_left", "flank_angle_right")))))
    u = math.hypot(
        found["pitch_diameter"].standard_uncertainty,
        cot * length / pitch * found["pitch"].standard_uncertainty,
        reach * math.sqrt(u_angles),
        *noise,
    )
    direction = -1.0 if original.internal else 1.0
    value = found["pitch_diameter"].value + direction * (added[1] - added[0])
    return Quantity(value, u, "mm", found["pitch_diameter"].one_sided)


def end_for_end(thread: MeasuredThread) -> MeasuredThread:
    """The same thread with its ends taken the other way round: left is right, and the taper runs the other way."""
    left, right = thread.flank_angle_left, thread.flank_angle_right
    return replace(
        thread,
        flank_angle_left=right,
        flank_angle_right=left,
        taper=replace(thread.taper, value=-thread.taper.value),
        axis_tilt=replace(thread.axis_tilt, value=-thread.axis_tilt.value),
        covariance=_end_for_end_covariance(thread.covariance),
        per_thread=tuple(_mirrored(thread.per_thread)),
    )


def _end_for_end_covariance(covariance: Covariance) -> Covariance:
    other = {"flank_angle_left": "flank_angle_right", "flank_angle_right": "flank_angle_left"}
    sign = np.array([-1.0 if name in {"taper", "axis_tilt"} else 1.0 for name in covariance.order])
    matrix = covariance.of([other.get(name, name) for name in covariance.order])
    return Covariance(covariance.order, matrix * np.outer(sign, sign))


def _mirrored(ridges: tuple[RidgeError, ...]) -> list[RidgeError]:
    end = max((ridge.position for ridge in ridges), default=0.0)
    return [replace(ridge, position=end - ridge.position, pitch_error=-ridge.pitch_error) for ridge in reversed(ridges)]


def _of_sides(found: Comparison) -> float:
    """How badly flank angles and taper fit, as chi squared."""
    names = [n for n in ("flank_angle_left", "flank_angle_right", "taper") if n in found.covariance.order]
    step = np.array([found.differences[name].value for name in names])
    matrix = found.covariance.of(names)
    return float(step @ np.linalg.pinv(matrix, hermitian=True) @ step)
