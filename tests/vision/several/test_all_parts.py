"""Several parts in one view: found, numbered row by row, measured or told why not."""

from __future__ import annotations

import json
from dataclasses import replace

import pytest

from flankwise.reasons import sentence
from sample_images.render import render_together
from sample_images.scene import Camera, Cone, Cylinder, Scene, Thread
from tests.vision.made_pictures import grey
from threads.shared.plain_json import plain
from threads.shared.refusal import RefusalError
from vision.outline.silhouette import find_parts
from vision.pictures.picture import Picture
from vision.result.measure import measure_picture
from vision.result.measurement import Measurement
from vision.several.all_parts import PlainPin, SeenPart, measure_parts, parts_to_dict
from vision.shared.plane import FixedScale

UM_PER_PX = 10.0
PLANE = FixedScale(UM_PER_PX, light_cone_deg=0.0)
CAMERA = Camera(1300, 900, um_per_px=UM_PER_PX, blur_sigma_px=1.0, noise=0.0)
LARGE = Thread(2.81, 2.42, 2.06, 0.635, 30.3, 29.6)
SMALL = Thread(2.0, 1.74, 1.5, 0.4)
BLANK = Scene(None, body=(Cylinder(2.5, 1.0), Cylinder(1.5, 1.0), Cone(1.5, 2.5, 1.5)), view_mm=-1.5, offset_px=230,
              camera=CAMERA)  # fmt: skip
PIN = Scene(None, body=(Cylinder(2.5, 4.0),), view_mm=6.0, offset_px=200, rotation_deg=-2, camera=CAMERA)
TRAY = (
    Scene(LARGE, 3.6, view_mm=-1.2, offset_px=-260, body=(Cylinder(4.0, 0.8),), camera=CAMERA),
    Scene(SMALL, 3.6, chamfer_end_mm=1.4, view_mm=5.5, offset_px=-200, rotation_deg=2, body=(Cylinder(3.0, 0.8),),
          camera=CAMERA),
    PIN,
    BLANK,
)  # fmt: skip


def tray(*scenes: Scene) -> Picture:
    levels, _ = render_together(scenes)
    return grey(levels / 255, noise=0.004)


@pytest.fixture(scope="module")
def parts() -> tuple[SeenPart, ...]:
    return measure_parts(tray(*TRAY), PLANE)


@pytest.mark.slow
def test_each_part_is_what_it_is(parts: tuple[SeenPart, ...]) -> None:
    """A view_mm of more than the part's length puts it to the right of the centre, below 0 to the left."""
    kinds = [type(p.found).__name__ for p in parts]
    assert sorted(kinds) == ["Measurement", "Measurement", "PlainPin", "tuple"]
    assert [p.number for p in parts] == [1, 2, 3, 4]


def test_they_are_numbered_row_by_row(parts: tuple[SeenPart, ...]) -> None:
    boxes = [p.box_px for p in parts]
    assert boxes == list(find_parts(tray(*TRAY)))
    middles = [(left + width / 2, top + height / 2) for left, top, width, height in boxes]
    assert middles[0][0] < middles[1][0]
    assert middles[2][0] < middles[3][0]
    assert max(middles[0][1], middles[1][1]) < min(middles[2][1], middles[3][1])


def test_sizes_are_those_of_each_part(parts: tuple[SeenPart, ...]) -> None:
    pitches = [p.found.thread.pitch for p in parts if isinstance(p.found, Measurement)]
    for quantity, true in zip(sorted(pitches, key=lambda q: q.value), (0.4, 0.635), strict=True):
        assert abs(quantity.value - true) <= quantity.u95
    (pin,) = [p.found for p in parts if isinstance(p.found, PlainPin)]
    assert abs(pin.diameter.value - 2.5) < 0.05 * UM_PER_PX / 1000
    assert abs(pin.diameter.value - 2.5) <= pin.diameter.u95


def test_each_is_the_part_that_its_number_picks(parts: tuple[SeenPart, ...]) -> None:
    threads = [p for p in parts if isinstance(p.found, Measurement)]
    again = measure_picture(tray(*TRAY), PLANE, part=threads[0].number)
    assert isinstance(threads[0].found, Measurement)
    assert again.thread.pitch == threads[0].found.thread.pitch


def test_plain_form(parts: tuple[SeenPart, ...]) -> None:
    document = plain(parts_to_dict(tray(*TRAY), parts))
    assert json.loads(json.dumps(document)) == document
    assert document["schema"] == "flankwise/measurements/1"
    by_status = {p["status"]: p for p in document["parts"]}
    assert set(by_status) == {"measured", "plain_pin", "refused"}
    assert by_status["measured"]["schema"] == "flankwise/measurement/1"
    assert by_status["plain_pin"]["diameter"]["u95"] > 0
    assert by_status["refused"]["reasons"][0]["code"] == "no_thread"
    assert all(len(p["box_px"]) == 4 for p in document["parts"])


def test_one_part_is_a_list_of_one() -> None:
    (only,) = measure_parts(tray(TRAY[0]), PLANE)
    assert isinstance(only.found, Measurement)


def test_a_pin_alone_is_named_and_not_refused() -> None:
    (only,) = measure_parts(tray(replace(PIN, view_mm=2.0)), PLANE)
    assert isinstance(only.found, PlainPin)


def test_when_none_can_be_measured_every_reason_is_given() -> None:
    other = replace(BLANK, view_mm=5.0, offset_px=-200)
    with pytest.raises(RefusalError) as refusal:
        measure_parts(tray(BLANK, other), PLANE)
    messages = [sentence(reason) for reason in refusal.value.reasons]
    assert [m[:7] for m in messages] == ["part 1:", "part 2:"]
