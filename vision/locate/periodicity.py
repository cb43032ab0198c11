"""The period of an outline along its axis, and where along it the period holds.

The slope of an outline along the axis, cut off at what a flank can have, is a strong wave of one period a pitch on a
thread, nothing on a shank and a spike on a shoulder. Its spectrum gives the pitch without any hint; its local amplitude
(complex demodulation at that frequency) gives the length over which it holds.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from vision.locate.fast_length import fast_length
from vision.locate.limits import LIMITS
from vision.shared.robust import median

Array = npt.NDArray[np.float64]

_WEAKEST = 0.12  # slope; a thread has 0.8 and more, blurred to the limit 0.3
_SLOPE_LIMIT = 2.5  # a flank at 22 deg from the normal of the axis; anything steeper is a shoulder or dirt


@dataclass(frozen=True)
class Wave:
    """A period of the outline and where it holds (px).

    Attributes:
        pitch: period along u.
        score: strength times length, for comparison.
        start, end: where along u the wave is strong.
        local, local_low: (m,) complex local amplitude of the upper and the lower edge.
    """

    pitch: float
    score: float
    start: float
    end: float
    local: Array
    local_low: Array

    @property
    def is_clear(self) -> bool:
        """Whether no other wave can be better: it is long, and nearly all slopes there belong to it."""
        length = self.end - self.start
        return length > LIMITS.clear_wave[0] * self.pitch and self.score > LIMITS.clear_wave[1] * length


def strongest_wave(u: Array, upper: Array, lower: Array) -> Wave | None:
    """The strongest period of an outline along u, and where it holds; None where nothing repeats.

    Args:
        u: (m,) positions along the axis, one px apart.
        upper: (m,) heights of the upper edge, NaN where missing.
        lower: (m,) heights of the lower edge.
    """
    if u.size < LIMITS.least_columns:
        return None
    up, low = _slope(upper), -_slope(lower)
    size = 1 << int(np.ceil(np.log2(4 * u.size)))
    power = np.abs(np.fft.rfft(up, size)) ** 2 + np.abs(np.fft.rfft(low, size)) ** 2
    freq = np.fft.rfftfreq(size)
    longest = u.size / 2.2
    allowed = (freq > 1 / longest) & (freq < 1 / LIMITS.shortest_period)
    if not allowed.any() or power[allowed].max() <= 0:
        return None
    best: Wave | None = None
    spectrum = np.where(allowed, power, 0.0)
    width = max(int(np.ceil(size / u.size)), 1)
    for _ in range(3):
        peak = int(np.argmax(spectrum))
        if spectrum[peak] <= 0:
            break
        candidate = _zone(u, up, low, 1 / freq[peak])
        if candidate is not None and (best is None or candidate.score > best.score):
            best = candidate
        if best is not None and best.is_clear:
            break
        spectrum[max(peak - 2 * width, 0) : peak + 2 * width + 1] = 0.0
    return best


def wave_of_period(u: Array, upper: Array, lower: Array, pitch: float) -> Wave | None:
    """The wave near the period ``pitch`` (px), arguments as in ``strongest_wave``; None where it is too weak."""
    return _zone(u, _slope(upper), -_slope(lower), pitch)


def _slope(y: Array) -> Array:
    """Slope over +-2 px, cut off at the steepest flank there is; 0 where the outline is missing."""
    s = np.zeros(y.size)
    s[2:-2] = (y[4:] - y[:-4]) / 4
    s = np.where(np.isfinite(s), s, 0.0)
    # a step (shoulder, end) is no flank: what is far too steep counts as nothing
    return np.where(np.abs(s) > 2 * _SLOPE_LIMIT, 0.0, np.clip(s, -_SLOPE_LIMIT, _SLOPE_LIMIT))


def _demodulate(u: Array, s: Array, pitch: float) -> Array:
    """Complex amplitudes of the waves ``s`` (k, n) of period ``pitch`` in a Gaussian window of 0.6 pitch."""
    sigma = 0.6 * pitch
    reach = int(np.ceil(3 * sigma))
    window = np.exp(-0.5 * (np.arange(-reach, reach + 1) / sigma) ** 2)
    window /= window.sum()
    carrier = s * np.exp(-2j * np.pi * u / pitch)
    size = fast_length(u.size + window.size - 1)
    full = np.fft.ifft(np.fft.fft(carrier, size) * np.fft.fft(window, size))
    return np.asarray(full[:, reach : reach + u.size])


def _zone(u: Array, up: Array, low: Array, pitch: float) -> Wave | None:
    """Where the wave of about ``pitch`` is strong, and its pitch there."""
    both = np.stack([up, low])
    local = _demodulate(u, both, pitch)
    i, j = _strong(local)
    if j - i < LIMITS.least_run * pitch:
        return None
    pitch = _sharpen(u[i:j], both[:, i:j], pitch)
    local = _demodulate(u, both, pitch)
    i, j = _strong(local)
    if j - i < LIMITS.least_run * pitch:
        return None
    a, b = local[:, i:j]
    coherent = (abs(a.sum()) + abs(b.sum())) / (np.abs(a).sum() + np.abs(b).sum())
    power = float((np.abs(a) ** 2).mean() + (np.abs(b) ** 2).mean())
    # how much of all slope in the run belongs to the wave
    explained = 2 * power / max(float((both[:, i:j] ** 2).mean(axis=1).sum()), 1e-9)
    score = float(np.sqrt(power / 2)) * coherent * min(explained, 1.0) * (j - i)
    return Wave(float(pitch), float(score), float(u[i]), float(u[j - 1]), local[0], local[1])


def _strong(local: Array) -> tuple[int, int]:
    """The longest run over which the wave is more than 0.6 of its strongest; empty when it is weak everywhere."""
    strength = np.sqrt((np.abs(local) ** 2).mean(axis=0))
    strongest = float(np.quantile(strength, 0.98))
    return (0, 0) if strongest < _WEAKEST else _longest_run(strength > LIMITS.wave_share * strongest)


def _sharpen(u: Array, both: Array, pitch: float) -> float:
    """The period near ``pitch`` at which both edges together are strongest over the run ``u``.

    The peak of the spectrum stays where it is when dirt hides a part of one edge, unlike a phase that is followed
    along the edge.
    """
    length = u[-1] - u[0] + 1
    best = 1 / pitch
    for step in (0.25 / length, 0.05 / length):
        turn = np.exp(-2j * np.pi * step * u)
        wave = np.exp(-2j * np.pi * (best - 3 * step) * u)
        power = np.empty(7)
        for k in range(7):
            power[k] = float((np.abs(both @ wave) ** 2).sum())
            wave *= turn
        k = int(np.argmax(power))
        best += (k - 3) * step
        if 0 < k < LIMITS.most_harmonic:
            left, middle, right = power[k - 1 : k + 2]
            best += step * 0.5 * (left - right) / min(left - 2 * middle + right, -1e-12)
    return float(1 / best) if best > LIMITS.harmonic_share / pitch else pitch


def _longest_run(on: npt.NDArray[np.bool_]) -> tuple[int, int]:
    edge = np.diff(np.concatenate([[0], on.astype(np.int8), [0]]))
    starts, ends = np.flatnonzero(edge == 1), np.flatnonzero(edge == -1)
    if not starts.size:
        return 0, 0
    i = int(np.argmax(ends - starts))
    return int(starts[i]), int(ends[i])


def mean_amplitude(local: Array) -> complex:
    """Amplitude of a wave along an edge; a stretch that is far too strong (dirt) counts no more than any other."""
    size = np.abs(local)
    return complex((local * np.minimum(1.0, median(size) / np.maximum(size, 1e-12))).mean())


def in_step(local: Array, mean: complex) -> float:
    """Fraction of an edge where its wave is in step with the mean, to a ninth of a period."""
    return float(np.mean(np.abs(np.angle(local / mean)) < LIMITS.in_step)) if mean else 0.0
