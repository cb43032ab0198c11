"""Axis, pitch and threaded length from outlines of known threads and of things that are none."""

from __future__ import annotations

import math
from dataclasses import replace

import numpy as np
import numpy.typing as npt
import pytest
from hypothesis import given
from hypothesis import strategies as st

from sample_images.scene import Camera, Cylinder, Scene, Thread, pin_scene
from tests.vision.scenes import ACROSS, CAMERA, UNIFIED, outline_points, turned
from threads.shared.refusal import RefusalError
from vision.locate.frame import Frame
from vision.locate.threaded import ThreadedLength, edges_along, find_threaded_length, mask_direction

Array = npt.NDArray[np.float64]

PX = CAMERA.um_per_px * 1e-3


def found(scene: Scene, *, normals: bool = True) -> ThreadedLength:
    points, normal = outline_points(scene)
    return find_threaded_length(points, math.radians(scene.rotation_deg), normal if normals else None)


def code(scene: Scene) -> str:
    with pytest.raises(RefusalError) as caught:
        found(scene)
    return caught.value.reasons[0].code


@pytest.mark.parametrize("rotation", [0.0, 17.0, 90.0, 131.0, 180.0, 200.0, 271.0, 345.0])
@pytest.mark.parametrize("normals", [True, False])
def test_any_direction(rotation: float, normals: bool) -> None:
    """Pitch within 0.3 %, axis within 0.1 deg and 0.5 px, radii within 1.5 px, flanks within 6 %."""
    scene = turned(ACROSS, rotation, offset_px=12.0)
    thread = found(scene, normals=normals)
    assert thread.pitch * PX == pytest.approx(UNIFIED.pitch_mm, rel=3e-3)
    turn = (math.degrees(thread.frame.angle) - rotation + 90) % 180 - 90
    assert abs(turn) < 0.1
    assert thread.crest * PX == pytest.approx(UNIFIED.major_mm / 2, abs=1.5 * PX)
    assert thread.root * PX == pytest.approx(UNIFIED.minor_mm / 2, abs=1.5 * PX)
    assert thread.pitch_radius * PX == pytest.approx(UNIFIED.pitch_diameter_mm / 2 + 0.012, abs=1.5 * PX)
    for slope in (thread.slope_up, thread.slope_down):
        assert slope == pytest.approx(1.73, rel=0.06)
    # the axis passes 12 px from the picture's centre
    middle = np.array([[(CAMERA.width - 1) / 2, (CAMERA.height - 1) / 2]])
    across = thread.frame.to_frame(middle)[0, 1] - thread.offset
    assert abs(across) == pytest.approx(12.0, abs=0.5)
    assert thread.regularity > 0.98
    assert thread.lower_shift == pytest.approx(0.5, abs=0.02)


def test_phase_is_that_of_a_ridge_on_the_upper_edge() -> None:
    scene = turned(ACROSS, 30.0)
    points, normal = outline_points(scene)
    thread = find_threaded_length(points, math.radians(30.0), normal)
    u, upper, _ = edges_along(points, thread.frame, normal)
    ridge = np.abs((u - thread.phase + thread.pitch / 2) % thread.pitch - thread.pitch / 2) < 0.06 * thread.pitch
    inside = (u > thread.start) & (u < thread.end)
    assert np.nanmin(upper[ridge & inside]) > thread.crest - 3
    groove = np.roll(ridge, round(thread.pitch / 2))
    assert np.nanmax(upper[groove & inside]) < thread.root + 4


@pytest.mark.parametrize("rotation", [0.0, 120.0, 182.0])
def test_between_chamfered_end_and_shank(rotation: float) -> None:
    """Shank, head and chamfer are left out: the threaded length is right within a pitch at either end."""
    scene = Scene(
        UNIFIED, 3.6, chamfer_end_mm=1.9, runout_mm=0.3, body=(Cylinder(2.75, 0.5), Cylinder(4.0, 9.0)), view_mm=2.4,
        phase=0.2, rotation_deg=rotation, camera=replace(CAMERA, width=1000, height=1000),
    )  # fmt: skip
    thread = found(scene)
    pitch = UNIFIED.pitch_mm
    chamfer = (UNIFIED.major_mm - 1.9) / 2
    full = 3.6 - 0.3 - chamfer
    assert thread.pitch * PX == pytest.approx(pitch, rel=6e-3)
    assert full - 2 * pitch < (thread.end - thread.start) * PX < full + 1.5 * pitch
    # where it is: the middle of the full thread, as seen from the picture's centre
    centre = np.array([[(scene.camera.width - 1) / 2, (scene.camera.height - 1) / 2]])
    middle = (thread.start + thread.end) / 2 - thread.frame.to_frame(centre)[0, 0]
    toward_end = math.cos(thread.frame.angle - math.radians(rotation))
    assert middle * PX * toward_end == pytest.approx(2.4 - (chamfer + full / 2), abs=0.8 * pitch)


def test_short_screw_with_a_head_that_is_longest_across() -> None:
    scene = Scene(
        UNIFIED, 3.4, body=(Cylinder(6.5, 1.0),), view_mm=2.0, rotation_deg=0.0,
        camera=Camera(1200, 1200, um_per_px=6.0),
    )  # fmt: skip
    points, normal = outline_points(scene)
    thread = find_threaded_length(points, math.pi / 2, normal)
    assert thread.pitch * PX == pytest.approx(UNIFIED.pitch_mm, rel=0.01)


