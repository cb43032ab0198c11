"""Three-wire sizes against printed tables and worked examples, to the last digit given.

The tables leave the lead angle out, so they are compared with the classical formula without its term; the tests in
``tests/threads`` tie that formula to the exact measurement.
"""

from __future__ import annotations

import math

import pytest

from tests.each import each
from threads.judge.wires import best_wire, over_wires_by_series, usable_wires
from threads.rules.forms import FORMS
from threads.rules.rounding import round_to

COT = {half: 1 / math.tan(math.radians(half)) for half in (30.0, 27.5, 23.75)}

# Machinery's Handbook, 31st ed., p. 2130, "Dimensions Over Wires of Given Diameter": wire, then diameter-threads per
# inch with the dimension over wires of the V thread and of the U.S. Standard thread (American National form), inches.
HANDBOOK_OVER_WIRES = """
0.035 1/4-18 0.2588 0.2708
0.035 1/4-20 0.2684 0.2792
0.035 1/4-22 0.2763 0.2861
0.035 1/4-24 0.2828 0.2919
0.035 5/16-18 0.3213 0.3333
0.035 5/16-20 0.3309 0.3417
0.035 5/16-22 0.3388 0.3486
0.035 5/16-24 0.3453 0.3544
0.040 3/8-16 0.3867 0.4003
0.040 3/8-18 0.3988 0.4108
0.040 3/8-20 0.4084 0.4192
0.050 7/16-14 0.4638 0.4793
0.050 7/16-16 0.4792 0.4928
0.050 1/2-12 0.5057 0.5237
0.050 1/2-13 0.5168 0.5334
0.050 1/2-14 0.5263 0.5418
0.050 9/16-12 0.5682 0.5862
0.050 9/16-14 0.5888 0.6043
0.070 5/8-10 0.6618 0.6835
0.070 5/8-11 0.6775 0.6972
0.070 5/8-12 0.6907 0.7087
0.070 11/16-10 0.7243 0.7460
0.070 11/16-11 0.7400 0.7597
0.070 3/4-10 0.7868 0.8085
0.070 3/4-11 0.8025 0.8222
0.070 3/4-12 0.8157 0.8337
0.090 7/8-8 0.9285 0.9556
0.090 7/8-9 0.9525 0.9766
0.090 7/8-10 0.9718 0.9935
0.090 15/16-8 0.9910 1.0181
0.090 15/16-9 1.0150 1.0391
0.090 1-8 1.0535 1.0806
0.090 1-9 1.0775 1.1016
0.090 9/8-7 1.1476 1.1785
0.090 5/4-7 1.2726 1.3035
0.150 11/8-6 1.5363 1.5724
0.150 3/2-6 1.6613 1.6974
0.150 13/8-5.5 1.7601 1.7995
0.150 7/4-5 1.8536 1.8969
0.150 15/8-5 1.9786 2.0219
0.150 2-4.5 2.0651 2.1132
0.150 9/4-4.5 2.3151 2.3632
0.150 5/2-4 2.5170 2.5711
0.200 3-3.5 3.1051 3.1670
0.200 13/4-3.5 3.3551 3.4170
0.250 7/2-3.25 3.7171 3.7837
0.250 15/4-3 3.9226 3.9948
0.250 4-3 4.1726 4.2448
0.250 17/4-2.875 4.3975 4.4729
0.250 9/2-2.75 4.6202 4.6989
""".strip().splitlines()


@each("row", HANDBOOK_OVER_WIRES)
def test_dimensions_over_wires_of_the_handbook(row: str) -> None:
    wire, size, sharp, flat = row.split()
    diameter, threads = size.split("-")
    numerator, _, denominator = diameter.partition("/")
    major, pitch = int(numerator) / int(denominator or 1), 1 / float(threads)
    over_sharp = over_wires_by_series(major - 0.8660254 * pitch, float(wire), pitch, 30.0, starts=0)
    assert round_to(over_sharp, 4) == float(sharp)
    # The handbook takes the factor of the U.S. form as 1.5155, where it is 1.51554446: that shows in the fourth decimal
    # of some coarse pitches.
    over_flat = over_wires_by_series(major - 0.64951905 * pitch, float(wire), pitch, 30.0, starts=0)
    assert round_to(over_flat + (1.51554446 - 1.5155) * pitch, 4) == float(flat)
    assert over_flat == pytest.approx(float(flat), abs=0.00005 + 0.00004446 * pitch)


