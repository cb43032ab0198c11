"""The mean of several measurements of one part, each with its covariance, and how well they agree.

The weights are the inverse of what is each picture's own; what pictures from one bench have in common is not averaged
away. Where they scatter more than their own uncertainties say, a variance between pictures is added (Paule and Mandel,
J. Res. NBS 87, 377-385, 1982), and Student's factor for so few of them when the excess is significant (JCGM 100:2008,
G.4).
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from vision.result.picture_share import Agreement

Array = npt.NDArray[np.float64]

REPEATABILITY = "repeatability: part laid anew"
SIGNIFICANT = 0.05
"""A scatter that chance gives less often than this is taken for real."""
DECIDING = ("major_diameter", "pitch_diameter", "minor_diameter", "pitch", "flank_angle_left", "flank_angle_right")
"""The quantities by which pictures must agree."""


_STEADY = 1e-4
"""Part of each variance that is added where the weights are found, and nowhere else: crest and root width follow from
the other quantities, so that without it the weights would rest on rounding alone."""


@dataclass(frozen=True)
class Stack:
    """The quantities of k pictures.

    Attributes:
        names: of the n quantities.
        values: (k, n).
        own: (k, n, n) what of their covariance is each picture's own.
        own_by_source: (k, n, n) the same by the lines of the budget.
        common: (k, n, n) by the lines of the budget, what all pictures from one bench have in common.
        bench: (k) calibration of each picture.
    """

    names: tuple[str, ...]
    values: Array
    own: Array
    own_by_source: dict[str, Array]
    common: dict[str, Array]
    bench: tuple[str, ...]


@dataclass(frozen=True)
class Mean:
    """Joined values (n,), the covariance that each source gives (n, n), and how the pictures agree."""

    values: Array
    by_source: dict[str, Array]
    agreement: Agreement

    @property
    def covariance(self) -> Array:
        return np.asarray(np.sum(list(self.by_source.values()), axis=0))


def weighted_mean(stack: Stack) -> Mean:
    """Generalised least squares over all pictures with what they have in common, bench by bench."""
    k, n = stack.values.shape
    scatter = np.array([_between(stack.values[:, j], stack.own[:, j, j]) for j in range(n)])
    between = np.diag(scatter)
    same = np.array([[a == b for b in stack.bench] for a in stack.bench])
    shared = np.sum(list(stack.common.values()), axis=0) if stack.common else np.zeros_like(stack.own)
    # the weights follow from what is not common: what one bench has in common does not change them, and the small
    # differences between its estimates must not
    own = stack.own + between + _STEADY * np.einsum("kii->ki", stack.own)[:, :, None] * np.eye(n)
    left: Array = np.asarray(np.linalg.inv(own), np.float64)
    if not same.all():
        benches = list(dict.fromkeys(stack.bench))
        of_bench = {b: shared[[i for i in range(k) if stack.bench[i] == b]].mean(axis=0) for b in benches}
        full = np.zeros((k * n, k * n))
        for a in range(k):
            for b in range(k):
                block = of_bench[stack.bench[a]] * same[a, b] + own[a] * (a == b)
                full[a * n : (a + 1) * n, b * n : (b + 1) * n] = block
        inverse = np.linalg.pinv(full, hermitian=True)
        design = np.tile(np.eye(n), (k, 1))
        left = (design.T @ inverse).reshape(n, k, n).transpose(1, 0, 2)
    total = np.linalg.inv(left.sum(axis=0))
    gain = np.array([total @ w for w in left])  # (k, n, n), they add up to one
    values = np.einsum("kij,kj->i", gain, stack.values)

    by_source = {name: np.einsum("kij,kjl,kml->im", gain, c, gain) for name, c in stack.own_by_source.items()}
    for name, c in stack.common.items():
        out = np.zeros((n, n))
        for bench in dict.fromkeys(stack.bench):
            on = [i for i in range(k) if stack.bench[i] == bench]
            g = gain[on].sum(axis=0)
            out += g @ c[on].mean(axis=0) @ g.T
        by_source[name] = out
    chi_squared, freedom, probability = _consistency(stack)
    if scatter.any():
        laid_anew = np.einsum("kij,jl,kml->im", gain, between, gain)
        combined = np.sum([*by_source.values(), laid_anew], axis=0)
        for j in range(n):
            if _tail(_chi_squared(stack.values[:, j], stack.own[:, j, j]), k - 1) < SIGNIFICANT:
                laid_anew[j, j] += combined[j, j] * (_student(combined[j, j], laid_anew[j, j], k - 1) ** 2 - 1)
        by_source[REPEATABILITY] = laid_anew
    agreement = Agreement(
        chi_squared,
        freedom,
        probability,
        {name: float(np.sqrt(s)) for name, s in zip(stack.names, scatter, strict=True) if s > 0},
    )
    return Mean(values, by_source, agreement)


def _chi_squared(x: Array, variance: Array) -> float:
    mean = np.sum(x / variance) / np.sum(1 / variance)
    return float(np.sum((x - mean) ** 2 / variance))


def _between(x: Array, variance: Array) -> float:
    """Variance between pictures that makes chi squared what it should be; 0 where it is no larger (Paule-Mandel)."""
    target = x.size - 1
    if _chi_squared(x, variance) <= target:
        return 0.0
    low, high = 0.0, float(np.ptp(x) ** 2)
    for _ in range(60):
        middle = (low + high) / 2
        low, high = (middle, high) if _chi_squared(x, variance + middle) > target else (low, middle)
    return high


def _consistency(stack: Stack) -> tuple[float, int, float]:
    """Chi squared of the deciding quantities of all pictures by their own covariances, freedom, probability."""
    rows = [stack.names.index(n) for n in DECIDING]
    inverse = np.linalg.inv(stack.own[np.ix_(range(stack.own.shape[0]), rows, rows)])
    x = stack.values[:, rows]
    mean = np.linalg.solve(inverse.sum(axis=0), np.einsum("kij,kj->i", inverse, x))
    chi_squared = float(np.einsum("ki,kij,kj->", x - mean, inverse, x - mean))
    freedom = (x.shape[0] - 1) * len(rows)
    return chi_squared, freedom, _tail(chi_squared, freedom)


def _tail(chi_squared: float, freedom: int) -> float:
    from scipy.special import gammaincc

    return float(gammaincc(freedom / 2, chi_squared / 2))


def _student(combined: float, laid_anew: float, freedom: int) -> float:
    """By how much U95 = 2 u must be larger when a part of the variance rests on few pictures (JCGM 100:2008, G.4)."""
    from scipy.special import stdtrit

    effective = freedom * (combined / laid_anew) ** 2
    return max(float(stdtrit(effective, 0.975)) / 1.96, 1.0)
