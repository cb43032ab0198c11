"""One instrument, one answer: systems, odd ones out, errors of one bench, and what origin does."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest

from tests.threads.measured_factory import measured_thread
from threads.identify.instrument import judge_together, one_thread_each
from threads.identify.screw_evidence import CommonErrors, Screw
from threads.identify.systems import system_of
from threads.measured.thread import Covariance, MeasuredThread
from threads.standards.designation import parse
from threads.standards.limits import limits_of
from threads.standards.series import series_names

SIZES = ("0-80 NF-2", "2-64 NF-2", "4-40 NC-2", "5-40 NC-2", "8-32 NC-2", "10-32 NF-2", "4-40 NC-2", "8-32 NC-2")
OFFSET_U = 0.0015
BENCH = CommonErrors("bench", scale=1e-4, offset=OFFSET_U)


def in_zone(designation: str, fraction: float, off: float = 0.0) -> MeasuredThread:
    """A screw at ``fraction`` of its zones; all its diameters read ``off`` too large, as the bench has them."""
    limits = limits_of(parse(designation))
    zones = limits.major, limits.pitch_diameter
    major, pd = (band.low + (band.high - band.low) * fraction + off for band in zones)  # type: ignore[operator]
    thread = measured_thread(major, pd, limits.pitch, minor=pd - 0.62 * limits.pitch)
    diameters = np.array([1.0, 1, 1, 0, 0, 0, 0, 0])
    whole = thread.covariance.matrix + OFFSET_U**2 * np.outer(diameters, diameters)
    return replace(thread, covariance=Covariance(thread.covariance.order, whole))


def screws(*designations: str, fraction: float = 0.85, off: float = 0.0) -> list[Screw]:
    return [Screw(i, in_zone(one, fraction, off), BENCH) for i, one in enumerate(designations, 1)]


def test_every_series_belongs_to_one_system() -> None:
    assert {system_of(name) for name in ("NC", "NF", "NS")} == {"American National"}
    assert all(system_of(name) for name in series_names())


def test_eight_screws_above_what_unified_allows_are_american_national() -> None:
    found = judge_together(screws(*SIZES))
    assert found.systems[0].system == "American National"
    assert found.systems[0].probability > 0.99
    assert sum(one.probability for one in found.systems) == pytest.approx(1.0)
    assert found.odd == ()
    assert not found.few
    assert found.grown.shape == (len(SIZES) + 1, len(found.systems))
    assert found.grown[0, 0] < 0.6 < found.grown[3, 0] < found.grown[-1, 0]


def test_a_screw_of_another_system_is_the_odd_one_out() -> None:
    found = judge_together([*screws(*SIZES), Screw("new", in_zone("M3x0.5-6g", 0.5), BENCH)])
    assert found.systems[0].system == "American National"
    (odd,) = found.odd
    assert odd.part == "new"
    assert odd.likely is not None
    assert odd.likely.series == "M"
    assert max(found.odd_probability[:-1]) < 0.5


def test_errors_of_one_bench_are_not_taken_for_eight_witnesses() -> None:
    # all diameters read 3 um (2 u) too large: taken apart that looks like eight screws above what Unified allows
    unified = [one.replace("NC-2", "UNC-2A").replace("NF-2", "UNF-2A") for one in SIZES]
    some = screws(*unified, fraction=0.97, off=0.003)
    together, apart = (judge_together(some, common=common).systems for common in (True, False))
    wrong = [next(one.probability for one in found if one.system == "American National") for found in (together, apart)]
    assert wrong[0] < wrong[1]


def test_origin_and_year_move_the_answer_and_the_plain_one_stays() -> None:
    between = screws(*SIZES[:3], fraction=0.35)
    plain = judge_together(between)
    dated = judge_together(between, origin="US", made=(1938, 1938))
    by_name = {one.system: one for one in dated.systems}
    assert dated.systems[0].system == "American National"
    assert by_name["American National"].probability > by_name["American National"].measurement_only
    for one in plain.systems:
        assert one.probability == one.measurement_only
        assert by_name[one.system].measurement_only == pytest.approx(one.probability)


def test_screws_of_one_size_are_one_thread_and_few_are_said() -> None:
    found = judge_together(screws("4-40 NC-2", "4-40 NC-2"))
    assert found.few
    assert one_thread_each(found.placed) == {"4-40": [0, 1]}


def test_several_benches_are_several_draws() -> None:
    other = [replace(one, common=CommonErrors("other", 1e-4, OFFSET_U)) for one in screws(*SIZES)[:4]]
    found = judge_together([*other, *screws(*SIZES)[4:]])
    one_bench = judge_together(screws(*SIZES))
    assert found.systems[0].system == one_bench.systems[0].system


def test_a_thread_of_no_series_says_nothing_of_the_system() -> None:
    strange = measured_thread(3.37, 2.96, 0.58)
    plain, with_it = judge_together(screws(*SIZES[:4])), judge_together([*screws(*SIZES[:4]), Screw("x", strange)])
    assert with_it.systems[0].system == plain.systems[0].system
    assert with_it.odd[-1].part == "x"
    assert with_it.odd[-1].likely is None


@pytest.mark.parametrize("wrong", [[], [Screw(1, in_zone("4-40 NC-2", 0.5)), Screw(1, in_zone("4-40 NC-2", 0.5))]])
def test_no_screw_or_one_twice_is_refused(wrong: list[Screw]) -> None:
    with pytest.raises(ValueError, match="each part once"):
        judge_together(wrong)
