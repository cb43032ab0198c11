"""The covariance of a measurement as the register keeps it beside the numbers, for quick comparison.

Eight quantities in the order ``ORDER``; the matrix row by row, each entry a little-endian 8-byte float, NaN where the
picture did not give a quantity. The whole matrix, with all its quantities, stands in the measurement's document.
"""

from __future__ import annotations

import numpy as np
import numpy.typing as npt

from threads.measured.thread import Covariance

ORDER = (
    "major_diameter", "pitch_diameter", "minor_diameter", "pitch", "flank_angle_left", "flank_angle_right",
    "crest_width", "root_width",
)  # fmt: skip
SIZE = len(ORDER)


def packed(covariance: Covariance) -> bytes:
    """``covariance`` as it is kept."""
    matrix = np.full((SIZE, SIZE), np.nan)
    known = [name for name in ORDER if name in covariance.order]
    at = [ORDER.index(name) for name in known]
    matrix[np.ix_(at, at)] = covariance.of(known)
    return matrix.astype("<f8").tobytes()


def unpacked(kept: bytes) -> npt.NDArray[np.float64]:
    """The (n, SIZE, SIZE) matrices of n covariances as they are kept, one behind the other.

    Raises ValueError for bytes that are not such.
    """
    return np.frombuffer(kept, dtype="<f8").reshape(-1, SIZE, SIZE)
