"""Where two outlines of one part may lie over each other: the shift along the axis at which their profiles agree."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from vision.part.axis_view import Profile
from vision.several.limits import LIMITS

Array = npt.NDArray[np.float64]

_GRAIN_PX = 0.12  # misfit that the edge finder leaves
LEAST_OVERLAP = 0.08
"""Of the shorter outline."""
_LEAST_OVERLAP_PX = 60  # a few threads, or a step
_WORST_PX = 0.9  # misfit of a place that may be right
_APART_PX = 6  # two places nearer to each other are one
_MOST = 60  # places that are looked at between the pixels
_SAMPLES = 400  # of a stretch: enough for its misfit
_BETWEEN_PX = 0.8  # by which a misfit may become less between the pixels
_MOST_SCALE = 0.01  # of the radius by which two pictures may differ
_RISE_PX = 1.0  # over three pixels
_LEAST_RISES = 6  # columns with a rise: a step or a flank

Minimum = tuple[float, int, float]


@dataclass(frozen=True)
class Candidate:
    """A shift that may be right.

    Attributes:
        shift: by which u of the right picture grows to become u of the left one, px.
        overlap: over how many px both profiles are known.
        misfit: root mean square of what differs, px, differences capped.
    """

    shift: float
    overlap: int
    misfit: float


def candidates(left: Profile, right: Profile, *, depth: float, near: bool) -> list[Candidate]:
    """The shifts at which the profiles agree as well as the best one does, the best first; empty where none agrees.

    Args:
        left: profile of the picture that shows the part's left stretch.
        right: of the picture that shows its right stretch.
        depth: of the thread, px; 0 where neither has one.
        near: whether the camera is near: then it sees the flanks of a thread from other sides in the two pictures.
    """
    cap = max(3.0, 0.25 * depth) if near else 3.0
    worst = max(_WORST_PX, 0.12 * depth) if near else _WORST_PX
    least = max(int(LEAST_OVERLAP * min(left.u.size, right.u.size)), _LEAST_OVERLAP_PX)
    known = [np.isfinite(p.upper) & np.isfinite(p.lower) for p in (left, right)]
    a = np.stack([np.nan_to_num(left.upper), np.nan_to_num(left.lower), known[0].astype(float)])
    b = np.stack([np.nan_to_num(right.upper), np.nan_to_num(right.lower), known[1].astype(float)])
    # the right outline begins inside the left one and ends beyond it
    firsts = np.arange(max(1, left.u.size - right.u.size + 1), left.u.size - least + 1)
    misfit = np.full(firsts.size, np.inf)
    for i, first in enumerate(firsts):
        n = left.u.size - first
        misfit[i] = _misfit(a[:, first : first + n], b[:, :n], cap, least)
    places = sorted(_minima(a, b, firsts, misfit, cap, least, worst), key=lambda place: place[2])
    if not places or places[0][2] > worst:
        return []
    limit = min(worst, 2 * places[0][2] + (_GRAIN_PX if not near else 0.04 * depth))
    found: list[Candidate] = []
    # two plain lengths of one diameter fit anywhere; that says nothing against a place where steps or ridges fit
    telling = [place for place in places if _says_where(a[:, a.shape[1] - place[1] :])]
    for begins, overlap, how_far in telling if telling and telling[0][2] <= limit else places:
        shift = float(left.u[0]) + begins - float(right.u[0])
        if how_far <= limit and all(abs(shift - c.shift) > _APART_PX for c in found):
            found.append(Candidate(shift, overlap, how_far))
    return found


def _misfit(one: Array, two: Array, cap: float, least: int) -> float:
    """Root mean square difference of two stretches (upper, lower, known), (3, n) each.

    A shift across the axis and a per cent of scale are left out, outliers are capped.
    """
    step = max(one.shape[1] // _SAMPLES, 1)
    one, two = one[:, ::step], two[:, ::step]
    both = one[2] * two[2] > LIMITS.known
    if int(both.sum()) * step < least:
        return np.inf
    upper, lower = (one[:2] - two[:2])[:, both]
    across = np.clip((upper + lower) / 2, -2 * cap, 2 * cap).mean()
    most = _MOST_SCALE * float(np.abs(one[0, both]).mean())
    wider = np.clip(np.clip((upper - lower) / 2, -2 * cap, 2 * cap).mean(), -most, most)
    left = np.clip(np.stack([upper - across - wider, lower - across + wider]), -cap, cap)
    return float(np.sqrt(np.mean(left**2)))


def _says_where(stretch: Array) -> bool:
    """Whether a stretch of profile (upper, lower, known) has a feature that determines a shift along the axis."""
    known = (stretch[2, 3:] * stretch[2, :-3]) > LIMITS.known
    rise = np.abs(stretch[:2, 3:] - stretch[:2, :-3])[:, known]
    return bool((rise > _RISE_PX).sum() >= _LEAST_RISES)


def _minima(
    a: Array, b: Array, firsts: npt.NDArray[np.intp], misfit: Array, cap: float, least: int, worst: float
) -> list[Minimum]:
    """The places where the misfit is least, each between the pixels: (first sample of ``a``, overlap, misfit)."""
    low = np.flatnonzero((misfit[1:-1] <= misfit[:-2]) & (misfit[1:-1] <= misfit[2:])) + 1
    found = []
    # between the pixels it can only be so much better
    low = low[misfit[low] < worst + _BETWEEN_PX]
    for i in low[np.argsort(misfit[low])][:_MOST].tolist():
        n = a.shape[1] - int(firsts[i])
        stretch = a[:, firsts[i] : firsts[i] + n]
        best: tuple[float, float] = (0.0, float(misfit[i]))
        at = np.arange(n, dtype=float)
        for part in np.arange(-0.8, 0.9, 0.2):
            # the right outline a part of a pixel farther to the left
            moved = np.stack([np.interp(at + part, np.arange(b.shape[1]), row) for row in b])
            there = _misfit(stretch, moved, cap, least)
            if there < best[1]:
                best = (float(part), there)
        found.append((float(firsts[i]) - best[0], n, best[1]))
    return found
