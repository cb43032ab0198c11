"""How far the residuals of neighbouring edge points are correlated, and what that does to a fit.

Smoothing of the picture and small errors of form make neighbours err alike. A quantity that is read from long
stretches suffers from that much more than one that depends on a corner a few points wide: for the fit of the thread the
whole autocorrelation counts, for a straight line or a mean its sum does, the correlation length.
"""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np
import numpy.typing as npt

Array = npt.NDArray[np.float64]

_SMALL = 0.03  # below it an autocorrelation is noise: what 1000 independent points show (1 / sqrt(n))
_MOST_LAGS = 200  # points: longer than any stretch that smoothing, grain and form tie together
_LEAST_POINTS = 8  # of fewer nothing is known: they count as independent


def autocorrelation(runs: Sequence[Array], most: int) -> Array:
    """(m,) autocorrelation at lags 0 .. m - 1, m at most ``most``, ending where it becomes small.

    Args:
        runs: residuals (n,) in their order along an edge, each run by itself; long runs count more.
        most: lags, in points.
    """
    total = np.zeros(max(most, 1))
    weight = 0
    for run in runs:
        spectrum = np.abs(np.fft.rfft(run - run.mean(), _padded(run.size))) ** 2
        auto = np.fft.irfft(spectrum)[: total.size]
        total[: auto.size] += auto / max(auto[0], 1e-30) * run.size
        weight += run.size
    if not weight:
        return np.ones(1)
    kernel = total / weight
    small = np.flatnonzero(kernel < _SMALL)
    return np.asarray(kernel[: max(small[0], 1)] if small.size else kernel)


def kernel_length(kernel: Array) -> float:
    """Correlation length, in points: the sum of an autocorrelation over both directions; at least 1."""
    return max(float(2 * kernel.sum() - 1), 1.0)


def correlation_length(*runs: Array) -> float:
    """The correlation length of residuals, each run in its order along an edge; 1 for independent points.

    The variance of a mean over n points is so many times that of n independent ones.
    """
    long = [run for run in runs if run.size >= _LEAST_POINTS]
    most = min(_MOST_LAGS, max((run.size for run in long), default=0) // 4)
    return kernel_length(autocorrelation(long, most))


def correlated_square(rows: Array, side: Array, kernel: Array) -> Array:
    """(k, k) rows C rows^T for ``rows`` (k, n) of the points on the edges ``side`` (n,), C their correlation matrix."""
    out = np.zeros((rows.shape[0], rows.shape[0]))
    for sign in (1.0, -1.0):
        on = side == sign
        if on.any():
            size = _padded(int(on.sum()))
            wave = np.fft.rfft(rows[:, on], size, axis=1) * np.sqrt(_spectrum(kernel, size))
            both = np.full(wave.shape[1], 2.0)  # all but the first and last frequency stand for two
            both[[0, -1]] = 1.0
            out += ((wave * both) @ wave.conj().T).real / size
    return out


def correlated_noise(side: Array, kernel: Array, rng: np.random.Generator) -> Array:
    """(n,) standard normal noise with that autocorrelation along either edge."""
    out = np.empty(side.size)
    for sign in (1.0, -1.0):
        on = side == sign
        size = _padded(int(on.sum()))
        wave = np.fft.rfft(rng.standard_normal(size)) * np.sqrt(_spectrum(kernel, size))
        out[on] = np.fft.irfft(wave, size)[: int(on.sum())]
    return out


def _spectrum(kernel: Array, size: int) -> Array:
    """Power at the frequencies of a real transform of ``size`` points, mean 1; cut-off kernels may dip below 0."""
    m = min(kernel.size, size // 2)
    full = np.zeros(size)
    full[:m] = kernel[:m]
    full[size - m + 1 :] = kernel[1:m][::-1]
    power = np.maximum(np.fft.rfft(full).real, 0.0)
    mean = (2 * power.sum() - power[0] - power[-1]) / size
    return np.asarray(power / mean)


def _padded(n: int) -> int:
    """A power of two with room for twice ``n`` points, so that the ends do not touch."""
    return 1 << int(np.ceil(np.log2(2 * max(n, 2))))
