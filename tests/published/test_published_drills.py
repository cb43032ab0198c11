"""Drills, percentages of thread and tap limits against printed tables."""

from __future__ import annotations

import pytest

from tests.each import each
from threads.rules.forms import FORMS
from threads.standards.designation import parse
from threads.standards.limits import limits_of
from threads.workshop.drill_sizes import LETTER, NUMBER, drills
from threads.workshop.tap_drill import hole_of_percent, tap_drill, thread_percent
from threads.workshop.tools import tools_of

# Machinery's Handbook, 31st ed., p. 2168, Table 4 (taps of American National form): decimal equivalents of the drills.
HANDBOOK_DECIMALS = (
    0.0469, 0.0625, 0.0635, 0.0730, 0.0890, 0.1015, 0.1160, 0.1250, 0.1285, 0.1406, 0.1470, 0.1570, 0.1610, 0.1770,
    0.1890, 0.1935, 0.2010, 0.2090, 0.2130, 0.2570, 0.2656, 0.2720, 0.2770, 0.2812, 0.3125, 0.3281, 0.3320, 0.3390,
    0.3680, 0.3906, 0.3970, 0.4040, 0.4219, 0.4531, 0.4844, 0.5156, 0.5312, 0.5469, 0.5781, 0.6250, 0.6562, 0.6719,
    0.6875, 0.7656, 0.7969, 0.8125, 0.8281, 0.8437, 0.8750, 0.9219, 0.9375, 0.9844, 1.0469, 1.1094, 1.1719, 1.2187,
)  # fmt: skip


@each("decimal", HANDBOOK_DECIMALS)
def test_decimal_equivalents_of_the_handbook(decimal: float) -> None:
    # sixty-fourths are printed to four places, a half now up (0.2656), now down (0.2812)
    assert any(abs(drill.diameter_mm / 25.4 - decimal) < 0.00007 for drill in drills())


# The same handbook, p. 2155, Table 2: drills by number and their decimal equivalents.
HANDBOOK_NUMBERS = {53: 0.0595, 52: 0.0635, 50: 0.0700, 49: 0.0730, 47: 0.0785, 46: 0.0810, 45: 0.0820, 44: 0.0860,
                    43: 0.0890, 42: 0.0935}  # fmt: skip


@pytest.mark.parametrize("number", HANDBOOK_NUMBERS)
def test_number_drills_of_the_handbook(number: int) -> None:
    drill = next(drill for drill in drills() if drill.name == f"No. {number}")
    assert round(drill.diameter_mm / 25.4, 4) == HANDBOOK_NUMBERS[number]
    assert drill.kind == NUMBER


# A public-domain table of drill sizes, v.2, 2007: number, millimetres as it rounds them.
MILLIMETRES = {
    80: 0.343, 79: 0.368, 78: 0.406, 77: 0.457, 76: 0.508, 75: 0.533, 74: 0.572, 73: 0.610, 72: 0.635, 71: 0.660,
    70: 0.711, 69: 0.742, 68: 0.787, 67: 0.813, 66: 0.838, 65: 0.889, 64: 0.914, 63: 0.940, 62: 0.965, 61: 0.991,
    60: 1.016, 59: 1.041, 58: 1.067, 57: 1.092, 56: 1.181, 55: 1.321, 54: 1.397, 53: 1.511,
}  # fmt: skip


@each("number", MILLIMETRES)
def test_number_drills_in_millimetres(number: int) -> None:
    drill = next(drill for drill in drills() if drill.name == f"No. {number}")
    assert drill.diameter_mm == pytest.approx(MILLIMETRES[number], abs=0.000501)


def test_letters_of_a_magazine() -> None:
    """An article on drill sizes (2025): A is 0.234 in, Z 0.413 in; No. 80 0.0135 in, No. 1 0.228 in."""
    by_name = {drill.name: drill for drill in drills()}
    assert by_name["letter A"].kind == LETTER
    for name, inches in (("letter A", 0.234), ("letter Z", 0.413), ("No. 80", 0.0135), ("No. 1", 0.228)):
        assert by_name[name].diameter_mm == pytest.approx(inches * 25.4)


