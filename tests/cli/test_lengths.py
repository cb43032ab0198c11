"""Lengths, angles and years as they are typed."""

from __future__ import annotations

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from cli.errors import CommandLineError
from cli.lengths import MM_PER_UNIT, parse_angle, parse_length
from cli.years import parse_made
from tests.each import each

positive = st.floats(1e-6, 1e6)


@given(positive, st.sampled_from(sorted(MM_PER_UNIT)), st.sampled_from(["", " "]))
def test_a_number_with_its_unit_is_read_exactly(number: float, unit: str, gap: str) -> None:
    assert parse_length(f"{number!r}{gap}{unit}") == number * MM_PER_UNIT[unit]


@given(positive)
def test_a_bare_number_is_refused_and_told_so(number: float) -> None:
    with pytest.raises(CommandLineError, match="has no unit"):
        parse_length(repr(number))


@given(st.text(max_size=30))
def test_any_text_gives_a_length_or_one_clear_line(text: str) -> None:
    try:
        length = parse_length(text)
    except CommandLineError as error:
        assert str(error)
    else:
        assert math.isfinite(length)
        assert length > 0


@given(st.from_regex(r"[+-]?\d{0,4}[./,]?\d{0,4}(e[+-]?\d{1,4})? ?(mm|um|in|deg|°|\")?", fullmatch=True))
def test_what_looks_like_a_length_is_never_a_crash(text: str) -> None:
    for parse in (parse_length, parse_angle):
        try:
            assert parse(text) > 0 or parse is parse_angle  # no light cone: collimated
        except CommandLineError as error:
            assert "\n" not in str(error)


@each(
    ("text", "length_mm"),
    [
        ("2.500mm", 2.5),
        ("0.0984in", 0.0984 * 25.4),
        ("25um", 0.025),
        ("25 µm", 0.025),
        ("25μm", 0.025),
        ("1/8in", 3.175),
        ("1-1/2in", 38.1),
        ("1 1/2 inch", 38.1),
        ('0.25"', 6.35),
        (".5mm", 0.5),
        ("2.5MM", 2.5),
        ("1e-3mm", 0.001),
    ],
)
def test_spellings_of_a_length(text: str, length_mm: float) -> None:
    assert parse_length(text) == pytest.approx(length_mm, rel=1e-12)


@each(
    ("text", "says"),
    [
        ("2.5", "has no unit"),
        ("2,5mm", "as a dot"),
        ("2.5ft", "not one of mm, um, in"),
        ("2.5deg", "not one of mm, um, in"),
        ("-2.5mm", "above zero"),
        ("0mm", "above zero"),
        ("nanmm", "not a number"),
        ("infmm", "not a number"),
        ("1e999mm", "too large"),
        ("1/0in", "not a number"),
        ("", "not a number"),
        ("mm", "not a number"),
        ("2_5mm", "not a number"),
        ("2.5mm\n3mm", "not a number"),
        ("٢mm", "not a number"),
    ],
)
def test_what_is_no_length_is_refused_with_its_reason(text: str, says: str) -> None:
    with pytest.raises(CommandLineError, match=says):
        parse_length(text, "the pin's diameter")


@pytest.mark.parametrize(("text", "angle_deg"), [("2deg", 2.0), ("2.5°", 2.5), ("0.5 degrees", 0.5)])
def test_spellings_of_an_angle(text: str, angle_deg: float) -> None:
    assert parse_angle(text) == angle_deg


@pytest.mark.parametrize("text", ["2", "2mm", "2rad", "-1deg", "deg"])
def test_what_is_no_angle_is_refused(text: str) -> None:
    with pytest.raises(CommandLineError):
        parse_angle(text)


@given(st.integers(1000, 9999), st.integers(1000, 9999))
def test_years_come_back_in_order_or_not_at_all(first: int, last: int) -> None:
    if first <= last:
        assert parse_made(f"{first}-{last}") == (first, last)
    else:
        with pytest.raises(CommandLineError, match=f"write {last}-{first}"):
            parse_made(f"{first}-{last}")
    assert parse_made(str(first)) == (first, first)


@pytest.mark.parametrize("text", ["36", "1936-", "1936-38", "about 1936", "", "19360", "1936-1940-1944", "-1936"])
def test_what_is_no_year_is_refused(text: str) -> None:
    with pytest.raises(CommandLineError, match="--made"):
        parse_made(text)
