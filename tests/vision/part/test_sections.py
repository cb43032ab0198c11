"""The whole part: its sections and their sizes, on drawn parts with known dimensions.

Tolerances: lengths between faces and diameters of round lengths within 0.1 px and within 1.5 U95 (the gauges given an
uncertainty of nothing, so that U95 is that of the reading alone); angles within 0.05 deg; a slot within 0.1 px.
"""

from __future__ import annotations

import functools
import json
from dataclasses import replace
from itertools import pairwise
from pathlib import Path

import pytest

from sample_images.scene import Camera, Cone, Cylinder, Scene, SecondThread, Slot
from tests.vision.scenes import UNIFIED, photograph
from threads.shared.quantity import Quantity
from threads.shared.refusal import RefusalError
from vision.part.section_sizes import Section
from vision.pictures.picture import read_picture
from vision.result.measure import measure_picture
from vision.result.measurement import Measurement
from vision.shared.plane import FixedScale

UM_PER_PX = 7.5
PX = UM_PER_PX / 1000
CAMERA = Camera(1190, 680, um_per_px=UM_PER_PX, blur_sigma_px=1.0, noise=0.005)
PLANE = FixedScale(UM_PER_PX, relative_u=1e-6, edge_offset_u_px=1e-3, light_cone_deg=0.0)
OTHER = replace(UNIFIED, pitch_mm=0.5, minor_mm=2.3, pitch_diameter_mm=2.5)
COUNTERSUNK = Scene(
    UNIFIED, 3.2, chamfer_end_mm=1.9, view_mm=3.6, phase=0.2, runout_mm=0.3, rotation_deg=3, seed=3,
    body=(Cylinder(1.9, 0.5), Cylinder(2.8, 1.5), Cone(2.8, 4.4, 0.8), Cylinder(4.4, 1.2)), slot=Slot(0.5, 0.6),
    camera=CAMERA,
)  # fmt: skip
CHEESE_HEAD = Scene(
    UNIFIED, 3.0, chamfer_end_mm=1.9, view_mm=2.9, phase=0.6, runout_mm=0.4, rotation_deg=182, tilt_deg=0.5, seed=5,
    body=(Cylinder(2.38, 1.2), Cylinder(4.6, 1.6)), slot=Slot(0.6, 0.7), camera=CAMERA,
)  # fmt: skip
BOTH_ENDS = Scene(
    UNIFIED, 3.6, chamfer_end_mm=0.2, view_mm=4.1, phase=0.2, runout_mm=0.3, rotation_deg=-3, seed=3,
    body=(Cylinder(2.4, 1.6), SecondThread(OTHER, 3.0, chamfer_end_mm=2.0, runout_mm=0.2)), camera=CAMERA,
)  # fmt: skip
COLLAR = Scene(
    UNIFIED, 3.2, view_mm=3.1, phase=0.2, seed=2, camera=CAMERA,
    body=(Cylinder(3.8, 0.9), Cylinder(2.2, 1.6), Cone(2.2, 1.8, 0.2)),
)  # fmt: skip
DOG_POINT = Scene(
    None, view_mm=3.1, seed=6, camera=CAMERA,
    body=(Cylinder(1.6, 0.8), SecondThread(OTHER, 3.5, runout_mm=0.1), Cylinder(2.9, 0.9), Cylinder(4.0, 1.0)),
)  # fmt: skip


@functools.cache
def measured(scene: Scene, number: int | None = None, cone_deg: float | None = 0.0) -> Measurement:
    return measure_picture(photograph(scene)[0], replace(PLANE, light_cone_deg=cone_deg), number=number)


def sections(scene: Scene, cone_deg: float | None = 0.0) -> tuple[Section, ...]:
    """From the far end to the free end."""
    part = measured(scene, cone_deg=cone_deg).part
    return part.sections if part.free_end == "right" else part.sections[::-1]


def near(quantity: Quantity | None, true: float, tolerance: float = 0.1 * PX) -> bool:
    assert quantity is not None
    # of the fifty quantities here two or three lie outside U95, and hardly any outside one and a half of it
    assert abs(quantity.value - true) <= max(1.5 * quantity.u95, 1e-4 * PX)
    return abs(quantity.value - true) < tolerance


