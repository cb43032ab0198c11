"""Scatter of neighbouring edge points: how many of them carry the news of one."""

from __future__ import annotations

import numpy as np
import numpy.typing as npt

Array = npt.NDArray[np.float64]


def correlation(miss: Array, most: int = 200) -> float:
    """1 + 2 sum of the autocorrelation of ``miss`` (n,), points in their order along an edge; at least 1.

    The sum ends where the autocorrelation falls under 0.05, or at ``most`` neighbours.
    """
    if miss.size < 8:
        return 1.0
    m = miss - miss.mean()
    variance = float(m @ m) / m.size
    total = 1.0
    for lag in range(1, min(most, m.size // 4)):
        c = float(m[:-lag] @ m[lag:]) / m.size / max(variance, 1e-12)
        if c < 0.05:
            break
        total += 2 * c
    return total
