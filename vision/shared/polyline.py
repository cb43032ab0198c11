"""Fewer points for a line that is drawn."""

from __future__ import annotations

import numpy as np
import numpy.typing as npt

Array = npt.NDArray[np.float64]


def simplified(line: Array, tolerance: float) -> Array:
    """The points of an open ``line`` (n, 2) from whose chain the others lie no farther than ``tolerance``.

    Douglas and Peucker, Cartographica 10, 112-122, 1973: of what lies between two points that are kept the one farthest
    from that stretch is kept as well, where it is too far. Here for all chords at once, turn by turn.
    """
    count = len(line)
    if count < 3:
        return line
    kept = np.array([0, count - 1])
    while True:
        chord = np.repeat(np.arange(kept.size - 1), np.diff(kept))  # of all points but the last
        start, along = line[kept[:-1]], np.diff(line[kept], axis=0)
        away = line[:-1] - start[chord]
        square = (along**2).sum(axis=1)
        part = np.clip((away * along[chord]).sum(axis=1) / np.where(square > 0, square, 1.0)[chord], 0.0, 1.0)
        far = np.hypot(*(away - part[:, None] * along[chord]).T)
        most = np.maximum.reduceat(far, kept[:-1])
        split = np.flatnonzero((far == most[chord]) & (far > tolerance))
        if not split.size:
            return line[kept]
        _, first = np.unique(chord[split], return_index=True)
        kept = np.union1d(kept, split[first])
