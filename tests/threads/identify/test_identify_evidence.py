"""Verdicts with guard bands, weights of origin and year, and the words for what tells a group apart."""

from __future__ import annotations

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from flankwise.reasons import message
from tests.each import each
from tests.refused import told
from tests.threads.measured_factory import measured_thread
from threads.identify.evidence import evidence_of, verdict_of
from threads.identify.identification import identify
from threads.identify.provenance import (
    FOREIGN,
    OLD_TOOLS_YEARS,
    REPLACED,
    UnknownOriginError,
    country_code,
    in_use_then,
    known_countries,
    weigh,
    weigh_taken_over,
)
from threads.shared.quantity import Quantity
from threads.standards.designation import parse
from threads.standards.limits import limits_of
from threads.standards.series import series_info, series_names


@each(
    ("value", "low", "high", "verdict"),
    [
        (2.50, 2.40, 2.60, "inside"),
        (2.4021, 2.40, 2.60, "inside"),
        (2.4019, 2.40, 2.60, "cannot tell"),
        (2.3981, 2.40, 2.60, "cannot tell"),
        (2.3979, 2.40, 2.60, "below"),
        (2.6019, 2.40, 2.60, "cannot tell"),
        (2.6021, 2.40, 2.60, "above"),
        (2.50, None, 2.60, "inside"),
        (1.00, None, 2.60, "inside"),
        (2.599, None, 2.60, "cannot tell"),
        (2.70, None, 2.60, "above"),
        (2.30, 2.40, None, "below"),
        (2.50, None, None, "not judged"),
        (2.501, 2.50, 2.502, "cannot tell"),  # a zone narrower than twice U95 never holds for certain
    ],
)
def test_a_limit_must_be_cleared_by_u95(value: float, low: float | None, high: float | None, verdict: str) -> None:
    assert verdict_of(Quantity(value, 0.001, "mm"), low, high) == verdict


@given(
    value=st.floats(1.0, 3.0),
    u=st.floats(0.0, 0.1),
    low=st.floats(1.0, 2.0),
    width=st.floats(0.0, 0.5),
    one_sided=st.floats(0.0, 0.1),
)
def test_a_larger_uncertainty_never_turns_into_a_verdict(
    value: float, u: float, low: float, width: float, one_sided: float
) -> None:
    known = verdict_of(Quantity(value, u, "mm"), low, low + width)
    vaguer = verdict_of(Quantity(value, 1.5 * u, "mm", one_sided), low, low + width)
    assert vaguer in {known, "cannot tell"}


def test_evidence_carries_the_standards_limits() -> None:
    limits = limits_of(parse("4-40 NC-2"))
    evidence = {e.quantity: e for e in evidence_of(measured_thread(2.80, 2.42, 0.635), limits)}
    pitch_diameter = evidence["pitch_diameter"]
    assert pitch_diameter.low == pytest.approx(0.0934 * 25.4)
    assert pitch_diameter.high == pytest.approx(0.0958 * 25.4)
    assert pitch_diameter.verdict == "inside"
    assert evidence["flank_angle_left"].low == pytest.approx(28.5)
    assert evidence["pitch"].high == pytest.approx(0.635 * 1.003)
    assert evidence["virtual_pitch_diameter"].low is None
    coarse = {e.quantity: e for e in evidence_of(measured_thread(2.80, 2.42, 0.7), limits)}
    assert coarse["pitch"].verdict == "above"


def test_a_series_counts_from_its_first_year_and_fades_after_its_last() -> None:
    national = series_info("NC")
    first, last = national.first_year, national.last_year
    assert last is not None
    assert in_use_then(national, (first - 1, first - 1)) == 0.0
    assert in_use_then(national, (first, last)) == 1.0
    assert in_use_then(national, (last + 15, last + 15)) == pytest.approx(math.exp(-15 / OLD_TOOLS_YEARS))
    assert in_use_then(national, (first - 1, first)) == pytest.approx(0.5)
    assert in_use_then(series_info("UNC"), (2020, 2020)) == 1.0


