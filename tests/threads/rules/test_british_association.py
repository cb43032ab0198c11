"""British Association: what the rules of the standard say of its own table, mm."""

import pytest

from tests.each import each
from threads.standards.designation import parse
from threads.standards.limits import limits_of
from threads.standards.series import entries


# BS 93:2008, Annex B (extract): tolerances of close bolts on the major diameter 0.15 P, the effective diameter 0.08 P +
# 0.02, the minor diameter 2 (0.08 P + 0.02); of nuts on the effective diameter 0.12 P + 0.03, the minor 0.375 P.
@pytest.mark.parametrize("number", range(11))
def test_close_bolt_and_nut_tolerances_follow_the_annex(number):
    bolt, nut = limits_of(parse(f"{number} BA close")), limits_of(parse(f"{number} BA nut"))
    pitch = bolt.pitch
    half_unit = 0.00051
    assert bolt.major.high - bolt.major.low == pytest.approx(0.15 * pitch, abs=half_unit)
    assert bolt.pitch_diameter.high - bolt.pitch_diameter.low == pytest.approx(0.08 * pitch + 0.02, abs=half_unit)
    assert bolt.minor.high - bolt.minor.low == pytest.approx(2 * (0.08 * pitch + 0.02), abs=half_unit)
    assert nut.pitch_diameter.high - nut.pitch_diameter.low == pytest.approx(0.12 * pitch + 0.03, abs=half_unit)
    assert nut.minor.high - nut.minor.low == pytest.approx(0.375 * pitch, abs=half_unit)


# Machinery's Handbook, 31st ed., p. 2115: depth of thread 0.6 P, effective = major - depth, minor = major - 2 depths,
# printed rounded to 0.005 mm.
@each("entry", entries("BA"))
def test_printed_basic_diameters_agree_with_the_depth_of_thread(entry):
    limits = limits_of(parse(f"{entry.size} BA"))
    assert limits.basic_pitch_diameter == pytest.approx(entry.major_mm - 0.6 * entry.pitch_mm, abs=0.0051)
    assert limits.basic_minor == pytest.approx(entry.major_mm - 1.2 * entry.pitch_mm, abs=0.0101)
