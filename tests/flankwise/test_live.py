"""Frames of a camera measured one after the other: what narrows, what stays, and when another part lies there."""

from __future__ import annotations

from pathlib import Path

import numpy as np
import numpy.typing as npt
import pytest

from flankwise.bench import Bench
from flankwise.live import LiveReadings, Reading
from flankwise.measuring import measure
from vision.pictures.averaged import Averaging, linear_png
from vision.shared.opencv import cv2
from vision.shared.plane import FixedScale

SAMPLES = Path(__file__).parents[2] / "sample_images"
SCREW, OTHER = "sextant_shade_frame_screw_0-80_bench_a.png", "sextant_index_arm_screw_4-40_bench_a.png"
HALF = Bench(FixedScale(8.0, relative_u=1e-5, edge_offset_u_px=0.01))
"""The samples of bench A at half their size."""
Bytes = npt.NDArray[np.uint8]


def _frames(name: str, count: int, *, seed: int = 1) -> list[Bytes]:
    """The sample at half its size as a grey camera hands it over, the same but for noise."""
    levels = cv2.imread(str(SAMPLES / name), cv2.IMREAD_GRAYSCALE)
    assert levels is not None
    still = np.asarray(cv2.resize(levels, (640, 480), interpolation=cv2.INTER_AREA), np.float64)
    noise = np.random.default_rng(seed)
    return [np.clip(still + noise.normal(0, 4, still.shape), 0, 255).astype(np.uint8) for _ in range(count)]


def _read(readings: LiveReadings, frames: list[Bytes]) -> list[Reading]:
    return [readings.read(frame) for frame in frames]


@pytest.mark.slow
def test_frames_of_a_still_part_give_the_numbers_of_the_picture_that_is_taken_of_them(tmp_path: Path) -> None:
    frames = _frames(SCREW, 4)
    found = _read(LiveReadings(HALF), frames)
    last = found[-1]
    assert [one.frames for one in found] == list(range(1, 5))
    assert {one.number for one in found} == {1}
    mean = Averaging(4)
    for frame in frames:
        mean.add(frame)
    (tmp_path / "taken.png").write_bytes(linear_png(mean.mean().light))
    taken = measure(tmp_path / "taken.png", HALF).thread
    assert last.part is not None
    for name in ("pitch", "major_diameter", "pitch_diameter", "minor_diameter"):
        live, file = getattr(last.part.thread, name), getattr(taken, name)
        assert live.value == pytest.approx(file.value, abs=1e-6)
        assert live.u95 == pytest.approx(file.u95, rel=0.02)


@pytest.mark.slow
def test_only_the_noise_of_u95_falls_and_no_more_than_with_the_root_of_the_frames() -> None:
    found = _read(LiveReadings(HALF), _frames(SCREW, 5))

    def noise(one: Reading) -> float:
        assert one.part is not None
        return float(np.sqrt(one.part.thread.pitch_diameter.u95**2 - one.steady_u95["pitch_diameter"] ** 2))

    first, last = found[0], found[-1]
    assert noise(first) / 2.7 < noise(last) < 0.7 * noise(first)
    assert last.steady_u95["pitch_diameter"] == pytest.approx(first.steady_u95["pitch_diameter"], rel=0.1)


@pytest.mark.slow
def test_another_part_is_noticed_and_compared_with_the_one_before() -> None:
    readings = LiveReadings(HALF)
    first = _read(readings, _frames(SCREW, 2))[-1]
    moved = readings.read(np.roll(_frames(SCREW, 1, seed=2)[0], 4, axis=0))
    assert (moved.number, moved.frames, moved.before) == (1, 1, None)
    empty = readings.read(np.full((480, 640), 200, np.uint8))
    assert empty.part is None
    assert empty.refusal is not None
    other = _read(readings, _frames(OTHER, 2))[-1]
    assert (other.number, other.frames) == (2, 2)
    assert other.before is not None
    assert first.part is not None
    assert other.before.thread.pitch.value == pytest.approx(first.part.thread.pitch.value, rel=1e-3)
    again = _read(readings, _frames(SCREW, 1))[-1]  # laid down without a look at the empty pad between
    assert again.number == 3