def test_weights_combine_years_and_countries_and_never_rule_out() -> None:
    weights = weigh(series_names(), "US", (1936, 1936))
    assert weights["NC"].weight == pytest.approx(1.0)
    assert weights["UNC"].weight == pytest.approx(REPLACED)
    abroad = weigh(["NC"], "Germany", (1936, 1936))["NC"]
    assert abroad.weight == pytest.approx((1 - REPLACED) * FOREIGN + REPLACED)
    assert "not in common use in DE" in told(abroad.says)
    assert all(p.weight == 1.0 for p in weigh(series_names(), None, None).values())


@pytest.mark.parametrize(
    ("text", "code"),
    [("us", "US"), ("USA", "US"), (" great  Britain ", "GB"), ("England", "GB"), ("de", "DE"), ("Switzerland", "CH")],
)
def test_a_country_may_be_given_by_code_or_name(text: str, code: str) -> None:
    assert country_code(text) == code


def test_an_unknown_country_is_refused_with_the_known_ones() -> None:
    with pytest.raises(UnknownOriginError) as error:
        country_code("Germny")
    assert "nearest: DE" in message(error.value)
    assert all(code in message(error.value) for code in known_countries())
    assert "\n" not in message(error.value)


@given(st.text(max_size=20))
def test_any_text_is_a_country_or_refused(text: str) -> None:
    try:
        assert country_code(text) in known_countries()
    except UnknownOriginError as error:
        assert "\n" not in message(error)


def test_every_country_of_the_tables_can_be_given() -> None:
    for name in series_names():
        for code in series_info(name).countries:
            assert country_code(code.lower()) == code


def test_a_worn_group_says_where_to_look() -> None:
    limits = limits_of(parse("M3x0.5-6g"))
    low = limits.pitch_diameter.low
    assert low is not None
    # Below the least zone of the size, 6e, nothing holds: the thread is worn, whatever its class.
    worn = limits_of(parse("M3x0.5-6e")).pitch_diameter.low
    assert worn is not None
    result = identify(measured_thread(2.86, worn - 0.012, 0.5, minor=2.27), series=["M", "M fine"])
    assert result.candidates[0].limits.size == "M3x0.5"
    assert result.candidates[0].condition == "worn"
    assert not result.groups[0].holds
    assert "never screwed in" in told(result.groups[0].told_apart_by)


def test_a_plated_group_says_where_to_look() -> None:
    high = limits_of(parse("M3x0.5-6h")).pitch_diameter.high
    assert high is not None
    result = identify(measured_thread(2.98, high + 0.008, 0.5, minor=2.40), series=["M", "M fine"])
    assert result.candidates[0].limits.size == "M3x0.5"
    assert result.candidates[0].condition == "plated"
    assert "plating" in told(result.groups[0].told_apart_by)


def test_a_size_that_was_taken_over_goes_by_the_later_name() -> None:
    # 4-40 of the machine screws of 1907 became 4-40 NC in 1924.
    old, new = series_info("ASME special"), series_info("NC")
    assert in_use_then(old, (1930, 1930)) == 1.0
    assert in_use_then(old, (1930, 1930), taken_over=new.first_year) == 0.0
    assert in_use_then(old, (1914, 1933), taken_over=new.first_year) == pytest.approx(0.5)
    after = weigh_taken_over("ASME special", "NC", "US", (1936, 1936))
    assert after.weight == pytest.approx(REPLACED)
    assert told(after.says) == "taken over by NC in 1924; in common use in US"
    assert after.last_year == new.first_year
    before = weigh_taken_over("ASME special", "NC", "US", (1915, 1915))
    assert before.weight == pytest.approx(1.0)
    assert weigh_taken_over("ASME special", "NC", None, None).weight == 1.0


def test_the_screw_of_1936_is_american_national_and_that_of_1915_is_not_yet() -> None:
    thread = measured_thread(2.80, 2.428, 0.635)
    made_1936, made_1915 = (identify(thread, origin="US", made=(year, year)) for year in (1936, 1915))
    assert made_1936.status == made_1915.status == "identified"
    assert made_1936.candidates[0].limits.series == "NC"
    assert made_1915.candidates[0].limits.series == "ASME special"
    unknown = identify(thread)
    assert unknown.status == "identified"  # as a thread; whose it is stays open
    assert {"NC", "ASME special", "UNC"} <= {c.limits.series for c in unknown.groups[0].members}
