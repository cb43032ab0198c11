"""The section of a ridge: against the forms, its corners, and the zones of classes."""

from __future__ import annotations

import math

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from tests.threads.form_profile import depth_at
from tests.threads.measured_factory import measured_thread
from threads.measured.axial_profile import AxialProfile, profile_of, zone_section
from threads.rules.forms import FORMS, addendum
from threads.standards.designation import parse
from threads.standards.limits import limits_of


@pytest.mark.parametrize("name", ["UN", "American National", "ISO metric", "BA", "Whitworth", "Lowenherz"])
def test_a_standard_form_is_drawn_as_the_standard_has_it(name: str) -> None:
    form, d, p = FORMS[name], 3.0, 0.5
    section = AxialProfile(
        pitch=p,
        crest=d / 2,
        pitch_radius=d / 2 - addendum(form) * p,
        root=d / 2 - form.basic_depth * p,
        flank_left=form.flank_angle_deg,
        flank_right=form.flank_angle_deg,
        crest_corner=(form.crest_radius or 0.0) * p,
        root_corner=(form.root_radius or 0.0) * p,
    )
    z = np.linspace(-0.5, 0.5, 501)
    assert np.abs(section.radius(z * p) - (d / 2 - depth_at(form, z) * p)).max() < 1e-6


@settings(max_examples=30)
@given(st.floats(26, 34), st.floats(26, 34), st.floats(0, 0.03), st.floats(0, 0.05))
def test_ridge_and_groove_are_equally_wide_on_the_pitch_line(
    left: float, right: float, crest: float, root: float
) -> None:
    section = AxialProfile(0.5, 1.5, 1.35, 1.22, left, right, crest, root)
    s = np.linspace(-0.25, 0.25, 5001)
    share = float((section.radius(s) > 1.35).mean())
    assert share == pytest.approx(0.5, abs=6e-4)
    r = section.radius(s)
    assert r.max() == pytest.approx(1.5, abs=1e-9)
    assert r.min() == pytest.approx(1.22, abs=1e-9)
    assert np.abs(np.diff(r)).max() < 4e-4  # no step where a corner begins


def test_flanks_lean_as_said_and_normals_point_outward() -> None:
    section = AxialProfile(0.5, 1.5, 1.35, 1.22, 28.0, 32.0)
    for s, angle, side in ((-0.125, 28.0, -1.0), (0.125, 32.0, 1.0)):
        along, out = section.normal(s)
        assert math.degrees(math.atan2(float(out), side * float(along))) == pytest.approx(angle, abs=1e-4)
    assert section.radius(0.6) == pytest.approx(float(section.radius(0.1)))


def test_a_measured_thread_keeps_its_dimensions() -> None:
    section = profile_of(measured_thread(2.80, 2.41, 0.635, minor=2.0), crest_corner=0.01)
    s, r = section.curve()
    assert 2 * r.max() == pytest.approx(2.80)
    assert 2 * r.min() == pytest.approx(2.0)
    assert s[0] == pytest.approx(-0.635 / 2)
    assert 2 * float(section.radius(0.635 / 4)) == pytest.approx(2.41)


@pytest.mark.parametrize("designation", ["4-40 UNC-2A", "4-40 NC-2", "M3-6g", "4 BA", "1/8-40 BSW"])
def test_the_most_material_lies_outside_the_least_everywhere(designation: str) -> None:
    zone = zone_section(limits_of(parse(designation)))
    assert zone is not None
    s = np.linspace(-0.5, 0.5, 801) * zone.most.pitch
    assert (zone.most.radius(s) >= zone.least.radius(s) - 1e-9).all()


def test_a_nut_has_no_section_of_a_screw() -> None:
    assert zone_section(limits_of(parse("4-40 UNC-2B"))) is None