def test_countersunk_screw() -> None:
    head, shank, undercut, thread = sections(COUNTERSUNK)
    assert [s.kind for s in (head, shank, undercut, thread)] == ["head", "shank", "undercut", "thread"]
    for section, length, diameter in ((head, 2.0, 4.4), (shank, 1.5, 2.8), (undercut, 0.5, 1.9), (thread, 3.2, 2.81)):
        assert near(section.length, length)
        assert near(section.diameter, diameter)
        assert not section.cut_off
    assert near(head.cone_angle, 90.0, 0.05)
    assert near(thread.chamfer_angle, 45.0, 0.05)
    assert near(thread.chamfer_length, 0.455)
    assert near(head.slot_width, 0.5)
    assert near(head.slot_depth, 0.6)
    assert near(measured(COUNTERSUNK).part.overall, 7.2)
    for section in (head, shank, undercut):
        assert section.straightness is not None
        assert section.straightness.value <= section.straightness.u95 < 0.05 * PX
        assert near(section.taper, 0.0, 0.5)


def test_a_head_is_as_large_as_its_rim_not_as_the_neck_below() -> None:
    scene = replace(COUNTERSUNK, body=(Cylinder(3.2, 1.2), Cone(3.2, 4.8, 0.8)), slot=None)
    head, thread = sections(scene)
    assert (head.kind, head.form, thread.kind) == ("head", "cone", "thread")
    assert near(head.diameter, 4.8, 4.0 * PX)  # how sharp its rim is cannot be seen
    assert near(head.cone_angle, 90.0, 0.05)
    assert head.taper is None


def test_tilted_screw_with_a_cheese_head_the_other_way_round() -> None:
    head, shank, thread = sections(CHEESE_HEAD)
    assert [s.kind for s in (head, shank, thread)] == ["head", "shank", "thread"]
    for section, length, diameter in ((head, 1.6, 4.6), (shank, 1.2, 2.38), (thread, 3.0, 2.81)):
        assert near(section.length, length)
        assert near(section.diameter, diameter)
    assert near(head.slot_depth, 0.7)


def test_a_polished_face_turned_to_the_camera_may_be_farther_out() -> None:
    """Its one-sided bound is what the whole rim stands out, and none is given where the part lies square."""
    head = sections(CHEESE_HEAD, None)[0].length
    assert head is not None
    assert 0.004 < abs(head.one_sided) < 0.08
    square = sections(COUNTERSUNK, None)[1].length
    assert square is not None
    assert abs(square.one_sided) < 1e-3


def test_near_camera() -> None:
    """The obliquity of a pinhole at 80 mm stands faces out by up to 30 px and turns cones; it is taken out."""
    scene = replace(COUNTERSUNK, camera=replace(CAMERA, working_distance_mm=80.0))
    head, shank, undercut, thread = sections(scene)
    for section, length, diameter in ((head, 2.0, 4.4), (shank, 1.5, 2.8), (undercut, 0.5, 1.9), (thread, 3.2, 2.81)):
        assert near(section.length, length, 0.35 * PX)
        assert near(section.diameter, diameter, 0.2 * PX)
    assert near(head.cone_angle, 90.0, 0.08)
    assert near(head.slot_depth, 0.6, 0.25 * PX)


def test_rod_threaded_at_both_ends() -> None:
    far, shank, thread, point = measured(BOTH_ENDS).part.sections
    assert [s.kind for s in (far, shank, thread, point)] == ["thread", "shank", "thread", "point"]
    assert {far.measured, thread.measured} == {True, False}
    assert far.pitch is not None
    assert thread.pitch is not None
    assert near(far.pitch, 0.5, 0.005)
    assert near(thread.pitch, 0.635, 0.005)
    assert near(shank.length, 1.6)
    assert near(point.cone_angle, 90.0, 0.05)
    assert near(point.length, (2.81 - 0.2) / 2)
    assert near(far.chamfer_length, 0.405)


def test_either_thread_is_measured_when_asked_for() -> None:
    """Numbered from left to right; the free end of the first thread points to the right."""
    clearest = measured(BOTH_ENDS)
    other = 1 if clearest.part.free_end == "right" else 2
    found = {other: measured(BOTH_ENDS, other), 3 - other: clearest}
    for number, pitch, diameter in ((1, 0.5, 2.5), (2, 0.635, 2.42)):
        assert near(found[number].thread.pitch, pitch)
        assert near(found[number].thread.pitch_diameter, diameter)
    with pytest.raises(RefusalError) as refusal:
        measured(BOTH_ENDS, 3)
    assert refusal.value.reasons[0].code == "no_such_thread"


