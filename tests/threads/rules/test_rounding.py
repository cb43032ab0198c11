"""Rounding in decimals, halves away from zero."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from threads.rules.rounding import round_to


@pytest.mark.parametrize(
    ("value", "places", "rounded"),
    [
        (0.10005, 4, 0.1001),
        (0.222449999, 4, 0.2224),
        (0.1 + 0.00005, 4, 0.1001),  # 0.10004999999999999... in binary
        (1.0005, 3, 1.001),
        (-2.5, 0, -3.0),
        (0.0, 4, 0.0),
    ],
)
def test_halves_go_away_from_zero(value, places, rounded):
    assert round_to(value, places) == rounded


@given(st.integers(-(10**8), 10**8), st.integers(0, 6))
def test_a_value_with_these_decimals_stays(units, places):
    value = units / 10**places
    assert round_to(value, places) == pytest.approx(value, abs=1e-12)


@given(st.floats(-100, 100), st.integers(0, 6))
def test_nothing_moves_by_more_than_half_a_unit(value, places):
    assert abs(round_to(value, places) - value) <= 0.5 * 10**-places + 1e-9
