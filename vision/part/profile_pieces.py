"""A plain profile cut into straight and round pieces, by least squares.

The radius along the axis is cut where it jumps (faces), and between the jumps into the fewest straight lines that
follow it: the sum of squared misses plus a price for every line is smallest (dynamic programming over the places where
a line may end). Neighbours that are one line but for less than can be seen are joined; a chain of short lines that one
conic of revolution, r^2 = a + b u + c u^2, follows as well is a rounding.
"""

from __future__ import annotations

from dataclasses import dataclass
from itertools import pairwise

import numpy as np
import numpy.typing as npt

from vision.part.limits import LIMITS

Array = npt.NDArray[np.float64]
Bool = npt.NDArray[np.bool_]

STEEP = 3.0
"""Slope from which on an outline is a face: 72 deg from the axis."""
TAPERED = float(np.tan(np.radians(3.0)))
"""Slope from which on a length is a cone and no cylinder."""
SHORTEST_PX = 8  # piece of a profile
_BEFORE_FACE_PX = 2  # next to a face, left out
_MISS_PX = 0.4  # what a straight line may miss by and still be one: form and grain of real parts
_PRICE = 25.0  # of a line, in squared misses: about three corners' worth of samples
_NODES = 110  # at which a profile may be cut, at most
_SAME_JUMP_PX = 1.0  # of the radius: no step
_SAME_TURN = np.radians(1.5)  # of the direction: no corner
_ROUND_MISS_PX = 0.6  # by which an arc may miss


@dataclass(frozen=True)
class Piece:
    """A straight or round length of a profile, all lengths in px.

    Attributes:
        start, end: where it lies along u.
        radius: at its middle.
        slope: of the radius along u, at its middle.
        round: whether it is the arc of a conic of revolution.
        radius_start, radius_end: at its two ends.
    """

    start: float
    end: float
    radius: float
    slope: float
    round: bool
    radius_start: float
    radius_end: float

    @property
    def length(self) -> float:
        return self.end - self.start

    @property
    def largest(self) -> float:
        """The larger of its radii; of an arc the one in its middle counts too."""
        return max(self.radius_start, self.radius_end, self.radius if self.round else 0.0)


def find_pieces(u: Array, radius: Array) -> list[Piece]:
    """The pieces from left to right.

    Args:
        u: (n,) positions along the axis, one px apart.
        radius: (n,) px; NaN where it is not known or does not belong to a plain profile.
    """
    known = np.isfinite(radius)
    if known.sum() < SHORTEST_PX:
        return []
    filled = np.interp(u, u[known], radius[known])
    steep = np.zeros(u.size, bool)
    steep[1:-1] = np.abs(filled[2:] - filled[:-2]) > 2 * STEEP
    near = np.convolve(steep, np.ones(2 * _BEFORE_FACE_PX + 1), mode="same") > 0.5
    pieces: list[Piece] = []
    for i, j in runs(~near & _bridged(known)):
        here = np.arange(i, j)[known[i:j]]
        if here.size >= SHORTEST_PX:
            pieces += _joined(_lines(u[here], radius[here]))
    return pieces


def runs(on: Bool) -> list[tuple[int, int]]:
    """First and one-past-last index of each run of True."""
    edge = np.diff(np.concatenate([[0], on.astype(np.int8), [0]]))
    return list(zip(np.flatnonzero(edge == 1).tolist(), np.flatnonzero(edge == -1).tolist(), strict=True))


def _bridged(known: Bool, longest: int = 60) -> Bool:
    """Gaps of dirt count as known; longer gaps, such as a thread, part the profile."""
    out = known.copy()
    for i, j in runs(~known):
        if i > 0 and j < known.size and j - i <= longest:
            out[i:j] = True
    return out


@dataclass(frozen=True)
class _Line:
    """A fitted line over the samples u, r."""

    u: Array
    r: Array

    def fit(self) -> tuple[float, float, float]:
        """Middle, radius there, slope."""
        middle = (float(self.u[0]) + float(self.u[-1])) / 2
        d = self.u - self.u.mean()
        power = float(d @ d)
        slope = float(d @ self.r) / power if power > 0 else 0.0
        return middle, float(self.r.mean()) + slope * (middle - float(self.u.mean())), slope


