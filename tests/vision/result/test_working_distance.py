"""Cameras at 60 to 120 mm: obliquity along the axis and magnification with height are in the model, told or fitted."""

from __future__ import annotations

import pytest

from sample_images.scene import Camera, Scene, Thread
from tests.vision.scenes import photograph
from vision.model.shadow import INDEX
from vision.result.measure import measure_picture
from vision.shared.plane import FixedScale


@pytest.mark.slow
@pytest.mark.parametrize("distance", [60.0, 120.0])
@pytest.mark.parametrize(("hand", "told"), [("right", False), ("left", True)])
def test_sizes_before_a_near_camera(distance: float, hand: str, told: bool) -> None:
    """Pitch diameter within 0.1 um, tilt within 0.01 deg, the distance itself within 1 %; the hand shows."""
    thread = Thread(2.81, 2.42, 2.06, 0.635, crest_corner_radius_mm=0.012, hand=hand)
    camera = Camera(1200, 1000, um_per_px=4.0, noise=0.01, working_distance_mm=distance)
    scene = Scene(thread, 40.0, view_mm=20.0, phase=0.3, rotation_deg=3.0, tilt_deg=1.0, seed=3, camera=camera)
    # a rule reads a tenth too much
    plane = FixedScale(4.0, 1e-5, 0.001, light_cone_deg=0.0, working_distance_mm=1.1 * distance if told else None)
    m = measure_picture(photograph(scene)[0], plane)
    assert m.thread.pitch_diameter.value == pytest.approx(2.42, abs=0.0001)
    assert m.thread.major_diameter.value == pytest.approx(2.81, abs=0.0001)
    assert m.thread.axis_tilt.value == pytest.approx(1.0, abs=0.01)
    assert m.thread.hand == hand
    assert abs(m.solution.fit.x[INDEX["nearness"]]) * distance == pytest.approx(1.0, abs=0.01)


def test_a_told_distance_steadies_what_few_threads_leave_open() -> None:
    thread = Thread(2.81, 2.42, 2.06, 0.635, crest_corner_radius_mm=0.012)
    camera = Camera(640, 480, um_per_px=8.0, noise=0.02, working_distance_mm=300.0)
    scene = Scene(thread, 2.6, view_mm=1.0, phase=0.3, tilt_deg=1.0, seed=5, camera=camera)
    picture = photograph(scene)[0]
    free, told = (
        measure_picture(picture, FixedScale(8.0, light_cone_deg=0.0, working_distance_mm=d)) for d in (None, 300.0)
    )
    assert told.thread.axis_tilt.u95 <= free.thread.axis_tilt.u95 * 1.05
    assert abs(told.solution.fit.x[INDEX["nearness"]]) == pytest.approx(1 / 300, rel=0.15)
    assert told.thread.pitch_diameter.value == pytest.approx(2.42, abs=0.002)


@pytest.mark.parametrize("view_mm", [0.4, 3.0])
def test_a_tilted_thread_off_the_optical_axis(view_mm: float) -> None:
    """Pitch, size within 0.02 %: the axis is as high as the gauges where the picture has its middle, not the thread."""
    thread = Thread(2.81, 2.42, 2.06, 0.635, crest_corner_radius_mm=0.012)
    camera = Camera(1200, 1000, um_per_px=4.0, noise=0.01, working_distance_mm=60.0)
    scene = Scene(thread, 3.4, view_mm=view_mm, phase=0.3, tilt_deg=1.5, seed=3, camera=camera)
    m = measure_picture(photograph(scene)[0], FixedScale(4.0, 1e-5, 0.001, light_cone_deg=0.0))
    assert m.thread.pitch.value == pytest.approx(0.635, rel=2e-4)
    assert m.thread.pitch_diameter.value == pytest.approx(2.42, rel=2e-4)
