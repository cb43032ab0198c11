"""Each ridge by itself: how far it stands from where the fitted thread has it, and its own pitch diameter."""

from __future__ import annotations

import numpy as np
import numpy.typing as npt

from threads.measured.thread import RidgeError
from vision.fit.budget import EDGE_FINDER_U_PX
from vision.fit.form_fit import FormFit
from vision.fit.limits import LIMITS
from vision.fit.solve import Solution
from vision.model.shadow import INDEX
from vision.shared.robust import MEDIAN_U, OUTLIER, median, robust_scale

Array = npt.NDArray[np.float64]


_BLOCK = 8  # points: about as long as smoothing and grain tie neighbours together
_ALIKE = 0.08  # of their mean, by which two flanks moved alike may differ


def ridge_errors(solution: Solution, form: FormFit) -> tuple[RidgeError, ...]:
    """Pitch error and pitch diameter of every ridge on either edge that has both flanks in view, each with its u.

    Pitch errors are against the straight, regular thread of ``form``: a drunken thread shows in them, and in a bent one
    that the ridges stand wider apart on the outside. Pitch diameters are those of the thread without either.
    The residuals of a ridge's two flanks say how far it is moved along the axis and outward: a shift d along the axis
    moves the +u flank by +d cos(a) and the -u flank by -d cos(a) along their normals, a growth g of the radius both by
    g sin(a). The u of a flank is that of its points' scatter, neighbours taken as correlated, and what the edge finder
    may shift them.
    """
    straight = form.straight
    seen, x = solution.seen, straight.fit.x
    own, scale = straight.fit.residual, straight.fit.scale
    of_form = form.residual - own
    pitch, middle, depth = x[INDEX["pitch"]], x[INDEX["pitch_radius"]], x[INDEX["crest"]] - x[INDEX["root"]]
    height = seen.side * (seen.w - x[INDEX["offset"]] - x[INDEX["rotation"]] * seen.u)
    rel = seen.u - x[INDEX["phase"]] - np.where(seen.side > 0, 0.0, seen.starts * pitch / 2)
    ridge = np.rint(rel / pitch).astype(int)
    along = rel - ridge * pitch
    flank = (np.abs(height - middle) < LIMITS.ridge_flank * depth) & (np.abs(own) < LIMITS.ridge_near * pitch)
    # one number for each flank: its ridge, its edge, which side of the ridge
    factor = _block_factor(own[flank], (4 * ridge + (seen.side > 0) + 2 * (along > 0))[flank])
    finder = EDGE_FINDER_U_PX * seen.px_mm
    cos_r, cos_m = np.cos(x[INDEX["flank_right"]]), np.cos(x[INDEX["flank_left"]])
    spread = np.tan(x[INDEX["flank_right"]]) + np.tan(x[INDEX["flank_left"]])
    out: list[RidgeError] = []
    for sign in (1.0, -1.0):
        for j in np.unique(ridge):
            here = flank & (seen.side == sign) & (ridge == j)
            right, left = here & (along > 0), here & (along < 0)
            if min(right.sum(), left.sum()) < LIMITS.ridge_points:
                continue
            plus, minus = _middle(own[right], scale), _middle(own[left], scale)
            if plus is None or minus is None or not _is_metal(plus, minus):
                continue
            u = np.hypot(np.hypot(plus[1] * factor, finder) / cos_r, np.hypot(minus[1] * factor, finder) / cos_m)
            where = x[INDEX["phase"]] + (j + (0.0 if sign > 0 else seen.starts / 2)) * pitch
            grown = (plus[0] / cos_r + minus[0] / cos_m) / spread
            shifted = (plus[0] + median(of_form[right])) / cos_r - (minus[0] + median(of_form[left])) / cos_m
            out.append(
                RidgeError(
                    position=float(where - solution.start),
                    pitch_error=float(shifted / 2),
                    pitch_diameter=float(2 * (middle + x[INDEX["taper"]] * where + grown)),
                    pitch_error_u=float(u / 2),
                    pitch_diameter_u=float(2 * u / spread),
                    edge=int(sign),
                )
            )
    return tuple(sorted(out, key=lambda e: e.position))


def _block_factor(residual: Array, flank: npt.NDArray[np.int_]) -> float:
    """Factor on the scatter of a flank's mean, against independent points.

    From the means of blocks of neighbours, about as long as the correlation length of smoothing and grain, and not from
    that length itself: a flank has a few dozen points, and an autocorrelation of so few ends before slow errors show,
    such as those next to dust (on the dusty sample picture the factor would be 1.8 instead of 2.6).
    """
    points, blocks = [], []
    for one in np.unique(flank):
        r = residual[flank == one]
        if r.size < 2 * _BLOCK:
            continue
        r = r - median(r)
        most = 3 * robust_scale(r)
        r = np.clip(r, -most, most)
        points.append(np.mean(r**2))
        whole = r.size // _BLOCK * _BLOCK
        blocks.append(np.mean(r[:whole].reshape(-1, _BLOCK).mean(axis=1) ** 2))
    if not points or np.sum(points) == 0:
        return 1.0
    return float(np.sqrt(max(_BLOCK * np.sum(blocks) / np.sum(points), 1.0)))


def _is_metal(plus: tuple[float, float, bool], minus: tuple[float, float, bool]) -> bool:
    """Whether the two flanks of a ridge stand as those of one ridge can; each as ``_middle`` gives it.

    A ridge cut in the wrong place moves one flank outward and the other inward, one cut to another size both outward or
    inward alike. A film of oil, a hair or a shine covers a flank as straight as metal, but one of them, or both unlike.
    """
    if plus[2] != minus[2]:
        return False
    apart, together = abs(plus[0] - minus[0]), abs(plus[0] + minus[0])
    return plus[2] or plus[0] * minus[0] < 0 or apart < _ALIKE * together


def _middle(residual: Array, scale: float) -> tuple[float, float, bool] | None:
    """Where one flank stands against the fitted one, mm along its normal, its u from independent points, if in place.

    None when dirt or damage hides the flank.

    Most of a flank in place lies near the fitted one, the rest is dirt. A displaced flank is still straight, so that
    nearly all of it lies near its own median; dirt does not.
    """
    in_place = residual[np.abs(residual) < OUTLIER * scale]
    if in_place.size > 0.5 * residual.size:
        return median(in_place), MEDIAN_U * float(in_place.std(ddof=1)) / float(np.sqrt(in_place.size)), True
    middle = median(residual)
    near = residual[np.abs(residual - middle) < OUTLIER * scale]
    if near.size <= LIMITS.ridge_straight * residual.size:
        return None
    return float(near.mean()), float(near.std(ddof=1)) / float(np.sqrt(near.size)), False
