"""What a plain reading of the shadow would give: the same quantities without the helix correction."""

from __future__ import annotations

import numpy as np
import numpy.typing as npt

from threads.shared.quantity import Quantity
from vision.fit.limits import LIMITS
from vision.model.shadow import INDEX, outline

Array = npt.NDArray[np.float64]

_NODES = 1200  # of the outline over one pitch


def plain_reading(
    x: Array,
    middle: float,
    centre: tuple[float, float],
    like: dict[str, Quantity],
    *,
    free_end_right: bool,
    starts: int = 1,
) -> dict[str, Quantity]:
    """Read the outline of the fitted shadow as if it were the axial section.

    Args:
        x: fitted parameters.
        middle: u of the middle of the threaded length, mm.
        centre: optical axis (u, w), mm.
        like: the quantities of the axial section, for their uncertainties.
        free_end_right: whether the free end lies toward +u.
        starts: starts of the thread.

    The pitch diameter is where ridge and groove of the outline are equally wide, the mean of both edges; flank angles
    come from straight lines through the middle half of each flank; widths from those lines and the crest and root
    levels.
    """
    pitch = x[INDEX["pitch"]]
    depth = x[INDEX["crest"]] - x[INDEX["root"]]
    u = middle + (np.arange(_NODES) + 0.5) / _NODES * 2 * pitch - pitch
    found = []
    side = np.repeat([1.0, -1.0], _NODES)
    heights, slopes, _ = outline(x, np.tile(u, 2), side, centre, starts=starts, gradient=False)
    for height, slope in zip(np.split(heights, 2), np.split(slopes, 2), strict=True):
        level = float(np.median(height))
        crest, root = float(height.max()), float(height.min())
        flank = np.abs(height - level) < LIMITS.flank_band * depth
        right, left = flank & (slope < 0), flank & (slope > 0)
        tan_r, tan_l = float(np.mean(-1 / slope[right])), float(np.mean(1 / slope[left]))
        spread = tan_r + tan_l
        found.append(
            (
                2 * crest, 2 * level, 2 * root, np.degrees(np.arctan(tan_r)), np.degrees(np.arctan(tan_l)),
                pitch / 2 - (crest - level) * spread, pitch / 2 - (level - root) * spread,
            )
        )  # fmt: skip
    major, effective, minor, right_a, left_a, crest_w, root_w = np.mean(np.array(found), axis=0)
    if not free_end_right:
        right_a, left_a = left_a, right_a
    values = {
        "major_diameter": major,
        "pitch_diameter": effective,
        "minor_diameter": minor,
        "pitch": pitch,
        "flank_angle_left": left_a,
        "flank_angle_right": right_a,
        "included_angle": left_a + right_a,
        "crest_width": crest_w,
        "root_width": root_w,
    }
    return {
        name: Quantity(float(value), like[name].standard_uncertainty, like[name].unit)
        for name, value in values.items()
        if name in like
    }
