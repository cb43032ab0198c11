"""The fit of the shadow model to the edge points of both sides at once.

Residuals are taken along the normal of the contour. Marquardt's method with analytic derivatives; Tukey's biweight
keeps dust, hair and burrs out. Parameters that a picture may leave undetermined (corner radii, closeness of the
camera, blur) carry wide stated priors, so that the covariance is always that of a posterior.
"""

from __future__ import annotations

from dataclasses import dataclass, replace

import numpy as np
import numpy.typing as npt

from vision.fit.limits import LIMITS
from vision.model.blurred import FINE, contour
from vision.model.grazing import Patch, out_of_focus
from vision.model.shadow import COUNT, INDEX, LEAST_CORNER, full_radii
from vision.shared.robust import BIWEIGHT, biweight_cost, robust_scale

Array = npt.NDArray[np.float64]
Bool = npt.NDArray[np.bool_]

ENOUGH = 1.0
"""A step whose predicted decrease is less than this (half chi squared, of thousands of points) is the last."""
_COST_NOISE, _COST_NOISE_PER_POINT = 4.0, 2e-3
"""So little (half chi squared, and what each point adds) may be the grid of the contour instead of a worse fit."""
_LEAST_BLUR = 0.3
"""The fitted blur is at least this part of the one measured on the flanks."""


@dataclass(frozen=True)
class Observed:
    """Edge points in the part's frame, mm.

    Attributes:
        u, w: (n,) along and across.
        side: (n,) +1 upper, -1 lower edge.
        centre: (u, w) of the optical axis.
        px_mm: size of a pixel.
        starts: starts of the thread.
        recession: by how much round edges stand back, in parts of the radius (see vision/model/grazing.py).
        mirrored, patch: the share of the light in it, and where that comes from.
        opening: numerical aperture of the lens, if stated.
    """

    u: Array
    w: Array
    side: Array
    centre: tuple[float, float]
    px_mm: float
    starts: int = 1
    recession: float = 0.0
    mirrored: float = 0.0
    patch: Patch | None = None
    opening: float = 0.0

    def select(self, keep: Bool | npt.NDArray[np.intp]) -> Observed:
        """The points that ``keep`` picks."""
        return replace(self, u=self.u[keep], w=self.w[keep], side=self.side[keep])


_WIDEST_DISC = 1.5
"""Radius of the disc that the lens makes of flanks, in units of their blur: from here on it hides the rest."""


@dataclass(frozen=True)
class Prior:
    """Independent normal priors: ``mean`` and ``sigma`` (COUNT,), infinite sigma where there is none."""

    mean: Array
    sigma: Array


@dataclass(frozen=True)
class ShadowFit:
    """The fitted parameters.

    Attributes:
        x: (COUNT,) parameters, order of shadow.NAMES, mm and radians.
        normal_matrix: (COUNT, COUNT) J^T W J + prior, per unit residual variance of the data part.
        data_matrix: (COUNT, COUNT) J^T W J alone.
        jacobian: (COUNT, n) derivative of the residual along the normal.
        residual: (n,) mm along the normal, positive where the picture's edge lies outside the model's.
        weight: (n,) robust weight 0..1.
        scale: robust standard deviation of the residuals, mm.
    """

    x: Array
    normal_matrix: Array
    data_matrix: Array
    jacobian: Array
    residual: Array
    weight: Array
    scale: float


def residuals(x: Array, seen: Observed, *, gradient: bool = True, step: float = FINE) -> tuple[Array, Array | None]:
    """Distance of the edge points from the model's contour along its normal (n,), and its derivatives (COUNT, n).

    ``step`` is the grid step of ``blurred.contour``.
    """
    near, tilt = x[INDEX["nearness"]], x[INDEX["tilt"]]
    along, w = _turn(x, seen)
    # the camera is near: what stands nearer along a tilted axis is seen larger, in both directions, away from the
    # optical axis; there the axis of the part is as high as the gauges
    from_centre = (along - seen.centre[0]) / (1 + near * tilt * (along - seen.centre[0]))
    z = seen.centre[0] + from_centre
    height, slope, jac = contour(x, z, seen.side, seen.centre, starts=seen.starts, gradient=gradient, step=step)
    high = height + seen.side * (x[INDEX["offset"]] - seen.centre[1])
    normal = 1 / np.sqrt(1 + slope**2)
    r = (seen.side * w - height - near * tilt * from_centre * high) * normal
    if seen.recession or seen.opening:
        # its derivatives, a thousandth of the others, are left out
        stands_back = seen.recession + seen.mirrored * (own_light(x, seen, from_centre, height, slope) - 1)
        if seen.opening:
            stands_back = stands_back + seen.opening**2 / 8 * (1 - _growth(x, seen, slope))
        r += stands_back * height / normal
    if not gradient or jac is None:
        return r, None
    jac = -jac
    jac[INDEX["tilt"]] += near * from_centre * (slope * from_centre - high)
    jac[INDEX["nearness"]] += tilt * from_centre * (slope * from_centre - high)
    jac[INDEX["offset"]] = -seen.side
    jac[INDEX["rotation"]] = -seen.side * along - slope * w
    return r, jac * normal


