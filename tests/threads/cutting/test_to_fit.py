"""The loop of cutting to fit: what it says at each attempt, for each kind of target."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from benchmarks.dies import COVERED, PLACED_SHARE, run
from flankwise.cutting import CuttingError, fit
from flankwise.judging import limits_named
from flankwise.reasons import sentence
from tests.threads.hole.tried import screw_440
from threads.cutting.die_choice import MeasuredCut
from threads.cutting.learnt import learn
from threads.cutting.to_fit import CLASS, HOLE, Fitting, in_hole
from threads.shared.quantity import Quantity

ORIGINAL = MeasuredCut(screw_440(2.420))


def after(*attempts: tuple[float, str | None], original: MeasuredCut = ORIGINAL) -> Fitting:
    return fit(original, [MeasuredCut(screw_440(size), None, setting) for size, setting in attempts]).found


def said(found: Fitting) -> str:
    return " ".join(sentence(one) for one in found.told)


def test_before_the_first_attempt() -> None:
    assert after().told[0].code == "cut_first"


@given(st.floats(2.35, 2.49), st.sampled_from([None, "1/4 turn", "as it was"]))
def test_one_attempt_never_says_how_far_to_turn(size: float, setting: str | None) -> None:
    found = after((size, setting))
    assert (found.setting, found.way, found.next_cut) == (None, None, None)
    assert found.good == (abs(size - 2.42) < 0.006)
    assert found.good or found.told[0].key == ("cut_thick.unknown" if size > 2.42 else "cut_thin.unknown")


def test_two_settings_say_how_far_and_how_surely() -> None:
    thin = after((2.376, "0 turn"), (2.406, "0.15 turn"))
    assert thin.way == pytest.approx(0.07, abs=0.015)  # 0.2 mm a turn
    told = said(thin)
    assert told.startswith("It cannot be put back: start anew, and open the die by 14 µm (about a ")
    assert "of its screw, by your last two settings)" in told
    assert "A turn moves the pitch diameter by 199 µm (± " in told
    thick = after((2.464, "0.30 turn"), (2.434, "0.15 turn"))
    assert thick.way == pytest.approx(-0.07, abs=0.015)
    assert said(thick).startswith("Close the die by 14 µm")
    assert thick.next_cut is not None
    assert thick.next_cut.value == pytest.approx(2.420, abs=1e-4)


def test_a_good_one_ends_it_and_a_measured_lucky_one_does_not_move_the_die() -> None:
    found = after((2.376, "0 turn"), (2.4195, "0.2 turn"))
    assert found.good
    assert said(found).startswith("Good: stop.")
    assert found.inside > 0.8


@pytest.mark.parametrize(
    ("attempts", "why"),
    [
        (((2.40, "1/4 turn"), (2.401, "1/4 turn")), "cut_why.one_setting"),
        (((2.40, None), (2.46, None)), "cut_why.no_setting"),
        (((2.40, "0.25 turn"), (2.401, "0.26 turn")), "cut_why.too_near"),
    ],
)
def test_why_nobody_can_say_how_far(attempts: tuple[tuple[float, str | None], ...], why: str) -> None:
    found = after(*attempts)
    assert found.setting is None
    assert found.told[0].values["why"].key == why  # type: ignore[union-attr]


def test_a_class_is_a_target_and_the_class_of_a_hole_means_its_screw() -> None:
    limits = limits_named("4-40 NC-2")
    attempts = [MeasuredCut(screw_440(2.360), None, "0"), MeasuredCut(screw_440(2.380), None, "5")]
    for named in (limits, limits_named("4-40 NC-2", internal=True)):
        target = fit(named, attempts).found.target
        assert (target.kind, target.low) == (CLASS, limits.pitch_diameter.low)
        assert target.high <= (limits.pitch_diameter.high or 0)


def test_a_measured_hole_is_a_target_that_the_screw_surely_enters() -> None:
    target = in_hole(Quantity(2.450, 0.003, "mm"), "the hole", added=0.004)
    assert (target.kind, target.high) == (HOLE, pytest.approx(2.450 - 0.006 - 0.004))
    assert target.low < target.aim < target.high


def test_an_attempt_of_another_thread_is_refused_by_its_number() -> None:
    with pytest.raises(CuttingError) as caught:
        after((2.42, "0"), (2.42, "1"), original=MeasuredCut(screw_440(2.420, pitch=0.7)))
    assert caught.value.reasons[0].key == "attempt_other_thread"
    with pytest.raises(CuttingError, match="attempt_other_thread"):
        fit(limits_named("M2.5x0.45-6g"), [ORIGINAL])


def test_the_document_says_what_is_learned() -> None:
    document = after((2.376, "0 turn"), (2.406, "0.15 turn")).to_dict()
    assert document["per_turn"]["value"] == pytest.approx(0.2, rel=0.1)
    assert [one["setting"] for one in document["attempts"]] == [0.0, 0.15]
    assert (document["unit"], document["good"]) == ("turn", False)


def test_what_the_benchmark_promises_holds_in_a_small_run() -> None:
    """The invented dies of ``benchmarks.dies``, too few for its figures: three standard errors are allowed."""
    tally = run(60, 120, 4)
    share = sum(tally.next_cut) / len(tally.next_cut)
    assert COVERED[0] - 0.04 < share <= 1
    assert sum(tally.placed) / len(tally.placed) > PLACED_SHARE - 0.08


def test_learning_nothing_is_no_die() -> None:
    assert learn({"a": []}) == {}