def _lines(u: Array, r: Array) -> list[_Line]:
    """The fewest lines that follow the samples: first over an even grid of places to cut, then over all near those."""
    n = u.size
    step = max(n // _NODES, 1)
    cut = _best_cuts(u, r, np.unique(np.append(np.arange(0, n - step, step), n)))
    if step > 1:
        near = (cut[1:-1, None] + np.arange(-step, step + 1, max(step // 8, 1))).ravel()
        cut = _best_cuts(u, r, np.unique(np.concatenate([cut, near[(near > 0) & (near < n)]])))
    return [_Line(u[a:b], r[a:b]) for a, b in pairwise(cut.tolist())]


def _best_cuts(u: Array, r: Array, cut: npt.NDArray[np.intp]) -> npt.NDArray[np.intp]:
    """Those of the places ``cut`` (first 0, last u.size) between which lines follow the samples at the least cost."""
    x = u - u.mean()
    y = r - r.mean()
    sums = [np.concatenate([[0.0], np.cumsum(v)])[cut] for v in (np.ones(x.size), x, y, x * x, x * y, y * y)]
    k = cut.size
    s1, sx, sy, sxx, sxy, syy = (v[None, :] - v[:, None] for v in sums)
    s1 = np.maximum(s1, 1.0)
    spread = np.maximum(sxx - sx * sx / s1, 1e-9)
    along = sxy - sx * sy / s1
    cost = np.maximum(syy - sy * sy / s1 - along * along / spread, 0.0) / _MISS_PX**2 + _PRICE
    best = np.zeros(k)
    came = np.zeros(k, int)
    for end in range(1, k):
        total = best[:end] + cost[:end, end]
        came[end] = total.argmin()
        best[end] = total[came[end]]
    chosen = [k - 1]
    while chosen[-1] > 0:
        chosen.append(int(came[chosen[-1]]))
    return cut[chosen[::-1]]


def _joined(lines: list[_Line]) -> list[Piece]:
    """Lines that are one are joined, then chains of lines into roundings; what is then too short is no piece."""
    lines = _join(lines)
    out: list[Piece] = []
    first = 0
    while first < len(lines):
        last = first + 1
        # a rounding takes three lines at the least, each of them short against the whole
        for stop in range(len(lines), first + 2, -1):
            if _is_round(lines[first:stop]):
                last = stop
                break
        out += [p for p in [_piece(lines[first:last])] if p.length >= SHORTEST_PX]
        first = last
    return out


def _join(lines: list[_Line]) -> list[_Line]:
    out = [lines[0]]
    for line in lines[1:]:
        if _is_one_line(out[-1], line):
            out[-1] = _Line(np.concatenate([out[-1].u, line.u]), np.concatenate([out[-1].r, line.r]))
        else:
            out.append(line)
    return out


def _is_one_line(a: _Line, b: _Line) -> bool:
    (ma, ra, sa), (mb, rb, sb) = a.fit(), b.fit()
    between = (float(a.u[-1]) + float(b.u[0])) / 2
    jump = abs(ra + sa * (between - ma) - rb - sb * (between - mb))
    return jump < _SAME_JUMP_PX and abs(np.arctan(sa) - np.arctan(sb)) < _SAME_TURN


def _conic(u: Array, r: Array) -> tuple[float, Array]:
    """Middle and coefficients of r^2 along u - middle, lowest power first."""
    middle = (float(u[0]) + float(u[-1])) / 2
    weight = 1 / np.maximum(2 * r, 8.0)
    design = np.vander(u - middle, 3, increasing=True)
    coef, *_ = np.linalg.lstsq(design * weight[:, None], r * r * weight, rcond=None)
    return middle, np.asarray(coef)


def _is_round(lines: list[_Line]) -> bool:
    slopes = [line.fit()[2] for line in lines]
    turns = np.diff(np.arctan(slopes))
    if not (turns < 0).all() or np.abs(turns).max() > np.radians(LIMITS.round_turn_deg):
        return False
    u, r = np.concatenate([line.u for line in lines]), np.concatenate([line.r for line in lines])
    if max(line.u.size for line in lines) > LIMITS.round_line * u.size:
        return False
    middle, c = _conic(u, r)
    found = np.sqrt(np.maximum(np.polynomial.polynomial.polyval(u - middle, c), 0.0))
    return float(np.sqrt(np.mean((found - r) ** 2))) < _ROUND_MISS_PX


def _piece(lines: list[_Line]) -> Piece:
    u, r = np.concatenate([line.u for line in lines]), np.concatenate([line.r for line in lines])
    start, end = float(u[0]), float(u[-1])
    if len(lines) == 1:
        middle, radius, slope = lines[0].fit()
        half = (end - start) / 2
        return Piece(start, end, radius, slope, False, radius - slope * half, radius + slope * half)
    middle, c = _conic(u, r)
    ends = np.sqrt(np.maximum(np.polynomial.polynomial.polyval(np.array([start, middle, end]) - middle, c), 0.0))
    return Piece(start, end, float(ends[1]), float(c[1] / max(2 * ends[1], 1e-6)), True, float(ends[0]), float(ends[2]))
