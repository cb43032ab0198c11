"""A workshop's own table: what spreadsheets write is read, what is wrong is named by row and column."""

from __future__ import annotations

import csv
import io

import pytest
from hypothesis import given
from hypothesis import strategies as st

from flankwise.reasons import message, sentence
from tests.each import each
from threads.own.own_row import Fault
from threads.own.own_table import COLUMNS, EXAMPLE, FOR_ALL, NAMES, REQUIRED, OwnTableError, read_table
from threads.rules import workshop_band
from threads.rules.forms import FORMS
from threads.shared.spreadsheet import SpreadsheetError, number_of, read_sheet

BASE = {
    "series": "QW", "size": "1.8x0.35", "unit": "mm", "major": "1.80", "pitch": "0.35", "form": "BA",
    "first_year": "1921", "countries": "GB DE", "source": "measured",
}  # fmt: skip


def table(*rows: dict[str, str], separator: str = ",", line_end: str = "\n") -> bytes:
    """A CSV file with the rows; the first one has every column of ``BASE``."""
    names = list(dict.fromkeys(name for row in rows for name in row))
    text = io.StringIO(newline="")
    writer = csv.DictWriter(text, names, delimiter=separator, lineterminator=line_end)
    writer.writeheader()
    writer.writerows(rows)
    return text.getvalue().encode()


def faults(content: bytes) -> list[tuple[int | None, str | None, str]]:
    with pytest.raises(OwnTableError) as caught:
        read_table(content)
    assert caught.value.faults
    return [(fault.row, fault.column, sentence(fault.what)) for fault in caught.value.faults]


def only_fault(content: bytes) -> tuple[int | None, str | None, str]:
    (found,) = faults(content)
    return found


def test_the_example_is_read() -> None:
    own = read_table(EXAMPLE.encode())
    assert (own.info.name, own.info.form, own.info.first_year, own.info.last_year) == ("QW", "ISO metric", 1921, 1958)
    assert own.info.own
    assert [entry.size for entry in own.entries] == ["1.8x0.35", "2.2x0.40"]
    assert [entry.classes for entry in own.entries] == [(workshop_band.CLASS,)] * 2
    screw, nut = own.entries[0].own
    assert (screw.internal, nut.internal) == (False, True)
    assert screw.zone.major == (1.74, 1.8)
    assert screw.zone.pitch_diameter == pytest.approx((1.5127, 1.5727))
    assert nut.zone.pitch_diameter == pytest.approx((1.5727, 1.6527))
    assert nut.zone.minor == pytest.approx((1.80 - 1.08253175 * 0.35, None), abs=0.0001)
    left = own.entries[1].own[0].zone
    assert left.pitch_diameter == workshop_band.zone(2.2, 0.4, "ISO metric", "mm", internal=False).pitch_diameter
    assert "workshop band" in left.source


def test_every_column_is_documented_and_the_example_uses_known_ones() -> None:
    assert set(REQUIRED) | set(FOR_ALL) <= set(NAMES)
    assert set(EXAMPLE.splitlines()[0].split(",")) <= set(NAMES)
    assert all(COLUMNS.values())


@each("encoding", ["utf-8", "utf-8-sig", "utf-16", "cp1252"])
@each("line_end", ["\n", "\r\n", "\r"])
@each("separator", [",", ";", "\t"])
def test_what_spreadsheets_write_is_read(separator: str, line_end: str, encoding: str) -> None:
    row = {**BASE, "title": "Häusler, Schlüssel", "source": "Werkstatt; gemessen"}
    written = table(row, separator=separator, line_end=line_end).decode().encode(encoding)
    assert read_table(written) == read_table(table(row))


def test_a_decimal_comma_is_read_where_commas_do_not_separate() -> None:
    comma = {**BASE, "major": "1,80", "pitch": "0,35"}
    assert read_table(table(comma, separator=";")) == read_table(table(BASE))
    assert read_table(table(comma, separator="\t")) == read_table(table(BASE))
    row, column, message = faults(table(comma))[0]
    assert (row, column) == (2, "pitch")
    assert "separate the columns by semicolons" in message


