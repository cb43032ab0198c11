"""How far one picture of a scene lies from another of the same scene."""

from __future__ import annotations

import numpy as np
import numpy.typing as npt

F32 = npt.NDArray[np.float32]

_STEP_PX = 0.1  # of the answer


def displacement(reference: F32, other: F32) -> tuple[float, float]:
    """By how much (x, y), px, what is seen in ``other`` lies from where it is in ``reference``; to 0.1 px.

    The highest place of the cross-correlation (Guizar-Sicairos, Thurman and Fienup, Optics Letters 33, 156-158, 2008).
    Not to be believed where most of what was in view has left it, and along an edge that crosses the whole picture.

    Args:
        reference: (height, width) light.
        other: the same size; it may be brighter or darker throughout.
    """
    from skimage.registration import phase_cross_correlation  # half a second, needed only when something has moved

    found, *_ = phase_cross_correlation(reference, other, upsample_factor=round(1 / _STEP_PX), normalization=None)
    return -float(found[1]), -float(found[0])
