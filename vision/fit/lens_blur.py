"""The blur of a lens that is no Gaussian, found from the light beside the edges, and what it does to them.

Half the light stands on a straight edge whatever blurs it, but not beside a corner: tails of the blur reach round it,
and along a flank the half level tilts; blur that differs by direction moves curved edges by kappa sigma^2 / 2, and
coma moves crests against flanks. The blur is taken as a sum of round Gaussians and their derivatives
(``vision.model.lens``), under which the shadow below a height X(u) has the darkness

    D(u, y) = sum_k a_k integral g(t) N((X(u + k s t) - y) / (k s)) dt

and derivatives of this, all sums over the same nodes. Their weights are found by least squares from the
light of pixels within ``_REACH`` of edge points, free of what small changes of the thread would do there; the edge
then moves from where the fit's Gaussian has it to where D is one half. Derived here; seen on drawn pictures of eight
kinds of blur (benchmarks/blur.py). Not to be believed where light is mirrored at the edge: that is no blur of the lens.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

import numpy as np
import numpy.typing as npt

from threads.shared.normal import quick_ndtr
from vision.fit.corner_forms import choose_forms
from vision.fit.marquardt import Observed, Prior, fit_shadow, in_section
from vision.fit.solve import Solution
from vision.model.blurred import contour, ridges_repeat
from vision.model.lens import A_TAIL, LEFT, LEFT_DIRECTED, TAILS, TERMS, TURNED, TURNED_CODED, WIDTHS, LensBlur
from vision.model.shadow import INDEX, outline
from vision.outline.edges import EdgePoints
from vision.outline.silhouette import Silhouette
from vision.shared.robust import OUTLIER

Array = npt.NDArray[np.float64]
Terms = tuple[tuple[int, int], ...]

_REACH = 16  # px from the edge point, in its row or column, to which light is looked at
_AT = np.array([t for t in range(-_REACH, _REACH + 1) if abs(t) < _REACH / 2 or t % 2 == 0])
_PLACES = 100  # edge points beside which it is
_MORE_PLACES = 250  # once the blur is known to be no Gaussian
_FROM_END = 0.35  # of a pitch: what is nearer to the ends of the thread may see beyond them
_T = np.linspace(-4.0, 4.0, 17)  # nodes of the integral, in standard deviations
_G = np.exp(-0.5 * _T**2) / np.exp(-0.5 * _T**2).sum()
_FLANK = 0.3  # slope of an outline from which it is a flank
_NODES = 80  # places of a pitch at which the edge's shift is worked out
_STEADY = 1e-9  # relative: keeps what the light does not tell
_LIGHTS_ALIKE = 4.0  # correlation length of the light beside the edge, times the smoothing: 2 sqrt(pi) and the grid
_KEPT = 6.0  # standard deviations beyond which light is dirt or another part
_TURNS, _TURNS_SMEARED = 1, 2  # the second where a smear has moved crests against flanks
_STEPS = 6
_BLUR_KNOWN = 0.01  # of the blur, once its form is known
_FREE = tuple(INDEX[n] for n in INDEX if n not in ("offset", "phase", "nearness", "taper", "blur"))
"""What of the thread may be wrong by as much as the blur: a blur that is displaced moves it as a whole."""

_POWERS = np.stack([np.polynomial.hermite_e.hermeval(_T, [0.0] * m + [1.0]) for m in range(5)], axis=1) * _G[:, None]
_PAIRS: dict[int, tuple[tuple[tuple[int, int, float], ...], ...]] = {
    1: (((1, 0, 1.0),), ((0, 1, 1.0),)),
    2: (((2, 0, 0.5), (0, 2, -0.5)), ((1, 1, 1.0),)),
    3: (((3, 0, 1 / 6), (1, 2, -0.5)), ((2, 1, 0.5), (0, 3, -1 / 6))),
    4: (((4, 0, 1 / 24), (2, 2, -0.25), (0, 4, 1 / 24)), ((3, 1, 1 / 6), (1, 3, -1 / 6))),
}
"""Real and imaginary part of (d/du + i d/dw)^m / m!: how often by u, by w, and the factor."""

_WIDE = len(WIDTHS) - 1
_ALL_WIDTHS = range(len(WIDTHS))
_SPREAD_WEIGHTS, _SPREAD_TERM = np.array([0.06 * 4 / k if k > 2 else 0.5 for k in WIDTHS[1:]]), 0.3
"""Weights that are expected of lenses: aberrations of a wavelength and less, a tenth of the light scattered."""
_SIZE = np.array([-1.0, 1.0, *(0.0,) * (_WIDE - 2)])
_ROUND = (
    0.002  # of it, for what differs by direction, where that is not seen at first: a pad that is uneven looks like it
)
_LOOKED_AT = ((0, 1), (3, 1), (0, 2))
"""Of TERMS, what shows first that a blur is no Gaussian, beside the widths: displacement, smear, direction."""
_LEAST_TAIL, _LEAST_SHAPE, _LEAST_SMEAR = 0.01, 0.06, 0.06
"""Share of the light, and blurs: less is left in."""
_CERTAIN_FORM = 6.0  # standard uncertainties of all widths together from which the blur is taken to be no Gaussian
_CERTAIN = 4.0  # of its direction


@dataclass(frozen=True)
class _Light:
    """Samples of the light: where they are, in the part's frame, and how dark it is there, (n,); how many are alike."""

    points: Observed
    dark: Array
    alike: float


