"""Parts as a table: written for spreadsheets without danger, read from them row by row or not at all."""

from __future__ import annotations

import csv
import io
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from flankwise.reasons import message
from records.exchange.table import COLUMNS, READ, file_table, read_table, table_of
from records.reading import read_part
from records.register import open_register
from tests.each import each
from tests.records.workshop import kept_workshop, measured_workshop
from threads.shared.refusal import RefusalError


def code_of(content: bytes) -> str:
    with pytest.raises(RefusalError) as refused:
        read_table(content, "a.csv")
    assert "\n" not in message(refused.value)
    return refused.value.reasons[0].code


@pytest.mark.slow
def test_the_table_has_a_row_a_part_and_nothing_that_runs(tmp_path: Path) -> None:
    register = measured_workshop(tmp_path)
    with register.reading() as connection:
        content = table_of(connection, [1, 2, 3, 4]).decode("utf-8")
    rows = list(csv.DictReader(io.StringIO(content), strict=True))
    assert tuple(rows[0]) == COLUMNS
    assert [row["position"] for row in rows] == ["Łódź & ≥3 shade", "upper shade", "верхний светофильтр", "日本のねじ"]
    assert rows[0]["notes"] == "'=HYPERLINK(1), slot worn"
    assert float(rows[0]["pitch_mm"]) == pytest.approx(0.635, abs=0.001)
    assert 0 < float(rows[0]["pitch_diameter_u95_mm"]) < 0.02
    assert rows[0]["designation"].startswith("4-40")
    assert (rows[3]["pitch_mm"], rows[3]["designation"]) == ("", "")


def test_what_was_written_is_on_file_already(tmp_path: Path) -> None:
    register = kept_workshop(tmp_path)
    with register.reading() as connection:
        content = table_of(connection, [1, 2, 3])
    lines = read_table(content, "a.csv")
    assert file_table(register, lines).known["parts"] == 3
    there = open_register(tmp_path / "there.sqlite", create=True)
    arrived = file_table(there, lines)
    assert (arrived.filed["parts"], arrived.filed["instruments"]) == (3, 2)
    with register.reading() as one, there.reading() as other:
        before, after = read_part(one, 1), read_part(other, 2)  # written in the order of their instruments
    assert (after.uid, after.name, after.measurements) == (before.uid, before.name, ())
    assert before.instrument is not None
    assert after.instrument is not None
    assert (after.instrument.made, after.instrument.serial) == (before.instrument.made, before.instrument.serial)


def test_a_plan_from_a_spreadsheet_is_filed(tmp_path: Path) -> None:
    register = open_register(tmp_path / "parts.sqlite", create=True)
    table = (
        "sep=;\r\nInstrument;Position;Job;Name;Made from;Note;Pitch\r\n"
        "marine sextant;index arm 1;overhaul;index arm screw;1938;;0,635\r\n"
        ";;;;;;\r\n"
        'marine sextant;index arm 2;overhaul;"a ""long"" one";1938;\'=odd;\r\n'
    )
    arrived = file_table(register, read_table(table.encode("cp1252"), "plan.csv"), who="Ada")
    assert dict(arrived.filed) == {"instruments": 1, "jobs": 1, "positions": 2, "parts": 2, "notes": 1}
    with register.reading() as connection:
        part = read_part(connection, 2)
    assert (part.name, part.who, part.notes[0].text) == ('a "long" one', "Ada", "=odd")
    assert part.measurement is None  # numbers from a table are not taken


@each(
    ("content", "code"),
    [
        (b"", "table_unreadable"),
        (b"\x00\x01", "table_unreadable"),
        (b'name\n"open', "table_unreadable"),
        (b"name\n" + b"x" * 1_000_001, "table_unreadable"),
        (b"pitch,major\n1,2\n", "table_invalid"),
        (b"name,name\nx,y\n", "table_invalid"),
        (b"name\n\n\n", "table_invalid"),
        (b"position,name\nupper,x\n", "table_invalid"),
        (b"instrument,made_from\nx,36\n", "table_invalid"),
        (b"instrument,made_to\nx,1938\n", "table_invalid"),
        (b"instrument,made_from,made_to\nx,1940,1938\n", "table_invalid"),
        (b"instrument,country\nx,usa\n", "table_invalid"),
        (b"name,uid\nx,1\n", "table_invalid"),
        (b"name\n" + b"x" * 1001, "table_invalid"),
    ],
)
def test_tables_that_cannot_be_are_refused(content: bytes, code: str) -> None:
    assert code_of(content) == code


@given(
    st.lists(st.sampled_from([*READ, "pitch", "Name ", ""]), min_size=1, max_size=6),
    st.lists(st.lists(st.text(max_size=8), max_size=7), max_size=5),
    st.sampled_from(",;\t"),
)
def test_any_table_is_read_or_refused(head: list[str], rows: list[list[str]], separator: str) -> None:
    written = io.StringIO()
    csv.writer(written, delimiter=separator).writerows([head, *rows])
    try:
        lines = read_table(written.getvalue().encode("utf-8", "replace"), "a.csv")
    except RefusalError as refused:
        assert refused.reasons[0].code in {"table_unreadable", "table_invalid"}
        return
    assert all(set(line.cells) <= set(READ) and all(line.cells.values()) for line in lines)


@given(st.binary(max_size=300))
def test_any_bytes_are_read_or_refused(content: bytes) -> None:
    try:
        read_table(content, "a.csv")
    except RefusalError as refused:
        assert refused.reasons[0].code in {"table_unreadable", "table_invalid"}
