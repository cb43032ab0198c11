"""Rendered scenes as a colour camera hands them over: eight bits a channel, coded as sRGB."""

from __future__ import annotations

from typing import Any

import numpy as np
import numpy.typing as npt

from sample_images.render import render
from sample_images.scene import Scene

Bytes = npt.NDArray[np.uint8]


def coded(light: npt.NDArray[Any]) -> Bytes:
    """``light``, linear 0 to 1, as sRGB (IEC 61966-2-1)."""
    high = 1.055 * np.maximum(light, 1e-9) ** (1 / 2.4) - 0.055
    return np.rint(255 * np.where(light <= 0.0031308, 12.92 * light, high)).astype(np.uint8)


def frame_of(scene: Scene) -> Bytes:
    levels, _ = render(scene)
    return np.repeat(coded(levels / np.iinfo(levels.dtype).max)[:, :, None], 3, axis=2)
