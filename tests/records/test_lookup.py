"""Names as a person types them."""

from __future__ import annotations

from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from flankwise.reasons import sentence
from records import filing, lookup
from tests.records.registers import file_workshop, new_register
from threads.shared.refusal import RefusalError


@pytest.mark.parametrize(
    ("typed", "on_file"),
    [("marine sextnat", "marine sextant"), ("Marine-Sextant", "marine sextant"), ("marinesextant", "marine sextant"),
     ("upper shade, piviot 1", "upper shade, pivot 1")],
)  # fmt: skip
def test_slips_of_the_pen_are_seen(typed: str, on_file: str) -> None:
    assert lookup.mistyped(typed, on_file)


@pytest.mark.parametrize(
    ("typed", "on_file"),
    [("index arm 3", "index arm 4"), ("index arm 13", "index arm 3"), ("shade A", "shade B"),
     ("upper shade", "lower shade"), ("left", "right"), ("marine sextant", "pocket sextant"),
     ("sextant", "marine sextant"), ("", "")],
)  # fmt: skip
def test_what_differs_on_purpose_is_let_pass(typed: str, on_file: str) -> None:
    assert not lookup.mistyped(typed, on_file)


@pytest.mark.parametrize(
    ("typed", "on_file", "asked"),
    [
        ("marin sextant", "marine sextant", True),
        ("Marine sextant 1937", "Marine sextant 1938", True),
        ("Marine sextant of 1938", "Marine sextant", True),
        ("sextant", "Marine sextant", True),
        ("theodolite", "marine sextant", False),
        ("theodolite no. 12", "theodolite no. 13", False),
        ("1938", "1939", False),
    ],
)
def test_an_instrument_is_asked_about_where_a_word_or_a_year_differs(typed: str, on_file: str, asked: bool) -> None:
    assert lookup.near_names("instrument", typed, ["spirit level", on_file]) == ([on_file] if asked else [])
    assert lookup.near_names("instrument", on_file, [typed]) == ([typed] if asked else [])


@given(st.text(max_size=20), st.text(max_size=20))
def test_any_names_can_be_compared(one: str, other: str) -> None:
    assert lookup.mistyped(one, other) == lookup.mistyped(other, one)


def test_names_numbers_and_unknown_ones(tmp_path: Path) -> None:
    register = new_register(tmp_path)
    file_workshop(register, 4)
    with register.writing() as writing:
        filing.add_instrument(writing, "1")  # a name that looks like a number is a name
    with register.reading() as found:
        assert lookup.instrument_called(found, " Marine Sextant ") == 1
        assert lookup.instrument_called(found, "#2") == 2
        assert lookup.instrument_called(found, "1") == 3
        assert lookup.instrument_called(found, "٢") is None
        assert lookup.job_called(found, "overhaul") == 1
        assert lookup.position_called(found, 1, "index arm 0") == 1
        assert lookup.position_called(found, 2, "index arm 0") is None
        assert lookup.known_part(found, 4) == 4
        for action in (
            lambda: lookup.known_instrument(found, "marin sextant"),
            lambda: lookup.known_job(found, "overhual"),
            lambda: lookup.known_position(found, 1, "index arm 9"),
        ):
            with pytest.raises(RefusalError) as caught:
                action()
            assert caught.value.reasons[0].code == "no_such_name"
            assert "nearest: " in sentence(caught.value.reasons[0])
        with pytest.raises(RefusalError) as caught:
            lookup.check_new_name(found, "instruments", "marine sextnat")
        assert "'marine sextant'" in sentence(caught.value.reasons[0])
        lookup.check_new_name(found, "positions", "index arm 9", instrument=1)
