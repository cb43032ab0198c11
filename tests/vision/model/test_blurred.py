"""The half-level contour of a blurred shadow: against integration on fine nodes and against blurred pictures."""

from __future__ import annotations

import math

import numpy as np
import numpy.typing as npt
import pytest
from scipy.ndimage import gaussian_filter
from scipy.special import ndtr

from tests.each import each
from vision.model.blurred import contour
from vision.model.shadow import INDEX, NAMES, ShadowParameters, full_radii, outline

Array = npt.NDArray[np.float64]

CENTRE = (0.3, -0.2)


def thread(**changes: float) -> Array:
    values = {
        "offset": 0.1, "rotation": 0.0, "phase": 0.03, "pitch": 0.635, "tilt": 0.0, "nearness": 0.0, "taper": 0.0,
        "crest": 1.4224, "pitch_radius": 1.2167, "root": 1.01, "flank_right": math.radians(30.4),
        "flank_left": math.radians(29.3), "crest_corner": 0.004, "root_corner": 0.0, "blur": 0.005,
    }  # fmt: skip
    return ShadowParameters(**(values | changes)).to_array()


def rounded(**changes: float) -> Array:
    """A thread with a nearly full root radius."""
    x = thread(root=1.03, **changes)
    x[INDEX["root_corner"]] = 0.95 * full_radii(x)[1]
    return x


CASES = {
    "flat": thread(),
    "tilted": thread(tilt=0.03, root_corner=0.02),
    "near camera": thread(tilt=-0.02, nearness=0.0125, root_corner=0.03),
    "rounded root": rounded(),
    "very blurred": thread(blur=0.015, root_corner=0.02),
    "sharp": thread(blur=0.0025, crest_corner=0.0),
}
each_case = pytest.mark.parametrize("x", CASES.values(), ids=CASES.keys())


def places(count: int) -> tuple[Array, Array]:
    rng = np.random.default_rng(count)
    return rng.uniform(-2, 2, count), np.where(np.arange(count) % 2 > 0, 1.0, -1.0)


def integrated(x: Array, u: Array, side: Array, starts: int = 1) -> Array:
    """The height at which half of the light is blocked, by 801 nodes over +-4.5 sigma and halving of the interval."""
    sigma = x[INDEX["blur"]]
    t = np.linspace(-4.5, 4.5, 801)
    g = np.exp(-0.5 * t**2)
    g /= g.sum()
    at = (u[:, None] + sigma * t).ravel()
    sharp = outline(x, at, np.repeat(side, t.size), CENTRE, starts=starts, gradient=False)[0].reshape(u.size, t.size)
    low, high = sharp.min(axis=1), sharp.max(axis=1)
    for _ in range(32):
        middle = (low + high) / 2
        dark = ndtr((sharp - middle[:, None]) / sigma) @ g
        low, high = np.where(dark > 0.5, middle, low), np.where(dark > 0.5, high, middle)
    return (low + high) / 2


@each_case
def test_contour_against_integration(x: Array) -> None:
    """Within 0.015 sigma everywhere."""
    u, side = places(100)
    seen, _, _ = contour(x, u, side, CENTRE, gradient=False)
    assert np.abs(seen - integrated(x, u, side)).max() < 0.015 * x[INDEX["blur"]]


@pytest.mark.parametrize("x", [thread(blur=0.032), rounded(blur=0.032)], ids=["flat", "round"])
def test_a_blur_of_a_twentieth_of_the_pitch_against_integration(x: Array) -> None:
    """Within 0.002 sigma RMS: what is beyond 3 sigma counts a third of that."""
    u, side = np.linspace(-0.6, 0.6, 300), np.ones(300)
    seen, _, _ = contour(x, u, side, CENTRE, gradient=False)
    assert np.sqrt(np.mean((seen - integrated(x, u, side)) ** 2)) < 0.002 * x[INDEX["blur"]]


@pytest.mark.parametrize("starts", [1, 2])
def test_one_ridge_for_all_of_a_far_camera(starts: int) -> None:
    """Of a taper and a distance of metres: as near to the integral over all ridges as one by one, and that bench's
    derivatives. Without a change of size or of place from ridge to ridge the integral would be off by more.
    """
    x = thread(nearness=3e-5, taper=1e-4, tilt=0.02, root_corner=0.02)
    u, side = places(200)
    seen, _, _ = contour(x, u, side, CENTRE, starts=starts, gradient=False)
    wrong = seen - integrated(x, u, side, starts)
    assert np.abs(wrong).max() < 0.015 * x[INDEX["blur"]]
    alike = thread(nearness=0.0, taper=0.0, tilt=0.02, root_corner=0.02)
    without, _, _ = contour(alike, u, side, CENTRE, starts=starts, gradient=False)
    assert np.abs(without - integrated(x, u, side, starts)).max() > 0.03 * x[INDEX["blur"]]


def test_coarse_step_on_the_way_to_the_solution() -> None:
    """Steps of one sigma are off by less than a twentieth of it."""
    x = CASES["flat"]
    u, side = places(100)
    seen, _, _ = contour(x, u, side, CENTRE, gradient=False, step=1.0)
    assert np.abs(seen - integrated(x, u, side)).max() < 0.05 * x[INDEX["blur"]]


