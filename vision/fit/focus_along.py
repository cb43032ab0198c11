"""A part that leans out of the plane of focus: edges that are sharp in one place and soft in another."""

from __future__ import annotations

import numpy as np

from threads.shared.refusal import Reason
from vision.fit.limits import LIMITS
from vision.fit.ridge_coordinates import ridge_coordinates
from vision.fit.solve import Solution
from vision.outline.edges import EdgePoints
from vision.outline.silhouette import own_blur
from vision.shared.robust import OUTLIER, median

_LEAST_RATIO = 1.5  # of the blurs at the two ends that is worth a warning
_LEAST_PX = 0.6  # by which they must differ as well
_PIECES = 8  # of the threaded length


def focus_doubt(edges: EdgePoints, solution: Solution, presmooth_px: float) -> tuple[Reason, ...]:
    """A warning when the flanks' blur differs much along the thread.

    Half-way between light and dark stays where it is on a straight flank however it is blurred, so that pitch and pitch
    diameter hold; crests and roots are drawn with one blur for all, and theirs is then a little off.

    Args:
        edges: the edge points that the fit chose from.
        solution: the fit.
        presmooth_px: standard deviation of the smoothing before the edges were found.
    """
    at = ridge_coordinates(solution.fit.x, solution.seen)
    counts = np.abs(solution.fit.residual) < OUTLIER * solution.fit.scale
    flank = counts & (np.abs(at.height - 0.5) < LIMITS.blur_band)
    if flank.sum() < LIMITS.blur_points * _PIECES:
        return ()
    blur, along = edges.blur_px[solution.chosen][flank], at.u[flank]
    piece = np.digitize(along, np.linspace(solution.start, solution.end, _PIECES + 1)[1:-1])
    found = [own_blur(median(blur[piece == i]), presmooth_px) for i in range(_PIECES) if (piece == i).any()]
    least, most = min(found), max(found)
    if most < _LEAST_RATIO * least or most - least < _LEAST_PX:
        return ()
    return (Reason("uneven_focus", least_px=2.56 * least, most_px=2.56 * most),)
