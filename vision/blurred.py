"""The half-level contour of a blurred shadow, with derivatives.

The picture of the shadow below a height X(u) under a Gaussian blur sigma has at (u, y) the darkness

    D(u, y) = integral g(t) N((X(u + sigma t) - y) / sigma) dt,   g: normal density, N: normal distribution function

and the edge that an edge finder reports is the contour D = 1/2. On straight flanks it is X itself; at corners it cuts
inside. The contour is computed on a grid along u, half a sigma apart (trapezoid rule over +-3 sigma: truncation 0.3 %
of a corner's effect; a sharp kink between nodes costs at most 0.02 sigma), and brought to the edge points by cubic
Hermite interpolation (error below 1e-3 sigma).
"""

from __future__ import annotations

import numpy as np
import numpy.typing as npt
from scipy.special import ndtr

from vision.shadow import COUNT, INDEX, outline

Array = npt.NDArray[np.float64]

_STEP = 0.5
_REACH = 6  # nodes on each side: 6 * 0.5 = 3 sigma
_T = _STEP * np.arange(-_REACH, _REACH + 1)
_WEIGHTS = np.exp(-0.5 * _T**2) / np.exp(-0.5 * _T**2).sum()
_BLUR = INDEX["blur"]


def contour(
    x: Array, u: Array, side: Array, centre: tuple[float, float], *, gradient: bool = True
) -> tuple[Array, Array, Array | None]:
    """Height of the half-level contour above the axis at ``u``; arguments and results as in ``shadow.outline``.

    The derivative by blur is filled in; those by offset and rotation are zero.
    """
    sigma = float(x[_BLUR])
    h = _STEP * sigma
    parts = []
    start = 0
    for sign in (1.0, -1.0):
        on = np.flatnonzero(side == sign)
        if not on.size:
            continue
        first = np.floor(u[on].min() / h) - 1 - _REACH
        last = np.floor(u[on].max() / h) + 2 + _REACH
        grid = h * np.arange(first, last + 1)
        parts.append((on, sign, grid, start))
        start += grid.size
    grid_u = np.concatenate([p[2] for p in parts])
    grid_side = np.concatenate([np.full(p[2].size, p[1]) for p in parts])
    sharp, slope, jac = outline(x, grid_u, grid_side, centre, gradient=gradient)

    value_out = np.empty(u.size)
    slope_out = np.empty(u.size)
    jac_out = np.zeros((COUNT, u.size)) if gradient else None
    for on, _, grid, begin in parts:
        run = slice(begin, begin + grid.size)
        y, weights = _half_level(sharp[run], sigma)
        inner_slope = np.lib.stride_tricks.sliding_window_view(slope[run], 2 * _REACH + 1)
        dy = np.einsum("ij,ij->i", weights, inner_slope)
        nodes = grid[_REACH : grid.size - _REACH]
        cell = np.clip(((u[on] - nodes[0]) / h).astype(int), 0, nodes.size - 2)
        f = (u[on] - nodes[cell]) / h
        value_out[on], slope_out[on] = _hermite(y, dy, cell, f, h)
        if gradient and jac is not None and jac_out is not None:
            windows = np.lib.stride_tricks.sliding_window_view(jac[:, run], 2 * _REACH + 1, axis=1)
            smooth = np.einsum("kij,ij->ki", windows, weights)
            heights = np.lib.stride_tricks.sliding_window_view(sharp[run], 2 * _REACH + 1)
            smooth[_BLUR] = np.einsum("ij,ij->i", weights, inner_slope * _T + (y[:, None] - heights) / sigma)
            jac_out[:, on] = smooth[:, cell] * (1 - f) + smooth[:, cell + 1] * f
    return value_out, slope_out, jac_out


def _half_level(sharp: Array, sigma: float) -> tuple[Array, Array]:
    """Contour height on the inner nodes and the weight of each of their 13 neighbours in its derivative."""
    windows = np.lib.stride_tricks.sliding_window_view(sharp, 2 * _REACH + 1)
    y = windows @ _WEIGHTS
    weights = np.empty(windows.shape)
    for _ in range(4):
        z = (windows - y[:, None]) / sigma
        dark = ndtr(z) @ _WEIGHTS
        np.multiply(_WEIGHTS, np.exp(-0.5 * z * z), out=weights)
        rate = weights.sum(axis=1)
        step = (dark - 0.5) * sigma * np.sqrt(2 * np.pi) / np.maximum(rate, 1e-6)
        y = y + np.clip(step, -sigma, sigma)
    weights /= np.maximum(rate, 1e-300)[:, None]
    return y, weights


def _hermite(y: Array, dy: Array, cell: npt.NDArray[np.intp], f: Array, h: float) -> tuple[Array, Array]:
    """Cubic Hermite interpolation: value and slope at fraction ``f`` of ``cell``."""
    y0, y1, d0, d1 = y[cell], y[cell + 1], dy[cell] * h, dy[cell + 1] * h
    a = d0 - (y1 - y0)
    b = -d1 + (y1 - y0)
    value = (1 - f) * y0 + f * y1 + f * (1 - f) * ((1 - f) * a + f * b)
    rate = (y1 - y0) + (1 - 2 * f) * ((1 - f) * a + f * b) + f * (1 - f) * (b - a)
    return value, rate / h
