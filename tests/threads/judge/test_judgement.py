"""Guard bands: what is kept, broken and open, and what luck may do."""

from __future__ import annotations

from statistics import NormalDist

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from flankwise.reasons import sentence
from threads.judge.judgement import (
    ACCEPTED_FROM,
    CANNOT_TELL,
    CONFORMS,
    DOES_NOT_CONFORM,
    JUDGEMENTS,
    NOT_LIMITED,
    REJECTED_FROM,
    Reach,
    judged,
    overall,
)
from threads.shared.quantity import Quantity

LOW, HIGH, U = 2.0, 2.1, 0.005


def verdict(value: float, *, low: float | None = LOW, high: float | None = HIGH, one_sided: float = 0.0) -> str:
    return judged("pitch_diameter", Quantity(value, U, "mm", one_sided), low, high).verdict


@pytest.mark.parametrize(
    ("value", "expected"),
    [
        (2.05, CONFORMS),
        (LOW + 2.01 * U, CONFORMS),
        (LOW + 1.99 * U, CANNOT_TELL),
        (LOW - 2.59 * U, CANNOT_TELL),
        (LOW - 2.61 * U, DOES_NOT_CONFORM),
        (HIGH - 2.01 * U, CONFORMS),
        (HIGH - 1.99 * U, CANNOT_TELL),
        (HIGH + 2.59 * U, CANNOT_TELL),
        (HIGH + 2.61 * U, DOES_NOT_CONFORM),
    ],
)
def test_a_limit_is_kept_or_broken_only_beyond_its_guard_band(value: float, expected: str) -> None:
    assert verdict(value) == expected


def test_what_may_be_larger_only_counts_on_the_side_where_it_may_be() -> None:
    """Light takes something off the flanks: the truth may be 8 um more, and no less."""
    assert verdict(LOW + 2.01 * U, one_sided=0.008) == CONFORMS
    assert verdict(HIGH - 2.01 * U - 0.0079, one_sided=0.008) == CANNOT_TELL
    assert verdict(HIGH - 2.01 * U - 0.0081, one_sided=0.008) == CONFORMS
    assert verdict(HIGH + 2.61 * U, one_sided=0.008) == DOES_NOT_CONFORM
    assert verdict(LOW - 2.61 * U, one_sided=0.008) == CANNOT_TELL
    assert verdict(LOW - 2.61 * U - 0.008, one_sided=0.008) == DOES_NOT_CONFORM
    # and the other way round
    assert verdict(HIGH - 2.01 * U, one_sided=-0.008) == CONFORMS
    assert verdict(LOW + 2.01 * U, one_sided=-0.008) == CANNOT_TELL


@given(st.floats(1.9, 2.2), st.floats(1e-5, 0.02), st.floats(-0.01, 0.01))
def test_a_verdict_of_one_limit_never_contradicts_that_of_both(value: float, u: float, one_sided: float) -> None:
    measured = Quantity(value, u, "mm", one_sided)
    each = {judged("x", measured, *ends).verdict for ends in ((LOW, None), (None, HIGH))}
    both = judged("x", measured, LOW, HIGH).verdict
    if both == CONFORMS:
        assert each == {CONFORMS}
    if DOES_NOT_CONFORM in each:
        assert both == DOES_NOT_CONFORM


def test_margin_and_guard_are_those_of_the_limit_that_decides() -> None:
    one = judged("pitch_diameter", Quantity(2.09, U, "mm", 0.008), LOW, HIGH)
    assert one.margin == pytest.approx(0.01)
    assert one.guard == pytest.approx(2 * U + 0.008)
    assert one.verdict == CANNOT_TELL
    assert "10 µm inside the limit, 18 µm inside needed" in sentence(one.why)
    assert "0.00039 in" in sentence(one.why, inches=True)
    outside = judged("pitch_diameter", Quantity(2.13, U, "mm"), LOW, HIGH)
    assert outside.margin == pytest.approx(-0.03)
    assert "outside" in sentence(outside.why)
    free = judged("minor_diameter", Quantity(2.13, U, "mm"), None, None)
    assert (free.verdict, free.margin, free.to_dict()["min"]) == (NOT_LIMITED, None, None)


def test_uncertain_limits_are_judged_by_the_difference() -> None:
    value = Quantity(HIGH - 0.012, U, "mm")
    assert judged("x", value, None, HIGH).verdict == CONFORMS
    assert judged("x", value, None, HIGH, reach=Reach(0.007)).verdict == CANNOT_TELL


def test_one_limit_broken_condemns_and_one_open_leaves_open() -> None:
    kept, broken, open_, free = (
        judged("x", Quantity(value, U, "mm"), low, high)
        for value, low, high in ((2.05, LOW, HIGH), (2.2, LOW, HIGH), (2.1, LOW, HIGH), (2.2, None, None))
    )
    assert overall((kept, free)) == CONFORMS
    assert overall((kept, open_)) == CANNOT_TELL
    assert overall((kept, open_, broken)) == DOES_NOT_CONFORM


def test_the_guards_are_what_the_promise_needs() -> None:
    normal = NormalDist()
    assert 1 - normal.cdf(ACCEPTED_FROM) < 0.025
    assert JUDGEMENTS * (1 - normal.cdf(REJECTED_FROM)) < 0.025


def test_luck_at_the_limit() -> None:
    """20,000 values of a dimension exactly at its limit: 2.3 % pass, 0.5 % are refused (4 standard deviations)."""
    values = HIGH + U * np.random.default_rng(3).standard_normal(20_000)
    verdicts = [verdict(float(value)) for value in values]
    assert verdicts.count(CONFORMS) / 20_000 == pytest.approx(0.0228, abs=0.0043)
    assert verdicts.count(DOES_NOT_CONFORM) / 20_000 == pytest.approx(0.0047, abs=0.002)
