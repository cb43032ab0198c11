"""Flanks that are softer than crests: by the lens, which blurs what lies out of focus, or by light that they mirror.

On a thread the flanks' outline lies z = p cot(a) / (2 pi) before and behind the axis (crests lie in its plane), where a
lens that takes in a cone of half angle NA blurs a point to a disc of radius NA z: the variance along the normal grows
by (NA z / 2)^2. A band w = rho A^2 / 8 inside the edge that mirrors the part f of the light adds f (1 - f) w^2
(``vision.model.grazing``); on crests w is sin(a) times as wide. Both are derived here. Where nobody states the opening,
the crests tell the least that it can be: no lens draws an edge sharper than diffraction does.

Nothing is said where the blur of the lens differs by direction as no light does (``vision.model.lens``): between flanks
that lean one way and the other, or by more than the widest lens and light.
What is left is light. It widens U95 until polish in the cone that it shows is in reach; where a cone was stated that
does not explain it, a warning says so. It is not corrected: a lens of unknown opening looks the same. Of the growth by
such a lens half is taken out, less where the noise of the picture may have made the flanks look softer: noise makes no
blur below none, so that taking out what it shows would make noisy threads too small.
"""

from __future__ import annotations

import math
from dataclasses import replace

import numpy as np
import numpy.typing as npt

from threads.shared.refusal import Reason
from vision.fit.budget import inverse_of, scale_direction
from vision.fit.limits import LIMITS
from vision.fit.solve import Solution
from vision.locate.frame import Frame
from vision.model.blurred import contour
from vision.model.grazing import OPENING_RELATIVE_U, REFLECTIVITY, Mirror
from vision.model.lens import AIRY_MM
from vision.model.shadow import INDEX
from vision.outline.edges import EdgePoints
from vision.outline.silhouette import own_blur
from vision.shared.correlation import correlation_length
from vision.shared.robust import MEDIAN_U, OUTLIER, robust_scale

Array = npt.NDArray[np.float64]

_TOLERANCE = 0.015
"""Of the crests' variance: what flanks and crests differ by without light (drawn and traced pictures: 0.01)."""
_STUDENT = (13.97, 4.53, 3.31, 2.87, 2.65, 2.52, 2.43, 2.37, 2.32, 2.28)
"""Student's t for 95.45 % by degrees of freedom, from 1 (JCGM 100:2008, table G.2)."""
_APART = 0.1  # pitches between points of one crest or flank and of the next
_LEAST_OF_ONE = 0.3  # of the usual number of points: a crest or flank that shows less of itself says little
_CERTAIN = 2.0  # standard uncertainties of the flanks' excess within which it may be noise
_DOUBTED = 2.6  # tolerances from which a warning says so
_SENSOR_UM, _FASTEST = 6.0, 2.8
"""Pixel of a sensor, at most, and f-number of a lens that draws near things sharp, at least (workshop assumption)."""
_MOST_LEANING = 0.6
"""Of the flanks' excess: a part that lies off the plane of focus by a third of the flanks' depth makes those that lean
one way so much softer than the others; the blur of a lens that differs by direction makes them more."""


