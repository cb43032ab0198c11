"""Lines with only the points that can be seen: what is straight is drawn many times faster from its ends."""

from __future__ import annotations

import numpy as np
import numpy.typing as npt

from vision.shared.opencv import cv2

Array = npt.NDArray[np.float64]


def thinned(line: Array, unseen: float) -> Array:
    """``line`` (n, 2) less the points without which it moves by at most ``unseen``, in its own unit (Douglas-Peucker).

    Its first and last points stay.
    """
    start = line[0]  # single precision does for what is left
    kept = cv2.approxPolyDP((line - start).astype(np.float32), unseen, closed=False)[:, 0]
    return np.asarray(kept, float) + start