# The same handbook, p. 2155: threads, drill in inches and percentage of full thread. No rounding of (D - hole) over
# 1.299 p gives all of its percentages: they are up to 1.5 away from it, some up and some down. So much is allowed here.
HANDBOOK_PERCENTAGES = """
0-80 0.0512 54
0-80 0.0492 68
0-80 0.0472 79
1-64 0.0625 51
1-64 0.0610 59
1-64 0.0595 66
1-64 0.0590 69
1-64 0.0571 77
1-72 0.0635 53
1-72 0.0625 58
1-72 0.0610 66
1-72 0.0595 75
1-72 0.0590 77
2-56 0.0730 56
2-56 0.0709 65
2-56 0.0700 69
2-56 0.0689 74
2-64 0.0748 55
2-64 0.0730 64
2-64 0.0728 65
2-64 0.0709 74
2-64 0.0700 79
3-48 0.0846 53
3-48 0.0827 60
3-48 0.0820 63
3-48 0.0810 66
3-48 0.0785 76
3-48 0.0781 77
""".strip().splitlines()


@each("row", HANDBOOK_PERCENTAGES)
def test_percentages_of_the_handbook(row: str) -> None:
    size, hole, percent = row.split()
    number, threads = size.split("-")
    found = thread_percent(FORMS["UN"], 0.060 + 0.013 * int(number), 1 / int(threads), float(hole))
    assert found == pytest.approx(float(percent), abs=1.5)


def test_a_model_engineers_example() -> None:
    """A model engineer's web page: M6, a hole of 4.77 mm leaves 100 % of thread, 5 mm 82 %.

    It counts the depth of the external thread, 1.227 p, as the full one; Machinery's Handbook and we count 1.299 p.
    """
    depth = (6 - 4.77) / 2
    assert (6 - 5) / 2 / depth == pytest.approx(0.82, abs=0.01)
    assert thread_percent(FORMS["ISO metric"], 6.0, 1.0, 5.0) == pytest.approx(82 * 1.227 / 1.299, abs=0.6)


def test_a_web_example_of_percentages() -> None:
    """A web page on tap drills: 1/4-20 at 75 % is 0.2013 in, drill No. 7 (0.201 in); it takes 0.0130 p a per cent."""
    assert hole_of_percent(FORMS["UN"], 0.25, 0.05, 75) == pytest.approx(0.2013, abs=0.00006)
    drill = tap_drill(limits_of(parse("1/4-20 UNC-2B")))
    assert drill is not None
    assert "No. 7" in [choice.drill.name for choice in drill.recommended]


# A public chart of drills for 75 % of thread: drill of the number and letter series.
CHART = {
    "1-72 UNF": "No. 53", "4-40 UNC": "No. 43", "8-32 UNC": "No. 29", "8-36 UNF": "No. 29", "10-24 UNC": "No. 25",
    "10-32 UNF": "No. 21", "1/4-20 UNC": "No. 7", "1/4-28 UNF": "No. 3",
}  # fmt: skip


@pytest.mark.parametrize("thread", CHART)
def test_drills_of_a_chart(thread: str) -> None:
    drill = tap_drill(limits_of(parse(f"{thread}-2B")))
    assert drill is not None
    assert CHART[thread] in [choice.drill.name for choice in drill.recommended]


# A public list of tap drills for ISO metric coarse threads, millimetres.
METRIC_CHART = {"M1.6": 1.25, "M2": 1.6, "M2.5": 2.05, "M3": 2.5, "M4": 3.3, "M5": 4.2, "M6": 5.0}


@pytest.mark.parametrize("thread", METRIC_CHART)
def test_metric_drills_of_a_chart(thread: str) -> None:
    drill = tap_drill(limits_of(parse(f"{thread}-6H")))
    assert drill is not None
    assert drill.recommended[0].drill.diameter_mm == METRIC_CHART[thread]


# A tap maker's catalogue, 2017: 1/4-20 has a basic pitch diameter of 0.2175 in; H3 ends at 0.2190 in, H5 at 0.2200 in.
@pytest.mark.parametrize(("thread_class", "limit", "top"), [("3B", "H3", "0.2190"), ("2B", "H5", "0.2200")])
def test_limits_of_ground_taps(thread_class: str, limit: str, top: str) -> None:
    tools = tools_of(limits_of(parse(f"1/4-20 UNC-{thread_class}")))
    assert tools.tap_class == limit
    assert any(f"to {top} in" in note for note in tools.notes)
