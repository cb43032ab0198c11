"""Pictures of all sorts of shapes, measured: a result or a refusal, whatever is in view."""

from __future__ import annotations

import numpy as np
import numpy.typing as npt

from tests.fuzz.recipe import Recipe
from tests.fuzz.refused import assert_plain
from threads.shared.refusal import RefusalError
from vision.pictures.picture import Picture
from vision.result.measure import measure_picture
from vision.shared.opencv import cv2
from vision.shared.plane import FixedScale

_SIZE = 256


def drawn(recipe: Recipe) -> npt.NDArray[np.float32]:
    """A picture of (256, 256): a bar with some wave along its edges, and other shapes over it."""
    y, x = np.mgrid[0:_SIZE, 0:_SIZE].astype(np.float32)
    turn = np.radians(recipe.choice((0, 0, 3, 45, 90, recipe.number(180))))
    u = (x - 128) * np.cos(turn) + (y - 128) * np.sin(turn)
    w = -(x - 128) * np.sin(turn) + (y - 128) * np.cos(turn)
    pitch, depth = 4 + recipe.number(60), recipe.number(40)
    shift = recipe.choice((0.5, 0.5, 0.0, recipe.number(100) / 100))
    shape = recipe.number(3)
    half = 10 + recipe.number(110)

    def wave(phase: float) -> npt.NDArray[np.float32]:
        place = (u / pitch + phase) % 1.0
        if shape == 0:
            return np.abs(place - 0.5) * 2
        if shape == 1:
            return (np.sin(2 * np.pi * place) + 1) / 2
        return np.clip(np.abs(place - 0.5) * 4 - 0.5, 0, 1)

    part = (w < half - depth * wave(0.0)) & (w > -half + depth * wave(shift))
    part &= np.abs(u) < 20 + recipe.number(160)
    for _ in range(recipe.number(6)):
        cx, cy, size = recipe.number(_SIZE), recipe.number(_SIZE), 1 + recipe.number(60)
        there = (np.abs(x - cx) < size) & (np.abs(y - cy) < recipe.choice((2, size)))
        part = part | there if recipe.number(2) else part & ~there
    dark, bright = recipe.choice(((0.02, 0.8), (0.5, 0.6), (0.0, 1.0), (0.8, 0.1), (0.3, 0.3)))
    light = np.where(part, dark, bright).astype(np.float32)
    blur = recipe.choice((0.0, 1.0, 1.0, 2.0, 5.0))
    if blur:
        light = np.asarray(cv2.GaussianBlur(light, (0, 0), blur), np.float32)
    noise = recipe.choice((0.0, 0.005, 0.05, 0.5))
    if noise:
        light = light + np.random.default_rng(recipe.number(1000)).normal(0, noise, light.shape).astype(np.float32)
    return np.clip(light, 0, 1).astype(np.float32)


def one(data: bytes) -> None:
    light = drawn(Recipe(data))
    picture = Picture(
        path="shapes.png",
        sha256="0" * 64,
        width_px=_SIZE,
        height_px=_SIZE,
        light=light,
        bit_depth=8,
        clipped_bright=float((light >= 1).mean()),
        step=1 / 255,
        notes=(),
    )
    try:
        found = measure_picture(picture, FixedScale(4.0))
    except RefusalError as refusal:
        assert_plain(refusal)
        return
    thread = found.thread
    for q in (thread.pitch, thread.major_diameter, thread.pitch_diameter, thread.minor_diameter):
        assert np.isfinite(q.value)
        assert q.value > 0
        assert np.isfinite(q.u95)
        assert q.u95 > 0
