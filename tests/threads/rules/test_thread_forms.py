"""The axial profiles: dimensions of the standards, and the geometry that holds for every form."""

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from tests.each import each
from tests.threads.form_profile import axial_profile, depth_at
from threads.rules.forms import FORMS, addendum
from threads.standards.designation import designation_of
from threads.standards.limits import limits_of
from threads.standards.series import entries

forms = each("form", FORMS.values())
EXACT = 1e-9


def width_at(form, depth):
    """Width of the ridge at a depth, by bisection on the flank; both in pitches."""
    low, high = 0.0, 0.5
    for _ in range(80):
        middle = (low + high) / 2
        low, high = (middle, high) if depth_at(form, middle) < depth else (low, middle)
    return low + high


def test_forms_are_those_of_the_standards():
    wanted = {"American National", "UN", "UNR", "ISO metric", "BA", "Whitworth", "Cycle", "Lowenherz", "Thury", "SI"}
    assert wanted | {"SF", "DIN 13, old", "VSM", "Whitworth, truncated"} <= set(FORMS)
    assert all(form.name == key for key, form in FORMS.items())


@each(
    ("name", "twice_the_depth"),
    # d - d1 or d - d3 over P as the standards print it.
    [
        ("American National", 1.299038),
        ("UN", 1.082532),
        ("UNR", 1.190785),
        ("ISO metric", 1.226869),
        ("BA", 1.2),
        ("Whitworth", 1.280654),
        ("Cycle", 1.065384),
        ("Lowenherz", 1.5),
        ("Thury", 1.2),
        ("SI", 1.407292),
        ("SF", 1.299038),
        ("DIN 13, old", 1.388944),
        ("VSM", 1.4),
    ],
)
def test_depth_is_the_standards(name, twice_the_depth):
    profile = axial_profile(FORMS[name], 10.0, 1.0)
    assert 2 * (profile[:, 1].max() - profile[:, 1].min()) == pytest.approx(twice_the_depth, abs=1e-6)


@pytest.mark.parametrize(
    ("name", "twice_the_addendum"),
    [
        ("UN", 0.649519),
        ("American National", 0.649519),
        ("BA", 0.6),
        ("Whitworth", 0.640327),
        ("Cycle", 0.532692),
        ("Lowenherz", 0.75),
        ("SI", 0.649519),
        ("SF", 0.649519),
        ("DIN 13, old", 0.649519),
        ("VSM", 0.649519),
    ],
)
def test_pitch_line_lies_where_the_standard_puts_it(name, twice_the_addendum):
    # BA: its radius is printed to five digits, which moves the pitch line by a few 1e-5 P.
    assert 2 * addendum(FORMS[name]) == pytest.approx(twice_the_addendum, abs=1e-4)


@pytest.mark.parametrize(
    ("name", "height"),
    # Height H of the sharp triangle over the pitch, as the standards print it.
    [("UN", 0.866025), ("BA", 1.136336), ("Whitworth", 0.960491), ("Cycle", 0.866025), ("Lowenherz", 1.0)],
)
def test_flanks_span_the_standards_triangle(name, height):
    assert 0.5 / math.tan(math.radians(FORMS[name].flank_angle_deg)) == pytest.approx(height, abs=1e-6)


SYMMETRIC = ("American National", "BA", "Whitworth", "Cycle", "Lowenherz", "SF")


@pytest.mark.parametrize("name", SYMMETRIC)
def test_metal_above_the_pitch_line_fills_the_groove_below_it(name):
    form = FORMS[name]
    z = (np.arange(200_000) + 0.5) / 200_000 - 0.5
    above_pitch_line = addendum(form) - depth_at(form, z)
    assert 2 * addendum(form) == pytest.approx(form.basic_depth, abs=EXACT)
    assert above_pitch_line.mean() == pytest.approx(0.0, abs=1e-8)
    # and the groove, turned over, is the ridge
    np.testing.assert_allclose(above_pitch_line, -(addendum(form) - depth_at(form, z + 0.5)), atol=EXACT)


@each("entry", entries())
def test_the_tables_pitch_diameter_is_where_ridge_and_groove_are_equally_wide(entry):
    """True of every series: so a pitch diameter read off the ridges is the standards' effective diameter."""
    limits = limits_of(designation_of(entry, entry.classes[0], internal=False))
    equal = entry.major_mm - 2 * addendum(FORMS[entry.form]) * entry.pitch_mm
    inch = limits.published["unit"] == "in"
    half_unit = 0.00011 * 25.4 if inch else 0.0051 if entry.form == "BA" else 0.0011
    assert limits.basic_pitch_diameter == pytest.approx(equal, abs=half_unit)


