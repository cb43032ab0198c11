"""A hole by its trials: against intervals that can be reckoned by hand, and what must never be otherwise."""

from __future__ import annotations

import math

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from flankwise.reasons import sentence
from tests.refused import refused
from tests.threads.hole.tried import ENGAGEMENT, hole_of, moved, screw_440, thread_440, tried
from threads.hole.classes import hole_thread, prior_of
from threads.hole.found_hole import quantiles
from threads.hole.from_trials import hole_from_trials
from threads.hole.hole_words import class_words, sentences
from threads.hole.movement import clearance_of
from threads.hole.trial import STOPPED, WENT_IN, HoleError, TriedScrew
from threads.identify.screw_evidence import CommonErrors
from threads.shared.quantity import Quantity
from threads.standards.designation import UnknownDesignationError


def test_a_size_alone_names_the_thread_where_only_one_thread_has_it() -> None:
    designations = {one.designation for one in hole_thread("4-40").limits}
    assert {"4-40 UNC-2B", "4-40 NC-2", "4-40 NC-3"} <= designations
    assert hole_thread("4-40 UNC-2A").limits == hole_thread("#4-40 NC").limits
    with pytest.raises(UnknownDesignationError):
        hole_thread("1/4-20")  # 60 degrees, or Whitworth's 55: two threads


def test_the_name_of_a_thread_is_read_as_that_thread_again() -> None:
    written = (
        "4-40",
        "5-40 NC LH",
        "1/4-20 BSW",
        "1/4-20 UNC",
        "4 BA",
        "M2.5",
        "Thury 8",
        "S0.5",
        "0.5 UNM",
        "W 1/8-40",
    )
    for text in written:
        try:
            thread = hole_thread(text)
        except UnknownDesignationError:
            continue
        again = hole_thread(thread.name)
        assert (again.limits, again.left_hand) == (thread.limits, thread.left_hand), text
    assert hole_thread("5-40 LH").left_hand
    assert hole_thread("1/4-20 BSW").name != hole_thread("1/4-20 UNC").name


def test_the_prior_is_that_of_the_zones() -> None:
    # ASME B1.1-2003, table 3: 4-40 UNC-2B pitch diameter 0.0958 to 0.0991 in; class 2 of the American National series
    # (Machinery's Handbook, 1940s editions): 0.0958 to 0.0982 in.
    thread = thread_440()
    sizes = np.arange(2.3, 2.7, 0.001)
    prior = prior_of(thread, sizes)
    assert prior.sum() == pytest.approx(1.0)
    for designation, low, high in (("4-40 UNC-2B", 0.0958, 0.0991), ("4-40 NC-2", 0.0958, 0.0982)):
        row = prior[[one.designation for one in thread.limits].index(designation)]
        found = quantiles(sizes, row, (0.0005, 0.5, 0.9995))
        assert found == pytest.approx([25.4 * low, 25.4 * (low + high) / 2, 25.4 * high], abs=0.0015)


def test_two_screws_bracket_the_hole() -> None:
    found = hole_of(tried(2.440, WENT_IN), tried(2.460, STOPPED))
    more = hole_of(tried(2.440, WENT_IN), tried(2.460, STOPPED), tried(2.461, STOPPED))
    assert more.pitch_diameter.high95 < 2.466  # two stops that mean nothing are rare
    size = found.pitch_diameter
    assert 2.436 < size.low95 < 2.444  # 2 um of feel on either side
    assert 2.456 < size.high95 < 2.49  # and a share of stops that mean nothing
    assert size.median == pytest.approx(2.450, abs=0.003)
    assert found.to_make.high < size.low95 + 0.005
    assert found.to_make.low < found.to_make.high


def test_what_is_common_to_a_bench_does_not_average_out() -> None:
    screws = [2.4500 + 0.001 * k for k in range(-5, 6) if k]
    outcome = [WENT_IN if size < 2.45 else STOPPED for size in screws]
    bench = CommonErrors("bench", offset=0.005)
    own = hole_of(*(tried(size, o, u=0.005) for size, o in zip(screws, outcome, strict=True)))
    shared = hole_of(*(tried(size, o, common=bench, u=0.005) for size, o in zip(screws, outcome, strict=True)))
    assert shared.half_width > 1.96 * 0.005 * 0.85  # the whole offset stays
    assert own.half_width < 0.6 * shared.half_width


@pytest.mark.parametrize("clearance", [0.010, 0.030, 0.060])
def test_a_movement_is_solved_for_the_clearance(clearance: float) -> None:
    # first order of the tilted screw (``contact``); crests 2.84 mm
    tilt = clearance / 2 / (ENGAGEMENT / 2 + 1.42 / math.tan(math.radians(30)))
    travel = 2 * (clearance / 2 + 20.0 * tilt)
    screw = TriedScrew("a", "a", screw_440(2.44))
    found = clearance_of(thread_440(), screw, Quantity(travel, 0.01 * travel, "mm"), 20.0, ENGAGEMENT)
    assert found.clearance.value == pytest.approx(clearance, rel=0.03)
    assert found.hole.value == pytest.approx(2.44 + clearance, abs=0.001 + 0.03 * clearance)
    assert 0.02 * clearance < found.clearance.u95 < 0.15 * clearance
    both = hole_of(moved(2.44, travel, 0.02 * travel), tried(2.52, STOPPED))
    assert both.pitch_diameter.low95 < 2.44 + clearance < both.pitch_diameter.high95


