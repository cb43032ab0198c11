"""Reading a calibration grid: the crossings of a chessboard or the centres of dots, numbered in two directions.

A crossing is where the smoothed light has a saddle, a dot is where the centre of gravity of its darkness is: neither
moves when blur, flare or an edge level makes everything dark a little larger or smaller. The lattice is grown from
the middle outward, each step predicted from the last, so that the grid may have any size, be cut by the picture's
border, dirty, turned, distorted or tilted.
"""

from __future__ import annotations

from collections import deque
from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from threads.shared.refusal import RefusalError
from vision.gauges.limits import LIMITS
from vision.pictures.picture import Picture
from vision.shared.opencv import cv2

Array = npt.NDArray[np.float64]
Ints = npt.NDArray[np.int64]
F32 = npt.NDArray[np.float32]

_SMOOTH_PX = 1.5  # less noise, and crossings stay where they are
_RING_PX = 6.0  # radius of the ring on which a crossing shows its four quarters
_LEAST_ROWS = 4  # of points: fewer tell no lens
_LEAST_PITCH_PX = 16.0  # the ring has to fit into a square
_WINDOW = 3  # px to either side of a crossing, to which a polynomial is fitted


@dataclass(frozen=True)
class GridReading:
    """The points of a grid as read from a picture.

    Attributes:
        kind: "chessboard" or "dots".
        points: (n, 2) positions as seen, px.
        index: (n, 2) column and row of each, counted from some point in the middle.
        pitch_px: distance of neighbouring points in the middle of the grid, px.
        angle_deg: direction of the rows of points, from picture x toward picture y, -45 to 45.
        width_px, height_px: size of the picture.
    """

    kind: str
    points: Array
    index: Ints
    pitch_px: float
    angle_deg: float
    width_px: int
    height_px: int


def read_grid(picture: Picture) -> GridReading:
    """Find and number the points of the grid in ``picture``. The pitch is the side of a square, or from dot to dot.

    Raises RefusalError: no_grid, grid_too_fine.
    """
    light = np.asarray(cv2.GaussianBlur(picture.light, (0, 0), _SMOOTH_PX), np.float32)
    kind, points = "chessboard", _crossings(light)
    if len(points) < _LEAST_ROWS**2:
        kind, points = "dots", _dots(light)
    if len(points) < _LEAST_ROWS**2:
        raise _none()
    on, index, pitch, angle = _lattice(points)
    extent = np.ptp(index, axis=0) + 1 if len(index) else np.zeros(2)
    if extent.min() < _LEAST_ROWS or len(on) < LIMITS.grid_filled * extent[0] * extent[1]:
        raise _none()
    if pitch < _LEAST_PITCH_PX:
        raise RefusalError("grid_too_fine", spacing_px=pitch, least_px=_LEAST_PITCH_PX)
    return GridReading(kind, points[on], index, pitch, angle, picture.width_px, picture.height_px)


def _none() -> RefusalError:
    return RefusalError("no_grid", rows=_LEAST_ROWS)


def _crossings(light: F32) -> Array:
    """(n, 2) places where four squares of a chessboard meet."""
    xx = cv2.filter2D(light, cv2.CV_32F, np.array([[1.0, -2, 1]]))
    yy = cv2.filter2D(light, cv2.CV_32F, np.array([[1.0], [-2], [1]]))
    xy = cv2.filter2D(light, cv2.CV_32F, np.array([[1.0, 0, -1], [0, 0, 0], [-1, 0, 1]]) / 4)
    saddle = np.asarray(xy * xy - xx * yy, np.float32)
    highest = cv2.dilate(saddle, np.ones((9, 9), np.uint8))
    strongest = float(np.quantile(highest, 0.999))
    rows, columns = np.nonzero((saddle == highest) & (saddle > LIMITS.saddle_share * strongest))
    reach = int(_RING_PX) + 3
    inside = (rows >= reach) & (rows < light.shape[0] - reach) & (columns >= reach) & (columns < light.shape[1] - reach)
    rows, columns = rows[inside], columns[inside]
    if not rows.size or rows.size > LIMITS.most_saddles:
        return np.zeros((0, 2))
    points = np.stack([columns, rows], axis=1).astype(np.float64)
    points = points[_alternates(light, points)]
    return _saddles(light, points)


