"""Drawn stage micrometers, chessboards and grids of dots, exact in area, through a lens with known distortion.

The plane of the gauge may lean before a pinhole camera: each corner of each line, square or dot is turned in space and
projected. The lens then moves it by ru (1 + k1 (ru / R0)^2), R0 half the diagonal of the picture.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, field
from math import ceil, cos, hypot, pi, radians, sin

import numpy as np
import numpy.typing as npt

from sample_images.coverage import Array, polygon_coverage
from sample_images.scene import Camera, Light
from vision.shared.opencv import cv2

_BITS = 8  # pieces into which a side is cut before the lens bends it


@dataclass(frozen=True)
class FlatGauge:
    """A flat gauge and how it is seen (lengths of the gauge in mm); the camera's distance is that of its middle.

    Attributes:
        kind: "rulings", "chessboard" or "dots".
        pitch_mm: distance of neighbouring lines or dots, side of a square.
        columns, rows: how many divisions, squares or dots; a ruling has one more line than divisions and no rows.
        lengths_mm: of the short, middle (every fifth) and long (every tenth) lines of a ruling.
        width_mm: of a line, or diameter of a dot; not used for squares.
        turn_deg: of the rows in the picture, from x toward y.
        shift_px: (2,) of the middle of the gauge from the middle of the picture.
        k1: radial distortion in the corners of the picture.
        tilt_deg, tilt_about_deg: by how much the plane leans, about the axis of that direction in the picture.
        edge_offset_px: by how much everything dark is larger all round.
        missing: numbers of the lines, squares or dots that are left out.
        specks: how many specks of dust lie on it.
        camera, light, seed: as in ``scene.Scene``.
    """

    kind: str
    pitch_mm: float
    columns: int = 100
    rows: int = 1
    lengths_mm: tuple[float, float, float] = (0.3, 0.4, 0.5)
    width_mm: float = 0.003
    turn_deg: float = 0.0
    shift_px: tuple[float, float] = (0.0, 0.0)
    k1: float = 0.0
    tilt_deg: float = 0.0
    tilt_about_deg: float = 0.0
    edge_offset_px: float = 0.0
    missing: frozenset[int] = field(default_factory=frozenset)
    specks: int = 0
    camera: Camera = field(default_factory=Camera)
    light: Light = field(default_factory=Light)
    seed: int = 1


def draw(gauge: FlatGauge) -> npt.NDArray[np.uint8] | npt.NDArray[np.uint16]:
    """The picture of ``gauge``, (height, width)."""
    camera = gauge.camera
    fine = 1 if camera.blur_sigma_px == 0 else min(6, ceil(1.5 / camera.blur_sigma_px))
    dark = np.zeros((camera.height * fine, camera.width * fine), np.float32)
    for shape in (*_shapes(gauge), *_specks(gauge)):
        points = (shape + 0.5) * fine - 0.5
        left, top = np.maximum(np.floor(points.min(axis=0)).astype(int) - 1, 0)
        right, bottom = np.minimum(np.ceil(points.max(axis=0)).astype(int) + 2, (dark.shape[1], dark.shape[0]))
        if left < right and top < bottom:
            part = polygon_coverage(points - (left, top), int(right - left), int(bottom - top)).astype(np.float32)
            under = dark[top:bottom, left:right]
            # neighbours meet in the pixels of their common corner: what both leave free there is covered by neither
            under += part
    np.minimum(dark, 1, out=dark)
    if camera.blur_sigma_px > 0:
        cv2.GaussianBlur(dark, (0, 0), camera.blur_sigma_px * fine, dst=dark, borderType=cv2.BORDER_REPLICATE)
    seen = 1 - dark.reshape(camera.height, fine, camera.width, fine).mean(axis=(1, 3))
    x = np.linspace(-1, 1, camera.width)[None, :]
    y = np.linspace(-1, 1, camera.height)[:, None]
    light = gauge.light.exposure * (1 + gauge.light.gradient_x * x + gauge.light.gradient_y * y)
    picture = light * (gauge.light.flare + (1 - gauge.light.flare) * seen)
    picture = picture + camera.noise * np.random.default_rng([gauge.seed, 0]).standard_normal(picture.shape)
    full = 2**camera.bits - 1
    return np.clip(np.rint(picture * full), 0, full).astype(np.uint8 if camera.bits == 8 else np.uint16)


def _shapes(gauge: FlatGauge) -> Iterator[Array]:
    """(n, 2) corners in the picture of each dark thing."""
    grow = gauge.edge_offset_px * gauge.camera.um_per_px / 1000
    for number, (x, y, wide, high) in enumerate(_places(gauge)):
        if number in gauge.missing:
            continue
        if gauge.kind == "dots":
            angle = np.arange(96) * 2 * pi / 96
            # the polygon has the area of the circle
            r = (wide / 2 + grow) / (sin(2 * pi / 96) / (2 * pi / 96)) ** 0.5
            outline = np.stack([x + r * np.cos(angle), y + r * np.sin(angle)], axis=1)
        else:
            outline = _rectangle(x, y, wide + 2 * grow, high + 2 * grow)
        yield _seen(gauge, outline)


def _places(gauge: FlatGauge) -> Iterator[tuple[float, float, float, float]]:
    """Middle, width and height of each dark thing, mm, from the middle of the gauge."""
    p, n, m = gauge.pitch_mm, gauge.columns, gauge.rows
    if gauge.kind == "rulings":
        short, middle, long = gauge.lengths_mm
        for k in range(n + 1):
            length = long if k % 10 == 0 else middle if k % 5 == 0 else short
            yield (k - n / 2) * p, (short - length) / 2, gauge.width_mm, length
        return
    for j in range(m):
        for i in range(n):
            x, y = (i - (n - 1) / 2) * p, (j - (m - 1) / 2) * p
            if gauge.kind == "dots":
                yield x, y, gauge.width_mm, gauge.width_mm
            elif (i + j) % 2 == 0:
                yield x, y, p, p


def _rectangle(x: float, y: float, wide: float, high: float) -> Array:
    step = np.arange(_BITS) / _BITS - 0.5
    one = np.full(_BITS, 0.5)
    u = np.concatenate([step, one, -step, -one])
    v = np.concatenate([-one, step, one, -step])
    return np.stack([x + wide * u, y + high * v], axis=1)


def _seen(gauge: FlatGauge, plane_mm: Array) -> Array:
    """Where points of the gauge's plane are in the picture."""
    camera = gauge.camera
    turn, lean, about = radians(gauge.turn_deg), radians(gauge.tilt_deg), radians(gauge.tilt_about_deg)
    x = cos(turn) * plane_mm[:, 0] - sin(turn) * plane_mm[:, 1] + gauge.shift_px[0] * camera.um_per_px / 1000
    y = sin(turn) * plane_mm[:, 0] + cos(turn) * plane_mm[:, 1] + gauge.shift_px[1] * camera.um_per_px / 1000
    along, across = cos(about) * x + sin(about) * y, cos(about) * y - sin(about) * x
    height, across = across * sin(lean), across * cos(lean)
    x, y = cos(about) * along - sin(about) * across, sin(about) * along + cos(about) * across
    near = 1 / (1 + height / camera.distance_mm)
    px = np.stack([x * near, y * near], axis=1) * 1000 / camera.um_per_px
    square = np.sum(px**2, axis=1, keepdims=True) / (hypot(camera.width, camera.height) / 2) ** 2
    middle = np.array([(camera.width - 1) / 2, (camera.height - 1) / 2])
    result: Array = middle + px * (1 + gauge.k1 * square)
    return result


def _specks(gauge: FlatGauge) -> Iterator[Array]:
    """Round specks anywhere in the picture."""
    rng = np.random.default_rng([gauge.seed, 1])
    angle = np.arange(16) * 2 * pi / 16
    for _ in range(gauge.specks):
        at = rng.uniform((0, 0), (gauge.camera.width, gauge.camera.height))
        r = rng.uniform(1, 8) * rng.uniform(0.7, 1.3, angle.size)
        yield np.stack([at[0] + r * np.cos(angle), at[1] + r * np.sin(angle)], axis=1)