def test_collar_and_chamfered_shank() -> None:
    shank, collar, thread = sections(COLLAR)
    assert [s.kind for s in (shank, collar, thread)] == ["shank", "shoulder", "thread"]
    assert near(shank.length, 1.8)
    assert near(shank.chamfer_angle, 45.0, 0.05)
    assert near(shank.chamfer_length, 0.2)
    assert near(collar.length, 0.9)
    assert near(collar.diameter, 3.8)


def test_dog_point() -> None:
    found = sections(DOG_POINT)
    assert [s.kind for s in found] == ["head", "shank", "thread", "point"]
    assert near(found[3].diameter, 1.6)
    assert near(found[3].length, 0.8)
    assert found[3].cone_angle is None


def test_what_the_picture_cuts_off_has_no_length() -> None:
    scene = replace(CHEESE_HEAD, body=(Cylinder(2.38, 1.2), Cylinder(4.6, 9.0)), slot=None, tilt_deg=0.0)
    head, shank, thread = sections(scene)
    assert [s.kind for s in (head, shank, thread)] == ["shoulder", "shank", "thread"]
    assert head.cut_off
    assert head.length is None
    assert near(head.diameter, 4.6)
    assert near(shank.length, 1.2)
    assert measured(scene).part.overall is None


@pytest.mark.parametrize("end", [None, 1.95])
@pytest.mark.parametrize("view", [3.0, 20.0])
def test_a_plain_threaded_rod_is_one_section(end: float | None, view: float) -> None:
    scene = Scene(UNIFIED, 40.0, chamfer_end_mm=end, view_mm=view, rotation_deg=184, phase=0.2, seed=4, camera=CAMERA)
    (thread,) = measured(scene).part.sections
    assert thread.kind == "thread"
    assert thread.cut_off
    assert thread.length is None
    assert (thread.chamfer_angle is None) == (end is None or view == 20.0)


def test_dust_makes_no_sections() -> None:
    scene = replace(COUNTERSUNK, dust=10, hairs=1, seed=8)
    assert [s.kind for s in sections(scene)] == ["head", "shank", "undercut", "thread"]
    assert near(sections(scene)[1].diameter, 2.8)


def test_too_few_threads_at_the_other_end_are_unclear() -> None:
    few = replace(BOTH_ENDS, length_mm=2.6)
    found = measured(few).part.sections
    assert [s.kind for s in found] == ["thread", "shank", "unclear", "point"]
    assert found[2].diameter is None


def test_plain_form_is_json() -> None:
    plain = measured(COUNTERSUNK).to_dict()["part"]
    assert json.loads(json.dumps(plain, allow_nan=False)) == plain
    assert {"kind", "from", "to", "length", "diameter", "taper", "straightness", "cone_angle"} <= set(
        plain["sections"][0]
    )
    ends = [(s["from"], s["to"]) for s in plain["sections"]]
    assert ends[0][0] == 0.0
    assert all(a[1] == b[0] for a, b in pairwise(ends))
    assert plain["overall_length"]["unit"] == "mm"
    assert "u95" in plain["overall_length"]


PICTURES = Path(__file__).resolve().parents[2] / "pictures"
CHAMFERS = {"p01_2-64.png": 0.29513, "p03_M2.5.png": 0.33550, "p06_5-44.png": 0.42718, "p07_5BA.png": 0.42308}
"""Axial length of the 45 deg chamfer in each picture: half of the major diameter less the end face's radius, mm."""


@pytest.mark.parametrize("name", CHAMFERS)
def test_independent_pictures_show_one_thread_with_its_chamfer(name: str) -> None:
    """Within half a pixel: the scale here is the nominal one, and light mirrored at the edges is not taken out."""
    truth = json.loads((PICTURES / "truth.json").read_text("utf-8"))[name]
    found = measure_picture(read_picture(PICTURES / name), FixedScale(truth["um_per_px"])).part.sections
    assert [s.kind for s in found] == ["thread"]
    px = truth["um_per_px"] / 1000
    assert near(found[0].diameter, truth["major_mm"], px)
    assert near(found[0].chamfer_angle, 45.0, 0.1)
    assert near(found[0].chamfer_length, CHAMFERS[name], 0.5 * px)
