"""A scene in, its picture and its truth out."""

from __future__ import annotations

from math import ceil, radians
from typing import Any

import numpy as np
import numpy.typing as npt

from sample_images.coverage import polygon_coverage
from sample_images.dirt import dirt_polygons
from sample_images.geometry import Array, outline_of
from sample_images.offset import moved, polygon_px
from sample_images.scene import Camera, Light, Scene
from sample_images.truth import truth_of
from vision.opencv import cv2

Picture = npt.NDArray[np.uint8] | npt.NDArray[np.uint16]


def render(scene: Scene) -> tuple[Picture, dict[str, Any]]:
    """Draw a scene.

    The part's shadow is projected from its true surface (``geometry``), its exact area in each pixel is taken, then
    come the Gaussian of the lens, the light, the noise and the rounding to 8 or 16 bits. Intensities are linear. The
    same scene gives the same picture, whichever machine draws it, up to the rounding of single pixels.

    What is left out: the mirror image of the light pad at grazing incidence on polished metal, diffraction, depth of
    focus (all of the outline is equally sharp), lens distortion.

    Returns:
        The picture, (height, width) uint8 or uint16, and its truth (see ``truth.truth_of``).

    Raises:
        ValueError: the scene cannot exist, or the part is out of view.
    """
    camera = scene.camera
    dark = shadow(scene)
    light = _light(scene.light, camera)
    stray = scene.light.flare
    seen = dark if scene.light.background == "dark" else 1 - dark
    picture = light * (stray + (1 - stray) * seen)
    if camera.noise > 0:
        rng = np.random.default_rng([scene.seed, 0])
        picture += camera.noise * rng.standard_normal(picture.shape, dtype=np.float32)
    full = 2**camera.bits - 1
    dtype = np.uint8 if camera.bits == 8 else np.uint16
    levels = np.clip(np.rint(picture * full), 0, full).astype(dtype)
    return levels, truth_of(scene)


def outline_px(scene: Scene) -> Array:
    """(n, 2) corners, in pixels, of the sharp shadow of the part in the picture, edge offset included, dirt not."""
    camera = scene.camera
    distance = scene.edge_offset_px * camera.um_per_px * 1e-3
    margin = 16.0 + 5 * camera.blur_sigma_px + 2 * abs(scene.edge_offset_px)
    outline = moved(outline_of(scene, margin_px=margin), distance)
    return polygon_px(outline, radians(scene.rotation_deg), camera.um_per_px, camera.width, camera.height)


def shadow(scene: Scene) -> npt.NDArray[np.float32]:
    """(height, width): how dark each pixel is, 1 in the part and 0 beside it, blur and pixel area included.

    A Gaussian kernel sampled at the pixels blurs too little when it is narrow (0.7 px: 0.01 % of the contrast,
    0.4 px: several per cent). A narrow one is therefore taken on a finer raster, then averaged over the pixels.
    """
    camera = scene.camera
    points = outline_px(scene)
    shapes = [points]
    if scene.dust or scene.hairs:
        shapes += dirt_polygons(points, scene.dust, scene.hairs, (camera.width, camera.height), scene.seed)
    sigma = camera.blur_sigma_px
    fine = 1 if sigma == 0 or sigma >= 0.7 else min(4, ceil(0.7 / sigma))
    pad = ceil(4 * sigma) + 1
    width, height = (camera.width + 2 * pad) * fine, (camera.height + 2 * pad) * fine
    covered = np.zeros((height, width), np.float32)
    for shape in shapes:
        moved_in = (shape + pad + 0.5) * fine - 0.5
        np.maximum(covered, polygon_coverage(moved_in, width, height).astype(np.float32), out=covered)
    if sigma > 0:
        cv2.GaussianBlur(covered, (0, 0), sigma * fine, dst=covered, borderType=cv2.BORDER_REPLICATE)
    if fine > 1:
        covered = covered.reshape(height // fine, fine, width // fine, fine).mean(axis=(1, 3), dtype=np.float32)
    return covered[pad : pad + camera.height, pad : pad + camera.width]


def _light(light: Light, camera: Camera) -> npt.NDArray[np.float32]:
    """(height, width) brightness of the bright side."""
    x = np.linspace(-1, 1, camera.width, dtype=np.float32)[None, :]
    y = np.linspace(-1, 1, camera.height, dtype=np.float32)[:, None]
    factor = 1 + light.gradient_x * x + light.gradient_y * y - light.vignette * (x * x + y * y) / 2
    result: npt.NDArray[np.float32] = np.float32(light.exposure) * factor
    return result
