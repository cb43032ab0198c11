"""Designations by number or diameter and a name, and the classes that go with them."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from tests.each import each
from tests.refused import refused
from threads.rules import workshop_band
from threads.rules.series_tables import ALIASES
from threads.standards.designation import UnknownDesignationError, parse
from threads.standards.limits import limits_of
from threads.standards.series import entries
from threads.standards.trade_names import NAME_LAST, SERIES, WRITTEN_AS


@each(
    ("written", "canonical", "thread_class", "internal"),
    [
        ("1/4-20 BSW", "1/4-20 BSW medium", "medium", False),
        ("1/4 BSW", "1/4-20 BSW medium", "medium", False),
        ("1/4-20 Whitworth free", "1/4-20 BSW free", "free", False),
        ("0.25-20 BSW-close", "1/4-20 BSW close", "close", False),
        ("1/4-20 BSW nut", "1/4-20 BSW medium nut", "medium", True),
        ("1/4-20 BSW normal", "1/4-20 BSW normal nut", "normal", True),
        ("1/4-20 BSW close nut", "1/4-20 BSW close nut", "close", True),
        ("3/16-32 BSF", "3/16-32 BSF medium", "medium", False),
        ("4 BA", "4 BA normal", "normal", False),
        ("4 BA nut", "4 BA nut", "nut", True),
        ("22 BA", "22 BA", "workshop", False),
        ("22 BA workshop nut", "22 BA nut", "workshop", True),
        ("1/4-26 BSB", "1/4-26 BSB", "workshop", False),
        ("1/4 brass", "1/4-26 BSB", "workshop", False),
        ("1/4-26 ME", "1/4-26 BSB", "workshop", False),  # one and the same thread
        ("1/4-32 ME", "1/4-32 ME", "workshop", False),
        ("1/4-26 CEI", "1/4-26 BSC", "workshop", False),
        (".056-62 cycle", "0.056-62 BSC", "workshop", False),
        ("1.37-24 BSC", "1.370-24 BSC", "workshop", False),
        ("Lowenherz 2.6", "Lowenherz 2.6", "workshop", False),
        ("Löwenherz M 2,6 × 0,45 nut", "Lowenherz 2.6 nut", "workshop", True),
        ("Thury -4", "Thury -4", "workshop", False),
        ("SI 6", "SI 6x1", "workshop", False),
        ("SI 6x.75", "SI 6x0.75", "workshop", False),
        ("DIN M2.6", "DIN 2.6x0.45", "workshop", False),
        ("VSM 10 nut", "VSM 10x1.5 nut", "workshop", True),
        ("SF 5x0.75", "SF 5x0.75", "workshop", False),
    ],
)
def test_reads_what_the_trade_writes(written, canonical, thread_class, internal):
    found = parse(written)
    assert (found.text, found.thread_class, found.internal) == (canonical, thread_class, internal)
    assert parse(canonical) == found


@pytest.mark.parametrize("written", ["1/4 ME", "7/16 CEI"])
def test_a_pitch_left_open_is_asked_for(written):
    with refused(UnknownDesignationError, match="leaves its pitch open") as caught:
        parse(written)
    assert len(caught.value.nearest) >= 2


@pytest.mark.parametrize(
    ("written", "internal"), [("1/4-20 BSW free", True), ("1/4-20 BSW normal", False), ("4 BA nut", False)]
)
def test_a_class_of_the_other_part_is_refused(written, internal):
    with pytest.raises(UnknownDesignationError):
        parse(written, internal=internal)


def test_internal_asks_for_the_nut():
    assert parse("1/4-20 BSW", internal=True).text == "1/4-20 BSW medium nut"
    assert parse("Lowenherz 2.6", internal=True).text == "Lowenherz 2.6 nut"


def test_other_names_lead_to_known_series():
    assert set(ALIASES.values()) <= set(SERIES)
    assert all(entries(name) for name in SERIES)


# Worked by hand from the formulas of BS 84:1956, in.: T = 0.002 x 0.62996 + 0.003 x 0.5 + 0.005 x 0.22361 = 0.003878.
@pytest.mark.parametrize(
    ("designation", "major", "effective", "minor"),
    [
        ("1/4-20 BSW close", (0.2452, 0.25), (0.2154, 0.218), (0.1805, 0.186)),
        ("1/4-20 BSW medium", (0.2439, 0.25), (0.2141, 0.218), (0.1776, 0.186)),
        ("1/4-20 BSW free", (0.2419, 0.25), (0.2122, 0.218), (0.1757, 0.186)),
        ("1/4-20 BSW close nut", (0.25, None), (0.218, 0.2206), (0.186, 0.203)),
        ("1/4-20 BSW medium nut", (0.25, None), (0.218, 0.2219), (0.186, 0.203)),
        ("1/4-20 BSW normal nut", (0.25, None), (0.218, 0.2238), (0.186, 0.203)),
    ],
)
def test_whitworth_classes_by_hand(designation, major, effective, minor):
    printed = limits_of(parse(designation)).published
    assert tuple(printed["major_diameter"].values()) == major
    assert tuple(printed["pitch_diameter"].values()) == effective
    assert tuple(printed["minor_diameter"].values()) == minor


def test_the_extra_minor_tolerance_of_whitworth_nuts_goes_by_the_pitch():
    for designation, extra in (("1/4-26 BSF nut", 0.004), ("5/16-22 BSF nut", 0.005), ("1/4-20 BSW nut", 0.007)):
        limits = limits_of(parse(designation)).published
        minor, pitch = limits["minor_diameter"], 1 / limits["threads_per_inch"]
        assert minor["max"] - minor["min"] == pytest.approx(0.2 * pitch + extra, abs=0.00006)


WORKSHOP = [entry for entry in entries() if workshop_band.CLASS in entry.classes]


def test_limits_of_our_own_band_say_so():
    assert {"BSB", "BSC", "ME", "SI", "SF", "DIN", "VSM", "Lowenherz", "Thury"} <= {entry.series for entry in WORKSHOP}
    for entry in WORKSHOP:
        written = WRITTEN_AS.get(entry.series, entry.series)
        name = f"{entry.size} {written}" if entry.series in NAME_LAST else f"{written} {entry.size}"
        for text in (name, f"{name} nut"):
            limits = limits_of(parse(text))
            assert workshop_band.OURS in limits.source
            assert limits.standard == f"{entry.standard}; {workshop_band.OURS}"


@given(
    st.floats(0.3, 40), st.floats(0.05, 0.24), st.sampled_from(["Lowenherz", "Thury", "SI", "DIN 13, old", "Whitworth"])
)
def test_nut_and_screw_of_our_own_band_go_together(major, depth, form):
    pitch = depth * major
    screw, nut = (workshop_band.zone(major, pitch, form, "mm", internal=internal) for internal in (False, True))
    assert screw.pitch_diameter[1] == nut.pitch_diameter[0]
    assert screw.major[1] <= nut.major[0] + 1e-9
    assert screw.pitch_diameter[1] - screw.pitch_diameter[0] == pytest.approx(0.12 * pitch + 0.03, abs=0.0011)
    assert screw.major[1] - screw.major[0] == pytest.approx(0.25 * pitch + 0.02, abs=0.0011)
