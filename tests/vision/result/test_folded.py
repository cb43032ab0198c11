"""Ridges folded onto one: points where the true section has them, and the outline where the picture shows it."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest

from tests.vision.scenes import ACROSS, photograph
from vision.result.fitted_outline import fitted_outline
from vision.result.folded import Folded, fold
from vision.result.measure import measure_picture
from vision.result.measurement import Measurement
from vision.shared.plane import FixedScale

THREAD = ACROSS.thread
assert THREAD is not None
PLANE = FixedScale(ACROSS.camera.um_per_px, light_cone_deg=0.0)


@pytest.fixture(scope="module")
def measured() -> Measurement:
    picture, _ = photograph(ACROSS)
    return measure_picture(picture, PLANE)


@pytest.fixture(scope="module")
def folded(measured: Measurement) -> Folded:
    return fold(measured)


def true_radius(s: np.ndarray) -> np.ndarray:  # type: ignore[type-arg]
    """The section that was drawn, corners sharp; left is where s is negative."""
    assert THREAD is not None
    half = np.radians(np.where(s < 0, THREAD.half_angle_left_deg, THREAD.half_angle_right_deg))
    r = THREAD.pitch_diameter_mm / 2 - (np.abs(s) - THREAD.pitch_mm / 4) / np.tan(half)
    return np.clip(r, THREAD.minor_mm / 2, THREAD.major_mm / 2)


def test_flank_points_lie_on_the_axial_section_not_on_the_shadow(measured: Measurement, folded: Folded) -> None:
    """The shadow's flanks stand 6 um outside the section (on the radius); the points within 0.6 um of it."""
    assert THREAD is not None
    flank = np.abs(folded.r - THREAD.pitch_diameter_mm / 2) < 0.1
    assert flank.sum() > 500
    off = folded.r[flank] - true_radius(folded.s[flank])
    assert abs(float(np.median(off))) < 0.0006
    shadow = measured.shadow["pitch_diameter"].value - measured.thread.pitch_diameter.value
    assert shadow / 2 > 0.006
    for upper in (True, False):
        on = flank & (folded.upper == upper)
        assert abs(float(np.median(folded.r[on] - true_radius(folded.s[on])))) < 0.001


@pytest.mark.slow
def test_left_is_left_wherever_the_part_points() -> None:
    """The free end to the right and to the left: the steeper flank stays on its side, as truth and report have it."""
    assert THREAD is not None
    for rotation in (4.0, 184.0):
        scene = replace(ACROSS, rotation_deg=rotation, length_mm=40.0, view_mm=2.2, phase=0.1, chamfer_end_mm=2.0)
        picture, _ = photograph(scene)
        found = measure_picture(picture, PLANE)
        assert found.part.free_end == ("right" if found.part.free_end_right else "left")
        points = fold(found)
        assert points.section.flank_left == pytest.approx(THREAD.half_angle_left_deg, abs=0.1)
        assert points.section.flank_right == pytest.approx(THREAD.half_angle_right_deg, abs=0.1)
        flank = np.abs(points.r - THREAD.pitch_diameter_mm / 2) < 0.12
        for side, angle in ((-1, THREAD.half_angle_left_deg), (1, THREAD.half_angle_right_deg)):
            on = flank & (np.sign(points.s) == side)
            slope = np.polyfit(points.r[on], np.abs(points.s[on]), 1)[0]
            assert np.degrees(np.arctan(-slope)) == pytest.approx(angle, abs=0.15)


def test_what_lies_off_the_shadow_lies_as_far_off_the_section(folded: Folded) -> None:
    away = folded.r - folded.section.radius(folded.s)
    flank = np.abs(folded.r - folded.section.pitch_radius) < 0.1
    # along the normal of a flank, which leans by the half angle: sin(30 deg) of what is seen along the radius
    assert np.abs(away[flank] * np.sin(np.radians(30)) - folded.out[flank]).max() < 0.15 * np.abs(folded.out).max()


def test_the_section_is_that_of_the_report(measured: Measurement, folded: Folded) -> None:
    assert 2 * folded.section.pitch_radius == pytest.approx(measured.thread.pitch_diameter.value)
    assert 2 * folded.section.crest == pytest.approx(measured.thread.major_diameter.value)
    assert folded.section.pitch == pytest.approx(measured.thread.pitch.value)
    assert measured.thread.threads_in_view <= folded.ridges <= measured.thread.threads_in_view + 3


def test_the_outline_runs_along_the_edge_in_the_picture(measured: Measurement) -> None:
    """Halfway between bright and dark: light under the outline is the mean of both within a tenth of the contrast."""
    light = measured.picture.light
    bright, dark = np.quantile(light, 0.95), np.quantile(light, 0.05)
    for edge in fitted_outline(measured):
        inside = (edge > 2).all(axis=1) & (edge < np.array([light.shape[1], light.shape[0]]) - 3).all(axis=1)
        x, y = edge[inside][::5].T
        x0, y0 = np.floor(x).astype(int), np.floor(y).astype(int)
        fx, fy = x - x0, y - y0
        here = (light[y0, x0] * (1 - fx) + light[y0, x0 + 1] * fx) * (1 - fy)
        here += (light[y0 + 1, x0] * (1 - fx) + light[y0 + 1, x0 + 1] * fx) * fy
        assert abs(float(np.median(here)) - (bright + dark) / 2) < 0.1 * (bright - dark)


def test_a_lens_with_distortion_shows_the_outline_where_it_is_seen(measured: Measurement) -> None:
    class Bowed(FixedScale):
        def undistort(self, points: np.ndarray) -> np.ndarray:  # type: ignore[type-arg]
            away = points - np.array([450.0, 350.0])
            return np.asarray(points + 1e-8 * away * (away**2).sum(axis=1, keepdims=True))

    bowed = replace(measured, plane=Bowed(ACROSS.camera.um_per_px))
    for straight, seen in zip(fitted_outline(measured), fitted_outline(bowed), strict=True):
        assert np.abs(bowed.plane.undistort(seen) - straight).max() < 1e-6
