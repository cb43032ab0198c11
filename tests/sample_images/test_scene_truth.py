"""The truth that goes with a picture, and the random scenes of the benchmark."""

from __future__ import annotations

import json
from dataclasses import replace
from math import radians, tan

import numpy as np
import pytest

from sample_images.geometry import outline_of
from sample_images.random_scene import random_scene
from sample_images.render import outline_px, render
from sample_images.scene import Camera, Cylinder, Scene, Thread, pin_scene
from sample_images.truth import seen_between, threads_in_view, truth_of

SCENES = [random_scene(np.random.default_rng(seed)) for seed in range(60)]


@pytest.mark.parametrize("scene", SCENES[:20])
def test_the_numbers_of_a_thread_fit_together(scene: Scene) -> None:
    truth = truth_of(scene)
    run = tan(radians(truth["half_angle_left_deg"])) + tan(radians(truth["half_angle_right_deg"]))
    assert truth["minor_mm"] < truth["pitch_diameter_mm"] < truth["major_mm"]
    crest = truth["pitch_mm"] / 2 - (truth["major_mm"] - truth["pitch_diameter_mm"]) / 2 * run
    assert truth["crest_width_mm"] == pytest.approx(crest, abs=1e-12)
    assert (truth["root_width_mm"] is None) == (truth["root_radius_mm"] is not None)
    assert truth["lead_mm"] == truth["pitch_mm"] * truth["starts"]
    assert truth["included_angle_deg"] == truth["half_angle_left_deg"] + truth["half_angle_right_deg"]
    json.dumps(truth, allow_nan=False)


def test_the_shadow_has_the_truths_pitch_and_major_diameter() -> None:
    scene = replace(SCENES[0], tilt_deg=0.0, body=(), length_mm=200.0, view_mm=100.0, chamfer_end_mm=None)
    truth, outline = truth_of(scene), outline_of(scene)
    assert outline.high.max() - outline.low.min() == pytest.approx(truth["major_mm"], abs=1e-6)
    on_shift = np.interp(outline.u[:-2000] + truth["pitch_mm"], outline.u, outline.high)
    np.testing.assert_allclose(on_shift[500:-2500], outline.high[500:-4500], atol=5e-4)


def test_counting_the_threads_in_view() -> None:
    thread = Thread(2.0, 1.74, 1.5, 0.4)
    scene = Scene(thread, 100.0, view_mm=50.0, camera=Camera(1000, 800, um_per_px=5.0))
    assert seen_between(scene, 2.0) == pytest.approx((47.5, 52.5))
    assert threads_in_view(scene) == 12  # 5 mm of 0.4 mm
    assert threads_in_view(replace(scene, view_mm=1.0, chamfer_end_mm=1.4)) == 8  # 0.3 to 3.5 mm
    assert threads_in_view(replace(scene, rotation_deg=90)) == 10  # 4 mm
    assert threads_in_view(replace(scene, length_mm=50.0, runout_mm=0.5)) == 5  # 47.5 to 49.5 mm
    assert threads_in_view(replace(scene, offset_px=420)) == 0
    assert truth_of(replace(scene, view_mm=1.0))["free_end_in_view"]
    assert not truth_of(scene)["free_end_in_view"]


def test_a_tapered_threads_diameters_hold_in_the_middle_of_what_is_seen() -> None:
    thread = Thread(2.0, 1.74, 1.5, 0.4, taper_um_per_mm=20.0)
    scene = Scene(thread, 12.0, view_mm=1.0, camera=Camera(1000, 200, um_per_px=5.0))
    assert truth_of(scene)["diameters_at_mm"] == pytest.approx(1.75)  # 0 to 3.5 mm
    outline = outline_of(scene)
    slope = np.polyfit(*crests(outline.u, outline.high), 1)[0] - np.polyfit(*crests(outline.u, outline.low), 1)[0]
    assert slope * 1e3 == pytest.approx(-20.0, abs=0.3)  # thicker away from the free end, which lies at +u
    u, v = crests(outline.u, outline.high)
    assert len(u) > 5
    assert np.interp(1.0 - 1.75, u, v) == pytest.approx(1.0, abs=0.001)  # the top of a crest is its thick side


