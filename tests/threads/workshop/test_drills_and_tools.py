"""Holes to tap, the drills for them, and the taps and dies to ask for."""

from __future__ import annotations

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from tests.each import each
from threads.rules.forms import FORMS
from threads.standards.designation import designation_of, parse
from threads.standards.limits import Limits, candidates, limits_of
from threads.standards.series import entries
from threads.workshop.drill_sizes import FRACTION, LETTER, METRIC, NUMBER, best_drill, drills, holds
from threads.workshop.tap_drill import BY_PERCENT, MIDDLE, hole_of_percent, tap_drill, thread_percent
from threads.workshop.tools import STILL_MADE, tools_of

NUTS = tuple(
    limits_of(designation_of(entry, name, internal=True)) for entry in entries() for name in entry.internal_classes
)


def nut(designation: str) -> Limits:
    return limits_of(parse(designation, internal=True))


def test_drills_are_in_order_and_named_once() -> None:
    assert {drill.kind for drill in drills()} == {METRIC, NUMBER, LETTER, FRACTION}
    assert len({drill.name for drill in drills()}) == len(drills())
    for kind, count in ((NUMBER, 80), (LETTER, 26), (FRACTION, 80)):
        of_kind = [drill.diameter_mm for drill in drills() if drill.kind == kind]
        assert len(of_kind) == count
        assert of_kind == sorted(of_kind)
    metric = [drill.diameter_mm for drill in drills() if drill.kind == METRIC]
    assert metric == sorted(set(metric))
    # letters follow on numbers
    sizes = {drill.name: drill.diameter_mm for drill in drills()}
    assert sizes["No. 80"] < sizes["No. 1"] < sizes["letter A"] < sizes["letter Z"]
    assert sizes["letter E"] == sizes["1/4 in"] == 6.35
    assert sizes["1-1/4 in"] == 31.75


@given(st.floats(0.2, 25.0), st.floats(0.0, 0.5), st.floats(0.0, 0.5), st.booleans())
def test_the_drill_to_take_is_within_the_limits_where_one_is(
    target: float, under: float, over: float, below: bool
) -> None:
    low, high = target - under, target + over
    for kinds in ([METRIC], [NUMBER, LETTER], [FRACTION]):
        found = best_drill(target, low, high, kinds, below=below)
        of_kind = [drill for drill in drills() if drill.kind in kinds]
        fitting = [drill.diameter_mm for drill in of_kind if low <= drill.diameter_mm <= high]
        assert found in of_kind
        assert holds(found.diameter_mm, low, high) == bool(fitting)
        if below and any(size <= target for size in fitting):
            assert found.diameter_mm == max(size for size in fitting if size <= target)
        else:
            pool = fitting or [drill.diameter_mm for drill in of_kind]
            assert abs(found.diameter_mm - target) == min(abs(size - target) for size in pool)


@each("name", FORMS)
def test_percentage_and_hole_are_each_others_inverse(name: str) -> None:
    form = FORMS[name]
    for percent in (50.0, 75.0, 100.0):
        assert thread_percent(form, 5.0, 0.8, hole_of_percent(form, 5.0, 0.8, percent)) == pytest.approx(percent)


@pytest.mark.parametrize(
    ("name", "per_pitch"),
    [
        ("UN", 1.299038), ("ISO metric", 1.299038), ("American National", 1.299038), ("Whitworth", 1.280654),
        ("BA", 1.2), ("Lowenherz", 1.5),
    ],
)  # fmt: skip
def test_a_hundred_percent_is_the_full_depth_of_the_form(name: str, per_pitch: float) -> None:
    assert 10 - hole_of_percent(FORMS[name], 10.0, 1.0, 100.0) == pytest.approx(per_pitch, abs=1e-6)


def test_the_hole_of_every_nut() -> None:
    for limits in NUTS:
        drill = tap_drill(limits)
        assert drill is not None
        assert (drill.low, drill.high) == (limits.minor.low, limits.minor.high)
        known = limits.tap_drill is not None
        assert drill.basis == (MIDDLE if known else BY_PERCENT)
        assert drill.target == pytest.approx(limits.tap_drill) if known else drill.percent <= 75.0001
        assert drill.low is None or drill.low <= drill.target
        assert 30 < drill.percent < 105
        for choice in drill.fitting:
            assert choice.within
            assert drill.low is None or choice.drill.diameter_mm >= drill.low
            assert drill.high is None or choice.drill.diameter_mm <= drill.high
            assert drill.high is not None or choice.percent >= 50
        sizes = [choice.drill.diameter_mm for choice in drill.fitting]
        assert sizes == sorted(sizes)
        assert [choice.drill.kind for choice in drill.recommended][::2] == [METRIC, FRACTION]
        for choice in drill.recommended:
            assert choice.within == (choice in drill.fitting)
            assert choice.percent == pytest.approx(
                thread_percent(FORMS[limits.form], limits.basic_major, limits.pitch, choice.drill.diameter_mm)
            )


