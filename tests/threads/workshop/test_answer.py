"""The answer first: the sentence, what would settle it, and what to make the screw with."""

from __future__ import annotations

from dataclasses import replace

import pytest

from flankwise.reasons import sentence
from tests.threads.measured_factory import measured_thread
from threads.identify.identification import identify
from threads.measured.rescaled import rescaled
from threads.measured.thread import MeasuredThread
from threads.standards.designation import parse
from threads.standards.limits import limits_of
from threads.workshop.answer import Answer, answer_of
from threads.workshop.making import making_of, making_of_its_own


def answer(thread: MeasuredThread, **given: object) -> Answer:
    untold = "" if given else "origin_and_year"
    return answer_of(identify(thread, **given), thread, untold=untold)  # type: ignore[arg-type]


def test_one_thread_of_two_systems_is_named_with_both_and_what_would_tell() -> None:
    found = answer(measured_thread(2.80, 2.412, 0.635))
    assert found.sure
    assert found.thread is not None
    assert found.thread.name == "4-40"
    said = sentence(found.sentence)
    assert said.startswith("Identified: 4-40, by ")
    assert "American National (NC)" in said
    assert "Unified (UNC)" in said
    assert sentence(found.settles[0], to_do=False) == "origin and year"


def test_with_origin_and_year_one_system_is_left() -> None:
    found = answer(measured_thread(2.80, 2.428, 0.635), origin="US", made=(1938, 1938))
    assert sentence(found.sentence) == "Identified: 4-40 NC (American National), class 2 or 3."
    assert [one.key for one in found.settles] == ["settles.class"]


def test_what_fits_nothing_is_made_to_its_own_dimensions() -> None:
    thread = measured_thread(3.37, 2.96, 0.58)
    found = answer(thread)
    assert not found.sure
    assert found.thread is None
    assert sentence(found.sentence).startswith("No known thread: major diameter 3.37")
    making = found.make_with
    assert making is not None
    assert not making.sold
    assert making.blank[0] == pytest.approx(3.37 - thread.major_diameter.u95)
    assert 1 <= len(making.nearest) <= 3


def test_a_screw_of_an_old_standard_is_asked_for_by_the_name_of_today() -> None:
    making = making_of(limits_of(parse("4-40 NC-2")))
    assert (making.die, making.tap, making.sold) == ("4-40 UNC", "4-40 UNC", True)
    # ASME B1.1: the allowance of 4-40 UNC-2A is 0.0008 in; American National class 2 has none
    assert making.supplier is not None
    assert making.supplier.values["looser"] == pytest.approx(0.0008 * 25.4, abs=1e-6)
    assert "UNC-2A" in sentence(making.supplier)
    # Machinery's Handbook, 31st ed.: major diameter of 4-40, class 2 screws, 0.1072 to 0.1120 in
    assert making.blank == pytest.approx((0.1072 * 25.4, 0.1120 * 25.4), abs=1e-4)


def test_measurement_over_wires_is_that_of_the_wires_command() -> None:
    making = making_of(limits_of(parse("M3x0.5-6g")))
    # best wire p / 2 / cos 30 deg (ASME B1.2)
    assert making.wire == pytest.approx(0.5 / 2 / 0.8660254, abs=1e-6)
    low, high = making.over_wires
    assert low is not None
    assert high is not None
    # M = E + 3 w - 0.866025 p (Machinery's Handbook), E 2.580 to 2.655 (ISO 965-2); the lead angle adds under 1 um
    assert low == pytest.approx(2.580 + 3 * making.wire - 0.866025 * 0.5, abs=0.001)
    assert high == pytest.approx(2.655 + 3 * making.wire - 0.866025 * 0.5, abs=0.001)


def test_a_nut_is_not_made_with_a_die() -> None:
    with pytest.raises(ValueError, match="nut"):
        making_of(limits_of(parse("4-40 NC-2", internal=True)))


def test_a_thread_at_another_scale_keeps_its_angles() -> None:
    thread = measured_thread(1.4, 1.206, 0.3175)
    twice = rescaled(thread, 2.0)
    assert twice.pitch.value == pytest.approx(0.635)
    assert twice.pitch_diameter.u95 == pytest.approx(2 * thread.pitch_diameter.u95)
    assert twice.threads_per_inch.value == pytest.approx(40.0)
    assert twice.included_angle == thread.included_angle
    assert identify(twice).threads[0].name == "4-40"
    with pytest.raises(ValueError, match="scale"):
        rescaled(thread, 0.0)


def test_own_dimensions_name_a_pitch_as_people_say_it() -> None:
    assert ", 40/in, " in making_of_its_own(measured_thread(3.3, 2.9, 0.635)).die
    assert ", P 0.580 mm, " in making_of_its_own(measured_thread(3.37, 2.96, 0.58)).die


def test_a_left_hand_screw_is_made_with_left_hand_tools() -> None:
    thread = replace(measured_thread(3.93, 3.48, 0.7), hand="left")
    making = answer(thread).make_with
    assert making is not None
    assert (making.die, making.tap) == ("M4x0.7 LH", "M4x0.7 LH")
