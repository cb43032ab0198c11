"""The fit with two more parameters, errors of form that a shadow shows: bend of the axis and drunkenness of the thread.

A bend moves both edges the same way, by the sagitta times q(u) = 1 - (2 (u - m) / L)^2 over the threaded length L round
its middle m, and turns the sections square to the bent axis. A drunken thread, whose axial error repeats with every
turn, stands d too far along the axis on one edge and d too far back on the other, opposite one. The points are moved
back by both, and Gauss-Newton steps find the two together with all other parameters: a drunken thread would else be
taken for one that lies askew, a bent one for one with a wrong pitch diameter.

Their uncertainty comes from how much single ridges disagree (the sandwich estimate over half pitches: White,
Econometrica 48, 817-838, 1980, over clusters), so that errors of single ridges do not pass for noise that averages out.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from typing import TypeGuard

import numpy as np
import numpy.typing as npt

from threads.measured.form_errors import FormErrors, cumulative_pitch_error, magnitude
from threads.measured.thread import RidgeError
from threads.shared.quantity import Quantity
from threads.shared.refusal import Reason
from vision.fit.budget import EDGE_FINDER_U_PX, inverse_of
from vision.fit.marquardt import Observed, ShadowFit, residuals
from vision.fit.solve import Solution
from vision.model.shadow import COUNT, INDEX, full_radii
from vision.shared.robust import BIWEIGHT, OUTLIER, robust_scale

Array = npt.NDArray[np.float64]

LENS_BOW_U_PX = 0.02
"""How far a lens may bow a straight axis, standard uncertainty: a distortion too small to be taken out (0.3 px in the
corners, calib.straightness) on an axis that passes the middle of the picture by a tenth of its height."""
_STEPS = 5  # Gauss-Newton: begun where the fit has ended, two or three do
_SETTLED = 0.5
"""Of their standard uncertainty: a step that moves bend and drunkenness by less is the last. What a next one would add
is a third of it."""
_NEAR = 10.0
"""Predicted decrease (half chi squared, of thousands of points) of a step that may be the last: the derivatives tell
where it leads."""
_DIVERGED = 0.3
"""Relative change of blur or pitch from which the steps have diverged: the fit before gave both to a few per cent.
So does a tilt (its sine) that changes by so much."""
_PLAIN_PX = 0.05  # less than this is left in: it moves no diameter by a twentieth of that
_LEAST_THREADS = 4.0  # that tell a bend or drunkenness
_TILT_PX, _TILT_DEG = 0.1, 12.0  # by how much the closed form errs, and at which tilt
_LIGHT_SHARE = 0.1
"""Of what mirrored light takes from the flanks, by which the two edges of a part may differ: a pad that stands askew, a
camera that sees one edge under a wider light (judgement)."""
_CERTAIN = 4.0  # standard uncertainties from which bend or drunkenness is told


@dataclass(frozen=True)
class FormFit:
    """What bend and drunkenness are (mm), and the thread without them.

    Attributes:
        straight: the solution over the points moved back, with both taken out; its matrices know that both were fitted.
        residual: (n,) of the points against it with the axis put straight, everything else as seen, mm.
        bend: sagitta of the axis over the threaded length, positive where its middle bulges toward +w.
        bend_u: its standard uncertainty.
        drunkenness: how far the thread on the upper edge stands too far along +u, and on the lower one too far back.
        drunkenness_u: its standard uncertainty.
    """

    straight: Solution
    residual: Array
    bend: float
    bend_u: float
    drunkenness: float
    drunkenness_u: float

    @property
    def least(self) -> float:
        """Bend or drunkenness that is too small to be taken out, mm."""
        return _PLAIN_PX * self.straight.seen.px_mm

    @property
    def explained(self) -> float:
        """Drunkenness that the lie or the light of the part may show where there is none, mm along the axis.

        The closed form of the shadow errs by ``_TILT_PX`` at the greatest tilt, with the square of it; mirrored light
        takes recession R / sin^2 a off a flank, and may take ``_LIGHT_SHARE`` of that more from one edge's.
        """
        p, seen = self.straight.parameters, self.straight.seen
        tilted = _TILT_PX * seen.px_mm * (np.degrees(np.arcsin(min(abs(p.tilt), 1.0))) / _TILT_DEG) ** 2
        taken = abs(seen.recession) * p.pitch_radius / np.sin((p.flank_right + p.flank_left) / 2) ** 2
        return float(tilted + _LIGHT_SHARE * taken)

    @property
    def shown(self) -> bool:
        """Whether there are threads enough: on few, tilt and taper look like either."""
        return self.straight.end - self.straight.start >= _LEAST_THREADS * self.straight.parameters.pitch

    @property
    def plain_to_see(self) -> bool:
        """Whether bend or drunkenness is certain and large enough to spoil a fit that does not know them."""
        return self.shown and any(
            abs(error) > max(_CERTAIN * u, least)
            for error, u, least in (
                (self.bend, self.bend_u, self.least),
                (self.drunkenness, self.drunkenness_u, self.least + self.explained),
            )
        )


def fit_form(solution: Solution) -> FormFit:
    """Fit bend and drunkenness to the points of ``solution``, starting where its fit ended."""
    fit, seen = solution.fit, solution.seen
    precision = np.zeros((COUNT + 2, COUNT + 2))
    precision[:COUNT, :COUNT] = (fit.normal_matrix - fit.data_matrix) / fit.scale**2
    # where the fit ended, the pull of the priors balances that of the points
    pull = np.concatenate([-(fit.jacobian * fit.weight) @ fit.residual / fit.scale**2, np.zeros(2)])
    start = np.concatenate([fit.x, np.zeros(2)])
    x = start.copy()
    besides = np.array([LENS_BOW_U_PX, EDGE_FINDER_U_PX]) * seen.px_mm
    r, design = fit.residual, _with_form(fit.jacobian, x, solution)
    for _ in range(_STEPS):
        scale, weight = _weigh(r, solution.noise)
        normal = (design * weight) @ design.T / scale**2 + precision
        slope = (design * weight) @ r / scale**2 + pull + precision @ (x - start)
        before, x = x, _stepped(x, normal, slope)
        if _diverged(x, start):
            # on few threads corners and blur are not determined together: give the fit without bend and drunkenness
            x, r, design = start.copy(), fit.residual, _with_form(fit.jacobian, start, solution)
            break
        u = np.hypot(np.sqrt(np.diag(inverse_of(normal))[COUNT:]), besides)
        if np.all(np.abs(x - before)[COUNT:] < _SETTLED * u) and slope @ (before - x) < 2 * _NEAR:
            r = r + (x - before) @ design
            break
        r, design = _linearised(x, solution)
    straight = _straightened(x, solution)
    scale, weight = _weigh(r, solution.noise)
    normal = (design * weight) @ design.T / scale**2 + precision
    inverse = inverse_of(normal)
    spread = _clustered(design * weight * r / scale**2, solution, float(x[INDEX["pitch"]]), inverse)
    # what the shadow shows lies a little off the edge of the section, where the error is less by the cosine
    half_angle = (x[INDEX["flank_right"]] + x[INDEX["flank_left"]]) / 2
    off = np.cos(seen.starts * x[INDEX["pitch"]] / (2 * np.pi) / x[INDEX["pitch_radius"]] / np.tan(half_angle))
    bend, drunk = float(x[COUNT]), float(x[COUNT + 1] / off)
    mm = seen.px_mm
    return FormFit(
        straight=replace(
            solution,
            fit=_without(x, r, design, weight, scale, precision),
            seen=straight,
            rejected=float((np.abs(r) > OUTLIER * scale).mean()),
        ),
        # on flanks, where it is looked at, it changes as the phase would change it
        residual=r + design[INDEX["phase"]] * (straight.u - seen.u),
        bend=bend,
        bend_u=float(np.hypot(np.sqrt(spread[COUNT]), LENS_BOW_U_PX * mm)),
        drunkenness=drunk,
        drunkenness_u=float(np.hypot(np.sqrt(spread[COUNT + 1]), EDGE_FINDER_U_PX * mm) / off),
    )


def _diverged(x: Array, start: Array) -> bool:
    """Whether the steps have diverged, as they may on few threads or on what is no thread."""
    parts = [abs(x[INDEX[name]] / start[INDEX[name]] - 1) for name in ("blur", "pitch")]
    return not max(*parts, abs(x[INDEX["tilt"]] - start[INDEX["tilt"]])) < _DIVERGED


def _bow(solution: Solution) -> tuple[Array, Array]:
    """Shape of a bend of unit sagitta at the points, and its slope."""
    middle, half = (solution.start + solution.end) / 2, (solution.end - solution.start) / 2
    along = (solution.seen.u - middle) / half
    return 1 - along**2, -2 * along / half


def _straightened(x: Array, solution: Solution) -> Observed:
    """The points moved back by bend and drunkenness."""
    seen, bend, drunk = solution.seen, x[COUNT], x[COUNT + 1]
    shape, lean = _bow(solution)
    return replace(seen, u=seen.u + bend * lean * _height(x, seen) - drunk * seen.side, w=seen.w - bend * shape)


def _linearised(x: Array, solution: Solution) -> tuple[Array, Array]:
    """Residuals of the points moved back (n,), and their derivatives (COUNT + 2, n)."""
    r, jac = residuals(x[:COUNT], _straightened(x, solution))
    if jac is None:  # cannot be: derivatives were asked for
        raise ValueError("no derivatives")
    return r, _with_form(jac, x, solution)


def _with_form(jac: Array, x: Array, solution: Solution) -> Array:
    """The derivatives ``jac`` (COUNT, n), and below them those by bend and drunkenness."""
    shape, lean = _bow(solution)
    by_bend = jac[INDEX["offset"]] * shape - jac[INDEX["phase"]] * lean * _height(x, solution.seen)
    return np.vstack([jac, by_bend, jac[INDEX["phase"]] * solution.seen.side])


def _height(x: Array, seen: Observed) -> Array:
    """Height of the points above the axis, positive on the upper edge, mm."""
    return np.asarray(seen.w - x[INDEX["offset"]] - x[INDEX["rotation"]] * seen.u)


def _weigh(r: Array, least: float) -> tuple[float, Array]:
    """Robust standard deviation of the residuals, and their weights."""
    scale = robust_scale(r, least)
    return scale, BIWEIGHT.weights(r, scale)


def _stepped(x: Array, normal: Array, slope: Array) -> Array:
    """One Gauss-Newton step; a corner radius that would leave its bounds goes to the bound and is held there."""
    step = -inverse_of(normal) @ slope
    held: list[int] = []
    for name, most in zip(("crest_corner", "root_corner"), full_radii(x[:COUNT]), strict=True):
        i = INDEX[name]
        if not 0 <= x[i] + step[i] <= most:
            held.append(i)
            step[i] = min(max(x[i] + step[i], 0.0), most) - x[i]
    if held:
        free = np.setdiff1d(np.arange(x.size), held)
        rest = slope[free] + normal[free][:, held] @ step[held]
        step[free] = -inverse_of(normal[np.ix_(free, free)]) @ rest
    return np.asarray(x + step)


def _without(x: Array, r: Array, design: Array, weight: Array, scale: float, precision: Array) -> ShadowFit:
    """The fit of the parameters alone, marginalised over bend and drunkenness."""
    data = (design * weight) @ design.T
    both = slice(COUNT, COUNT + 2)
    share = np.linalg.pinv(data[both, both], hermitian=True) @ data[both, :COUNT]  # of dirt alone nothing may count
    jacobian = design[:COUNT] - share.T @ design[both]
    own = data[:COUNT, :COUNT] - data[:COUNT, both] @ share
    return ShadowFit(
        x=x[:COUNT].copy(),
        normal_matrix=own + precision[:COUNT, :COUNT] * scale**2,
        data_matrix=own,
        jacobian=jacobian,
        residual=r,
        weight=weight,
        scale=scale,
    )


def _clustered(score: Array, solution: Solution, pitch: float, inverse: Array) -> Array:
    """Variances of all parameters from the scores (COUNT + 2, n) of the points, half pitches of an edge together."""
    seen = solution.seen
    cell = np.floor((seen.u - solution.start) / (pitch / 2)).astype(int)
    _, cluster = np.unique(2 * cell + (seen.side > 0), return_inverse=True)
    count = int(cluster.max()) + 1
    sums = np.stack([np.bincount(cluster, weights=row, minlength=count) for row in score])
    # the fit follows its clusters: four parameters that vary along an edge take away four degrees of freedom
    return np.asarray(np.diag(inverse @ (sums @ sums.T) @ inverse)) * count / max(count - 4, 1)


def form_errors(form: FormFit, ridges: Sequence[RidgeError]) -> FormErrors:
    """The errors of form that one picture shows."""
    return FormErrors(
        length_mm=form.straight.end - form.straight.start,
        cumulative_pitch_error=cumulative_pitch_error(ridges),
        axis_bend=magnitude(form.bend, form.bend_u, "mm") if form.shown else None,
        drunkenness_seen=magnitude(form.drunkenness, form.drunkenness_u, "mm") if form.shown else None,
    )


def form_doubts(form: FormFit) -> tuple[Reason, ...]:
    """Warnings for a bend or drunkenness that was taken out of the dimensions."""
    if not form.plain_to_see:
        return ()
    errors = form_errors(form, ())
    found = []
    if _is_sure(errors.axis_bend, form.least):
        found.append(Reason("bent", bend=errors.axis_bend))
    if _is_sure(errors.drunkenness_seen, form.least + form.explained):
        found.append(Reason("drunken", along=errors.drunkenness_seen))
    return tuple(found)


def _is_sure(error: Quantity | None, least: float) -> TypeGuard[Quantity]:
    return error is not None and error.value > max(least, _CERTAIN * error.standard_uncertainty)
