"""A screw and a nut of the same size never overlap at maximum material: all series, all pairs of their classes."""

from hypothesis import given
from hypothesis import strategies as st

from tests.each import each
from threads.rules.table import FROM_MEMORY, ONE_LOOSE_SOURCE, rows
from threads.standards.designation import designation_of
from threads.standards.limits import limits_of
from threads.standards.series import entries, series_names

# What the standards themselves let overlap, mm. Unified tables print the nut's least minor diameter from 0.138 in up to
# 0.001 in, so that it can lie 0.0005 in below the greatest (reference) minor diameter of a screw with a flat root.
MINOR_DIAMETER_OVERLAP = dict.fromkeys(("UNC", "UNF", "UNEF", "UNS", "UN"), 0.0005 * 25.4)
ROUNDING = 1e-9  # mm


def overlaps(screw, nut):
    """By how much the greatest screw is larger than the least nut, mm: major, pitch and minor diameter."""
    pairs = ((screw.major, nut.major), (screw.pitch_diameter, nut.pitch_diameter), (screw.minor, nut.minor))
    return [outer.high - inner.low for outer, inner in pairs if outer.high is not None and inner.low is not None]


@each("series", series_names())
def test_no_class_of_screw_overlaps_a_class_of_nut(series):
    pairs = 0
    for entry in entries(series):
        screws = [limits_of(designation_of(entry, name, internal=False)) for name in entry.classes]
        nuts = [limits_of(designation_of(entry, name, internal=True)) for name in entry.internal_classes]
        for screw in screws:
            for nut in nuts:
                gaps = overlaps(screw, nut)
                assert len(gaps) == 3, (
                    f"{screw.designation} or {nut.designation} leaves out a limit at maximum material"
                )
                assert max(gaps[:2]) <= ROUNDING, (screw.designation, nut.designation, gaps)
                allowed = MINOR_DIAMETER_OVERLAP.get(series, 0.0)
                assert gaps[2] <= allowed + ROUNDING, (screw.designation, nut.designation, gaps)
                pairs += 1
    assert pairs >= len(entries(series))


UNIFIED = tuple(entry for name in MINOR_DIAMETER_OVERLAP for entry in entries(name))


@given(st.sampled_from(UNIFIED), st.sampled_from("123"), st.sampled_from("123"), st.floats(0.1, 10.0))
def test_nor_for_any_length_of_engagement_or_class_beyond_the_table(entry, screw_class, nut_class, diameters):
    length = diameters * entry.major_mm
    screw = limits_of(designation_of(entry, f"{screw_class}A", internal=False), engagement_mm=length)
    nut = limits_of(designation_of(entry, f"{nut_class}B", internal=True), engagement_mm=length)
    major, pitch_diameter, minor = overlaps(screw, nut)
    assert max(major, pitch_diameter) <= ROUNDING
    assert minor <= MINOR_DIAMETER_OVERLAP[entry.series] + ROUNDING


SERIES_TABLES = sorted({row["table"] for row in rows("series.csv")})


@each("table", [*SERIES_TABLES, "series.csv", "american_national_tolerances.csv"])
def test_a_row_from_memory_says_so_at_the_beginning_of_its_source(table):
    for row in rows(table):
        source = row["source"]
        remembered = any(word in source.lower() for word in ("memory", "unverified", "remember", "recall"))
        assert remembered == source.startswith((FROM_MEMORY, ONE_LOOSE_SOURCE)), source


def test_what_is_from_memory_stays_marked_in_the_limits():
    marked = {entry.series for entry in entries() if entry.unverified}
    assert {"ASME", "ASME special", "8N", "12N", "16N", "NEF", "NF"} <= marked
    for entry in entries():
        if entry.unverified:
            for name in entry.classes:
                assert limits_of(designation_of(entry, name, internal=False)).unverified
