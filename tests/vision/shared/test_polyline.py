"""Fewer points of a line: nothing that is left out lies far from what is kept."""

from __future__ import annotations

from itertools import pairwise

import numpy as np
from hypothesis import given
from hypothesis import strategies as st
from hypothesis.extra.numpy import arrays

from vision.shared.polyline import Array, simplified


def _away(points: Array, chain: Array) -> Array:
    """How far each point (n, 2) lies from the nearest segment of the chain, one segment at a time."""
    nearest = np.full(len(points), np.inf)
    for a, b in pairwise(chain):
        long = float(np.dot(b - a, b - a))
        t = np.clip((points - a) @ (b - a) / long, 0, 1) if long else np.zeros(len(points))
        nearest = np.minimum(nearest, np.hypot(*(points - (a + t[:, None] * (b - a))).T))
    return nearest


def test_corners_of_a_zigzag_are_all_that_is_kept() -> None:
    x = np.arange(0.0, 8.01, 0.1)
    line = np.stack([x, np.abs(x % 4 - 2)], axis=1)
    np.testing.assert_allclose(simplified(line, 1e-6), [[0, 2], [2, 0], [4, 2], [6, 0], [8, 2]], atol=1e-12)


def test_short_lines_stay_as_they_are() -> None:
    for line in (np.empty((0, 2)), np.zeros((1, 2)), np.array([[0.0, 0.0], [1.0, 1.0]])):
        assert simplified(line, 0.1) is line


def test_a_line_that_comes_back_to_its_begin() -> None:
    line = np.array([[0.0, 0.0], [5.0, 0.0], [0.0, 0.0]])
    np.testing.assert_array_equal(simplified(line, 0.1), line)


@given(arrays(np.float64, st.integers(3, 60), elements=st.floats(-10, 10)), st.floats(0.01, 3))
def test_nothing_left_out_is_far(heights: Array, tolerance: float) -> None:
    """Of a line that runs on along x."""
    line = np.stack([np.arange(heights.size, dtype=np.float64), heights], axis=1)
    kept = simplified(line, tolerance)
    np.testing.assert_array_equal(kept[[0, -1]], line[[0, -1]])
    assert _away(line, kept).max() <= tolerance + 1e-9
