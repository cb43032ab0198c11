"""A measured screw in a tapped hole: medians against closed forms, the draws, and what must never be otherwise."""

from __future__ import annotations

import math
from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from flankwise.reasons import message, sentence
from tests.each import each
from tests.refused import refused
from tests.threads.measured_factory import ORDER, measured_thread
from threads.measured.thread import Covariance, MeasuredThread, RidgeError
from threads.measured.virtual_pitch_diameter import FAMILIES, virtual_pitch_diameter
from threads.shared.plain_json import plain
from threads.shared.quantity import Quantity
from threads.standards.designation import designation_of, parse
from threads.standards.limits import Band, Limits, limits_of
from threads.standards.series import entries
from threads.workshop import play_words
from threads.workshop.drawn_thread import (
    DrawnThread,
    NoZoneError,
    SizesOfHole,
    drawn_hole,
    drawn_measured,
    drawn_screw,
    loss_of,
)
from threads.workshop.mating_class import mating_screw
from threads.workshop.play import PlayError, Reading, play
from threads.workshop.play_words import verdict
from threads.workshop.predicted_play import CRESTS, FLANKS, ROOTS, Play


def sentences(found: Play) -> list[str]:
    """What is foretold, as a person reads it."""
    return [sentence(one) for one in play_words.sentences(found)]


def limits(text: str, *, internal: bool = False) -> Limits:
    return limits_of(parse(text, internal=internal))


NC, NUT = limits("4-40 NC-2"), limits("4-40 NC-2", internal=True)


def exact(thread: MeasuredThread, u: float = 1e-9) -> MeasuredThread:
    """The same thread measured to a nanometre."""
    matrix = np.eye(len(ORDER)) * u**2
    named = {name: replace(getattr(thread, name), standard_uncertainty=u) for name in ORDER}
    return replace(thread, covariance=Covariance(ORDER, matrix), **named)


def screw_of(
    pitch_diameter: float = 2.42, major: float = 2.80, pitch: float = 0.635, left: float = 30.0, right: float = 30.0
) -> MeasuredThread:
    return measured_thread(major, pitch_diameter, pitch, flank_left=left, flank_right=right)


def hole_of(pitch_diameter: float = 2.46, major: float = 3.0, minor: float = 2.3, u: float = 1e-9) -> SizesOfHole:
    known = (Quantity(value, u, "mm") for value in (pitch_diameter, major, minor))
    return SizesOfHole("a gauged hole", 0.635, 30.0, *known)


def put(
    screw: MeasuredThread, hole: Limits | Reading | SizesOfHole = NUT, length: float = 3.0, out: float = 0.0
) -> Play:
    return play(Reading(screw), hole, engagement_mm=length, overhang_mm=out, draws=1000)


# --- medians ---------------------------------------------------------------------------------------------------------

PAIRS = [(entry.size, name) for name in ("UNC", "UNF") for entry in entries(name) if entry.major_mm < 13]


@each(("size", "series"), PAIRS)
def test_unified_2a_and_national_2_differ_by_half_the_allowance(size: str, series: str) -> None:
    """Each at its maximum material, in the same hole of class 2: half the allowance on diameter, to 1 um."""
    national, hole = (limits(f"{size} N{series[-1]}-2", internal=internal) for internal in (False, True))
    unified = limits(f"{size} {series}-2A")
    medians = []
    for screw in (unified, national):
        assert screw.major.high is not None
        assert screw.pitch_diameter.high is not None
        thread = measured_thread(
            screw.major.high, screw.pitch_diameter.high, screw.pitch, minor=screw.minor.high, scale_u=2e-4
        )
        medians.append(play(Reading(thread), hole, engagement_mm=screw.basic_major).screw.radial_clearance.median)
    assert unified.allowance > 0.006
    assert medians[0] - medians[1] == pytest.approx(unified.allowance / 2, abs=0.001)