@each_case
@pytest.mark.parametrize("name", [n for n in NAMES if n not in ("offset", "rotation", "blur")])
def test_derivatives_against_differences(x: Array, name: str) -> None:
    """Nine in ten within 2 % of the largest; beside kinks of the outline up to 15 % for one in a hundred."""
    u, side = places(400)
    _, _, jacobian = contour(x, u, side, CENTRE)
    assert jacobian is not None
    h = 0.02 * x[INDEX["blur"]] if name.endswith("corner") else 1e-6
    up, down = x.copy(), x.copy()
    up[INDEX[name]] += h
    down[INDEX[name]] = max(x[INDEX[name]] - h, 0.0) if name.endswith("corner") else x[INDEX[name]] - h
    difference = (
        contour(up, u, side, CENTRE, gradient=False)[0] - contour(down, u, side, CENTRE, gradient=False)[0]
    ) / (up[INDEX[name]] - down[INDEX[name]])
    wrong = np.abs(difference - jacobian[INDEX[name]])
    largest = max(float(np.abs(difference).max()), 0.1)
    assert np.quantile(wrong, 0.9) < 0.02 * largest
    assert np.quantile(wrong, 0.99) < 0.15 * largest


@pytest.mark.parametrize("name", ["flat", "rounded root", "very blurred"])
def test_derivative_by_blur_against_integration(name: str) -> None:
    """Against the integral, since the contour's own grid moves with the blur: nine in ten within 5 % of the largest."""
    x = CASES[name]
    u, side = places(80)
    _, _, jacobian = contour(x, u, side, CENTRE)
    assert jacobian is not None
    h = 0.03 * x[INDEX["blur"]]
    up, down = x.copy(), x.copy()
    up[INDEX["blur"]] += h
    down[INDEX["blur"]] -= h
    difference = (integrated(up, u, side) - integrated(down, u, side)) / (2 * h)
    wrong = np.abs(difference - jacobian[INDEX["blur"]])
    assert np.abs(difference).max() > 0.2
    assert np.quantile(wrong, 0.9) < 0.05 * np.abs(difference).max()
    assert wrong.max() < 0.15


@each_case
def test_slope_against_differences(x: Array) -> None:
    u, side = places(400)
    _, slope, _ = contour(x, u, side, CENTRE, gradient=False)
    h = 0.02 * x[INDEX["blur"]]
    after, before = (contour(x, u + d, side, CENTRE, gradient=False)[0] for d in (h, -h))
    assert np.quantile(np.abs((after - before) / (2 * h) - slope), 0.97) < 0.02


def test_straight_flanks_stay_where_they_are() -> None:
    x = thread(blur=0.003)
    u, side = places(400)
    sharp, _, _ = outline(x, u, side, CENTRE, gradient=False)
    on_flank = (sharp > 1.15) & (sharp < 1.28)
    assert on_flank.sum() > 60
    seen, _, _ = contour(x, u[on_flank], side[on_flank], CENTRE, gradient=False)
    assert np.abs(seen - sharp[on_flank]).max() < 1e-5


def test_blur_cuts_crest_corners_and_fills_root_corners() -> None:
    x = thread(blur=0.01)
    u, side = places(2000)
    seen = contour(x, u, side, CENTRE, gradient=False)[0] - outline(x, u, side, CENTRE, gradient=False)[0]
    assert seen.min() < -2e-3
    assert seen.max() > 2e-3


def test_each_edge_by_itself_gives_the_same_as_both_together() -> None:
    x = CASES["near camera"]
    u, side = places(200)
    together, _, _ = contour(x, u, side, CENTRE, gradient=False)
    for sign in (1.0, -1.0):
        on = side == sign
        alone, _, _ = contour(x, u[on], side[on], CENTRE, gradient=False)
        assert np.abs(alone - together[on]).max() < 0.015 * x[INDEX["blur"]]


def blurred_picture(x: Array, px_mm: float, first: float, columns: int, low: float, rows: int) -> tuple[Array, Array]:
    """The upper edge drawn eight times finer than the pixels and blurred: fine columns and half-level heights.

    The cover of each fine cell is exact along the columns, averaged over a cell's width by its middle.
    """
    fine = 8
    cell = px_mm / fine
    u = first + (np.arange(columns * fine, dtype=np.float64) + 0.5) * cell
    height, _, _ = outline(x, u, np.ones(u.size), CENTRE, gradient=False)
    bottom = low + np.arange(rows * fine) * cell
    cover = np.clip((height[None, :] - bottom[:, None]) / cell, 0.0, 1.0)
    picture = gaussian_filter(cover, x[INDEX["blur"]] / cell, mode="nearest", truncate=5.0)
    above = np.argmax(picture < 0.5, axis=0)
    columns_at = np.arange(u.size)
    p, q = picture[above - 1, columns_at], picture[above, columns_at]
    middle = low + (above - 1 + 0.5 + (p - 0.5) / (p - q)) * cell
    return u, middle


@each("blur_px", [0.7, 1.0, 2.0])
@each("name", ["flat", "tilted", "near camera", "rounded root"])
def test_contour_against_a_blurred_picture(name: str, blur_px: float) -> None:
    """Within 0.03 px, across the edge."""
    px = 0.005
    x = CASES[name].copy()
    x[INDEX["blur"]] = blur_px * px
    first, last = -0.35, 0.45
    u, seen = blurred_picture(x, px, first, round((last - first) / px), 0.96, 106)
    inner = (u > first + 5 * blur_px * px) & (u < last - 5 * blur_px * px)
    model, slope, _ = contour(x, u[inner], np.ones(int(inner.sum())), CENTRE, gradient=False)
    across = (model - seen[inner]) / np.sqrt(1 + slope**2)
    assert np.abs(across).max() < 0.03 * px
