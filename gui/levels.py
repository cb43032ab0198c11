"""A picture made ready for the screen: 8 bits, and halved again and again, so that any zoom draws in milliseconds."""

from __future__ import annotations

import numpy as np
import numpy.typing as npt

from vision.shared.opencv import cv2

Bytes = npt.NDArray[np.uint8]

_SMALLEST = 64
_TABLE_SIZE = 4096


def levels_of_light(light: npt.NDArray[np.float32]) -> tuple[Bytes, ...]:
    """The levels of a picture in linear light (height, width), 0 to 1, shown with the curve of sRGB."""
    table = _coded(np.linspace(0, 1, _TABLE_SIZE))
    index = np.multiply(light, _TABLE_SIZE - 1).astype(np.uint16)
    np.minimum(index, _TABLE_SIZE - 1, out=index)
    return levels_of(table[index])


def shown_frame(frame: Bytes) -> Bytes:
    """A live frame as the screen wants it: grey is linear light and is coded, colour is coded as it comes."""
    return frame if frame.ndim == 3 else np.asarray(cv2.LUT(frame, _coded(np.linspace(0, 1, 256))), np.uint8)


def _coded(light: npt.NDArray[np.float64]) -> Bytes:
    """``light``, 0 to 1, by the curve of sRGB (IEC 61966-2-1), as bytes."""
    curve = np.where(light <= 0.0031308, 12.92 * light, 1.055 * np.maximum(light, 1e-9) ** (1 / 2.4) - 0.055)
    return np.rint(255 * curve).astype(np.uint8)


def levels_of(image: Bytes) -> tuple[Bytes, ...]:
    """``image`` (height, width) or (height, width, 3), and its halves, each the mean of four pixels."""
    found = [np.ascontiguousarray(image)]
    while min(found[-1].shape[:2]) > _SMALLEST:
        height, width = found[-1].shape[:2]
        half = cv2.resize(found[-1], (max(width // 2, 1), max(height // 2, 1)), interpolation=cv2.INTER_AREA)
        found.append(np.ascontiguousarray(half, dtype=np.uint8))
    return tuple(found)
