"""The machine screws of 1907: the formulas by hand, and what is said of the hole. Inches."""

import pytest

from tests.each import each
from tests.refused import refused
from threads.rules import workshop_band
from threads.rules.asme_machine_screws import tap_pitch_diameter, zone
from threads.standards.designation import UnknownDesignationError, parse
from threads.standards.limits import limits_of
from threads.standards.series import entries

ALL = entries("ASME") + entries("ASME special")


@pytest.mark.parametrize(
    ("size", "pitch_diameter", "least"),
    # A = threads per inch + 40; E = D - 0.64952 p, its least E - 0.168/A: for 4-36 0.0940 - 0.168/76 = 0.0940 - 0.0022.
    [("4-36", 0.0940, 0.0918), ("4-48", 0.0985, 0.0966), ("6-32", 0.1177, 0.1154), ("10-24", 0.1629, 0.1603)],
)
def test_pitch_diameters_by_hand(size, pitch_diameter, least):
    number, threads = size.split("-")
    limits = zone(0.060 + 0.013 * int(number), float(threads))
    assert limits.pitch_diameter == (least, pitch_diameter)


def test_a_screw_by_hand():
    # 4-48: A = 88, p = 0.0208333: 0.336/A = 0.0038, 0.168/A = 0.0019, 0.10825 p + 0.168/A = 0.0042; K = D - 0.0271
    limits = zone(0.112, 48)
    assert limits.major == (0.1082, 0.1120)
    assert limits.pitch_diameter == (0.0966, 0.0985)
    assert limits.minor == (0.0807, 0.0849)
    assert limits.allowance == 0


def test_the_tap_by_hand():
    # 4-48: E = 0.09847; 0.112/88 = 0.00127; 0.224/88 = 0.00255
    assert tap_pitch_diameter(0.112, 48) == (0.0997, 0.1010)


@each("entry", ALL)
def test_the_hole_has_our_own_band_and_says_that_the_standard_limits_the_tap(entry):
    nut = limits_of(parse(f"{entry.size} {entry.series}", internal=True))
    assert nut.thread_class == workshop_band.CLASS
    assert "our own workshop band" in nut.source
    low, high = tap_pitch_diameter(entry.major_in, entry.threads_per_inch)
    assert f"{low:.4f} in to {high:.4f} in" in nut.source
    # a tap of the standard cuts a hole that the band takes
    assert nut.published["pitch_diameter"]["min"] < low < high < nut.published["pitch_diameter"]["max"]


@pytest.mark.parametrize(
    ("written", "text", "internal"),
    [
        ("4-36 ASME special", "4-36 ASME special", False),
        ("#4-48asme", "4-48 ASME", False),
        ("4-48 ASME nut", "4-48 ASME nut", True),
    ],
)
def test_designations(written, text, internal):
    found = parse(written)
    assert (found.text, found.internal) == (text, internal)
    assert parse(found.text) == found


def test_a_class_is_refused_because_there_is_none():
    with refused(UnknownDesignationError, match="names class 2, which") as caught:
        parse("4-48 ASME-2")
    assert "4-48 ASME" in caught.value.nearest
