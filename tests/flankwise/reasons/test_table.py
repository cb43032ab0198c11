"""Every reason that the source gives has its row, in both languages, and every row is used."""

from __future__ import annotations

import csv
import re
import string

import pytest

from flankwise.reasons.table import FLOORS, PAPER, german_words, rows, rows_of
from tests.flankwise.reasons.keys_in_source import LOWER, ROOT, asked, literals, spoken

_OPTION = re.compile(r"(?<![\w-])(?<!var\()--[a-z][a-z0-9-]*(?![\w:-])")
_COMMAND = re.compile(r"['`\"]flankwise [a-z]")


def places(text: str) -> set[str]:
    """The names of the places in a text."""
    return {str(name) for _, name, _, _ in string.Formatter().parse(text) if name is not None}


def test_every_key_in_the_source_has_a_row() -> None:
    assert [f"{one.file}:{one.line}: {one.key}" for one in asked() if one.key not in rows()] == []


def test_every_row_is_used() -> None:
    used = literals() | {one.key for one in asked()}
    assert "\n".join(key for key in rows() if key not in used) == ""


def test_each_call_gives_the_values_that_its_row_shows() -> None:
    lacking = []
    for one in asked():
        row = rows().get(one.key)
        if row is None or one.names is None:
            continue
        lacks = places(row.wrong + row.do + row.do_in_window + row.wrong_de + row.do_de) - one.names
        if lacks:
            lacking.append(f"{one.file}:{one.line}: {one.key} lacks {sorted(lacks)}")
    assert "\n".join(lacking) == ""


@pytest.mark.parametrize("floor", [*FLOORS, PAPER])
def test_a_row_is_whole(floor: str) -> None:
    for row in rows_of(floor):
        assert (row.wrong == "") == (row.wrong_de == ""), row.key
        assert bool(row.do or row.do_in_window) >= bool(row.do_de), row.key
        assert not row.do or row.do_de, f"{row.key} has nothing to do in German"
        assert places(row.wrong) == places(row.wrong_de), row.key
        assert places(row.do_de) <= places(row.wrong + row.do + row.do_in_window), row.key
        # the window has no options
        assert _OPTION.search(row.wrong + row.wrong_de + row.do_de + row.do_in_window) is None, row.key
        assert not _OPTION.search(row.do) or row.do_in_window, f"{row.key}: what to do in the window?"


def test_no_key_twice_and_each_file_in_order() -> None:
    keys = [row.key for floor in (*FLOORS, PAPER) for row in rows_of(floor)]
    assert len(keys) == len(set(keys))
    for floor in (*FLOORS, PAPER):
        assert [row.key for row in rows_of(floor)] == sorted(row.key for row in rows_of(floor))


def test_no_lower_floor_names_an_option_or_a_command() -> None:
    named = [
        f"{file}:{line}: {text[:60]}"
        for file, line, text in spoken(LOWER)
        if _OPTION.search(text) or _COMMAND.search(text)
    ]
    assert named == []


def test_words_have_a_translation() -> None:
    for word, german in german_words().items():
        assert word
        assert german


def test_what_stands_in_the_guide_s_list_says_which_page_explains_it() -> None:
    with (ROOT / "flankwise" / "reasons" / "chapters.csv").open(encoding="utf-8", newline="") as file:
        listed = {line["code"] for line in csv.DictReader(file)}
    assert [row.key for row in rows().values() if row.key.partition(".")[0] in listed and not row.guide] == []


def test_the_guide_has_the_pages_that_are_named() -> None:
    pages = {page.name for page in (ROOT / "docs").glob("*.md")}
    for row in rows().values():
        assert not row.guide or row.guide in pages, row.key
