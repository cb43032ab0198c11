"""Threads with several starts: told from the shadow, measured as well as those with one."""

from __future__ import annotations

from dataclasses import replace

import pytest

from sample_images.scene import Camera, Scene, Thread
from tests.vision.scenes import photograph
from threads.shared.refusal import RefusalError
from vision.result.measure import measure_picture
from vision.shared.plane import FixedScale

SMALL = Thread(2.81, 2.40, 2.10, 0.635, crest_corner_radius_mm=0.012)
FINE = Thread(6.0, 5.675, 5.46, 0.5, crest_corner_radius_mm=0.01)


def shot(thread: Thread, um_per_px: float) -> Scene:
    camera = Camera(1200, 1000 if thread.major_mm < 5 else 1200, um_per_px=um_per_px, noise=0.01)
    return Scene(thread, 40.0, view_mm=20.0, phase=0.3, rotation_deg=3.0, tilt_deg=1.0, seed=3, camera=camera)


def bench(scene: Scene) -> FixedScale:
    return FixedScale(scene.camera.um_per_px, 1e-5, 0.001, light_cone_deg=0.0)


@pytest.mark.slow
@pytest.mark.parametrize("starts", [1, 2, 3, 4])
def test_starts_are_told_and_sizes_right(starts: int) -> None:
    scene = shot(replace(SMALL, starts=starts), 4.0)
    m = measure_picture(photograph(scene)[0], bench(scene)).thread
    assert m.starts == starts
    assert m.lead.value == pytest.approx(starts * m.pitch.value)
    assert m.pitch.value == pytest.approx(0.635, abs=0.0002)
    assert m.pitch_diameter.value == pytest.approx(2.40, abs=0.0004)
    assert m.major_diameter.value == pytest.approx(2.81, abs=0.0004)
    assert m.included_angle.value == pytest.approx(60.0, abs=0.05)
    assert abs(m.axis_tilt.value) == pytest.approx(1.0, abs=0.02)


@pytest.mark.slow
@pytest.mark.parametrize("starts", [1, 3])
def test_a_fine_thread_on_a_thick_rod_shows_its_starts_in_a_good_picture(starts: int) -> None:
    scene = shot(replace(FINE, starts=starts), 6.0)
    m = measure_picture(photograph(scene)[0], bench(scene))
    assert m.thread.starts == starts
    assert m.thread.pitch_diameter.value == pytest.approx(5.675, abs=0.0006)


@pytest.mark.slow
def test_where_the_shadow_does_not_show_them_the_answer_says_so() -> None:
    scene = shot(replace(FINE, starts=3), 12.0)
    picture = photograph(scene)[0]
    m = measure_picture(picture, bench(scene))
    assert m.thread.starts == 3 or "starts_not_shown" in {w.code for w in m.quality.warnings}
    counted = measure_picture(picture, bench(scene), starts=3)
    assert counted.thread.starts == 3
    assert "starts_not_shown" not in {w.code for w in counted.quality.warnings}
    assert counted.thread.pitch_diameter.value == pytest.approx(5.675, abs=0.001)


def test_a_wrong_count_is_refused() -> None:
    scene = shot(SMALL, 4.0)
    with pytest.raises(RefusalError) as caught:
        measure_picture(photograph(scene)[0], bench(scene), starts=2)
    assert [reason.code for reason in caught.value.reasons] == ["starts_disagree"]


@pytest.mark.slow
@pytest.mark.parametrize("hand", ["right", "left"])
def test_a_stated_hand_is_reported_with_the_tilt_that_belongs_to_it(hand: str) -> None:
    scene = shot(replace(SMALL, hand=hand), 4.0)
    picture = photograph(scene)[0]
    assert measure_picture(picture, bench(scene)).thread.hand == "not determined"
    m = measure_picture(picture, bench(scene), hand=hand).thread
    other = measure_picture(picture, bench(scene), hand="left" if hand == "right" else "right").thread
    assert m.hand == hand
    assert m.axis_tilt.value == pytest.approx(-other.axis_tilt.value)
    assert m.pitch_diameter.value == other.pitch_diameter.value