def test_an_exact_screw_in_an_exact_hole_moves_as_the_closed_forms_say() -> None:
    found = put(exact(screw_of()), hole_of(), length=4.0, out=20.0).screw
    assert found.enters == 1
    assert found.touches_first == {FLANKS: 1.0, CRESTS: 0.0, ROOTS: 0.0}
    assert found.radial_clearance.median == pytest.approx(0.02, abs=1e-6)
    assert found.axial_backlash.median == pytest.approx(0.04 * math.tan(math.radians(30)), abs=1e-6)
    tilt = 0.02 / (2.0 + 1.40 / math.tan(math.radians(30)))
    assert found.tilt.median == pytest.approx(math.degrees(tilt), rel=0.01)
    assert found.end_movement.median == pytest.approx(0.02 + 20 * tilt, rel=0.01)
    assert found.radial_clearance.unit == found.end_movement.unit == "mm"
    assert found.tilt.unit == "deg"


def test_crests_and_roots_count_where_they_leave_less_room() -> None:
    crests = put(exact(screw_of()), hole_of(major=2.81)).screw
    assert crests.radial_clearance.median == pytest.approx(0.005, abs=1e-6)
    assert crests.touches_first[CRESTS] == 1
    roots = put(exact(screw_of()), hole_of(minor=exact(screw_of()).minor_diameter.value + 0.016)).screw
    assert roots.radial_clearance.median == pytest.approx(0.008, abs=1e-6)
    assert roots.touches_first[ROOTS] == 1


def test_what_errors_of_form_take_off_is_that_of_the_virtual_pitch_diameter() -> None:
    screw = exact(screw_of(pitch=0.6361, left=30.4, right=29.5))
    length = 3.5
    found = put(screw, hole_of(), length).screw
    virtual = virtual_pitch_diameter(screw, pitch_mm=0.635, engagement_mm=length)
    assert found.pitch_loss.median == pytest.approx(virtual.pitch_part.value, abs=1e-5)
    assert found.angle_loss.median == pytest.approx(virtual.angle_part.value, abs=1e-5)
    assert found.radial_clearance.median == pytest.approx((2.46 - virtual.quantity.value) / 2, abs=1e-5)


def test_a_hole_with_the_same_errors_takes_the_screw_without_loss() -> None:
    screw = exact(screw_of(pitch=0.6361, left=30.4, right=29.5))
    # the hole's left flank is the one that the screw's right flank stands against
    hole = replace(exact(screw_of(2.46, 2.95, 0.6361, left=29.5, right=30.4)), internal=True)
    turned = replace(exact(screw_of(2.46, 2.95, 0.6361, left=30.4, right=29.5)), internal=True)
    fits, other = (put(screw, Reading(one)).screw for one in (hole, turned))
    assert fits.pitch_loss.median == pytest.approx(0, abs=1e-6)
    assert fits.angle_loss.median == pytest.approx(0, abs=1e-6)
    assert fits.radial_clearance.median == pytest.approx(0.02, abs=1e-5)
    assert other.angle_loss.median > 0.01


# --- draws -----------------------------------------------------------------------------------------------------------


def test_range_is_that_of_the_measurement_where_the_hole_is_known() -> None:
    found = put(screw_of(), hole_of(2.48)).screw.radial_clearance
    thread = screw_of()
    u = thread.pitch_diameter.standard_uncertainty / 2
    # errors of pitch and flank angles are about zero: they widen the range to the tight side only
    assert 1.9 * u < found.high95 - found.median < 3.2 * u
    assert found.median - found.low95 > 1.7 * u


def test_the_same_seed_gives_the_same_and_another_nearly_so() -> None:
    one, again, other = (play(Reading(screw_of()), NUT, engagement_mm=3.0, seed=seed) for seed in (7, 7, 8))
    assert plain(one.to_dict("")) == plain(again.to_dict(""))
    assert one.screw.radial_clearance != other.screw.radial_clearance
    # a 95 % limit from 10,000 draws scatters by about 0.2 um here, the median by less
    assert one.screw.radial_clearance.median == pytest.approx(other.screw.radial_clearance.median, abs=0.0003)
    assert one.screw.radial_clearance.high95 == pytest.approx(other.screw.radial_clearance.high95, abs=0.001)


