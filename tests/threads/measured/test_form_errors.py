"""Errors of form: the worst pair of ridges, and absolute values without the noise's share."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from threads.measured.form_errors import FormErrors, cumulative_pitch_error, magnitude, without_noise, worst_pair
from threads.measured.thread import RidgeError
from threads.shared.quantity import Quantity


@pytest.mark.slow
@given(st.lists(st.floats(-0.01, 0.01), min_size=2, max_size=12), st.floats(0.1, 12.0))
def test_worst_pair_looks_no_farther_than_the_length(errors: list[float], length: float) -> None:
    z = np.arange(len(errors), dtype=float)
    pairs = [(i, j) for i in range(len(errors)) for j in range(i) if i - j <= length * (1 + 1e-9)]
    worst = max([abs(errors[i] - errors[j]) for i, j in pairs], default=0.0)
    found = worst_pair(z[::-1], np.array([errors[::-1]]), length)
    assert found[0] == pytest.approx(worst, abs=1e-15)


def ridges(upper: list[float], lower: list[float], u: float) -> list[RidgeError]:
    """Ridges a mm apart on both edges."""
    return [
        RidgeError(i + (0.5 if edge < 0 else 0.0), e, 2.4, u, 0.0, edge)
        for edge, errors in ((1, upper), (-1, lower))
        for i, e in enumerate(errors)
    ]


def test_each_edge_is_looked_at_by_itself() -> None:
    # the lower edge as a whole stands 20 um too far: that is drunkenness and no pitch error along an edge
    found = cumulative_pitch_error(ridges([0.0, 0.003, 0.001], [0.020, 0.020, 0.021], 1e-5))
    assert found is not None
    assert found.value == pytest.approx(0.003, rel=1e-3)
    assert found.u95 < 0.0001


def test_noise_is_no_pitch_error() -> None:
    rng = np.random.default_rng(1)
    values, inside = [], 0
    for _ in range(200):
        noisy = (0.001 * rng.standard_normal((2, 8))).tolist()
        found = cumulative_pitch_error(ridges(noisy[0], noisy[1], 0.001))
        assert found is not None
        values.append(found.value)
        inside += found.value <= found.u95
    # the plain range of eight would read 2.9 um, the larger of two ranges 3.3 um
    assert float(np.mean(values)) < 0.0012
    assert inside >= 190 - 12


def test_too_few_ridges_say_nothing() -> None:
    assert cumulative_pitch_error([]) is None
    assert cumulative_pitch_error(ridges([0.001], [0.002], 1e-4)) is None


@given(st.floats(-0.1, 0.1), st.floats(0, 0.1))
def test_a_magnitude_is_never_above_what_was_found(value: float, u: float) -> None:
    found = magnitude(value, u, "mm")
    assert 0 <= found.value <= abs(value)
    assert found.value == without_noise(abs(value), u)
    assert abs(value) <= found.value + found.u95 + 1e-15


def test_plain_form_says_null_for_what_is_not_known() -> None:
    plain = FormErrors(5.0, axis_bend=Quantity(0.002, 0.0005, "mm")).to_dict()
    assert plain["axis_bend"] == {"value": 0.002, "u95": 0.001, "unit": "mm"}
    assert plain["drunkenness"] is None
    assert plain["length"] == {"value": 5.0, "unit": "mm"}
