"""Small made-up pictures for the tests: shadows of screws, of things that are no screws, and of nothing.

A shadow is a float array (HEIGHT, WIDTH), 1 in the part and 0 beside it; ``picture`` puts it before a light.
"""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path
from typing import Any

import numpy as np
import numpy.typing as npt

from sample_images.coverage import polygon_coverage
from sample_images.render import shadow as shadow_of_scene
from sample_images.scene import Camera, Cylinder, Scene, Thread
from sample_images.section import section_of
from sample_images.truth import truth_of
from vision.pictures.picture import Picture, read_picture
from vision.shared.opencv import cv2

WIDTH, HEIGHT = 800, 600
UM_PER_PX = 6.0

Array = npt.NDArray[np.float64]
Shadow = npt.NDArray[np.float32]

# close to a 0.060 in screw of 80 threads an inch: 53 px a thread and 250 px across
THREAD = Thread(major_mm=1.50, pitch_diameter_mm=1.30, minor_mm=1.12, pitch_mm=0.3175)
CAMERA = Camera(width=WIDTH, height=HEIGHT, um_per_px=UM_PER_PX, blur_sigma_px=0.9, noise=0.0)
ACROSS = Scene(thread=THREAD, length_mm=200.0, view_mm=100.0, phase=0.3, camera=CAMERA)
"""The thread runs out of the picture on both sides."""
WITH_END = replace(ACROSS, view_mm=1.8, chamfer_end_mm=1.0)
"""A chamfered free end; the thread runs out of the picture on the other side."""
BETWEEN = replace(WITH_END, length_mm=3.0, view_mm=1.9, runout_mm=0.3, body=(Cylinder(1.55, 0.5), Cylinder(2.6, 9.0)))
"""A chamfered free end, seven full threads, a shank and a shoulder that leaves the picture."""
SHORT = replace(ACROSS, length_mm=2.2, view_mm=1.4, chamfer_end_mm=1.0, runout_mm=0.3, body=(Cylinder(2.8, 1.2),))
"""Five full threads and a head that is larger than they are long, both ends in view."""


def screw(scene: Scene = ACROSS, **changes: Any) -> Shadow:
    """The shadow of a scene, some of its fields changed."""
    return shadow_of_scene(replace(scene, **changes))


def truth(scene: Scene, **changes: Any) -> dict[str, Any]:
    """The truth of a scene, some of its fields changed."""
    return truth_of(replace(scene, **changes))


def picture(
    dark: npt.NDArray[Any],
    *,
    pad: float = 0.75,
    flare: float = 0.03,
    noise: float = 0.004,
    slope: float = 0.0,
    vignette: float = 0.0,
    background: str = "bright",
    seed: int = 1,
) -> Picture:
    """The shadow before a light pad of brightness ``pad`` (full scale 1), or the lit part before a dark cloth.

    ``slope`` is the relative change of the light from one side to the other, ``vignette`` how much of it the corners
    lack.
    """
    y, x = np.mgrid[-1 : 1 : dark.shape[0] * 1j, -1 : 1 : dark.shape[1] * 1j]
    light = pad * (1 + slope / 2 * x - vignette * (x * x + y * y) / 2)
    seen = dark if background == "dark" else 1 - dark
    return grey(light * (flare + (1 - flare) * seen), noise=noise, seed=seed)


def grey(light: npt.NDArray[Any], *, noise: float = 0.0, seed: int = 1) -> Picture:
    """A picture of 8 bits of the light 0..1, as if it had been read from a file."""
    rng = np.random.default_rng(seed)
    levels = np.clip(np.rint(255 * (light + noise * rng.standard_normal(light.shape))), 0, 255).astype(np.uint8)
    return Picture(
        path="made.png",
        sha256="0" * 64,
        width_px=levels.shape[1],
        height_px=levels.shape[0],
        light=(levels / 255).astype(np.float32),
        bit_depth=8,
        clipped_bright=float((levels == 255).mean()),
        step=1 / 255,
        notes=(),
    )


