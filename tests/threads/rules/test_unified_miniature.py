"""Unified miniature: the rules behind its table, mm."""

import pytest

from threads.rules import unified_miniature
from threads.rules.table import rows
from threads.standards.series import entries


def test_unified_miniature_follows_the_rules_of_its_own_table():
    # The table is the source of the limits; these rules reproduce all of its numbers within its rounding, so that a
    # slip in one of them would show. With the pitch p: E = D - 0.6495 p; tolerances 0.12 p + 0.006 (major diameter of
    # the screw), 0.08 p + 0.008 (pitch diameters), 0.16 p + 0.008 and 0.32 p + 0.012 (minor diameters); nut: minor
    # diameter D - 1.04 p, major diameter at least D + 0.072 p, tolerance 0.168 p + 0.008. mm.
    listed = entries("UNM")
    assert len(listed) == len(rows("unified_miniature.csv")) == 14
    for entry in listed:
        d, p = entry.major_mm, entry.pitch_mm
        screw, nut = (unified_miniature.zone(entry.size, internal=internal) for internal in (False, True))
        by_rule = {
            screw.major: (d - (0.12 * p + 0.006), d),
            screw.pitch_diameter: (d - 0.649519 * p - (0.08 * p + 0.008), d - 0.649519 * p),
            screw.minor: (d - 1.20 * p - (0.16 * p + 0.008), d - 1.20 * p),
            nut.minor: (d - 1.04 * p, d - 1.04 * p + 0.32 * p + 0.012),
            nut.pitch_diameter: (d - 0.649519 * p, d - 0.649519 * p + 0.08 * p + 0.008),
            nut.major: (d + 0.072 * p, d + 0.072 * p + 0.168 * p + 0.008),
        }
        for printed, computed in by_rule.items():
            assert printed == pytest.approx(computed, abs=0.0011)
