"""Tolerance grades and positions of ISO 965-1: the table first, then the ratio of grades, then the formula."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from tests.each import each
from threads.rules.iso_metric import (
    _R40,
    ToleranceClass,
    diameter_range,
    fundamental_deviation,
    round_r40,
    tolerance,
    tolerance_by_formula,
    tolerance_class,
    zone,
)
from threads.rules.table import FROM_MEMORY, rows
from threads.standards.designation import parse
from threads.standards.limits import limits_of


@pytest.mark.parametrize(
    ("text", "expected"),
    [
        ("6g", ToleranceClass(6, "g", 6, "g")),
        ("5g6g", ToleranceClass(5, "g", 6, "g")),
        ("6H", ToleranceClass(6, "H", 6, "H")),
        ("4H5H", ToleranceClass(4, "H", 5, "H")),
        ("6k", None),  # no such position
        ("1g", None),  # no such grade
        ("5g", None),  # grade 5 exists for the pitch diameter, not for the major diameter
        ("6g6H", None),
        ("6", None),
        ("6g6g6g", None),
        ("", None),
    ],
)
def test_reads_a_class(text, expected):
    assert tolerance_class(text) == expected


def test_the_table_comes_first():
    # The rounded formula gives 78 -> 80 or 75, 135, 121.5: the printed values are these.
    assert tolerance("Td2", 6, 0.5, 3.0)[0] == 75
    assert tolerance("TD2", 6, 0.5, 3.0)[0] == 100
    assert tolerance("TD2", 6, 1.5, 10.0)[0] == 180
    assert tolerance("TD1", 6, 0.5, 3.0)[0] == 140
    assert fundamental_deviation("g", 0.75)[0] == -22
    assert "formula" not in tolerance("Td2", 6, 0.5, 3.0)[1]


def test_a_row_that_nobody_read_follows_from_grade_6_and_says_so():
    # 0.63 x 106 = 66.8, printed 67; 0.85 x 132 = 112.2 -> 112.
    assert tolerance("Td", 4, 0.5, 3.0)[0] == 67
    value, source = tolerance("TD2", 4, 1.25, 12.0)
    assert value == 112
    assert source.startswith("not read: grade 6 of this table")


def test_a_grade_that_the_standard_leaves_out_follows_from_grade_6_and_says_so():
    # 1.32 x 53 = 69.96, to R40.
    value, source = tolerance("TD2", 6, 0.25, 1.0)
    assert value == 71
    assert source.startswith("ISO 965-1 leaves out TD2 grade 6 for P 0.25")


def test_beyond_the_table_the_formula_serves_and_is_marked():
    value, source = tolerance("Td2", 6, 5.0, 48.0)
    assert value == pytest.approx(250, rel=0.07)  # tables print 0.25 mm for M48x5: one step of R40 at most between
    assert source.startswith(FROM_MEMORY)
    value, source = fundamental_deviation("e", 4.0)
    assert (value, source.startswith(FROM_MEMORY)) == (-94, True)
    assert fundamental_deviation("h", 4.0) == (0.0, "")
    with pytest.raises(ValueError, match="no diameter step"):
        diameter_range(91.0)
    with pytest.raises(ValueError, match="no diameter step"):
        zone(0.5, 0.125, ToleranceClass(6, "g", 6, "g"))


@pytest.mark.parametrize(
    ("major", "step"),
    [(1.0, (0.99, 1.4)), (1.4, (0.99, 1.4)), (1.6, (1.4, 2.8)), (5.6, (2.8, 5.6)), (12, (11.2, 22.4))],
)
def test_diameter_steps_are_over_and_up_to(major, step):
    assert diameter_range(major) == step


@each("row", rows("iso_tolerances.csv"))
def test_the_formula_keeps_within_one_step_of_the_table(row):
    # One R40 step is 5.6 % to 7.2 %; whole micrometres add to it for the smallest.
    major = float(row["up_to_mm"] or 3.0)
    by_formula = tolerance_by_formula(row["tolerance"], int(row["grade"]), float(row["pitch_mm"]), major)
    assert by_formula == pytest.approx(float(row["value_um"]), rel=0.075, abs=1.0)


@each("row", rows("iso_fundamental_deviations.csv"))
def test_deviations_in_the_table_follow_their_formula(row):
    base = {"g": 15, "G": 15, "f": 30, "e": 50}[row["position"]]
    by_formula = base + 11 * float(row["pitch_mm"])
    assert abs(float(row["deviation_um"])) == pytest.approx(by_formula, rel=0.1)
    assert (float(row["deviation_um"]) > 0) == row["position"].isupper()


@given(st.floats(1.0, 1e4))
def test_r40_is_the_nearest_preferred_number(value):
    # Steps of R40 are up to 7.2 %: no value is further away than half of that, plus half a micrometre of rounding.
    rounded = round_r40(value)
    assert rounded == int(rounded)
    assert abs(rounded - value) <= 0.036 * value + 0.5


def test_r40_numbers_are_those_of_the_series():
    assert len(_R40) == 41
    assert all(step == pytest.approx(10 ** (index / 40), rel=0.013) for index, step in enumerate(_R40))
    assert [round_r40(value) for value in (52.9, 54.4, 55, 1000, 33.5, 42.5)] == [53, 53, 56, 1000, 34, 42]


def test_grade_and_position_may_differ_between_the_diameters():
    mixed = zone(3.0, 0.5, ToleranceClass(4, "g", 6, "g"))
    whole = zone(3.0, 0.5, ToleranceClass(6, "g", 6, "g"))
    assert mixed.major == whole.major
    assert mixed.pitch_diameter == (2.607, 2.655)
    assert whole.pitch_diameter == (2.580, 2.655)


def test_every_grade_of_the_pitch_diameter_is_wider_than_the_one_below():
    for size in ("M3", "M6", "M10", "M20", "M30"):
        widths = []
        for name in ("3g6g", "4g6g", "5g6g", "6g", "7g6g"):
            band = limits_of(parse(f"{size}-{name}")).pitch_diameter
            widths.append(band.high - band.low)
        assert widths == sorted(set(widths))