def test_a_stop_against_nine_trials_is_named_and_hardly_counts() -> None:
    good = [tried(2.40 + 0.005 * k, WENT_IN) for k in range(8)] + [tried(2.45, STOPPED)]
    alone, with_burr = hole_of(*good), hole_of(*good, tried(2.41, STOPPED, turns=0.5))
    assert abs(with_burr.pitch_diameter.median - alone.pitch_diameter.median) < 0.002
    causes = [one.cause for one in with_burr.trials if one.cause is not None]
    assert [cause.key for cause in causes] == ["hole_contradicts.burr"]
    assert "2410 stopped, although 2435 went in" in sentence(causes[0])
    assert with_burr.trials[-1].expected < 0.01
    assert with_burr.trials[-1].wrong > 0.95
    assert not any(one.cause for one in alone.trials)


def test_the_likeliest_cause_is_told_from_the_screw() -> None:
    good = [tried(2.40 + 0.005 * k, WENT_IN) for k in range(8)] + [tried(2.45, STOPPED)]

    def cause(*more: object) -> str:
        found = hole_of(*good, *more)  # type: ignore[arg-type]
        (one,) = [one.cause for one in found.trials if one.cause is not None]
        return one.key

    assert cause(tried(2.41, STOPPED, turns=3.5)) == "hole_contradicts.pitch"
    assert cause(tried(2.41, STOPPED, major=2.90)) == "hole_contradicts.crests"
    assert cause(tried(2.47, STOPPED), tried(2.48, STOPPED), tried(2.50, WENT_IN)) == "hole_contradicts.mixed_up"
    assert cause(moved(2.40, 2.0, 0.05)) == "hole_contradicts.more"
    assert cause(moved(2.39, 0.01, 0.02)) == "hole_contradicts.less"


def test_the_advised_trial_lies_between_what_went_in_and_what_stopped() -> None:
    found = hole_of(tried(2.41, WENT_IN), tried(2.47, STOPPED))
    advice = found.next_trial
    assert advice is not None
    assert advice.half_width[1] < 0.7 * advice.half_width[0]
    assert advice.move or 2.42 < advice.pitch_diameter < 2.46
    near = TriedScrew("c", "part 9", screw_440(2.449))
    there = hole_from_trials(
        thread_440(), [moved(2.41, 0.2, 0.6), tried(2.47, STOPPED)], engagement=ENGAGEMENT, at_hand=[near]
    ).next_trial
    assert there is not None
    assert there.screw == "part 9"


def test_classes_that_share_their_zone_cannot_be_told() -> None:
    found = hole_of(tried(2.450, WENT_IN), tried(2.462, STOPPED))
    assert found.open_class is not None
    assert max(one.probability for one in found.classes) < 0.6
    (why, *_) = class_words(found)
    assert "cannot be told" in sentence(why)
    worn = hole_of(tried(2.565, WENT_IN), tried(2.57, WENT_IN), tried(2.60, STOPPED))
    assert worn.no_class > 0.9
    assert worn.worn_by == pytest.approx(2.585 - worn.classes[0].high, abs=0.01)
    assert sum(one.probability for one in worn.classes) + worn.no_class == pytest.approx(1.0)
    assert all(sentence(one, language="de") != sentence(one) for one in sentences(worn))


@settings(max_examples=10, deadline=None)
@given(st.lists(st.floats(2.40, 2.52), min_size=2, max_size=6), st.floats(2.44, 2.48))
def test_the_true_size_is_never_left_out_and_one_more_trial_does_no_harm(sizes: list[float], hole: float) -> None:
    trials = [tried(2.39, WENT_IN), tried(2.54, STOPPED)]
    trials += [tried(size, WENT_IN if size < hole else STOPPED) for size in sizes if abs(size - hole) > 0.006]
    found = hole_of(*trials).pitch_diameter
    assert found.low95 - 0.004 <= hole <= found.high95 + 0.004
    assert found.low95 <= found.median <= found.high95


def test_what_cannot_be_is_refused_in_one_line() -> None:
    thread, screw = thread_440(), tried(2.42, WENT_IN)

    def of(*trials: object, depth: float | None = None, engagement: float = ENGAGEMENT) -> None:
        hole_from_trials(thread, trials, engagement=engagement, depth=depth)  # type: ignore[arg-type]

    with refused(HoleError, match="No screw went in"):
        of(tried(2.46, STOPPED))
    with refused(HoleError, match="it is another thread"):
        of(screw, tried(2.42, WENT_IN, pitch=0.5))
    with refused(HoleError, match="it is another thread"):
        of(tried(2.74, WENT_IN))  # a 5-40 has the pitch of a 4-40
    with refused(HoleError, match=r"movement of 9 mm .* still holds"):
        of(moved(2.42, 9.0, 0.1))
    with refused(HoleError, match="a movement of -1 mm is not possible"):
        of(moved(2.42, -1.0, 0.1))
    with refused(HoleError, match="7 turns cannot be"):
        of(screw, tried(2.46, STOPPED, turns=7.0))
    with refused(HoleError, match="3 mm in a hole that is 2 mm deep"):
        of(screw, depth=2.0)
    with refused(HoleError, match="less than one turn"):
        of(screw, engagement=0.4)