def allowing_for_soft_flanks(
    mirror: Mirror, edges: EdgePoints, solution: Solution, presmooth_px: float, opening: float | None
) -> tuple[Mirror, tuple[Reason, ...]]:
    """``mirror`` as wide as the edges ask for, and the warning light_differs where a stated cone does not explain them.

    Args:
        mirror: what is known of the light.
        edges: those behind the points of the fit.
        solution: the fitted thread.
        presmooth_px: blur that was added before the edges were found, px.
        opening: numerical aperture of the lens, if stated.
    """
    found = None if solution.lens.has_coma else flank_excess(edges, solution)
    if found is None:
        return mirror, ()
    excess, u, crest_px = found
    p = solution.parameters
    mm = solution.seen.px_mm
    flank = (p.flank_right + p.flank_left) / 2
    if _leaning(solution, flank) > _MOST_LEANING * max(excess, 0.0):
        return mirror, ()
    depth = solution.seen.starts * p.pitch / (2 * float(np.pi)) / float(np.tan(flank))
    slack = float(np.hypot(_TOLERANCE * (crest_px * mm) ** 2, _CERTAIN * u))
    seen = 2 * float(np.sqrt(max(excess, 0.0))) / depth
    if opening is None and not solution.lens.is_round and seen > widest_opening(1000 * mm):
        return mirror, ()
    if opening is None:
        sharp = own_blur(crest_px, presmooth_px) * mm
        mirror = _grown(mirror, seen, max(1 - (_CERTAIN * u / excess) ** 2, 0.0) if excess > 0 else 0.0)
        opening = min(AIRY_MM / sharp, seen) if sharp > 0 else seen
    else:
        slack = float(np.hypot(slack, 2 * OPENING_RELATIVE_U * (opening * depth / 2) ** 2))
    left = (excess - slack - (opening * depth / 2) ** 2) / float(np.cos(flank)) ** 2
    if left <= 0:
        return mirror, ()
    rho = p.pitch_radius / float(np.sin(flank))
    band = float(np.sqrt(left / (REFLECTIVITY * (1 - REFLECTIVITY))))
    if mirror.most_deg is not None:  # what is left beyond it is no light
        band = min(band, rho * float(np.radians(mirror.most_deg)) ** 2 / 8)
    most = REFLECTIVITY * band / rho
    wider = (most - mirror.recession) / 2
    cone = float(np.degrees(np.sqrt(8 * band / rho)))
    # of a stated cone all surfaces are allowed: half the light mirrored softens most
    explained = 0.25 * (rho * float(np.radians(mirror.cone_deg)) ** 2 / 8) ** 2
    if mirror.stated and left > explained + (_DOUBTED - 1) * slack:
        return _widened(mirror, wider), (Reason("light_differs", cone_deg=cone, stated_deg=mirror.cone_deg),)
    if mirror.stated:
        return _widened(mirror, wider) if left > explained else mirror, ()
    if cone <= mirror.cone_deg:
        return mirror, ()
    return replace(_widened(mirror, wider), cone_deg=cone), ()


def widest_opening(um_per_px: float) -> float:
    """Numerical aperture that no lens exceeds at this scale unless stated: m / (2 N (1 + m)), m the magnification.

    >>> [round(widest_opening(scale), 3) for scale in (2.0, 4.0, 8.0)]
    [0.134, 0.107, 0.077]
    """
    magnification = _SENSOR_UM / um_per_px
    return magnification / (2 * _FASTEST * (1 + magnification))


def _leaning(solution: Solution, flank: float) -> float:
    """Half of the variance (mm^2) by which flanks that lean one way in the picture are softer than the others."""
    lens = solution.lens
    if lens.is_gaussian:
        return 0.0
    # normals of flanks lie so far from the axis, to both sides of it
    return abs(lens.across(flank) ** 2 - lens.across(-flank) ** 2) / 2 * solution.edge_blur**2