def _alternates(light: F32, points: Array) -> npt.NDArray[np.bool_]:
    """Which points have bright, dark, bright and dark round them, a quarter each, and little else."""
    angle = np.arange(32) * 2 * np.pi / 32
    x = (points[:, :1] + _RING_PX * np.cos(angle)).astype(np.float32)
    y = (points[:, 1:] + _RING_PX * np.sin(angle)).astype(np.float32)
    ring = np.asarray(cv2.remap(light, x, y, cv2.INTER_LINEAR), np.float64)
    power = np.abs(np.fft.rfft(ring, axis=1)) ** 2
    return np.asarray(power[:, 2] > LIMITS.quarters * power[:, 1:8].sum(axis=1), np.bool_)


def _saddles(light: F32, points: Array) -> Array:
    """The saddle near each point: of the polynomial of fourth degree through the light of 7 x 7 pixels."""
    if not len(points):
        return points
    span = np.arange(-_WINDOW, _WINDOW + 1)
    gx, gy = (g.ravel().astype(np.float64) for g in np.meshgrid(span, span))
    powers = [(i, j) for i in range(5) for j in range(5 - i)]
    solve = np.linalg.pinv(np.stack([gx**i * gy**j for i, j in powers], axis=1))
    cells = np.rint(points).astype(np.int64)
    patch = light[cells[:, 1, None] + gy.astype(np.int64), cells[:, 0, None] + gx.astype(np.int64)].astype(np.float64)
    c = patch @ solve.T
    at = np.zeros((len(points), 2))
    for _ in range(8):
        x, y = at[:, :1], at[:, 1:]

        def part(a: int, b: int, x: Array = x, y: Array = y) -> Array:
            """The derivative of the polynomial, a times by x and b times by y."""
            terms = []
            for i, j in powers:
                if i < a or j < b:
                    terms.append(np.zeros_like(x))
                    continue
                factor = np.prod(np.arange(i, i - a, -1)) * np.prod(np.arange(j, j - b, -1))
                terms.append(float(factor) * x ** (i - a) * y ** (j - b))
            return np.asarray(np.sum(c * np.concatenate(terms, axis=1), axis=1))

        fx, fy, fxx, fxy, fyy = part(1, 0), part(0, 1), part(2, 0), part(1, 1), part(0, 2)
        det = fxx * fyy - fxy**2
        det = np.where(det > -1e-12, -1e-12, det)
        step = np.stack([fyy * fx - fxy * fy, fxx * fy - fxy * fx], axis=1) / det[:, None]
        at = at - np.clip(step, -1, 1)
    good = np.abs(at).max(axis=1) < 2
    return np.asarray(cells[good] + at[good])


def _dots(light: F32) -> Array:
    """(n, 2) centres of round blots of one size, darker (or brighter) than the ground."""
    found = [_blots(light), _blots(1 - light)]
    return max(found, key=len)


