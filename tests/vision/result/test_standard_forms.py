"""Crest and root of the standard forms as they are measured: diameters, angle, radii, and flat told from rounded.

One scene a form: blur 1.6 px, noise 1 %, axis tilted by 1 degree, flanks 0.6 and -0.4 degrees off.
"""

from __future__ import annotations

from dataclasses import replace
from functools import cache

import pytest

from sample_images.of_form import thread_of_form
from sample_images.scene import Camera, Scene, Thread
from tests.vision.scenes import photograph
from threads.measured.thread import MeasuredThread
from threads.standards.designation import parse
from vision.result.measure import measure_picture
from vision.shared.plane import FixedScale

# Designation -> um per pixel, picture size, flat crest, flat root.
SCENES = {
    "1/8-40 BSW": (6.0, 900, 760, False, False),
    "3/16-32 BSF": (7.0, 900, 900, False, False),
    "10 BA": (3.0, 900, 800, False, False),
    "0.104-44 BSC": (4.0, 900, 880, False, False),
    "4-40 UNRC": (4.0, 900, 900, True, False),
    "Lowenherz 2.6": (4.0, 900, 860, True, True),
}
FLANKS_OFF = (0.6, -0.4)
BELOW = 0.03  # mm below basic

each_scene = pytest.mark.parametrize("name", SCENES)


@cache
def result(name: str) -> tuple[MeasuredThread, Thread]:
    um, width, height, _, _ = SCENES[name]
    entry = parse(name).entry
    thread = thread_of_form(entry.form, entry.major_mm, entry.pitch_mm, below_mm=BELOW, off_deg=FLANKS_OFF)
    camera = Camera(width, height, um_per_px=um, blur_sigma_px=1.6, noise=0.01)
    picture, _ = photograph(
        Scene(thread, 40.0, view_mm=20.0, phase=0.3, tilt_deg=1.0, rotation_deg=-7.0, seed=7, camera=camera)
    )
    bench = FixedScale(um, relative_u=1e-5, edge_offset_u_px=0.01, light_cone_deg=0.0)
    return measure_picture(picture, bench).thread, thread


@pytest.mark.slow
@each_scene
def test_diameters_and_angles_are_right(name: str) -> None:
    """Diameters to 0.08 px, included angle to 0.03 degrees, each within one and a half U95."""
    found, true = result(name)
    px = 1e-3 * SCENES[name][0]
    for quantity, truth, tolerance in (
        (found.major_diameter, true.major_mm, 0.08 * px),
        (found.pitch_diameter, true.pitch_diameter_mm, 0.08 * px),
        (found.minor_diameter, true.minor_mm, 0.08 * px),
        (found.included_angle, true.half_angle_left_deg + true.half_angle_right_deg, 0.03),
    ):
        assert quantity.value == pytest.approx(truth, abs=tolerance)
        assert abs(quantity.value - truth) < 1.5 * quantity.u95


@each_scene
def test_flat_is_told_from_rounded_at_crest_and_root(name: str) -> None:
    found, _ = result(name)
    *_, flat_crest, flat_root = SCENES[name]
    assert (found.flat_crest, found.flat_root) == (flat_crest, flat_root)


@each_scene
def test_radii_of_roundings_and_widths_of_flats_are_right(name: str) -> None:
    """To 0.15 px, each within one and a half U95; there is a radius exactly where there is no flat."""
    found, true = result(name)
    px = 1e-3 * SCENES[name][0]
    *_, flat_crest, flat_root = SCENES[name]
    for flat, radius, true_radius, width, true_width in (
        (flat_crest, found.crest_radius, true.crest_arc_mm, found.crest_width, true.crest_width_mm),
        (flat_root, found.root_radius, true.root_arc_mm, found.root_width, true.root_width_mm),
    ):
        quantity, truth = (width, true_width) if flat else (radius, true_radius)
        assert (radius is None) == flat
        assert quantity is not None
        assert quantity.value == pytest.approx(truth, abs=0.15 * px)
        assert abs(quantity.value - truth) < 1.5 * quantity.u95


@pytest.mark.slow
@pytest.mark.parametrize(("form", "major", "pitch", "um_per_px", "blur"), [
    ("SI", 1.0, 0.25, 2.0, 0.8),
    ("SI", 1.0, 0.25, 4.0, 0.8),
    ("BA", 0.79, 0.19, 6.0, 1.6),
    ("BA", 0.37, 0.10, 4.0, 0.8),
    ("Thury", 0.48, 0.122, 4.0, 1.6),
])  # fmt: skip
def test_small_round_roots_are_not_called_flat(
    form: str, major: float, pitch: float, um_per_px: float, blur: float
) -> None:
    """An arc of a few blur widths: round or not resolved, never flat; the diameters within their U95."""
    thread = thread_of_form(form, major, pitch)
    camera = Camera(1200, 1000, um_per_px=um_per_px, blur_sigma_px=blur, noise=0.006 * blur)
    scene = Scene(thread, 40.0, view_mm=20.0, phase=0.3, rotation_deg=3.0, tilt_deg=0.5, seed=3, camera=camera)
    m = measure_picture(photograph(scene)[0], FixedScale(um_per_px, 1e-5, 0.001, light_cone_deg=0.0)).thread
    assert m.flat_root is not True
    for quantity, truth in (
        (m.major_diameter, thread.major_mm),
        (m.pitch_diameter, thread.pitch_diameter_mm),
        (m.minor_diameter, thread.minor_mm),
    ):
        assert abs(quantity.value - truth) < quantity.u95


@pytest.mark.slow
@pytest.mark.parametrize(("form", "major", "pitch", "um_per_px", "flat_crest", "flat_root"), [
    ("Sharp V", 2.0, 0.4, 4.0, True, None),  # flats of 3 blurs: a round root explains the picture as well, a crest not
    ("Whitworth, truncated", 3.175, 0.635, 6.0, True, False),
    ("Thury", 2.0, 0.4, 3.0, False, False),
])  # fmt: skip
def test_older_forms_take_part_in_the_choice(
    form: str, major: float, pitch: float, um_per_px: float, flat_crest: bool, flat_root: bool | None
) -> None:
    """A sharp V as worn tools leave it, flats of p/22; a Whitworth crest cut off flat; a watchmaker's rounded form."""
    thread = thread_of_form(form, major, pitch)
    if form == "Sharp V":
        worn = 0.08 * pitch
        thread = replace(thread, major_mm=thread.major_mm - worn, minor_mm=thread.minor_mm + worn)
    camera = Camera(1100, 1000, um_per_px=um_per_px, blur_sigma_px=1.6, noise=0.01)
    scene = Scene(thread, 40.0, view_mm=20.0, phase=0.3, tilt_deg=1.0, rotation_deg=-5.0, seed=7, camera=camera)
    found = measure_picture(photograph(scene)[0], FixedScale(um_per_px, 1e-5, 0.01, light_cone_deg=0.0)).thread
    assert (found.flat_crest, found.flat_root) == (flat_crest, flat_root)
    for quantity, truth in (
        (found.major_diameter, thread.major_mm),
        (found.pitch_diameter, thread.pitch_diameter_mm),
        (found.minor_diameter, thread.minor_mm),
        (found.included_angle, thread.half_angle_left_deg + thread.half_angle_right_deg),
    ):
        assert abs(quantity.value - truth) < 1.5 * quantity.u95
