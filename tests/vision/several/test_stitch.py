"""Overlapping pictures of one long rod joined, on drawn rods with known dimensions.

Tolerances: lengths across joints within 0.15 px and within U95 (gauges given almost no uncertainty); the move of the
part between two pictures within 0.1 px where it was not turned.
"""

from __future__ import annotations

import functools
import json
from collections.abc import Sequence
from dataclasses import replace

import numpy as np
import pytest

from sample_images.scene import Camera, Cylinder, Scene, SecondThread
from tests.sample_images.shots import overlapping_shots
from tests.vision.scenes import UNIFIED, photograph
from threads.shared.plain_json import plain
from threads.shared.refusal import RefusalError
from vision.part.axis_view import Profile
from vision.pictures.picture import Picture
from vision.several.overlap import candidates
from vision.several.stitch import Stitched, stitch
from vision.shared.plane import FixedScale

UM_PER_PX = 9.0
PX = UM_PER_PX / 1000
CAMERA = Camera(700, 430, um_per_px=UM_PER_PX, blur_sigma_px=1.0, noise=0.005)
PLANE = FixedScale(UM_PER_PX, relative_u=2e-5, edge_offset_u_px=0.01)
OTHER = replace(UNIFIED, pitch_mm=0.5, minor_mm=2.3, pitch_diameter_mm=2.5)
STUD = Scene(
    UNIFIED, 5.0, chamfer_end_mm=1.9, phase=0.2, runout_mm=0.3, rotation_deg=3, seed=3, camera=CAMERA,
    body=(Cylinder(2.4, 2.0), Cylinder(3.3, 0.6), Cylinder(2.4, 1.5),
          SecondThread(OTHER, 4.0, chamfer_end_mm=2.0, runout_mm=0.2)),
)  # fmt: skip
ROD = Scene(UNIFIED, 40.0, phase=0.2, camera=CAMERA, seed=5)


@functools.cache
def shots(scene: Scene, views: tuple[float, ...], turns: tuple[float, ...] = ()) -> tuple[Picture, ...]:
    taken = overlapping_shots(scene, views, turns, [9.0 * i for i in range(len(views))] if turns else ())
    return tuple(replace(photograph(shot)[0], path=f"{i + 1}.png", sha256=str(i) * 64) for i, shot in enumerate(taken))


def joined(pictures: Sequence[Picture], moved: Sequence[float] | None = None, plane: FixedScale = PLANE) -> Stitched:
    return stitch(pictures, [plane] * len(pictures), moved_mm=moved)


def refused(pictures: Sequence[Picture], moved: Sequence[float] | None = None) -> str:
    with pytest.raises(RefusalError) as refusal:
        joined(pictures, moved)
    return refusal.value.reasons[0].code


@pytest.mark.slow
def test_a_stud_in_three_pictures() -> None:
    """Both threads, the shanks and the collar, the pictures given in any order."""
    order = (2, 0, 1)
    pictures = shots(STUD, (2.4, 6.2, 10.2), (0.0, 0.4, -0.3))
    found = joined([pictures[i] for i in order])
    # the free end points to the right: the last picture shows the left end
    assert found.order == tuple(order.index(i) + 1 for i in (2, 1, 0))
    part = found.measurement.part
    assert [s.kind for s in part.sections] == ["thread", "shank", "shoulder", "shank", "thread"]
    for section, length, diameter in zip(
        part.sections, (4.0, 1.5, 0.6, 2.0, 5.0), (2.81, 2.4, 3.3, 2.4, 2.81), strict=True
    ):
        assert section.length is not None
        assert abs(section.length.value - length) <= min(section.length.u95, 0.15 * PX)
        assert section.diameter is not None
        assert abs(section.diameter.value - diameter) <= min(section.diameter.u95, 0.15 * PX)
    assert all(s.fitted for s in part.sections if s.kind == "thread")
    assert part.overall is not None
    assert abs(part.overall.value - 13.1) <= min(part.overall.u95, 0.15 * PX)
    assert [end.in_view for end in part.ends] == [True, True]


