"""Errors of form of a measured thread, and what is left of an absolute value when noise is taken out of it.

The absolute value of a noisy error, and more so the largest of many, is too large on average. What noise alone would
show is taken off in quadrature; the uncertainty is that of the error itself, so that value and U95 hold zero where the
error is zero.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from threads.measured.thread import RidgeError
from threads.shared.quantity import Quantity

Array = npt.NDArray[np.float64]

_DRAWS = 2000
_TWO_SIDED_95 = 1.96


@dataclass(frozen=True)
class FormErrors:
    """What is wrong with the thread as a body. ``None``: the pictures do not show it.

    Attributes:
        length_mm: threaded length in view, over which the errors hold.
        cumulative_pitch_error: largest difference of pitch error between any two threads on one edge, mm.
        axis_bend: how far the middle of the axis stands off the line through the ends of ``length_mm``: in one picture
            as far as it shows from that side, mm.
        drunkenness_seen: how far the thread stands too far along on one side of the part and too far back on the
            opposite one, the largest of the sides pictured, mm. Errors that are alike on opposite sides do not show.
        drunkenness: amplitude of that error round the part, from several rotations, mm.
        ovality_pitch_diameter, ovality_major_diameter: largest less smallest diameter, from several rotations, mm.
        ovality_at_least: the ovality is what the sides pictured show; between them it may be larger.
    """

    length_mm: float
    cumulative_pitch_error: Quantity | None = None
    axis_bend: Quantity | None = None
    drunkenness_seen: Quantity | None = None
    drunkenness: Quantity | None = None
    ovality_pitch_diameter: Quantity | None = None
    ovality_major_diameter: Quantity | None = None
    ovality_at_least: bool = False

    def to_dict(self) -> dict[str, object]:
        """Plain data for JSON."""

        def plain(quantity: Quantity | None) -> dict[str, float | str] | None:
            return None if quantity is None else quantity.to_dict()

        return {
            "length": {"value": self.length_mm, "unit": "mm"},
            "cumulative_pitch_error": plain(self.cumulative_pitch_error),
            "axis_bend": plain(self.axis_bend),
            "drunkenness_seen": plain(self.drunkenness_seen),
            "drunkenness": plain(self.drunkenness),
            "ovality_pitch_diameter": plain(self.ovality_pitch_diameter),
            "ovality_major_diameter": plain(self.ovality_major_diameter),
            "ovality_at_least": self.ovality_at_least,
        }


def in_micrometres(length: Quantity) -> Quantity:
    """A small length in mm as it is shown: in micrometres."""
    return Quantity(1000 * length.value, 1000 * length.standard_uncertainty, "um", 1000 * length.one_sided)


def without_noise(found: float, noise: float) -> float:
    """What is left of the magnitude ``found`` when noise alone would show ``noise`` (root mean square)."""
    return min(math.sqrt(max(found**2 - noise**2, 0.0)), abs(found))  # squares of tiny numbers lose digits


def magnitude(value: float, u: float, unit: str) -> Quantity:
    """The absolute value of an error ``value`` with standard uncertainty ``u``, noise taken out.

    >>> magnitude(-0.005, 0.003, "mm").value, magnitude(0.002, 0.003, "mm").value
    (0.004, 0.0)
    """
    return Quantity(without_noise(abs(value), u), u, unit)


def spread(difference: Array) -> float:
    """Standard uncertainty whose 95 % interval holds 95 % of the ``difference`` (n,) from the value."""
    return float(np.quantile(np.abs(difference), 0.95)) / _TWO_SIDED_95


def worst_pair(position: Array, error: Array, length: float) -> Array:
    """Largest difference of the pitch errors of any two ridges on one edge no farther apart than ``length``.

    Args:
        position: (n,) places of the ridges, mm.
        error: (m, n) their pitch errors, m times drawn, mm.
        length: mm.

    Returns:
        (m,) mm; 0 where there are fewer than two ridges.
    """
    worst = np.zeros(error.shape[0])
    order = np.argsort(position)
    position, across = position[order], np.ascontiguousarray(error[:, order].T)  # ridges in rows: a third of the time
    last = -1
    for first in range(position.size):
        stop = int(np.searchsorted(position, position[first] + length * (1 + 1e-9), side="right"))
        if stop > last and stop - first >= 2:  # a window inside the one before adds nothing
            worst = np.maximum(worst, np.ptp(across[first:stop], axis=0))
        last = max(last, stop)
    return worst


def cumulative_pitch_error(ridges: Sequence[RidgeError]) -> Quantity | None:
    """Largest difference of pitch error between any two threads on one edge, the worse edge counting; mm.

    It is against the pitch as measured, not the nominal one. None where no edge has two ridges.
    """
    rng = np.random.default_rng(965)
    found, noise, again = 0.0, np.zeros(_DRAWS), np.zeros(_DRAWS)
    known = False
    for edge in {r.edge for r in ridges}:
        on = [r for r in ridges if r.edge == edge]
        if len(on) < 2:
            continue
        known = True
        errors = np.array([r.pitch_error for r in on])
        drawn = rng.standard_normal((_DRAWS, len(on))) * [r.pitch_error_u for r in on]
        at_edge, noise_at_edge = float(np.ptp(errors)), np.ptp(drawn, axis=1)
        share = without_noise(at_edge, float(np.sqrt(np.mean(noise_at_edge**2)))) / at_edge if at_edge > 0 else 0.0
        found, noise = max(found, at_edge), np.maximum(noise, noise_at_edge)
        again = np.maximum(again, np.ptp(share * errors + drawn, axis=1))
    if not known:
        return None
    value = without_noise(found, float(np.sqrt(np.mean(noise**2))))
    return Quantity(value, spread(again - value), "mm")
