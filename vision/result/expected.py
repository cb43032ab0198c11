"""The budget that a bench would give a clean thread of known size: the whole fit and its budget on a drawn outline.

What one picture can add is not in it: dirt, wear, a part that is not focused as the gauges were.
"""

from __future__ import annotations

import math

import numpy as np

from vision.fit.budget import BudgetTerm, make_budget
from vision.fit.quantities import quantities, sensitivity
from vision.fit.solve import solve
from vision.locate.threaded import find_threaded_length
from vision.model.blurred import contour
from vision.model.grazing import mirror_of
from vision.model.shadow import ShadowParameters
from vision.outline.edges import EdgePoints
from vision.shared.plane import PlaneMap

BLUR_PX, SCATTER_PX = 1.0, 0.02
"""Of the edges of a sharp picture with little noise: what the sample pictures show."""
_MARGIN_PX = 10.0
"""Between the ends of the thread and the border of the picture."""


def expected_budget(
    plane: PlaneMap, size: tuple[int, int], *, pitch: float, major: float, pitch_diameter: float, minor: float
) -> tuple[BudgetTerm, ...]:
    """Budget of the pitch diameter of a thread of 60 degrees (mm) that lies along the whole picture of ``size`` px.

    Raises RefusalError where fewer threads than a fit needs are in view, or they are too small.
    """
    mm = plane.um_per_px / 1000
    length = (size[0] - 2 * _MARGIN_PX) * mm
    flank = math.radians(30.0)
    x = ShadowParameters(
        offset=0.0, rotation=0.0, phase=0.3 * pitch, pitch=pitch, tilt=0.0, nearness=0.0, taper=0.0, crest=major / 2,
        pitch_radius=pitch_diameter / 2, root=minor / 2, flank_right=flank, flank_left=flank,
        crest_corner=0.02 * pitch, root_corner=0.1 * pitch, blur=BLUR_PX * mm,
    ).to_array()  # fmt: skip
    each = np.arange(0.0, length, mm)
    u, side = np.tile(each, 2), np.repeat((1.0, -1.0), each.size)
    centre = (length / 2, 0.0)
    height, slope, _ = contour(x, u, side, centre, gradient=False)
    normal = np.stack([-slope, -side], axis=1) / np.sqrt(1 + slope**2)[:, None]
    middle = (np.array(size) - 1) / 2
    xy = np.stack([(u - centre[0]) / mm, -side * height / mm], axis=1) + middle
    scatter = np.random.default_rng(1).normal(0, SCATTER_PX, u.size)
    xy += (plane.edge_offset_px + scatter)[:, None] * normal
    edges = EdgePoints(xy, normal, np.full(u.size, 1 / (math.sqrt(2 * math.pi) * BLUR_PX)))
    thread = find_threaded_length(xy, 0.0, normal)
    mirror = mirror_of(plane, None, major / 2)
    solution = solve(edges, xy, thread, plane, size, SCATTER_PX, mirror, 1)
    found, halfway = solution.fit.x, (solution.start + solution.end) / 2
    values, follow = quantities(found, halfway, free_end_right=True), sensitivity(found, halfway, free_end_right=True)
    return make_budget(solution, plane, values, follow, mirror).terms["pitch_diameter"]
