"""Each ridge by itself: how far it stands from where the fitted thread has it, and its own pitch diameter."""

from __future__ import annotations

import numpy as np
import numpy.typing as npt

from threads.measured import RidgeError
from vision.shadow import INDEX
from vision.solve import Solution

Array = npt.NDArray[np.float64]


def ridge_errors(solution: Solution) -> tuple[RidgeError, ...]:
    """Pitch error and pitch diameter of every ridge on either edge that has both flanks in view.

    The residuals of a ridge's two flanks say how far it is moved along the axis and outward: a shift d along the axis
    moves the +u flank by +d cos(a) and the -u flank by -d cos(a) along their normals, a growth g of the radius both
    by g sin(a).
    """
    fit, seen = solution.fit, solution.seen
    x = fit.x
    pitch, middle, depth = x[INDEX["pitch"]], x[INDEX["pitch_radius"]], x[INDEX["crest"]] - x[INDEX["root"]]
    height = seen.side * (seen.w - x[INDEX["offset"]] - x[INDEX["rotation"]] * seen.u)
    rel = seen.u - x[INDEX["phase"]] - np.where(seen.side > 0, 0.0, seen.starts * pitch / 2)
    ridge = np.rint(rel / pitch).astype(int)
    along = rel - ridge * pitch
    flank = (np.abs(height - middle) < 0.35 * depth) & (np.abs(fit.residual) < 0.1 * pitch)
    out: list[RidgeError] = []
    for sign in (1.0, -1.0):
        for j in np.unique(ridge):
            here = flank & (seen.side == sign) & (ridge == j)
            right, left = here & (along > 0), here & (along < 0)
            if right.sum() < 5 or left.sum() < 5:
                continue
            plus, minus = _middle(fit.residual[right], fit.scale), _middle(fit.residual[left], fit.scale)
            if plus is None or minus is None:
                continue
            r = plus / np.cos(x[INDEX["flank_right"]])
            m = minus / np.cos(x[INDEX["flank_left"]])
            spread = np.tan(x[INDEX["flank_right"]]) + np.tan(x[INDEX["flank_left"]])
            where = x[INDEX["phase"]] + (j + (0.0 if sign > 0 else seen.starts / 2)) * pitch
            grown = (r + m) / spread
            out.append(
                RidgeError(
                    float(where - solution.start), (r - m) / 2, float(2 * (middle + x[INDEX["taper"]] * where + grown))
                )
            )
    return tuple(sorted(out, key=lambda e: e.position))


def _middle(residual: Array, scale: float) -> float | None:
    """Where one flank stands against the fitted one, mm along its normal; None when dirt or damage hides it.

    Most of a flank in place lies near the fitted one, the rest is dirt. A displaced flank is still straight, so that
    nearly all of it lies near its own median; dirt does not.
    """
    in_place = residual[np.abs(residual) < 5 * scale]
    if in_place.size > 0.5 * residual.size:
        return float(np.median(in_place))
    median = float(np.median(residual))
    near = residual[np.abs(residual - median) < 5 * scale]
    return float(near.mean()) if near.size > 0.85 * residual.size else None
