"""A straight piece seen on both edges, and what is no piece."""

from __future__ import annotations

import numpy as np
import pytest

from vision.locate.frame import Frame
from vision.part.axis_view import AxisView
from vision.part.piece_fit import fit_lines


def view_of(upper: list[tuple[float, float]], lower: list[tuple[float, float]]) -> AxisView:
    """Two edges of points that all face away from the axis."""
    points = np.array(upper + lower)
    normal = np.stack([np.zeros(len(points)), np.sign(points[:, 1])], axis=1)
    return AxisView(
        points, normal, np.zeros(len(points)), 0.0, 1.0, 0.0, 0.004, 1.0, (True, True), Frame((0.0, 0.0), 0.0)
    )


def test_a_cylinder_has_its_radius() -> None:
    rng = np.random.default_rng(2)
    edges = [[(float(u), side * 50 + float(rng.normal(0, 0.05))) for u in range(100)] for side in (1, -1)]
    found = fit_lines(view_of(*edges), 0, 99, 0.0)
    assert found is not None
    assert found.radius == pytest.approx(50, abs=0.03)


def test_an_edge_of_which_only_strays_are_left_is_no_piece() -> None:
    """What is left of the lower edge is rejected as strays: nothing says where it is."""
    upper = [(float(u), 50 + 0.01 * (-1) ** u) for u in range(200)]
    lower = [(100.0 + 0.1 * i, -w) for i, w in enumerate((5, 95, 20, 80, 40, 60))]
    assert fit_lines(view_of(upper, lower), 0, 199, 0.0) is None


def test_points_at_one_place_say_nothing_of_a_slope() -> None:
    edges = [[(10.0, side * 50.0 + 0.01 * i) for i in range(12)] for side in (1, -1)]
    assert fit_lines(view_of(*edges), 0, 20, 0.0) is None
