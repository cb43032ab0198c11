"""Lens distortion and its inverse."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from hypothesis.extra.numpy import arrays

from calib.lens import NO_LENS, check_lens, corner_shift_px, distort, leaning_lens, radial_lens, undistort

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


@given(
    k1=st.floats(-0.05, 0.1),
    k2=st.floats(-0.02, 0.02),
    lean=st.tuples(st.floats(-0.05, 0.05), st.floats(-0.05, 0.05)),
    points=arrays(float, (7, 2), elements=st.floats(0, 1)),
)
def test_so_it_is_for_a_leaning_plane(k1: float, k2: float, lean: tuple[float, float], points: np.ndarray) -> None:
    lens = leaning_lens(k1, k2, lean, WIDTH, HEIGHT)
    check_lens(lens, WIDTH, HEIGHT)
    seen = points * (WIDTH - 1, HEIGHT - 1)
    assert np.allclose(distort(undistort(seen, lens), lens), seen, atol=1e-8 * lens["radius_px"])


def test_a_keystone_is_the_picture_of_a_leaning_plane() -> None:
    """A plane turned by t before a pinhole at the distance Z: magnification 1 / (1 + y sin t / Z), derived here."""
    lens = leaning_lens(0.0, 0.0, (0.0, 0.02), WIDTH, HEIGHT)
    centre = np.array([(WIDTH - 1) / 2, (HEIGHT - 1) / 2])
    plane = np.array([[300.0, -400.0], [300.0, 400.0]])
    assert np.allclose(distort(centre + plane, lens) - centre, plane / np.array([[0.992], [1.008]]))
    assert corner_shift_px(NO_LENS, WIDTH, HEIGHT) == 0.0
    assert corner_shift_px(radial_lens(0.01, WIDTH, HEIGHT), WIDTH, HEIGHT) == pytest.approx(9.7, abs=0.1)


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
        leaning_lens(0.0, 0.0, (0.6, 0.0), WIDTH, HEIGHT),
        leaning_lens(0.0, -0.3, (0.0, 0.0), WIDTH, HEIGHT),  # corners have no original
        {"model": "radial", "k1": 5.0, "centre_px": [799.5, 599.5], "radius_px": 1000.0},
    ],
)
def test_models_that_cannot_be(lens: dict[str, object]) -> None:
    with pytest.raises(ValueError, match=r"lens"):
        check_lens(lens, WIDTH, HEIGHT)
