"""Frames of a camera or a video, eight bits a channel; made linear by the rule for picture files that state no tone."""

from __future__ import annotations

from functools import cache
from typing import Any

import numpy as np
import numpy.typing as npt

from vision.pictures.tone import REC709_WEIGHTS, SRGB
from vision.shared.opencv import cv2

F32 = npt.NDArray[np.float32]
Frame = npt.NDArray[Any]
"""(height, width) grey, or (height, width, 3) in blue, green, red: uint8 as it comes, or float32, linear, 0 to 1."""

FULL = 255  # of eight bits
_WHITE = 0.997  # as good as white, for frames that are not of eight bits
_STRIDE = 8  # px: a colour anywhere in the picture meets this grid
_ROUNDED = 1.0  # grey steps by which the channels of a grey differ after the way through luminance and chroma


def frame_light(frame: Frame) -> F32:
    """Light of ``frame``, linear, 0 to 1, (height, width), as ``read_picture`` finds it in a file of the same values.

    Grey bytes are the linear values of a sensor, colours are sRGB and mixed by the weights of Rec. 709: a screw
    measured in the one and in the other differs by some 5 um.
    Raises ValueError for anything but uint8 and float32.
    """
    if frame.dtype == np.float32:
        return np.asarray(frame if frame.ndim == 2 else frame @ np.array(REC709_WEIGHTS[::-1], np.float32))
    if frame.dtype != np.uint8:
        raise ValueError(f"frames of {frame.dtype} are not known here")
    if frame.ndim == 2:
        return np.multiply(frame, np.float32(1 / FULL), dtype=np.float32)
    out: F32 | None = None
    for channel, weight in zip(cv2.split(frame), REC709_WEIGHTS[::-1], strict=True):
        part = np.asarray(cv2.LUT(channel, _table() * np.float32(weight)), np.float32)
        out = part if out is None else np.asarray(cv2.add(out, part, dst=out), np.float32)
    assert out is not None
    return out


def quick_light(frame: Frame) -> F32:
    """The same, approximately and in a quarter of the time: the coded values of a coloured frame are mixed first."""
    if frame.dtype == np.uint8 and frame.ndim == 3:
        return np.asarray(cv2.LUT(cv2.cvtColor(frame, cv2.COLOR_BGR2GRAY), _table()), np.float32)
    return frame_light(frame)


def is_colourless(frame: Frame) -> bool:
    """Whether ``frame`` has three equal channels: a grey picture in a coloured format."""
    if frame.ndim == 2:
        return False
    some = frame[::_STRIDE, ::_STRIDE].astype(np.float32)
    return bool(np.ptp(some, axis=2).max() <= _ROUNDED)


def full_scale(frame: Frame) -> npt.NDArray[np.uint8]:
    """255 where any channel stands at full scale, else 0, (height, width)."""
    top = frame
    if frame.ndim == 3:
        one, two, three = cv2.split(frame)
        top = np.asarray(cv2.max(cv2.max(one, two), three))
    return np.where(top >= (FULL if frame.dtype == np.uint8 else _WHITE), FULL, 0).astype(np.uint8)


@cache
def _table() -> F32:
    return SRGB.curves[0](np.arange(256) / FULL).astype(np.float32)
