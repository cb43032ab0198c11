"""Cells of a CSV file: one line each, harmless in a spreadsheet, and back again."""

from __future__ import annotations

import csv
import io
import math

from hypothesis import given
from hypothesis import strategies as st

from records.cells import csv_line, number_cell, text_cell, text_of_cell
from tests.each import each

RUN = ("=", "+", "-", "@", "\uff1d", "\uff0b", "\uff0d", "\uff20")


@given(st.text(alphabet=st.characters(codec=None), max_size=30))
def test_a_cell_is_one_line_that_no_spreadsheet_runs(text: str) -> None:
    cell = text_cell(text)
    assert cell.isprintable()
    for separator in ";|\t":
        assert not any(one.lstrip(" ").startswith(RUN) for one in cell.split(separator))
    cell.encode("utf-8")


@given(st.text(alphabet=st.characters(exclude_categories=("C", "Z")), max_size=30) | st.text("a;|'=- ", max_size=9))
def test_text_comes_back(text: str) -> None:
    assert text_of_cell(text_cell(text)) == text


@each(
    ("text", "cell"),
    [
        ("=HYPERLINK(1)", "'=HYPERLINK(1)"),
        ("  @SUM(A1)", "'  @SUM(A1)"),
        ("-2+3", "'-2+3"),
        ("\t=1", "\\x09=1"),
        ("a\r\nb", "a\\x0d\\x0ab"),
        ("'quoted'", "'quoted'"),
        ("a;=1|  @x", "a;'=1|'  @x"),
        ("worn; -2 turns", "worn;' -2 turns"),
        ("4:=1, =2", "4:=1, =2"),
        ("\u202egnp.exe", "\\u202egnp.exe"),
        ("\x1b[2J", "\\x1b[2J"),
        ("4-40 NC-2", "4-40 NC-2"),
        ("\ud800", "\\ud800"),
        ("\U000e0001", "\\U000e0001"),
    ],
)
def test_what_a_cell_looks_like(text: str, cell: str) -> None:
    assert text_cell(text) == cell


@given(st.lists(st.text(alphabet=st.characters(codec=None), max_size=12), min_size=2, max_size=5))
def test_a_row_is_one_line_and_reads_back(texts: list[str]) -> None:
    cells = [text_cell(text) for text in texts]
    line = csv_line(cells)
    assert line.count(b"\n") == 1
    assert list(csv.reader(io.StringIO(line.decode()), strict=True)) == [cells]


@given(st.floats(allow_nan=False, allow_infinity=False))
def test_numbers_keep_nine_digits(number: float) -> None:
    assert math.isclose(float(number_cell(number)), number, rel_tol=1e-8)


def test_no_number_is_an_empty_cell() -> None:
    assert number_cell(None) == ""
