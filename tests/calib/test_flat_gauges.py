"""Lengths and lens from numbered points, given exactly and read from drawn pictures."""

from __future__ import annotations

import math
from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from calib.flat_gauges import fit_grid, fit_rulings
from calib.lens import NO_LENS, distort, leaning_lens, radial_lens
from tests.vision.flat_pictures import CHESSBOARD, DOTS, NEAR, RULINGS, seen
from vision.gauges.grid import GridReading, read_grid
from vision.gauges.rulings import RulingsReading, read_rulings

SIZE = (1600, 1200)
MIDDLE = np.array([799.5, 599.5])


def turned(plane: np.ndarray, turn: float, shift: tuple[float, float]) -> np.ndarray:
    c, s = math.cos(turn), math.sin(turn)
    return MIDDLE + plane @ np.array([[c, s], [-s, c]]) + shift


def rulings_seen(step: float, turn: float, k1: float, noise: float = 0.0, seed: int = 0) -> RulingsReading:
    number, along = np.meshgrid(np.arange(-30, 31), np.arange(-5, 6) * 8.0)
    plane = np.column_stack([number.ravel() * step, along.ravel()])
    points = distort(turned(plane, turn, (9.0, -14.0)), radial_lens(k1, *SIZE))
    points = points + np.random.default_rng(seed).normal(0, noise, points.shape)
    return RulingsReading(points, number.ravel().astype(np.int64), step, math.degrees(turn), 61, "lines", *SIZE)


def grid_seen(step: float, turn: float, k1: float, lean: tuple[float, float] = (0.0, 0.0)) -> GridReading:
    i, j = np.meshgrid(np.arange(-12, 13), np.arange(-9, 10))
    plane = np.column_stack([i.ravel(), j.ravel()]) * step
    points = distort(turned(plane, turn, (3.0, 5.0)), leaning_lens(k1, 0.0, lean, *SIZE))
    index = np.column_stack([i.ravel(), j.ravel()]).astype(np.int64)
    return GridReading("chessboard", points, index, step, math.degrees(turn), *SIZE)


@given(step=st.floats(4.0, 20.0), turn=st.floats(-3.1, 3.1), k1=st.floats(-0.03, 0.03))
@settings(max_examples=30)
def test_exact_rulings(step: float, turn: float, k1: float) -> None:
    fit = fit_rulings(rulings_seen(step, turn, k1))
    assert fit.step_px == pytest.approx(step, rel=1e-6)
    assert fit.k1 == pytest.approx(k1, abs=1e-5)
    assert fit.steps == 60


@pytest.mark.slow
@given(
    step=st.floats(20.0, 60.0),
    turn=st.floats(-3.1, 3.1),
    k1=st.floats(-0.03, 0.03),
    lean=st.tuples(st.floats(-0.01, 0.01), st.floats(-0.01, 0.01)),
)
@settings(max_examples=8)
def test_exact_grids(step: float, turn: float, k1: float, lean: tuple[float, float]) -> None:
    reading = grid_seen(step, turn, k1, lean)
    fit = fit_grid(reading)
    assert fit.step_px == pytest.approx(step, rel=5e-4)  # a keystone of under 0.3 px in the corners is left in
    assert fit_grid(reading, leaning_lens(k1, 0.0, lean, *SIZE)).step_px == pytest.approx(step, rel=1e-7)
    if abs(k1) > 1e-3:
        assert fit.lens["k1"] == pytest.approx(k1, abs=3e-4)


def test_uncertainty_of_rulings_holds_in_repeats() -> None:
    """40 repeats with 0.05 px of noise: the spread of the result is its stated u within a third (11 % by count)."""
    runs = [fit_rulings(rulings_seen(10.0, 0.1, 0.0, 0.05, seed)) for seed in range(40)]
    steps = np.array([run.step_px for run in runs])
    stated = float(np.mean([run.relative_u for run in runs]))
    floor = math.sqrt(2) * 0.005 / 600
    assert math.sqrt(stated**2 - floor**2) == pytest.approx(float(steps.std(ddof=1)) / 10, rel=0.33)
    k1 = np.array([run.k1 for run in runs])
    assert float(np.mean([run.k1_u for run in runs])) == pytest.approx(float(k1.std(ddof=1)), rel=0.33)


@pytest.mark.slow
@pytest.mark.parametrize("k1", [-0.015, 0.01])
def test_distortion_of_drawn_pictures(k1: float) -> None:
    """Rulings right across: step within 60 ppm, k1 within 2 % and 3e-4; grids: 30 ppm, k1 within 1e-4."""
    wide = fit_rulings(read_rulings(seen(RULINGS, columns=56, k1=k1)))
    assert wide.step_px == pytest.approx(12.5, rel=6e-5)
    assert wide.k1 == pytest.approx(k1, abs=3e-4)
    for gauge in (CHESSBOARD, DOTS):
        fit = fit_grid(read_grid(seen(gauge, k1=k1, turn_deg=8.0)))
        assert fit.step_px == pytest.approx(50.0, rel=3e-5)
        assert fit.lens["model"] == "radial"
        assert fit.lens["k1"] == pytest.approx(k1, abs=1e-4)


def test_no_distortion_is_invented() -> None:
    assert fit_grid(read_grid(seen(CHESSBOARD))).lens == NO_LENS
    assert abs(fit_rulings(read_rulings(seen(RULINGS))).k1) < 5e-4


@pytest.mark.parametrize("about", [0.0, 60.0])
def test_a_leaning_grid(about: float) -> None:
    """3 deg before a camera 60 mm away: magnification over the field within 0.03 px, tilt within 0.2 deg.

    The renderer turns the plane in space; the fit knows a keystone and a foreshortening only.
    """
    fit = fit_grid(read_grid(seen(CHESSBOARD, tilt_deg=3.0, tilt_about_deg=about, camera=NEAR)))
    a, b = fit.lens["keystone"]
    radius_mm = 500 * 4.0 / 1000
    assert math.hypot(a, b) == pytest.approx(math.sin(math.radians(3.0)) * radius_mm / 60.0, rel=0.02)
    assert fit.scatter_px < 0.03
    assert fit.tilt_deg == pytest.approx(3.0, abs=0.2)
    # the foreshortening stays in the step, and in its uncertainty
    assert abs(fit.step_px / 50 - 1) < 2 * fit.relative_u


def test_a_dirty_grid_is_fitted_without_the_dirt() -> None:
    fit = fit_grid(read_grid(seen(DOTS, missing=frozenset({5, 18, 19}), specks=30)))
    assert fit.step_px == pytest.approx(50.0, rel=3e-5)
    assert fit.scatter_px < 0.02


def test_outliers_do_not_count() -> None:
    reading = rulings_seen(10.0, 0.1, 0.0, 0.02)
    points = reading.points.copy()
    points[::37] += 3.0
    assert fit_rulings(replace(reading, points=points), NO_LENS).step_px == pytest.approx(10.0, rel=2e-5)
