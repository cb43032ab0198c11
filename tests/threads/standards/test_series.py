"""The series tables: names, sizes, and that each row says where it comes from."""

import csv
import re
from fractions import Fraction
from importlib.resources import files

import pytest

from tests.each import each
from tests.refused import refused
from threads.rules.forms import FORMS
from threads.rules.table import FROM_MEMORY, is_unverified, join_sources, rows
from threads.standards.series import UnknownSeriesError, entries, series_info, series_names
from threads.standards.trade_names import NUMBERED

TABLES = sorted(path.name for path in files("threads").joinpath("data").iterdir() if path.name.endswith(".csv"))


def test_the_names_are_those_of_the_trade():
    names = series_names()
    assert names[:3] == ("UNC", "UNF", "UNEF")
    wanted = {"NC", "NF", "M", "M fine", "BA", "BSW", "BSF", "BSB", "BSC", "ME", "SI", "SF", "DIN", "VSM"}
    assert wanted | {"Lowenherz", "Thury"} <= set(names)


@each("name", TABLES)
def test_every_row_of_every_table_says_where_it_comes_from(name):
    with files("threads").joinpath("data", name).open(encoding="utf-8") as table:
        lines = list(csv.DictReader(table))
    assert lines
    for line in lines:
        assert len(line["source"]) > 10
        assert None not in line.values()
        assert None not in line


@each(
    ("name", "count", "first", "last"),
    [
        ("UNC", 21, "1-64", "1.25-7"),
        ("UNF", 22, "0-80", "1.25-12"),
        ("UNEF", 18, "12-32", "1.25-18"),
        ("UNS", 65, "0000-160", "1.125-44"),
        ("UN", 44, "5/16-20", "1.25-8"),
        ("UNM", 14, "0.30", "1.40"),
        ("NC", 21, "1-64", "1.25-7"),
        ("NF", 22, "0-80", "1.25-12"),
        ("NEF", 14, "12-32", "1-20"),
        ("NS", 39, "1-56", "3/8-27"),
        ("8N", 2, "1.125-8", "1.25-8"),
        ("12N", 8, "1/2-12", "1-12"),
        ("16N", 4, "13/16-16", "1-16"),
        ("ASME", 21, "0-80", "30-14"),
        ("ASME special", 27, "1-64", "30-16"),
        ("S", 14, "0.3", "1.4"),
        ("M", 33, "M1x0.25", "M42x4.5"),
        ("M fine", 87, "M1x0.2", "M42x1"),
        ("M optics", 32, "M19x0.5", "M77x0.75"),
        ("BA", 26, "0", "25"),
        ("BSW", 17, "1/16-60", "1-8"),
        ("BSF", 15, "3/16-32", "1-10"),
        ("BSB", 15, "1/8-26", "1-1/2-26"),
        ("BSC", 33, "0.056-62", "3/4-20"),
        ("ME", 16, "1/8-40", "1/2-32"),
        ("SI", 27, "6x1", "24x2"),
        ("SI small", 25, "1x0.25", "5x0.5"),
        ("JIS", 9, "3x0.6", "16x1.5"),
        ("FR", 4, "2.5x0.45", "5x0.9"),
        ("SF", 14, "3x0.5", "30x3.5"),
        ("DIN", 46, "1x0.25", "16x1.5"),
        ("VSM", 14, "6x1", "27x3"),
        ("Lowenherz", 31, "1", "40"),
        ("Thury", 30, "-4", "25"),
        ("WP", 18, "0", "17"),
        ("RMS", 1, "RMS", "RMS"),
        ("Lens", 1, "39x26", "39x26"),
        ("G", 9, "1/16", "1"),
        ("IP", 3, "1/8", "3/8"),
        ("SM", 5, "9/64-40", "15/64-28"),
        ("V", 35, "1/4-18", "1-9"),
    ],
)
def test_each_series_is_complete(name, count, first, last):
    listed = entries(name)
    assert (len(listed), listed[0].size, listed[-1].size) == (count, first, last)
    assert len({entry.size for entry in listed}) == count


def test_all_series_together():
    assert entries() == tuple(entry for name in series_names() for entry in entries(name))
    assert entries() is entries()


@each("entry", entries())
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
        if entry.series in NUMBERED:
            assert entry.size.lstrip("-").isdecimal()
        elif entry.series == "G":
            assert re.fullmatch(r"\d+(/\d+)?", entry.size)
        elif entry.series in ("Lowenherz", "S"):
            assert entry.size == f"{entry.major_mm:g}"
        elif entry.series == "UNM":
            assert entry.size == f"{entry.major_mm:.2f}"
        else:
            assert entry.size.removeprefix("M") == f"{entry.major_mm:g}x{entry.pitch_mm:g}"
    elif entry.series not in ("RMS", "Lens", "IP"):  # their sizes are names
        diameter, threads = entry.size.rsplit("-", 1)
        if entry.form in ("Whitworth", "Cycle", "Sharp V") or "/" in diameter or "." in diameter:
            inch = sum(float(Fraction(part)) for part in diameter.split("-"))
        elif diameter == "1" and float(threads) < 40:  # one inch; the number 1 has 56, 64 and 72 threads per inch
            inch = 1.0
        else:  # number sizes: 0.060 in + 0.013 in per number, 00 and so on downwards
            number = 1 - len(diameter) if set(diameter) == {"0"} else int(diameter)
            inch = 0.060 + 0.013 * number
        assert entry.major_in == pytest.approx(inch, abs=1e-9)
        assert entry.major_mm == entry.major_in * 25.4
        assert entry.threads_per_inch == float(threads)
        assert entry.pitch_mm == 25.4 / float(threads)


def test_american_national_and_unified_share_their_sizes():
    for old, new in (("NC", "UNC"), ("NF", "UNF"), ("NEF", "UNEF")):
        before = {(e.size, e.major_in) for e in entries(old)}
        since = {(e.size, e.major_in) for e in entries(new)}
        # the fine thread of 1 in. went from 14 to 12 threads per inch; NEF is listed up to 1 in.
        assert before - since == ({("1-14", 1.0)} if old == "NF" else set())
        assert {e for e in since - before if e[1] <= 1} == ({("1-12", 1.0)} if old == "NF" else set())


def test_a_size_stands_in_one_of_the_related_series_only():
    for family in (("UNC", "UNF", "UNEF", "UNS", "UN"), ("NC", "NF", "NEF", "NS", "8N", "12N", "16N"),
                   ("ASME", "ASME special")):  # fmt: skip
        sizes = [(e.major_in, e.threads_per_inch) for name in family for e in entries(name)]
        assert len(set(sizes)) == len(sizes)


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
    with refused(UnknownSeriesError, match="UNF") as caught:
        call("UNFF")
    assert "UNF" in caught.value.nearest
    with refused(UnknownSeriesError, match="known: UNC"):
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