def _blots(light: F32) -> Array:
    scale = float(np.quantile(light, 0.98)) or 1.0
    eight = np.asarray(np.clip(light / scale * 200, 0, 255), np.uint8)
    block = max(31, int(min(light.shape) / 12) | 1)
    mask = cv2.adaptiveThreshold(eight, 255, cv2.ADAPTIVE_THRESH_MEAN_C, cv2.THRESH_BINARY_INV, block, 12)
    count, labels, stats, _ = cv2.connectedComponentsWithStats(mask, connectivity=8)
    if count < _LEAST_ROWS**2 or count > LIMITS.most_blots:
        return np.zeros((0, 2))
    left, top, wide, high, area = (stats[1:, i].astype(np.float64) for i in range(5))
    round_ = (
        (area > LIMITS.blot_fill[0] * wide * high)
        & (area < LIMITS.blot_fill[1] * wide * high)
        & (np.maximum(wide, high) < LIMITS.blot_aspect * np.minimum(wide, high))
    )
    round_ &= (area >= LIMITS.blot_area) & (left > 2) & (top > 2)
    round_ &= (left + wide < light.shape[1] - 2) & (top + high < light.shape[0] - 2)
    if round_.sum() < _LEAST_ROWS**2:
        return np.zeros((0, 2))
    usual = float(np.median(area[round_]))
    chosen = np.flatnonzero(round_ & (area > 0.5 * usual) & (area < 2 * usual)) + 1
    centres = []
    for k in chosen:
        pad = 3 + int(0.15 * stats[k, 2])
        y0, y1 = max(stats[k, 1] - pad, 0), stats[k, 1] + stats[k, 3] + pad
        x0, x1 = max(stats[k, 0] - pad, 0), stats[k, 0] + stats[k, 2] + pad
        cut, own = light[y0:y1, x0:x1].astype(np.float64), labels[y0:y1, x0:x1]
        near = cv2.dilate((own == k).astype(np.uint8), np.ones((5, 5), np.uint8)) > 0
        if np.any(near & (own != k) & (own > 0)) or near.all():
            continue
        weight = np.where(near, np.maximum(np.median(cut[~near]) - cut, 0), 0)
        ys, xs = np.indices(cut.shape)
        centres.append([x0 + np.sum(weight * xs) / weight.sum(), y0 + np.sum(weight * ys) / weight.sum()])
    return np.array(centres).reshape(-1, 2)


def _lattice(points: Array) -> tuple[Ints, Ints, float, float]:
    """Which points are on the square lattice, their numbers, the pitch and the direction of its rows in degrees."""
    from scipy.spatial import cKDTree

    tree = cKDTree(points)
    distance, neighbour = tree.query(points, k=2)
    step = points[neighbour[:, 1]] - points
    pitch = float(np.median(distance[:, 1]))
    usual = np.abs(distance[:, 1] - pitch) < LIMITS.usual_pitch * pitch
    turn = float(np.angle(np.mean(np.exp(4j * np.arctan2(step[usual, 1], step[usual, 0]))))) / 4
    first = pitch * np.array([[np.cos(turn), np.sin(turn)], [-np.sin(turn), np.cos(turn)]])
    best: tuple[Ints, Ints] = (np.zeros(0, np.int64), np.zeros((0, 2), np.int64))
    by_middle = np.argsort(np.hypot(*(points - np.median(points, axis=0)).T))
    for seed in by_middle[:8]:
        found = _grown(points, tree, int(seed), first)
        if len(found[0]) > len(best[0]):
            best = found
        if len(best[0]) > len(points) / 2:
            break
    return *best, pitch, float(np.degrees(turn))


def _grown(points: Array, tree: object, seed: int, first: Array) -> tuple[Ints, Ints]:
    """The lattice grown from one point: each known point looks for its four neighbours one step away."""
    number = {seed: (0, 0)}
    taken = {(0, 0)}
    queue = deque([(seed, first)])
    while queue:
        at, basis = queue.popleft()
        i, j = number[at]
        for axis, way in ((0, 1), (0, -1), (1, 1), (1, -1)):
            place = (i + way, j) if axis == 0 else (i, j + way)
            if place in taken:
                continue
            off, near = tree.query(points[at] + way * basis[axis])  # type: ignore[attr-defined]
            if near in number or off > LIMITS.lattice_step * float(np.hypot(*basis[axis])):
                continue
            seen = basis.copy()
            seen[axis] = 0.5 * seen[axis] + 0.5 * way * (points[near] - points[at])
            number[int(near)] = place
            taken.add(place)
            queue.append((int(near), seen))
    on = np.array(list(number), np.int64)
    return on, np.array(list(number.values()), np.int64)
