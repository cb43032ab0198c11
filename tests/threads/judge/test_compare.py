"""Differences of two threads: what cancels, what is significant, which way round, and what the die is told."""

from __future__ import annotations

import math
from dataclasses import replace

import numpy as np
import pytest

from flankwise.reasons import sentence
from tests.threads.measured_factory import measured_thread
from threads.judge.compare import LENS_SCALE_U, CompareError, Comparison, compare, end_for_end
from threads.measured.thread import Covariance, MeasuredThread
from threads.shared.quantity import Quantity
from threads.workshop import closer_die
from threads.workshop.closer_die import nearby

SCALE_U = 5e-4
LENGTHS = np.array([1, 1, 1, 1, 0, 0, 1, 1])


def advice(found: Comparison, *, inches: bool = False) -> tuple[str, ...]:
    """The advice as a person reads it."""
    return tuple(sentence(one, inches=inches) for one in closer_die.advice(found))


def common_of(thread: MeasuredThread, scale_u: float = SCALE_U) -> Covariance:
    """What the scale alone gives: all lengths in proportion."""
    values = np.array([getattr(thread, name).value for name in thread.covariance.order])
    along = values * LENGTHS * scale_u
    return Covariance(thread.covariance.order, np.outer(along, along))


def screw(e: float = 2.41, major: float = 2.80, scale_u: float = SCALE_U, **more: float) -> MeasuredThread:
    return measured_thread(major, e, more.pop("pitch", 0.635), minor=more.pop("minor", 2.0), scale_u=scale_u, **more)


def test_the_scale_falls_out_of_the_difference_of_two_like_parts() -> None:
    old, new = screw(), screw(2.40)
    apart = compare(old, new).differences["pitch_diameter"]
    together = compare(old, new, common=(common_of(old), common_of(new))).differences["pitch_diameter"]
    assert together.value == pytest.approx(-0.01)
    lens = 2.41 * LENS_SCALE_U
    scales = np.hypot(2.41 * SCALE_U, 2.40 * SCALE_U)
    assert apart.u95 == pytest.approx(2 * np.hypot(np.hypot(0.001 * 2**0.5, lens), scales))
    # 1 um of each alone is left, 0.4 % of what the scale gives, and the lens, not the same in two places
    left = np.hypot(0.01 * SCALE_U, lens)
    assert together.standard_uncertainty == pytest.approx(np.hypot(0.001 * 2**0.5, left), rel=1e-6)


def test_of_parts_of_unlike_size_the_scale_leaves_its_part() -> None:
    old, new = screw(), screw(4.41, major=4.80, minor=4.0)
    left = compare(old, new, common=(common_of(old), common_of(new))).differences["pitch_diameter"]
    rest = np.hypot(0.001 * 2**0.5, 4.41 * LENS_SCALE_U)
    assert left.standard_uncertainty == pytest.approx(np.hypot(rest, 2.0 * SCALE_U), rel=1e-6)


def test_no_difference_is_known_better_than_the_lens_is_alike_in_two_places() -> None:
    """Two measurements without any noise, all of whose uncertainty is one and the same scale."""
    one = screw()
    alone = replace(one, covariance=common_of(one))
    found = compare(alone, alone, common=(common_of(one), common_of(one))).differences
    for name in ("pitch", "crest_width", "major_diameter", "pitch_diameter", "minor_diameter"):
        assert found[name].standard_uncertainty == pytest.approx(getattr(one, name).value * LENS_SCALE_U, rel=1e-6)
    assert found["included_angle"].standard_uncertainty == pytest.approx(0.0, abs=1e-9)


def test_the_covariance_of_differences_is_one() -> None:
    old, new = screw(), screw(2.38, major=2.77, pitch=0.6353, flank_left=30.4)
    for common in (None, (common_of(old), common_of(new))):
        matrix = compare(old, new, common=common).covariance.matrix
        assert np.allclose(matrix, matrix.T)
        assert np.linalg.eigvalsh(matrix).min() > 0


def test_equal_parts_seldom_differ() -> None:
    """200 pairs, any dimension of ten: in 5 % at most (twenty are three standard deviations of luck more)."""
    rng, wrong = np.random.default_rng(11), 0
    scale = rng.normal(1.0, SCALE_U, 200)
    for factor in scale:
        pair = []
        for _ in range(2):
            thread = measured_thread(2.80, 2.41, 0.635, minor=2.0, scale_u=0.0, noise=rng)
            values = {n: getattr(thread, n) for n in thread.covariance.order}
            moved = {n: replace(q, value=q.value * (factor if q.unit == "mm" else 1.0)) for n, q in values.items()}
            along = common_of(thread)
            pair.append(
                replace(
                    thread,
                    **moved,
                    covariance=Covariance(along.order, thread.covariance.matrix + along.matrix),
                )
            )
        found = compare(pair[0], pair[1], common=(common_of(pair[0]), common_of(pair[1])))
        wrong += bool(found.significant)
    assert 1 <= wrong <= 20


def test_a_real_difference_is_found_and_named() -> None:
    old, new = screw(), screw(2.39, flank_left=31.0)
    found = compare(old, new, common=(common_of(old), common_of(new)))
    assert set(found.significant) >= {"pitch_diameter", "flank_angle_left"}
    assert "major_diameter" not in found.significant
    assert "lead" not in found.significant
    assert found.differences["included_angle"].value == pytest.approx(1.0)
    assert found.differences["threads_per_inch"].value == pytest.approx(0.0)
    assert found.differences["virtual_pitch_diameter"].value == pytest.approx(-0.02 + 0.0109 * 0.635, abs=2e-5)


