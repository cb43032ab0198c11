"""From the numbered points of a stage micrometer or a grid to lengths in the picture and to the lens."""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

import numpy as np
import numpy.typing as npt

from calib.lens import NO_LENS, distort, leaning_lens, radial_lens, undistort
from vision.gauges.grid import GridReading
from vision.gauges.rulings import RulingsReading
from vision.shared.robust import MAD_TO_SIGMA, RAYLEIGH_TO_SIGMA

Array = npt.NDArray[np.float64]

FINDER_U_PX = 0.005
"""What the finders of rulings and grid points may be off by, common to one end of a gauge: seen on drawn ones."""

_OUTLIER = 6.0  # points farther off than this many robust standard deviations do not count
_LEAST_SPREAD_PX = 0.003
_LEAST_CORNER_PX = 0.3  # a term of the lens that moves no corner by more is left out


@dataclass(frozen=True)
class FlatFit:
    """A flat gauge measured in the picture, the lens taken out.

    Attributes:
        step_px: distance of neighbouring divisions or grid points, px, in the middle of the picture.
        relative_u: standard uncertainty of it, as a part of it, the gauge's own not included.
        steps: how many steps lie between the outermost points used, along the longer side.
        scatter_px: root mean square distance of the points from where they should be.
        points: how many were used.
        k1, k1_u: radial distortion of ``calib.lens`` and its standard uncertainty; u is infinite if not determined.
        lens: the model that this gauge alone asks for.
        tilt_deg: by how much the gauge leans toward the camera, from its foreshortening; 0.0 where nothing is seen.
    """

    step_px: float
    relative_u: float
    steps: int
    scatter_px: float
    points: int
    k1: float
    k1_u: float
    lens: Mapping[str, Any]
    tilt_deg: float = 0.0


def fit_rulings(reading: RulingsReading, lens: Mapping[str, Any] | None = None) -> FlatFit:
    """Equidistant parallel lines through the points of ``reading``; with ``lens`` None, k1 of a radial one is fitted.

    Number = n . U(point) / step + first, U being ``undistort``: linear in n / step and first, k1 by Gauss-Newton steps.
    Scatter counts by ruling, not by point, because what is wrong with a ruling is wrong all along it.
    """
    middle, radius = _frame(reading.width_px, reading.height_px)
    number = reading.line.astype(np.float64)
    given = NO_LENS if lens is None else lens
    k1, k1_u = 0.0, math.inf
    weight = np.ones(number.size)
    for _ in range(12):
        if lens is None:
            given = radial_lens(k1, reading.width_px, reading.height_px)
        d = (undistort(reading.points, given) - middle) / radius
        columns = [np.ones(number.size), d[:, 0], d[:, 1]]
        if lens is None:
            across = (d @ np.asarray(_direction(reading))) * np.sum(d**2, axis=1)
            columns.append(-across * radius / reading.spacing_px)
        design = np.stack(columns, axis=1)
        found, *_ = np.linalg.lstsq(design * weight[:, None], number * weight, rcond=None)
        step = radius / float(np.hypot(found[1], found[2]))
        miss = (number - design @ found) * step
        weight = _trust(miss)
        if lens is None:
            k1 = float(np.clip(k1 + found[3], -0.15, 0.5))
    on = weight > 0
    lines, which = np.unique(reading.line[on], return_inverse=True)
    count = np.bincount(which)
    mean = np.bincount(which, weights=miss[on]) / count
    slope = float(np.hypot(found[1], found[2]))
    columns = [np.ones(on.sum()), design[on, 1:3] @ found[1:3] / slope, *design[on, 3:].T]
    each = np.stack([np.bincount(which, weights=column) / count for column in columns], axis=1)
    spread = max(float(np.sqrt(np.sum(mean**2) / max(lines.size - each.shape[1], 1))), _LEAST_SPREAD_PX)
    inverse = np.linalg.pinv(each.T @ each) * (spread / step) ** 2
    steps = int(lines[-1] - lines[0])
    u_step = math.sqrt(max(float(inverse[1, 1]), 0.0)) / slope
    if lens is None:
        k1_u = math.sqrt(max(float(inverse[2, 2]), 0.0))
    return FlatFit(
        step_px=step,
        relative_u=math.hypot(u_step, math.sqrt(2) * FINDER_U_PX / (steps * step)),
        steps=steps,
        scatter_px=float(np.sqrt(np.mean(miss[on] ** 2))),
        points=int(on.sum()),
        k1=k1,
        k1_u=k1_u,
        lens=given,
    )


def fit_grid(reading: GridReading, lens: Mapping[str, Any] | None = None) -> FlatFit:
    """A square grid, turned, shifted and foreshortened, seen through a lens; with ``lens`` None that is fitted too.

    Of the lens those terms are kept that are beyond doubt (five standard uncertainties) and move a corner of the
    picture by 0.3 px: k1, k2 and the keystone of a grid that leans before a near camera.
    """
    if lens is not None:
        return _grid_at(reading, lens)
    full = _fit_grid(reading, ("k1", "k2", "keystone"))
    terms = tuple(t for t in ("k1", "k2", "keystone") if _matters(full, t, reading))
    if "k2" in terms:
        terms = ("k1", *(t for t in terms if t != "k1"))
    values = _fit_grid(reading, terms)[0] if terms else np.zeros(4)
    k1_only = _fit_grid(reading, ("k1",))
    k1, k2, a, b = (float(v) for v in values)
    size = (reading.width_px, reading.height_px)
    if k2 or a or b:
        found: Mapping[str, Any] = leaning_lens(k1, k2, (a, b), *size)
    else:
        found = radial_lens(k1, *size) if k1 else NO_LENS
    return _grid_at(reading, found, (float(k1_only[0][0]), float(k1_only[1][0])))


