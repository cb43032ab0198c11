"""Corner radii at or near a bound: a corner cannot be sharper than sharp nor rounder than a full arc.

A fit that would go beyond is held there, so that the radius, and what hangs together with it, scatters to one side
only. Along the direction in which the bound acts the scatter of min(z, -beta) for a standard normal z takes the place
of that of z, beta being how far beyond the bound the free fit would lie in units of its scatter, negative where the
fit stands short of the bound (derived here).
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from threads.shared.normal import ndtr
from vision.fit.solve import Solution
from vision.model.shadow import COUNT, INDEX, LEAST_CORNER, full_radii

Array = npt.NDArray[np.float64]


@dataclass(frozen=True)
class CornerBound:
    """One bound of a corner radius.

    Attributes:
        direction: (COUNT,) gradient of the constraint: growing means toward and beyond the bound.
        beyond: how far beyond it the free fit would lie, mm; negative where the fit stands short of it.
    """

    direction: Array
    beyond: float


def corner_bounds(solution: Solution, inverse: Array) -> tuple[CornerBound, ...]:
    """Both bounds of both corners; ``inverse`` (COUNT, COUNT) of the fit's normal matrix."""
    fit, prior = solution.fit, solution.prior
    precision = np.where(np.isfinite(prior.sigma), 1 / prior.sigma**2, 0.0)
    slope = (fit.jacobian * fit.weight) @ fit.residual + precision * (fit.x - prior.mean) * fit.scale**2
    step = -inverse @ slope
    found = []
    for i, name in enumerate(("crest_corner", "root_corner")):
        j = INDEX[name]
        sharp = np.zeros(COUNT)
        sharp[j] = -1.0
        for direction, short in (
            (sharp, float(fit.x[j]) - LEAST_CORNER),
            (-sharp - _gradient_of_full(fit.x, i), full_radii(fit.x)[i] - float(fit.x[j])),
        ):
            free = max(float(direction @ step), 0.0) if short <= 1e-9 else -short
            found.append(CornerBound(direction, free))
    return tuple(found)


def _gradient_of_full(x: Array, which: int) -> Array:
    """(COUNT,) derivatives of a full arc's radius: central differences of a smooth function."""
    out = np.zeros(COUNT)
    for name in ("pitch", "crest", "pitch_radius", "root", "flank_right", "flank_left"):
        up, down = x.copy(), x.copy()
        up[INDEX[name]] += 1e-6
        down[INDEX[name]] -= 1e-6
        out[INDEX[name]] = (full_radii(up)[which] - full_radii(down)[which]) / 2e-6
    return out


def shortened(sensitivity: Array, inverse: Array, bound: CornerBound, scatter: float) -> Array:
    """``sensitivity`` (m, COUNT) with what the bound takes off along its direction.

    ``scatter`` is the standard uncertainty that the constraint would have without the bound, mm.
    """
    a = bound.direction
    along = inverse @ a / float(a @ inverse @ a)
    kept = spread_below(bound.beyond / scatter) if scatter > 0 else 1.0
    return np.asarray(sensitivity - (1 - kept) * np.outer(sensitivity @ along, a))


def spread_below(beta: float) -> float:
    """Standard deviation of min(z, -beta) for a standard normal z; 0.584 for beta = 0, 1 for beta far below 0."""
    c = -beta
    density = np.exp(-0.5 * c * c) / np.sqrt(2 * np.pi)
    mean = -density + c * ndtr(-c)
    square = ndtr(c) - c * density + c * c * ndtr(-c)
    return float(np.sqrt(max(square - mean**2, 0.0)))
