"""A flank that has lost metal: on every ridge of a stretch and on both edges it stands back above some height."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from threads.shared.quantity import Quantity
from vision.fit.limits import LIMITS
from vision.fit.marquardt import residuals
from vision.fit.ridge_coordinates import (
    CERTAIN,
    FIXED_U_PX,
    LEAST_PX,
    RidgeCoordinates,
    refitted,
    ridge_coordinates,
    worn_group,
    worn_stretch,
)
from vision.fit.solve import Solution
from vision.model.shadow import INDEX
from vision.shared.robust import MAD_TO_SIGMA, MEDIAN_U, median

Array = npt.NDArray[np.float64]
Bool = npt.NDArray[np.bool_]

_BINS = np.linspace(0.08, 0.98, 13)  # of the depth, root to crest
_CENTRES = (_BINS[1:] + _BINS[:-1]) / 2
_HINT_PX = 0.12  # by which the two kinds of flanks, folded, differ; on sound threads it is under 0.06
_LOW = 0.3  # of the depth: under it a flank is taken for sound at first


@dataclass(frozen=True)
class FlankWear:
    """One flank that has lost metal, the same on all ridges from ``begin`` to ``end``.

    Attributes:
        toward: +1 for the flank on the +u side of the ridges, -1 for the other.
        lost: um along its normal, at the crest.
        down_to: where it ends, as a fraction of the depth, 0 root and 1 crest.
        even: whether as much is lost everywhere above; else it grows toward the crest.
        begin, end: along u, mm.
    """

    toward: int
    lost: Quantity
    down_to: float
    even: bool
    begin: float
    end: float


def _flank_rows(at: RidgeCoordinates, r: Array, toward: int, begin: float, end: float) -> tuple[Array, Array, Array]:
    """Medians of ``r`` in bins of height for each flank of one kind: (flanks, bins), their u, their edge."""
    index = np.flatnonzero((at.toward == toward) & (at.u > begin) & (at.u < end))
    cell = np.digitize(at.height[index], _BINS) - 1
    bins = _CENTRES.size
    inside = (cell >= 0) & (cell < bins)
    index, cell = index[inside], cell[inside]
    # a number for each flank: its ridge, and its edge (+1 or -1) in the last place
    flanks, which = np.unique(2 * at.ridge[index] + (at.edge[index] > 0), return_inverse=True)
    count = flanks.size
    rows, filled = _grouped_medians(r[index], which * bins + cell, count * bins)
    rows = np.where(filled >= 2, rows, np.nan).reshape(count, bins)
    places, _ = _grouped_medians(at.u[index], which, count)
    keep = np.isfinite(rows).sum(axis=1) >= bins // 2
    return rows[keep], places[keep], np.where(flanks[keep] % 2 == 1, 1.0, -1.0)


def _grouped_medians(values: Array, group: npt.NDArray[np.intp], count: int) -> tuple[Array, npt.NDArray[np.intp]]:
    """Median of ``values`` in each of ``count`` groups, NaN in an empty one, and how many there are."""
    ordered = values[np.lexsort((values, group))]
    size = np.bincount(group, minlength=count)
    first = np.concatenate([[0], np.cumsum(size)[:-1]])
    some = size > 0
    out = np.full(count, np.nan)
    low, high = first[some] + (size[some] - 1) // 2, first[some] + size[some] // 2
    out[some] = (ordered[low] + ordered[high]) / 2
    return out, size


def _folded(rows: Array) -> tuple[Array, Array]:
    """Median of the flanks at each height and its standard uncertainty; NaN where fewer than three have a value."""
    count = np.isfinite(rows).sum(axis=0)
    if rows.shape[0] < LIMITS.flank_rows:
        nothing = np.full(count.size, np.nan)
        return nothing, nothing
    out = _column_medians(rows, count)
    u = MEDIAN_U * MAD_TO_SIGMA * _column_medians(np.abs(rows - out), count) / np.sqrt(np.maximum(count, 1))
    enough = count >= LIMITS.flank_rows
    return np.where(enough, out, np.nan), np.where(enough, u, np.nan)


def _column_medians(rows: Array, count: npt.NDArray[np.intp]) -> Array:
    """Median of the ``count`` finite values of each column, NaN where there are none."""
    ordered = np.sort(rows, axis=0)  # NaN last
    column = np.arange(rows.shape[1])
    low, high = np.maximum(count - 1, 0) // 2, np.minimum(count // 2, rows.shape[0] - 1)
    return np.asarray((ordered[low, column] + ordered[high, column]) / 2)


def _is_suspect(solution: Solution) -> bool:
    """Whether the two kinds of flanks, folded, differ: over the whole length or over one half of it."""
    at = ridge_coordinates(solution.fit.x, solution.seen)
    mm = solution.seen.px_mm
    middle = (solution.start + solution.end) / 2
    for begin, end in (
        (solution.start, solution.end),
        (solution.start, middle),
        (middle, solution.end),
    ):
        right, u_right = _folded(_flank_rows(at, solution.fit.residual, 1, begin, end)[0])
        left, u_left = _folded(_flank_rows(at, solution.fit.residual, -1, begin, end)[0])
        differ = np.abs(right - left) > np.maximum(_HINT_PX * mm, CERTAIN * np.hypot(u_right, u_left))
        if np.any(differ[1:] & differ[:-1]):
            return True
    return False


def find_worn_flank(solution: Solution) -> tuple[FlankWear, Solution, Bool] | None:
    """The worn flank, the solution without it, and the points left out."""
    if not _is_suspect(solution):
        return None
    best: tuple[FlankWear, Solution, Bool] | None = None
    for toward in (1, -1):
        found = _try_flank(solution, toward)
        if found is not None and (best is None or found[0].lost.value > best[0].lost.value):
            best = found
    return best


def _try_flank(solution: Solution, toward: int) -> tuple[FlankWear, Solution, Bool] | None:
    x = solution.fit.x
    start = x.copy()
    name, other = ("flank_right", "flank_left") if toward > 0 else ("flank_left", "flank_right")
    start[INDEX[name]] = x[INDEX[other]]
    start[INDEX["crest_corner"]] = min(x[INDEX["crest_corner"]], 0.03 * x[INDEX["pitch"]])
    at = ridge_coordinates(x, solution.seen)
    worn = (at.toward == toward) & (at.height > _LOW)
    sound = refitted(solution, ~worn, start)
    seen = None if sound is None else _read_flank(solution, sound, toward)
    if sound is None or seen is None:
        return None
    # once more, with all of the flank that is sound
    at = ridge_coordinates(sound.fit.x, solution.seen)
    inside = (at.u > seen.begin) & (at.u < seen.end)
    below, lowest = LIMITS.flank_margin
    worn = (at.toward == toward) & (at.height > max(seen.down_to - below, lowest)) & inside
    sound = refitted(solution, ~worn, sound.fit.x)
    seen = None if sound is None else _read_flank(solution, sound, toward)
    return None if sound is None or seen is None else (seen, sound, worn)


def _read_flank(solution: Solution, sound: Solution, toward: int) -> FlankWear | None:
    """What the flank has lost against the thread ``sound``; None when it is not worn, or not alike on both edges."""
    x, mm = sound.fit.x, solution.seen.px_mm
    at = ridge_coordinates(x, solution.seen)
    r, jac = residuals(_sharpened(x), solution.seen)
    near = np.abs(r) < LIMITS.crest_near * x[INDEX["pitch"]]
    r = np.where(near, r, np.nan)
    ours, places, edges = _flank_rows(at, np.nan_to_num(r, nan=-1e3), toward, solution.start, solution.end)
    others, _, _ = _flank_rows(at, np.nan_to_num(r, nan=-1e3), -toward, solution.start, solution.end)
    reference, u_reference = _folded(others)
    upper = (LIMITS.flank_top[0] < _CENTRES) & (LIMITS.flank_top[1] > _CENTRES) & np.isfinite(reference)
    if len(ours) < LIMITS.least_worn or not upper.any():
        return None
    with np.errstate(invalid="ignore"):
        back = np.array([_median(-(row - reference)[upper]) for row in ours])
    known = np.isfinite(back)
    ours, places, edges, back = ours[known], places[known], edges[known], back[known]
    least = max(LEAST_PX * mm, 3 * sound.fit.scale)
    group = worn_group(back, places, edges, least)
    if group is None:
        return None
    profile, u_profile = _folded(ours[group])
    loss = reference - profile
    u = np.hypot(u_profile, u_reference)
    ok = np.isfinite(loss) & np.isfinite(u) & (LIMITS.flank_below > _CENTRES)
    if ok.sum() < LIMITS.flank_bins:
        return None
    lost, down_to, even, spread = _shape(_CENTRES[ok], loss[ok])
    if jac is None:  # cannot be: derivatives were asked for
        raise ValueError("no derivatives")
    top = (at.toward == toward) & (np.abs(at.height - LIMITS.flank_crest[0]) < LIMITS.flank_crest[1]) & near
    lever = jac[:, top].mean(axis=1)
    extrapolated = float(np.sqrt(max(lever @ np.linalg.pinv(sound.fit.normal_matrix) @ lever, 0.0))) * sound.fit.scale
    total = float(np.sqrt(median(u[ok]) ** 2 + (FIXED_U_PX * mm) ** 2 + spread**2 + 4 * extrapolated**2))
    if lost < max(least, CERTAIN / 2 * total):
        return None
    pitch = x[INDEX["pitch"]]
    begin, end = worn_stretch(places, group, solution, pitch)
    return FlankWear(toward, Quantity(1e3 * lost, 1e3 * total, "um"), down_to, even, begin, end)


def _median(values: Array) -> float:
    values = values[np.isfinite(values)]
    return median(values) if values.size >= 2 else float("nan")


def _sharpened(x: Array) -> Array:
    """The thread with flanks that go on beyond crest and root, corners sharp: residuals against it are the flanks'."""
    y = x.copy()
    run = np.tan(x[INDEX["flank_right"]]) + np.tan(x[INDEX["flank_left"]])
    y[INDEX["crest"]] = x[INDEX["pitch_radius"]] + 0.48 * x[INDEX["pitch"]] / run
    y[INDEX["crest_corner"]] = 0.0
    return y


def _shape(t: Array, loss: Array) -> tuple[float, float, bool, float]:
    """Loss at the crest, where it ends, whether it is even, and how much the loss differs between likely shapes."""
    tried = []
    for down_to in np.arange(0.1, 0.86, 0.05):
        for even in (False, True):
            shape = np.clip((t - down_to) / (0.1 if even else 1 - down_to), 0.0, 1.0)
            if (shape > LIMITS.wear_shape).sum() < 2:
                continue
            lost = float(shape @ loss / (shape @ shape))
            tried.append((float(np.mean(np.abs(loss - lost * shape))), lost, float(down_to), even))
    tried.sort()
    times, share = LIMITS.likely_shape
    most = times * tried[0][0] + share * abs(tried[0][1])
    likely = [lost for miss, lost, _, _ in tried if miss < most]
    return tried[0][1], tried[0][2], tried[0][3], float(np.ptp(likely)) / 2
