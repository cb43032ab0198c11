"""Flat or round: whether another form of crest or root explains small corners as well as the one that was fitted.

From a sharp corner to a full arc the fit has to cross a hill, so that it may end on the wrong side; and where an arc is
only a few blur widths large, both sides may explain the picture. Then both are kept: what they differ by is uncertain.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from vision.fit.marquardt import Observed, Prior, ShadowFit, fit_shadow
from vision.fit.misfit import misfit
from vision.model.shadow import INDEX, LEAST_CORNER, full_radii

Array = npt.NDArray[np.float64]

SMALL_BLURS = 6.0
"""A full arc with a radius of less than so many blur widths is small enough to be looked at again."""
_TIE = 25.0
"""Chi squared by which another form may fit worse and still be possible: noise alone would leave 4."""
_POINTS = 2000  # of the outline on which the forms are compared
_GRID = 0.25
"""Of the contour, in units of the blur: on the usual one an arc of a few steps comes out wrong by more than noise."""


@dataclass(frozen=True)
class Forms:
    """The best fit, and the parameters of other forms that fit nearly as well."""

    fit: ShadowFit
    others: tuple[Array, ...]


def choose_forms(fit: ShadowFit, seen: Observed, prior: Prior, sigma: float) -> Forms:
    """Try crest and root the other way round where they are small; one fit to few points each."""
    flips = [
        name
        for name, full in zip(("crest_corner", "root_corner"), full_radii(fit.x), strict=True)
        if full < SMALL_BLURS * fit.x[INDEX["blur"]]
    ]
    if not flips:
        return Forms(fit, ())
    few = seen.select(np.unique(np.linspace(0, seen.u.size - 1, min(_POINTS, seen.u.size)).astype(int)))
    many = seen.u.size / few.u.size  # what a chi squared of few points is worth for all
    here = fit_shadow(fit.x, few, prior, sigma=sigma, steps=6, grid=_GRID)
    ways = [flips[:1], flips[1:], flips] if len(flips) == 2 else [flips]
    starts = (_flipped(here.x, names) for names in ways)
    tried = [here, *(fit_shadow(x, few, prior, sigma=sigma, steps=12, grid=_GRID) for x in starts)]
    scale = min(f.scale for f in tried)
    worth = [many * misfit(f, prior, scale) for f in tried]
    best = int(np.argmin(worth))
    others = tuple(f.x for f, w in zip(tried, worth, strict=True) if w < worth[best] + _TIE and f is not tried[best])
    fit = fit_shadow(tried[best].x, seen, prior, sigma=sigma, steps=10, grid=_GRID)
    return Forms(fit, others)


def _flipped(x: Array, names: list[str]) -> Array:
    """``x`` with the corners ``names`` sharp where they were round and round where they were sharp."""
    x = x.copy()
    crest, root = full_radii(x)
    for name, full, level in (("crest_corner", crest, "crest"), ("root_corner", root, "root")):
        if name not in names:
            continue
        sharp = x[INDEX[name]] < 0.5 * full
        # a full arc reaches less far than the flat that the same blurred picture shows
        x[INDEX[name]] = 0.95 * full if sharp else LEAST_CORNER
        step = 0.3 * x[INDEX["blur"]] * (1 if sharp else -1)
        x[INDEX[level]] += step if level == "crest" else -step
    return x
