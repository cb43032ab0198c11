"""The benchmarks of verdicts and comparisons, in little."""

from __future__ import annotations

from collections import Counter

import numpy as np
import pytest

from benchmarks import check as check_benchmark
from benchmarks import compare as compare_benchmark
from benchmarks.check import PLACES, Tally, part_at, report, run
from benchmarks.compare import Outcome, pair_of, run_pair
from benchmarks.simulated_parts import Part, measure
from threads.judge.check import check
from threads.judge.judgement import CANNOT_TELL, CONFORMS, DOES_NOT_CONFORM
from threads.standards.designation import parse
from threads.standards.limits import limits_of


def test_verdicts_at_the_limits_are_seldom_wrong() -> None:
    """150 parts on either side: 2.5 % and three standard deviations of luck (6.3 %)."""
    tally = run(150, seed=5)
    assert tally.share(inside=False, verdict=CONFORMS) <= 0.063
    assert tally.share(inside=True, verdict=DOES_NOT_CONFORM) <= 0.063
    # and at a limit nobody can tell, mostly
    assert tally.share(inside=True, verdict=CANNOT_TELL) > 0.9


def test_parts_stand_where_they_are_said_to() -> None:
    rng, limits = np.random.default_rng(2), limits_of(parse("4-40 NC-2"))
    for place in PLACES:
        part = next(p for p in (part_at(limits, place, 1.0, rng) for _ in range(50)) if p is not None)
        if place == "major high":
            assert part.major == pytest.approx(limits.major.high or 0, abs=1e-6)
        if place == "pitch low":
            assert part.pitch_diameter == pytest.approx(limits.pitch_diameter.low or 0, abs=1e-6)


def test_a_broken_promise_is_told() -> None:
    good, bad = Counter({CANNOT_TELL: 990, DOES_NOT_CONFORM: 10}), Counter({CANNOT_TELL: 970, CONFORMS: 30})
    text, kept = report(Tally(inside={"major low": good}, outside={"major low": good}))
    assert kept
    assert "kept" in text
    text, kept = report(Tally(inside={"major low": good}, outside={"major low": bad}))
    assert not kept
    assert "BROKEN" in text
    assert check_benchmark.main(["--parts", "8", "--seed", "3"]) == 0


@pytest.mark.slow
def test_two_pictures_of_one_part_do_not_differ() -> None:
    outcome = run_pair(3)
    assert outcome.significant == ()
    assert outcome.u_um < outcome.alone_u_um


def test_pairs_are_of_one_part_laid_down_anew() -> None:
    first, second, _ = pair_of(9)
    assert first.thread == second.thread
    assert first.camera == second.camera
    assert first.rotation_deg != second.rotation_deg
    assert first.phase != second.phase


def test_the_report_of_pairs_counts_wrong_ones() -> None:
    fine, off = Outcome((), 0.3, 0.1, 1.0), Outcome(("taper",), 0.3, 0.1, 1.0)
    assert compare_benchmark.report([fine] * 95 + [off] * 5)[1]
    text, kept = compare_benchmark.report([fine] * 94 + [off] * 6 + [Outcome(None)])
    assert not kept
    assert "1 refused" in text
    assert "taper 6" in text
    assert not compare_benchmark.report([Outcome(None)])[1]


def test_a_screw_in_the_middle_of_its_zone_conforms_in_every_class() -> None:
    rng = np.random.default_rng(8)
    for designation in ("4-40 NC-3", "M3-6g", "2-56 UNC-3A"):
        limits = limits_of(parse(designation))
        middle = [
            (band.low + band.high) / 2 for band in (limits.major, limits.pitch_diameter) if band.low and band.high
        ]
        minor = (limits.minor.high or limits.basic_minor) - 0.02
        part = Part(limits, "as made", middle[0], middle[1], minor, limits.pitch, 30.0, 30.0, 0.0, False, True)
        assert check(measure(part, rng), limits).verdict == CONFORMS
