"""What a bench tells apart, against the U95 that it really gives a screw and against the published zones."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import pytest

from flankwise.bench import calibrate, scaled_by_hand
from flankwise.measuring import measure
from flankwise.telling_apart import outside, telling_apart

SAMPLES = Path(__file__).parents[2] / "sample_images"
MM = 25.4


def test_what_is_foretold_is_what_the_screw_gets() -> None:
    pins = [(SAMPLES / "pin_1000_bench_a.png", 1.0), (SAMPLES / "pin_2500_bench_a.png", 2.5)]
    bench = calibrate(pins, pin_u95="1um", working_distance="telecentric")
    told = telling_apart(bench)
    real = measure(SAMPLES / "sextant_index_arm_screw_4-40_bench_a.png", bench).thread.pitch_diameter
    assert told.size == "4-40"
    assert told.u95 == pytest.approx(real.u95, rel=0.05)
    # pitch diameter of 4-40, in: UNC-2A to 0.0950 (ASME B1.1), NC-2 0.0934 (from memory) to 0.0958 (NBS Handbook H28)
    american = told.pairs[0]
    assert (american.one, american.other) == ("4-40 NC-2", "4-40 UNC-2A")
    assert american.possible == pytest.approx((0.0958 - 0.0950) / (0.0958 - 0.0934), abs=0.01)
    assert american.told == pytest.approx((MM * (0.0958 - 0.0950) - told.u95) / (MM * (0.0958 - 0.0934)), abs=0.01)
    inside = told.pairs[-1]
    assert (inside.one, inside.possible, inside.told) == ("4-40 NC-3", 0.0, 0.0)
    # a small patch of light takes less, and nothing is left to refocus
    better = telling_apart(
        replace(bench, plane=replace(bench.calibration, light_cone_deg=1.9, light_cone_u_deg=0.1, focus_locked=True))
    )
    assert better.u95 < 0.6 * told.u95
    assert better.pairs[0].told > american.told
    with pytest.raises(TypeError):
        telling_apart(scaled_by_hand(4.0))


@pytest.mark.parametrize(
    ("theirs", "by", "share"),
    [((0.0, 10.0), 0.0, 0.0), ((2.0, 8.0), 0.0, 0.4), ((2.0, 8.0), 1.0, 0.2), ((20.0, 30.0), 5.0, 1.0),
     ((-5.0, 5.0), 2.0, 0.3), ((-5.0, 5.0), 6.0, 0.0)],
)  # fmt: skip
def test_what_lies_outside_of_a_zone(theirs: tuple[float, float], by: float, share: float) -> None:
    assert outside((0.0, 10.0), theirs, by) == pytest.approx(share)
