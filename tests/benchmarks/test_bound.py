"""The bound is what it is called: no method reads a straight edge better, and the right one reads it as well."""

from __future__ import annotations

import math
from dataclasses import replace
from pathlib import Path

import numpy as np
import pytest
from scipy.special import ndtr

from benchmarks.bound import bounds, information_of_edge
from benchmarks.limit import limit_scene, line_of, report, run_scene
from benchmarks.outcome import known_bench
from sample_images.files import write_picture
from sample_images.render import render
from vision.pictures.picture import read_picture
from vision.result.measure import measure_picture


def test_the_best_estimate_of_a_straight_edge_scatters_as_the_bound_says() -> None:
    # the maximum-likelihood estimate of one small displacement is linear in the noise: a matched filter
    rng = np.random.default_rng(1)
    contrast, blur, noise, length = 0.8, 1.3, 0.02, 40
    x = np.arange(-12.0, 13.0)
    slope = contrast * np.exp(-((x / blur) ** 2) / 2) / (blur * math.sqrt(2 * math.pi))
    edge = contrast * ndtr(x / blur)
    found = []
    for _ in range(4000):
        seen = edge + noise * rng.normal(size=(length, x.size))
        found.append(float(((seen - edge) @ slope).sum() / (length * (slope @ slope))))
    bound = 1 / math.sqrt(length * information_of_edge(contrast, blur, noise))
    assert np.std(found) == pytest.approx(bound, rel=0.04)


@pytest.mark.slow
def test_the_bound_follows_noise_and_light_and_is_below_the_stated_uncertainty(tmp_path: Path) -> None:
    screw = limit_scene(3).screw
    path = tmp_path / "screw.png"
    write_picture(path, render(screw)[0])
    found = measure_picture(read_picture(path), known_bench(screw))
    least = bounds(found, screw.camera)
    assert 0 < least["pitch_diameter"] < found.thread.pitch_diameter.standard_uncertainty
    noisier = bounds(found, replace(screw.camera, noise=2 * screw.camera.noise))
    assert noisier["pitch_diameter"] == pytest.approx(2 * least["pitch_diameter"], rel=0.05)


@pytest.mark.slow
def test_a_scene_of_the_limit_benchmark_is_measured_near_its_bound() -> None:
    outcome = run_scene(5)
    assert outcome.status == "measured"
    line = line_of([outcome])
    assert line.n == 1
    assert line.rms_px < 0.05 + 4 * line.bound_px
    assert "pitch_diameter" in report([outcome])