def through_lens(silhouette: Silhouette, edges: EdgePoints, solution: Solution, *, coded: bool = False) -> Solution:
    """The thread with what is known of the lens; where it is no Gaussian, fitted anew to edges moved to where one would
    have shown them. Blur and thread are found in turns: each is seen wrong as long as the other is.

    ``coded``: as in ``LensBlur``.
    """
    light = _light(silhouette, edges, solution, _PLACES)
    if light is None:
        return solution
    sigma, seen = solution.edge_blur, solution.seen
    x = _with_blur(solution.fit.x, sigma)
    blur = _first_look(light, x, seen)
    if not blur.is_gaussian:  # or the thread is wrong by what noise and blur make of it
        blur = _first_look(light, x, seen, _thread_may_be_wrong(light, x, seen))
    blur = replace(blur, coded=coded)
    if blur.is_gaussian:
        return replace(solution, lens=blur)
    light = _light(silhouette, edges, solution, _MORE_PLACES) or light
    width = solution.prior.sigma.copy()
    width[INDEX["blur"]] = _BLUR_KNOWN * sigma
    prior = Prior(_with_blur(solution.prior.mean, sigma), width)
    for _ in range(_TURNS_SMEARED if blur.one_sided else _TURNS):
        blur = _blur_of(light, x, seen, blur)
        moved = replace(seen, w=seen.w - seen.side * shift_of(x, seen, blur))
        fit = fit_shadow(x, moved, prior, sigma=solution.noise, steps=_STEPS, fixed=("blur",))
        x = fit.x
    forms = choose_forms(fit, moved, prior, solution.noise)
    fit = forms.fit
    rejected = float((np.abs(fit.residual) > OUTLIER * fit.scale).mean())
    return replace(solution, fit=fit, seen=moved, prior=prior, rejected=rejected, lens=blur, other_forms=forms.others)


def _first_look(light: _Light, x: Array, seen: Observed, rises: Array | None = None) -> LensBlur:
    """Whether the blur beside the shadow of ``x`` is a Gaussian, by few of its terms; x may be wrong by ``rises``."""
    columns, narrow = _design(light, x, seen, _LOOKED_AT)
    spread = np.append(_SPREAD_WEIGHTS, np.full(2 * len(_LOOKED_AT), _SPREAD_TERM))
    design = columns if rises is None else np.hstack([columns, rises * _fall(light, x, columns)])
    found, covariance = _least_squares(design, light.dark - narrow, spread, light.alike)
    u = np.sqrt(np.diag(covariance))
    widths, smear, shape = slice(_WIDE), slice(_WIDE + 2, _WIDE + 4), slice(_WIDE + 4, _WIDE + 6)
    precise = np.linalg.inv(covariance[widths, widths])
    # another size of the Gaussian takes from one of its neighbours what it gives the other: that is no other form
    form = found[widths] - _SIZE * (_SIZE @ precise @ found[widths]) / (_SIZE @ precise @ _SIZE)
    certainty = float(np.sqrt(form @ precise @ form))
    directed = bool(np.abs(found[shape]).max() > max(_LEAST_SHAPE, _CERTAIN * u[shape].max()))
    one_sided = bool(np.abs(found[smear]).max() > max(_LEAST_SMEAR, _CERTAIN * u[smear].max()))
    tail = slice(TAILS - 1, _WIDE)
    return LensBlur(
        (1 - float(found[:_WIDE].sum()), *(float(a) for a in found[:_WIDE])),
        is_gaussian=not (directed or one_sided) and (np.abs(form).max() < _LEAST_TAIL or certainty < _CERTAIN_FORM),
        directed=directed,
        one_sided=one_sided,
        tail_u=float(np.sqrt(covariance[tail, tail].sum())),
    )


