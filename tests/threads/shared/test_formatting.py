"""Numbers as a person reads them: JCGM 100:2008, 7.2.6."""

from __future__ import annotations

import doctest

from hypothesis import given
from hypothesis import strategies as st

from tests.each import each
from threads.shared import formatting
from threads.shared.formatting import format_length, format_probability, format_quantity, write_quantity
from threads.shared.quantity import Quantity

MM_PER_INCH = 25.4
values = st.floats(-1e4, 1e4)
uncertainties = st.floats(1e-7, 50)


def decimals(text: str) -> int:
    return len(text.partition(".")[2])


def test_examples_in_the_docstrings() -> None:
    failed, tried = doctest.testmod(formatting)
    assert tried > 0
    assert failed == 0


@given(values, uncertainties)
def test_value_and_u95_end_at_the_same_place(value: float, u: float) -> None:
    written = write_quantity(Quantity(value, u, "mm"))
    assert written is not None
    assert decimals(written.value) == decimals(written.u95)
    assert not written.value.startswith("-") or float(written.value) != 0


@given(values, uncertainties)
def test_u95_has_two_significant_digits_and_the_value_is_right_to_half_a_place(value: float, u: float) -> None:
    written = write_quantity(Quantity(value, u, "mm"))
    assert written is not None
    digits = written.u95.replace(".", "").lstrip("0")
    assert len(digits.rstrip("0")) <= 2
    assert len(digits) >= 2
    assert abs(float(written.u95) - 2 * u) <= 0.05 * 2 * u + 1e-15
    place = 10.0 ** (-decimals(written.value)) if "." in written.value else 10.0 ** (len(written.u95) - 2)
    assert abs(float(written.value) - value) <= 0.5 * place * (1 + 1e-9) + 1e-12


@given(values, uncertainties)
def test_inches_never_end_before_the_fourth_decimal(value: float, u: float) -> None:
    written = write_quantity(Quantity(value, u, "mm"), inches=True)
    assert written is not None
    assert written.unit == "in"
    assert decimals(written.value) == decimals(written.u95) >= 4
    assert abs(float(written.value) - value / MM_PER_INCH) <= 0.5 * 10.0 ** -decimals(written.value) + 1e-12


@each(
    ("quantity", "text"),
    [
        (Quantity(2.36713, 0.00094, "mm"), "2.3671 ± 0.0019 mm"),
        (Quantity(2.36713, 0.049825, "mm"), "2.37 ± 0.10 mm"),
        (Quantity(-0.00001, 0.01, "mm"), "0.000 ± 0.020 mm"),
        (Quantity(1234.5, 62.0, "um"), "1230 ± 120 µm"),
        (Quantity(39.9987, 0.0061, "1/in"), "39.999 ± 0.012/in"),
        (Quantity(0.4, 0.15, "um/mm"), "0.40 ± 0.30 µm/mm"),
        (Quantity(29.97, 0.05, "deg"), "29.97 ± 0.10°"),
        (Quantity(3.0, 0.0, "mm"), "3.0000 mm"),
        (Quantity(1.0, 0.0005, "mm", one_sided=0.002), "1.0000 ± 0.0030 mm"),
        (Quantity(float("nan"), 0.1, "mm"), "not determined"),
        (Quantity(1.0, float("inf"), "mm"), "not determined"),
        (None, "not determined"),
    ],
)
def test_one_line(quantity: Quantity | None, text: str) -> None:
    assert format_quantity(quantity) == text


def test_only_lengths_change_with_the_unit() -> None:
    angle = Quantity(60.0, 0.1, "deg")
    assert format_quantity(angle, inches=True) == format_quantity(angle)


def test_a_limit_that_is_not_set() -> None:
    assert format_length(None) == "none"
    assert format_length(float("nan")) == "not determined"


@given(st.floats(0, 1))
def test_a_probability_is_never_rounded_to_certainty(probability: float) -> None:
    text = format_probability(probability)
    assert (text == "100 %") == (probability == 1)
    assert (text == "0 %") == (probability == 0)


@given(st.floats(), st.floats(), st.sampled_from(sorted(formatting.UNIT_SIGNS)), st.booleans())
def test_no_number_is_refused_and_none_fills_a_line(value: float, u: float, unit: str, inches: bool) -> None:
    texts = [
        format_quantity(Quantity(value, abs(u), unit, abs(u)), inches=inches),
        format_length(value, inches=inches),
        formatting.format_difference(value, unit, inches=inches),
        format_probability(value),
    ]
    assert all(0 < len(text) < 60 for text in texts)