def flank_excess(edges: EdgePoints, solution: Solution) -> tuple[float, float, float] | None:
    """By how much the flanks' edges are softer than the crests' (variance, mm^2), its standard uncertainty by the
    scatter of the points, and the blur of the crests, px.

    None where too little of either is in view.
    """
    seen, p, x = solution.seen, solution.parameters, solution.fit.x
    height = np.abs(seen.w - x[INDEX["offset"]] - seen.u * x[INDEX["rotation"]])
    angle = solution.frame.angle
    across = np.abs(np.sin(angle) * edges.normal[:, 0] - np.cos(angle) * edges.normal[:, 1])
    good = np.abs(solution.fit.residual) < OUTLIER * solution.fit.scale
    flank = good & (np.abs(height - p.pitch_radius) < LIMITS.soft_flank * (p.crest - p.root))
    crest = (
        good
        & (np.abs(height - p.crest * (1 - seen.recession)) < LIMITS.soft_crest[0] * seen.px_mm)
        & (across > LIMITS.soft_crest[1])
    )
    if flank.sum() < LIMITS.soft_points[0] or crest.sum() < LIMITS.soft_points[1]:
        return None
    typical = (_typical(edges.blur_px[each], seen.u[each], p.pitch) for each in (flank, crest))
    (flanks_px, flanks_u), (crests_px, crests_u) = typical
    u = 2 * float(np.hypot(flanks_px * flanks_u, crests_px * crests_u))
    return (flanks_px**2 - crests_px**2) * seen.px_mm**2, u * seen.px_mm**2, crests_px


def _typical(blur: Array, u: Array, pitch: float) -> tuple[float, float]:
    """Median of blurs in their order along the outline, at ``u`` along the axis, and its standard uncertainty.

    That is by the scatter of the points, or by that of the medians of single crests or flanks where it is larger.
    """
    middle = float(np.median(blur))
    alike = correlation_length(blur)
    by_points = MEDIAN_U * robust_scale(blur - middle) * float(np.sqrt(alike / blur.size))
    each = np.split(blur, np.flatnonzero(np.abs(np.diff(u)) > _APART * pitch) + 1)
    medians = [float(np.median(one)) for one in each if one.size > _LEAST_OF_ONE * blur.size / len(each)]
    if len(medians) < 2:
        return middle, by_points
    return middle, max(by_points, float(np.std(medians, ddof=1)) / math.sqrt(len(medians)) * student(len(medians) - 1))


def student(freedom: int) -> float:
    """What two standard uncertainties must be multiplied with that were found with so few degrees of freedom."""
    return _STUDENT[freedom - 1] / 2 if freedom <= len(_STUDENT) else 1 + 1.4 / freedom


def _grown(mirror: Mirror, opening: float, certain: float) -> Mirror:
    """A lens not stated, of up to this opening: half its growth taken out, and U95 reaches none and all of it; of a
    growth of which only this part is ``certain``, half of that.
    """
    half = opening**2 / 16
    pins = half if mirror.round_gauges else 0.0
    return replace(
        mirror,
        recession=mirror.recession - certain * half,
        scale_excess=mirror.scale_excess - certain * pins,
        opening_u=half,
        pins_opening_u=pins,
    )


def relit(solution: Solution, before: Mirror, after: Mirror) -> Solution:
    """The fit of ``solution`` as it would be with ``after`` instead of ``before``, to first order."""
    if after.recession == before.recession and after.scale_excess == before.scale_excess:
        return solution
    fit, seen = solution.fit, solution.seen
    height, slope, _ = contour(fit.x, seen.u, seen.side, seen.centre, starts=seen.starts, gradient=False)
    pull = inverse_of(fit.normal_matrix) @ (fit.jacobian * fit.weight)
    part = -pull @ (height * np.sqrt(1 + slope**2)) * (after.recession - before.recession)
    grow = 1 - (after.scale_excess - before.scale_excess)
    x = fit.x + part + scale_direction(solution) * (grow - 1)
    u, w = seen.centre
    return replace(
        solution,
        fit=replace(fit, x=x),
        seen=replace(
            seen,
            u=seen.u * grow,
            w=seen.w * grow,
            centre=(u * grow, w * grow),
            px_mm=seen.px_mm * grow,
            recession=after.recession,
        ),
        frame=Frame((solution.frame.origin[0] * grow, solution.frame.origin[1] * grow), solution.frame.angle),
        start=solution.start * grow,
        end=solution.end * grow,
    )


def _widened(mirror: Mirror, surface_u: float) -> Mirror:
    return replace(mirror, surface_u=max(mirror.surface_u, surface_u))
