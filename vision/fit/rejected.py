"""Rejected pieces of the outline: where, why, and how much their neighbourhood still moves the result."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from itertools import pairwise

import numpy as np
import numpy.typing as npt

from threads.shared.refusal import Reason, RefusalError
from vision.fit.limits import LIMITS
from vision.fit.ridge_coordinates import ridge_coordinates
from vision.fit.solve import Solution
from vision.model.shadow import INDEX
from vision.outline.edges import EdgePoints
from vision.shared.robust import OUTLIER

Array = npt.NDArray[np.float64]
Bool = npt.NDArray[np.bool_]

LIES_ON = "lies on the edge"
MISSING = "missing from the edge"
SHINES = "shines inside the edge"
WORN = "worn"
BURNT = "burnt light"

_GAP_PX = 4.0  # sound points between two runs that are still one
_GUARD_PX = 6.0  # next to dirt the smoothed edge leans toward it
_FEW = 0.45  # share of one kind of flank hidden from which there is a warning
_TOO_FEW = 0.75  # the same from which the picture is refused
_LEAST_FLANKS = 2  # whole ones of each kind on each edge that must be left
_LEAST_NEAR = 0.6  # of the points that must lie near the thread
_MUCH_SHINE = 0.012  # of the outline that mirrors light
_ROUGH_PX = 0.3  # scatter from which shine spoils the fit


@dataclass(frozen=True)
class RejectedRun:
    """A piece of the outline that was set aside.

    Attributes:
        side: "upper" or "lower" edge of the thread, u pointing right (or down).
        reason: LIES_ON (dust, hair, burr, oil), MISSING (nick, lost plating), SHINES, WORN, or BURNT.
        begin_px, end_px: its ends in the picture, (x, y).
        length_px: along the outline.
        height_px: the farthest from where the thread's edge should be, positive outside; 0 for burnt light.
    """

    side: str
    reason: str
    begin_px: tuple[float, float]
    end_px: tuple[float, float]
    length_px: float
    height_px: float

    def to_dict(self) -> dict[str, object]:
        """Plain data for JSON."""
        return {
            "side": self.side,
            "reason": self.reason,
            "from_px": [round(v, 1) for v in self.begin_px],
            "to_px": [round(v, 1) for v in self.end_px],
            "length_px": round(self.length_px, 1),
            "height_px": round(self.height_px, 2),
        }


def rejected_runs(
    first: Solution, final: Solution, worn: Bool, edges: EdgePoints, shining: Bool
) -> tuple[RejectedRun, ...]:
    """The runs of rejected edge points inside the threaded length, from left to right.

    Args:
        first: the fit over all points.
        final: the fit over those that are not ``worn``.
        worn: (n,) which points of ``first`` are on worn metal.
        edges: the edge points that the fit chose from.
        shining: which of them shine.
    """
    mm = first.seen.px_mm
    residual = np.empty(worn.size)
    residual[~worn], residual[worn] = final.fit.residual, first.fit.residual[worn]
    outlier = np.abs(residual) > OUTLIER * final.fit.scale
    reason = np.where(outlier, np.where(residual > 0, 1, np.where(shining[first.chosen], 3, 2)), 0)
    reason[worn] = 4
    names = ("", LIES_ON, MISSING, SHINES, WORN)
    xy, side = edges.xy[first.chosen], first.seen.side
    out = [
        _run(xy[i:j], names[reason[i]], side[i], residual[i:j] / mm)
        for i, j in _runs(reason, xy, side)
        if j - i > 1 or abs(residual[i]) > LIMITS.one_stretch * final.fit.scale
    ]
    return tuple(sorted(out, key=lambda run: run.begin_px))


def burnt_runs(solution: Solution, burnt: EdgePoints, undistorted: Array) -> tuple[RejectedRun, ...]:
    """The runs of edge points before burnt light inside the threaded length; ``undistorted`` as in ``solve.solve``."""
    uw = solution.frame.to_frame(undistorted * solution.seen.px_mm)
    inside = (uw[:, 0] > solution.start) & (uw[:, 0] < solution.end)
    xy, side = burnt.xy[inside], np.where(uw[inside, 1] > solution.parameters.offset, 1.0, -1.0)
    runs = _runs(np.ones(len(xy), dtype=int), xy, side)
    return tuple(_run(xy[i:j], BURNT, side[i], np.zeros(1)) for i, j in runs)


def _runs(reason: npt.NDArray[np.int_], xy: Array, side: Array) -> Iterator[tuple[int, int]]:
    """First and last + 1 of each run of one reason; gaps of a few sound px are bridged."""
    marked = np.flatnonzero(reason)
    if not marked.size:
        return
    step = np.hypot(*(xy[marked[1:]] - xy[marked[:-1]]).T)
    apart = (step > _GAP_PX) | (reason[marked[1:]] != reason[marked[:-1]]) | (side[marked[1:]] != side[marked[:-1]])
    ends = np.concatenate([[0], np.flatnonzero(apart) + 1, [marked.size]])
    for i, j in pairwise(ends):
        yield int(marked[i]), int(marked[j - 1]) + 1


def _run(xy: Array, reason: str, side: float, height: Array) -> RejectedRun:
    ends = sorted([(float(xy[0, 0]), float(xy[0, 1])), (float(xy[-1, 0]), float(xy[-1, 1]))])
    length = float(np.hypot(*np.diff(xy, axis=0).T).sum())
    farthest = float(height[np.argmax(np.abs(height))])
    return RejectedRun("upper" if side > 0 else "lower", reason, ends[0], ends[1], length + 1, farthest)


def check_what_is_left(solution: Solution, shining: float) -> tuple[Reason, ...]:
    """Warnings where little of one kind of flank is left. ``shining`` is the part of the outline that shines.

    Raises RefusalError: too_dirty, where next to nothing of it is left or most of the outline lies off the thread;
    glare, where a part shines and the rest does not make a thread.
    """
    fit = solution.fit
    if shining > _MUCH_SHINE and fit.scale > max(_ROUGH_PX * solution.seen.px_mm, LIMITS.rough * solution.noise):
        raise RefusalError("glare.uneven", percent=100 * shining, uneven_px=fit.scale / solution.seen.px_mm)
    off = np.abs(fit.residual)
    noises, pitches = LIMITS.near_noise
    near = float((off < max(noises * solution.noise, pitches * fit.x[INDEX["pitch"]])).mean())
    if near < _LEAST_NEAR:
        raise RefusalError("too_dirty", percent=100 * near)
    good = off < OUTLIER * fit.scale
    at = ridge_coordinates(fit.x, solution.seen)
    flank = np.abs(at.height - 0.5) < LIMITS.hidden_band
    worst = 0.0
    for edge in (1.0, -1.0):
        for toward in (1.0, -1.0):
            here = flank & (at.edge == edge) & (at.toward == toward)
            if not here.any():
                continue
            lost = 1 - float(good[here].mean())
            worst = max(worst, lost)
            sound = sum(bool(good[here & (at.ridge == j)].mean() > 0.5) for j in np.unique(at.ridge[here]))
            if lost > _TOO_FEW or sound < _LEAST_FLANKS:
                raise RefusalError("too_dirty.flank", percent=100 * (1 - lost), flanks=sound)
    if worst <= _FEW:
        return ()
    return (Reason("flank_mostly_hidden", percent=100 * worst),)


def pull_of_dirt(solution: Solution) -> Array:
    """(COUNT,) by how much the parameters would change without the points next to what was set aside.

    One step of the fit with those within a few px of an outlier left out: there the smoothed edge leans toward the
    dirt by less than five sigma, and still counts.
    """
    fit, seen = solution.fit, solution.seen
    outlier = np.abs(fit.residual) > OUTLIER * fit.scale
    if not outlier.any():
        return np.zeros(fit.x.size)
    step = float(np.median(np.hypot(np.diff(seen.u), np.diff(seen.w)))) / seen.px_mm
    reach = max(round(_GUARD_PX / max(step, 0.1)), 1)
    near = np.convolve(outlier, np.ones(2 * reach + 1), mode="same") > 0.5
    kept = fit.weight * ~near
    normal = (fit.jacobian * kept) @ fit.jacobian.T + fit.normal_matrix - fit.data_matrix
    # where the fit ended the pull of the priors balances that of all points
    slope = (fit.jacobian * (kept - fit.weight)) @ fit.residual
    d = np.sqrt(np.maximum(np.diag(normal), 1e-30))
    return np.asarray(-np.linalg.pinv(normal / np.outer(d, d), rcond=1e-13, hermitian=True) @ (slope / d) / d)


def dirt_doubt(solution: Solution, sensitivity: Array, u95: float) -> tuple[Reason, ...]:
    """A warning when the points next to dirt move the pitch diameter by half of its U95 or more.

    ``sensitivity`` (COUNT,) is how the pitch diameter follows the parameters, ``u95`` its U95, both in mm.
    """
    change = float(sensitivity @ pull_of_dirt(solution))
    if abs(change) < 0.5 * u95:
        return ()
    if change > 0:
        return (Reason("dirt_may_bias.larger", change_um=1000.0 * change),)
    return (Reason("dirt_may_bias.smaller", change_um=-1000.0 * change),)
