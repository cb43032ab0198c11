"""How the misses of neighbouring edge points hang together along the outline, and what that does to a fit.

The smoothing of the picture and small errors of form make neighbours err alike. A quantity that is read from long
stretches feels that much more than one that hangs on the shape of a corner a few points wide, so that the whole
autocorrelation counts and not only its sum.
"""

from __future__ import annotations

import numpy as np
import numpy.typing as npt

from vision.fit.solve import Solution
from vision.model.shadow import INDEX

Array = npt.NDArray[np.float64]

_SMALL = 0.03  # an autocorrelation below this ends the kernel


def autocorrelation(solution: Solution) -> Array:
    """(m,) autocorrelation of the residuals at lags 0 .. m - 1 points along an edge; m is at most half a pitch."""
    fit, seen = solution.fit, solution.seen
    keep = np.abs(fit.residual) < 5 * fit.scale
    most = max(int(fit.x[INDEX["pitch"]] / seen.px_mm / 2), 10)
    total = np.zeros(most)
    weight = 0.0
    for sign in (1.0, -1.0):
        r = fit.residual[keep & (seen.side == sign)]
        if r.size < 50:
            continue
        spectrum = np.abs(np.fft.rfft(r - r.mean(), _padded(r.size))) ** 2
        auto = np.fft.irfft(spectrum)[:most]
        total[: auto.size] += auto / max(auto[0], 1e-30) * r.size
        weight += r.size
    if not weight:
        return np.ones(1)
    kernel = total / weight
    small = np.flatnonzero(kernel < _SMALL)
    return np.asarray(kernel[: small[0]] if small.size else kernel)


def reach(kernel: Array) -> float:
    """How many neighbouring points carry the news of one: the sum of the autocorrelation over both directions."""
    return max(float(2 * kernel.sum() - 1), 1.0)


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
