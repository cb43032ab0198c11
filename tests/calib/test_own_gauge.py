"""Gauges in the part's own picture: a pin beside the part, a size of the part known by hand."""

from __future__ import annotations

import math
from dataclasses import replace
from functools import cache

import numpy as np
import pytest

from calib.bench import calibrate_bench
from calib.calibration import Calibration
from calib.own_gauge import known_size, pin_beside
from flankwise.reasons import message
from sample_images.scene import Cylinder, Scene
from tests.calib.bench_pictures import (
    BESIDE,
    EDGE_OFFSET_PX,
    MAJOR_MM,
    SCREW,
    SHANK_MM,
    SHANKED,
    UM_PER_PX,
    picture_of,
    pin,
)
from threads.shared.refusal import RefusalError
from vision.result.measure import measure_picture


@cache
def bench() -> Calibration:
    return calibrate_bench(pins=[(picture_of(pin(d)), d) for d in (0.8, 2.0)], pin_u95_mm=0.001, focus_locked=True)


def refusal(*scenes: Scene, **options: float) -> str:
    with pytest.raises(RefusalError) as caught:
        pin_beside(picture_of(*scenes), 0.8, 0.001, **options)
    assert "\n" not in message(caught.value)
    return caught.value.reasons[0].code


def test_a_pin_beside_the_part_gives_the_scale() -> None:
    """The offset of 0.2 px is not seen: the scale is wrong by 2 x 0.2 px over 160 px, which U95 covers."""
    found, part = pin_beside(picture_of(*BESIDE), 0.8, 0.0005)
    assert part == 1
    assert found.um_per_px == pytest.approx(UM_PER_PX, rel=0.003)
    assert abs(found.um_per_px - UM_PER_PX) < found.um_per_px_u95
    assert abs(found.edge_offset_px - EDGE_OFFSET_PX) < found.edge_offset_px_u95
    assert [w.code for w in found.warnings] == ["edge_offset_assumed"]
    thread = measure_picture(picture_of(*BESIDE), found, part=part).thread
    for quantity, true in ((thread.major_diameter, MAJOR_MM), (thread.pitch, 0.3175), (thread.pitch_diameter, 1.30)):
        assert abs(quantity.value - true) < quantity.u95


def test_with_a_calibration_it_is_weighed() -> None:
    base = bench()
    found, _ = pin_beside(picture_of(*BESIDE), 0.8, 0.0005, base)
    assert found.um_per_px == pytest.approx(UM_PER_PX, rel=2e-4)
    assert found.edge_offset_px == pytest.approx(EDGE_OFFSET_PX, abs=0.05)
    assert found.um_per_px_u95 < base.um_per_px_u95
    assert found.edge_offset_px_u95 < base.edge_offset_px_u95
    assert found.id.startswith(base.id)
    assert found.id != base.id
    assert [g.what for g in found.gauges] == ["pin"] * 3
    assert found.round_gauges


def refocused(scale: float) -> tuple[Scene, ...]:
    """Part and pin as a lens shows them that was refocused, so that a pixel is ``scale`` times as large."""
    camera = replace(BESIDE[0].camera, um_per_px=scale * UM_PER_PX)
    return tuple(replace(scene, camera=camera) for scene in BESIDE)


def test_a_pin_beside_the_part_takes_refocusing_out() -> None:
    picture = picture_of(*refocused(1.003))
    found, _ = pin_beside(picture, 0.8, 0.0005, replace(bench(), focus_locked=False))
    assert abs(found.um_per_px - 1.003 * UM_PER_PX) < found.um_per_px_u95 < 3e-3 * UM_PER_PX
    assert found.refocus_u == 0
    (said,) = [w for w in found.warnings if w.code == "focus_changed"]
    assert said.values["percent"] == pytest.approx(0.3, abs=0.04)
    # somebody who said that the focus is locked has to be told that it is not
    with pytest.raises(RefusalError) as caught:
        pin_beside(picture, 0.8, 0.0005, bench())
    assert caught.value.reasons[0].code == "bench_changed"


def test_crests_in_line_with_a_shank_are_no_pin() -> None:
    screw = replace(BESIDE[0], length_mm=1.6, view_mm=1.2, body=(Cylinder(MAJOR_MM, 50.0),))
    _, part = pin_beside(picture_of(screw, BESIDE[1]), 0.8, 0.0005, bench())
    assert part == 1


def test_a_pin_that_contradicts_the_calibration_is_refused() -> None:
    with pytest.raises(RefusalError) as caught:
        pin_beside(picture_of(*BESIDE), 0.82, 0.0005, bench())
    assert caught.value.reasons[0].code == "bench_changed"


@pytest.mark.slow
def test_which_is_the_pin_must_be_clear() -> None:
    assert refusal(SCREW) == "no_pin_beside"
    assert refusal(pin(0.8)) == "no_pin_beside"
    assert refusal(pin(0.8, -180.0), pin(0.8, 180.0)) == "several_pins"
    assert refusal(*BESIDE, part=2) == "no_such_part"
    with pytest.raises(RefusalError) as caught:
        pin_beside(picture_of(*BESIDE), 0.8, 0.5)
    assert caught.value.reasons[0].code == "bad_gauge"


@pytest.mark.slow
@pytest.mark.parametrize(("what", "size"), [("major", MAJOR_MM), ("shank", SHANK_MM)])
def test_a_size_known_by_hand_gives_the_scale(what: str, size: float) -> None:
    """Alone: as for one pin. With the calibration: within 200 ppm, and scale and offset together better known."""
    picture = picture_of(SHANKED)
    alone = known_size(picture, what, size, 0.002)
    assert alone.um_per_px == pytest.approx(UM_PER_PX, rel=0.003)
    assert abs(alone.um_per_px - UM_PER_PX) < alone.um_per_px_u95
    assert [w.code for w in alone.warnings] == ["edge_offset_assumed"]
    assert 2 * math.sqrt(alone.covariance[1, 1]) == pytest.approx(0.3)
    joined = known_size(picture, what, size, 0.002, bench())
    assert joined.um_per_px == pytest.approx(UM_PER_PX, rel=2e-4)
    assert np.linalg.det(joined.covariance) < 0.9 * np.linalg.det(bench().covariance)


@pytest.mark.slow
def test_sizes_that_are_not_there_are_refused() -> None:
    with pytest.raises(RefusalError) as caught:
        known_size(picture_of(SCREW), "shank", 1.4, 0.002)
    assert caught.value.reasons[0].code == "no_shank"
    with pytest.raises(RefusalError) as caught:
        known_size(picture_of(SHANKED), "major", math.nan, 0.002)
    assert caught.value.reasons[0].code == "bad_gauge"
    with pytest.raises(RefusalError) as caught:
        known_size(picture_of(SHANKED), "major", 1.55, 0.002, bench())
    assert caught.value.reasons[0].code == "bench_changed"
