"""Lens distortion and its inverse."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from hypothesis.extra.numpy import arrays

from calib.lens import NO_LENS, check_lens, distort, radial_lens, undistort

WIDTH, HEIGHT = 1600, 1200
RIGHT, UP = np.array([[1.0, 0.0]]), np.array([[0.0, -1.0]])


@given(
    k1=st.floats(-0.12, 0.3),
    points=arrays(float, (7, 2), elements=st.floats(0, 1)),
)
def test_undistort_is_the_inverse_of_distort(k1: float, points: np.ndarray) -> None:
    lens = radial_lens(k1, WIDTH, HEIGHT)
    check_lens(lens, WIDTH, HEIGHT)
    seen = points * (WIDTH - 1, HEIGHT - 1)
    straight = undistort(seen, lens)
    assert np.all(np.isfinite(straight))
    assert np.allclose(distort(straight, lens), seen, atol=1e-9 * lens["radius_px"])


def test_closed_form_on_the_axis_of_the_picture() -> None:
    """At ru = R0 / 2 and k1 = 0.04 a point moves outwards by 1 %."""
    lens = radial_lens(0.04, WIDTH, HEIGHT)
    centre = np.array([(WIDTH - 1) / 2, (HEIGHT - 1) / 2])
    assert lens["radius_px"] == 1000.0
    assert np.allclose(distort(centre + RIGHT * 500, lens), centre + RIGHT * 505)
    assert np.allclose(undistort(centre + UP * 505, lens), centre + UP * 500)
    assert np.allclose(undistort(centre[None], lens), centre[None])


def test_no_lens_changes_nothing() -> None:
    points = np.array([[3.0, 4.0], [1599.0, 0.0]])
    assert np.array_equal(undistort(points, NO_LENS), points)
    assert np.array_equal(distort(points, NO_LENS), points)
    assert undistort(np.empty((0, 2)), radial_lens(0.1, WIDTH, HEIGHT)).shape == (0, 2)


def test_beyond_the_fold_there_is_nothing() -> None:
    lens = radial_lens(-0.12, WIDTH, HEIGHT)
    assert np.all(np.isnan(undistort(np.array([[3000.0, 600.0]]), lens)))


@pytest.mark.parametrize(
    "lens",
    [
        {},
        {"model": "magic"},
        {"model": "radial", "k1": -0.2, "centre_px": [799.5, 599.5], "radius_px": 1000.0},  # corners have no original
        {"model": "radial", "k1": float("nan"), "centre_px": [799.5, 599.5], "radius_px": 1000.0},
        {"model": "radial", "k1": 0.1, "centre_px": [799.5, 599.5], "radius_px": 0.0},
        {"model": "radial", "k1": 5.0, "centre_px": [799.5, 599.5], "radius_px": 1000.0},
    ],
)
def test_models_that_cannot_be(lens: dict[str, object]) -> None:
    with pytest.raises(ValueError, match=r"lens"):
        check_lens(lens, WIDTH, HEIGHT)