def as_jpeg(seen: Picture, path: Path, quality: int) -> Picture:
    """The picture once through a JPEG file, written with the tone of sRGB."""
    light = seen.light.astype(np.float64)
    code = np.where(light <= 0.0031308, 12.92 * light, 1.055 * np.maximum(light, 1e-9) ** (1 / 2.4) - 0.055)
    cv2.imwrite(str(path), np.rint(255 * code).astype(np.uint8), [cv2.IMWRITE_JPEG_QUALITY, quality])
    return read_picture(path)


def drawn(*polygons: npt.ArrayLike, blur: float = 1.0) -> Shadow:
    """The shadow of all polygons (n, 2) in px together."""
    dark = np.zeros((HEIGHT, WIDTH))
    for polygon in polygons:
        np.maximum(dark, polygon_coverage(np.asarray(polygon, float), WIDTH, HEIGHT), out=dark)
    return soft(dark, blur)


def soft(dark: npt.NDArray[Any], blur: float = 1.0) -> Shadow:
    """Blurred by a Gaussian of ``blur`` px."""
    return np.asarray(
        cv2.GaussianBlur(dark.astype(np.float32), (0, 0), blur, borderType=cv2.BORDER_REPLICATE), np.float32
    )


def spring(pitch: float, wire: float, coil: float) -> Shadow:
    """A spring across the picture: wire of radius ``wire`` wound on a helix of radius ``coil``, all px.

    The shadow of a bent wire is that of a ball run along it; drawn three times finer.
    """
    fine, shift = 3, 4
    turn = np.arange(-6 * np.pi, 2 * np.pi * (WIDTH / pitch + 3), min(0.1, 3.0 / coil))
    line = np.column_stack([pitch * turn / (2 * np.pi), HEIGHT / 2 + coil * np.sin(turn)])
    dark = np.zeros((HEIGHT * fine, WIDTH * fine), np.uint8)
    for x, y in np.rint(((line + 0.5) * fine - 0.5) * 2**shift).astype(int).tolist():
        cv2.circle(dark, (x, y), round(wire * fine * 2**shift), 255, -1, cv2.LINE_8, shift)
    return soft(cv2.resize(dark, (WIDTH, HEIGHT), interpolation=cv2.INTER_AREA) / 255)


ALONG = np.arange(-20.0, WIDTH + 20.0, 0.25)
"""Places along x at which ``rod`` takes the heights of its two edges."""


def rod(upper: npt.ArrayLike, lower: npt.ArrayLike | None = None, first: float = ALONG[0]) -> Array:
    """The polygon between two edges, heights above and below the middle of the picture, every 0.25 px from ``first``.

    Without ``lower`` both edges are alike.
    """
    up = np.asarray(upper, float)
    low = up if lower is None else np.asarray(lower, float)
    x = first + 0.25 * np.arange(up.size)
    return np.concatenate([np.column_stack([x, HEIGHT / 2 - up]), np.column_stack([x, HEIGHT / 2 + low])[::-1]])


def level(height: float) -> Array:
    """A straight edge."""
    return np.full(ALONG.size, height)


def ridges(pitch: float, root: float, crest: float, phase: float = 0.0, flat: float = 0.12) -> Array:
    """An edge of trapezoid ridges, crest and root flat ``flat`` pitches wide."""
    s = np.abs(((ALONG / pitch - phase) + 0.5) % 1.0 - 0.5)  # 0 on a ridge, 0.5 in a groove
    return root + (crest - root) * np.clip((0.5 - flat / 2 - s) / (0.5 - flat), 0, 1)


def zigzag(knots: npt.ArrayLike, low: float, high: float) -> Array:
    """Straight lines from low to high and back, turning at each knot."""
    x = np.asarray(knots, float)
    return np.interp(ALONG, x, np.where(np.arange(x.size) % 2 == 0, low, high))


def specks(count: int, least: float, most: float, seed: int = 0) -> list[Array]:
    """Ellipses strewn over the picture, radius between ``least`` and ``most`` px."""
    rng = np.random.default_rng(seed)
    turn = np.linspace(0, 2 * np.pi, 40, endpoint=False)
    out = []
    for _ in range(count):
        centre, (a, b) = rng.uniform(0, (WIDTH, HEIGHT)), rng.uniform(least, most, 2)
        out.append(centre + np.column_stack([a * np.cos(turn), b * np.sin(turn)]))
    return out


