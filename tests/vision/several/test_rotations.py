"""What goes round with a part: amplitudes of harmonics over known turns."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from threads.shared.quantity import Quantity
from vision.result.picture_share import Turn
from vision.several.rotations import amplitude, seen_range, sides


def turns(*angles: float | None) -> list[Turn | None]:
    return [None if a is None else Turn(Quantity(a, 2.0, "deg"), stated=True) for a in angles]


@given(
    st.floats(0.5, 20.0),
    st.floats(0, 360),
    st.lists(st.floats(0, 360), min_size=3, max_size=7, unique=True),
    st.sampled_from([1, 2]),
)
def test_an_amplitude_is_found_whatever_the_turns(size: float, phase: float, angles: list[float], order: int) -> None:
    """And the sense of turning, which is not known without the hand, does not matter."""
    values = size * np.cos(order * np.radians(np.array(angles) - phase)) + (2.4 if order == 2 else 0.0)
    u = np.full(len(angles), 1e-6)
    found = amplitude(turns(*angles), values, u, order=order)
    assume(found is not None)
    assert found is not None
    assert found.value == pytest.approx(size, rel=1e-4)
    mirrored = amplitude(turns(*(-a for a in angles)), values, u, order=order)
    assert mirrored is not None
    assert mirrored.value == pytest.approx(found.value, rel=1e-6)


def test_pictures_from_one_side_or_without_turns_say_nothing() -> None:
    values, u = np.array([1.0, 2.0, 3.0]), np.full(3, 0.1)
    assert amplitude(turns(0, 0, 0), values, u, order=1) is None
    assert amplitude(turns(0, None, None), values, u, order=1) is None
    assert amplitude(turns(0, 90, 180), values, u, order=1) is not None
    # seen from opposite sides an oval looks the same: two sides do not give its axes
    assert amplitude(turns(0, 90, 180), values, u, order=2) is None
    assert amplitude(turns(0, 60, 120), values, u, order=2) is not None


def test_noise_is_no_amplitude() -> None:
    rng = np.random.default_rng(3)
    angles, inside, values = np.arange(0, 360, 60.0), 0, []
    for _ in range(200):
        found = amplitude(turns(*angles), rng.standard_normal(6), np.ones(6), order=2)
        assert found is not None
        values.append(found.value)
        inside += found.value <= found.u95
    # a vector of two with u 0.58 each has a mean length of 0.72
    assert float(np.mean(values)) < 0.5
    assert inside >= 190 - 12


def test_scatter_beyond_the_noise_widens_an_amplitude() -> None:
    angles = np.arange(0, 360, 45.0)
    rng = np.random.default_rng(4)
    noisy = 5 * np.cos(2 * np.radians(angles)) + rng.standard_normal(8)
    tight = amplitude(turns(*angles), noisy, np.full(8, 0.05), order=2)
    assert tight is not None
    assert abs(tight.value - 5) <= tight.u95
    assert 0.2 < tight.standard_uncertainty < 1.0


def test_sides_counts_opposite_sides_once() -> None:
    assert sides(turns(None, None)) == 0
    assert sides(turns(0, 180, 5)) == 1
    assert sides(turns(0, 90, 270, 358)) == 2
    assert sides(turns(0, 60, 120, None)) == 3


def test_a_range_without_noise() -> None:
    found = seen_range(np.array([2.40, 2.41]), np.full(2, 1e-5))
    assert found.value == pytest.approx(0.01, rel=1e-3)
    assert seen_range(np.array([2.40, 2.4001]), np.full(2, 1e-3)).value == 0.0