@pytest.mark.parametrize(
    "thread",
    [
        Thread(6.0, 5.4, 4.8, 1.0, 23.75, 23.75, crest="radius", root="radius"),
        Thread(1.5, 1.3, 1.11, 0.3175),
        Thread(3.0, 2.675, 2.387, 0.5, root="radius"),
    ],
    ids=["0 BA", "0-80", "M3"],
)
def test_other_forms(thread: Thread) -> None:
    scale = thread.pitch_mm / 0.07
    camera = replace(CAMERA, um_per_px=scale, width=700, height=600)
    scene = Scene(thread, 60.0, view_mm=30.0, rotation_deg=10.0, camera=camera)
    seen = found(scene)
    assert seen.pitch * scale == pytest.approx(1e3 * thread.pitch_mm, rel=5e-3)
    assert seen.crest * scale == pytest.approx(500 * thread.major_mm, abs=2 * scale)


def test_noise_on_the_edge_changes_little() -> None:
    points, normal = outline_points(ACROSS)
    rng = np.random.default_rng(2)
    noisy = points + rng.normal(0, 0.3, points.shape)
    thread = find_threaded_length(noisy, math.radians(4.0), normal)
    assert thread.pitch * PX == pytest.approx(UNIFIED.pitch_mm, rel=3e-3)
    assert math.degrees(thread.frame.angle) == pytest.approx(4.0, abs=0.15)


def test_plain_pin_is_no_thread() -> None:
    assert code(pin_scene(2.5, rotation_deg=10.0, camera=CAMERA)) == "no_thread"


def test_shoulders_alone_are_no_thread() -> None:
    body = (Cylinder(2.0, 1.0), Cylinder(3.0, 1.2), Cylinder(2.4, 9.0))
    scene = Scene(None, body=body, view_mm=2.0, rotation_deg=3.0, camera=CAMERA)
    assert code(scene) == "no_thread"


def test_one_thread_in_view_is_too_few() -> None:
    camera = Camera(560, 700, um_per_px=1.9)
    scene = Scene(Thread(1.0, 0.8, 0.62, 0.75), 30.0, view_mm=15.0, camera=camera)
    assert code(scene) in ("too_few_threads", "no_thread")


def test_ten_pixels_a_thread_are_too_coarse() -> None:
    scene = Scene(UNIFIED, 90.0, view_mm=45.0, camera=replace(CAMERA, um_per_px=63.5))
    assert code(scene) in ("too_coarse", "no_thread")


def test_two_starts_show_in_the_lower_edge() -> None:
    """With an even number of starts ridge faces ridge: the lower edge is not half a pitch away."""
    scene = replace(ACROSS, thread=replace(UNIFIED, starts=2))
    points, normal = outline_points(scene)
    try:
        thread = find_threaded_length(points, math.radians(4.0), normal)
    except RefusalError as refusal:
        assert refusal.reasons[0].code == "not_a_thread"
    else:
        assert min(thread.lower_shift % 1, 1 - thread.lower_shift % 1) < 0.05


def test_threads_is_length_over_pitch() -> None:
    thread = found(ACROSS)
    assert thread.threads == pytest.approx((thread.end - thread.start) / thread.pitch)
    assert thread.threads == pytest.approx(8.5, abs=1.5)


def test_mask_direction() -> None:
    y, x = np.mgrid[-100:101, -150:151]
    for angle in (-1.2, -0.3, 0.0, 0.4, 1.5):
        across = -x * math.sin(angle) + y * math.cos(angle)
        along = x * math.cos(angle) + y * math.sin(angle)
        mask = ((np.abs(across) < 20) & (np.abs(along) < 80)).astype(np.uint8)
        assert (mask_direction(mask) - angle + math.pi / 2) % math.pi - math.pi / 2 == pytest.approx(0, abs=0.01)


@given(
    st.floats(-100, 100), st.floats(-100, 100), st.floats(-7, 7),
    st.lists(st.tuples(st.floats(-1000, 1000), st.floats(-1000, 1000)), min_size=1, max_size=5),
)  # fmt: skip
def test_frame_there_and_back(x: float, y: float, angle: float, points: list[tuple[float, float]]) -> None:
    frame = Frame((x, y), angle)
    there = np.array(points)
    assert np.abs(frame.to_picture(frame.to_frame(there)) - there).max() < 1e-9


def test_frame_has_w_up_when_u_points_right() -> None:
    frame = Frame((10.0, 20.0), 0.0)
    assert frame.to_frame(np.array([[13.0, 16.0]]))[0] == pytest.approx([3.0, 4.0])


def test_edges_along_takes_the_outermost_points_and_bridges_short_gaps() -> None:
    x = np.arange(0.0, 50.0)
    upper = np.column_stack([x, np.full(50, 10.0)])
    lower = np.column_stack([x, np.full(50, 40.0)])
    inner = np.array([[20.0, 14.0], [20.0, 33.0]])
    points = np.concatenate([np.delete(upper, [30, 31], axis=0), lower, inner])
    u, above, below = edges_along(points, Frame((0.0, 25.0), 0.0))
    assert u[0] == 0
    assert u.size == 50
    assert above == pytest.approx(np.full(50, 15.0))
    assert below == pytest.approx(np.full(50, -15.0))
