"""Crests that have lost height: lower over a stretch than elsewhere, or lower everywhere than any class allows."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from threads.shared.quantity import Quantity
from vision.fit.limits import LIMITS
from vision.fit.ridge_coordinates import CERTAIN, FIXED_U_PX, LEAST_PX, ridge_coordinates, worn_group, worn_stretch
from vision.fit.solve import Solution
from vision.model.shadow import INDEX
from vision.shared.robust import MEDIAN_U, median, robust_scale

Array = npt.NDArray[np.float64]
Bool = npt.NDArray[np.bool_]


@dataclass(frozen=True)
class CrestWear:
    """Crests that are lower than others, or than any class of the form allows.

    Attributes:
        lost: um of the radius: against the crests that are not worn, or against the full form.
        everywhere: whether all crests in view are worn, so that the full form had to be the measure.
        begin, end: along u, mm.
    """

    lost: Quantity
    everywhere: bool
    begin: float
    end: float


def _crest_heights(solution: Solution) -> tuple[Array, Array, Array, Array]:
    """For each ridge of an edge how much its crest stands back, its place, its edge, its number; (n,) each."""
    x, seen = solution.fit.x, solution.seen
    at = ridge_coordinates(x, seen)
    r = solution.fit.residual
    half = (x[INDEX["flank_right"]] + x[INDEX["flank_left"]]) / 2
    flat = x[INDEX["pitch"]] / 2 - (x[INDEX["crest"]] - x[INDEX["pitch_radius"]]) * 2 * np.tan(half)
    near = np.abs(r) < LIMITS.crest_near * x[INDEX["pitch"]]
    width = max(LIMITS.crest_middle[0] * flat, LIMITS.crest_middle[1] * seen.px_mm)
    top = near & (np.abs(at.along) < width) & (at.height > LIMITS.crest_above[0])
    flank = near & (at.height > LIMITS.crest_flank[0]) & (at.height < LIMITS.crest_flank[1])
    back, places, edges, ridges = [], [], [], []
    for edge in (1.0, -1.0):
        for ridge in np.unique(at.ridge[top & (at.edge == edge)]):
            one = (at.edge == edge) & (at.ridge == ridge)
            right, left = one & flank & (at.toward > 0), one & flank & (at.toward < 0)
            if min((one & top).sum(), right.sum(), left.sum()) < LIMITS.crest_points:
                continue
            grown = (median(r[right]) + median(r[left])) / 2 / np.sin(half)
            back.append(float(grown - median(r[one & top])))
            places.append(median(at.u[one & top]))
            edges.append(edge)
            ridges.append(ridge)
    return np.array(back), np.array(places), np.array(edges), np.array(ridges)


def crests_along(solution: Solution) -> tuple[CrestWear, Bool] | None:
    """Crests that are lower over a stretch than elsewhere, and the points on them."""
    back, places, edges, ridges = _crest_heights(solution)
    mm = solution.seen.px_mm
    if back.size < LIMITS.crests_judged:
        return None
    # the sound ones are the highest; against them the others stand back
    high = median(np.sort(back)[: max(4, back.size // 4)])
    back = back - high
    least = max(LEAST_PX * mm, 3 * solution.fit.scale)
    group = worn_group(back, places, edges, least)
    if group is None or (~group).sum() < LIMITS.least_worn:
        return None
    low, top = back[group], back[~group]
    lost = float(median(low) - median(top))
    scatter = [robust_scale(g - median(g)) for g in (low, top)]
    u = float(np.sqrt(sum((MEDIAN_U * s) ** 2 / g.size for s, g in zip(scatter, (low, top), strict=True))))
    u = float(np.hypot(u, FIXED_U_PX * mm))
    if lost < max(least, CERTAIN * u, LIMITS.crest_contrast * scatter[1]):
        return None
    begin, end = worn_stretch(places, group, solution, solution.fit.x[INDEX["pitch"]])
    x = solution.fit.x
    at = ridge_coordinates(x, solution.seen)
    worn = {(e, j) for e, j in zip(edges[group], ridges[group], strict=True)}
    on = np.array([(e, j) in worn for e, j in zip(at.edge, at.ridge, strict=True)])
    depth = x[INDEX["crest"]] - x[INDEX["root"]]
    sound_crest = 1 - (median(top) + high) / depth
    points = on & (at.height > sound_crest - lost / depth - LIMITS.crest_margin)
    return CrestWear(Quantity(1e3 * lost, 1e3 * u, "um"), everywhere=False, begin=begin, end=end), points


def highest(solution: Solution, low: Bool) -> float:
    """Height of the crests that are not worn."""
    x = solution.fit.x
    share = max(_middle_height(solution, ~low), 1.0)
    return float(x[INDEX["root"]] + share * (x[INDEX["crest"]] - x[INDEX["root"]]))


def _middle_height(solution: Solution, among: Bool | None = None) -> float:
    """How high the middles of the crests reach, 1 for the fitted crest; ``among`` picks points."""
    x, seen = solution.fit.x, solution.seen
    at = ridge_coordinates(x, seen)
    above, below = LIMITS.crest_above
    middle = (np.abs(at.along) < LIMITS.crest_line * x[INDEX["pitch"]]) & (at.height > above) & (at.height < below)
    heights = at.height[middle if among is None else middle & among]
    return median(heights) if heights.size else 1.0


def crests_everywhere(solution: Solution, *, domed: bool = False) -> CrestWear | None:
    """Crests lower than any class of any form of that angle would leave them, with the flanks where they are.

    The widest crest of a sound thread: the form's own, and what a major diameter at its lower limit with the pitch
    diameter at its upper one adds. The tolerance of the major diameter is Td = 180 p^(2/3) - 3.15 / sqrt(p) um (ISO
    965-1, grade 6; Unified 2A is the same within 2 %), times 1.5 for the coarse grades. ``domed``: the crest of the
    fit is the middle of the domes, their points are left out of it.
    """
    x = solution.fit.x
    pitch, right, left = x[INDEX["pitch"]], x[INDEX["flank_right"]], x[INDEX["flank_left"]]
    run = float(np.tan(right) + np.tan(left))
    included = float(np.degrees(right + left))
    sixty, fifty_five = LIMITS.whitworth_from
    basic = 0.125 if included > sixty else 0.167 if included > fifty_five else 0.237  # ISO and Unified; Whitworth; BA
    tolerance = (180 * pitch ** (2 / 3) - 3.15 / np.sqrt(pitch)) / 1e3
    # a worn crest may be domed: what is left reaches up to its middle, not to the flat of the fitted form
    share = 1.0 if domed else _middle_height(solution)
    top = float(x[INDEX["root"]] + share * (x[INDEX["crest"]] - x[INDEX["root"]]))
    width = float(pitch / 2 - (top - x[INDEX["pitch_radius"]]) * run)
    widest = basic * pitch + 1.5 * tolerance / 2 * run
    inverse = np.linalg.pinv(solution.fit.normal_matrix)
    lever = np.zeros(x.size)
    lever[INDEX["crest"]], lever[INDEX["pitch_radius"]] = -run, run
    mm = solution.seen.px_mm
    u = float(np.hypot(np.sqrt(max(float(lever @ inverse @ lever), 0.0)) * solution.fit.scale * 2, 2 * FIXED_U_PX * mm))
    if width - 2 * u < widest:
        return None
    lost = (width - basic * pitch) / run
    # the form allows its crest some tolerance: what was lost is known to half of that
    allowed = tolerance / 2 / np.sqrt(12)
    return CrestWear(
        Quantity(1e3 * lost, 1e3 * float(np.hypot(u / run, allowed)), "um"),
        everywhere=True,
        begin=solution.start,
        end=solution.end,
    )
