"""The tightest and the loosest fit of published classes, put together by the contact model.

Unified: an online engineering reference, "Unified Screw Threads, Standard Series", and Machinery's Handbook, 31st ed.
(allowance, greatest and least pitch diameter of screw 2A and nut 2B), inches. American National class 1: allowances of
NBS Handbook H28, from memory, unverified. That a diameter counts tan(half angle) along the axis, 0.57735 for 60
degrees, is the factor between the diameter and the axial width of a groove that the three-wire formulas of the same
handbook are built on.
"""

from __future__ import annotations

import math

import numpy as np
import pytest

from threads.standards.designation import parse
from threads.standards.limits import limits_of
from threads.workshop.contact import MatedThreads, axial_backlash, radial_clearance

INCH = 25.4
# size, allowance, pitch diameter of the screw: max, min, of the nut: min, max
ROWS = """
0-80 UNF 0.0005 0.0514 0.0496 0.0519 0.0542
1-64 UNC 0.0006 0.0623 0.0603 0.0629 0.0655
1-72 UNF 0.0006 0.0634 0.0615 0.0640 0.0665
2-56 UNC 0.0006 0.0738 0.0717 0.0744 0.0772
2-64 UNF 0.0006 0.0753 0.0733 0.0759 0.0786
4-40 UNC 0.0008 0.0950 0.0925 0.0958 0.0991
10-32 UNF 0.0009 0.1688 0.1658 0.1697 0.1736
1/4-20 UNC 0.0011 0.2164 0.2127 0.2175 0.2224
""".strip().splitlines()


def fit(screw: float, hole: float) -> MatedThreads:
    """A screw and a hole of these pitch diameters, inches, clear at crests and roots."""
    one = np.ones(1)
    return MatedThreads(
        (screw + 0.01) * INCH * one, screw * INCH * one, None, None, hole * INCH * one, None, 30.0, 10.0
    )


@pytest.mark.parametrize("row", ROWS)
def test_tightest_and_loosest_fit_of_2a_in_2b(row: str) -> None:
    size, series, *numbers = row.split()
    allowance, screw_max, screw_min, nut_min, nut_max = map(float, numbers)
    screw, nut = limits_of(parse(f"{size} {series}-2A")), limits_of(parse(f"{size} {series}-2B"))
    ours = (screw.pitch_diameter.high, screw.pitch_diameter.low, nut.pitch_diameter.low, nut.pitch_diameter.high)
    assert [round((one or 0) / INCH, 4) for one in ours] == [screw_max, screw_min, nut_min, nut_max]
    tight, loose = fit(screw_max, nut_min), fit(screw_min, nut_max)
    assert radial_clearance(tight)[0] / INCH == pytest.approx(allowance / 2, abs=1e-7)
    assert axial_backlash(tight)[0] / INCH == pytest.approx(0.57735 * allowance, abs=1e-7)
    assert radial_clearance(loose)[0] / INCH == pytest.approx((nut_max - screw_min) / 2, abs=1e-7)
    assert axial_backlash(loose)[0] == pytest.approx(radial_clearance(loose)[0] * 2 * math.tan(math.pi / 6), rel=1e-9)


@pytest.mark.parametrize(
    ("size", "allowance"), [("4-40", 0.0010), ("8-32", 0.0011), ("1/4-20", 0.0015), ("1/2-13", 0.0022)]
)
def test_tightest_fit_of_american_national_class_1(size: str, allowance: float) -> None:
    screw, nut = limits_of(parse(f"{size} NC-1")), limits_of(parse(f"{size} NC-1", internal=True))
    assert screw.pitch_diameter.high is not None
    assert nut.pitch_diameter.low is not None
    tight = fit(screw.pitch_diameter.high / INCH, nut.pitch_diameter.low / INCH)
    assert radial_clearance(tight)[0] / INCH == pytest.approx(allowance / 2, abs=1e-7)
