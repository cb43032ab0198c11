"""The part round its thread: what stands at either end, overall sizes, where it lies in the picture."""

from __future__ import annotations

from dataclasses import dataclass, field

import numpy as np
import numpy.typing as npt

from threads.shared.quantity import Quantity
from vision.locate.frame import Frame
from vision.locate.threaded import edges_along
from vision.part.axis_view import AxisView
from vision.part.limits import LIMITS
from vision.part.section_sizes import Section

Array = npt.NDArray[np.float64]

_BORDER_PX = 7.0  # the edge finder keeps four pixels away from the border


@dataclass(frozen=True)
class End:
    """What lies beyond one end of the threaded length.

    Attributes:
        kind: "free end", "shank", "shoulder" or "cut off" (runs out of the picture without more to see).
        length: mm from the threaded length to the end of the part, or to the picture's border.
        diameter: largest diameter there, mm; None when there is nothing.
        in_view: whether the part ends inside the picture.
    """

    kind: str
    length: float
    diameter: float | None
    in_view: bool


@dataclass(frozen=True)
class PartOutline:
    """The part as a whole (mm, degrees).

    Attributes:
        overall_length, largest_diameter: of what is in view.
        threaded_length: over which the fit holds.
        ends: at the -u and the +u side.
        free_end: "right" or "left" along u, or "not in view".
        angle: direction of the axis, from picture x toward picture y.
        middle_px: picture position of the middle of the threaded length.
        corners_px: the four corners of the threaded length in the picture.
        sections: the whole part from left to right along u.
        overall: the overall length where both ends are in view.
        view: the outline in the frame of the axis.
    """

    overall_length: float
    largest_diameter: float
    threaded_length: float
    ends: tuple[End, End]
    free_end: str
    angle: float
    middle_px: tuple[float, float]
    corners_px: tuple[tuple[float, float], ...]
    sections: tuple[Section, ...] = ()
    overall: Quantity | None = None
    view: AxisView | None = field(default=None, repr=False, compare=False)

    @property
    def free_end_right(self) -> bool:
        """Toward +u; when no free end is in view, u points to the right or, on a vertical part, down."""
        return self.free_end != "left"

    @property
    def middle_from_free_end(self) -> float | None:
        """How far from the free end the diameters hold: the middle of the threaded length, mm. None if not in view."""
        if self.free_end == "not in view":
            return None
        return self.ends[1 if self.free_end == "right" else 0].length + self.threaded_length / 2

    def to_dict(self) -> dict[str, object]:
        """Plain data for JSON."""
        hold = self.middle_from_free_end
        return {
            "overall_length": (
                {"value": self.overall_length, "unit": "mm"} if self.overall is None else self.overall.to_dict()
            ),
            "largest_diameter": {"value": self.largest_diameter, "unit": "mm"},
            "threaded_length": {"value": self.threaded_length, "unit": "mm"},
            "free_end": self.free_end,
            "ends": [
                {"kind": e.kind, "length_mm": e.length, "diameter_mm": e.diameter, "in_view": e.in_view}
                for e in self.ends
            ],
            "axis_direction": {"value": self.angle, "unit": "deg"},
            "middle_px": list(self.middle_px),
            "diameters_hold_from_free_end": None if hold is None else {"value": hold, "unit": "mm"},
            "corners_px": [list(c) for c in self.corners_px],
            "sections": [section.to_dict() for section in self.sections],
        }


def describe_part(
    points: Array,
    at_border: npt.NDArray[np.bool_],
    frame: Frame,
    mm: float,
    start: float,
    end: float,
    crest: float,
    pitch: float,
) -> PartOutline:
    """Describe the part from its outline.

    Args:
        points: (n, 2) outline points, px.
        at_border: (n,) which of them lie at the border of the picture (see ``near_border``).
        frame: part frame in px, origin on the axis.
        mm: size of a pixel, mm.
        start: where the threaded length begins along u, px.
        end: where it ends, px.
        crest: crest radius, px.
        pitch: px.
    """
    u, upper, lower = edges_along(points, frame)
    thickness = upper - lower
    # an end at which the outline runs into the border of the picture is not in view
    along = frame.to_frame(points[at_border])[:, 0]
    middle = (start + end) / 2
    ends = (
        _end(thickness[u < start], start - float(u[0]), not bool((along < middle).any()), crest, pitch, mm),
        _end(thickness[u > end], float(u[-1]) - end, not bool((along > middle).any()), crest, pitch, mm),
    )
    free = [e.kind == "free end" for e in ends]
    if free[0] and free[1]:
        name = "left" if ends[0].length < LIMITS.shorter_end * ends[1].length else "right"
    else:
        name = "left" if free[0] else "right" if free[1] else "not in view"
    corners = frame.to_picture(np.array([[start, crest], [end, crest], [end, -crest], [start, -crest]]))
    centre = frame.to_picture(np.array([[(start + end) / 2, 0.0]]))[0]
    return PartOutline(
        overall_length=float(u[-1] - u[0]) * mm,
        largest_diameter=float(np.nanmax(thickness)) * mm,
        threaded_length=(end - start) * mm,
        ends=ends,
        free_end=name,
        angle=float(np.degrees(frame.angle)),
        middle_px=(float(centre[0]), float(centre[1])),
        corners_px=tuple((float(x), float(y)) for x, y in corners),
    )


def near_border(points: Array, size: tuple[int, int]) -> npt.NDArray[np.bool_]:
    """Which of the (n, 2) points as seen lie at the border of a picture of ``size`` (width, height), px."""
    x, y = points[:, 0], points[:, 1]
    return np.asarray(
        (np.minimum(x, y) < _BORDER_PX) | (x > size[0] - 1 - _BORDER_PX) | (y > size[1] - 1 - _BORDER_PX), np.bool_
    )


def _end(thickness: Array, length: float, in_view: bool, crest: float, pitch: float, mm: float) -> End:
    there = thickness[np.isfinite(thickness)]
    largest = float(there.max()) if there.size else None
    if largest is not None and largest > 2 * crest * LIMITS.shoulder[0] + LIMITS.shoulder[1]:
        kind = "shoulder"
    elif length > LIMITS.shank_pitches * pitch:
        kind = "shank"
    else:
        kind = "free end" if in_view else "cut off"
    return End(kind, float(length) * mm, None if largest is None else largest * mm, in_view)
