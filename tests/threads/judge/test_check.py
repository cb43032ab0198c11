"""A whole thread against its class, and against another part; what the die is told."""

from __future__ import annotations

from dataclasses import replace

import pytest

from flankwise.reasons import sentence
from tests.refused import refused
from tests.threads.measured_factory import measured_thread
from threads.judge import die_advice
from threads.judge.check import Check, CheckError, check, usable_zone
from threads.judge.check_part import check_against_part
from threads.judge.compare import CompareError
from threads.judge.die_advice import die_move
from threads.judge.judgement import CANNOT_TELL, CONFORMS, DOES_NOT_CONFORM, NOT_LIMITED
from threads.measured.thread import MeasuredThread
from threads.shared.quantity import Quantity
from threads.standards.designation import parse
from threads.standards.limits import Limits, limits_of

NC_2 = limits_of(parse("4-40 NC-2"))
E_LOW, E_HIGH = 2.37236, 2.43332


def advice(found: Check, *, inches: bool = False) -> tuple[str, ...]:
    """The advice as a person reads it."""
    return tuple(sentence(one, inches=inches) for one in die_advice.advice(found))


def screw(e: float = 2.40, major: float = 2.80, **more: float) -> MeasuredThread:
    """A 4-40 screw, well within NC-2 unless something else is said."""
    return measured_thread(major, e, more.pop("pitch", 0.635), minor=more.pop("minor", 2.0), **more)


def test_a_good_screw_conforms_in_everything_that_is_limited() -> None:
    found = check(screw(), NC_2)
    assert found.verdict == CONFORMS
    verdicts = {one.quantity: one.verdict for one in found.judgements}
    assert verdicts.pop("root_form") == NOT_LIMITED
    assert set(verdicts) == {
        "major_diameter", "pitch_diameter", "minor_diameter", "virtual_pitch_diameter", "pitch", "flank_angle_left",
        "flank_angle_right",
    }  # fmt: skip
    assert set(verdicts.values()) == {CONFORMS}


@pytest.mark.parametrize(
    ("thread", "quantity", "verdict"),
    [
        (screw(2.45), "pitch_diameter", DOES_NOT_CONFORM),
        (screw(2.45), "virtual_pitch_diameter", DOES_NOT_CONFORM),
        (screw(2.36), "pitch_diameter", DOES_NOT_CONFORM),
        (screw(2.36), "virtual_pitch_diameter", CONFORMS),
        (screw(2.432), "pitch_diameter", CANNOT_TELL),
        (screw(major=2.86), "major_diameter", DOES_NOT_CONFORM),
        (screw(major=2.70, minor=1.99), "major_diameter", DOES_NOT_CONFORM),
        (screw(minor=2.10), "minor_diameter", DOES_NOT_CONFORM),
    ],
)
def test_each_limit_by_itself(thread: MeasuredThread, quantity: str, verdict: str) -> None:
    found = check(thread, NC_2)
    assert found.of(quantity).verdict == verdict
    assert found.verdict == (DOES_NOT_CONFORM if verdict != CANNOT_TELL else CANNOT_TELL)


def test_errors_of_pitch_and_angle_condemn_through_the_virtual_pitch_diameter() -> None:
    """A pitch 0.8 % long is 22 um over a diameter, 39 um on the pitch diameter: a screw of good size does not enter."""
    long = check(screw(2.42, pitch=0.635 * 1.008), NC_2)
    assert long.of("pitch_diameter").verdict == CONFORMS
    assert long.of("virtual_pitch_diameter").verdict == DOES_NOT_CONFORM
    assert long.of("pitch").verdict == CONFORMS  # alone it would not use up the 61 um
    assert long.verdict == DOES_NOT_CONFORM
    lean = check(screw(2.425, flank_left=31.5, flank_right=28.5), NC_2)
    assert lean.of("virtual_pitch_diameter").verdict == DOES_NOT_CONFORM
    assert lean.of("flank_angle_left").verdict == CONFORMS