@pytest.mark.slow
def test_a_threaded_rod_needs_the_move_and_then_gives_its_pitch() -> None:
    # the free end points to the right: what is farther from it lies to the left
    pictures = shots(ROD, (12.7, 10.0))
    assert refused(pictures) == "joint_ambiguous"
    found = joined(pictures, [2.6])
    (joint,) = found.joints
    assert joint.ridges >= 4
    assert abs(joint.moved.value - 2.7) <= min(joint.moved.u95, 0.1 * PX)
    (section,) = found.measurement.part.sections
    assert section.cut_off
    thread = found.measurement.thread
    for quantity, true in ((thread.pitch, 0.635), (thread.pitch_diameter, 2.42), (thread.major_diameter, 2.81)):
        assert abs(quantity.value - true) <= quantity.u95
    assert joined(pictures, [2.7 - 0.635]).joints[0].moved.value == pytest.approx(2.7 - 0.635, abs=0.1 * PX)


def test_the_joint_is_in_the_uncertainty_of_lengths_across_it_only() -> None:
    """The same screw in one picture and in two: only what spans the joint becomes less certain."""
    screw = Scene(
        UNIFIED,
        5.0,
        chamfer_end_mm=1.9,
        phase=0.2,
        seed=9,
        camera=CAMERA,
        body=(Cylinder(3.4, 0.8), Cylinder(2.4, 2.0)),
    )
    found = joined(shots(screw, (2.2, 5.6)))
    shank, collar, thread = found.measurement.part.sections
    assert thread.length is not None
    assert collar.length is not None
    assert shank.length is not None
    assert found.measurement.part.view is not None
    (joint,) = found.measurement.part.view.joints
    assert 0.005 < joint.noise < 0.1
    assert abs(thread.length.value - 5.0) <= thread.length.u95
    assert thread.length.standard_uncertainty > joint.noise * PX
    assert shank.length.standard_uncertainty < thread.length.standard_uncertainty


@pytest.mark.slow
def test_before_a_near_camera() -> None:
    scene = replace(STUD, camera=replace(CAMERA, working_distance_mm=80.0))
    found = joined(shots(scene, (6.2, 2.4)), [3.8])
    lengths = {s.kind: s.length for s in found.measurement.part.sections if not s.cut_off}
    for kind, true in (("shoulder", 0.6), ("shank", 2.0), ("thread", 5.0)):
        length = lengths[kind]
        assert length is not None
        assert abs(length.value - true) <= min(length.u95, 0.8 * PX)


@pytest.mark.slow
def test_what_cannot_be_joined() -> None:
    stud = shots(STUD, (2.4, 6.2, 10.2), (0.0, 0.4, -0.3))
    assert refused([stud[2], stud[0]], [7.8]) == "no_overlap"
    assert refused([stud[0], stud[0]]) == "same_picture_twice"
    shank_only = replace(STUD, length_mm=2.6, body=(Cylinder(2.4, 12.0),))
    plain = shots(shank_only, (6.0, 2.0))
    assert refused(plain) == "joint_ambiguous"
    assert refused(plain, [4.0]) == "joint_ambiguous"
    with pytest.raises(ValueError, match="two to"):
        joined(stud[:1])


def test_a_part_seen_larger_in_one_picture_is_told() -> None:
    near = replace(STUD, camera=replace(CAMERA, um_per_px=UM_PER_PX * 0.994))
    pair = (shots(STUD, (2.4, 6.2))[0], shots(near, (2.4, 6.2))[1])
    assert refused(pair) in ("different_scale", "not_the_same_part")


@pytest.mark.slow
def test_json_has_pictures_order_and_joints() -> None:
    document = plain(joined(shots(STUD, (2.4, 6.2, 10.2), (0.0, 0.4, -0.3))).to_dict())
    assert json.loads(json.dumps(document)) == document
    assert document["schema"] == "flankwise/measurement/1"
    assert [p["path"] for p in document["pictures"]] == ["1.png", "2.png", "3.png"]
    assert document["order"] == [3, 2, 1]
    assert [(j["left"], j["right"]) for j in document["joints"]] == [(3, 2), (2, 1)]
    assert all(j["moved"]["u95"] > 0 for j in document["joints"])


def test_a_profile_fits_only_where_its_step_does() -> None:
    u = np.arange(1000.0)
    height = np.where(u < 700, 100.0, 140.0)
    left = Profile(u[:800], height[:800], -height[:800], height[:800])
    right = Profile(u[:600], height[400:], -height[400:], height[400:])
    (found,) = candidates(left, right, depth=0.0, near=False)
    assert found.shift == pytest.approx(400, abs=0.2)
    assert found.overlap == 400
    narrower = Profile(u[:600], 0.9 * height[400:], -0.9 * height[400:], 0.9 * height[400:])
    assert candidates(left, narrower, depth=0.0, near=False) == []