def test_a_line_that_names_the_separator_and_empty_lines_are_skipped_and_counted() -> None:
    content = b"sep=;\r\n" + table({**BASE, "pitch": "x"}, separator=";", line_end="\r\n")
    assert only_fault(content)[:2] == (3, "pitch")
    content = table(BASE).replace(b"\n", b"\n\n,,\n", 1)
    assert read_table(content) == read_table(table(BASE))
    assert only_fault(content.replace(b"0.35,BA", b"x,BA"))[0] == 4


def test_case_and_order_of_the_columns_do_not_matter() -> None:
    turned = dict(reversed(BASE.items()))
    assert read_table(table({name.upper(): cell for name, cell in turned.items()})) == read_table(table(BASE))


def test_inches_and_threads_per_inch() -> None:
    row = {**BASE, "size": "1/8-38", "unit": "in", "major": "0.125", "form": "whitworth"}
    del row["pitch"]
    entry = read_table(table({**row, "threads_per_inch": "38"})).entries[0]
    assert (entry.major_in, entry.threads_per_inch) == (0.125, 38)
    assert entry.major_mm == pytest.approx(3.175)
    assert entry.pitch_mm == pytest.approx(25.4 / 38)
    assert entry.own[0].zone.unit == "in"
    assert read_table(table({**row, "pitch": "0.025"})).entries[0].threads_per_inch == pytest.approx(40)


def test_limits_as_given() -> None:
    row = {
        **BASE, "class": "close", "major_min": "1.75", "major_max": "1.79", "pitch_diameter_min": "1.53",
        "pitch_diameter_max": "1.58", "minor_max": "1.37",
    }  # fmt: skip
    entry = read_table(table(row)).entries[0]
    zone = entry.own[0].zone
    assert entry.classes == ("close",)
    assert (zone.major, zone.pitch_diameter, zone.minor) == ((1.75, 1.79), (1.53, 1.58), (None, 1.37))
    assert zone.basic_pitch_diameter == pytest.approx(1.8 - 0.6 * 0.35)
    assert zone.allowance == pytest.approx(0.01)
    # a nut that nobody described has the workshop band, so that its hole can be drilled
    assert entry.internal_classes == (workshop_band.CLASS,)


def test_several_classes_of_a_size() -> None:
    own = read_table(
        table(
            {**BASE, "class": "close", "band": "0.03", "for": "screw"},
            {**BASE, "class": "free", "band": "0.06", "for": "Screw"},
            {**BASE, "class": "free", "band": "0.06", "for": "NUT"},
        )
    )
    (entry,) = own.entries
    assert (entry.classes, entry.internal_classes) == (("close", "free"), ("free",))


@each("name", FORMS)
def test_every_form_can_be_had(name: str) -> None:
    entry = read_table(table({**BASE, "form": name.upper(), "major": "3"})).entries[0]
    assert entry.form == name
    assert {own.internal for own in entry.own} == {False, True}


