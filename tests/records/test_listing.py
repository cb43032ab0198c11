"""Lists and searches give the parts that fulfil the conditions, and no others."""

from __future__ import annotations

from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from records import filing
from records.correction import correct
from records.derived import match_query, stale
from records.listing import Conditions, Page, lines_of, page_of_parts
from records.register import Register
from tests.records.registers import file_workshop, new_register, screws

PARTS = 12


@pytest.fixture(scope="module")
def register(tmp_path_factory: pytest.TempPathFactory) -> Register:
    register = new_register(tmp_path_factory.mktemp("listing"))
    file_workshop(register, PARTS)
    return register


def found(register: Register, conditions: Conditions, first: int = 0, most: int = 40) -> Page:
    with register.reading() as connection:
        return page_of_parts(connection, conditions, first=first, most=most)


def numbers(page: Page) -> list[int]:
    return [line.id for line in page.lines]


def test_the_latest_come_first_page_by_page(register: Register) -> None:
    pages = [found(register, Conditions(), first, 5) for first in (0, 5, 10, 15)]
    assert [page.total for page in pages] == [PARTS] * 4
    assert [number for page in pages for number in numbers(page)] == list(range(PARTS, 0, -1))


def test_those_of_an_instrument_come_in_the_order_of_positions(register: Register) -> None:
    assert numbers(found(register, Conditions(instrument=1))) == [1, 3, 5, 7, 9, 11]
    assert numbers(found(register, Conditions(job=1))) == [1, 3, 5, 7, 9, 11]
    assert numbers(found(register, Conditions(position=4))) == [4]


@pytest.mark.parametrize("quantity", ["pitch", "major_diameter", "pitch_diameter", "minor_diameter", "included_angle"])
def test_sizes_between_two_ends(register: Register, quantity: str) -> None:
    values = {n + 1: document["thread"][quantity]["value"] for n, (_, document) in enumerate(screws(PARTS))}
    low, high = sorted(values.values())[3], sorted(values.values())[8]
    page = found(register, Conditions(between={quantity: (low, high)}))
    assert sorted(numbers(page)) == sorted(n for n, value in values.items() if low <= value <= high)
    both = found(register, Conditions(between={quantity: (low, high)}, made_before=1949))
    assert sorted(numbers(both)) == sorted(n for n in numbers(page) if n % 2)


def test_years_are_sure_or_do_not_count(register: Register) -> None:
    # sextant 1938; theodolite 1950-1954
    assert {n % 2 for n in numbers(found(register, Conditions(made_before=1949)))} == {1}
    assert found(register, Conditions(made_before=1938)).total == 0
    assert {n % 2 for n in numbers(found(register, Conditions(made_before=1954)))} == {1}
    assert found(register, Conditions(made_before=1955)).total == PARTS
    assert {n % 2 for n in numbers(found(register, Conditions(made_after=1949)))} == {0}
    assert found(register, Conditions(made_after=1950)).total == 0
    assert {n % 2 for n in numbers(found(register, Conditions(country="DE")))} == {0}


def test_words_designation_and_series(register: Register) -> None:
    limits = screws(PARTS)[4][0]
    assert 5 in numbers(found(register, Conditions(text="SCREW 4")))
    assert (match_query("index arm 3"), match_query('o"ring 4-40')) == ('"index"* "arm"* "3"', '"o""ring"* "4-40"')
    assert found(register, Conditions(text="sextant quays")).total == PARTS / 2
    assert found(register, Conditions(text="sextant theodolite")).total == 0
    assert 5 in numbers(found(register, Conditions(designation=limits.designation[:-1])))
    assert 5 in numbers(found(register, Conditions(series=limits.series)))
    assert found(register, Conditions(designation="%")).total == 0
    assert found(register, Conditions(text="---")).total == 0


def test_a_quantity_that_is_not_searched_for_is_an_error(register: Register) -> None:
    with pytest.raises(ValueError, match="cannot be searched"):
        found(register, Conditions(between={"pitch; DROP TABLE parts": (0, 1)}))


@given(st.text(max_size=30))
def test_any_words_can_be_searched_for(register: Register, words: str) -> None:
    page = found(register, Conditions(text=words))
    assert page.total <= PARTS
    query = match_query(words)
    assert query is None or query.count('"') % 2 == 0


def test_words_follow_what_is_corrected_and_noted(tmp_path: Path) -> None:
    register = new_register(tmp_path)
    filed = file_workshop(register, 4)
    with register.writing() as writing:
        filing.add_note(writing, "Gewinde verschlissen, Öl", part=filed[0])
        filing.add_replacement(writing, filed[1], stock="silver steel 3 mm")
        correct(writing, "instruments", 1, {"name": "pocket sextant"})
    assert numbers(found(register, Conditions(text="verschl ol"))) == [filed[0]]
    assert numbers(found(register, Conditions(text="silver"))) == [filed[1]]
    assert found(register, Conditions(text="marine")).total == 0
    assert found(register, Conditions(text="pocket")).total == 2
    with register.writing() as writing:
        correct(writing, "parts", filed[0], {"withdrawn": 1})
        correct(writing, "notes", 1, {"withdrawn": 1})
    assert found(register, Conditions()).total == 3
    everything = found(register, Conditions(with_withdrawn=True))
    assert [line.withdrawn for line in everything.lines] == [False, False, False, True]
    assert found(register, Conditions(text="verschl", with_withdrawn=True)).total == 0
    with register.reading() as connection:
        assert stale(connection) == []
        assert set(lines_of(connection, [filed[0], 99])) == {filed[0]}