def test_an_error_that_alone_uses_up_the_tolerance_is_condemned_whatever_the_pitch_diameter() -> None:
    found = check(screw(2.375, flank_left=30.0, flank_right=42.0), NC_2)
    assert found.of("flank_angle_right").verdict == DOES_NOT_CONFORM
    one = found.of("flank_angle_right")
    # 0.0109 p a degree (a university lecture on the measurement of screw threads)
    assert one.high == pytest.approx(30 + (E_HIGH - E_LOW) / (0.0109 * 0.635), rel=0.002)
    far = check(screw(2.375, pitch=0.635 * 1.02), NC_2)
    assert far.of("pitch").verdict == DOES_NOT_CONFORM
    assert "uses up the whole tolerance" in sentence(far.of("pitch").why)


def test_the_engagement_decides_how_much_a_wrong_pitch_counts() -> None:
    thread = screw(2.42, pitch=0.635 * 1.004)
    short, long = (check(thread, NC_2, engagement_mm=length) for length in (1.0, 6.0))
    assert short.of("virtual_pitch_diameter").verdict == CONFORMS
    assert long.of("virtual_pitch_diameter").verdict == DOES_NOT_CONFORM
    assert short.virtual.engagement_mm == 1.0


def form(limits: Limits, flat_root: bool | None, radius: float | None = None) -> str:
    thread = measured_thread(limits.basic_major - 0.03, (limits.pitch_diameter.low or 0) + 0.03, limits.pitch)
    rounded = None if radius is None else Quantity(radius, 0.001, "mm")
    thread = replace(
        thread, flat_root=flat_root, root_radius=rounded, root_width=None if rounded else thread.root_width
    )
    return check(thread, limits).of("root_form").verdict


@pytest.mark.parametrize(
    ("designation", "flat", "verdict"),
    [
        ("4-40 NC-2", True, NOT_LIMITED),
        ("4-40 NC-2", False, NOT_LIMITED),
        ("M3-6g", True, NOT_LIMITED),
        ("1/8-40 BSW", True, DOES_NOT_CONFORM),
        ("1/8-40 BSW", False, CONFORMS),
        ("1/8-40 BSW", None, CANNOT_TELL),
        ("4 BA", True, DOES_NOT_CONFORM),
    ],
)
def test_a_rounded_root_is_asked_for_where_the_form_has_one(designation: str, flat: bool | None, verdict: str) -> None:
    limits = limits_of(parse(designation))
    assert form(limits, flat, 0.08 if flat is False else None) == verdict


def test_another_size_or_a_nut_is_no_question_of_limits() -> None:
    for designation in ("6-32 UNC-2A", "4-36 NS-2", "4-48 NF-2", "M4-6g"):
        with refused(CheckError, match="another size"):
            check(screw(), limits_of(parse(designation)))
    with refused(CheckError, match="that of a hole: give the other"):
        check(screw(), limits_of(parse("4-40 UNC-2B")))


def test_a_hole_is_judged_the_other_way_round() -> None:
    nut = limits_of(parse("4-40 UNC-2B"))
    assert nut.pitch_diameter.low is not None
    low = nut.pitch_diameter.low
    hole = replace(screw(low + 0.03, major=2.90, minor=2.22), internal=True)
    good = check(hole, nut)
    assert good.of("virtual_pitch_diameter").high is None
    assert good.of("virtual_pitch_diameter").low == low
    tight = replace(screw(low - 0.02, major=2.90, minor=2.22), internal=True)
    assert check(tight, nut).of("virtual_pitch_diameter").verdict == DOES_NOT_CONFORM
    assert any("Cut larger" in line for line in advice(check(tight, nut)))
    with refused(CheckError, match="that of a screw"):
        check(hole, NC_2)


def test_the_die_is_told_the_way_to_the_middle_and_the_bounds() -> None:
    thick = check(screw(2.44), NC_2)
    move, zone = die_move(thick), usable_zone(thick)
    assert move is not None
    assert zone is not None
    assert zone[0] == pytest.approx(E_LOW)
    assert zone[1] <= E_HIGH
    assert 2.44 + move.to_middle == pytest.approx(sum(zone) / 2)
    assert move.least < move.to_middle < move.most < 0
    (line, *_) = advice(thick)
    assert line.startswith("Close the die: the pitch diameter must come down by 37 µm to the middle of the zone")
    assert "in" in advice(thick, inches=True)[0]
    # a screw changed by anything between the two conforms, and beyond them it is not sure to
    hair = 0.0002
    for change, kept in (
        (move.least + hair, True),
        (move.most - hair, True),
        (move.least - hair, False),
        (move.most + hair, False),
    ):
        assert (check(screw(2.44 + change), NC_2).verdict == CONFORMS) == kept


