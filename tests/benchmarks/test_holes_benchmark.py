"""The holes and screws that ``benchmarks.holes`` invents are what it says they are, and it counts right."""

from __future__ import annotations

import numpy as np
import pytest

from benchmarks.holes import Tally, _grown, draw_hole, draw_screw, report, run


def test_a_screw_grows_by_its_errors_as_gauge_makers_reckon() -> None:
    # Pitch error over the engagement times cot 30 = 1.7321; flank angles 0.0109 p a degree of both together, 0.541 p
    # being the depth that bears, 5/8 H: (0.541 p / sin 60) pi / 180 (the practice of gauge makers; see
    # ``threads.measured.virtual_pitch_diameter``).
    pitch = 0.635
    by_pitch = _grown(pitch, pitch * 1.001, 30.0, (30.0, 30.0), 3.0)
    assert by_pitch == pytest.approx(3.0 * 0.001 * 1.7321, rel=1e-3)
    by_angle = _grown(pitch, pitch, 30.0, (30.5, 29.5), 3.0)
    assert by_angle == pytest.approx(0.0109 * pitch, rel=0.01)


def test_screws_are_measured_about_what_they_are() -> None:
    rng = np.random.default_rng(3)
    off = []
    for _ in range(60):
        hole = draw_hole(rng)
        size = hole.thread.span[0]
        screw, virtual = draw_screw(hole, size, rng)
        assert virtual == size
        assert 0.0028 < screw.thread.pitch_diameter.u95 < 0.0075  # 3 to 7 um
        off.append(screw.thread.pitch_diameter.value - size)
    assert max(off) < 0.008  # errors of form make a screw larger than its pitch diameter says
    assert -0.035 < float(np.mean(off)) < 0.0


def test_it_counts_what_it_promises() -> None:
    tally = run(3, 5)
    assert len(tally.covered) == len(tally.half_width) == 3
    assert len(tally.seconds) == 3
    assert 0 < len(tally.advised) == len(tally.random) <= 3
    text, kept = report(Tally([True, False], [0.02, 0.03], [], [0.5], [1.0], [1.0], [1.0], [0.1]))
    assert not kept
    assert text.count("BROKEN") == 3  # coverage, width, and no trial that is better than a random one
