"""The blur of a lens that is no Gaussian, found from the light beside the edges, and what it does to them.

Half the light stands on a straight edge whatever blurs it, but not beside a corner: tails of the blur reach round it,
and along a flank the half level tilts; blur that differs by direction moves curved edges by kappa sigma^2 / 2. The blur
is taken as a sum of Gaussians,

    sum_k a_k N(C k^2),   k of WIDTHS, sum a_k = 1,   C the covariance of the narrowest,

under which the shadow below a height X(u) has the darkness

    D(u, y) = sum_k a_k integral g(t) N((X(u + k s_u t) - k c t - y) / (k s_w)) dt

with s_u the standard deviation along the axis, s_w the one across it at a given place along, and c how far it leans.
Coma displaces the wider ones, to first order. All are found by least squares from the
light of pixels within ``_REACH`` of edge points; the edge then moves from where the fit's Gaussian has it to where D is
one half. Derived here; seen on drawn pictures of eight kinds of blur
(benchmarks/blur.py). Not to be believed where light is mirrored at the edge: that is no blur of the lens.
"""

from __future__ import annotations

from dataclasses import dataclass, replace

import numpy as np
import numpy.typing as npt

from threads.shared.normal import quick_ndtr
from vision.fit.marquardt import Observed, Prior, fit_shadow, in_section
from vision.fit.solve import Solution
from vision.model.blurred import contour
from vision.model.lens import A_TAIL, SMEARED, WIDTHS, LensBlur
from vision.model.shadow import INDEX, outline
from vision.outline.edges import EdgePoints
from vision.outline.silhouette import Silhouette
from vision.shared.robust import OUTLIER

Array = npt.NDArray[np.float64]

_REACH = 16  # px from the edge point, in its row or column, to which light is looked at
_AT = np.array([t for t in range(-_REACH, _REACH + 1) if abs(t) < _REACH / 2 or t % 2 == 0])
_PLACES = 100  # edge points beside which it is
_FROM_END = 0.35  # of a pitch: what is nearer to the ends of the thread may see beyond them
_T = np.linspace(-3.0, 3.0, 13)  # nodes of the integral, in standard deviations
_G = np.exp(-0.5 * _T**2) / np.exp(-0.5 * _T**2).sum()
_FLANK = 0.3  # slope of an outline from which it is a flank
_NODES = 80  # places of a pitch at which the edge's shift is worked out
_MOST_STEP = 0.3  # by which they may change at a time
_STEADY = 1e-5  # of the samples: keeps weights and shape where the light does not tell them
_LIGHTS_ALIKE = 4.0  # correlation length of the light beside the edge, in pixels: it was smoothed
_KEPT = 6.0  # standard deviations beyond which light is dirt or another part
_TURNS = 3
_ROUND = np.array([1.0, 1.0, 0.0])
_STEPS = 6
_BLUR_KNOWN = 0.01  # of the blur, once its form is known


@dataclass(frozen=True)
class _Light:
    """Samples of the light: where they are, in the part's frame, and how dark it is there, (n,)."""

    points: Observed
    dark: Array


def through_lens(silhouette: Silhouette, edges: EdgePoints, solution: Solution) -> Solution:
    """The thread with what is known of the lens; where it is no Gaussian, fitted anew to edges moved to where one would
    have shown them. Blur and thread are found in turns: each is seen wrong as long as the other is.
    """
    light = _light(silhouette, edges, solution)
    if light is None:
        return solution
    sigma, seen = solution.edge_blur, solution.seen
    x = _with_blur(solution.fit.x, sigma)
    blur = _blur_of(light, x, seen, _ROUND, turns=1)
    if blur.is_gaussian:
        return replace(solution, lens=blur)
    width = solution.prior.sigma.copy()
    width[INDEX["blur"]] = _BLUR_KNOWN * sigma
    prior = Prior(_with_blur(solution.prior.mean, sigma), width)
    for turn in range(_TURNS):
        moved = replace(seen, w=seen.w - seen.side * shift_of(x, seen, blur))
        fit = fit_shadow(x, moved, prior, sigma=solution.noise, steps=_STEPS, fixed=("blur",))
        x = fit.x
        if turn < _TURNS - 1:
            blur = _blur_of(light, x, seen, np.array([blur.along, blur.across, blur.lean]))
    rejected = float((np.abs(fit.residual) > OUTLIER * fit.scale).mean())
    return replace(solution, fit=fit, seen=moved, prior=prior, rejected=rejected, lens=blur)


