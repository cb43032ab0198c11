"""Lens distortion from the gauges' own edges: a pin is straight, so what bends its two edges apart is the lens.

A bent pin bends both edges the same way; radial distortion bends them in opposite ways, in proportion to their
distance from the middle of the picture. That tells the two apart (the plumb-line idea of Brown, "Close-range camera
calibration", Photogrammetric Engineering 37, 855-866, 1971).
"""

from __future__ import annotations

import math
from collections.abc import Sequence

import numpy as np
import numpy.typing as npt

from vision.gauges.pin import PinReading
from vision.shared.robust import fit_linear

Array = npt.NDArray[np.float64]

_BINS = 40
_LEAST_CORNER_PX = 0.3
"""A distortion that moves the corners by less than this is left alone."""


def radial_distortion(readings: Sequence[PinReading]) -> tuple[float, float]:
    """Radial distortion k1 of ``calib.lens`` and its standard uncertainty from the edges of one or more pins.

    Linear least squares over means of stretches of each edge: offset and direction of each edge (a pin that leans
    toward a near camera is seen wider at one end), bend of each pin, one k1 for all. Returns (0.0, inf) when the edges
    are too short or too near the middle to tell.
    """
    rows: list[Array] = []
    seen: list[Array] = []
    columns = 1 + 5 * len(readings)
    for i, reading in enumerate(readings):
        centre = np.array([(reading.width_px - 1) / 2, (reading.height_px - 1) / 2])
        radius = math.hypot(reading.width_px, reading.height_px) / 2
        c, s = math.cos(math.radians(reading.angle_deg)), math.sin(math.radians(reading.angle_deg))
        d = reading.edges - centre
        u, w = (c * d[:, 0] + s * d[:, 1]) / radius, (s * d[:, 0] - c * d[:, 1]) / radius
        for edge, sign in enumerate((1.0, -1.0)):
            on = reading.side == sign
            mean_u, mean_w = _means(u[on], w[on])
            block = np.zeros((mean_u.size, columns))
            block[:, 0] = mean_w * (mean_u**2 + mean_w**2)
            first = 1 + 5 * i
            block[:, first + edge] = 1.0
            block[:, first + 2 + edge] = mean_u
            block[:, first + 4] = mean_u**2
            rows.append(block)
            seen.append(mean_w)
    design, target = np.concatenate(rows), np.concatenate(seen)
    freedom = target.size - columns
    if freedom < 20:
        return 0.0, math.inf
    fit = fit_linear(design, target, least=1e-12)
    normal = (design * fit.weight[:, None]).T @ design
    variance = float(np.sum(fit.weight * fit.residual**2)) / freedom
    scale = np.sqrt(np.maximum(np.diag(normal), 1e-30))
    inverse = np.linalg.pinv(normal / np.outer(scale, scale), hermitian=True) / np.outer(scale, scale)
    return float(fit.coefficients[0]), math.sqrt(max(variance * float(inverse[0, 0]), 0.0))


def worth_correcting(k1: float, uncertainty: float) -> bool:
    """Whether the distortion is beyond doubt and large enough to matter, given for a radius of one half diagonal."""
    return abs(k1) > 5 * uncertainty and abs(k1) * 1000 > _LEAST_CORNER_PX


def _means(u: Array, w: Array) -> tuple[Array, Array]:
    """Means over stretches of equal length along an edge, those with few points left out."""
    cell = np.clip(((u - u.min()) / max(float(np.ptp(u)), 1e-12) * _BINS).astype(int), 0, _BINS - 1)
    count = np.bincount(cell, minlength=_BINS)
    ok = count >= 5
    return (
        np.bincount(cell, weights=u, minlength=_BINS)[ok] / count[ok],
        np.bincount(cell, weights=w, minlength=_BINS)[ok] / count[ok],
    )