def test_an_effect_known_in_direction_only_moves_the_median_by_half_its_bound() -> None:
    plain = exact(screw_of())
    known = replace(plain, pitch_diameter=replace(plain.pitch_diameter, one_sided=0.008))
    clear, less = (put(one, hole_of()).screw.radial_clearance for one in (plain, known))
    assert clear.median - less.median == pytest.approx(0.002, abs=0.0002)
    assert clear.low95 - less.low95 == pytest.approx(0.004, abs=0.0003)


def test_errors_of_one_bench_fall_out_of_the_difference_from_the_original() -> None:
    screw, original = screw_of(), screw_of(2.40)
    common = Covariance(ORDER, 0.95 * np.diag(np.diag(screw.covariance.matrix)))

    def width(shared: Covariance | None) -> float:
        found = play(Reading(screw, shared), hole_of(), engagement_mm=3.0, original=Reading(original, shared))
        assert found.original is not None
        assert found.original.looser_by.median == pytest.approx(-0.01, abs=0.0004)
        assert found.original.looser < 0.01
        return found.original.looser_by.high95 - found.original.looser_by.low95

    assert width(common) < 0.5 * width(None)


def test_even_threads_with_noisy_edges_come_out_even_and_uneven_ones_do_not() -> None:
    rng = np.random.default_rng(3)

    def loss(error: float, u: float) -> float:
        ridges = tuple(RidgeError(0.635 * k, e, 2.42, u, u, 1) for k, e in enumerate(rng.normal(0, error, 8)))
        drawn = drawn_measured(
            replace(exact(screw_of()), per_thread=ridges), np.zeros((500, 6)), None, np.zeros(500), rng
        )
        perfect = DrawnThread(None, *([drawn.pitch_diameter] * 2), *(np.full(500, x) for x in (0.635, 30.0, 30.0)))
        return float(np.median(loss_of(drawn, perfect, 0.635, FAMILIES[0], 4.0).pitch))

    assert loss(0.0005, 0.0007) < 0.001
    assert loss(0.004, 0.0005) > 0.010


def test_a_hole_of_a_class_lies_in_its_zone_and_its_root_never_meets_a_screw_of_full_form() -> None:
    drawn = drawn_hole(NUT, 4000, np.random.default_rng(1))
    assert drawn.major is not None
    assert drawn.minor is not None
    low, high = NUT.pitch_diameter.low, NUT.pitch_diameter.high
    assert low is not None
    assert high is not None
    assert drawn.pitch_diameter.min() >= low
    assert drawn.pitch_diameter.max() <= high
    # every 4000th part of the zone has its hole
    assert np.sort(drawn.pitch_diameter) == pytest.approx(np.linspace(low, high, 4000), abs=(high - low) / 3000)
    assert np.all(drawn.major - drawn.pitch_diameter >= NUT.basic_major - NUT.basic_pitch_diameter - 1e-9)
    assert np.all(drawn.major <= (NUT.major.high or 0) + 1e-9)
    assert drawn.minor.min() >= (NUT.minor.low or math.inf)


def test_every_tabulated_screw_can_be_drawn_into_every_hole_of_its_size() -> None:
    """At the least, a screw of its own class enters whatever its size; no pair is left without an answer."""
    pairs, rng = 0, np.random.default_rng(0)
    for entry in entries():
        for hole in (designation_of(entry, name, internal=True) for name in entry.internal_classes):
            mate = mating_screw(hole)
            assert mate is not None
            assert not mate.internal
            in_hole, screw = (
                drawn(limits_of(one), 100, rng) for drawn, one in ((drawn_hole, hole), (drawn_screw, mate))
            )
            assert np.all(in_hole.pitch_diameter >= screw.pitch_diameter - 1e-9), (hole.text, mate.text)
            assert in_hole.major is not None
            assert screw.major is not None
            assert np.all(in_hole.major >= screw.major - 1e-9), (hole.text, mate.text)
            if in_hole.minor is not None and screw.minor is not None:
                assert np.all(in_hole.minor >= screw.minor - 1e-9), (hole.text, mate.text)
            pairs += 1
    assert pairs > 700


