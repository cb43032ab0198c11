"""A slot seen end-on: a notch in the end of the head, with two walls along the axis and a floor across it."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from vision.part.axis_view import AxisView
from vision.part.limits import LIMITS
from vision.part.marks import Mark, face_near
from vision.shared.correlation import correlation_length

Array = npt.NDArray[np.float64]

_ALONG = 0.97  # of the normal across the axis: a wall
_LEAST_POINTS = 6  # of a wall
_LEAST_WIDTH_PX = 6.0  # of a slot: a narrower gap is a burr or a hair
ASKEW = np.radians(1.0)
"""How far the slot may be turned about the axis of the part from the line of sight (workshop assumption): the light
then passes through a gap that is smaller by the width of the head times this angle."""


@dataclass(frozen=True)
class HeadSlot:
    """A slot (px).

    Attributes:
        width, width_noise: distance of its walls and standard uncertainty from scatter.
        askew: by how much the slot may be wider than it looks.
        floor: where its floor is along the axis; None where it is not seen as a face.
    """

    width: float
    width_noise: float
    askew: float
    floor: Mark | None


def find_slot(view: AxisView, start: float, end: float, radius: float, *, right: bool) -> HeadSlot | None:
    """The slot of a head, or None.

    Args:
        view: the outline.
        start: of the head along u, px.
        end: of the head along u, px.
        radius: of the head, px.
        right: whether the head's outer end is its +u end.
    """
    u, w = view.points[:, 0], view.points[:, 1]
    inside = (u > start) & (u < end) & (np.abs(w) < LIMITS.slot_depth * radius)
    inside &= np.abs(view.normal[:, 1]) > _ALONG
    # walls face each other: the upper one has its outward normal down
    upper, lower = inside & (view.normal[:, 1] < 0), inside & (view.normal[:, 1] > 0)
    if min(upper.sum(), lower.sum()) < _LEAST_POINTS:
        return None
    keep = [_wall(w, m) for m in (upper, lower)]
    if min(k.sum() for k in keep) < _LEAST_POINTS or w[keep[0]].mean() <= w[keep[1]].mean():
        return None
    both = keep[0] | keep[1]
    side = np.where(keep[0], 1.0, -1.0)[both]
    x = u[both] - u[both].mean()
    design = np.stack([np.ones_like(x), x, side], axis=1)
    coef, *_ = np.linalg.lstsq(design, w[both], rcond=None)
    miss = w[both] - design @ coef
    order = np.lexsort((x, side))
    length = correlation_length(*np.split(miss[order], [int((side < 0).sum())]))
    noise = float(np.sqrt(np.mean(miss**2) * length / min(k.sum() for k in keep)))
    width = 2 * float(coef[2])
    if width < _LEAST_WIDTH_PX:
        return None
    bottom = float(u[both].min() if right else u[both].max())
    floor = face_near(
        view, bottom, 8.0 + radius * abs(float(view.oblique[both].mean())),
        outward=1 if right else -1, within=width / 2 + abs(float(coef[0])), rim=radius,
    )  # fmt: skip
    return HeadSlot(width, float(np.sqrt(2)) * noise, 2 * radius * float(ASKEW), floor)


def _wall(w: Array, on: npt.NDArray[np.bool_]) -> npt.NDArray[np.bool_]:
    """Of the points ``on``, those of one straight wall."""
    middle = float(np.median(w[on]))
    return np.asarray(on & (np.abs(w - middle) < LIMITS.wall_spread), np.bool_)