def _blur_of(light: _Light, x: Array, seen: Observed, shape: Array, turns: int = 2) -> LensBlur:
    """The blur that explains ``light`` beside the shadow of ``x``; ``shape`` (along, across, lean) to begin with."""
    sigma = float(x[INDEX["blur"]])
    sharp, (z, y) = _Sharp(x, seen, max(WIDTHS) * sigma), in_section(x, light.points)
    side = light.points.side
    for _ in range(turns):
        each = [_darkness(sharp, z, y, side, k * sigma * shape, whole=k == 1) for k in WIDTHS]
        columns = [one[0] for one in each]
        smear = [d for i in SMEARED for d in (-sigma * each[i][2], sigma * side * each[i][1])]
        by_shape = [scale * sigma * one for scale, one in zip((shape[0], shape[1], 1.0), each[0][3:], strict=True)]
        found, covariance = _least_squares(
            np.stack([*columns, np.ones(z.size), *smear, *by_shape], axis=1), light.dark - columns[0]
        )
        step = np.clip(found[-3:], -_MOST_STEP, _MOST_STEP)
        shape = shape * np.array([1 + step[0], 1 + step[1], 1.0]) + np.array([0.0, 0.0, step[2]])
    u = np.sqrt(np.diag(covariance))
    total = 1 + float(found[: len(WIDTHS)].sum())
    weights = found[: len(WIDTHS)].copy()
    weights[0] += 1
    tail = np.zeros(found.size, np.float64)
    tail[2 : len(WIDTHS)] = 1.0
    wide = slice(1, len(WIDTHS))
    wider, of_smear = found[wide], slice(len(WIDTHS) + 1, -3)
    return LensBlur(
        tuple(float(a) for a in weights / total),
        float(shape[0]),
        float(shape[1]),
        float(shape[2]),
        tuple((float(a), float(b)) for a, b in found[of_smear].reshape(-1, 2) / total),
        float(np.sqrt(max(float(wider @ np.linalg.solve(covariance[wide, wide], wider)), 0.0))),
        float(np.sqrt(tail @ covariance @ tail)),
        float(u[-3:].max()),
        float(u[of_smear].max()),
    )


def shift_of(x: Array, seen: Observed, blur: LensBlur, turns: int = 3) -> Array:
    """How much higher above the axis (n,), mm, the edge stands behind ``blur`` than behind a Gaussian of x's blur.

    Worked out in ``turns`` over one pitch in the middle of the points, for each edge, and taken as the same for all.
    """
    pitch, sigma = float(x[INDEX["pitch"]]), float(x[INDEX["blur"]])
    middle = float(seen.u.min() + seen.u.max()) / 2
    z = middle + pitch * (np.arange(_NODES) / _NODES - 0.5)
    both, side = np.tile(z, 2), np.repeat([1.0, -1.0], _NODES)
    plain, _, _ = contour(x, both, side, seen.centre, starts=seen.starts, gradient=False)
    sharp = _Sharp(x, replace(seen, u=z), max(WIDTHS) * sigma)
    y = plain.copy()
    shape = sigma * np.array([blur.along, blur.across, blur.lean])
    for _ in range(turns):
        each = [_darkness(sharp, both, y, side, k * shape) for k in WIDTHS]
        dark = sum(a * one[0] for a, one in zip(blur.weights, each, strict=True))
        rate = sum(a * one[1] for a, one in zip(blur.weights, each, strict=True))
        for i, (along, across) in zip(SMEARED, blur.smear, strict=True):
            dark = dark - sigma * along * each[i][2] + sigma * across * side * each[i][1]
        y = y + np.clip((dark - 0.5) / np.maximum(rate, 0.1 / sigma), -sigma, sigma)
    place = (seen.u - z[0]) % pitch
    out = np.empty(seen.u.size)
    for sign, part in ((1.0, slice(_NODES)), (-1.0, slice(_NODES, None))):
        on = seen.side == sign
        out[on] = np.interp(place[on], z - z[0], (y - plain)[part], period=pitch)
    return out


def blur_doubts(solution: Solution) -> list[Array]:
    """How far what is uncertain of the blur may lift the edges, mm (standard uncertainty): its tails, and its form.

    Each edge's flanks of either kind lie across another part of the blur: what its form leaves uncertain is theirs
    alone, a turn about the pitch line, and where it differs by direction a lift.
    """
    x, seen, lens, p = solution.fit.x, solution.seen, solution.lens, solution.parameters
    found = [shift_of(x, seen, A_TAIL, 1) * (lens.tail_doubt / A_TAIL.tail)]
    if lens.is_gaussian:
        return found
    shift = shift_of(x, seen, lens) * lens.left
    height, slope, _ = contour(x, seen.u, seen.side, seen.centre, starts=seen.starts, gradient=False)
    turn = lens.turned * solution.edge_blur * np.clip(2 * (height - p.pitch_radius) / (p.crest - p.root), -1.0, 1.0)
    turn[np.abs(slope) < _FLANK] = 0.0
    kinds = [(seen.side == side) & (slope * way > 0) for side in (1.0, -1.0) for way in (1.0, -1.0)]
    lifts = [shift] if lens.is_round else [np.where(kind, shift, 0.0) for kind in kinds]
    return [*found, *lifts, *(np.where(kind, turn, 0.0) for kind in kinds)]


