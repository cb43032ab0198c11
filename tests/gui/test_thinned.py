"""Lines are drawn from fewer points and look the same."""

from __future__ import annotations

import numpy as np
from hypothesis import given
from hypothesis import strategies as st

from gui.thinned import thinned


def test_a_straight_line_is_left_with_its_ends() -> None:
    x = np.linspace(0, 10, 500)
    assert np.allclose(thinned(np.column_stack([x, 2 * x + 1000]), 0.01), [(0, 1000), (10, 1020)], atol=1e-4)


@given(st.floats(0.3, 3.0), st.floats(0.001, 0.05))
def test_no_point_is_farther_from_the_line_than_allowed(waves: float, unseen: float) -> None:
    x = np.linspace(0, 10, 800)
    line = np.column_stack([x, np.abs(np.sin(waves * x))])
    kept = thinned(line, unseen)
    assert len(kept) < len(line)
    off = np.abs(line[:, 1] - np.interp(x, kept[:, 0], kept[:, 1]))
    assert off.max() < unseen * np.hypot(1, waves) * 1.01 + 1e-5  # straight down is farther than square to the line
