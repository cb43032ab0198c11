"""Where edge points lie on their ridges, and what repeats from ridge to ridge over a stretch of a thread."""

from __future__ import annotations

from dataclasses import dataclass, replace

import numpy as np
import numpy.typing as npt

from vision.fit.limits import LIMITS
from vision.fit.marquardt import Observed, fit_shadow
from vision.fit.solve import Solution
from vision.model.shadow import INDEX
from vision.shared.robust import OUTLIER

Array = npt.NDArray[np.float64]
Bool = npt.NDArray[np.bool_]

LEAST_PX = 0.3
"""How far worn metal must stand back; what dirt leaves of the folded edges of a sound thread is under 0.1 px."""
CERTAIN = 5.0  # standard uncertainties from which wear is told
FIXED_U_PX = 0.05
"""How well it is known where folded edges stand: edge finder, shape of the blur."""
_LEAST_POINTS = 200  # of a fit without the worn ones


@dataclass(frozen=True)
class RidgeCoordinates:
    """Where each point lies on its ridge: edge, number of the ridge, side of it, height 0 to 1, place along u."""

    edge: Array
    ridge: npt.NDArray[np.int_]
    toward: Array
    height: Array
    along: Array
    u: Array


def ridge_coordinates(x: Array, seen: Observed) -> RidgeCoordinates:
    """The places of ``seen`` on the ridges of the thread with the parameters ``x`` (COUNT,)."""
    pitch = x[INDEX["pitch"]]
    rel = seen.u - x[INDEX["phase"]] - np.where(seen.side > 0, 0.0, seen.starts * pitch / 2)
    ridge = np.rint(rel / pitch).astype(int)
    along = rel - ridge * pitch
    root, crest = x[INDEX["root"]], x[INDEX["crest"]]
    over = seen.side * (seen.w - x[INDEX["offset"]] - x[INDEX["rotation"]] * seen.u) - x[INDEX["taper"]] * seen.u
    return RidgeCoordinates(seen.side, ridge, np.sign(along), (over - root) / (crest - root), along, seen.u)


def refitted(solution: Solution, keep: Bool, start: Array) -> Solution | None:
    """The solution over the points that ``keep`` picks; None where that is no better or another thread."""
    if keep.sum() < _LEAST_POINTS:
        return None
    seen = solution.seen.select(keep)
    mm = seen.px_mm
    # a wide first step: where the worn points pulled the fit, sound ones may seem outliers
    rough = fit_shadow(start, seen, solution.prior, sigma=max(0.4 * mm, solution.noise), steps=8)
    fit = fit_shadow(rough.x, seen, solution.prior, sigma=solution.noise, steps=15)
    if fit.scale > LIMITS.wear_scatter * solution.fit.scale or not _is_same_thread(fit.x, solution.fit.x):
        return None
    outlier = np.abs(fit.residual) > OUTLIER * fit.scale
    chosen = solution.chosen[keep] if solution.chosen.size else solution.chosen
    return replace(solution, fit=fit, seen=seen, rejected=float(outlier.mean()), chosen=chosen, other_forms=())


def _is_same_thread(x: Array, before: Array) -> bool:
    """Whether it is still the same thread: the pitch the same, crest, pitch line and root in their order."""
    root, middle, crest = (x[INDEX[name]] for name in ("root", "pitch_radius", "crest"))
    pitch = before[INDEX["pitch"]]
    least = LIMITS.deep_root * pitch
    same = abs(x[INDEX["pitch"]] / pitch - 1) < LIMITS.same_pitch
    return bool(same and 0 < root < middle - least < crest - 2 * least)


def worn_group(back: Array, places: Array, edges: Array, least: float) -> Bool | None:
    """Which flanks (or crests) are set back: all, or a stretch of them, the same on both edges; None if none are.

    ``back`` is how far each stands back from where a sound one stands, mm.
    """
    top = float(np.median(np.sort(back)[-max(3, back.size // 4) :]))
    worn = back > max(least, top / 2)
    worn = _smoothed(worn, places, edges)
    if worn.sum() < LIMITS.least_worn:
        return None
    for edge in (1.0, -1.0):
        on = edges == edge
        if on.sum() < 2 or worn[on].sum() < 2:
            return None
        order = np.argsort(places[on])
        if np.count_nonzero(np.diff(worn[on][order].astype(int))) > 2:
            return None  # here and there: dirt or damage
    # both edges say how much: wear goes right round
    by_edge = [float(np.median(back[worn & (edges == edge)])) for edge in (1.0, -1.0)]
    return None if min(by_edge) < 0.5 * max(by_edge) else worn


def _smoothed(worn: Bool, places: Array, edges: Array) -> Bool:
    """Single ridges that differ from both neighbours of their edge are put right: dirt on one of them."""
    out = worn.copy()
    for edge in (1.0, -1.0):
        on = np.flatnonzero(edges == edge)
        on = on[np.argsort(places[on])]
        for i in range(1, on.size - 1):
            if worn[on[i - 1]] == worn[on[i + 1]]:
                out[on[i]] = worn[on[i - 1]]
    return out


def worn_stretch(places: Array, group: Bool, solution: Solution, pitch: float) -> tuple[float, float]:
    """From where to where along u: to the ends of the threaded length when nothing sound lies between."""
    begin, end = float(places[group].min()) - 0.3 * pitch, float(places[group].max()) + 0.3 * pitch
    if not np.any(places[~group] < begin):
        begin = solution.start
    if not np.any(places[~group] > end):
        end = solution.end
    return begin, end