@pytest.mark.parametrize(
    ("hole", "screw"),
    [
        ("4-40 UNC-2B", "4-40 UNC-2A"),
        ("4-40 UNC-3B", "4-40 UNC-3A"),
        ("4-40 NC-1", "4-40 NC-1"),
        ("M3-6H", "M3x0.5-6g"),
        ("M3-5H", "M3x0.5-4h"),
        ("M1-5H", "M1x0.25-6h"),
        ("4 BA", "4 BA normal"),
    ],
)
def test_a_class_of_holes_has_the_screw_it_is_meant_for(hole: str, screw: str) -> None:
    mate = mating_screw(parse(hole, internal=True))
    assert mate is not None
    assert mate.text == screw
    assert mating_screw(mate) is None


def test_a_class_without_limits_is_refused() -> None:
    hole = replace(NUT, pitch_diameter=Band(NUT.pitch_diameter.low, None))
    with refused(NoZoneError, match="4-40 NC-2 has no limits of the pitch diameter"):
        put(screw_of(), hole)
    with refused(NoZoneError, match="no limits of the major diameter"):
        drawn_screw(replace(NC, major=Band(None, None)), 100, np.random.default_rng(0))


# --- what it says ----------------------------------------------------------------------------------------------------


def test_a_screw_too_thick_will_not_enter_and_says_why() -> None:
    thick = put(screw_of(2.52, 2.84))
    assert thick.screw.enters == 0
    assert verdict(thick.screw) == "will not enter"
    assert "It will not enter a 4-40 NC-2 hole: on the virtual pitch diameter it is too large by" in sentences(thick)[0]
    assert thick.screw.axial_backlash.high95 == thick.screw.tilt.high95 == thick.screw.end_movement.high95 == 0
    assert "the error of its pitch over the engagement counting" in sentences(put(screw_of(2.48, pitch=0.6385)))[0]
    assert "the errors of its flank angles" in sentences(put(screw_of(2.485, left=30.9, right=30.9)))[0]
    crests = put(screw_of(), hole_of(major=2.79))
    assert "its crests meet the roots of the hole, 10 µm too large" in sentences(crests)[0]
    roots = put(screw_of(), hole_of(minor=1.9))
    assert "its roots meet the crests of the hole" in sentences(roots)[0]


def test_a_screw_near_the_limit_may_not_enter() -> None:
    near = put(screw_of(2.44, 2.81))
    assert verdict(near.screw) == "may not enter"
    assert 0.1 < near.screw.enters < 0.95
    assert "It may not enter a 4-40 NC-2 hole (" in sentences(near)[0]
    assert "(95 %: none to " in sentences(near)[0]
    nearer = put(screw_of(2.48, 2.81))
    assert 0.025 < nearer.screw.enters < 0.5
    assert "of the holes of that class are too tight); where it does, its axis can move" in sentences(nearer)[0]


def test_looser_than_the_original_is_a_number_and_a_sentence() -> None:
    hole = hole_of()

    def against(original: float) -> tuple[Play, str]:
        found = play(
            Reading(screw_of()), hole, engagement_mm=3.0, overhang_mm=40.0, original=Reading(screw_of(original))
        )
        return found, sentences(found)[1]

    found, said = against(2.44)
    assert found.original is not None
    assert found.original.times is not None
    assert found.original.times.median == pytest.approx(2.0, rel=0.06)
    assert found.original.looser > 0.99
    assert said.startswith("That is about 2.")
    assert "times as loose as the original (95 %: " in said
    assert "tighter than the original: 0.5 times" in against(2.38)[1]
    assert "about as loose as the original" in against(2.42)[1]
    assert "In 0 % of the cases the original would enter." in against(2.50)[1]
    assert "its end, 40.000 mm out, moves" in sentences(found)[0]


