"""The layout of what a person reads: nothing is cut at any width."""

from __future__ import annotations

import re
from collections import Counter

import pytest
from hypothesis import given
from hypothesis import strategies as st

from cli.characters import columns_of, harmless
from cli.tables import Paragraph, indented, laid_out, plain_table, side_by_side

WIDTHS = st.integers(20, 200)
NUMBERS = st.decimals(-9999, 9999, places=4).map(str)
QUANTITIES = st.builds(
    "{}{}{}".format, NUMBERS, st.sampled_from(["", " ± 0.0019"]), st.sampled_from([" mm", " µm", "°", "/in", " in"])
)
WORDS = st.text("abcdefghijklmnop-", min_size=1, max_size=12)
TEXTS = st.lists(st.one_of(QUANTITIES, WORDS), max_size=12).map(" ".join)
CELLS = st.one_of(QUANTITIES, TEXTS)


def words(lines: list[str]) -> Counter[str]:
    found = (word.rstrip(";:") for line in lines for word in line.split())
    return Counter(word for word in found if word.strip("─"))


@given(TEXTS, WIDTHS, st.sampled_from(["", "  ", "- ", "scale       "]))
def test_a_text_is_broken_between_words_and_never_within_a_quantity(text: str, width: int, lead: str) -> None:
    lines = laid_out(lead + text, width)
    assert " ".join(lines).split() == (lead + text).split()
    assert words(lines) == words([lead + text])
    for quantity in re.findall(r"-?\d+\.\d+ ± 0\.0019(?: [mµ]m| in)?", text):
        assert any(quantity in line for line in lines)
    assert all(columns_of(line) <= width for line in lines if not re.fullmatch(r" *\S+( ± \S+( \S+)?)?", line))


@pytest.mark.slow
@given(st.lists(st.tuples(WORDS, CELLS, CELLS, TEXTS), min_size=1, max_size=5), WIDTHS, st.booleans())
def test_a_table_keeps_every_cell_at_every_width(
    rows: list[tuple[str, str, str, str]], width: int, whole: bool
) -> None:
    table = plain_table("", "measured", "low", "because", right=("low",), whole=("measured",) if whole else ())
    for row in rows:
        table.add_row(*row)
    lines = laid_out(table, width)
    assert not words([cell for row in rows for cell in row]) - words(lines)
    flat = [" ".join(line.split()) for line in lines]
    for row in rows:
        for quantity in re.findall(r"-?\d+\.\d+(?: ± 0\.0019)?(?: [mµ]m| in|°|/in)", " ".join(row[1:3])):
            assert any(quantity in line for line in flat)


def test_a_table_that_does_not_fit_is_printed_as_a_record_a_row() -> None:
    table = plain_table(
        "", "axial section", "as read off the shadow", whole=("axial section", "as read off the shadow")
    )
    table.add_row("pitch", "0.6350 ± 0.0013 mm", "0.6351 ± 0.0013 mm")
    table.add_row("taper", "-0.0010 ± 0.0051 µm/mm")
    assert laid_out(table, 80) == [
        "        axial section            as read off the shadow",
        "───────────────────────────────────────────────────────",
        "pitch    0.6350 ± 0.0013 mm      0.6351 ± 0.0013 mm",
        "taper   -0.0010 ± 0.0051 µm/mm",
    ]
    assert laid_out(table, 44) == [
        "pitch",
        "  axial section  0.6350 ± 0.0013 mm",
        "  as read off the shadow  0.6351 ± 0.0013 mm",
        "taper  axial section  -0.0010 ± 0.0051 µm/mm",
    ]
    assert laid_out(table, 40)[2:4] == ["  as read off the shadow", "    0.6351 ± 0.0013 mm"]


def test_numbered_rows_keep_their_number_as_lines() -> None:
    table = plain_table("part", "what", "pitch diameter", right=("part",), whole=("part", "what", "pitch diameter"))
    table.add_row("12", "thread, 6 in view", "2.4968 ± 0.0051 mm")
    assert laid_out(table, 30) == ["part 12", "  what  thread, 6 in view", "  pitch diameter", "    2.4968 ± 0.0051 mm"]


def test_what_is_longer_than_a_line_stays_whole() -> None:
    path = "a_folder/" + "very_long_" * 6 + "name.png"
    assert path in laid_out(f"the picture {path} is dark", 40)


def test_wide_characters_are_counted_and_may_be_broken_apart() -> None:
    lines = laid_out("六分儀" * 10, 21)
    assert all(columns_of(line) <= 21 for line in lines)
    assert "".join(lines) == "六分儀" * 10
    table = plain_table("name", "parts")
    table.add_row("六分儀", "3")
    table.add_row("sextant", "4")
    *_, first, second = laid_out(table, 60)
    assert columns_of(first[: first.index("3")]) == second.index("4")


def test_paragraphs_hang_under_their_text() -> None:
    assert laid_out(side_by_side("Method:", "one two three"), 18) == ["Method:  one two", "         three"]
    assert laid_out(indented("one two", 3), 9) == ["   one", "   two"]
    assert laid_out(Paragraph("one two three", "a long beginning of all "), 30) == [
        "a long beginning of all one", "two three"
    ]  # fmt: skip


@pytest.mark.parametrize(
    ("text", "shown"),
    [
        ("a\x1b[2Jb", "a\\x1b[2Jb"),
        ("a\nb\tc", "a\\nb c"),
        ("\u202egnp.exe", "\\u202egnp.exe"),
        ("a\u2028b\x9b", "a\\u2028b\\x9b"),
        ("caf\u00e9 \u00b1 \u00b5m \u05d0", "caf\u00e9 \u00b1 \u00b5m \u05d0"),
        ("\u0645\u06cc\u200c\u0634\u0648\u062f", "\u0645\u06cc\u200c\u0634\u0648\u062f"),
        ("1\u00a0mm", "1 mm"),
        ("raw\udc80", "raw\\udc80"),
    ],
)
def test_what_steers_a_terminal_is_spelled(text: str, shown: str) -> None:
    assert harmless(text) == shown


@given(st.text())
def test_nothing_that_steers_a_terminal_is_left(text: str) -> None:
    assert re.search(r"[\x00-\x1f\x7f-\x9f\u061c\u200e\u200f\u2028-\u202e\u2066-\u2069]", harmless(text)) is None
