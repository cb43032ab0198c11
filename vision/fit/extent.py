"""How far along the axis the outline follows a fitted thread."""

from __future__ import annotations

import numpy as np
import numpy.typing as npt

from threads.shared.refusal import RefusalError
from vision.fit.limits import LIMITS
from vision.fit.marquardt import Observed, ShadowFit, residuals
from vision.model.shadow import INDEX
from vision.shared.robust import OUTLIER

Bool = npt.NDArray[np.bool_]

_LEAVES = 5  # neighbouring edge points of which most must miss the thread where it ends


def extent(fit: ShadowFit, points: Observed, near: Bool, start: float, end: float) -> tuple[float, float]:
    """How far along the axis the outline follows the fitted thread: half a pitch at a time, from the middle outward.

    Incomplete threads at a chamfer or a run-out, and shoulders, are left out.

    Raises RefusalError: not_a_thread where the fit has gone so far astray that no point is left.
    """
    pitch = fit.x[INDEX["pitch"]]
    from_u, to_u = start - 2 * pitch, end + 2 * pitch
    keep = near & (points.u > from_u) & (points.u < to_u)
    if not keep.any():
        raise RefusalError("not_a_thread.flanks")
    part = points.select(keep)
    r, _ = residuals(fit.x, part, gradient=False, step=1.0)
    good = np.abs(r) < max(OUTLIER * fit.scale, LIMITS.follows * points.px_mm)
    cells = np.floor((part.u - from_u) / (pitch / 2)).astype(int)
    count = int(cells.max()) + 1
    ok = np.ones(count, dtype=bool)
    for sign in (1.0, -1.0):
        on = part.side == sign
        total = np.bincount(cells[on], minlength=count)
        fine = np.bincount(cells[on], weights=good[on], minlength=count)
        ok &= (total > LIMITS.whole_half[0] * pitch / points.px_mm) & (fine > LIMITS.whole_half[1] * total)
    middle = int(((start + end) / 2 - from_u) / (pitch / 2))
    # bridge single bad cells (dust) inside the length found before
    inner_from, inner_to = int((start - from_u) / (pitch / 2)) + 2, int((end - from_u) / (pitch / 2)) - 2
    ok[max(inner_from, 0) : max(inner_to + 1, 0)] = True
    lo = hi = min(max(middle, 0), count - 1)
    while lo - 1 >= 0 and ok[lo - 1]:
        lo -= 1
    while hi + 1 < count and ok[hi + 1]:
        hi += 1
    return from_u + lo * pitch / 2, from_u + (hi + 1) * pitch / 2


def exact_ends(fit: ShadowFit, points: Observed, near: Bool, begin: float, finish: float) -> tuple[float, float]:
    """The stretch from ``begin`` to ``finish``, at each end longer by what follows the thread on both edges, at most
    half a pitch.
    """
    half = fit.x[INDEX["pitch"]] / 2
    longest = begin - half, finish + half
    part = points.select(near & (points.u > longest[0]) & (points.u < longest[1]))
    r, _ = residuals(fit.x, part, gradient=False, step=1.0)
    off = np.abs(r) > max(OUTLIER * fit.scale, LIMITS.follows * points.px_mm)
    before, after = [longest[0]], [longest[1]]
    for sign in (1.0, -1.0):
        along = np.flatnonzero(part.side == sign)
        along = along[np.argsort(part.u[along])]
        if along.size:  # not beyond what is seen, or was left by ends that a person set
            before.append(min(float(part.u[along[0]]), begin))
            after.append(max(float(part.u[along[-1]]), finish))
        # one point or two are noise
        left = part.u[along[np.convolve(off[along], np.ones(_LEAVES), "same") > _LEAVES / 2]]
        before.extend(left[left < begin])
        after.extend(left[left > finish])
    return float(max(before)), float(min(after))
