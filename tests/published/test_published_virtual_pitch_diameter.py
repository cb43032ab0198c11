"""Coefficients of the virtual pitch diameter against printed ones.

cot(a) and (d1 + d2) h / sin 2a: a university lecture on the measurement of screw threads. 0.0105 p and 0.0091 p a
degree: notes of a national laboratory on screw gauges and BS 919 (from memory, unverified). The worked example, 5 um of
pitch and half a degree on each flank of 4-40: 8.7 um and 6.9 um (computed by hand from the same formulas).
"""

from __future__ import annotations

import pytest

from threads.measured.virtual_pitch_diameter import FAMILIES, angle_allowance, pitch_allowance


@pytest.mark.parametrize(("half_angle", "printed"), [(30.0, 1.732), (27.5, 1.921), (23.75, 2.273), (26.5667, 2.000)])
def test_pitch_error_counts_cot_of_the_half_angle(half_angle: float, printed: float) -> None:
    assert pitch_allowance(1.0, half_angle) == pytest.approx(printed, abs=0.0006)


@pytest.mark.parametrize(
    ("half_angle", "depth", "printed"),
    [(30.0, 0.5413, 0.0109), (27.5, 0.4925, 0.0105), (26.565, 0.75, 0.0164), (23.75, 0.384, 0.0091)],
)
def test_a_degree_of_flank_error_counts_so_much_of_the_pitch(half_angle: float, depth: float, printed: float) -> None:
    flanks = min(FAMILIES, key=lambda f: abs(f.half_angle_deg - half_angle))
    assert flanks.half_angle_deg == pytest.approx(half_angle, abs=0.001)
    assert flanks.engaged_depth == pytest.approx(depth, abs=0.00006)
    assert angle_allowance(1.0, 0.0, 1.0, flanks) == pytest.approx(printed, abs=0.00006)


def test_worked_example_4_40() -> None:
    assert pitch_allowance(0.005, 30.0) == pytest.approx(0.0087, abs=0.00005)
    assert angle_allowance(0.5, 0.5, 0.635, FAMILIES[0]) == pytest.approx(0.0069, abs=0.00005)
