"""The chamfer at the end of a thread: a cone that cuts the first threads off, seen only where they reach it."""

from __future__ import annotations

import numpy as np
import numpy.typing as npt

from vision.part.axis_view import AxisView
from vision.part.limits import LIMITS
from vision.part.piece_fit import FittedPiece, upright_cone
from vision.part.sections import ThreadSpan
from vision.shared.correlation import correlation_length
from vision.shared.robust import fit_linear

Array = npt.NDArray[np.float64]

_ANGLES_DEG = np.arange(12.0, 79.0, 1.0)  # of the cone against the axis
_NEAR_PX = 0.8  # of its line: points of it
_ALIKE_DEG = 7.0  # of its direction: points that face as it does
_LEAST_POINTS = 6  # on each edge
_LEAST_SCALE_PX = 0.02  # what the edge finder scatters on a clean picture


def thread_chamfer(view: AxisView, thread: ThreadSpan, end: float, *, right: bool) -> FittedPiece | None:
    """The chamfer at the end face ``end`` (px along u), or None where the outline does not show one.

    It is the cone, of any angle from 12 to 78 deg, that touches the outline of the end from outside in the most points:
    of both edges, since a flank that runs out into the end face stands on one of them only.
    """
    u, w = view.points[:, 0], view.points[:, 1]
    inward = (end - u) if right else (u - end)
    height = np.abs(w)
    beyond, least = LIMITS.chamfer_zone
    zone = (inward > -beyond) & (inward < 2 * thread.pitch)
    zone &= (height > least * thread.crest) & (height < thread.crest + 1)
    if zone.sum() < 2 * _LEAST_POINTS:
        return None
    v, h, upper = inward[zone], height[zone], w[zone] > 0
    outward = view.normal[zone, 0] if right else -view.normal[zone, 0]
    facing = np.degrees(np.arctan2(outward, np.abs(view.normal[zone, 1])))
    best: tuple[int, npt.NDArray[np.bool_]] | None = None
    for angle in _ANGLES_DEG:
        across = h * np.cos(np.radians(angle)) - v * np.sin(np.radians(angle))
        alike = np.abs(facing - angle) < _ALIKE_DEG
        if alike.sum() < 2 * _LEAST_POINTS:
            continue
        on = alike & (across > across.max() - 2 * _NEAR_PX)
        count = min(int((on & upper).sum()), int((on & ~upper).sum()))
        if count >= _LEAST_POINTS and (best is None or on.sum() > best[0]):
            best = int(on.sum()), on
    if best is None:
        return None
    on = best[1]
    return _fitted(u[zone][on], h[on], v[on], thread, float(view.oblique[zone][on].mean()), view.nearness)


def _fitted(u: Array, h: Array, v: Array, thread: ThreadSpan, oblique: float, nearness: float) -> FittedPiece | None:
    middle = float(u.mean())
    design = np.stack([np.ones_like(u), u - middle], axis=1)
    fit = fit_linear(design, h, least=_LEAST_SCALE_PX)
    keep, miss, coef = fit.used, fit.residual, fit.coefficients
    order = np.argsort(v[keep])
    scatter = float(np.mean(miss[keep] ** 2)) * correlation_length(miss[keep][order])
    cov = np.linalg.inv(design[keep].T @ design[keep]) * scatter
    face = coef[0] + coef[1] * (u[np.argmin(v)] - middle)
    if not 0.5 * thread.crest < face < thread.crest:
        return None
    radius, slope, unsure = upright_cone(float(coef[0]), float(coef[1]), oblique, nearness)
    noise = np.sqrt(np.diag(cov))
    return FittedPiece(
        middle=middle,
        radius=radius,
        slope=slope,
        radius_noise=float(np.hypot(noise[0], radius * unsure)),
        slope_noise=float(np.hypot(noise[1], slope * unsure)),
        bend=0.0,
        bend_noise=0.0,
        start=float(u.min()),
        end=float(u.max()),
    )