def test_a_class_beside_it_is_drawn_from_its_zone() -> None:
    found = play(Reading(screw_of()), NUT, engagement_mm=3.0, original_class=NC, yardstick=limits("4-40 NC-3"))
    assert [sentence(one.what) for one in found.beside] == ["a new 4-40 NC-2 screw", "a new 4-40 NC-3 screw"]
    # middle of the zones of nut and screw: half of both tolerances, halved again for the radius
    width = (NC.pitch_diameter.high or 0) - (NC.pitch_diameter.low or 0)
    assert found.original_class is not None
    assert found.original_class.feel.radial_clearance.median == pytest.approx(width / 2, abs=0.002)
    assert found.original_class.feel.enters == 1


def test_what_cannot_be_put_together_is_refused_in_one_line() -> None:
    screw = screw_of()
    hole = replace(screw, internal=True)
    for wrong in (
        lambda: put(hole),
        lambda: put(screw, NC),
        lambda: put(screw, Reading(screw)),
        lambda: put(screw, length=0.5),
        lambda: put(screw, length=math.nan),
        lambda: put(screw, out=-1.0),
        lambda: play(Reading(screw), NUT, engagement_mm=3.0, draws=50),
        lambda: play(Reading(screw), NUT, engagement_mm=3.0, original_class=NUT),
    ):
        with pytest.raises(PlayError) as caught:
            wrong()
        assert "\n" not in message(caught.value)


# --- whatever the sizes ----------------------------------------------------------------------------------------------

sizes = st.floats(2.38, 2.46)
few = settings(max_examples=25)


@few
@given(sizes, sizes, st.floats(1.0, 12.0), st.floats(0.0, 60.0))
def test_a_bigger_hole_is_never_tighter(one: float, other: float, length: float, out: float) -> None:
    small, large = sorted((one, other))
    tight, loose = (put(screw_of(2.42), hole_of(size, u=0.001), length, out).screw for size in (small, large))
    assert loose.enters >= tight.enters
    for name in ("radial_clearance", "axial_backlash", "tilt", "end_movement"):
        for end in ("low95", "median", "high95"):
            assert getattr(getattr(loose, name), end) >= getattr(getattr(tight, name), end) - 1e-9, name


@few
@given(sizes, st.floats(0.7, 12.0), st.floats(0.7, 12.0), st.floats(0.634, 0.636))
def test_longer_engagement_never_gives_more_play(size: float, one: float, other: float, pitch: float) -> None:
    short, long = sorted((one, other))
    stubby, lengthy = (put(screw_of(size, pitch=pitch), length=length).screw for length in (short, long))
    assert lengthy.tilt.median <= stubby.tilt.median + 1e-9
    assert lengthy.radial_clearance.median <= stubby.radial_clearance.median + 1e-9
    assert lengthy.enters <= stubby.enters


@few
@given(st.sampled_from([e for e in entries() if e.internal_classes]), st.floats(1.0, 3.0), st.integers(0, 5))
def test_any_screw_in_any_hole_gives_finite_numbers_in_order(entry, diameters: float, seed: int) -> None:
    hole = limits_of(designation_of(entry, entry.internal_classes[0], internal=True))
    found = play(Reading(screw_of()), hole, engagement_mm=diameters * entry.major_mm, draws=200, seed=seed)
    for spread in (found.screw.radial_clearance, found.screw.axial_backlash, found.screw.tilt):
        assert math.isfinite(spread.low95 + spread.high95)
        assert spread.low95 <= spread.median <= spread.high95
    assert 0 <= found.screw.enters <= 1
    assert sum(found.screw.touches_first.values()) == pytest.approx(1)
    assert sentences(found)
