"""Measuring again what was seen once, with ends and masks set by hand."""

from __future__ import annotations

from dataclasses import replace
from functools import cache
from pathlib import Path

import numpy as np
import pytest

from tests.refused import refused
from threads.shared.refusal import RefusalError
from vision.locate.detection import ByHand, DetectedPart, detect
from vision.pictures.picture import read_picture
from vision.result.measure import measure_detected, measure_picture
from vision.shared.opencv import cv2
from vision.shared.plane import FixedScale

SAMPLES = Path(__file__).parents[3] / "sample_images"
BENCH = FixedScale(4.0, 1e-5, 0.01)


@cache
def seen() -> DetectedPart:
    return detect(read_picture(SAMPLES / "sextant_index_arm_screw_4-40_bench_a.png"))


def codes(by_hand: ByHand) -> set[str]:
    return {w.code for w in measure_detected(seen(), BENCH, by_hand=by_hand).quality.warnings}


def test_what_was_seen_once_measures_as_the_picture_does() -> None:
    again, whole = measure_detected(seen(), BENCH), measure_picture(seen().picture, BENCH)
    assert again.thread.pitch_diameter == whole.thread.pitch_diameter
    assert not {"ends_by_hand", "masked_by_hand"} & {w.code for w in again.quality.warnings}


def test_the_thread_is_taken_between_the_ends_set_by_hand() -> None:
    whole = measure_detected(seen(), BENCH)
    short = measure_detected(seen(), BENCH, by_hand=ByHand(ends=((900.0, 520.0), (400.0, 500.0))))
    assert short.part.threaded_length == pytest.approx(2.0, abs=0.1)
    assert short.thread.threads_in_view < whole.thread.threads_in_view
    assert short.thread.pitch_diameter.value == pytest.approx(whole.thread.pitch_diameter.value, abs=2e-4)
    assert "ends_by_hand" in codes(ByHand(ends=((900.0, 520.0), (400.0, 500.0))))
    with refused(RefusalError, match="Draw them apart, over the thread"):
        measure_detected(seen(), BENCH, by_hand=ByHand(ends=((500.0, 500.0), (505.0, 700.0))))


def test_what_is_masked_does_not_count() -> None:
    mask = (600.0, 100.0, 700.0, 300.0)
    found = measure_detected(seen(), BENCH, by_hand=ByHand(masks=(mask,)))
    chosen = seen().edges.xy[seen().light.burnt == 0]
    assert chosen.shape[0] > found.solution.seen.u.size
    assert found.thread.pitch_diameter.value == pytest.approx(2.4282, abs=6e-3)  # truth.json, mirrored light unknown
    assert "masked_by_hand" in codes(ByHand(masks=(mask,)))
    with pytest.raises(RefusalError):
        measure_detected(seen(), BENCH, by_hand=ByHand(masks=((0.0, 0.0, 1280.0, 960.0),)))


def test_noisy_pictures_are_smoothed_as_their_blur_asks() -> None:
    assert seen().silhouette.presmooth_px == 1.0
    picture = seen().picture
    blurred = cv2.GaussianBlur(picture.light, (0, 0), 3.0)
    noisy = np.clip(blurred + 0.04 * np.random.default_rng(1).standard_normal(blurred.shape), 0, 1)
    found = detect(replace(picture, light=noisy.astype(np.float32)))
    assert found.silhouette.presmooth_px == pytest.approx(0.6 * 3.2, abs=0.2)  # the picture has a blur of its own
