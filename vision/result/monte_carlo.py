"""The uncertainty of a measurement by trials (JCGM 101:2008): every input drawn anew and carried through the whole fit.

The inputs are those of ``vision.fit.budget``: gauges, level of the edge, edge finder and form, noise of the edge points
with its correlation, blur, mirrored light, height of the part, temperature. Each trial moves the edge points as its
draws say, fits the thread again and reads its quantities; nothing is taken as linear.

The inputs that all points share are drawn by Latin hypercube and made exactly uncorrelated with unit variance; the
noise of the points is given exactly the second moments that it has, in the directions that move the parameters. So a
few hundred trials settle a standard uncertainty to some percent instead of ten.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import Any

import numpy as np
import numpy.typing as npt
from scipy.stats import norm, qmc

from vision.fit.budget import (
    BLUR_SHAPE_RELATIVE_U,
    EXPANSION,
    HEIGHT_U_MM,
    LEVEL_U_PX,
    TEMPERATURE_U_K,
    blur_direction,
    edge_groups,
    group_shift,
    height_counts,
    inverse_of,
    residual_autocorrelation,
    scale_direction,
)  # fmt: skip
from vision.fit.marquardt import Prior, fit_shadow
from vision.fit.quantities import LENGTHS, NAMES, UNITS, quantities
from vision.fit.solve import Solution
from vision.model.blurred import contour
from vision.model.grazing import Mirror
from vision.model.shadow import INDEX
from vision.result.limits import LIMITS
from vision.result.measurement import Measurement
from vision.shared.correlation import correlated_noise, correlated_square
from vision.shared.plane import PlaneMap

Array = npt.NDArray[np.float64]

LEAST_TRIALS = 20  # fewer give a standard uncertainty to no better than a sixth
_STEPS = 3  # from a start that the linear model predicts
_DAMPING = 1e-9  # Marquardt: a trial starts next to its goal
_SHARED = ("scale", "offset", "level", "part mirror", "pins mirror", "cone", "opening", "focus", "refocus", "shape",
           "height", "temperature")  # fmt: skip


@dataclass(frozen=True)
class Trials:
    """What the trials gave.

    Attributes:
        values: (trials, len(NAMES)) the quantities of each trial, order of quantities.NAMES, mm and degrees.
        seed: of the random numbers.
    """

    values: Array
    seed: int

    @property
    def mean(self) -> Array:
        """(len(NAMES),) mean of the trials."""
        return np.asarray(self.values.mean(axis=0))

    @property
    def standard_uncertainty(self) -> Array:
        """(len(NAMES),) standard deviation of the trials."""
        return np.asarray(self.values.std(axis=0, ddof=1))

    def interval(self, coverage: float = 0.95) -> tuple[Array, Array]:
        """Ends of the probabilistically symmetric coverage interval (JCGM 101, 7.7), (len(NAMES),) each."""
        tail = (1 - coverage) / 2
        low, high = np.quantile(self.values, [tail, 1 - tail], axis=0)
        return np.asarray(low), np.asarray(high)

    def to_dict(self) -> dict[str, Any]:
        """The block ``monte_carlo`` of ``measure --json``: of every quantity mean, u and 95 % interval."""
        low, high = self.interval()
        rows = zip(NAMES, self.mean, self.standard_uncertainty, low, high, strict=True)
        return {
            "trials": self.values.shape[0],
            "seed": self.seed,
            "quantities": {
                name: {"mean": float(mean), "u": float(u), "low95": float(a), "high95": float(b), "unit": UNITS[name]}
                for name, mean, u, a, b in rows
            },
        }


@dataclass(frozen=True)
class _Setting:
    """What all trials start from."""

    solution: Solution
    plane: PlaneMap
    mirror: Mirror
    free_end_right: bool
    height: Array
    slope: Array
    height_u: float
    pull: Array
    blur_direction: Array


def run_trials(measurement: Measurement, trials: int, *, seed: int = 1) -> Trials:
    """Measure ``trials`` times with inputs drawn from their distributions.

    The same seed gives the same trials. Raises ValueError for less than LEAST_TRIALS.
    """
    if trials < LEAST_TRIALS:
        raise ValueError(f"at least {LEAST_TRIALS} trials are needed")
    solution, plane = measurement.solution, measurement.plane
    seen = solution.seen
    height, slope, _ = contour(solution.fit.x, seen.u, seen.side, seen.centre, starts=seen.starts, gradient=False)
    kernel = residual_autocorrelation(solution)
    setting = _Setting(
        solution=solution,
        plane=plane,
        mirror=measurement.mirror,
        free_end_right=measurement.part.free_end_right,
        height=height,
        slope=slope,
        height_u=HEIGHT_U_MM if height_counts(solution) else 0.0,
        blur_direction=blur_direction(solution),
        pull=inverse_of(solution.fit.normal_matrix) @ (solution.fit.jacobian * solution.fit.weight),
    )
    rng = np.random.default_rng(seed)
    groups = edge_groups(solution)
    shift = group_shift(solution)
    draws = _even_draws(trials, len(_SHARED) + len(groups), rng)
    noise = _matched(np.stack([correlated_noise(seen.side, kernel, rng) for _ in range(trials)]), solution, kernel)
    values = np.empty((trials, len(NAMES)))
    for i, draw in enumerate(draws):
        shared = dict(zip(_SHARED, draw[: len(_SHARED)], strict=True))
        moved = solution.fit.scale * noise[i]
        for group, z in zip(groups, draw[len(_SHARED) :], strict=False):
            moved[group] += z * shift
        prior = Prior(solution.prior.mean.copy(), solution.prior.sigma)
        prior.mean[INDEX["blur"]] += shared["focus"] * prior.sigma[INDEX["blur"]]
        values[i] = _trial(setting, shared, moved, prior)
    if measurement.thread.hand == "left":
        values[:, NAMES.index("axis_tilt")] *= -1
    return Trials(values, seed)


def _even_draws(count: int, inputs: int, rng: np.random.Generator) -> Array:
    """(count, inputs) standard normal draws; with enough of them exactly uncorrelated, mean 0, variance 1."""
    draws = norm.ppf(qmc.LatinHypercube(inputs, rng=rng).random(count))
    if count > 2 * inputs:
        draws -= draws.mean(axis=0)
        root = np.linalg.cholesky(draws.T @ draws / (count - 1))
        draws = np.linalg.solve(root, draws.T).T
    return np.asarray(draws)


def _matched(noise: Array, solution: Solution, kernel: Array) -> Array:
    """``noise`` (trials, n) with mean and covariance as they should be along the parameters' directions."""
    fit = solution.fit
    rows = fit.jacobian * fit.weight
    rows = rows[np.einsum("ij,ij->i", rows, rows) > 0]
    rows = np.linalg.qr(rows.T)[0].T
    if noise.shape[0] <= LIMITS.draws_per_row * rows.shape[0]:
        return noise
    drawn = noise @ rows.T
    wanted = np.linalg.cholesky(correlated_square(rows, solution.seen.side, kernel))
    centred = drawn - drawn.mean(axis=0)
    have = np.linalg.cholesky(centred.T @ centred / (noise.shape[0] - 1))
    return np.asarray(noise + (np.linalg.solve(have, centred.T).T @ wanted.T - drawn) @ rows)


