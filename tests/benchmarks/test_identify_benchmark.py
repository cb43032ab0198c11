"""The screws that ``benchmarks.identify`` draws are what it says they are, and it counts right."""

from __future__ import annotations

from collections import Counter

import numpy as np
import pytest

from benchmarks.identify import KINDS, Bin, main, reliability, report, run
from benchmarks.simulated_parts import ORDER, U_DIAMETER_MM, draw_foreign, draw_of, draw_part, measure
from threads.identify.field import class_shares
from threads.identify.zone_prior import STATES
from threads.standards.limits import Limits, candidates


def sizes_of(*series: str) -> list[list[Limits]]:
    found: dict[str, list[Limits]] = {}
    for limits in candidates(series):
        found.setdefault(limits.designation.rsplit("-", 1)[0], []).append(limits)
    return list(found.values())


def test_series_and_classes_are_drawn_as_often_as_is_said() -> None:
    # 2000 draws; 4 standard errors of a share.
    sizes = sizes_of("UNEF", "NC")
    rng = np.random.default_rng(5)
    drawn = [draw_part(sizes, rng).limits for _ in range(2000)]
    of_series = Counter(limits.series for limits in drawn if limits is not None)
    assert of_series["UNEF"] == pytest.approx(1000, abs=4 * 22.4)  # whichever has more sizes
    national = next(size for size in sizes if size[0].series == "NC")
    wanted = dict(zip([c.thread_class for c in national], class_shares(national), strict=True))
    of_class = Counter(limits.thread_class for limits in drawn if limits is not None and limits.series == "NC")
    for thread_class, share in wanted.items():
        n = of_series["NC"]
        assert of_class[thread_class] / n == pytest.approx(share, abs=4 * np.sqrt(share * (1 - share) / n))


def test_as_made_parts_lie_in_their_zone_and_worn_ones_below_its_top() -> None:
    limits = sizes_of("NC")[5][1]
    rng = np.random.default_rng(6)
    parts = [draw_of(limits, rng) for _ in range(600)]
    assert {part.state for part in parts} == set(STATES)
    for part in parts:
        assert limits.major.low is not None
        assert limits.major.high is not None
        if part.state == "as made":
            assert limits.major.low <= part.major <= limits.major.high
        elif part.state == "worn":
            assert part.major < limits.major.high
        else:
            assert part.major > limits.major.low


def test_a_measurement_has_a_u95_of_3_um_and_a_scale_error_that_all_lengths_share() -> None:
    rng = np.random.default_rng(7)
    sizes = sizes_of("UNC", "M")
    for _ in range(50):
        thread = measure(draw_part(sizes, rng), rng)
        for quantity in (thread.major_diameter, thread.pitch_diameter, thread.minor_diameter):
            assert quantity.u95 == pytest.approx(2 * U_DIAMETER_MM)
        assert 1e-4 <= thread.pitch.standard_uncertainty / thread.pitch.value <= 2.6e-4
        assert np.all(np.linalg.eigvalsh(thread.covariance.of(ORDER)) > 0)
        between = thread.covariance.of(("major_diameter", "pitch"))
        assert between[0, 1] > 0
        assert (thread.crest_width is None) == (thread.flat_crest is False)
        assert (thread.root_radius is not None) == (thread.flat_root is False)


def test_errors_are_as_large_as_their_covariance_says() -> None:
    # 800 draws of 3 squared deviations each: chi squared over its degrees of freedom within 4 standard errors.
    rng = np.random.default_rng(8)
    limits = sizes_of("M")[9][0]
    squares = []
    for _ in range(800):
        part = draw_of(limits, rng)
        thread = measure(part, rng)
        names = ("major_diameter", "pitch_diameter", "pitch")
        off = np.array([getattr(thread, name).value for name in names]) - [part.major, part.pitch_diameter, part.pitch]
        squares.append(off @ np.linalg.solve(thread.covariance.of(names), off))
    assert np.mean(squares) / 3 == pytest.approx(1.0, abs=4 * np.sqrt(2 / (3 * 800)))


def test_a_screw_of_no_series_can_be_measured() -> None:
    rng = np.random.default_rng(9)
    for _ in range(200):
        part = draw_foreign(rng)
        assert part.limits is None
        assert measure(part, rng).pitch.value == pytest.approx(part.pitch, rel=2e-3)


def test_reliability_sorts_claims_into_bins_and_counts_what_came_true() -> None:
    rows = reliability([(0.05, False), (0.15, True), (0.17, False), (1.0, True), (0.96, True)])
    assert [row.n for row in rows] == [1, 2, 0, 0, 0, 0, 0, 0, 0, 2]
    assert rows[1].stated == pytest.approx(0.16)
    assert rows[1].came_true == 0.5
    assert rows[1].standard_error == pytest.approx(np.sqrt(0.15 * 0.85 + 0.17 * 0.83) / 2)
    assert rows[9].came_true == 1.0


@pytest.mark.parametrize(
    ("row", "verdict"),
    [
        (Bin(0.3, 500, 0.35, 0.41, 0.02), "kept"),
        (Bin(0.3, 500, 0.35, 0.43, 0.02), "BROKEN"),
        (Bin(0.3, 12, 0.35, 0.50, 0.14), "too few"),
        (Bin(0.3, 0, 0.0, 0.0, 0.0), "kept"),
    ],
)
def test_a_bin_is_broken_only_beyond_the_luck_of_the_draw(row: Bin, verdict: str) -> None:
    assert row.verdict == verdict


def test_a_broken_promise_is_reported() -> None:
    tally = run(12, seed=2, series=("NC", "UNC"))
    text, _ = report(tally)
    assert "BROKEN" not in text.split("Time of")[0]
    tally.claims["candidate"] += [(0.35, True)] * 400
    text, kept = report(tally)
    assert not kept
    assert "BROKEN" in text
    tally.in_first_group = 0
    assert "(at least 95 %: BROKEN)" in report(tally)[0]


def test_the_command_prints_all_of_it(capsys: pytest.CaptureFixture[str]) -> None:
    main(["--parts", "8", "--series", "UNEF", "--seed", "3"])
    printed = capsys.readouterr().out
    assert "8 screws of the series in the tables" in printed
    assert "2 screws of no series" in printed
    assert all(f"Stated probability of a {kind}" in printed for kind in KINDS)
    assert "Time of one identification" in printed
    with pytest.raises(SystemExit) as ended:
        main(["--series", "UNQ"])
    assert ended.value.code == 2
    assert "UNQ" in capsys.readouterr().err