@forms
def test_ridge_and_groove_are_equally_wide_on_the_pitch_line(form):
    assert width_at(form, addendum(form)) == pytest.approx(0.5, abs=EXACT)


@forms
def test_flanks_have_the_flank_angle(form):
    near = width_at(form, addendum(form) - 0.01), width_at(form, addendum(form) + 0.01)
    assert math.degrees(math.atan((near[1] - near[0]) / 2 / 0.02)) == pytest.approx(form.flank_angle_deg, abs=1e-6)
    assert form.included_angle_deg == 2 * form.flank_angle_deg


@forms
def test_flats_have_their_width_and_roundings_their_radius(form):
    z = np.linspace(-0.5, 0.5, 200_001)
    depth = depth_at(form, z)
    step = z[1] - z[0]
    if form.crest_radius is None:
        assert np.count_nonzero(depth < 1e-12) * step == pytest.approx(form.crest_flat, abs=2.1 * step)
    if form.root_radius is None:
        assert np.count_nonzero(depth > form.basic_depth - 1e-12) * step == pytest.approx(
            form.root_flat, abs=2.1 * step
        )
    for radius, flat, centre in ((form.crest_radius, form.crest_flat, 0.0), (form.root_radius, form.root_flat, 0.5)):
        if radius is None:
            continue
        # A circle of radius r falls by r - sqrt(r^2 - x^2) at a distance x from where it starts.
        x = radius / 3
        fall = abs(float(depth_at(form, centre + flat / 2 + x)) - float(depth_at(form, centre)))
        assert fall == pytest.approx(radius - math.sqrt(radius**2 - x**2), abs=EXACT)


@forms
def test_roundings_touch_the_flanks(form):
    for radius, centre, flat, toward in (
        (form.crest_radius, 0.0, form.crest_flat, 1.0),
        (form.root_radius, 0.5, form.root_flat, -1.0),
    ):
        if radius is None:
            continue
        # The arc ends where its own slope is that of the flank: at radius times the cosine of the flank angle.
        end = centre + toward * (flat / 2 + radius * math.cos(math.radians(form.flank_angle_deg)))
        near = 1e-7
        slopes = [
            (depth_at(form, end + side + near) - depth_at(form, end + side - near)) / (2 * near)
            for side in (-2 * near, 2 * near)
        ]
        steepest = 1 / math.tan(math.radians(form.flank_angle_deg))
        assert slopes == pytest.approx([steepest, steepest], rel=1e-4)


@forms
def test_profile_has_no_step_and_roundings_no_corner(form):
    z = np.linspace(-0.5, 0.5, 100_001)
    slope = np.diff(depth_at(form, z)) / np.diff(z)
    steepest = 1 / math.tan(math.radians(form.flank_angle_deg))
    assert np.abs(slope).max() <= steepest * (1 + 1e-6)
    if form.rounded_crest and form.rounded_root:
        assert np.abs(np.diff(slope)).max() < 0.002  # a corner would be a jump of 2.3


def test_unified_rounded_root_keeps_within_the_standards_radii():
    # ASME B1.1: 0.10825 P to 0.14434 P.
    assert 0.10825 <= FORMS["UNR"].root_radius <= 0.144341


@forms
@given(
    major=st.floats(0.5, 100),
    pitch=st.floats(0.05, 5),
    points=st.integers(2, 300),
)
def test_profile_scales_with_diameter_and_pitch(form, major, pitch, points):
    profile = axial_profile(form, major, pitch, points)
    assert profile.shape[0] >= points
    assert profile.shape[1] == 2
    assert np.all(np.diff(profile[:, 0]) > 0)
    assert profile[0, 0] == pytest.approx(-pitch / 2)
    assert profile[-1, 0] == pytest.approx(pitch / 2)
    assert profile[:, 1].max() == pytest.approx(major / 2)
    assert profile[:, 1].min() == pytest.approx(major / 2 - form.basic_depth * pitch, abs=1e-9 * major)
    np.testing.assert_allclose(profile[:, 1], profile[::-1, 1], atol=1e-9 * major)
