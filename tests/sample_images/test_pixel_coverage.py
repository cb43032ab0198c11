"""Exact coverage: areas add up, borders cut, and each pixel agrees with counting fine points."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from sample_images.coverage import polygon_coverage


def star(seed: int, corners: int, centre: tuple[float, float], size: float) -> np.ndarray:
    """A polygon around ``centre`` that does not cross itself."""
    rng = np.random.default_rng(seed)
    angle = (np.arange(corners) + rng.uniform(0.1, 0.9, corners)) * 2 * np.pi / corners
    radius = size * rng.uniform(0.3, 1, corners)
    return np.column_stack([centre[0] + radius * np.cos(angle), centre[1] + radius * np.sin(angle)])


def area(p: np.ndarray) -> float:
    return abs(float(np.sum(p[:, 0] * np.roll(p[:, 1], -1) - np.roll(p[:, 0], -1) * p[:, 1]))) / 2


@given(st.integers(0, 10**6), st.integers(3, 40), st.booleans())
def test_the_sum_is_the_polygons_area(seed: int, corners: int, backwards: bool) -> None:
    p = star(seed, corners, (31.3, 24.8), 22)
    covered = polygon_coverage(p[::-1] if backwards else p, 64, 48)
    assert covered.sum() == pytest.approx(area(p), abs=1e-9)
    assert covered.min() >= 0
    assert covered.max() <= 1


@given(st.integers(0, 10**6), st.floats(-20, 80), st.floats(-20, 60))
def test_what_leaves_the_picture_is_cut_off(seed: int, x: float, y: float) -> None:
    p = star(seed, 12, (x, y), 30)
    whole = polygon_coverage(p + 64, 64 + 128, 48 + 128)
    np.testing.assert_allclose(polygon_coverage(p, 64, 48), whole[64:-64, 64:-64], atol=1e-9)


def test_pixels_agree_with_counting_points() -> None:
    p = star(5, 9, (9.0, 8.0), 8)
    fine = 40
    at = (np.arange(18 * fine) + 0.5) / fine - 0.5
    x, y = np.meshgrid(at, at)
    inside = np.zeros(x.shape, bool)
    for (x0, y0), (x1, y1) in zip(p, np.roll(p, -1, axis=0), strict=True):
        crosses = (y0 > y) != (y1 > y)
        inside ^= crosses & (x < (x1 - x0) * (y - y0) / (y1 - y0) + x0)
    counted = inside.reshape(18, fine, 18, fine).mean(axis=(1, 3))
    # A pixel crossed by a few edges holds some 80 uncertain points of 1600, each off by half at most.
    np.testing.assert_allclose(polygon_coverage(p, 18, 18), counted, atol=0.02)


def test_pixel_centres_are_integers() -> None:
    covered = polygon_coverage(np.array([[0.0, 0], [3, 0], [3, 2], [0, 2]]), 5, 4)
    np.testing.assert_allclose(covered[0], [0.25, 0.5, 0.5, 0.25, 0])
    np.testing.assert_allclose(covered[:, 1], [0.5, 1, 0.5, 0])
