"""What stands at either end of a thread, and the sizes of the whole part, on outlines of known parts."""

from __future__ import annotations

import json
import math
from dataclasses import replace

import numpy as np
import pytest

from sample_images.scene import Cylinder, Scene
from tests.vision.scenes import ACROSS, CAMERA, UNIFIED, outline_points
from vision.locate.threaded import find_threaded_length
from vision.part.part_outline import PartOutline, describe_part, near_border

MM = CAMERA.um_per_px * 1e-3
BETWEEN = Scene(
    UNIFIED, 3.0, chamfer_end_mm=2.0, view_mm=2.4, phase=0.2, runout_mm=0.3,
    body=(Cylinder(2.75, 1.8), Cylinder(3.6, 9.0)), camera=replace(CAMERA, width=1000, height=800),
)  # fmt: skip


def described(scene: Scene) -> PartOutline:
    points, normal = outline_points(scene)
    # the long axis of a mask is known up to half a turn
    direction = (scene.rotation_deg + 90) % 180 - 90
    thread = find_threaded_length(points, math.radians(direction), normal)
    size = (scene.camera.width, scene.camera.height)
    border = near_border(points, size)
    return describe_part(points, border, thread.frame, MM, thread.start, thread.end, thread.crest, thread.pitch)


@pytest.mark.parametrize(("rotation", "side"), [(0.0, "right"), (8.0, "right"), (180.0, "left"), (173.0, "left")])
def test_free_end_and_shoulder(rotation: float, side: str) -> None:
    part = described(replace(BETWEEN, rotation_deg=rotation))
    assert part.free_end == side
    assert part.free_end_right == (side == "right")
    end, other = (part.ends[1], part.ends[0]) if side == "right" else part.ends
    assert end.kind == "free end"
    assert end.in_view
    assert end.length < 1.5 * UNIFIED.pitch_mm
    assert other.kind == "shoulder"
    assert not other.in_view
    assert other.diameter == pytest.approx(3.6, abs=3 * MM)
    assert part.largest_diameter == pytest.approx(3.6, abs=3 * MM)


def test_shank() -> None:
    scene = replace(BETWEEN, body=(Cylinder(2.75, 9.0),))
    part = described(scene)
    assert [e.kind for e in part.ends] == ["shank", "free end"]
    assert part.ends[0].diameter == pytest.approx(2.8, abs=0.05)


def test_cut_off_on_both_sides() -> None:
    part = described(ACROSS)
    assert [e.kind for e in part.ends] == ["cut off", "cut off"]
    assert [e.in_view for e in part.ends] == [False, False]
    assert part.free_end == "not in view"
    assert part.free_end_right
    assert part.middle_from_free_end is None


def test_whole_part_in_view() -> None:
    """Head, thread and end in the picture: the overall length is the part's."""
    scene = Scene(
        UNIFIED, 3.6, body=(Cylinder(4.2, 0.9),), view_mm=2.2, rotation_deg=6.0,
        camera=replace(CAMERA, width=1100, height=900),
    )  # fmt: skip
    part = described(scene)
    assert part.overall_length == pytest.approx(4.5, abs=4 * MM)
    assert part.largest_diameter == pytest.approx(4.2, abs=3 * MM)
    assert [e.kind for e in part.ends] == ["shoulder", "free end"]
    assert all(e.in_view for e in part.ends)
    # the middle of the picture lies 2.2 mm from the free end, which points along the rotation
    off = (np.array(part.middle_px) - [549.5, 449.5]) @ [math.cos(math.radians(6.0)), math.sin(math.radians(6.0))]
    assert part.middle_from_free_end == pytest.approx(2.2 - off * MM, abs=3 * MM)


@pytest.mark.parametrize("rotation", [90.0, 270.0])
def test_vertical_part_points_down_when_its_end_is_below(rotation: float) -> None:
    scene = replace(BETWEEN, rotation_deg=rotation, camera=replace(CAMERA, width=800, height=1000))
    part = described(scene)
    down = math.sin(math.radians(part.angle)) > 0
    toward_end_is_down = rotation == 90.0
    assert part.free_end == ("right" if down == toward_end_is_down else "left")


def test_corners_frame_the_threaded_length() -> None:
    scene = replace(BETWEEN, rotation_deg=8.0)
    part = described(scene)
    corners = np.array(part.corners_px)
    along = np.hypot(*(corners[1] - corners[0]))
    across = np.hypot(*(corners[2] - corners[1]))
    assert along * MM == pytest.approx(part.threaded_length, rel=1e-6)
    assert across * MM == pytest.approx(UNIFIED.major_mm, abs=3 * MM)
    assert corners.mean(axis=0) == pytest.approx(np.array(part.middle_px), abs=0.5)
    assert (part.angle - 8.0 + 90) % 180 - 90 == pytest.approx(0, abs=0.15)


def test_plain_form_is_json() -> None:
    plain = described(replace(BETWEEN, rotation_deg=8.0)).to_dict()
    again = json.loads(json.dumps(plain, allow_nan=False))
    assert again == plain
    assert {"overall_length", "largest_diameter", "threaded_length", "free_end", "ends"} <= set(plain)
    assert len(again["ends"]) == 2