def stroke(line: Array, width: float) -> Array:
    """The polygon of a hair of ``width`` px along ``line`` (n, 2)."""
    along = np.gradient(line, axis=0)
    across = np.column_stack([-along[:, 1], along[:, 0]]) / np.hypot(*along.T)[:, None] * width / 2
    return np.concatenate([line + across, (line - across)[::-1]])


def toothed_wheel(teeth: int, root: float, crest: float) -> Array:
    """A gear in the middle of the picture."""
    turn = np.linspace(0, 2 * np.pi, 6000, endpoint=False)
    s = np.abs((turn * teeth / (2 * np.pi) + 0.5) % 1.0 - 0.5)
    r = root + (crest - root) * np.clip((0.375 - s) / 0.25, 0, 1)
    return np.column_stack([WIDTH / 2 + r * np.cos(turn), HEIGHT / 2 + r * np.sin(turn)])


def grain(sigma: float, seed: int = 0) -> Array:
    """Random texture 0..1, (HEIGHT, WIDTH), grains of about ``sigma`` px."""
    noise = np.random.default_rng(seed).standard_normal((HEIGHT, WIDTH))
    noise = cv2.GaussianBlur(noise, (0, 0), sigma)
    noise -= noise.min()
    return np.asarray(noise / noise.max(), np.float64)


def wood(seed: int = 0) -> Array:
    """Light of a board: grain lines that wind, and fibres."""
    rng = np.random.default_rng(seed)
    rows = np.arange(HEIGHT)[:, None]
    winding = cv2.GaussianBlur(rng.standard_normal((HEIGHT, WIDTH)), (0, 0), sigmaX=90, sigmaY=12)
    fibre = cv2.GaussianBlur(rng.standard_normal((HEIGHT, WIDTH)), (0, 0), sigmaX=30, sigmaY=1.2)
    light = 0.3 + 0.12 * np.sin(rows / 14 + 2.5 * winding / winding.std()) + 0.05 * fibre / fibre.std()
    return np.asarray(np.clip(light, 0, 1), np.float64)


def board(square: int, margin: int = 0) -> Shadow:
    """A chessboard, ``margin`` px of bright ground round it."""
    y, x = np.mgrid[:HEIGHT, :WIDTH]
    dark = ((x // square + y // square) % 2).astype(float)
    if margin:
        dark[:margin] = dark[-margin:] = 0
        dark[:, :margin] = dark[:, -margin:] = 0
    return soft(dark)


def smeared(dark: Shadow, length: float, direction: tuple[float, float]) -> Shadow:
    """Motion blur over ``length`` px along a unit vector."""
    kernel = np.zeros((41, 41), np.float32)
    for t in np.linspace(-length / 2, length / 2, 200):
        kernel[20 + round(t * direction[1]), 20 + round(t * direction[0])] += 1
    return np.asarray(cv2.filter2D(dark, -1, kernel / kernel.sum(), borderType=cv2.BORDER_REPLICATE), np.float32)


def leaning_screw(tilt_deg: float) -> Shadow:
    """The shadow of the thread THREAD leaning out of the picture plane: the outermost of many surface points.

    Without a formula and for any tilt; the edge is 0.3 px off at most.
    """
    section = section_of(THREAD)
    z = np.arange(-4.5, 4.5, 0.0015)
    t = np.radians(tilt_deg)
    edges = np.full((2, 4 * WIDTH), -np.inf)
    for phi in np.radians(np.arange(0, 360, 1.5)):
        r = section.radius(z - THREAD.pitch_mm * phi / (2 * np.pi))
        u = (z * np.cos(t) + r * np.sin(phi) * np.sin(t)) * 1e3 / UM_PER_PX + WIDTH / 2
        cell = np.floor(4 * u).astype(int)
        inside = (cell >= 0) & (cell < edges.shape[1])
        for row, sign in ((0, 1.0), (1, -1.0)):
            np.maximum.at(edges[row], cell[inside], (sign * r * np.cos(phi))[inside] * 1e3 / UM_PER_PX)
    return drawn(rod(edges[0], edges[1], first=-0.375))
