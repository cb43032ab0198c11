"""Every form of the standards can be drawn, and the renderer's section is the form's profile."""

import numpy as np
import pytest

from sample_images.of_form import thread_of_form
from sample_images.section import section_of
from tests.threads.form_profile import axial_profile
from threads.rules.forms import FORMS, addendum

MAJOR, PITCH = 6.0, 1.0
EXACT = 1e-9  # mm


@pytest.mark.parametrize("name", FORMS)
def test_the_section_is_the_forms_profile(name):
    thread = thread_of_form(name, MAJOR, PITCH)
    assert thread.faults() == []
    profile = axial_profile(FORMS[name], MAJOR, PITCH, 2001)
    np.testing.assert_allclose(section_of(thread).radius(profile[:, 0]), profile[:, 1], atol=EXACT)


@pytest.mark.parametrize("name", FORMS)
def test_radii_and_flats_are_the_forms(name):
    form, thread = FORMS[name], thread_of_form(name, MAJOR, PITCH)
    for radius, flat, arc, width in (
        (form.crest_radius, form.crest_flat, thread.crest_arc_mm, thread.crest_width_mm),
        (form.root_radius, form.root_flat, thread.root_arc_mm, thread.root_width_mm),
    ):
        assert arc == pytest.approx((radius or 0.0) * PITCH, abs=EXACT)
        if radius is None:
            assert width == pytest.approx(flat * PITCH, abs=EXACT)


def test_a_screw_below_basic_with_flanks_off_is_still_one_that_can_be_cut():
    thread = thread_of_form("Whitworth", 6.35, 1.27, below_mm=0.1, off_deg=(0.5, -0.8), hand="left")
    assert thread.faults() == []
    assert (thread.major_mm, thread.hand) == (6.25, "left")
    assert thread.pitch_diameter_mm == pytest.approx(6.25 - 2 * addendum(FORMS["Whitworth"]) * 1.27)
    assert (thread.half_angle_left_deg, thread.half_angle_right_deg) == (28.0, 26.7)
