"""The one sub-pixel edge finder: where the light along the normal of an outline passes half-way.

The contour of half the light is looked for along the row or column of pixels that crosses the outline more steeply, so
that nothing is interpolated across the grid: six neighbouring pixels of the smoothed picture, the polynomial through
them, its crossing of the half level between the local light of background and part. (A crossing of a contour is on the
contour in whichever direction it is found. Interpolation error below 0.002 px for blurs of 1.1 px and more, smoothing
included; measured in tests/vision/outline/test_edges.py.) Half-way is kept by any symmetric blur on a straight edge; on
a corner it is the contour that vision/model/blurred.py predicts.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from vision.outline.limits import LIMITS
from vision.outline.silhouette import Silhouette

Array = npt.NDArray[np.float64]
F32 = npt.NDArray[np.float32]
Ints = npt.NDArray[np.signedinteger]

_REACH = 3  # px to each side of the outline's pixel that are searched


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
        """Standard deviation of the blur at each point, from the steepness there, px."""
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
    xi, yi = pixels.T.astype(np.intp)
    # gradient over +-2 px: along the outline's normal whatever its direction
    gx, gy = (_GRADIENT @ _around(image, xi, yi, *_NEAR)).astype(np.float64)
    norm = np.hypot(gx, gy)
    sign = 1.0 if silhouette.bright_background else -1.0
    norm = np.maximum(norm, 1e-12)
    nx, ny = sign * gx / norm, sign * gy / norm
    along_x = np.abs(nx) >= np.abs(ny)
    component = np.where(along_x, nx, ny)
    toward = np.where(component >= 0, 1, -1)
    dx = np.asarray(np.where(along_x, toward, 0))
    dy = np.asarray(np.where(along_x, 0, toward))
    t = np.arange(-_REACH - 2, _REACH + 4)
    profile = _around(image, xi, yi, dx * t[:, None], dy * t[:, None]).T
    outer, inner = silhouette.level(x, y)
    span = outer - inner
    dark = (outer[:, None] - profile) / np.where(np.abs(span) < 1e-6, 1e-6, span)[:, None] - 0.5
    # the crossing from part (dark > 0) to background that is nearest to the outline pixel
    inner_cells = slice(2, t.size - 3)
    crossing = (dark[:, 2:-3] > 0) & (dark[:, 3:-2] <= 0)
    cost = np.where(crossing, np.abs(t[inner_cells] + 0.5), np.inf)
    cell = np.argmin(cost, axis=1)
    rows = np.arange(x.size)
    found = np.isfinite(cost[rows, cell])
    d = np.stack([dark[rows, cell + j] for j in range(6)], axis=1).astype(np.float64)
    f, rate = _crossing(d)
    where = t[inner_cells][cell] + f
    steep = -rate / np.maximum(np.abs(component), 0.1)
    good = found & (steep > LIMITS.least_steepness) & np.isfinite(where)
    xy = np.stack([x + dx * where, y + dy * where], axis=1)
    return EdgePoints(xy[good], np.stack([nx, ny], axis=1)[good], steep[good])


def _around(image: F32, x: Ints, y: Ints, dx: Ints, dy: Ints) -> F32:
    """Light of the pixels (m, n) that lie ``dx``, ``dy`` (m, n) or (m, 1) from ``x``, ``y`` (n,), or at the border."""
    height, width = image.shape
    place = (y * width + x) + (dy * width + dx)
    far = max(int(np.abs(dx).max(initial=0)), int(np.abs(dy).max(initial=0)))
    at_border = (x < far) | (x >= width - far) | (y < far) | (y >= height - far)
    if at_border.any():
        dx, dy = (np.broadcast_to(d, place.shape)[:, at_border] for d in (dx, dy))
        rows, columns = np.clip(y[at_border] + dy, 0, height - 1), np.clip(x[at_border] + dx, 0, width - 1)
        place[:, at_border] = rows * width + columns
    return np.take(image, place)


_DISC = np.array([(dx, dy) for dx in range(-3, 4) for dy in range(-3, 4) if 0 < dx * dx + dy * dy <= 10])
_NEAR = (_DISC[:, [0]], _DISC[:, [1]])
_GRADIENT = np.asarray((_DISC * np.exp(-0.5 * (_DISC**2).sum(axis=1, keepdims=True) / 1.5**2)).T, np.float32)
"""(2, m) what each pixel of the disc adds to the gradient along x and y."""


def _lagrange() -> Array:
    """(6, 6) coefficients, lowest power first, of the quintic through samples at -2, -1, 0, 1, 2, 3."""
    return np.asarray(np.linalg.inv(np.vander(np.arange(-2.0, 4.0), 6, increasing=True)).T)


_QUINTIC = _lagrange()


def _crossing(d: Array) -> tuple[Array, Array]:
    """Where (0..1) the polynomial through six samples at -2..3 is zero between its third and fourth, and its slope."""
    c = d @ _QUINTIC
    step = d[:, 2] - d[:, 3]
    f = np.clip(d[:, 2] / np.where(np.abs(step) < 1e-12, 1e-12, step), 0, 1)
    rate = np.full(f.shape, -1.0)
    for turn in range(4):
        value = c[:, 5]
        rate = np.zeros(f.shape)
        for power in range(4, -1, -1):
            rate = rate * f + value
            value = value * f + c[:, power]
        if turn == 3:
            break
        f = np.clip(f - value / np.where(np.abs(rate) < 1e-9, -1e-9, rate), -0.2, 1.2)
    return f, rate