def _blur_of(light: _Light, x: Array, seen: Observed, before: LensBlur) -> LensBlur:
    """The blur that explains ``light`` beside the shadow of ``x``, whatever x is wrong by a little."""
    terms = () if before.is_round else TERMS
    columns, narrow = _design(light, x, seen, terms or TERMS[:1])
    count = _WIDE + 2 * len(terms)
    shown = [before.one_sided if m % 2 else True for _, m in terms for _ in (0, 1)]
    spread = np.append(_SPREAD_WEIGHTS, _SPREAD_TERM * np.where(shown, 1.0, _ROUND))
    thread = _thread_may_be_wrong(light, x, seen) * _fall(light, x, columns)
    design = np.hstack([columns[:, :count], columns[:, -1:], thread])
    found, covariance = _least_squares(design, light.dark - narrow, spread, light.alike)
    pairs = found[_WIDE:count].reshape(-1, 2)
    return replace(
        before,
        weights=(1 - float(found[:_WIDE].sum()), *(float(a) for a in found[:_WIDE])),
        harmonics=tuple((float(b), float(c)) for b, c in pairs),
        covariance=covariance[:count, :count],
    )


def _thread_may_be_wrong(light: _Light, x: Array, seen: Observed) -> Array:
    """By how much the edge beside each sample rises with each parameter that may be wrong, (n, m)."""
    points = light.points
    z, _ = in_section(x, points)
    _, _, jac = contour(x, z, points.side, seen.centre, starts=seen.starts)
    assert jac is not None
    return np.asarray(jac[list(_FREE)].T)


def _fall(light: _Light, x: Array, columns: Array) -> Array:
    """Change of darkness, (n, 1), where the edge rises by 1, with the narrowest Gaussian, from ``_design``."""
    return np.asarray(columns[:, [_WIDE + 1]] * -light.points.side[:, None] / float(x[INDEX["blur"]]))


def _design(light: _Light, x: Array, seen: Observed, terms: Terms) -> tuple[Array, Array]:
    """What each width and the pairs of ``terms`` add to the darkness of the samples, and the level, (n, ...), to that
    of one Gaussian, (n,).
    """
    sigma = float(x[INDEX["blur"]])
    sharp = _Sharp(x, seen, max(WIDTHS) * sigma)
    z, y = in_section(x, light.points)
    weights, harmonics = _darkness(sharp, z, y, light.points.side, sigma, terms)
    return np.hstack([weights[:, 1:] - weights[:, :1], harmonics, np.ones((z.size, 1))]), weights[:, 0]


def _shifts(
    x: Array, seen: Observed, blur: LensBlur, turns: int = 3, *, derivatives: bool = True
) -> tuple[Array, Array, Array]:
    """How much higher above the axis, mm, the edges stand behind ``blur`` than behind a Gaussian of x's blur, and the
    derivatives by its weights and harmonics: at ``_NODES`` places of a pitch, one edge after the other, and these.

    Without ``derivatives`` those by weights that are 0 are left out.
    """
    pitch, sigma = float(x[INDEX["pitch"]]), float(x[INDEX["blur"]])
    middle = float(seen.u.min() + seen.u.max()) / 2
    z = middle + pitch * (np.arange(_NODES) / _NODES - 0.5)
    both, side = np.tile(z, 2), np.repeat([1.0, -1.0], _NODES)
    plain, _, _ = contour(x, both, side, seen.centre, starts=seen.starts, gradient=False)
    sharp = _Sharp(x, replace(seen, u=z), max(WIDTHS) * sigma)
    terms = TERMS[: len(blur.harmonics)]
    amount = np.concatenate([blur.weights, np.ravel(blur.harmonics)])
    widths = [i for i, weight in enumerate(blur.weights) if weight or derivatives or i in {j for j, _ in terms}]

    def dark(y: Array) -> tuple[Array, Array, Array]:
        weights, harmonics = _darkness(sharp, both, y, side, sigma, terms, widths)
        return np.hstack([weights, harmonics]) @ amount, weights, harmonics

    here, weights, harmonics = dark(plain)
    rate = np.maximum((here - dark(plain + 0.1 * sigma)[0]) / (0.1 * sigma), 0.1 / sigma)
    y = plain + np.clip((here - 0.5) / rate, -sigma, sigma)
    for _ in range(turns - 1):
        here, weights, harmonics = dark(y)
        y = y + np.clip((here - 0.5) / rate, -sigma, sigma)
    by_blur = np.hstack([weights[:, 1:] - weights[:, :1], harmonics]) / rate[:, None]
    return y - plain, by_blur, z


