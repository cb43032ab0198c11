"""The axial section of a thread: radius as a function of the place along the axis, exactly, arcs included."""

from __future__ import annotations

from dataclasses import dataclass
from math import cos, pi, radians, sin, tan

import numpy as np
import numpy.typing as npt

from sample_images.scene import Thread

Array = npt.NDArray[np.float64]


@dataclass(frozen=True)
class _Arc:
    """An arc of the section over ``start <= s <= stop``; ``side`` +1 bulges outward (crest), -1 inward (root)."""

    start: float
    stop: float
    centre_s: float
    centre_r: float
    radius: float
    side: int


@dataclass(frozen=True)
class Section:
    """One pitch of the axial section. s = 0 is the middle of the ridge at the pitch diameter; free end toward +s."""

    pitch: float
    window_start: float
    pitch_radius: float
    crest_radius: float
    root_radius: float
    slope_left: float
    slope_right: float
    arcs: tuple[_Arc, ...]

    def radius(self, s: Array) -> Array:
        """Radius in mm at the axial places ``s`` (mm, any shape); periodic in the pitch."""
        s = s - self.pitch * np.floor((s - self.window_start) / self.pitch)
        quarter = self.pitch / 4
        left = (s + quarter) * self.slope_left
        right = (quarter - s) * self.slope_right
        r: Array = np.minimum(left, right)
        r += self.pitch_radius
        np.clip(r, self.root_radius, self.crest_radius, out=r)
        for arc in self.arcs:
            inside = (s >= arc.start) & (s <= arc.stop)
            height = np.sqrt(np.maximum(arc.radius**2 - (s[inside] - arc.centre_s) ** 2, 0.0))
            r[inside] = arc.centre_r + arc.side * height
        return r

    @property
    def steepest(self) -> float:
        """Largest |dr/ds|."""
        return max(self.slope_left, self.slope_right)


def section_of(thread: Thread) -> Section:
    """The section of ``thread`` (which must have no ``faults()``).

    A corner radius is the circle that touches the flank and the flat; with ``"radius"`` it touches both flanks and the
    crest or root line. Derived here: a flank at half-angle a meets a flat after a turn of 90 deg - a, so the tangent
    from the corner is ``radius * tan((90 deg - a) / 2)`` long.
    """
    pitch, quarter = thread.pitch_mm, thread.pitch_mm / 4
    pitch_radius, crest, root = thread.pitch_diameter_mm / 2, thread.major_mm / 2, thread.minor_mm / 2
    left, right = radians(thread.half_angle_left_deg), radians(thread.half_angle_right_deg)
    arcs = []
    for angle, direction in ((left, -1), (right, 1)):
        # All s below are measured from the ridge's middle toward this flank, then mirrored for the left one.
        turn = tan((pi / 2 - angle) / 2)
        corner = quarter - (crest - pitch_radius) * tan(angle)
        if thread.crest_arc_mm > 0:
            tangent = thread.crest_arc_mm * turn
            arcs.append(
                _arc(corner - tangent, corner + tangent * sin(angle), crest, thread.crest_arc_mm, 1, direction, True)
            )
        foot = quarter + (pitch_radius - root) * tan(angle)
        if thread.root_arc_mm > 0:
            tangent = thread.root_arc_mm * turn
            arcs.append(
                _arc(foot - tangent * sin(angle), foot + tangent, root, thread.root_arc_mm, -1, direction, False)
            )
    # One window of a pitch starts on the root flat where the arcs of its two corners meet when it is rounded fully, so
    # that no arc is cut.
    turn_left, turn_right = tan((pi / 2 - left) / 2), tan((pi / 2 - right) / 2)
    right_foot = quarter + (pitch_radius - root) * tan(right)
    meeting = right_foot + thread.root_width_mm * turn_right / (turn_left + turn_right)
    return Section(
        pitch=pitch,
        window_start=meeting - pitch,
        pitch_radius=pitch_radius,
        crest_radius=crest,
        root_radius=root,
        slope_left=cos(left) / sin(left),
        slope_right=cos(right) / sin(right),
        arcs=tuple(arcs),
    )


def _arc(inner: float, outer: float, line: float, radius: float, side: int, direction: int, centre_in: bool) -> _Arc:
    """An arc between ``inner`` and ``outer`` (distances from the ridge's middle) that touches the radius ``line``."""
    start, stop = sorted((direction * inner, direction * outer))
    centre_s = direction * (inner if centre_in else outer)
    return _Arc(start, stop, centre_s, line - side * radius, radius, side)
