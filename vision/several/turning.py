"""A part that is turned in view of the camera: what each side shows, and from all of them run-out and ovality.

How far it is turned shows in where the ridges stand: they move along the axis by the lead for each full turn. They are
taken against the free end where that is in view, and against the picture where it is not: then the part must not slide
along its axis, or the turn is wrong by 360 degrees for each lead that it slid.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from threads.shared.quantity import Quantity
from vision.model.shadow import INDEX
from vision.result.measurement import Measurement
from vision.result.picture_share import Turn
from vision.several.joined import OWN_SOURCES
from vision.several.rotations import END_U_PX, amplitude, ridge_place, sides

Array = npt.NDArray[np.float64]


@dataclass(frozen=True)
class Side:
    """What one picture shows of a part that is turned.

    Attributes:
        turn: from the first side.
        pitch_diameter, major_diameter: with their own uncertainty alone, without what all sides have in common.
        axis: distance of the axis from the middle of the picture, mm, likewise.
    """

    turn: Turn
    pitch_diameter: Quantity
    major_diameter: Quantity
    axis: Quantity


@dataclass(frozen=True)
class AllRound:
    """Of all sides.

    Attributes:
        sides: from so many the part was seen, opposite ones counting as one.
        ovality: largest less smallest pitch diameter; None where too little of the turn was seen.
        run_out: full movement of the thread's axis across the view in a turn, against whatever the part was turned in:
            a block that it lies in, centres. None likewise.
    """

    sides: int
    ovality: Quantity | None
    run_out: Quantity | None


def side_of(seen: Measurement, first: Measurement) -> Side | None:
    """The side that ``seen`` shows, turned from ``first``; None where the turn cannot be told (several starts)."""
    if seen.thread.starts != 1 or first.thread.starts != 1:
        return None
    here, there = ridge_place(seen), ridge_place(first)
    if here is None or there is None:
        here, there = _place_in_picture(seen, first), _place_in_picture(first, first)
    lead = first.thread.lead.value
    angle = Quantity(360 * (here - there) / lead % 360, 360 * END_U_PX * seen.solution.seen.px_mm / lead, "deg")
    pitch_diameter, major = (
        Quantity(getattr(seen.thread, n).value, _own_u(seen, n), "mm") for n in ("pitch_diameter", "major_diameter")
    )
    u_axis = pitch_diameter.standard_uncertainty / 2  # the mean of the two edges; the diameter is their difference
    return Side(Turn(angle, stated=False), pitch_diameter, major, Quantity(_axis(seen, first), u_axis, "mm"))


def all_round(seen: Sequence[Side]) -> AllRound:
    """Run-out and ovality of a part from its sides."""
    turns = [side.turn for side in seen]
    found = []
    for name, order in (("pitch_diameter", 2), ("axis", 1)):
        each = [getattr(side, name) for side in seen]
        values, u = (np.array([getattr(q, what) for q in each]) for what in ("value", "standard_uncertainty"))
        size = amplitude(turns, values, u, order=order, about_zero=False) if len(seen) > 3 else None  # three fit any
        found.append(None if size is None else Quantity(2 * size.value, 2 * size.standard_uncertainty, "mm"))
    return AllRound(sides(turns), *found)


def _own_u(seen: Measurement, name: str) -> float:
    variance = sum(float(seen.by_source[s].of((name,))[0, 0]) for s in OWN_SOURCES if s in seen.by_source)
    return float(np.sqrt(max(variance, 0.0)))


def _axis_line(seen: Measurement) -> tuple[Array, Array, float]:
    """A point on the axis, its direction, in the picture, mm; and where along it from that point a ridge stands."""
    x, frame = seen.solution.fit.x, seen.solution.frame
    along, across = frame.to_picture(np.eye(2)) - np.asarray(frame.origin)
    turned = along + x[INDEX["rotation"]] * across
    return np.asarray(frame.origin) + x[INDEX["offset"]] * across, turned / np.linalg.norm(turned), x[INDEX["phase"]]


def _place_in_picture(seen: Measurement, first: Measurement) -> float:
    """Where along the axis a ridge stands, mm, counted as ``ridge_place`` does."""
    origin, along, phase = _axis_line(seen)
    toward = 1.0 if along @ _axis_line(first)[1] >= 0 else -1.0
    return float(origin @ along + phase) * toward * (-1.0 if first.part.free_end == "right" else 1.0)


def _axis(seen: Measurement, first: Measurement) -> float:
    """Distance of the axis from the middle of the picture, mm, the side of it as in ``first``."""
    origin, along, _ = _axis_line(seen)
    toward = 1.0 if along @ _axis_line(first)[1] >= 0 else -1.0
    x, y = origin - seen.solution.seen.px_mm * (np.array([seen.picture.width_px, seen.picture.height_px]) - 1) / 2
    return float(x * along[1] - y * along[0]) * toward