def test_what_light_may_have_taken_from_one_alone_is_no_significant_difference() -> None:
    old, new = screw(one_sided=0.006), screw(2.404, one_sided=0.0)
    common = (common_of(old), common_of(new))
    assert "pitch_diameter" not in compare(old, new, common=common).significant
    sure = compare(replace(old, pitch_diameter=replace(old.pitch_diameter, one_sided=0.0)), new, common=common)
    assert "pitch_diameter" in sure.significant


def test_left_and_right_are_exchanged_only_where_nobody_could_see_them() -> None:
    old = screw(flank_left=30.8, flank_right=29.4)
    new = screw(flank_left=29.4, flank_right=30.8)
    assert {"flank_angle_left", "flank_angle_right"} <= set(compare(old, new).significant)
    turned = compare(old, new, ends_known=False)
    assert turned.turned
    assert turned.significant == ()
    assert turned.replacement.flank_angle_left.value == pytest.approx(30.8)
    assert not compare(old, old, ends_known=False).turned


def test_end_for_end_twice_is_the_same() -> None:
    thread = screw(flank_left=30.8, flank_right=29.4, taper=1.5)
    again = end_for_end(end_for_end(thread))
    assert again.flank_angle_left == thread.flank_angle_left
    assert again.taper == thread.taper
    assert np.array_equal(again.covariance.matrix, thread.covariance.matrix)


def test_quantities_that_one_of_them_lacks_are_left_out() -> None:
    rounded = replace(screw(), root_width=None, root_radius=Quantity(0.09, 0.001, "mm"), flat_root=False)
    found = compare(screw(), rounded)
    assert "root_width" not in found.differences
    assert "root_radius" not in found.differences
    both = compare(rounded, replace(rounded, root_radius=Quantity(0.08, 0.001, "mm")))
    assert both.differences["root_radius"].value == pytest.approx(-0.01)
    assert "root_radius" in both.significant


def test_a_screw_and_a_hole_are_not_compared() -> None:
    with pytest.raises(CompareError):
        compare(screw(), replace(screw(), internal=True))


def test_json_keys() -> None:
    content = compare(screw(), screw(2.39)).to_dict(("close it",))
    assert content["schema"] == "flankwise/comparison/1"
    assert {"differences", "significant", "advice"} <= set(content)
    assert set(content["differences"]["pitch_diameter"]) >= {"value", "u95", "unit"}


def test_advice_names_the_way_and_what_comes_closer() -> None:
    old, thin, thick = screw(), screw(2.385), screw(2.43, major=2.83)
    lines = advice(compare(old, thin))
    assert "what is cut off cannot be put back" in lines[0]
    assert "25 µm" in lines[0]
    assert any("4-40" in line and "would come within" in line for line in lines)
    assert advice(compare(old, thick))[0].startswith("Close the die: the pitch diameter must come down by 20 µm")
    assert any("Turn the blank thinner" in line for line in advice(compare(old, thick)))
    assert "No significant difference" in advice(compare(old, old))[0]
    assert " in " in advice(compare(old, thin), inches=True)[0]


def test_another_die_is_named_where_the_pitch_or_the_form_differs() -> None:
    old = screw()
    metric = screw(2.41, pitch=0.64, minor=2.0)
    lines = advice(compare(old, metric))
    assert lines[0].startswith("The two are different threads: pitch 0.635 mm (40 to the inch) against 0.64 mm")
    assert not any("the die" in line or "same die" in line for line in lines)
    assert any(line.startswith("A die for 4-40") for line in lines)
    whitworth = measured_thread(2.80, 2.41, 0.635, minor=2.05, flank_left=27.5, flank_right=27.5)
    assert any("different threads: flank angle" in line for line in advice(compare(old, whitworth)))


def test_a_die_is_not_told_to_do_what_it_cannot() -> None:
    """40 against 48 threads to the inch, another hand, and a diameter out of reach: no setting, no blank."""
    old, finer = screw(), screw(2.45, pitch=25.4 / 48, minor=2.1)
    wide = screw(2.41 + 0.3, major=3.1)
    left = replace(screw(), hand="left")
    for other, why in ((finer, "would bind after"), (wide, "more than a die can be set"), (left, "another hand")):
        lines = advice(compare(replace(old, hand="right"), other))
        assert why in lines[0]
        assert not any(words in line for line in lines for words in ("Close the die", "Open the die", "Turn the blank"))
        assert not any(line.startswith("The same die") for line in lines)
    smaller = compare(old, screw(2.33, pitch=25.4 / 48, minor=2.0, major=2.7)).pair
    # by hand: room 0.08 mm x tan 30 deg + half the difference of the pitches, over that difference
    difference = 25.4 / 40 - 25.4 / 48
    assert smaller.turns_to_bind == pytest.approx((0.08 * math.tan(math.radians(30)) + difference / 2) / difference)


def test_what_is_near_is_sorted_and_of_screws_only() -> None:
    found = nearby(screw())
    assert [one.off for one in found] == sorted(one.off for one in found)
    assert found[0].limits.size == "4-40"
    assert nearby(replace(screw(), internal=True)) == ()
