"""The half-level contour of a blurred shadow, with derivatives.

The picture of the shadow below a height X(u) under a Gaussian blur sigma has at (u, y) the darkness

    D(u, y) = integral g(t) N((X(u + sigma t) - y) / sigma) dt,   g: normal density, N: normal distribution function

and the edge that an edge finder reports is the contour D = 1/2. On straight flanks it is X itself; at corners it cuts
inside. The contour is computed on a grid along u, 0.6 sigma apart (trapezoid rule over +-3 sigma, with the variance of
the whole), and brought to the edge points by cubic Hermite interpolation (error below 1e-3 sigma). The rule is exact to
many digits for whatever bends gently; where the outline has a kink between two nodes it errs by the change of slope
times h^2 B2(a/h) / 2 (B2: second Bernoulli polynomial; Euler-Maclaurin), which is put right. What is left is under
0.002 sigma RMS and 0.015 sigma at a kink.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache

import numpy as np
import numpy.typing as npt

from threads.shared.normal import quick_ndtr
from vision.model.shadow import COUNT, INDEX, outline

Array = npt.NDArray[np.float64]
Bool = npt.NDArray[np.bool_]

FINE = 0.6
"""Grid step in units of the blur; 1.0 is good enough on the way to the solution."""

_SHARP = 0.02
"""A change of slope over one step from which on it matters where in the step it happens."""
_FINER = 2 / 3
"""By so much is the grid finer where one ridge stands for all: its errors do not average over many."""
_SEVERAL = 2.0  # pitches from which on one is worked out for all
_REPEATS = 0.001  # of the blur: what may be left out of first order
_LEFT_OUT = 5e-4
"""Of the blur: what may be left out of second order where one ridge stands for all; the grid errs by more."""
_PITCH, _TILT, _NEARNESS, _TAPER, _CREST, _ROOT, _FLANK_RIGHT, _FLANK_LEFT, _BLUR = (
    INDEX[n] for n in ("pitch", "tilt", "nearness", "taper", "crest", "root", "flank_right", "flank_left", "blur")
)
_LEVELS = [_CREST, INDEX["pitch_radius"], _ROOT]
_OF_OUTLINE = slice(INDEX["phase"], _BLUR)
"""The parameters that shape the sharp outline: all but offset, rotation and blur."""


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
    the blur. Where all ridges look alike one is worked out for all of an edge, on a grid finer by ``_FINER``.
    """
    if np.ptp(u) < _SEVERAL * x[_PITCH] or not _ridges_alike(x, u, starts):
        return _on_grid(x, u, side, centre, starts, gradient, step)
    turns = np.floor((u - u.mean()) / x[_PITCH])
    moved = turns * x[_PITCH]
    value, slope, jac = _on_grid(x, u - moved, side, centre, starts, True, _FINER * step)
    assert jac is not None  # derivatives were asked for
    by_growth = jac[_LEVELS].sum(axis=0)
    value += moved * (x[_TAPER] * by_growth - x[_NEARNESS] * jac[_TILT])
    jac[_TAPER] += moved * by_growth
    jac[_NEARNESS] -= moved * jac[_TILT]
    jac[_PITCH] -= turns * slope
    return value, slope, jac if gradient else None


def _ridges_alike(x: Array, u: Array, starts: int) -> bool:
    """Whether all ridges of an edge look alike, up to what the derivatives tell.

    From the middle to the ends a near camera turns what it sees by dT (``shadow``: T). To second order that moves a
    flank of slope m by r (m dT)^2 / 2; it moves the corners along the axis by k m dT, and the bend of a blurred
    corner by m (k m dT)^2 / 2 sigma. The change of size with a taper acts in second order through k / r alone.
    """
    half = np.ptp(u) / 2
    m = 1 / np.tan(min(x[_FLANK_RIGHT], x[_FLANK_LEFT]))
    k = starts * x[_PITCH] / (2 * np.pi)
    turned, grown = abs(m * x[_NEARNESS] * half), abs(m * k * x[_TAPER] * half / x[_ROOT] ** 2)
    left_out = (x[_CREST] + m * k**2 / x[_BLUR]) * (turned + grown) ** 2 / 2
    return bool(left_out < _LEFT_OUT * x[_BLUR])