# Machinery's Handbook, 31st ed., p. 2129, "Values of Constants Used in Formulas for Measuring Pitch Diameters of Screws
# by the Three-wire System": threads per inch, 0.866025 p and 0.9605 p (Whitworth).
HANDBOOK_CONSTANTS = """
18 0.04811 0.05336
20 0.04330 0.04803
22 0.03936 0.04366
24 0.03608 0.04002
26 0.03331 0.03694
28 0.03093 0.03430
30 0.02887 0.03202
32 0.02706 0.03002
34 0.02547 0.02825
36 0.02406 0.02668
38 0.02279 0.02528
40 0.02165 0.02401
42 0.02062 0.02287
44 0.01968 0.02183
46 0.01883 0.02088
48 0.01804 0.02001
50 0.01732 0.01921
52 0.01665 0.01847
56 0.01546 0.01715
60 0.01443 0.01601
64 0.01353 0.01501
68 0.01274 0.01412
72 0.01203 0.01334
80 0.01083 0.01201
""".strip().splitlines()


@each("row", HANDBOOK_CONSTANTS)
def test_constants_of_the_handbook(row: str) -> None:
    threads, american, whitworth = row.split()
    pitch = 1 / int(threads)
    # by this much a measurement over wires of no diameter is below the pitch diameter
    assert round_to(1 - over_wires_by_series(1.0, 0.0, pitch, 30.0, starts=0), 5) == float(american)
    ours = 1 - over_wires_by_series(1.0, 0.0, pitch, 27.5, starts=0)
    if threads == "20":  # 0.0480246: the handbook rounded the factor 0.960491 to 0.9605 before
        ours = round_to(ours / pitch, 4) * pitch
    assert round_to(ours, 5) == float(whitworth)


def test_a_lathe_textbook_of_1914() -> None:
    """F. D. Jones, Turning and Boring (1914): 1 1/2 in, 6 threads, wires of 0.140 in; U.S. Standard: 1.6674 in."""
    pitch = 1 / 6
    assert round_to(over_wires_by_series(1.5 - 0.64951905 * pitch, 0.140, pitch, 30.0, starts=0), 4) == 1.6674
    # The same book: m = d - 1.5155 p + 3 w; V thread d - 1.732 p + 3 w; Whitworth d - 1.6008 p + 3.1657 w.
    assert round_to(0.64951905 + COT[30.0] / 2, 4) == 1.5155
    assert round_to(0.8660254 + COT[30.0] / 2, 3) == 1.732
    assert round_to(0.640327 + COT[27.5] / 2, 4) == 1.6008
    assert round_to(over_wires_by_series(0.0 + 1, 1.0, 0.0, 27.5, starts=0) - 1, 4) == 3.1657


def test_a_machinists_worked_example() -> None:
    """Notes of a society of model engineers: 7/16-14, wires of 0.045 in, 0.464 in over wires."""
    over = over_wires_by_series(0.4375 - 0.64951905 / 14, 0.045, 1 / 14, 30.0, starts=0)
    assert round_to(over, 3) == 0.464


# A thread measuring service's page on wires for 60 degree threads (after ANSI/ASME B1.2): threads per inch, best wire.
BEST_WIRES = {80: 0.00722, 72: 0.00802, 64: 0.00902}


@pytest.mark.parametrize("threads", BEST_WIRES)
def test_best_wires(threads: int) -> None:
    assert round_to(best_wire(1 / threads, 30.0), 5) == BEST_WIRES[threads]


def test_least_best_and_greatest_wires() -> None:
    """The same page, and a thread gauge maker's notes (2015): multiples of the pitch."""
    least, greatest = usable_wires(FORMS["American National"], 1.0)
    assert round_to(least, 5) == round_to(0.505182, 5)  # 0.50518149: the same
    assert greatest == pytest.approx(1.010363, abs=0.6e-6)
    assert round_to(best_wire(1.0, 30.0), 5) == 0.57735
    assert round_to(best_wire(1.0, 27.5), 5) == round_to(
        0.563692, 5
    )  # 0.56369097: its sixth place is printed a unit off
    least, greatest = usable_wires(FORMS["Whitworth"], 1.0)
    assert round_to(least, 5) == 0.50568
    # Printed 0.82573, with two digits changed over: at 0.85272 p the wire touches where the rounding begins.
    assert round_to(greatest, 5) == 0.85272


def test_factors_of_the_handbooks() -> None:
    """Machinery's Handbook, 31st ed., p. 2129: 60 degrees M + 0.86603 p - 3 w; Whitworth M + 0.9605 p - 3.1657 w.

    British Association: a university's lecture notes give 1.13634 p and 3.4829 w.
    """
    for half, per_pitch, places, per_wire in (
        (30.0, 0.86603, 5, 3.0),
        (27.5, 0.9605, 4, 3.1657),
        (23.75, 1.13634, 5, 3.4829),
    ):
        assert round_to(1 - over_wires_by_series(1.0, 0.0, 1.0, half, starts=0), places) == per_pitch
        assert over_wires_by_series(1.0, 1.0, 0.0, half, starts=0) - 1 == pytest.approx(per_wire, abs=0.00006)
