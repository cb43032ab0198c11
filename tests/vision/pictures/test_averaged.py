"""The mean of frames in linear light, and what moved between them."""

from __future__ import annotations

import math
from dataclasses import replace
from pathlib import Path

import numpy as np
import pytest

from tests.refused import refused
from tests.vision.live_frames import Bytes, coded, frame_of
from tests.vision.scenes import ACROSS, CAMERA
from threads.shared.refusal import RefusalError
from vision.pictures.averaged import Averaged, Averaging, linear_png
from vision.pictures.live_frame import frame_light
from vision.pictures.picture import read_picture
from vision.pictures.registration import displacement
from vision.shared.opencv import cv2

STILL = frame_of(replace(ACROSS, camera=replace(CAMERA, noise=0.0)))


def average(frames: list[Bytes]) -> Averaged:
    averaging = Averaging(len(frames))
    for frame in frames:
        averaging.add(frame)
    return averaging.mean()


def _noisy(frame: Bytes, seed: int) -> Bytes:
    noise = np.random.default_rng(seed).normal(0, 4, frame.shape)
    return np.clip(frame + noise, 0, 255).astype(np.uint8)


def _moved(x: float, y: float) -> Bytes:
    matrix = np.array([[1, 0, x], [0, 1, y]], np.float32)
    size = (STILL.shape[1], STILL.shape[0])
    return np.asarray(cv2.warpAffine(STILL, matrix, size, flags=cv2.INTER_CUBIC, borderMode=cv2.BORDER_REPLICATE))


@pytest.mark.slow
def test_noise_goes_down_with_the_root_of_the_number_and_light_is_averaged_not_code() -> None:
    found = average([_noisy(STILL, seed) for seed in range(16)])
    assert (found.frames, found.left_out) == (16, 0)
    one = float(np.std(frame_light(_noisy(STILL, 99)) - frame_light(STILL)))
    assert float(np.std(found.light - frame_light(STILL))) < one / 3.5


def test_what_is_kept_is_read_back_as_linear_light(tmp_path: Path) -> None:
    light = np.linspace(0, 1, 300 * 300, dtype=np.float32).reshape(300, 300)
    (tmp_path / "x.png").write_bytes(linear_png(light))
    picture = read_picture(tmp_path / "x.png")
    assert "linear" in picture.notes[0]
    assert np.abs(picture.light - light).max() < 1e-5


def test_frames_beyond_those_wanted_let_the_old_ones_fade() -> None:
    averaging = Averaging(4)
    dim, bright = (np.full((240, 320), level, np.uint8) for level in (100, 150))
    for frame in [dim] * 4 + [bright] * 2:
        assert averaging.add(frame)
    mean = averaging.mean()
    assert mean.frames == 4
    # 1 - (3/4)^2 of the way: each new one takes a quarter
    assert float(mean.light.mean()) == pytest.approx((150 - 50 * (3 / 4) ** 2) / 255, abs=1e-5)
    assert not averaging.add(np.zeros((100, 100), np.uint8))


def test_a_frame_that_moved_is_left_out() -> None:
    frames = [_noisy(STILL, seed) for seed in range(5)]
    frames.insert(2, _noisy(_moved(0.6, 0.0), 7))
    frames.append(_noisy(_moved(0.0, 40.0), 8))
    found = average(frames)
    assert (found.frames, found.left_out) == (5, 2)


@pytest.mark.parametrize("step", [(0.3, 0.1), (0.0, 3.0), (105.8, 7.4)])
def test_a_part_that_moves_is_refused(step: tuple[float, float]) -> None:
    frames = [_noisy(_moved(i * step[0], i * step[1]), i) for i in range(4)]
    with pytest.raises(RefusalError) as refused:
        average(frames)
    assert refused.value.reasons[0].code == "part_moved"


@pytest.mark.parametrize("move", [(5.3, 2.1), (-31.4, 12.7)])
def test_how_far_it_moved_is_said(move: tuple[float, float]) -> None:
    """To 0.2 px, in another light and with noise."""
    dimmer = 0.8 * frame_light(_noisy(_moved(*move), 3))
    assert displacement(frame_light(STILL), dimmer) == pytest.approx(move, abs=0.2)
    with pytest.raises(RefusalError) as refused:
        average([STILL, _moved(*move)])
    assert refused.value.reasons[0].values["moved_px"] == pytest.approx(math.hypot(*move), abs=0.2)


def test_a_change_of_the_light_is_no_motion() -> None:
    dimmer = np.repeat(coded(0.9 * frame_light(STILL))[:, :, None], 3, axis=2)
    assert average([STILL, dimmer, STILL]).left_out == 0


def test_a_frame_is_as_linear_as_a_file_of_the_same_values(tmp_path: Path) -> None:
    """The rule for files (``vision.pictures.picture``): grey is linear, colour is sRGB."""
    for frame in (STILL, STILL[:, :, 1]):
        cv2.imwrite(str(tmp_path / "x.png"), frame)
        assert np.abs(read_picture(tmp_path / "x.png").light - frame_light(frame)).max() < 1e-6


def test_a_grey_picture_in_a_colour_format_is_known_as_such() -> None:
    tinted = STILL.copy()
    tinted[::4, ::4, 2] = np.minimum(tinted[::4, ::4, 2], 60)
    assert average([STILL]).colourless
    assert not average([tinted]).colourless
    assert not average([STILL[:, :, 0].copy()]).colourless


def test_nothing_given_is_refused_in_a_sentence() -> None:
    with refused(RefusalError, match="No frame"):
        Averaging(4).mean()