def test_a_screw_has_no_hole() -> None:
    assert tap_drill(limits_of(parse("4-40 UNC-2A"))) is None


def test_without_two_limits_three_quarters_of_thread_are_drilled_for() -> None:
    limits = nut("4-40 NC-2")
    drill = tap_drill(limits)
    assert drill is not None
    if limits.minor.high is None:
        assert drill.percent == pytest.approx(75.0)
        assert [choice.drill.name for choice in drill.recommended][:2] == ["2.25 mm", "No. 43"]


def test_the_die_for_an_american_national_screw_is_unified_and_cuts_its_allowance() -> None:
    """4-40 UNC-2A is lower than 4-40 NC-2 by the allowance of 0.0008 in."""
    tools = tools_of(limits_of(parse("4-40 NC-2")))
    assert (tools.kind, tools.ask_for, tools.gives) == ("die", "4-40 UNC", "4-40 UNC-2A")
    assert tools.looser == pytest.approx(0.0008 * 25.4)
    assert any("0.020 mm (0.0008 in) thinner" in note and "Open an adjustable die" in note for note in tools.notes)
    loose = tools_of(limits_of(parse("4-40 NC-1")))
    assert loose.looser is not None
    assert loose.looser < 0
    assert any("close it" in note for note in loose.notes)


def test_the_tap_for_an_american_national_nut_is_one_that_keeps_to_its_limits() -> None:
    for designation in ("4-40 NC-2", "4-40 NC-3"):
        limits = nut(designation)
        tools = tools_of(limits)
        assert (tools.kind, tools.ask_for, tools.tap_class) == ("tap", "4-40 UNC", "H2")
        assert limits.pitch_diameter.high is not None
        assert limits.pitch_diameter.high / 25.4 >= 0.0958 + 2 * 0.0005
        assert any("0.0963 to 0.0968 in" in note for note in tools.notes)
        assert any("wider than" in note for note in tools.notes)


@pytest.mark.parametrize(
    ("designation", "ask_for", "tap_class"),
    [
        ("4-40 UNC-2B", "4-40 UNC", "H3"),
        ("4-40 UNC-3B", "4-40 UNC", "H2"),
        ("1/4-20 UNC-2B", "1/4-20 UNC", "H5"),
        ("M3-6H", "M3x0.5", "ISO 2 (6H)"),
        ("M3-6G", "M3x0.5", "ISO 3 (6G)"),
        ("M1-5H", "M1x0.25", "ISO 1 (4H)"),
        ("4 BA nut", "4 BA", None),
        ("1/4-20 BSW nut", "1/4-20 BSW", None),
        ("SI 3x0.5 nut", "M3x0.5", "ISO 2 (6H)"),
    ],
)
def test_taps(designation: str, ask_for: str, tap_class: str | None) -> None:
    tools = tools_of(limits_of(parse(designation)))
    assert (tools.kind, tools.ask_for, tools.tap_class) == ("tap", ask_for, tap_class)


def test_a_thread_that_is_no_longer_made_is_asked_for_by_its_dimensions() -> None:
    tools = tools_of(limits_of(parse("Lowenherz 2.6")))
    assert tools.ask_for == "2.600 mm, P 0.45 mm, 53.13°, Lowenherz"
    assert tools.gives is None
    assert any("have it made" in note for note in tools.notes)


def test_a_thread_that_is_another_by_a_hair_says_so() -> None:
    tools = tools_of(limits_of(parse("Thury 5")))
    assert tools.ask_for == "5 BA"
    assert any("basic major diameter is" in note for note in tools.notes)


def test_the_tool_has_the_thread_asked_for() -> None:
    every = (*candidates(), *NUTS)
    by_text = {(limits.designation, limits.internal): limits for limits in every}
    for limits in every[::3]:
        tools = tools_of(limits)
        assert tools.kind == ("tap" if limits.internal else "die")
        assert tools.notes or tools.gives
        if tools.gives is None:
            continue
        made = by_text[tools.gives, limits.internal]
        entry = next(e for e in entries(made.series) if e.size == made.size)
        assert entry.last_year is None or entry.series in STILL_MADE
        assert made.pitch == pytest.approx(limits.pitch, rel=0.0005)
        assert made.basic_major == pytest.approx(limits.basic_major, abs=0.013)
        assert math.isclose(FORMS[made.form].flank_angle_deg, FORMS[limits.form].flank_angle_deg, abs_tol=0.01)
        if made.series == limits.series:
            assert tools.looser is None
