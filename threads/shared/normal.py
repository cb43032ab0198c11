"""The normal distribution function and its inverse.

The upper tail is exp(-z^2/2) times a ratio of polynomials, beyond 5 sqrt(2) times a continued fraction: algorithm 5666
of J. F. Hart et al., Computer Approximations (1968), as in G. West, Better approximations to cumulative normal
functions (Wilmott Magazine, May 2005); the coefficients are from memory, and the tests hold them against scipy. scipy
has these functions too, but takes a fifth of a second to be imported, a quarter of what an identification takes.
"""

from __future__ import annotations

import math

import numpy as np
import numpy.typing as npt

Array = npt.NDArray[np.float64]

_ABOVE = (
    0.0352624965998911, 0.700383064443688, 6.37396220353165, 33.912866078383, 112.079291497871, 221.213596169931,
    220.206867912376,
)  # fmt: skip
_BELOW = (
    0.0883883476483184, 1.75566716318264, 16.064177579207, 86.7807322029461, 296.564248779674, 637.333633378831,
    793.826512519948, 440.413735824752,
)  # fmt: skip
_FAR = 5 * np.sqrt(2)
_ROOT_2_PI = np.sqrt(2 * np.pi)
_FINE, _ENDS = 256.0, 6.0  # steps of the table to a standard deviation, and how far it goes


def ndtr(z: npt.ArrayLike) -> Array:
    """P(normal < z), of any shape; absolute error below 1e-15, relative error of the lower tail below 1e-8."""
    z = np.asarray(z, np.float64)
    with np.errstate(over="ignore"):  # exp(-inf) is 0
        tail = np.exp(-0.5 * z * z) * over_density(np.abs(z))
    return np.where(z > 0, 1 - tail, tail)


def quick_ndtr(z: Array) -> Array:
    """``ndtr`` from a table, within 5e-7 (an eighth of the step squared times the steepest bend): six times as fast."""
    part = np.clip((z + _ENDS) * _FINE, 0.0, 2 * _ENDS * _FINE)
    with np.errstate(invalid="ignore"):  # NaN stays NaN
        cell = part.astype(np.intp)
    part -= cell
    part *= _RISE.take(cell, mode="clip")
    part += _TABLE.take(cell, mode="clip")
    return np.asarray(part)


def ndtri(p: float) -> float:
    """The z below which a share ``p`` lies, 0 < p < 1: Newton's steps from 0, all on one side of z."""
    z = 0.0
    for _ in range(60):
        step = (0.5 * math.erfc(-z / math.sqrt(2)) - p) * math.sqrt(2 * math.pi) * math.exp(0.5 * z * z)
        z -= step
        if abs(step) <= 1e-14 * (1 + abs(z)):
            break
    return z


def chi_square_tail(x: float, n: int) -> float:
    """P(sum of the squares of ``n`` normal numbers > x), x >= 0: the finite series, each term by its logarithm."""
    half, powers = x / 2, np.arange(0.5 * (n % 2), n / 2)
    if half == 0:
        return 1.0
    series = sum(math.exp(a * math.log(half) - half - math.lgamma(a + 1)) for a in powers.tolist())
    return series + (math.erfc(math.sqrt(half)) if n % 2 else 0.0)


def over_density(z: Array) -> Array:
    """The upper tail beyond ``z`` >= 0 over exp(-z^2/2); relative error below 1e-8."""
    near = np.minimum(z, _FAR)
    above = _polynomial(_ABOVE, near) / _polynomial(_BELOW, near)
    if z.size and float(z.max()) > _FAR:
        fraction = z + 0.65
        for step in (4, 3, 2, 1):
            fraction = z + step / fraction
        return np.where(z > _FAR, 1 / (fraction * _ROOT_2_PI), above)
    return above


def _polynomial(coefficients: tuple[float, ...], z: Array) -> Array:
    """By Horner's rule in place, the highest power first."""
    value = np.full_like(z, coefficients[0])
    for one in coefficients[1:]:
        value *= z
        value += one
    return value


_TABLE = ndtr(np.arange(-_ENDS * _FINE, _ENDS * _FINE + 2) / _FINE)
_RISE = np.diff(_TABLE, append=1.0)