def test_what_is_too_thin_cannot_be_put_right() -> None:
    (line, *_) = advice(check(screw(2.35), NC_2))
    assert "It is too thin" in line
    assert "Open the die for the next one" in line
    assert "may be too thin" in advice(check(screw(2.3735), NC_2))[0]


def test_a_good_screw_leaves_the_die_alone_and_a_bad_blank_is_told() -> None:
    assert advice(check(screw(), NC_2)) == tuple(
        line for line in advice(check(screw(), NC_2)) if "Leave the die" in line
    )
    assert any("next blank thinner" in line for line in advice(check(screw(major=2.86), NC_2)))
    assert any("next blank thicker" in line for line in advice(check(screw(major=2.71, minor=1.99), NC_2)))
    assert any("groove is too shallow" in line for line in advice(check(screw(minor=2.10), NC_2)))
    bad_die = advice(check(screw(2.40, pitch=0.635 * 1.006), NC_2))
    assert any("mostly of the pitch" in line for line in bad_die)


def test_no_setting_is_sure_where_the_zone_is_narrower_than_the_doubt() -> None:
    blurred = screw(2.41, scale_u=0.008)
    (line, *_) = advice(check(blurred, NC_2))
    assert line.startswith("No setting of the die is sure to conform")


def test_a_part_is_its_own_pattern() -> None:
    old = screw(2.41)
    same = check_against_part(old, old, name="old index arm screw", like=NC_2)
    assert same.verdict == CONFORMS
    assert same.against == "old index arm screw"
    one = same.of("pitch_diameter")
    assert one.low is not None
    assert one.high is not None
    assert (one.low + one.high) / 2 == pytest.approx(2.41)
    assert one.high - one.low == pytest.approx(E_HIGH - E_LOW)
    assert check_against_part(screw(2.45), old, name="old", like=NC_2).verdict == DOES_NOT_CONFORM
    # without a class the workshop's band: 0.12 p + 0.03 mm
    wide = check_against_part(screw(2.45), old, name="old").of("pitch_diameter")
    assert wide.high == pytest.approx(2.41 + 0.0531)
    assert wide.verdict == CONFORMS


def test_limits_that_were_measured_have_guard_bands_of_their_own() -> None:
    old, new = screw(2.41), screw(2.41 + 0.0305 - 0.0025)
    alone = check(new, NC_2).of("pitch_diameter")
    apart = check_against_part(new, old, name="old", like=NC_2).of("pitch_diameter")
    bench = old.covariance.matrix * 0.96, new.covariance.matrix * 0.96
    common = tuple(replace(t.covariance, matrix=m) for t, m in zip((old, new), bench, strict=True))
    together = check_against_part(new, old, name="old", like=NC_2, common=(common[0], common[1])).of("pitch_diameter")
    assert apart.guard == pytest.approx((2**0.5) * (alone.guard or 0), rel=0.01)
    assert together.guard == pytest.approx(0.2 * (apart.guard or 0), rel=0.05)
    assert apart.verdict == CANNOT_TELL
    assert together.verdict == CONFORMS


def test_light_that_may_have_taken_from_either_widens_both_sides() -> None:
    old, new = screw(2.41, one_sided=0.004), screw(2.41, one_sided=0.003)
    reach = check_against_part(new, old, name="old").of("pitch_diameter").reach
    assert (reach.below, reach.above) == (0.004, 0.003)


def test_a_screw_is_no_pattern_of_a_hole() -> None:
    with refused(CompareError, match="that of a hole"):
        check_against_part(screw(), replace(screw(), internal=True), name="hole")


def test_json_keys() -> None:
    content = check(screw(), NC_2).to_dict({"schema": "x"}, ("leave it",))
    assert content["schema"] == "flankwise/check/1"
    assert {"against", "verdict", "quantities", "advice", "measurement"} <= set(content)
    assert {"quantity", "measured", "min", "max", "verdict", "margin"} <= set(content["quantities"][0])
    assert content["against"] == "4-40 NC-2"
