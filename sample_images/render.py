"""A scene in, its picture and its truth out."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from math import ceil, pi, radians
from typing import Any

import numpy as np
import numpy.typing as npt

from sample_images.blemishes import Shape, blemish_shapes
from sample_images.coverage import polygon_coverage
from sample_images.dirt import dirt_polygons
from sample_images.focus import blurs, shares, through_the_lens
from sample_images.geometry import Array, outline_of, view_of
from sample_images.mirrored import mirrored_light
from sample_images.offset import moved, polygon_px
from sample_images.scene import Camera, Light, Scene
from sample_images.truth import truth_of
from vision.shared.opencv import cv2

_BAND_CELLS = 6_000_000  # of the fine raster at a time: 50 MB of running sums

Picture = npt.NDArray[np.uint8] | npt.NDArray[np.uint16]


def render(scene: Scene) -> tuple[Picture, dict[str, Any]]:
    """Draw a scene.

    The part's shadow is projected from its true surface (``geometry``), its exact area in each pixel is taken, then
    come the Gaussian of the lens, the light, the noise and the rounding to 8 or 16 bits. Intensities are linear. The
    same scene gives the same picture, whichever machine draws it, up to the rounding of single pixels.

    What is left out: diffraction and lens distortion. Where the lens has an opening the picture is the mean of those
    from places spread over it (``focus.through_the_lens``). Light mirrored beside the outline
    (``mirrored``) is drawn where the light has a cone.

    Returns:
        The picture, (height, width) uint8 or uint16, and its truth (see ``truth.truth_of``).

    Raises:
        ValueError: the scene cannot exist, or the part is out of view.
    """
    return _drawn([scene]), truth_of(scene)


def render_together(scenes: Sequence[Scene]) -> tuple[Picture, list[dict[str, Any]]]:
    """Draw several parts in one view: camera, light and noise are those of the first scene.

    Returns the picture and the truth of each part, in the order given. Raises ValueError as ``render``.
    """
    return _drawn(scenes), [truth_of(scene) for scene in scenes]


def _drawn(scenes: Sequence[Scene]) -> Picture:
    scene = scenes[0]
    camera = scene.camera
    dark = shadow(*scenes)
    light = pad_light(scene.light, camera)
    stray = scene.light.flare
    seen = dark if scene.light.background == "dark" else 1 - dark
    if scene.light.cone_deg > 0:
        seen = np.minimum(seen + sum(mirrored_light(replace(s, light=scene.light)) for s in scenes), 1)
    picture = light * (stray + (1 - stray) * seen)
    if camera.noise > 0:
        rng = np.random.default_rng([scene.seed, 0])
        picture += camera.noise * rng.standard_normal(picture.shape, dtype=np.float32)
    full = 2**camera.bits - 1
    dtype = np.uint8 if camera.bits == 8 else np.uint16
    return np.clip(np.rint(picture * full), 0, full).astype(dtype)


def outline_px(scene: Scene) -> Array:
    """(n, 2) corners, in pixels, of the sharp shadow of the part in the picture, edge offset included, dirt not."""
    camera = scene.camera
    distance = scene.edge_offset_px * camera.um_per_px * 1e-3
    margin = 16.0 + 5 * camera.blur_sigma_px + 2 * abs(scene.edge_offset_px)
    outline = moved(outline_of(scene, margin_px=margin), distance)
    notch = slot_notch(scene, float(outline.u[0]), distance)
    return polygon_px(outline, radians(scene.rotation_deg), camera.um_per_px, camera.width, camera.height, notch)


def slot_notch(scene: Scene, far_end: float, edge_offset: float) -> Array | None:
    """(n, 2) corners (u, v) in mm of the slot's notch in the outline's end ``far_end``; None where none is in view.

    The floor, a strip along the line of sight, is seen a little from above wherever the view is oblique: it then covers
    the head's radius times the obliquity of the slot's depth.
    """
    if scene.slot is None:
        return None
    view = view_of(scene)
    end = -scene.length_mm - sum(step.length_mm for step in scene.body)
    radius = np.full(2, scene.body[-1].diameter_mm / 2)
    beside = np.array([-pi / 2, pi / 2])  # the ends of the slot: toward the camera, and away from it
    rim, _ = view.project(np.full(2, end), radius, beside)
    if abs(float(rim.min()) - edge_offset - far_end) > 2e-3 * scene.camera.um_per_px:
        return None
    _, across = view.project(np.array([end]), np.zeros(1), np.zeros(1))
    half = scene.slot.width_mm / 2 - edge_offset
    w = np.linspace(-half, half, 9)
    # the floor ends where the head does, nearer to its middle plane the farther from the axis
    at = np.sqrt(radius[0] ** 2 - w**2)
    z = np.full(w.shape, end + scene.slot.depth_mm)
    floor = np.min([view.project(z, at, np.full(w.shape, phi))[0] for phi in beside], axis=0) - edge_offset
    middle = float(across[0])
    return np.array(
        [[far_end, middle - half], *zip(floor.tolist(), (middle + w).tolist(), strict=True), [far_end, middle + half]]
    )


def shadow(*scenes: Scene) -> npt.NDArray[np.float32]:
    """How dark each pixel is, (height, width), 1 in a part and 0 beside it, blur and pixel area included.

    The camera is that of the first scene; where several parts lie on each other the picture shows their union.

    A Gaussian summed over whole pixels is not the Gaussian of the lens when it is narrow: the sharp edge between the
    samples aliases. At 0.7 px this errs by up to 1.7 % of the contrast, at 1 px by 0.3 %, at 1.5 px by 0.02 % (seen
    against the closed form of a straight edge at 17 degrees). So blur narrower than 1.5 px is taken on a raster that
    many times finer, and averaged over the pixels.
    """
    camera = scenes[0].camera
    if camera.opening:
        each = [shadow(*places) for places in zip(*map(through_the_lens, scenes), strict=True)]
        return np.asarray(np.mean(each, axis=0, dtype=np.float32))
    size = (camera.width, camera.height)
    shapes: list[Shape] = []
    for scene in scenes:
        points = outline_px(scene)
        shapes.append(Shape(points, 1.0))
        if scene.blemishes.any:
            pitch = scene.thread.pitch_mm * 1e3 / camera.um_per_px if scene.thread else 0.0
            shapes += blemish_shapes(
                points,
                scene.blemishes,
                size=size,
                rotation_deg=scene.rotation_deg,
                offset_px=scene.offset_px,
                pitch_px=pitch,
                seed=scene.seed,
            )
        if scene.dust or scene.hairs:
            shapes += [Shape(s, 1.0) for s in dirt_polygons(points, scene.dust, scene.hairs, size, scene.seed)]
    # parts are drawn before what lies on them and is cut out of them
    levels = blurs(scenes[0])
    if len(levels) == 1:
        return _blurred(shapes, camera, levels[0])
    dark = np.zeros((camera.height, camera.width), np.float32)
    for sigma, share in zip(levels, shares(scenes[0], levels), strict=True):
        dark += share * _blurred(shapes, camera, sigma)
    return dark


def _blurred(shapes: list[Shape], camera: Camera, sigma: float) -> npt.NDArray[np.float32]:
    fine = 1 if sigma == 0 else min(6, ceil(1.5 / sigma))
    rows = max(64, _BAND_CELLS // (fine * fine * camera.width))
    bands = [
        _band(shapes, camera.width, first, min(first + rows, camera.height), sigma, fine)
        for first in range(0, camera.height, rows)
    ]
    return np.concatenate(bands)


def _band(shapes: list[Shape], width: int, first: int, stop: int, sigma: float, fine: int) -> npt.NDArray[np.float32]:
    """The rows ``first`` to ``stop`` of the shadow, drawn ``fine`` times finer in both directions."""
    pad = ceil(4 * sigma) + 1
    columns, rows = (width + 2 * pad) * fine, (stop - first + 2 * pad) * fine
    covered = np.zeros((rows, columns), np.float32)
    corner = np.array([pad, pad - first])
    for shape in shapes:
        points = (shape.polygon + corner + 0.5) * fine - 0.5
        left, top = np.maximum(np.floor(points.min(axis=0)).astype(int) - 1, 0)
        right, bottom = np.minimum(np.ceil(points.max(axis=0)).astype(int) + 2, (columns, rows))
        if left < right and top < bottom:
            part = polygon_coverage(points - (left, top), int(right - left), int(bottom - top)).astype(np.float32)
            under = covered[top:bottom, left:right]
            if shape.weight > 0:
                np.maximum(under, np.float32(shape.weight) * part, out=under)
            else:
                under *= 1 + np.float32(shape.weight) * part
    if sigma > 0:
        cv2.GaussianBlur(covered, (0, 0), sigma * fine, dst=covered, borderType=cv2.BORDER_REPLICATE)
    inner = covered[pad * fine : rows - pad * fine, pad * fine : columns - pad * fine]
    if fine == 1:
        return inner
    averaged: npt.NDArray[np.float32] = inner.reshape(stop - first, fine, width, fine).mean(
        axis=(1, 3), dtype=np.float32
    )
    return averaged


def pad_light(light: Light, camera: Camera) -> npt.NDArray[np.float32]:
    """(height, width) brightness of the bright side."""
    x = np.linspace(-1, 1, camera.width, dtype=np.float32)[None, :]
    y = np.linspace(-1, 1, camera.height, dtype=np.float32)[:, None]
    factor = 1 + light.gradient_x * x + light.gradient_y * y - light.vignette * (x * x + y * y) / 2
    return (light.exposure * factor).astype(np.float32)
