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

FINE = 0.5
"""Grid step in units of the blur; 1.0 is good enough on the way to the solution."""

_BLUR = INDEX["blur"]


def contour(
    x: Array,
    u: Array,
    side: Array,
    centre: tuple[float, float],
    *,
    starts: int = 1,
    gradient: bool = True,
    step: float = FINE,
) -> tuple[Array, Array, Array | None]:
    """Height of the half-level contour above the axis at ``u``; arguments and results as in ``shadow.outline``.

    The derivative by blur is filled in; those by offset and rotation are zero. ``step`` is the grid step in units of
    the blur.
    """
    sigma = float(x[_BLUR])
    h = step * sigma
    reach = round(3 / step)
    parts = []
    start = 0
    for sign in (1.0, -1.0):
        on = np.flatnonzero(side == sign)
        if not on.size:
            continue
        first = np.floor(u[on].min() / h) - 1 - reach
        last = np.floor(u[on].max() / h) + 2 + reach
        grid = h * np.arange(first, last + 1)
        parts.append((on, grid, start))
        start += grid.size
    grid_u = np.concatenate([p[1] for p in parts])
    grid_side = np.repeat([float(side[p[0][0]]) for p in parts], [p[1].size for p in parts])
    sharp, slope, jac = outline(x, grid_u, grid_side, centre, starts=starts, gradient=gradient)
    y, dy, smooth = _blur(sharp, slope, jac, sigma, step, reach)

    value_out = np.empty(u.size)
    slope_out = np.empty(u.size)
    jac_out = np.zeros((COUNT, u.size)) if gradient else None
    for on, grid, begin in parts:
        cell = np.clip(((u[on] - grid[0]) / h).astype(int), reach, grid.size - reach - 2)
        f = (u[on] - grid[cell]) / h
        cell += begin
        value_out[on], slope_out[on] = _hermite(y, dy, cell, f, h)
        if smooth is not None and jac_out is not None:
            jac_out[:, on] = smooth[:, cell] * (1 - f) + smooth[:, cell + 1] * f
    return value_out, slope_out, jac_out


def _blur(
    sharp: Array, slope: Array, jac: Array | None, sigma: float, step: float, reach: int
) -> tuple[Array, Array, Array | None]:
    """Contour, its slope and its derivatives on the grid, from those of the sharp outline.

    Where the outline runs straight over the whole window the contour is the outline; only the rest is worked out.
    Nodes within ``reach`` of the ends (and of the seam between both edges) are not to be used.
    """
    bend = np.zeros(sharp.size, dtype=bool)
    bend[1:-1] = np.abs(sharp[2:] - 2 * sharp[1:-1] + sharp[:-2]) > 1e-3 * step * sigma
    width = 2 * reach + 1
    touched = np.convolve(bend, np.ones(width), mode="same") > 0.5
    touched[:reach] = touched[sharp.size - reach :] = False
    at = np.flatnonzero(touched)
    y, dy = sharp.copy(), slope.copy()
    smooth = None if jac is None else jac.copy()
    if not at.size:
        return y, dy, smooth
    t = step * np.arange(-reach, reach + 1)
    g = np.exp(-0.5 * t**2)
    g /= g.sum()
    window = np.lib.stride_tricks.sliding_window_view(sharp, width)[at - reach]
    level = window @ g
    weights = np.empty(window.shape)
    rate = np.ones(at.size)
    for turn in range(3):
        z = (window - level[:, None]) * (1 / sigma)
        with np.errstate(over="ignore"):  # of an outline that fits nowhere; exp(-inf) is 0
            np.multiply(z, z, out=weights)
        weights *= -0.5
        np.exp(weights, out=weights)
        weights *= g
        rate = np.maximum(weights.sum(axis=1), 1e-6)
        dark = ndtr(z) @ g
        move = (dark - 0.5) * (sigma * np.sqrt(2 * np.pi)) / rate
        level = level + np.clip(move, -sigma, sigma)
        if turn == 1 and np.abs(move).max() < 1e-4 * sigma:
            break
    weights /= rate[:, None]
    inner_slope = np.lib.stride_tricks.sliding_window_view(slope, width)[at - reach]
    y[at] = level
    dy[at] = np.einsum("ij,ij->i", weights, inner_slope)
    if jac is not None and smooth is not None:
        rows = np.flatnonzero(np.any(jac != 0, axis=1))
        summed = np.zeros((rows.size, at.size))
        for j in range(width):
            summed += jac[np.ix_(rows, at - reach + j)] * weights[:, j]
        smooth[np.ix_(rows, at)] = summed
        smooth[_BLUR, at] = np.einsum("ij,ij->i", weights, inner_slope * t + (level[:, None] - window) / sigma)
    return y, dy, smooth


def _hermite(y: Array, dy: Array, cell: npt.NDArray[np.intp], f: Array, h: float) -> tuple[Array, Array]:
    """Cubic Hermite interpolation: value and slope at fraction ``f`` of ``cell``."""
    y0, y1, d0, d1 = y[cell], y[cell + 1], dy[cell] * h, dy[cell + 1] * h
    a = d0 - (y1 - y0)
    b = -d1 + (y1 - y0)
    value = (1 - f) * y0 + f * y1 + f * (1 - f) * ((1 - f) * a + f * b)
    rate = (y1 - y0) + (1 - 2 * f) * ((1 - f) * a + f * b) + f * (1 - f) * (b - a)
    return value, rate / h