def _trial(setting: _Setting, z: dict[str, float], moved: Array, prior: Prior) -> Array:
    """The quantities of one trial; ``moved`` is how far the points stand outside, mm, before the shared draws."""
    solution, plane, mirror = setting.solution, setting.plane, setting.mirror
    fit, seen = solution.fit, solution.seen
    gauge = np.linalg.cholesky(_relative(plane) + 1e-24 * np.eye(2)) @ np.array([z["scale"], z["offset"]])
    scale = float(gauge[0]) + plane.refocus_u * z["refocus"]
    scale += abs(float(fit.x[INDEX["nearness"]])) * setting.height_u * z["height"]
    light = mirror.surface_u * z["part mirror"] + mirror.cone_u * z["cone"]
    recession = seen.recession + light + mirror.opening_u * z["opening"]
    scale -= mirror.pins_u * z["pins mirror"] + mirror.pins_cone_u * z["cone"] + mirror.pins_opening_u * z["opening"]
    moved = moved - (float(gauge[1]) + LEVEL_U_PX * z["level"]) * seen.px_mm
    grow = 1 + scale
    normal = np.sqrt(1 + setting.slope**2)
    points = replace(
        seen,
        u=(seen.u - setting.slope / normal * moved) * grow,
        w=(seen.w + seen.side / normal * moved) * grow,
        centre=(seen.centre[0] * grow, seen.centre[1] * grow),
        px_mm=seen.px_mm * grow,
        recession=recession,
        mirrored=seen.mirrored + light,
    )
    # near the goal from the start: what the gauges move is many times the scatter that the robust fit believes in
    start = fit.x + scale_direction(solution) * scale - setting.pull @ moved
    again = fit_shadow(start, points, prior, sigma=solution.noise, steps=_STEPS, damping=_DAMPING)
    blur = solution.edge_blur
    shape = float(np.hypot(BLUR_SHAPE_RELATIVE_U * blur, fit.x[INDEX["blur"]] - blur)) * z["shape"]
    x = again.x + setting.blur_direction * shape
    x = fit_shadow(x, points, prior, sigma=solution.noise, steps=1, fixed=("blur",), damping=_DAMPING).x
    middle = (solution.start + solution.end) / 2
    values = quantities(x, middle * grow, setting.free_end_right, seen.starts)
    warm = 1 + EXPANSION * TEMPERATURE_U_K * z["temperature"]
    return np.asarray(values * np.where(np.isin(NAMES, LENGTHS), warm, 1.0))


def _relative(plane: PlaneMap) -> Array:
    """Covariance of (relative scale, edge offset in px)."""
    per = np.diag([1 / plane.um_per_px, 1.0])
    return np.asarray(per @ plane.covariance @ per)
