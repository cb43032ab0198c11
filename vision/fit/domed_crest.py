"""Crests worn to a dome along the whole thread: where their middle stands, and the thread fitted to what lies below.

The model knows flat crests with corners and full round ones. A dome between two corners is neither: taken for a large
corner radius it leans the flanks by degrees and moves the pitch diameter by pixels. Its points are left out, and the
crest is held where the middle of the dome stands.
"""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import numpy.typing as npt

from vision.fit.limits import LIMITS
from vision.fit.marquardt import Prior
from vision.fit.ridge_coordinates import FIXED_U_PX, refitted, ridge_coordinates
from vision.fit.solve import Solution
from vision.model.blurred import contour
from vision.model.shadow import INDEX, LEAST_CORNER
from vision.shared.robust import fit_linear

Array = npt.NDArray[np.float64]
Bool = npt.NDArray[np.bool_]

_LEAST_FALL_PX = 0.5
"""How much lower than its middle a crest's corners must lie: with less the flanks are right to 0.1 degrees."""
_BLURRED = 2.0  # so many blurs below the corners the outline is that of the flanks to a hundredth of a px
_STRAIGHT = 0.25  # of the depth of the thread that must be left of the flanks
_LEAST_POINTS = 20  # of all crests through which the parabola goes
_LEAST_SCALE_MM = 1e-9  # only so that points without noise divide by no zero
_NEVER_PX = 0.05  # the standard uncertainty of a corner radius that is held


def without_domes(solution: Solution) -> tuple[Solution, Bool] | None:
    """The thread fitted to what is below its domed crests, and which points that left out.

    None where the crests are no domes, or too little of the flanks is left below them.
    """
    dome = _dome(solution)
    if dome is None:
        return None
    top, fall = dome
    x, seen = solution.fit.x, solution.seen
    root, crest = x[INDEX["root"]], x[INDEX["crest"]]
    limit = top - fall - _BLURRED * x[INDEX["blur"]]
    if fall < _LEAST_FALL_PX * seen.px_mm or limit - root < _STRAIGHT * (crest - root) + _BLURRED * x[INDEX["blur"]]:
        return None
    keep = ridge_coordinates(x, seen).height < (limit - root) / (crest - root)
    mean, sigma = solution.prior.mean.copy(), solution.prior.sigma.copy()
    for name, value, u in (("crest", top, FIXED_U_PX), ("crest_corner", LEAST_CORNER, _NEVER_PX)):
        mean[INDEX[name]], sigma[INDEX[name]] = value, u * seen.px_mm
    start = x.copy()
    start[INDEX["crest"]], start[INDEX["crest_corner"]] = top, LEAST_CORNER
    found = refitted(replace(solution, prior=Prior(mean, sigma)), keep, start)
    return None if found is None else (found, ~keep)


def _dome(solution: Solution) -> tuple[float, float] | None:
    """How high the middle of the crests stands and how much lower their corners lie, mm: a parabola over all ridges."""
    x, seen = solution.fit.x, solution.seen
    pitch, middle = x[INDEX["pitch"]], x[INDEX["pitch_radius"]]
    run = float(np.tan(x[INDEX["flank_right"]]) + np.tan(x[INDEX["flank_left"]]))
    at = ridge_coordinates(x, seen)
    height = x[INDEX["root"]] + at.height * (x[INDEX["crest"]] - x[INDEX["root"]])
    half = (pitch / 2 - (x[INDEX["crest"]] - middle) * run) / 2
    low, high = LIMITS.crest_above
    inner = (np.abs(at.along) < half - _BLURRED * x[INDEX["blur"]]) & (at.height > low) & (at.height < high)
    if half <= 0 or inner.sum() < _LEAST_POINTS:
        return None
    place = at.along[inner] / half
    design = np.stack([np.ones(place.size), -(place**2)], axis=1)
    top, bow = (float(c) for c in fit_linear(design, height[inner], least=_LEAST_SCALE_MM, steps=10).coefficients)
    top /= _shown_larger(solution, half)
    # the corners are where the parabola meets the flanks: half their distance c = straight + bent c^2
    straight, bent = (pitch / 2 - (top - middle) * run) / 2, bow * run / (2 * half**2)
    if straight <= 0 or 4 * straight * bent >= 1:
        return None
    corner = 2 * straight / (1 + np.sqrt(1 - 4 * straight * bent))
    # a blurred edge stands back from a curved one by half the curvature times the variance of the blur
    top += bow * (x[INDEX["blur"]] / half) ** 2
    return top, float(bow * (corner / half) ** 2)


def _shown_larger(solution: Solution, half: float) -> float:
    """By what factor a near camera shows crests, flat for ``half`` to each side, farther out than they are."""
    x, seen = solution.fit.x.copy(), solution.seen
    x[INDEX["crest_corner"]] = LEAST_CORNER
    at = ridge_coordinates(x, seen)
    middle = np.abs(at.along) < half / 4
    u, side = seen.u[middle], seen.side[middle]
    height, _, _ = contour(x, u, side, seen.centre, starts=seen.starts, gradient=False)
    nearer = x[INDEX["nearness"]] * x[INDEX["tilt"]] * (u - seen.centre[0])
    return float(np.median(height / (x[INDEX["crest"]] + x[INDEX["taper"]] * u) + nearer))
