"""The series tables: names, sizes, and that each row says where it comes from."""

import csv
from fractions import Fraction
from importlib.resources import files

import pytest

from threads.forms import FORMS
from threads.series import UnknownSeriesError, entries, series_info, series_names
from threads.table import FROM_MEMORY, is_unverified, join_sources, rows

TABLES = sorted(path.name for path in files("threads").joinpath("data").iterdir() if path.name.endswith(".csv"))


def test_the_names_are_those_of_the_trade():
    names = series_names()
    assert names[:3] == ("UNC", "UNF", "UNEF")
    wanted = {"NC", "NF", "M", "M fine", "BA", "BSW", "BSF", "BSB", "BSC", "ME", "SI", "SF", "DIN", "VSM"}
    assert wanted | {"Lowenherz", "Thury"} <= set(names)


@pytest.mark.parametrize("name", TABLES)
def test_every_row_of_every_table_says_where_it_comes_from(name):
    with files("threads").joinpath("data", name).open(encoding="utf-8") as table:
        lines = list(csv.DictReader(table))
    assert lines
    for line in lines:
        assert len(line["source"]) > 10
        assert None not in line.values()
        assert None not in line


@pytest.mark.parametrize(
    ("name", "count", "first", "last"),
    [
        ("UNC", 14, "1-64", "1/2-13"),
        ("UNF", 15, "0-80", "1/2-20"),
        ("UNEF", 6, "12-32", "1/2-28"),
        ("NC", 14, "1-64", "1/2-13"),
        ("NF", 15, "0-80", "1/2-20"),
        ("M", 29, "M1x0.25", "M30x3.5"),
        ("M fine", 64, "M1x0.2", "M30x1"),
        ("BA", 26, "0", "25"),
        ("BSW", 17, "1/16-60", "1-8"),
        ("BSF", 14, "3/16-32", "1-10"),
        ("BSB", 12, "1/8-26", "1-26"),
        ("BSC", 29, "0.056-62", "1.4375-24"),
        ("ME", 16, "1/8-40", "1/2-32"),
        ("SI", 53, "1x0.25", "24x2"),
        ("SF", 14, "3x0.5", "30x3.5"),
        ("DIN", 46, "1x0.25", "16x1.5"),
        ("VSM", 14, "6x1", "27x3"),
        ("Lowenherz", 31, "1", "40"),
        ("Thury", 30, "-4", "25"),
    ],
)
def test_each_series_is_complete(name, count, first, last):
    listed = entries(name)
    assert (len(listed), listed[0].size, listed[-1].size) == (count, first, last)
    assert len({entry.size for entry in listed}) == count


def test_all_series_together():
    assert entries() == tuple(entry for name in series_names() for entry in entries(name))
    assert entries() is entries()


@pytest.mark.parametrize("entry", entries(), ids=lambda entry: f"{entry.series} {entry.size}")
def test_an_entry_agrees_with_its_own_name(entry):
    info = series_info(entry.series)
    assert entry.form in FORMS
    assert entry.form == info.form
    assert entry.standard == info.standard
    assert (entry.first_year, entry.last_year, entry.countries) == (info.first_year, info.last_year, info.countries)
    assert entry.classes
    assert entry.internal_classes
    if entry.major_in is None:
        assert entry.threads_per_inch is None
        if entry.series in ("BA", "Thury"):
            assert entry.size.lstrip("-").isdecimal()
        elif entry.series == "Lowenherz":
            assert entry.size == f"{entry.major_mm:g}"
        else:
            assert entry.size.removeprefix("M") == f"{entry.major_mm:g}x{entry.pitch_mm:g}"
    else:
        diameter, threads = entry.size.rsplit("-", 1)
        if entry.form in ("Whitworth", "Cycle") or "/" in diameter or "." in diameter:
            inch = float(Fraction(diameter))
        else:  # number sizes: 0.060 in + 0.013 in per number
            inch = 0.060 + 0.013 * int(diameter)
        assert entry.major_in == pytest.approx(inch, abs=1e-9)
        assert entry.major_mm == entry.major_in * 25.4
        assert entry.threads_per_inch == float(threads)
        assert entry.pitch_mm == 25.4 / float(threads)


def test_american_national_and_unified_share_their_sizes():
    for old, new in (("NC", "UNC"), ("NF", "UNF")):
        assert [(e.size, e.major_in) for e in entries(old)] == [(e.size, e.major_in) for e in entries(new)]


def test_coarse_is_coarser_than_fine():
    coarse = {entry.major_mm: entry.pitch_mm for entry in entries("M")}
    for entry in entries("M fine"):
        nearest = min(coarse, key=lambda major: abs(major - entry.major_mm))  # M15 and others have no coarse pitch
        assert entry.pitch_mm < coarse[nearest]


def test_years_and_countries_are_given_and_marked_as_recollection():
    for name in series_names():
        info = series_info(name)
        assert info.last_year is None or info.last_year > info.first_year
        assert info.countries
        assert all(len(code) == 2 and code.isupper() for code in info.countries)
        assert info.unverified
        assert info.source.startswith(FROM_MEMORY)
    assert (series_info("NC").first_year, series_info("NC").last_year) == (1924, 1960)
    assert (series_info("UNC").first_year, series_info("UNC").last_year) == (1949, None)


def test_a_name_is_found_whatever_its_case_and_spaces():
    assert series_info(" m  FINE ").name == "M fine"
    assert entries("unc") == entries("UNC")


@pytest.mark.parametrize("call", [entries, series_info])
def test_an_unknown_series_names_the_nearest(call):
    with pytest.raises(UnknownSeriesError, match="UNC") as caught:
        call("UNQ")
    assert "UNC" in caught.value.nearest
    with pytest.raises(UnknownSeriesError, match="known: UNC"):
        call("%%%")


def test_sources_from_memory_come_first_and_once():
    memory = f"{FROM_MEMORY}: the rule"
    assert join_sources("a table", "", memory, "a table") == f"{memory}; a table"
    assert is_unverified(join_sources("a table", memory))
    assert not is_unverified(join_sources("a table"))


def test_the_rows_that_are_from_memory_are_marked_row_by_row():
    marked = {
        (row["threads_per_inch"], row["class"])
        for row in rows("american_national_tolerances.csv")
        if is_unverified(row["source"])
    }
    read = {(tpi, name) for tpi in ("80", "72", "64", "56", "48", "20") for name in ("2", "3")}
    everything = {(row["threads_per_inch"], row["class"]) for row in rows("american_national_tolerances.csv")}
    assert everything - marked == read