@each(
    ("change", "column", "says"),
    [
        ({"series": "1QW"}, "series", "is not a name"),
        ({"series": "Q W"}, "series", "is not a name"),
        ({"series": ""}, "series", "is not a name"),
        ({"series": "Q/../../W"}, "series", "is not a name"),
        ({"size": ""}, "size", "is not a size"),
        ({"size": "a\\b"}, "size", "is not a size"),
        ({"unit": "cm"}, "unit", "is not mm or in"),
        ({"major": ""}, "major", "is empty"),
        ({"major": "two"}, "major", "is not a number"),
        ({"major": "1e3"}, "major", "is not a number"),
        ({"major": "-1"}, "major", "is not a number"),
        ({"major": "0"}, "major", "above zero"),
        ({"major": "nan"}, "major", "is not a number"),
        ({"major": "5000"}, "major", "is the unit right?"),
        ({"pitch": ""}, "pitch", "either pitch or threads_per_inch"),
        ({"threads_per_inch": "40"}, "pitch", "either pitch or threads_per_inch"),
        ({"pitch": "1.5"}, "pitch", "is no pitch for a major diameter"),
        ({"form": "round"}, "form", "is not one of: "),
        ({"class": "a b"}, "class", "is not a class"),
        ({"class": "nut"}, "class", "is not a class"),
        ({"for": "bolt"}, "for", "is not screw or nut"),
        ({"band": "0.5"}, "band", "more than half the pitch"),
        ({"band": "0.05", "major_min": "1.7"}, "band", "either a band or limits"),
        ({"pitch_diameter": "1.6"}, "band", "needs a band or limits"),
        ({"pitch_diameter": "1.9", "band": "0.05"}, None, "not in order"),
        ({"first_year": "36"}, "first_year", "is not a year"),
        ({"first_year": "1621"}, "first_year", "from 1700"),
        ({"last_year": "1900"}, "last_year", "before the first year"),
        ({"countries": ""}, "countries", "two-letter code"),
        ({"countries": "England"}, "countries", "two-letter code"),
        ({"countries": "UK"}, "countries", "is GB"),
        ({"source": ""}, "source", "is empty"),
        ({"title": "a\nb"}, "title", "control character"),
    ],
)
def test_a_fault_is_named_by_row_and_column(change: dict[str, str], column: str | None, says: str) -> None:
    row, where, message = only_fault(table({**BASE, **change}))
    assert (row, where) == (2, column)
    assert says in message


def test_limits_that_cannot_be() -> None:
    limits = {"major_min": "1.75", "major_max": "1.79", "pitch_diameter_min": "1.53", "pitch_diameter_max": "1.58"}
    for change, column in (
        ({"major_min": ""}, "major_min"),
        ({"pitch_diameter_max": ""}, "pitch_diameter_max"),
        ({"major_min": "1.80"}, "major_min"),
        ({"major_max": "2.80"}, "major_max"),
        ({"pitch_diameter_min": "0.0602"}, "pitch_diameter_min"),  # inches among millimetres
    ):
        assert only_fault(table({**BASE, **limits, **change}))[:2] == (2, column)
    nut = {**BASE, "for": "nut", "major_min": "", "pitch_diameter_min": "1.59", "pitch_diameter_max": "1.66"}
    assert read_table(table(BASE, nut)).entries[0].own[1].zone.major == (None, None)


def test_rows_that_contradict_each_other() -> None:
    second = {"series": "", "size": "2", "unit": "", "major": "2", "pitch": "0.4", "source": ""}
    whole = read_table(table(BASE, second))
    assert [entry.source for entry in whole.entries] == ["measured", "measured"]
    for change, column, says in (
        ({"series": "QX"}, "series", "is 'QX', in row 2 'QW'"),
        ({"countries": "US"}, "countries", "in row 2 'GB DE'"),
        ({"size": "1.8x0.35"}, "size", "differs in spelling or size from row 2"),
        ({"size": "1.8X0.35", "major": "1.80", "pitch": "0.35"}, "size", "differs in spelling"),
        ({"size": "1.8 x0.35", "major": "1.80", "pitch": "0.35"}, "size", "differs in spelling"),
        ({"size": "1.8x0.35", "major": "1.80", "pitch": "0.35"}, "class", "is in row 2 too"),
        ({"for": "nut"}, "for", "has no row for a screw"),
    ):
        found = faults(table(BASE, {**second, **change}))
        assert found[0][:2] == (3, column)
        assert says in found[0][2]


def test_every_fault_is_told_at_once_in_the_order_of_the_rows() -> None:
    content = table({**BASE, "major": "x"}, {**BASE, "size": "2", "unit": "ft"}, {**BASE, "size": "3", "pitch": "y"})
    assert [found[:2] for found in faults(content)] == [(2, "major"), (3, "unit"), (4, "pitch")]


