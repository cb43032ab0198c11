"""The fit once more with two errors of form that a shadow shows: a bent axis and a thread that is drunk.

A bend moves both edges the same way, by the sagitta times q(u) = 1 - (2 (u - m) / L)^2 over the threaded length L round
its middle m, and turns the sections square to the bent axis. A drunken thread, whose axial error repeats with every
turn, stands d too far along the axis on one edge and d too far back on the other, opposite one. The points are moved
back by both, and Gauss-Newton steps find the two together with all other parameters: a drunken thread would else be
taken for one that lies askew.

Their uncertainty comes from how much single ridges disagree (the sandwich estimate over half pitches: White,
Econometrica 48, 817-838, 1980, over clusters), so that errors of single ridges do not pass for noise that averages out.
"""

from __future__ import annotations

from dataclasses import dataclass, replace

import numpy as np
import numpy.typing as npt

from vision.budget import EDGE_FINDER_U_PX
from vision.fit import Observed, residuals
from vision.shadow import COUNT, INDEX
from vision.solve import Solution

Array = npt.NDArray[np.float64]

LENS_BOW_U_PX = 0.02
"""How far a lens may bow a straight axis, standard uncertainty: a distortion too small to be taken out (0.3 px in the
corners, calib.straightness) on an axis that passes the middle of the picture by a tenth of its height."""
_STEPS = 4
_TUKEY = 5.0


@dataclass(frozen=True)
class FormFit:
    """The thread without bend and drunkenness, and what they are (mm).

    Attributes:
        x: (COUNT,) parameters of the thread with both taken out.
        residual: (n,) of the points as seen against the shadow of that straight, regular thread.
        scale: robust standard deviation of what neither explains.
        bend: sagitta of the axis over the threaded length, positive where its middle bulges toward +w.
        bend_u: its standard uncertainty.
        drunkenness: how far the thread on the upper edge stands too far along +u, and on the lower one too far back.
        drunkenness_u: its standard uncertainty.
    """

    x: Array
    residual: Array
    scale: float
    bend: float
    bend_u: float
    drunkenness: float
    drunkenness_u: float


def fit_form(solution: Solution) -> FormFit:
    """Fit bend and drunkenness to the points of ``solution``, starting where its fit ended."""
    fit, seen = solution.fit, solution.seen
    least = solution.noise
    precision = (fit.normal_matrix - fit.data_matrix) / fit.scale**2
    # where the fit ended, the pull of the priors balances that of the points
    pull = -(fit.jacobian * fit.weight) @ fit.residual / fit.scale**2
    x, bend, drunk = fit.x.copy(), 0.0, 0.0
    for _ in range(_STEPS):
        r, design = _linearised(x, solution, bend, drunk)
        scale = max(1.4826 * float(np.median(np.abs(r))), least)
        weight = (1 - np.clip(np.abs(r) / (_TUKEY * scale), 0, 1) ** 2) ** 2
        normal = (design * weight) @ design.T / scale**2
        slope = (design * weight) @ r / scale**2
        normal[:COUNT, :COUNT] += precision
        slope[:COUNT] += pull + precision @ (x - fit.x)
        inverse = _invert(normal)
        step = -inverse @ slope
        x, bend, drunk = x + step[:COUNT], bend + float(step[COUNT]), drunk + float(step[COUNT + 1])
    r, design = _linearised(x, solution, bend, drunk)
    spread = _clustered(design * weight * r / scale**2, solution, x, inverse)
    # what the shadow shows lies a little off the edge of the section, where the error is less by the cosine
    off = np.cos(seen.starts * x[INDEX["pitch"]] / (2 * np.pi) / x[INDEX["pitch_radius"]] / np.tan(_half_angle(x)))
    mm = seen.px_mm
    full, _ = residuals(x, seen, gradient=False)
    return FormFit(
        x=x,
        residual=full,
        scale=scale,
        bend=bend,
        bend_u=float(np.hypot(np.sqrt(spread[COUNT]), LENS_BOW_U_PX * mm)),
        drunkenness=drunk / float(off),
        drunkenness_u=float(np.hypot(np.sqrt(spread[COUNT + 1]), EDGE_FINDER_U_PX * mm) / off),
    )


def _linearised(x: Array, solution: Solution, bend: float, drunk: float) -> tuple[Array, Array]:
    """Residuals of the points moved back (n,), and their derivatives by the parameters, bend and drunkenness."""
    seen = solution.seen
    middle, half = (solution.start + solution.end) / 2, (solution.end - solution.start) / 2
    along = (seen.u - middle) / half
    shape, lean = 1 - along**2, -2 * along / half
    height = seen.w - x[INDEX["offset"]] - x[INDEX["rotation"]] * seen.u
    straight: Observed = replace(seen, u=seen.u + bend * lean * height - drunk * seen.side, w=seen.w - bend * shape)
    r, jac = residuals(x, straight)
    if jac is None:  # cannot be: derivatives were asked for
        raise ValueError("no derivatives")
    by_bend = jac[INDEX["offset"]] * shape - jac[INDEX["phase"]] * lean * height
    by_drunk = jac[INDEX["phase"]] * seen.side
    return r, np.vstack([jac, by_bend, by_drunk])


def _half_angle(x: Array) -> float:
    return float(x[INDEX["flank_right"]] + x[INDEX["flank_left"]]) / 2


def _clustered(score: Array, solution: Solution, x: Array, inverse: Array) -> Array:
    """Variances of all parameters from the scores (COUNT + 2, n) of the points, half pitches of an edge together."""
    seen = solution.seen
    cell = np.floor((seen.u - solution.start) / (x[INDEX["pitch"]] / 2)).astype(int)
    _, cluster = np.unique(2 * cell + (seen.side > 0), return_inverse=True)
    count = int(cluster.max()) + 1
    sums = np.stack([np.bincount(cluster, weights=row, minlength=count) for row in score])
    # a cluster pulls the fit toward itself: of four parameters that differ along an edge so much is lost
    return np.asarray(np.diag(inverse @ (sums @ sums.T) @ inverse)) * count / max(count - 4, 1)


def _invert(matrix: Array) -> Array:
    d = np.sqrt(np.maximum(np.diag(matrix), 1e-30))
    return np.asarray(np.linalg.pinv(matrix / np.outer(d, d), rcond=1e-13, hermitian=True) / np.outer(d, d))