def crests(u: np.ndarray, v: np.ndarray) -> tuple[np.ndarray, np.ndarray]:
    """Place and (signed) height of the highest point of each crest."""
    above = np.abs(v) > 0.9 * np.abs(v).max()
    runs = np.split(np.arange(len(u)), np.flatnonzero(np.diff(above.astype(int))) + 1)
    tops = [run[np.abs(v[run]).argmax()] for run in runs if above[run[0]]][1:-1]
    return u[tops], v[tops]


def test_a_pin_has_a_diameter_only() -> None:
    truth = truth_of(pin_scene(2.5))
    assert truth["kind"] == "pin"
    assert truth["diameter_mm"] == 2.5
    assert "pitch_mm" not in truth


def test_random_scenes_keep_their_promises() -> None:
    for scene in SCENES:
        truth = truth_of(scene)
        scene.check()
        assert 6 <= truth["threads_in_view"] <= 30
        assert 2 <= truth["um_per_px"] <= 8
        assert truth["pitch_mm"] * 1e3 / truth["um_per_px"] >= 40
        assert 0.3 <= truth["pitch_mm"] <= 1.0
        assert abs(truth["tilt_deg"]) <= 2
        assert truth["blur_sigma_px"] <= 2
        assert truth["noise"] <= 0.02
        assert truth["uneven_light"] <= 0.15
        assert abs(truth["half_angle_left_deg"] - 30) <= 0.7
    for kind in ("free_end_in_view", "body_mm", "root_radius_mm"):
        assert 5 < sum(bool(truth_of(scene)[kind]) for scene in SCENES) < 55
    assert {truth_of(scene)["hand"] for scene in SCENES} == {"right", "left"}
    assert np.ptp([scene.rotation_deg for scene in SCENES]) > 300


def test_random_scenes_come_from_the_generator_alone() -> None:
    assert random_scene(np.random.default_rng(4)) == random_scene(np.random.default_rng(4))
    assert random_scene(np.random.default_rng(4)) != random_scene(np.random.default_rng(5))
    narrow = random_scene(np.random.default_rng(4), um_per_px=(4.0, 4.0), tilt_deg=0.0, pinhole_share=1.0, dark_share=0)
    assert narrow.camera.um_per_px == pytest.approx(4.0)
    assert narrow.camera.working_distance_mm is not None
    with pytest.raises(ValueError, match="widen"):
        random_scene(np.random.default_rng(4), um_per_px=(40.0, 50.0))


@pytest.mark.slow
@pytest.mark.parametrize("scene", SCENES[:3])
def test_a_random_scene_shows_dark_and_bright(scene: Scene) -> None:
    picture, truth = render(scene)
    full = np.iinfo(picture.dtype).max
    assert picture.shape == (truth["height_px"], truth["width_px"])
    assert np.percentile(picture, 99) > 0.5 * full
    assert np.percentile(picture, 1) < 0.1 * full
    assert not (picture == full).mean() > 1e-3


def test_the_outline_follows_the_body() -> None:
    scene = Scene(None, body=(Cylinder(1.0, 1.0), Cylinder(2.0, 1.0)), view_mm=1.0, camera=Camera(600, 400, 10.0))
    p = outline_px(scene)
    assert p[:, 0].max() == pytest.approx(299.5 + 100, abs=1e-4)
    assert p[:, 0].min() == pytest.approx(299.5 - 100, abs=1e-4)
    assert np.ptp(p[p[:, 0] < 299, 1]) == pytest.approx(200, abs=1e-4)
    assert np.ptp(p[p[:, 0] > 300, 1]) == pytest.approx(100, abs=1e-4)
