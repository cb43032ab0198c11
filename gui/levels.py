"""A picture made ready for the screen: 8 bits, and halved again and again, so that any zoom draws in milliseconds."""

from __future__ import annotations

import numpy as np
import numpy.typing as npt

from vision.opencv import cv2

Bytes = npt.NDArray[np.uint8]

_SMALLEST = 64
_TABLE_SIZE = 4096


def levels_of_light(light: npt.NDArray[np.float32]) -> tuple[Bytes, ...]:
    """The levels of a picture in linear light (height, width), 0 to 1, shown with the curve of sRGB."""
    steps = np.linspace(0, 1, _TABLE_SIZE)
    coded = np.where(steps <= 0.0031308, 12.92 * steps, 1.055 * np.maximum(steps, 1e-9) ** (1 / 2.4) - 0.055)
    table = np.rint(255 * coded).astype(np.uint8)
    index = np.multiply(light, _TABLE_SIZE - 1).astype(np.uint16)
    np.minimum(index, _TABLE_SIZE - 1, out=index)
    return levels_of(table[index])


def levels_of(image: Bytes) -> tuple[Bytes, ...]:
    """``image`` (height, width) or (height, width, 3), and its halves, each the mean of four pixels."""
    found = [np.ascontiguousarray(image)]
    while min(found[-1].shape[:2]) > _SMALLEST:
        height, width = found[-1].shape[:2]
        half = cv2.resize(found[-1], (max(width // 2, 1), max(height // 2, 1)), interpolation=cv2.INTER_AREA)
        found.append(np.ascontiguousarray(half, dtype=np.uint8))
    return tuple(found)