def own_light(x: Array, seen: Observed, from_centre: Array, height: Array, slope: Array) -> Array | float:
    """(n,) the light that each edge mirrors over that of one in the middle of the view; 1 where no patch was stated.

    Args:
        x: (COUNT,) parameters.
        seen: the edge points.
        from_centre: (n,) their places along the axis, from the optical axis, mm.
        height: (n,) of the contour there.
        slope: (n,) of the contour.
    """
    if seen.patch is None:
        return 1.0
    long = np.sqrt(1 + slope**2)
    across = seen.side * height + x[INDEX["offset"]] - seen.centre[1]
    return seen.patch.shares(from_centre, across, -slope / long, seen.side / long)


def _growth(x: Array, seen: Observed, slope: Array) -> Array:
    """(n,) what is left of the growth by the lens at edges of this slope, which lie before or behind the axis."""
    lead = seen.starts * x[INDEX["pitch"]] / (2 * np.pi)
    flank = lead / np.tan((x[INDEX["flank_right"]] + x[INDEX["flank_left"]]) / 2)
    blur = float(x[INDEX["blur"]])  # of the flanks, with what the lens adds there
    disc = min(seen.opening * flank / blur, _WIDEST_DISC)
    sharp = blur * np.sqrt(1 - disc**2 * (0.25 + 0.034 * disc**2))  # by the steepness of the blurred edge, to 1 %
    return out_of_focus(seen.opening, lead * slope, sharp)


def in_section(x: Array, seen: Observed) -> tuple[Array, Array]:
    """Places along the axis (n,) and heights above it (n,), mm, at which ``contour`` would pass through the points."""
    near, tilt = x[INDEX["nearness"]], x[INDEX["tilt"]]
    along, w = _turn(x, seen)
    from_centre = (along - seen.centre[0]) / (1 + near * tilt * (along - seen.centre[0]))
    high = seen.side * (w + x[INDEX["offset"]] - seen.centre[1])
    return seen.centre[0] + from_centre, seen.side * w * (1 + seen.recession) - near * tilt * from_centre * high


def _both(x: Array, seen: Observed, step: float) -> tuple[Array, Array]:
    r, jac = residuals(x, seen, step=step)
    if jac is None:  # cannot be: derivatives were asked for
        raise ValueError("no derivatives")
    return r, jac


def _turn(x: Array, seen: Observed) -> tuple[Array, Array]:
    angle = x[INDEX["rotation"]]
    c, s = np.cos(angle), np.sin(angle)
    w0 = seen.w - x[INDEX["offset"]]
    return c * seen.u + s * w0, c * w0 - s * seen.u


def _bounded(x: Array, least_blur: float) -> Array:
    x = x.copy()
    x[INDEX["blur"]] = max(x[INDEX["blur"]], least_blur)
    crest, root = full_radii(x)
    i, j = INDEX["crest_corner"], INDEX["root_corner"]
    x[i] = max(min(x[i], crest), LEAST_CORNER)
    x[j] = max(min(x[j], root), LEAST_CORNER)
    for name in ("flank_right", "flank_left"):
        x[INDEX[name]] = min(max(x[INDEX[name]], np.radians(12)), np.radians(50))
    return x