def _spread(x: Array, seen: Observed, z: Array, values: Array) -> Array:
    """``values`` (2 _NODES,) at the places ``z`` of a pitch, for the points of ``seen``."""
    pitch = float(x[INDEX["pitch"]])
    place, out = (seen.u - z[0]) % pitch, np.empty(seen.u.size)
    for sign, part in ((1.0, slice(_NODES)), (-1.0, slice(_NODES, None))):
        on = seen.side == sign
        out[on] = np.interp(place[on], z - z[0], values[part], period=pitch)
    return out


def shift_of(x: Array, seen: Observed, blur: LensBlur, turns: int = 3) -> Array:
    """How much higher above the axis (n,), mm, the edge stands behind ``blur`` than behind a Gaussian of x's blur.

    Worked out over one pitch in the middle of the points, for each edge, and taken as the same for all. The first of
    ``turns`` is within a hundredth where the shift is far smaller than the blur.
    """
    shift, _, z = _shifts(x, seen, blur, turns, derivatives=False)
    return _spread(x, seen, z, shift)


def blur_doubts(solution: Solution) -> list[Array]:
    """How far what is uncertain of the blur may lift the edges, mm (standard uncertainty): its tails, and its form.

    Each edge's flanks of either kind lie across another part of the blur: what its form leaves uncertain is theirs
    alone, a turn about the pitch line, and where it differs by direction a lift.
    """
    x, seen, lens, p = solution.fit.x, solution.seen, solution.lens, solution.parameters
    if lens.is_gaussian:
        return [shift_of(x, seen, A_TAIL, turns=1) * (lens.tail_doubt / A_TAIL.tail)]
    shift, by_blur, z = _shifts(x, seen, lens)
    noise = [_spread(x, seen, z, one) for one in _largest(by_blur @ np.linalg.cholesky(lens.covariance))]
    shift = _spread(x, seen, z, shift) * (LEFT if lens.is_round else LEFT_DIRECTED)
    height, slope, _ = contour(x, seen.u, seen.side, seen.centre, starts=seen.starts, gradient=False)
    turn = TURNED * solution.edge_blur * np.clip(2 * (height - p.pitch_radius) / (p.crest - p.root), -1.0, 1.0)
    turn[np.abs(slope) < _FLANK] = 0.0
    kinds = [(seen.side == side) & (slope * way > 0) for side in (1.0, -1.0) for way in (1.0, -1.0)]
    lifts = [shift] if lens.is_round else [np.where(kind, shift, 0.0) for kind in kinds]
    turns = [np.where(kind, turn, 0.0) for kind in kinds]
    return [*noise, *lifts, *turns, *([turn * (TURNED_CODED / TURNED)] if lens.coded else [])]


def _largest(directions: Array, least: float = 0.05) -> Array:
    """The fewest (m, n) independent directions that say what ``directions`` (n, k) do, to that part of the largest."""
    left, size, _ = np.linalg.svd(directions, full_matrices=False)
    return np.asarray((left * size).T[size > least * size[0]])


class _Sharp:
    """The sharp outline on a fine grid, for heights at many places; of one ridge where all are alike."""

    def __init__(self, x: Array, seen: Observed, sigma: float) -> None:
        reach = float(-_T[0]) * sigma * 1.1
        begin, end = float(seen.u.min()), float(seen.u.max())
        self._pitch = float(x[INDEX["pitch"]])
        self._middle = (begin + end - self._pitch) / 2
        self._alike = end - begin > self._pitch and ridges_repeat(x, seen.u, seen.starts)
        if self._alike:
            begin, end = self._middle, self._middle + self._pitch
        self._first, self._step = begin - reach, float(x[INDEX["blur"]]) / 4
        self._count = int((end + reach - self._first) / self._step) + 2
        grid = self._first + self._step * np.arange(self._count)
        side = np.repeat([1.0, -1.0], self._count)
        self._height, _, _ = outline(x, np.tile(grid, 2), side, seen.centre, starts=seen.starts, gradient=False)
        self._rise = np.diff(self._height, append=0.0)

    def on_ridge(self, z: Array) -> Array:
        """Places of the same height as ``z`` on the one ridge that is known, where all are alike."""
        return z - self._pitch * np.floor((z - self._middle) / self._pitch) if self._alike else z

    def at(self, z: Array, side: Array) -> Array:
        """Heights at the places ``z`` on the edges ``side``, of any shape that fits."""
        part = (z - self._first) / self._step
        cell = np.clip(part.astype(np.intp), 0, self._count - 2)
        part -= cell
        cell += np.where(side > 0, 0, self._count)
        part *= self._rise.take(cell)
        part += self._height.take(cell)
        return np.asarray(part)


