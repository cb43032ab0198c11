"""The one sub-pixel edge finder: where the light along the normal of an outline passes half-way.

For each pixel of the outline a short profile is sampled along the local normal (cubic interpolation of a picture that
is smooth on the scale of a pixel: error below 0.005 px) and the crossing of the half level between the local light of
background and part is found by inverse interpolation. Half-way is kept by any symmetric blur on a straight edge; on a
corner it is the contour that vision/blurred.py predicts.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from vision.opencv import cv2
from vision.silhouette import Silhouette, sample

Array = npt.NDArray[np.float64]

_REACH = 3.0  # px to each side of the mask's outline that are searched
_STEP = 0.5


@dataclass(frozen=True)
class EdgePoints:
    """Edge points in order along the outline.

    Attributes:
        xy: (n, 2) position in px (pixel centres are integers).
        normal: (n, 2) unit normal, pointing out of the part.
        steepness: (n,) darkness per px at the edge; 1 / (sqrt(2 pi) sigma) for a straight edge blurred by sigma.
    """

    xy: Array
    normal: Array
    steepness: Array

    @property
    def blur_px(self) -> Array:
        """Standard deviation of the blur that each point's steepness stands for, px."""
        return np.asarray(1.0 / (np.sqrt(2 * np.pi) * np.maximum(self.steepness, 1e-3)))

    def select(self, keep: npt.NDArray[np.bool_] | npt.NDArray[np.intp]) -> EdgePoints:
        """The points that ``keep`` picks."""
        return EdgePoints(self.xy[keep], self.normal[keep], self.steepness[keep])


def _inside(pixels: npt.NDArray[np.int32], shape: tuple[int, ...]) -> npt.NDArray[np.int32]:
    """Outline pixels that are no part of the picture's border."""
    margin = 4
    keep = (
        (pixels[:, 0] >= margin)
        & (pixels[:, 0] < shape[1] - margin)
        & (pixels[:, 1] >= margin)
        & (pixels[:, 1] < shape[0] - margin)
    )
    return np.asarray(pixels[keep], np.int32)


def find_edges(silhouette: Silhouette, pixels: npt.NDArray[np.int32] | None = None) -> EdgePoints:
    """Sub-pixel edge points on the outline of the part (or at the given outline ``pixels``, (n, 2)).

    Points where no crossing is found within 3 px are left out.
    """
    if pixels is None:
        pixels = _inside(silhouette.outline, silhouette.smooth.shape)
    image = silhouette.smooth
    x = pixels[:, 0].astype(np.float64)
    y = pixels[:, 1].astype(np.float64)
    xi, yi = pixels[:, 0], pixels[:, 1]
    # gradient over +-2 px: along the outline's normal whatever its direction
    gx = np.zeros(x.size)
    gy = np.zeros(x.size)
    height, width = image.shape
    for dx, dy, wgt in _GRADIENT:
        v = image[np.clip(yi + dy, 0, height - 1), np.clip(xi + dx, 0, width - 1)].astype(np.float64)
        gx += wgt * dx * v
        gy += wgt * dy * v
    norm = np.hypot(gx, gy)
    sign = 1.0 if silhouette.bright_background else -1.0
    norm = np.maximum(norm, 1e-12)
    nx, ny = sign * gx / norm, sign * gy / norm
    t = np.arange(-_REACH, _REACH + _STEP / 2, _STEP)
    profile = sample(image, x[:, None] + nx[:, None] * t, y[:, None] + ny[:, None] * t, cv2.INTER_CUBIC)
    outer, inner = silhouette.level(x, y)
    span = outer - inner
    dark = (outer[:, None] - profile) / np.where(np.abs(span) < 1e-6, 1e-6, span)[:, None] - 0.5
    # the crossing from part (dark > 0) to background that is nearest to the outline pixel
    crossing = (dark[:, :-1] > 0) & (dark[:, 1:] <= 0)
    mid = np.abs(t[:-1] + _STEP / 2)
    cost = np.where(crossing, mid, np.inf)
    cell = np.argmin(cost, axis=1)
    found = np.isfinite(cost[np.arange(x.size), cell])
    cell = np.clip(cell, 1, t.size - 3)
    rows = np.arange(x.size)
    d = np.stack([dark[rows, cell + j] for j in (-1, 0, 1, 2)], axis=1).astype(np.float64)
    f, rate = _cubic_crossing(d)
    where = t[cell] + f * _STEP
    steep = -rate / _STEP
    good = found & (steep > 0.02) & np.isfinite(where)
    xy = np.stack([x + nx * where, y + ny * where], axis=1)
    return EdgePoints(xy[good], np.stack([nx, ny], axis=1)[good], steep[good])


_GRADIENT = tuple(
    (dx, dy, float(np.exp(-0.5 * (dx * dx + dy * dy) / 1.5**2)))
    for dx in range(-3, 4)
    for dy in range(-3, 4)
    if 0 < dx * dx + dy * dy <= 10
)


def _cubic_crossing(d: Array) -> tuple[Array, Array]:
    """Where the cubic through four equidistant samples is zero between the two in the middle (0..1), and its slope."""
    c0 = d[:, 1]
    c1 = -d[:, 0] / 3 - d[:, 1] / 2 + d[:, 2] - d[:, 3] / 6
    c2 = d[:, 0] / 2 - d[:, 1] + d[:, 2] / 2
    c3 = -d[:, 0] / 6 + d[:, 1] / 2 - d[:, 2] / 2 + d[:, 3] / 6
    f = np.clip(d[:, 1] / np.where(np.abs(d[:, 1] - d[:, 2]) < 1e-12, 1e-12, d[:, 1] - d[:, 2]), 0, 1)
    for _ in range(3):
        value = c0 + f * (c1 + f * (c2 + f * c3))
        rate = c1 + f * (2 * c2 + 3 * f * c3)
        rate = np.where(np.abs(rate) < 1e-9, -1e-9, rate)
        f = np.clip(f - value / rate, -0.2, 1.2)
    return f, c1 + f * (2 * c2 + 3 * f * c3)
