"""The piece of a picture that paper shows: cut to the part, and no larger than a page needs it."""

from __future__ import annotations

import io
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from vision.result.dimensions import Dimension

Array = npt.NDArray[np.float64]

PHOTO_SHAPE = 1.36
"""Width over height of the photograph's place on a data sheet."""
MOST_WIDE = 900

_ROOM = 0.06
_ROOM_TEXT = 0.11
"""Of the larger side, beyond the lines of dimensions, for their texts."""
_TONE = (255 * np.linspace(0.0, 1.0, 4096) ** (1 / 2.2) + 0.5).astype(np.uint8)
_QUALITY = 88


@dataclass(frozen=True)
class Cut:
    """What of a picture is shown, in its pixels, and px of the result for one of it. Only dimensions reach beyond."""

    left: int
    top: int
    right: int
    bottom: int
    factor: float

    @property
    def size(self) -> tuple[int, int]:
        """Width and height of the result, px."""
        wide, high = self.right - self.left, self.bottom - self.top
        return (wide, high) if self.factor == 1 else (round(wide * self.factor), max(round(high * self.factor), 1))


@dataclass(frozen=True)
class Shrunken:
    """A picture cut and shrunken, JPEG."""

    content: bytes
    cut: Cut


def shrunken(light: npt.NDArray[np.float32], cut: Cut) -> Shrunken:
    """The picture of ``light`` (height, width) as ``cut`` says; white paper where that reaches beyond it."""
    from PIL import Image

    from vision.shared.opencv import cv2

    x, y = slice(max(cut.left, 0), max(cut.right, 0)), slice(max(cut.top, 0), max(cut.bottom, 0))
    shown, seen = np.ones((cut.bottom - cut.top, cut.right - cut.left), np.float32), light[y, x]
    down, across = y.start - cut.top, x.start - cut.left
    shown[down : down + seen.shape[0], across : across + seen.shape[1]] = seen
    if cut.factor < 1:  # light is averaged, not its tone: an edge keeps its place
        shown = np.asarray(cv2.resize(shown, cut.size, interpolation=cv2.INTER_AREA), np.float32)
    steps = (np.clip(shown, 0.0, 1.0) * (_TONE.size - 1)).astype(np.uint16)
    content = io.BytesIO()
    Image.fromarray(_TONE[steps]).save(content, "JPEG", quality=_QUALITY)
    return Shrunken(content.getvalue(), cut)


def cut_to(
    size: tuple[int, int],
    corners: Array,
    dimensions: Sequence[Dimension],
    *,
    shape: float = PHOTO_SHAPE,
    most_wide: int = MOST_WIDE,
) -> Cut:
    """The part with its dimensions, as near to ``shape``, width over height, as can be.

    ``size``: width and height of the picture. ``corners``: (n, 2) of the box round the part, px; of none, the whole
    picture is shown.
    """
    whole = np.array(size, dtype=np.float64)
    low, high = np.zeros(2), whole
    if corners.size:
        room = _ROOM * whole.max()
        low = np.maximum(corners.min(axis=0) - room, 0)
        high = np.minimum(corners.max(axis=0) + room, whole)
        if dimensions:
            lines, room = np.vstack([one.line for one in dimensions]), _ROOM_TEXT * whole.max()
            low, high = np.minimum(low, lines.min(axis=0) - room), np.maximum(high, lines.max(axis=0) + room)
        least, most = np.minimum(low, 0), np.maximum(high, whole)
        for i, ratio in ((0, shape), (1, 1 / shape)):
            more = max(ratio * (high[1 - i] - low[1 - i]) - (high[i] - low[i]), 0.0)
            low[i], high[i] = low[i] - more / 2, high[i] + more / 2
            if low[i] < least[i]:
                low[i], high[i] = least[i], min(high[i] + least[i] - low[i], most[i])
            elif high[i] > most[i]:
                low[i], high[i] = max(low[i] - (high[i] - most[i]), least[i]), most[i]
    left, top = (int(v) for v in np.floor(low))
    right, bottom = (int(v) for v in np.ceil(high))
    right, bottom = max(right, left + 2), max(bottom, top + 2)
    return Cut(left, top, right, bottom, min(1.0, most_wide / (right - left)))
