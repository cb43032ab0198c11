"""Scenes of the renderer as pictures in memory, and their outlines as edge points without any picture."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

import numpy as np
import numpy.typing as npt

from sample_images.render import outline_px, render
from sample_images.scene import Camera, Scene, Thread
from vision.pictures.picture import Picture

Array = npt.NDArray[np.float64]

UNIFIED = Thread(2.81, 2.42, 2.06, 0.635, 30.3, 29.6, crest_corner_radius_mm=0.01)
"""Near 4-40, flat root, flanks a little off."""
CAMERA = Camera(900, 700, um_per_px=6.0, blur_sigma_px=1.0, noise=0.005)
ACROSS = Scene(UNIFIED, 40.0, view_mm=20.0, phase=0.3, rotation_deg=4.0, seed=7, camera=CAMERA)
"""The thread leaves the picture on both sides: about eight and a half pitches in view."""


def photograph(scene: Scene) -> tuple[Picture, dict[str, Any]]:
    """The picture of a scene, as if read from a file, and its truth."""
    levels, truth = render(scene)
    full = np.iinfo(levels.dtype).max
    light = (levels / full).astype(np.float32)
    picture = Picture(
        path="scene.png",
        sha256="0" * 64,
        width_px=levels.shape[1],
        height_px=levels.shape[0],
        light=light,
        bit_depth=8 * levels.dtype.itemsize,
        clipped_bright=float((levels == full).mean()),
        step=1 / full,
        notes=(),
    )
    return picture, truth


def outline_points(scene: Scene) -> tuple[Array, Array]:
    """Points of the sharp outline inside the picture, about one a pixel, and their outward normals, each (n, 2) px."""
    corners = outline_px(scene)
    step = np.diff(corners, axis=0, append=corners[:1])
    length = np.concatenate([[0.0], np.cumsum(np.hypot(*step.T))])
    at = np.arange(0.0, length[-1], 1.0)
    closed = np.vstack([corners, corners[:1]])
    points = np.column_stack([np.interp(at, length, closed[:, i]) for i in (0, 1)])
    ahead = np.roll(points, -1, axis=0) - np.roll(points, 1, axis=0)
    area = float(np.sum(points[:, 0] * np.roll(points[:, 1], -1) - points[:, 1] * np.roll(points[:, 0], -1)))
    normal = np.column_stack([ahead[:, 1], -ahead[:, 0]]) * np.sign(area)
    normal /= np.maximum(np.hypot(*normal.T), 1e-12)[:, None]
    camera = scene.camera
    inside = (points > 4).all(axis=1) & (points < np.array([camera.width, camera.height]) - 5).all(axis=1)
    return points[inside], normal[inside]


def turned(scene: Scene, rotation_deg: float, **changes: Any) -> Scene:
    """The scene with its free end pointing elsewhere."""
    return replace(scene, rotation_deg=rotation_deg, **changes)
