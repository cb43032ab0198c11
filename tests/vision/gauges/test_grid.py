"""Chessboards and grids of dots read from drawn pictures."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest

from flankwise.reasons import message
from sample_images.flat_gauges import FlatGauge
from tests.vision.flat_pictures import CAMERA, CHESSBOARD, DOTS, RULINGS, seen
from threads.shared.refusal import RefusalError
from vision.gauges.grid import GridReading, read_grid


def pitch_and_scatter(reading: GridReading) -> tuple[float, float]:
    """Of an affine fit to the points, px; at most a tenth of them, touched by dust, is left out."""
    design = np.column_stack([reading.index, np.ones(len(reading.index))])
    on = np.ones(len(reading.index), dtype=bool)
    for _ in range(4):
        found, *_ = np.linalg.lstsq(design[on], reading.points[on], rcond=None)
        left = reading.points - design @ found
        far = np.hypot(left[:, 0], left[:, 1])
        on = far < 6 * np.median(far)
    assert on.mean() > 0.9
    return float(np.sqrt(abs(np.linalg.det(found[:2])))), float(np.sqrt(np.mean(left[on] ** 2)))


@pytest.mark.parametrize("gauge", [CHESSBOARD, DOTS])
@pytest.mark.parametrize("turn", [2.0, 45.0, -76.0])
@pytest.mark.parametrize("offset", [0.0, 0.5])
def test_at_any_turn_and_edge_offset(gauge: FlatGauge, turn: float, offset: float) -> None:
    """Pitch within 40 ppm of 50 px, points within 0.03 px, every point of it found."""
    reading = read_grid(seen(gauge, turn_deg=turn, edge_offset_px=offset))
    pitch, scatter = pitch_and_scatter(reading)
    assert reading.kind == gauge.kind
    assert pitch == pytest.approx(50.0, rel=4e-5)
    assert scatter < 0.03
    if abs(turn) < 10:
        whole = (gauge.columns, gauge.rows) if gauge.kind == "dots" else (gauge.columns - 1, gauge.rows - 1)
        assert len(reading.points) == whole[0] * whole[1]
    assert len(np.unique(reading.index, axis=0)) == len(reading.index)


def test_neighbours_have_neighbouring_numbers() -> None:
    reading = read_grid(seen(CHESSBOARD, columns=30, rows=30, turn_deg=31.0))  # cut by all borders
    by_index = {tuple(i): p for i, p in zip(reading.index, reading.points, strict=True)}
    steps = [by_index[i + 1, j] - p for (i, j), p in by_index.items() if (i + 1, j) in by_index]
    assert len(steps) > 100
    turn = np.radians(31.0)
    # the lattice is numbered along one of its four directions
    own = steps[0] / np.hypot(*steps[0])
    assert abs(np.cos(4 * (np.arctan2(own[1], own[0]) - turn)) - 1) < 1e-3
    assert np.allclose(steps, steps[0], atol=0.15)


def test_missing_dots_and_dust() -> None:
    gaps = frozenset({5, 18, 19, 44, 45, 46, 60, 90})
    reading = read_grid(seen(DOTS, missing=gaps, specks=30))
    assert pitch_and_scatter(reading)[0] == pytest.approx(50.0, rel=5e-5)
    assert len(reading.points) >= 13 * 9 - len(gaps) - 6  # a speck may lie on a dot


def test_bright_dots_on_a_dark_ground() -> None:
    picture = seen(DOTS)
    reading = read_grid(replace(picture, light=1 - picture.light))
    assert reading.kind == "dots"
    assert pitch_and_scatter(reading)[0] == pytest.approx(50.0, rel=4e-5)


@pytest.mark.parametrize(
    ("gauge", "code"),
    [
        (RULINGS, "no_grid"),
        (replace(CHESSBOARD, columns=3, rows=3), "no_grid"),
        (replace(DOTS, columns=13, rows=2), "no_grid"),
        (replace(DOTS, missing=frozenset(range(117))), "no_grid"),
        (replace(DOTS, missing=frozenset(range(117)), specks=300), "no_grid"),
        (replace(DOTS, pitch_mm=0.05, columns=20, rows=15, width_mm=0.025), "grid_too_fine"),
        (replace(CHESSBOARD, camera=replace(CAMERA, blur_sigma_px=12.0)), "no_grid"),
    ],
)
def test_refused(gauge: FlatGauge, code: str) -> None:
    with pytest.raises(RefusalError) as caught:
        read_grid(seen(gauge))
    assert caught.value.reasons[0].code == code
    assert "\n" not in message(caught.value)
