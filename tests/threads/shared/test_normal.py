"""The normal distribution against scipy's own functions and against printed values."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy import special

from threads.shared.normal import chi_square_tail, ndtr, ndtri, over_density, quick_ndtr


@given(st.floats(-37.0, 37.0))
def test_it_is_scipys(z: float) -> None:
    assert ndtr(z) == pytest.approx(special.ndtr(z), abs=1e-15, rel=1e-8)
    assert ndtr(z) + ndtr(-z) == pytest.approx(1.0, abs=1e-15)


@given(st.floats(0.0, 1e8))
def test_the_tail_over_the_density_is_scipys(z: float) -> None:
    assert float(over_density(np.array(z))) == pytest.approx(float(special.erfcx(z / np.sqrt(2))) / 2, rel=1e-8)


@given(st.floats(0.0, 700.0), st.integers(1, 600))
def test_the_tail_of_squares_is_scipys(x: float, n: int) -> None:
    assert chi_square_tail(x, n) == pytest.approx(float(special.chdtrc(n, x)), rel=1e-9, abs=1e-13)


@given(st.floats(0.001, 0.999))
def test_it_is_inverted(p: float) -> None:
    assert ndtri(p) == pytest.approx(special.ndtri(p), abs=1e-12)


@pytest.mark.parametrize(("z", "printed"), [(0.0, 0.5), (1.0, 0.84134), (1.96, 0.975), (-1.0, 0.15866), (3.0, 0.99865)])
def test_printed_values(z: float, printed: float) -> None:
    """Tables of the normal distribution, five decimals, as in any handbook of statistics (from memory)."""
    assert float(ndtr(z)) == pytest.approx(printed, abs=5e-6)


def test_the_table_is_as_near_as_it_says() -> None:
    z = np.linspace(-9.0, 9.0, 20_001).reshape(3, -1)
    assert np.abs(quick_ndtr(z) - special.ndtr(z)).max() < 5e-7
    assert quick_ndtr(np.array([-np.inf, np.inf, np.nan])) == pytest.approx([0.0, 1.0, np.nan], abs=1e-8, nan_ok=True)


def test_shapes_and_ends() -> None:
    z = np.array([[-np.inf, -40.0], [0.0, np.inf]])
    assert ndtr(z).tolist() == [[0.0, 0.0], [0.5, 1.0]]
    assert ndtr(np.zeros((0, 3))).shape == (0, 3)