def _darkness(
    sharp: _Sharp, z: Array, y: Array, side: Array, sigma: float, terms: Terms, widths: Sequence[int] = _ALL_WIDTHS
) -> tuple[Array, Array]:
    """Darkness at ``z`` along and ``y`` above the axis (n,) under each Gaussian of WIDTHS, (n, k), and the pairs of its
    derivatives of ``terms``, (n, 2 m); ``sigma`` is the standard deviation of the first, mm. 0 for other ``widths``.
    """
    z = sharp.on_ridge(z)
    dark = np.zeros((z.size, len(WIDTHS)))
    found: dict[tuple[int, int], list[Array]] = {}
    for i in widths:
        k = WIDTHS[i]
        v = (sharp.at(z[:, None] + k * sigma * _T, side[:, None]) - y[:, None]) * (1 / (k * sigma))
        orders = [m for width, m in terms if width == i]
        sums = [quick_ndtr(v) @ _POWERS[:, : max(orders, default=0) + 1]]
        dark[:, i] = sums[0][:, 0]
        if not orders:
            continue
        density = np.exp(-0.5 * v * v) * (1 / np.sqrt(2 * np.pi))
        for turns in range(1, max(orders) + 1):
            hermite = (1.0, v, v * v - 1, v * (v * v - 3))[turns - 1]
            # what lies above the axis of the lower edge is below it in the picture
            sums.append((density * hermite) @ _POWERS[:, : 5 - turns] * -(side**turns)[:, None])
        for m in orders:
            found[i, m] = [sum(factor * sums[b][:, a] for a, b, factor in part) for part in _PAIRS[m]]
    pairs = [one for term in terms for one in found[term]]
    return dark, np.stack(pairs, axis=1) if pairs else np.empty((z.size, 0))


def _least_squares(design: Array, target: Array, spread: Array, alike: float) -> tuple[Array, Array]:
    """Coefficients and their covariance, without the samples that fit nowhere; ``spread`` is the standard deviation
    about 0 that the first of them are expected to have, ``alike`` how many samples are worth one.
    """
    squares, products = design.T @ design, design.T @ target
    precision = _STEADY * (np.diag(squares) + 1.0)
    fits = np.ones(target.size, np.bool_)
    found: Array = np.zeros(design.shape[1])
    for _ in range(3):
        left = target - design @ found
        scatter = 1.4826 * float(np.median(np.abs(left)))
        if found.any():
            fits = np.abs(left) < _KEPT * scatter
        away = design[~fits]
        precision[: spread.size] = alike * scatter**2 / spread**2
        normal = squares - away.T @ away + np.diag(precision)
        found = np.asarray(np.linalg.solve(normal, products - away.T @ target[~fits]))
    return found, np.asarray(np.linalg.inv(normal)) * scatter**2 * alike


def _light(silhouette: Silhouette, edges: EdgePoints, solution: Solution, places: int) -> _Light | None:
    """Light in the rows or columns of evenly chosen edge points that fit well."""
    seen, fit = solution.seen, solution.fit
    away = _FROM_END * float(fit.x[INDEX["pitch"]])
    good = (np.abs(fit.residual) < OUTLIER * fit.scale) & (seen.u > seen.u.min() + away)
    index = np.flatnonzero(good & (seen.u < seen.u.max() - away))
    if index.size < _PLACES or solution.chosen.size != seen.u.size:
        return None
    index = index[np.linspace(0, index.size - 1, min(places, index.size)).astype(np.intp)]
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
    light = silhouette.uncut(silhouette.smooth[py, px], np.minimum(outer, inner), np.maximum(outer, inner))
    alike = max(_LIGHTS_ALIKE * silhouette.presmooth_px, 1.0)
    return _Light(points, np.asarray((outer - light) / span, np.float64), alike)


def _with_blur(x: Array, sigma: float) -> Array:
    out = x.copy()
    out[INDEX["blur"]] = sigma
    return out
