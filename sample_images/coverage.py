"""Exact area coverage: how much of each pixel lies inside a polygon."""

from __future__ import annotations

import numpy as np
import numpy.typing as npt

Array = npt.NDArray[np.float64]


def polygon_coverage(points: Array, width: int, height: int) -> Array:
    """Fraction of each pixel's square that lies inside a polygon, to rounding error.

    Derived here: going along the outline, each bit of an edge within one pixel adds its rise to the cover of all
    pixels to the right, and the strip between itself and the pixel's right border to the pixel itself. The edges are
    cut at the pixel borders, the bits are summed per pixel, and a running sum along each row gives the coverage.

    Args:
        points: (n, 2) corners x, y in pixels, pixel centres at integers; the polygon closes itself. It may leave the
            picture. Either sense of turning; it must not cross itself.
        width: of the picture, in pixels.
        height: of the picture, in pixels.

    Returns:
        (height, width) array, 0 outside to 1 inside.
    """
    p = np.asarray(points, dtype=float) + 0.5  # pixel i now spans i to i + 1
    x0, y0 = p[:, 0], p[:, 1]
    x1, y1 = np.roll(x0, -1), np.roll(y0, -1)
    x0, y0, x1, y1 = _cut(x0, y0, x1, y1, along_y=True)
    inside = (np.maximum(y0, y1) > 0) & (np.minimum(y0, y1) < height) & (y0 != y1)
    x0, y0, x1, y1 = (a[inside] for a in (x0, y0, x1, y1))
    # Beyond the left border only the rise counts, beyond the right border nothing does.
    left_of = (x0 < 0) & (x1 < 0)
    x0, x1 = np.where(left_of, -0.5, x0), np.where(left_of, -0.5, x1)
    x0, y0, x1, y1 = _cut(x0, y0, x1, y1, along_y=False)
    row = np.floor((y0 + y1) / 2).astype(np.int64)
    middle = (x0 + x1) / 2
    column = np.floor(middle).astype(np.int64)
    rise = y1 - y0
    keep = (row >= 0) & (row < height) & (column < width)
    row, column, middle, rise = row[keep], column[keep], middle[keep], rise[keep]
    share = np.where(column < 0, 0.0, middle - column)  # of the pixel's width that lies left of the edge
    column = np.maximum(column, 0)
    stride = width + 1
    cell = row * stride + column
    size = height * stride
    total = np.bincount(cell, rise * (1 - share), size) + np.bincount(cell + 1, rise * share, size + 1)[:size]
    covered = np.cumsum(total.reshape(height, stride), axis=1)[:, :width]
    area = float(np.sum(p[:, 0] * np.roll(p[:, 1], -1) - np.roll(p[:, 0], -1) * p[:, 1]))
    result: Array = np.clip(covered if area < 0 else -covered, 0.0, 1.0)
    return result


def _cut(x0: Array, y0: Array, x1: Array, y1: Array, *, along_y: bool) -> tuple[Array, Array, Array, Array]:
    """Cut edges where they cross integer y (or x)."""
    a0, a1 = (y0, y1) if along_y else (x0, x1)
    low, high = np.minimum(a0, a1), np.maximum(a0, a1)
    crossings = np.maximum(np.ceil(high) - np.floor(low) - 1, 0).astype(np.int64)
    bits = crossings + 1
    edge = np.repeat(np.arange(len(a0)), bits)
    number = np.arange(len(edge)) - np.repeat(np.cumsum(bits) - bits, bits)
    span = np.where(a1 == a0, 1.0, a1 - a0)[edge]
    rising = (a1 >= a0)[edge]
    base = np.where(rising, np.floor(a0[edge]), np.ceil(a0[edge]))
    sense = np.where(rising, 1.0, -1.0)
    t0 = np.where(number == 0, 0.0, (base + sense * number - a0[edge]) / span)
    t1 = np.where(number == crossings[edge], 1.0, (base + sense * (number + 1) - a0[edge]) / span)
    dx, dy = (x1 - x0)[edge], (y1 - y0)[edge]
    return x0[edge] + t0 * dx, y0[edge] + t0 * dy, x0[edge] + t1 * dx, y0[edge] + t1 * dy