def ridges_repeat(x: Array, u: Array, starts: int) -> bool:
    """Whether all ridges of an edge are the same, to ``_REPEATS`` of the blur: nothing to be told by derivatives."""
    half = np.ptp(u) / 2
    turned = (
        abs(x[_NEARNESS] * half) * starts * x[_PITCH] / (2 * np.pi) / np.tan(min(x[_FLANK_RIGHT], x[_FLANK_LEFT])) ** 2
    )
    return bool(turned + abs(x[_TAPER] * half) < _REPEATS * x[_BLUR]) and _ridges_alike(x, u, starts)


def _on_grid(
    x: Array, u: Array, side: Array, centre: tuple[float, float], starts: int, gradient: bool, step: float
) -> tuple[Array, Array, Array | None]:
    """As ``contour``, worked out on a grid over all of ``u``."""
    sigma = float(x[_BLUR])
    h = step * sigma
    reach = round(3 / step)
    grids: list[tuple[float, Array]] = []
    cell = np.empty(u.size, np.intp)  # of each point: the node before it
    nodes = 0
    for sign in (1.0, -1.0):
        on = np.flatnonzero(side == sign)
        if not on.size:
            continue
        place = u[on] / h
        before = np.floor(place)
        first, last = before.min() - 1 - reach, before.max() + 2 + reach
        cell[on] = (before - first).astype(np.intp) + nodes
        grids.append((sign, h * np.arange(first, last + 1)))
        nodes += grids[-1][1].size
    grid_u = np.concatenate([grid for _, grid in grids])
    grid_side = np.repeat([sign for sign, _ in grids], [grid.size for _, grid in grids])
    sharp, slope, jac = outline(x, grid_u, grid_side, centre, starts=starts, gradient=gradient)
    needed = np.zeros(nodes, np.bool_)
    needed[cell] = needed[cell + 1] = True
    y, dy, smooth = _blur(sharp, slope, None if jac is None else jac[_OF_OUTLINE], sigma, step, reach, needed)
    f = (u - grid_u[cell]) / h
    value, rate = _hermite(y, dy, cell, f, h)
    if smooth is None:
        return value, rate, None
    by_shape = _sums(np.stack([1 - f, f], axis=1), cell, smooth)
    full = np.zeros((COUNT, u.size))
    full[_OF_OUTLINE] = by_shape[:, :-1].T
    full[_BLUR] = by_shape[:, -1]
    return value, rate, full


def _blur(
    sharp: Array, slope: Array, jac: Array | None, sigma: float, step: float, reach: int, needed: Bool
) -> tuple[Array, Array, Array | None]:
    """Contour, its slope and its derivatives on the grid, from those of the sharp outline.

    Where the outline runs straight over the whole window the contour is the outline; only the rest is worked out, and
    only at the ``needed`` nodes. Nodes within ``reach`` of the ends (and of the seam between both edges) cannot be.

    Args:
        sharp: (n,) height of the sharp outline.
        slope: (n,) its slope.
        jac: (k, n) its derivatives, or None.
        sigma: the blur, mm.
        step: grid step in units of the blur.
        reach: half the window, grid steps.
        needed: (n,) nodes that points lie beside.

    Returns:
        Contour (n,), slope (n,), and derivatives (n, k + 1), the last column that by the blur.
    """
    bend = np.zeros(sharp.size, dtype=bool)
    bend[1:-1] = np.abs(sharp[2:] - 2 * sharp[1:-1] + sharp[:-2]) > 1e-3 * step * sigma
    width = 2 * reach + 1
    touched = np.convolve(bend, np.ones(width), mode="same") > 0.5
    touched &= needed
    at = np.flatnonzero(touched)
    y, dy = sharp.copy(), slope.copy()
    smooth = None if jac is None else np.vstack([jac, np.zeros(sharp.size)]).T.copy()
    if not at.size:
        return y, dy, smooth
    t, g = _kernel(step, reach)
    kink = _kinks(sharp, slope, step * sigma)
    slope = kink.shared(slope)
    window = np.lib.stride_tricks.sliding_window_view(sharp + kink.lift, width)[at - reach]
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
        dark = quick_ndtr(z) @ g
        move = (dark - 0.5) * (sigma * np.sqrt(2 * np.pi)) / rate
        level = level + np.clip(move, -sigma, sigma)
        if turn == 1 and np.abs(move).max() < 1e-4 * sigma:
            break
    weights /= rate[:, None]
    inner_slope = np.lib.stride_tricks.sliding_window_view(slope, width)[at - reach]
    y[at] = level
    dy[at] = np.einsum("ij,ij->i", weights, inner_slope)
    if smooth is not None:
        smooth[at] = _sums(weights, at - reach, kink.shared(smooth))
        smooth[at, -1] = np.einsum("ij,ij->i", weights, inner_slope * t + (level[:, None] - window) / sigma)
    return y, dy, smooth


