"""A part pictured from several sides: its rotation in each picture, and quantities that vary with it.

Turned by t about its axis, clockwise as seen from the head, a right-hand thread shows its ridges farther from the free
end by the lead times t / 360; a left-hand one nearer to it. So with the free end in view each picture tells the turn
within a full one, but for its sense, which is the hand of the thread. Ovality and drunkenness do not need the sense:
seen in a mirror they are as large.

A diameter of an oval part goes with cos 2t, drunkenness and the bend of the axis with cos t (first harmonics; what
repeats more often in a turn is not told apart from scatter).
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from threads.measured.form_errors import magnitude, spread, without_noise
from threads.shared.quantity import Quantity
from vision.model.shadow import INDEX
from vision.result.measurement import Measurement
from vision.result.picture_share import Turn
from vision.several.limits import LIMITS

Array = npt.NDArray[np.float64]

END_U_PX = 1.0
"""How well the end face is found against the ridges, standard uncertainty (rendered pictures with a chamfered end)."""
SAME_SIDE_DEG = 15.0  # within which two pictures show the same side
_STATED_U_DEG = 3.0  # by eye, a mark against a scale: common practice, no source
_WELL_SPREAD = 0.25  # least singular value of the harmonics over the root of the number of pictures
_DRAWS = 2000  # of the turns within their uncertainty


@dataclass(frozen=True)
class Rotations:
    """How the part lay in each picture.

    Attributes:
        turns: for each picture, None where it is not known.
        hand: "right" or "left" where stated turns and ridges agree for that hand only, else "not determined".
        disagree: whether the turns stated fit the ridges of neither hand.
    """

    turns: tuple[Turn | None, ...]
    hand: str
    disagree: bool


def find_rotations(measurements: Sequence[Measurement], stated: Sequence[float] | None) -> Rotations:
    """The turn of each picture from the first, as ``stated`` (degrees, clockwise from the head), else from the ridges.

    From the ridges: single-start threads whose free end is in view in that picture and in the first.
    """
    found = _from_ridges(measurements)
    if stated is None:
        return Rotations(found, "not determined", disagree=False)
    turns = tuple(Turn(Quantity(float(t), _STATED_U_DEG, "deg"), stated=True) for t in stated)
    miss: dict[str, list[float]] = {"right": [], "left": []}
    for angle, seen in zip(stated, found, strict=True):
        if seen is not None:
            miss["right"].append(_apart(seen.angle.value, angle - stated[0]))
            miss["left"].append(_apart(-seen.angle.value, angle - stated[0]))
    fits = {hand: bool(m) and max(m) < LIMITS.turn_fits_deg for hand, m in miss.items()}
    clear = {hand: bool(m) and max(m) > LIMITS.turn_misses_deg for hand, m in miss.items()}
    hand = "not determined"
    if fits["right"] and clear["left"]:
        hand = "right"
    elif fits["left"] and clear["right"]:
        hand = "left"
    return Rotations(turns, hand, disagree=bool(miss["right"]) and not fits["right"] and not fits["left"])


def _apart(a: float, b: float) -> float:
    """Angle between two directions, degrees."""
    return abs((a - b + 180) % 360 - 180)


def _from_ridges(measurements: Sequence[Measurement]) -> tuple[Turn | None, ...]:
    places = [ridge_place(m) for m in measurements]
    first = places[0]
    if first is None:
        return tuple(None for _ in measurements)
    out: list[Turn | None] = []
    for m, place in zip(measurements, places, strict=True):
        if place is None:
            out.append(None)
            continue
        pitch = float(m.solution.fit.x[INDEX["pitch"]])
        u = 360 * np.sqrt(2) * END_U_PX * m.solution.seen.px_mm / pitch if m is not measurements[0] else 0.0
        out.append(Turn(Quantity(360 * (place - first) / pitch % 360, float(u), "deg"), stated=False))
    return tuple(out)


def ridge_place(m: Measurement) -> float | None:
    """Distance of the ridges from the free end on the edge to the left of someone who looks toward it, mm."""
    if m.thread.starts != 1 or m.part.free_end not in ("left", "right"):
        return None
    x, solution = m.solution.fit.x, m.solution
    if m.part.free_end == "right":
        end = m.part.ends[1]
        return float(solution.end + end.length - x[INDEX["phase"]]) if end.in_view else None
    end = m.part.ends[0]
    return float(x[INDEX["phase"]] + x[INDEX["pitch"]] / 2 - solution.start + end.length) if end.in_view else None


def sides(turns: Sequence[Turn | None]) -> int:
    """From how many sides the part is known to be pictured, a side and its opposite counting as one."""
    known: list[float] = []
    for turn in turns:
        if turn is not None and all(_apart(2 * turn.angle.value, 2 * k) > 2 * SAME_SIDE_DEG for k in known):
            known.append(turn.angle.value)
    return len(known)


def bend_of_part(m: Measurement) -> float:
    """The bend toward the left of someone who looks toward the free end, mm.

    Upside down in the picture the sign turns; that of the drunkenness does not: edges and direction change places both.
    """
    bend = 0.0 if m.form_fit is None else m.form_fit.bend
    return bend if m.part.free_end_right else -bend


def amplitude(
    turns: Sequence[Turn | None], values: Array, u: Array, *, order: int, about_zero: bool | None = None
) -> Quantity | None:
    """Amplitude of what goes with cos(order t) over the turns, mm.

    A mean value is fitted too unless it goes ``about_zero``, as what has order 1 does where nothing else is said.

    Args:
        turns: of the pictures; those not known are left out.
        values: (n,) what each picture shows, mm.
        u: (n,) its standard uncertainty.
        order: 1 or 2.
        about_zero: there is no mean value; None: by the order.

    None when the pictures do not go far enough round. Scatter beyond ``u`` widens the uncertainty.
    """
    known = [i for i, t in enumerate(turns) if t is not None]
    angle = np.radians([order * t.angle.value for t in turns if t is not None])
    columns = [np.cos(angle), np.sin(angle)] + ([] if order == 1 and about_zero is not False else [np.ones(angle.size)])
    design = np.stack(columns, axis=1) if known else np.zeros((0, len(columns)))
    if len(known) < len(columns) or np.linalg.svd(design, compute_uv=False)[-1] < _WELL_SPREAD * np.sqrt(len(known)):
        return None
    weight = 1 / np.maximum(u[known], 1e-9) ** 2
    covariance = np.linalg.inv(design.T @ (design * weight[:, None]))
    fitted = covariance @ (design.T @ (weight * values[known]))
    freedom = len(known) - len(columns)
    if freedom:
        chi = float(np.sum(weight * (values[known] - design @ fitted) ** 2)) / freedom
        covariance = covariance * max(chi, 1.0)
    size = float(np.hypot(fitted[0], fitted[1]))
    along = fitted[:2] / size if size > 0 else np.array([1.0, 0.0])
    # a small vector may point anywhere
    variance = max(float(along @ covariance[:2, :2] @ along), float(np.trace(covariance[:2, :2])) / 2)
    return magnitude(size, float(np.sqrt(variance)), "mm")


def seen_range(values: Array, u: Array) -> Quantity:
    """Largest less smallest of (n,) values with standard uncertainties ``u``, what noise alone would show taken out."""
    rng = np.random.default_rng(1101)
    noise = rng.standard_normal((_DRAWS, values.size)) * u
    found = float(np.ptp(values))
    value = without_noise(found, float(np.sqrt(np.mean(np.ptp(noise, axis=1) ** 2))))
    share = value / found if found > 0 else 0.0
    return Quantity(value, spread(np.ptp(share * values + noise, axis=1) - value), "mm")
