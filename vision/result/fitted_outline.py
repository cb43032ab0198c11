"""Where the fitted thread stands in the picture, to be drawn over it."""

from __future__ import annotations

import numpy as np
import numpy.typing as npt

from vision.model.blurred import contour
from vision.model.shadow import INDEX
from vision.result.measurement import Measurement
from vision.shared.plane import PlaneMap

Array = npt.NDArray[np.float64]

_STEP_PX = 0.5  # between points of the drawn outline
_TURNS = 6  # of the search for where the lens shows a point: distortions are small, each turn gains two digits


def fitted_outline(measurement: Measurement) -> tuple[Array, Array]:
    """Upper and lower edge of the fitted thread over the length that the fit covers, each (n, 2) px in the picture.

    It is the edge of the part itself: what was found lies by the bench's edge offset outside.
    """
    solution = measurement.solution
    x, seen, mm = solution.fit.x, solution.seen, solution.seen.px_mm
    count = max(int((solution.end - solution.start) / (_STEP_PX * mm)), 2)
    z = np.linspace(solution.start, solution.end, count)
    edges = []
    for sign in (1.0, -1.0):
        height, _, _ = contour(x, z, np.full(count, sign), seen.centre, starts=seen.starts, gradient=False)
        from_centre = z - seen.centre[0]
        near = x[INDEX["nearness"]] * x[INDEX["tilt"]] * from_centre
        high = height + sign * (x[INDEX["offset"]] - seen.centre[1])
        along, across = z + near * from_centre, sign * (height + near * high)
        edges.append(in_picture(measurement, along, across))
    return edges[0], edges[1]


def in_picture(measurement: Measurement, along: Array, across: Array) -> Array:
    """Where places along the axis and across it, mm (n,), stand in the picture, (n, 2) px."""
    solution = measurement.solution
    x, mm = solution.fit.x, solution.seen.px_mm
    c, s = np.cos(x[INDEX["rotation"]]), np.sin(x[INDEX["rotation"]])
    uw = np.stack([c * along - s * across, x[INDEX["offset"]] + s * along + c * across], axis=1)
    return _as_seen(measurement.plane, solution.frame.to_picture(uw) / mm)


def _as_seen(plane: PlaneMap, straight: Array) -> Array:
    """Where a lens with distortion shows the points ``straight`` (n, 2) px."""
    seen = straight.copy()
    for _ in range(_TURNS):
        seen += straight - plane.undistort(seen)
    return seen
