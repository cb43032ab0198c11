"""The one robust estimator: scale by the median absolute deviation, linear fits by reweighted least squares.

Two losses, each for its purpose. ``BIWEIGHT`` (Tukey) is for a fit that starts near its goal: what lies beyond the cut
is dust, a hair or a burr and counts nothing. ``GEMAN_MCCLURE`` is for a fit that starts far from it: every point keeps
a little weight, so that a first line that misses most of the points can still reach them.
Sources: Huber and Ronchetti, Robust Statistics, 2nd edition 2009, chapters 4 to 7; Beaton and Tukey, Technometrics 16,
147-185, 1974; Geman and McClure, Proc. Statistical Computing Section ASA, 12-18, 1985.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from typing import Any

import numpy as np
import numpy.typing as npt

Array = npt.NDArray[np.float64]
Floats = npt.NDArray[np.floating[Any]]
Bool = npt.NDArray[np.bool_]

MAD_TO_SIGMA = 1.4826
"""1 / N^-1(3/4): standard deviation of a normal distribution from its median absolute deviation."""
MEDIAN_U = 1.2533
"""sqrt(pi / 2): standard uncertainty of a median, in those of the mean of as many normal values."""
RAYLEIGH_TO_SIGMA = 0.8493
"""1 / sqrt(2 ln 2): standard deviation of either coordinate from the median distance of points in a plane."""
OUTLIER = 5.0
"""Points farther off than so many scales are outliers. Of a million normal residuals not one lies so far."""


@dataclass(frozen=True)
class Loss:
    """How residuals count.

    Attributes:
        weight: weights (n,) from residuals (n,) in units of the cut.
        cut: in scales.
    """

    weight: Callable[[Array], Array]
    cut: float

    def weights(self, residual: Array, scale: float) -> Array:
        """Weights (n,) of the squared residuals."""
        return self.weight(residual / (self.cut * scale))


def _biweight(z: Array) -> Array:
    return np.asarray(np.square(1 - np.square(np.clip(np.abs(z), 0, 1))))


def _geman_mcclure(z: Array) -> Array:
    return np.asarray(1 / np.square(1 + np.square(z)))


BIWEIGHT = Loss(_biweight, OUTLIER)
GEMAN_MCCLURE = Loss(_geman_mcclure, 2.0)


def biweight_cost(residual: Array, scale: float) -> float:
    """Sum of Tukey's loss: half the sum of squares in units of ``scale`` where all are small, bounded where not."""
    z = np.clip(np.abs(residual) / (OUTLIER * scale), 0, 1)
    return float(np.sum(OUTLIER**2 / 6 * (1 - (1 - z**2) ** 3)))


def median(values: Floats) -> float:
    """The middle one of the finite ``values``, of any shape, as numpy's own does, which takes three times as long."""
    flat = values.ravel()
    middle = flat.size // 2
    if flat.size % 2:
        return float(np.partition(flat, middle)[middle])
    if not flat.size:
        return float("nan")
    below = np.partition(flat, (middle - 1, middle))
    return (float(below[middle - 1]) + float(below[middle])) / 2


def robust_scale(residual: Floats, least: float = 0.0) -> float:
    """Standard deviation of ``residual`` about 0 from the middle of their sizes; at least ``least``."""
    return max(MAD_TO_SIGMA * median(np.abs(residual)), least)


def inliers(residual: Floats, cut: float, least: float = 0.0) -> Bool:
    """Which residuals lie within ``cut`` scales of 0, or within ``least``."""
    return np.asarray(np.abs(residual) < max(cut * robust_scale(residual), least))


@dataclass(frozen=True)
class LinearFit:
    """A line, a parabola or whatever else is linear in its coefficients.

    Attributes:
        coefficients: (k,).
        residual: (n,) what is left.
        weight: (n,) 0 to 1, of the squared residuals.
        scale: robust standard deviation of the residuals.
    """

    coefficients: Array
    residual: Array
    weight: Array
    scale: float

    @property
    def used(self) -> Bool:
        """Points that count at all."""
        return np.asarray(self.weight > 0)


def fit_linear(
    design: Array, target: Array, *, least: float, loss: Loss = BIWEIGHT, steps: int = 8, settled: float = 0.0
) -> LinearFit:
    """Fit ``design`` (n, k) to ``target`` (n,).

    Not to be believed where more than about half of the points belong to something else.

    Args:
        design: columns, best of similar size and centred.
        target: what they shall give.
        least: scale that is not undercut, in units of ``target``: noise-free points would else leave all but k of
            them out.
        loss: how residuals count.
        steps: most iterations.
        settled: a step that moves no coefficient by more is the last one.
    """
    size = np.sqrt(np.maximum(np.sum(design**2, axis=0), 1e-30))
    columns = design / size
    ridge = 1e-12 * np.eye(size.size)  # what the points leave open stays where it is
    coefficients = np.zeros(size.size)
    residual = target
    weight = np.ones(target.size)
    scale = least
    for _ in range(steps):
        weighted = columns * weight[:, None]
        step = np.linalg.solve(weighted.T @ columns + ridge, weighted.T @ residual) / size
        coefficients = coefficients + step
        residual = target - design @ coefficients
        scale = robust_scale(residual, least)
        weight = loss.weights(residual, scale)
        if float(np.abs(step).max()) <= settled:
            break
    return LinearFit(coefficients, residual, weight, scale)
