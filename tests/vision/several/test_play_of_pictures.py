"""The fit of two screws that differ by the allowance alone, from their pictures."""

from __future__ import annotations

from dataclasses import replace

import pytest

from tests.vision.scenes import ACROSS, UNIFIED, photograph
from threads.standards.designation import parse
from threads.standards.limits import limits_of
from threads.workshop.play import Reading, play
from vision.result.measure import measure_picture
from vision.shared.plane import FixedScale


@pytest.mark.slow
def test_unified_2a_and_national_2_at_maximum_material_differ_by_half_the_allowance() -> None:
    """4-40, both in a hole of 4-40 NC-2; 0.0008 in on the diameter, to 1 um of the radial clearance."""
    hole = limits_of(parse("4-40 NC-2", internal=True))
    plane = FixedScale(6.0, relative_u=1e-4, edge_offset_u_px=0.02, light_cone_deg=0.0)
    medians = []
    for name in ("4-40 UNC-2A", "4-40 NC-2"):
        limits = limits_of(parse(name))
        major, pitch_diameter, minor = limits.major.high, limits.pitch_diameter.high, limits.minor.high
        assert major is not None
        assert pitch_diameter is not None
        assert minor is not None
        thread = replace(UNIFIED, major_mm=major, pitch_diameter_mm=pitch_diameter, minor_mm=minor)
        measured = measure_picture(photograph(replace(ACROSS, thread=thread))[0], plane)
        reading = Reading(measured.thread, measured.common_covariance)
        medians.append(play(reading, hole, engagement_mm=3.0).screw.radial_clearance.median)
    assert medians[0] - medians[1] == pytest.approx(0.0008 * 25.4 / 2, abs=0.001)
