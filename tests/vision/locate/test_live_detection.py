"""What a look at one frame says, against rendered scenes."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import numpy as np
import pytest

from sample_images.scene import Scene
from tests.vision.live_frames import frame_of
from tests.vision.scenes import ACROSS, CAMERA, UNIFIED
from vision.locate.live_detection import detect_live
from vision.shared.opencv import cv2

SAMPLES = Path(__file__).parents[3] / "sample_images"
LEANING = replace(ACROSS, camera=replace(CAMERA, noise=0.01))


@pytest.mark.parametrize("hand", ["right", "left"])
@pytest.mark.parametrize("tilt", [-2.0, 0.0, 1.0, 4.0])
def test_tilt_is_seen_within_four_tenths_of_a_degree(tilt: float, hand: str) -> None:
    look = detect_live(frame_of(replace(LEANING, thread=replace(UNIFIED, hand=hand), tilt_deg=tilt)))
    assert look.tilt_deg == pytest.approx(abs(tilt), abs=0.4)


@pytest.mark.parametrize("blur", [0.8, 1.5, 3.0, 4.5])
def test_blur_is_seen_within_a_tenth(blur: float) -> None:
    look = detect_live(frame_of(replace(LEANING, camera=replace(CAMERA, noise=0.01, blur_sigma_px=blur))))
    assert look.blur_px == pytest.approx(blur, abs=0.1)


@pytest.mark.parametrize("rotation", [-12.0, 4.0, 84.0])
def test_direction_and_thread(rotation: float) -> None:
    look = detect_live(frame_of(replace(LEANING, rotation_deg=rotation)))
    assert look.angle_deg == pytest.approx(rotation, abs=0.1)
    assert look.lean_deg == pytest.approx(rotation if rotation < 45 else rotation - 90, abs=0.1)
    assert look.pitch_px == pytest.approx(1000 * UNIFIED.pitch_mm / CAMERA.um_per_px, rel=0.005)
    assert look.threads is not None
    assert look.threads > 5


def test_the_outline_lies_on_the_edges_of_the_frame_itself() -> None:
    """A pin of 1.000 mm at 4 um a pixel, in a frame that is looked at on a reduced copy."""
    frame = cv2.imread(str(SAMPLES / "pin_1000_bench_a.png"), cv2.IMREAD_GRAYSCALE)
    assert frame is not None
    upper, lower = sorted(float(run[:, 1].mean()) for run in detect_live(frame).outline if len(run) > 100)
    assert lower - upper == pytest.approx(250, abs=2)


def test_uneven_light_is_told_as_a_share() -> None:
    even = detect_live(frame_of(LEANING))
    falling = detect_live(frame_of(replace(LEANING, light=replace(LEANING.light, gradient_x=0.2))))
    assert even.uneven < 0.03
    assert 0.25 < falling.uneven < 0.55
    assert falling.threads == pytest.approx(even.threads, abs=0.3)


def test_a_burnt_ground_and_the_sides_that_are_crossed() -> None:
    frame = frame_of(LEANING)
    assert detect_live(frame).touches == ("left", "right")
    colour = frame.copy()
    colour[:80, :, 2] = 255  # red alone is at full scale
    look = detect_live(colour)
    assert look.saturated == pytest.approx(80 / frame.shape[0] / 0.32, rel=0.15)  # the part takes the rest
    assert detect_live(np.full((480, 640, 3), 255, np.uint8)).refusal is not None


def test_a_pin_shows_no_tilt_and_an_empty_pad_no_part() -> None:
    frame = np.full((480, 640, 3), 200, np.uint8)
    empty = detect_live(frame)
    assert empty.refusal is not None
    assert empty.refusal.code == "no_part"
    assert empty.light == pytest.approx(0.578, abs=0.01)
    frame[200:280] = 10
    look = detect_live(frame)
    assert look.tilt_deg is None
    assert look.threads is None
    assert look.lean_deg == pytest.approx(0, abs=0.1)


def test_a_linear_frame_says_the_same_as_a_coded_one() -> None:
    scene: Scene = replace(LEANING, tilt_deg=1.0)
    frame = frame_of(scene)
    code = frame / 255
    linear = np.where(code <= 0.04045, code / 12.92, ((code + 0.055) / 1.055) ** 2.4).astype(np.float32)
    one, two = detect_live(frame), detect_live(linear)
    assert one.blur_px == pytest.approx(two.blur_px, abs=0.01)
    assert one.light == pytest.approx(two.light, abs=0.001)