@cache
def _kernel(step: float, reach: int) -> tuple[Array, Array]:
    """Nodes in units of the blur, and weights of a Gaussian that ends with them and has a variance of 1 all the same.

    Ended at 3 it would have 0.973, and bends would be too little blurred by as much.
    """
    t: Array = step * np.arange(-reach, reach + 1, dtype=np.float64)
    g, variance = t, 1.0
    for _ in range(20):
        g = np.asarray(np.exp(-0.5 * t**2 / variance))
        g = g / g.sum()
        variance += 1 - float(g @ t**2)
    return t, g


def _sums(weights: Array, first: npt.NDArray[np.intp], values: Array) -> Array:
    """Weighted sums over runs of rows of ``values`` (n, k): ``first[i]`` and the next by ``weights[i]``, (m, w) in all.

    As products of small matrices, as quick as a sparse product, which scipy takes an eighth of a second to import for.
    """
    runs = np.lib.stride_tricks.sliding_window_view(values, weights.shape[1], axis=0)[first]
    return np.asarray(np.matmul(runs, weights[:, :, None])[:, :, 0])


@dataclass(frozen=True)
class _Kinks:
    """What the trapezoid rule misses where the outline has a kink between two nodes.

    Attributes:
        lift: (n,) what to add to the heights at the nodes to put it right.
        cell: (k,) nodes before a kink.
        early: (k,) how much of the step lies before the kink, less a half: +1/2 if it is at the next node.
    """

    lift: Array
    cell: npt.NDArray[np.intp]
    early: Array

    def shared(self, values: Array) -> Array:
        """``values`` (n, ...), which jump at a kink, so that the rule gives each side as much of the step as it has."""
        out = values.copy()
        early = self.early.reshape(-1, *(1,) * (values.ndim - 1))
        half = 0.5 * early * (values[self.cell] - values[self.cell + 1])
        out[self.cell] += half
        out[self.cell + 1] += half
        return out


def _kinks(sharp: Array, slope: Array, h: float) -> _Kinks:
    """Kinks between the nodes, ``h`` apart, from heights and slopes (n,) at the nodes.

    The tangents at both nodes meet at the kink, a distance a behind the first. The chord misses the area a (h - a) / 2
    times the change of slope there; averaged over all places of the kink in a step the trapezoid rule misses nothing,
    so that h^2 / 12 is taken off. A gentle curve needs nothing: it differs from a kink in its share of the change of
    slope round it.
    """
    change = slope[:-1] - slope[1:]
    turns = np.abs(change) > _SHARP
    steep = np.where(turns, change, 1.0)
    a = np.where(turns, (sharp[1:] - sharp[:-1] - slope[1:] * h) / steep, 0.5 * h)
    meets = (a > 0) & (a < h)
    around = np.abs(change).copy()
    around[1:] += np.abs(change[:-1])
    around[:-1] += np.abs(change[1:])
    share = np.abs(change) / np.maximum(around, 1e-12)
    own = np.where(meets & turns, np.clip(1.5 * share - 0.5, 0.0, 1.0), 0.0)
    area = change * own * (a * (h - a) / 2 - h * h / 12)
    lift = np.zeros(sharp.size)
    lift[:-1] += area / (2 * h)
    lift[1:] += area / (2 * h)
    cell = np.flatnonzero(own > 0)
    return _Kinks(lift, cell, own[cell] * (a[cell] / h - 0.5))


def _hermite(y: Array, dy: Array, cell: npt.NDArray[np.intp], f: Array, h: float) -> tuple[Array, Array]:
    """Cubic Hermite interpolation: value and slope at fraction ``f`` of ``cell``."""
    y0, y1, d0, d1 = y[cell], y[cell + 1], dy[cell] * h, dy[cell + 1] * h
    a = d0 - (y1 - y0)
    b = -d1 + (y1 - y0)
    value = (1 - f) * y0 + f * y1 + f * (1 - f) * ((1 - f) * a + f * b)
    rate = (y1 - y0) + (1 - 2 * f) * ((1 - f) * a + f * b) + f * (1 - f) * (b - a)
    return value, rate / h
