"""What is out of focus: before and behind the plane of the axis, by the lens opening, or along a part that leans."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from math import cos, pi, radians, sin, sqrt

import numpy as np
import numpy.typing as npt

from sample_images.scene import Scene

F32 = npt.NDArray[np.float32]

_RATIO = 1.15  # of neighbouring blurs: between them two Gaussians are mixed, which errs by less than 0.3 % in darkness


LENS_PLACES = 16
_TURN = pi * (3 - sqrt(5))  # the golden angle: places at these angles, as the root of their number far out, lie evenly


def through_the_lens(scene: Scene) -> list[Scene]:
    """The scene as each of ``LENS_PLACES`` places of the lens sees it; their mean is what the lens shows."""
    camera = scene.camera
    widest = camera.opening / sqrt(1 - camera.opening**2)
    out = []
    for place in range(LENS_PLACES):
        slope = widest * sqrt((place + 0.5) / LENS_PLACES)
        aside = (slope * cos(_TURN * place), slope * sin(_TURN * place))
        out.append(replace(scene, camera=replace(camera, opening=0.0, aside=aside)))
    return out


def blurs(scene: Scene) -> list[float]:
    """The blurs (standard deviations, px) that the picture is mixed from; one where all of it is equally sharp."""
    least = scene.camera.blur_sigma_px
    if scene.defocus_px_per_mm == 0:
        return [least]
    variance = _variance(scene)
    low, high = float(np.sqrt(variance.min())), float(np.sqrt(variance.max()))
    low = max(low, 0.3)
    count = max(2, int(np.ceil(np.log(max(high, 1.01 * low) / low) / np.log(_RATIO))) + 1)
    return [float(s) for s in np.geomspace(low, max(high, 1.01 * low), count)]


def shares(scene: Scene, levels: list[float]) -> Iterator[F32]:
    """How much of each level goes into each pixel, (height, width): mixtures with the variance that the place has."""
    steps = np.square(levels)
    cell = np.clip(_variance(scene), steps[0], steps[-1])
    for i in range(len(steps)):
        share = np.zeros_like(cell)
        if i > 0:
            rising = (cell - steps[i - 1]) / (steps[i] - steps[i - 1])
            share = np.where((cell > steps[i - 1]) & (cell <= steps[i]), rising, share)
        if i + 1 < len(steps):
            falling = (steps[i + 1] - cell) / (steps[i + 1] - steps[i])
            share = np.where((cell > steps[i]) & (cell < steps[i + 1]), falling, share)
        share = np.where(cell == steps[i], 1.0, share)
        yield share.astype(np.float32)


def _variance(scene: Scene) -> npt.NDArray[np.float64]:
    """(height, width) variance of the blur, px^2."""
    camera = scene.camera
    x = np.arange(camera.width)[None, :] - (camera.width - 1) / 2
    y = np.arange(camera.height)[:, None] - (camera.height - 1) / 2
    turn = radians(scene.rotation_deg)
    along = (x * cos(turn) + y * sin(turn)) * camera.um_per_px * 1e-3
    place = scene.view_mm - along  # from the free end
    sharp = scene.view_mm if scene.focus_at_mm is None else scene.focus_at_mm
    out = camera.blur_sigma_px**2 + (scene.defocus_px_per_mm * (place - sharp)) ** 2
    return np.asarray(out, np.float64)
