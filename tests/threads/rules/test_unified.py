"""Unified limits: the length of engagement, and what the tables round. Figures are inches unless said otherwise."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from cli.main import main
from tests.refused import refused
from threads.rules import unified
from threads.standards.designation import designation_of, parse
from threads.standards.limits import EngagementError, limits_of
from threads.standards.series import entries

UNIFIED = tuple(entry for name in ("UNC", "UNF", "UNEF", "UNS", "UN") for entry in entries(name))
CLASSES = unified.CLASSES + unified.INTERNAL_CLASSES


@pytest.mark.parametrize(
    ("series", "threads", "by_diameter"),
    [("UNC", 20, True), ("UNF", 28, True), ("UN", 8, True), ("UN", 12, False), ("UNEF", 32, False), ("UNS", 10, False)],
)
def test_the_tables_are_for_a_length_of_engagement_of_a_diameter_or_of_nine_pitches(series, threads, by_diameter):
    assert unified.tabulated_for_diameter(series, threads) == by_diameter


def test_a_worked_length_of_engagement():
    # 1/4-20 UNC-2A engaged over 1 in.: T = 0.0015 * 0.62996 + 0.0015 * 1 + 0.015 * 0.13572 = 0.0044807, allowance 0.3 T
    plain, longer = limits_of(parse("1/4-20 UNC-2A")), limits_of(parse("1/4-20 UNC-2A"), engagement_mm=25.4)
    assert plain.published["pitch_diameter"] == {"min": 0.2127, "max": 0.2164}
    assert longer.published["allowance"] == 0.0013
    assert longer.published["pitch_diameter"] == {"min": 0.2117, "max": 0.2162}
    assert "1.0000 in, which the standard's table does not cover" in longer.source
    assert "engagement" not in plain.source


@pytest.mark.parametrize(
    "designation", ["1/4-20 UNC-2A", "10-32 UNF-3B", "1/4-32 UNEF-2A", "10-36 UNS-2B", "1.125-8 UN-3A"]
)
def test_the_length_that_the_table_is_for_changes_nothing(designation):
    found = parse(designation)
    entry = found.entry
    by_diameter = unified.tabulated_for_diameter(entry.series, entry.threads_per_inch)
    tabulated = entry.major_mm if by_diameter else 9 * entry.pitch_mm
    plain, given_length = limits_of(found).published, limits_of(found, engagement_mm=tabulated).published
    assert plain == given_length
    assert "which the standard's table covers" in limits_of(found, engagement_mm=tabulated).source


@given(st.sampled_from(UNIFIED), st.sampled_from(CLASSES), st.floats(0.2, 4.0), st.floats(1.05, 3.0))
def test_a_longer_engagement_widens_the_pitch_diameter_and_nothing_else_but_the_allowance(entry, name, length, factor):
    found = designation_of(entry, name, internal=name.endswith("B"))
    short = limits_of(found, engagement_mm=length * entry.major_mm)
    longer = limits_of(found, engagement_mm=factor * length * entry.major_mm)
    widths = [limits.pitch_diameter.high - limits.pitch_diameter.low for limits in (short, longer)]
    assert widths[1] >= widths[0] - 1e-9
    assert longer.allowance >= short.allowance
    if name.endswith("B") or name == "3A":
        assert longer.allowance == short.allowance == 0
        assert (longer.major, longer.minor) == (short.major, short.minor)
    basics = [(x.basic_major, x.basic_pitch_diameter, x.basic_minor, x.pitch) for x in (short, longer)]
    assert basics[0] == basics[1]


@pytest.mark.parametrize("designation", ["4-40 NC-2", "M3-6g", "4 BA", "1/4-20 BSW", "0.80 UNM", "4-48 ASME"])
def test_a_series_without_a_rule_for_engagement_refuses_it_in_one_line(designation, capsys):
    with refused(EngagementError, match="no rule for a length of engagement"):
        limits_of(parse(designation), engagement_mm=5.0)
    assert main(["limits", designation, "--engagement", "5mm"]) == 2
    assert len(capsys.readouterr().err.strip().splitlines()) == 1


def test_the_command_takes_a_length_of_engagement(capsys):
    assert main(["limits", "1/4-20 UNC-2A", "--engagement", "1in", "--json"]) == 0
    assert '"min": 0.2117' in capsys.readouterr().out
    assert main(["limits", "1/4-20 UNC-2A", "--engagement", "25.4"]) == 2
    assert "--engagement" in capsys.readouterr().err


def test_from_0_138_up_the_nuts_minor_diameter_has_three_decimals():
    for entry in UNIFIED:
        for name in entry.internal_classes:
            minor = limits_of(designation_of(entry, name, internal=True)).published["minor_diameter"]
            if entry.major_in >= 0.138:
                assert minor["min"] == round(minor["min"], 3)
                assert name == "3B" or minor["max"] == round(minor["max"], 3)


def test_sizes_to_which_the_tables_give_a_neighbours_tolerance_say_so():
    # with their own diameters the formulas would give an allowance of 0.0010 and a least pitch diameter of 0.5302
    assert limits_of(parse("12-32 UNEF-2A")).published["allowance"] == 0.0009
    assert limits_of(parse("9/16-24 UNEF-2A")).published["pitch_diameter"]["min"] == 0.5303
    assert "diameter of 0.190 in" in limits_of(parse("12-32 UNEF-2A")).source
    own = unified.zone("a size", 0.216, 32, "2A", long_engagement=False)
    assert own.allowance == 0.0010