class _Sharp:
    """The sharp outline on a fine grid, for heights at many places."""

    def __init__(self, x: Array, seen: Observed, sigma: float) -> None:
        reach = float(-_T[0]) * sigma * 1.5
        self._first, self._step = float(seen.u.min()) - reach, float(x[INDEX["blur"]]) / 4
        self._count = int((float(seen.u.max()) + reach - self._first) / self._step) + 2
        grid = self._first + self._step * np.arange(self._count)
        side = np.repeat([1.0, -1.0], self._count)
        self._height, _, _ = outline(x, np.tile(grid, 2), side, seen.centre, starts=seen.starts, gradient=False)
        self._rise = np.diff(self._height, append=0.0)

    def at(self, z: Array, side: Array) -> Array:
        """Heights at the places ``z`` on the edges ``side``, of any shape that fits."""
        part = (z - self._first) / self._step
        cell = np.clip(part.astype(np.intp), 0, self._count - 2)
        part -= cell
        cell += np.where(side > 0, 0, self._count)
        part *= self._rise.take(cell)
        part += self._height.take(cell)
        return np.asarray(part)


def _darkness(sharp: _Sharp, z: Array, y: Array, side: Array, shape: Array, *, whole: bool = False) -> list[Array]:
    """Darkness (n,) at ``z`` along and ``y`` above the axis under one Gaussian of ``shape`` (s_u, s_w, c), mm; how fast
    it falls with y and grows with z; and, if ``whole``, its derivatives by the shape, by parts.
    """
    along, across, lean = shape
    leaning = side * lean
    at = (sharp.at(z[:, None] + along * _T, side[:, None]) - leaning[:, None] * _T - y[:, None]) / across
    dark, light = quick_ndtr(at), np.exp(-0.5 * at * at)
    rate = light @ _G * (1 / (np.sqrt(2 * np.pi) * across))
    out = [dark @ _G, rate, dark @ (_G * _T) / along + leaning / along * rate]
    if whole:
        once = light @ (_G * _T) / (np.sqrt(2 * np.pi) * across)
        out += [
            dark @ (_G * (_T**2 - 1)) / along + leaning / along * once,
            -((light * at) @ _G) / (np.sqrt(2 * np.pi) * across),
            -side * once,
        ]
    return [np.asarray(each, np.float64) for each in out]


def _least_squares(design: Array, target: Array) -> tuple[Array, Array]:
    """Coefficients and their covariance, without the samples that fit nowhere."""
    keep = np.ones(target.size)
    steady = _STEADY * target.size * np.eye(design.shape[1])
    steady[len(WIDTHS), len(WIDTHS)] = 0.0  # the level of the light
    for _ in range(2):
        normal = (design * keep[:, None]).T @ design + steady
        found = np.linalg.solve(normal, (design * keep[:, None]).T @ target)
        left = target - design @ found
        scatter = 1.4826 * float(np.median(np.abs(left)))
        keep = (np.abs(left) < _KEPT * scatter).astype(float)
    return np.asarray(found), np.asarray(np.linalg.inv(normal)) * scatter**2 * _LIGHTS_ALIKE


def _light(silhouette: Silhouette, edges: EdgePoints, solution: Solution) -> _Light | None:
    """Light in the rows or columns of evenly chosen edge points that fit well."""
    seen, fit = solution.seen, solution.fit
    away = _FROM_END * float(fit.x[INDEX["pitch"]])
    good = (np.abs(fit.residual) < OUTLIER * fit.scale) & (seen.u > seen.u.min() + away)
    index = np.flatnonzero(good & (seen.u < seen.u.max() - away))
    if index.size < _PLACES or solution.chosen.size != seen.u.size:
        return None
    index = index[np.linspace(0, index.size - 1, _PLACES).astype(np.intp)]
    xy, normal = edges.xy[solution.chosen[index]], edges.normal[solution.chosen[index]]
    along_x = np.abs(normal[:, :1]) >= np.abs(normal[:, 1:])
    px = np.rint(xy[:, :1]).astype(np.intp) + np.where(along_x, _AT, 0)
    py = np.rint(xy[:, 1:]).astype(np.intp) + np.where(along_x, 0, _AT)
    height, width = silhouette.smooth.shape
    inside = (px >= 0) & (px < width) & (py >= 0) & (py < height)
    row, column = np.nonzero(inside)
    px, py = px[row, column], py[row, column]
    outer, inner = silhouette.level(px.astype(np.float64), py.astype(np.float64))
    span = np.where(np.abs(outer - inner) < 1e-6, 1e-6, outer - inner)  # cannot be: there would be no edge
    dx, dy = (np.stack([px, py], axis=1) - xy[row]).T * seen.px_mm
    cos, sin = np.cos(solution.frame.angle), np.sin(solution.frame.angle)
    points = replace(seen.select(index[row]), u=seen.u[index[row]] + cos * dx + sin * dy)
    points = replace(points, w=points.w + sin * dx - cos * dy)
    return _Light(points, np.asarray((outer - silhouette.smooth[py, px]) / span, np.float64))


def _with_blur(x: Array, sigma: float) -> Array:
    out = x.copy()
    out[INDEX["blur"]] = sigma
    return out
