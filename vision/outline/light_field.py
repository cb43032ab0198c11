"""Smooth fields of light: how bright the light pad (or the part) is at places where something else is seen.

A light pad falls off toward its rim and a lens toward its corners: over the picture the light is nearly a polynomial of
second degree. That surface is fitted first; what it leaves is averaged locally.
"""

from __future__ import annotations

import numpy as np
import numpy.typing as npt

from vision.shared.opencv import cv2

Array = npt.NDArray[np.float64]
F32 = npt.NDArray[np.float32]

_STIFFNESS = 1e-4  # keeps what the pixels leave open (a thin strip says nothing across itself) from running away
_ROWS = 256  # at a time
_MOST_SAMPLES = 4000  # pixels that the six coefficients of the surface are fitted to


def surface(values: F32, weight: F32) -> F32:
    """The polynomial of second degree in x and y that lies closest to ``values`` where ``weight`` > 0.5.

    Args:
        values: (height, width) light.
        weight: (height, width) what counts.

    Returns:
        (height, width), the surface everywhere; 0 where nothing counts.
    """
    height, width = values.shape
    counts = np.flatnonzero(weight > 0.5)
    if counts.size == 0:
        return np.zeros_like(values)
    ys, xs = np.divmod(counts[:: max(1, counts.size // _MOST_SAMPLES)], width)
    scale = max(float(np.ptp(xs)), float(np.ptp(ys)), 8.0) / 2
    x0, y0 = float(xs.mean()), float(ys.mean())
    x, y = (xs - x0) / scale, (ys - y0) / scale
    design = np.stack([np.ones_like(x), x, y, x * x, x * y, y * y], axis=1)
    normal = design.T @ design / x.size + _STIFFNESS * np.diag([0.0, 1, 1, 1, 1, 1])
    c = np.linalg.solve(normal, design.T @ values[ys, xs].astype(np.float64) / x.size)
    u, v = (np.arange(width) - x0) / scale, (np.arange(height) - y0)[:, None] / scale
    out = np.empty(values.shape, np.float32)
    along = (c[0] + c[1] * u + c[3] * u * u).astype(np.float32)
    down, lean, u = (each.astype(np.float32) for each in (c[2] * v + c[5] * v * v, c[4] * v, u))
    for row in range(0, height, _ROWS):
        rows = slice(row, row + _ROWS)
        np.multiply(lean[rows], u, out=out[rows])
        out[rows] += along
        out[rows] += down[rows]
    return out


def local_field(values: F32, weight: F32) -> F32:
    """``values`` where ``weight`` is, carried on over the places where it is not.

    The surface of second degree, and on it what it leaves, averaged over a few cells where enough of them count and
    over more where few do.

    Args:
        values: (height, width) mean light of the cells, anything where ``weight`` is 0.
        weight: (height, width) 0..1, how much of each cell counts.
    """
    base = surface(values, weight)
    rest = values - base
    rest *= weight
    field = np.zeros_like(base)
    for sigma in (10.0, 4.0):
        w, v = _averaged(weight, sigma), _averaged(rest, sigma)
        trust = w / (w + np.float32(0.02))
        # trust v / w + (1 - trust) field, with no more memory than there is
        v *= trust
        v /= np.maximum(w, np.float32(1e-9), out=w)
        np.subtract(1, trust, out=trust)
        field *= trust
        field += v
    base += field
    return base


def _averaged(values: F32, sigma: float) -> F32:
    """``values`` under a Gaussian of ``sigma`` cells, taken on a picture of half the size: what is left is smooth."""
    height, width = values.shape
    half = cv2.resize(values, ((width + 1) // 2, (height + 1) // 2), interpolation=cv2.INTER_AREA)
    smooth = cv2.GaussianBlur(half, (0, 0), sigma / 2)
    return np.asarray(cv2.resize(smooth, (width, height), interpolation=cv2.INTER_LINEAR), np.float32)