def _matters(full: tuple[Array, Array], term: str, reading: GridReading) -> bool:
    """Whether a term is beyond doubt and large enough, judged in the fit that has all of them."""
    values, u = full
    _, radius = _frame(reading.width_px, reading.height_px)
    at = {"k1": [0], "k2": [1], "keystone": [2, 3]}[term]
    size, doubt = float(np.hypot.reduce(values[at])), float(np.hypot.reduce(u[at]))
    if term == "k1":  # k1 and k2 stand in for each other
        values, u = _fit_grid(reading, ("k1", "keystone"))
        size, doubt = abs(float(values[0])), float(u[0])
    return size > 5 * doubt and size * radius > _LEAST_CORNER_PX


def _fit_grid(reading: GridReading, terms: tuple[str, ...]) -> tuple[Array, Array]:
    """The lens terms (k1, k2, a, b) and their standard uncertainties; those not in ``terms`` are 0."""
    x, covariance, _, _ = _grid_solution(reading, None, terms)
    values, u = np.zeros(4), np.zeros(4)
    at = _places(terms)
    values[at], u[at] = x[6:], np.sqrt(np.maximum(np.diag(covariance)[6:], 0))
    return values, u


def _places(terms: tuple[str, ...]) -> list[int]:
    return [*([0] if "k1" in terms else []), *([1] if "k2" in terms else []), *([2, 3] if "keystone" in terms else [])]


def _grid_solution(
    reading: GridReading, lens: Mapping[str, Any] | None, terms: tuple[str, ...]
) -> tuple[Array, Array, Array, npt.NDArray[np.bool_]]:
    """Least squares of the points as seen: solution, covariance, (n, 2) misses in px, and which points count.

    The solution is the affine map of the grid (two columns of 2 and the place of the middle, in px) and the lens terms.
    """
    from scipy.optimize import least_squares

    middle, _ = _frame(reading.width_px, reading.height_px)
    index = reading.index - np.round(reading.index.mean(axis=0))
    at = _places(terms)
    size = (reading.width_px, reading.height_px)

    def shown(x: Array) -> Array:
        plane = middle + index @ x[:4].reshape(2, 2) + x[4:6]
        if lens is not None:
            return distort(plane, lens)
        values = np.zeros(4)
        values[at] = x[6:]
        return distort(plane, leaning_lens(values[0], values[1], (values[2], values[3]), *size))

    design = np.column_stack([index, np.ones(len(index))])
    start, *_ = np.linalg.lstsq(design, reading.points - middle, rcond=None)
    x0 = np.concatenate([start[:2].ravel(), start[2], np.zeros(len(at))])
    unit = np.concatenate([np.full(4, 1e-2), np.full(2, 1.0), np.full(len(at), 1e-3)])
    weight = np.ones(len(index))
    for _ in range(4):

        def miss(z: Array, weight: Array = weight) -> Array:
            return np.asarray(((shown(x0 + unit * z) - reading.points) * weight[:, None]).ravel())

        solved = least_squares(miss, np.zeros(x0.size), method="lm")
        left = shown(x0 + unit * solved.x) - reading.points
        weight = _trust(np.hypot(left[:, 0], left[:, 1]) / math.sqrt(2), signed=False)
    on = weight > 0
    freedom = max(2 * int(on.sum()) - x0.size, 1)
    variance = max(float(np.sum(left[on] ** 2)) / freedom, _LEAST_SPREAD_PX**2)
    covariance = np.linalg.pinv(solved.jac.T @ solved.jac) * variance * np.outer(unit, unit)
    return x0 + unit * solved.x, covariance, left, on


def _grid_at(reading: GridReading, lens: Mapping[str, Any], k1: tuple[float, float] = (0.0, math.inf)) -> FlatFit:
    """The grid through a lens that is settled."""
    x, covariance, left, on = _grid_solution(reading, lens, ())
    matrix = x[:4].reshape(2, 2)
    along, across = np.linalg.svd(matrix, compute_uv=False)
    # a leaning grid looks shorter in one direction only: round parts are as long as the direction that is not
    mean, aspect = math.sqrt(float(along * across)), float(along / across) - 1
    u_matrix = math.sqrt(float(np.trace(covariance[:4, :4])) / 2) / mean
    lean = aspect > 5 * 2 * u_matrix
    steps = int(np.ptp(reading.index[on], axis=0).max())
    return FlatFit(
        step_px=mean,
        # half of the difference of the two directions is an error that cannot be told from a tilt
        relative_u=math.hypot(u_matrix, aspect / 2 / math.sqrt(3), math.sqrt(2) * FINDER_U_PX / (steps * mean)),
        steps=steps,
        scatter_px=float(np.sqrt(np.mean(np.sum(left[on] ** 2, axis=1)) / 2)),
        points=int(on.sum()),
        k1=k1[0],
        k1_u=k1[1],
        lens=lens,
        tilt_deg=math.degrees(math.acos(1 / (1 + aspect))) if lean else 0.0,
    )


def _frame(width_px: int, height_px: int) -> tuple[Array, float]:
    return np.array([(width_px - 1) / 2, (height_px - 1) / 2]), math.hypot(width_px, height_px) / 2


def _direction(reading: RulingsReading) -> tuple[float, float]:
    angle = math.radians(reading.angle_deg)
    return math.cos(angle), math.sin(angle)


def _trust(miss: Array, *, signed: bool = True) -> Array:
    """1 for points that fit, 0 for outliers, from the middle of their distances."""
    typical = float(np.median(np.abs(miss))) * (MAD_TO_SIGMA if signed else math.sqrt(2) * RAYLEIGH_TO_SIGMA)
    return np.where(np.abs(miss) < _OUTLIER * max(typical, _LEAST_SPREAD_PX), 1.0, 0.0)