def fit_shadow(
    start: Array,
    seen: Observed,
    prior: Prior,
    *,
    sigma: float,
    steps: int = 30,
    fixed: tuple[str, ...] = (),
    grid: float = FINE,
    damping: float = 1e-3,
    enough: float = ENOUGH,
) -> ShadowFit:
    """Fit the model.

    Args:
        start: (COUNT,) first parameters.
        seen: the edge points.
        prior: priors of the parameters.
        sigma: standard deviation that edge points are expected to have at least, mm.
        steps: most iterations.
        fixed: names of parameters held at ``start``.
        grid: grid step of the contour in units of the blur.
        damping: Marquardt's, to begin with; small where the start is near the goal.
        enough: a step whose predicted decrease is less (half chi squared, of thousands of points) is the last.
    """
    least_blur = _LEAST_BLUR * prior.mean[INDEX["blur"]]
    x = _bounded(start, least_blur)
    free = np.ones(COUNT, dtype=bool)
    free[[INDEX[n] for n in fixed]] = False
    precision = np.where(np.isfinite(prior.sigma), 1 / prior.sigma**2, 0.0)
    r, jac = _both(x, seen, grid)
    scale = robust_scale(r, sigma)
    weight = BIWEIGHT.weights(r, scale)
    cost_noise = _COST_NOISE + _COST_NOISE_PER_POINT * seen.u.size
    for _ in range(steps):
        jw = jac * weight
        data = jw @ jac.T / scale**2
        normal = data + np.diag(precision)
        slope = jw @ r / scale**2 + precision * (x - prior.mean)
        cost = biweight_cost(r, scale) + 0.5 * float(precision @ (x - prior.mean) ** 2)
        improved = False
        predicted_decrease = 0.0
        for _ in range(6):
            step = _inside(x, normal, slope, damping, free)
            predicted_decrease = float(slope @ step) / 2
            trial = _bounded(x - step, least_blur)
            if predicted_decrease < enough:
                # so short that its residuals follow from the derivatives: another contour would show its grid alone
                near = r + (trial - x) @ jac
                if abs(robust_scale(near, sigma) / scale - 1) < LIMITS.settled_scale:
                    return _ended(trial, near, jac, sigma, precision)
            r_new, jac_new = _both(trial, seen, grid)
            new_cost = biweight_cost(r_new, scale) + 0.5 * float(precision @ (trial - prior.mean) ** 2)
            # near the minimum the cost varies with where the grid of the contour falls on a sharp corner; the
            # derivatives, summed over many corners, do not
            if new_cost < cost or (predicted_decrease < cost_noise and new_cost < cost + cost_noise):
                improved = True
                break
            damping = max(damping * 8, 1e-6)
        if not improved:
            break
        x, r, jac = trial, r_new, jac_new
        damping = max(damping / 6, 1e-9)
        done = predicted_decrease < enough or (predicted_decrease < _COST_NOISE and new_cost > cost)
        new_scale = robust_scale(r, sigma)
        done = done and abs(new_scale / scale - 1) < LIMITS.settled_scale
        scale = new_scale
        weight = BIWEIGHT.weights(r, scale)
        if done:
            break
    return _ended(x, r, jac, sigma, precision)


def _ended(x: Array, r: Array, jac: Array, sigma: float, precision: Array) -> ShadowFit:
    """The fit that ended at ``x`` with these residuals and derivatives."""
    scale = robust_scale(r, sigma)
    weight = BIWEIGHT.weights(r, scale)
    data = (jac * weight) @ jac.T
    return ShadowFit(x, data + np.diag(precision) * scale**2, data, jac, r, weight, scale)


def _inside(x: Array, normal: Array, slope: Array, damping: float, free: Bool) -> Array:
    """The step to subtract, with corner radii that stand at a bound and would leave it held there.

    Cutting such a step off instead would leave the other parameters with a share that belongs to the radius.
    """
    step = _solve(normal, slope, damping, free)
    held = free.copy()
    for name, most in zip(("crest_corner", "root_corner"), full_radii(x), strict=True):
        i = INDEX[name]
        if (x[i] <= LEAST_CORNER and step[i] > 0) or (x[i] >= most and step[i] < 0):
            held[i] = False
    return step if held.sum() == free.sum() else _solve(normal, slope, damping, held)


def _solve(normal: Array, slope: Array, damping: float, free: Bool) -> Array:
    a = normal[np.ix_(free, free)]
    d = np.sqrt(np.maximum(np.diag(a), 1e-30))
    a = a / np.outer(d, d) + damping * np.eye(d.size)
    step = np.zeros(slope.size)
    try:
        step[free] = np.linalg.solve(a, slope[free] / d) / d
    except np.linalg.LinAlgError:
        step[free] = np.linalg.lstsq(a, slope[free] / d, rcond=None)[0] / d
    return step