@each(
    ("content", "says"),
    [
        (b"", "empty"),
        (b"\n \n,,\n", "empty"),
        (b"series,size\n", "does not name the columns unit, major, form, first_year, countries, source, pitch"),
        (table(BASE).splitlines()[0], "no sizes"),
        (table({**BASE, "pitch ": "1"}), "twice: pitch"),
        (table({**BASE, "colour": "red"}), "unknown columns: 'colour'"),
        (table(BASE)[:-1] + b",more\n", "more cells than the first row"),
        (table(BASE).replace(b"series,", b",series,").replace(b"QW", b"x,QW"), "a column without a name"),
        (table(BASE).replace(b"measured", b'"measured'), "row 2"),
        (b"\xff\xfe\x00", "not a text file"),
        (b"\x89PNG\r\n\x1a\n\0\0", "not a text file"),
        (b"PK\x03\x04\x81\x8d\x8f", "not a text file"),
        (b"a" * 1_000_001, "larger than 1 MB"),
        (table(*[BASE] * 2001), "more than 2000 rows"),
        (table({**BASE, "source": "x" * 200_000}), "row 2"),
    ],
)
def test_what_is_no_such_table_is_said(content: bytes, says: str) -> None:
    assert any(says in sentence(fault.reason) for fault in faults_of(content))


def faults_of(content: bytes) -> tuple[Fault, ...]:
    with pytest.raises(OwnTableError) as caught:
        read_table(content)
    assert "\n" not in message(caught.value)
    return caught.value.faults


@given(st.binary(max_size=300))
def test_any_bytes_are_read_or_refused(content: bytes) -> None:
    try:
        sheet = read_sheet(content)
    except SpreadsheetError as error:
        assert "\n" not in message(error)
    else:
        assert any(sheet.head)
        numbers = [number for number, _ in sheet.rows]
        assert numbers == sorted(set(numbers))
    with pytest.raises(OwnTableError):
        read_table(content)


cells = st.one_of(
    st.sampled_from(["", "QW", "mm", "in", "BA", "GB", "1921", "0.35", "1.8", "nut", "screw", "0", "-1", "1e9", "1,5"]),
    st.text(max_size=12),
    st.floats(allow_nan=True, allow_infinity=True).map(str),
)


@given(
    st.lists(st.dictionaries(st.sampled_from(NAMES), cells, max_size=6), min_size=1, max_size=4),
    st.sampled_from(",;\t"),
)
def test_any_cells_are_read_or_refused_with_their_place(changes: list[dict[str, str]], separator: str) -> None:
    rows = [{**dict.fromkeys(NAMES, ""), **BASE, "size": f"S{i}", **change} for i, change in enumerate(changes)]
    try:
        own = read_table(table(*rows, separator=separator))
    except OwnTableError as error:
        for fault in error.faults:
            assert "\n" not in str(fault)
            assert fault.row is None or fault.row >= 2
            assert fault.column is None or fault.column in NAMES
        return
    for entry in own.entries:
        assert entry.classes
        assert entry.internal_classes
        for limits in entry.own:
            zone = limits.zone
            assert 0 < zone.basic_minor < zone.basic_pitch_diameter < zone.basic_major
            for low, high in (zone.major, zone.pitch_diameter, zone.minor):
                assert low is None or high is None or low < high
            if not limits.internal:
                assert None not in zone.major + zone.pitch_diameter


@given(st.floats(1e-6, 1e6), st.sampled_from(",;\t"))
def test_numbers_come_back(value: float, separator: str) -> None:
    text = f"{value:.9f}"
    assert number_of(text, separator) == pytest.approx(value, abs=1e-9)
    comma = number_of(text.replace(".", ","), separator)
    assert comma is None if separator == "," else comma == pytest.approx(value, abs=1e-9)
