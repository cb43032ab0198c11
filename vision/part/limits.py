"""All thresholds of vision/part/ that are no constants of a single module, in one place.

Where no other reason is given, a value is a workshop assumption, set between what usable and unusable pictures show
(the sample pictures and those that tests/vision draws).
"""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True)
class Limits:
    """Thresholds; lengths in px unless the name says otherwise."""

    known_points: int = 20  # of the outline whose profile is interpolated
    chamfer_zone: tuple[float, float] = (2.0, 0.3)  # px beyond the end face, and of the crest's radius
    center_clear: float = 0.2  # of a face's outer radius: a face that begins nearer to the axis reaches it
    face_points: int = 4  # on either side of the axis, from which a face's lean is fitted
    face_gap: float = 3.0  # along the axis between the points of two faces
    shorter_end: float = 0.8  # of the other's length: the free end is the shorter one
    shoulder: tuple[float, float] = (1.08, 4.0)  # of the crest's diameter, and px: thicker than the thread
    shank_pitches: float = 3.0  # a plain length so long is a shank, a shorter one the run-out
    edge_points: int = 5  # of a plain length on either edge
    bend_blocks: int = 3  # of its middle line that tell a bend
    view_points: int = 200  # of an outline without a thread
    view_columns: int = 50  # where both its edges are known
    round_turn_deg: float = 35.0  # between neighbouring pieces of an arc
    round_line: float = 0.75  # of a round piece's length: with a straight piece so long it is none
    face_window: float = 60.0  # to both sides of a face
    face_height: tuple[float, float] = (0.1, 0.6)  # of its radius that its middle may stray, in such a share of points
    corner_window: float = 40.0  # beyond the blur to both sides of a corner
    corner_jump: float = 3.0  # of the radius: two lines that do not meet
    corner_angle_deg: float = 3.0  # between two lines whose crossing is a corner
    corner_near: float = 15.0  # beyond the blur: a crossing farther off is none of this corner
    thicker_piece: float = 1.04  # of the crest's radius: a plain length, whatever its length
    point_radius: float = 0.1  # of the depth above the root: a piece that ends there is a point
    chamfer_length: float = 0.7  # of the inner radius: a longer cone is a section of its own
    slot_depth: float = 0.9  # of the head's radius: walls farther out are the head's own edge
    wall_spread: float = 3.0  # of the points of one wall of a slot about their median
    thread_slope: tuple[float, float] = (0.3, 4.0)  # of flanks: from 75 degrees included (1.3) to 28 (4), leaning
    same_thread: tuple[float, float, float] = (3.0, 0.01, 0.03)  # pitches apart, and of pitch and crest that may differ


LIMITS = Limits()
