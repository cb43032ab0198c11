"""Pictures that look bad or unusual but hold all that a measurement needs: measured right, with the warnings due.

The pictures are made up, 800 x 600 px, of a thread of 53 px a pitch and 250 px across unless they say otherwise. The
scale is given, and the light has no cone, so that nothing but the picture stands between the result and the truth.
"""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import numpy as np
import pytest

from sample_images.scene import Cylinder, Scene
from tests.vision import made_pictures as made
from tests.vision.made_pictures import (
    ACROSS,
    BETWEEN,
    CAMERA,
    HEIGHT,
    SHORT,
    UM_PER_PX,
    WIDTH,
    WITH_END,
    drawn,
    picture,
    screw,
)
from vision.pictures.picture import Picture
from vision.result.measure import measure_picture
from vision.result.measurement import Measurement
from vision.shared.plane import FixedScale

CLEAN_PX = 0.05
"""Largest error of the pitch diameter of a good picture."""
SOILED_PX = 0.4
"""The same where noise, dirt or blur leave less to go by."""


def measure(seen: Picture, um_per_px: float = UM_PER_PX, part: int | None = None) -> Measurement:
    return measure_picture(seen, FixedScale(um_per_px, light_cone_deg=0.0), part=part)


def check(measured: Measurement, scene: Scene, within_px: float) -> None:
    """Pitch diameter within ``within_px`` and U95; major and minor within twice that plus 0.1 px; pitch to 0.05 %."""
    true, px = made.truth(scene), scene.camera.um_per_px / 1e3
    thread = measured.thread
    error = thread.pitch_diameter.value - true["pitch_diameter_mm"]
    assert abs(error) < within_px * px
    assert abs(error) < thread.pitch_diameter.u95
    assert abs(thread.major_diameter.value - true["major_mm"]) < (2 * within_px + 0.1) * px
    assert abs(thread.minor_diameter.value - true["minor_mm"]) < (2 * within_px + 0.1) * px
    assert abs(thread.pitch.value / true["pitch_mm"] - 1) < 5e-4


def warnings(measured: Measurement) -> set[str]:
    return {w.code for w in measured.quality.warnings}


LIES: dict[str, tuple[Scene, str]] = {
    "across": (ACROSS, "not in view"),
    "end to the right": (WITH_END, "right"),
    "end to the left": (replace(WITH_END, rotation_deg=180.0), "left"),
    "end up": (replace(WITH_END, rotation_deg=-90.0, view_mm=1.2), "left"),
    "end down": (replace(WITH_END, rotation_deg=90.0, view_mm=1.2), "right"),
    "45 deg, over two borders that meet": (replace(ACROSS, rotation_deg=45.0, offset_px=120.0), "not in view"),
    "45 deg upside down": (replace(WITH_END, rotation_deg=225.0), "left"),
    "between shank and end": (BETWEEN, "right"),
    "between shank and end, aslant": (replace(BETWEEN, rotation_deg=-30.0), "right"),
    "short with a large head": (SHORT, "right"),
    "short with a large head, aslant": (replace(SHORT, rotation_deg=30.0), "right"),
    "head wider than the picture": (replace(SHORT, view_mm=1.1, body=(Cylinder(5.0, 9.0),)), "right"),
    "both ends": (replace(WITH_END, length_mm=3.4, view_mm=1.9), "left"),
    "with a turned-down shank": (
        replace(WITH_END, length_mm=2.6, view_mm=1.9, runout_mm=0.3, body=(Cylinder(1.3, 1.2),)),
        "right",
    ),
}


@pytest.mark.slow
@pytest.mark.parametrize("name", LIES)
def test_however_the_part_lies(name: str) -> None:
    scene, free_end = LIES[name]
    measured = measure(picture(screw(scene)))
    check(measured, scene, CLEAN_PX)
    assert measured.part.free_end == free_end
    assert measured.quality.rejected_edge_fraction < 0.05


@pytest.mark.slow
@pytest.mark.parametrize("turns", [4, 5])
def test_few_threads_are_measured_with_a_warning(turns: int) -> None:
    scene = replace(
        ACROSS, length_mm=(turns + 0.8) * 0.3175, view_mm=0.8, body=(Cylinder(1.12, 0.3), Cylinder(2.6, 9.0))
    )
    measured = measure(picture(screw(scene)))
    check(measured, scene, CLEAN_PX)
    assert "few_threads" in warnings(measured)


@pytest.mark.slow
@pytest.mark.parametrize("um_per_px", [15.0, 20.0])
def test_coarse_pictures(um_per_px: float) -> None:
    """21 and 16 px a thread."""
    scene = replace(ACROSS, camera=replace(CAMERA, um_per_px=um_per_px))
    check(measure(picture(screw(scene)), um_per_px), scene, 0.2)


LIGHTS: dict[str, tuple[dict[str, float | str], float, str]] = {
    "60 % slope": ({"slope": 0.6, "pad": 0.6}, CLEAN_PX, ""),
    "threefold slope": ({"slope": 1.0, "pad": 0.6}, CLEAN_PX, ""),
    "dark corners": ({"vignette": 0.6}, CLEAN_PX, ""),
    "black corners": ({"vignette": 0.95}, CLEAN_PX, ""),
    "lit part before a dark ground": ({"background": "dark"}, CLEAN_PX, ""),
    "unevenly lit part before a dark ground": ({"background": "dark", "slope": 0.5}, CLEAN_PX, ""),
    "contrast of 7 %": ({"flare": 0.93, "noise": 0.005}, SOILED_PX, "low_contrast"),
    "contrast of 7 % with noise": ({"flare": 0.93, "noise": 0.015}, SOILED_PX, "low_contrast"),
    "noise of 6 %": ({"noise": 0.06}, SOILED_PX, ""),
    "noise of 15 %": ({"noise": 0.15}, SOILED_PX, ""),
}


@pytest.mark.slow
@pytest.mark.parametrize("name", LIGHTS)
def test_whatever_the_light(name: str) -> None:
    light, within, warning = LIGHTS[name]
    measured = measure(picture(screw(), **light))
    check(measured, ACROSS, within)
    assert not warning or warning in warnings(measured)


@pytest.mark.slow
def test_a_shoulder_in_uneven_light_aslant() -> None:
    scene = replace(BETWEEN, rotation_deg=20.0)
    check(measure(picture(screw(scene), slope=0.6, pad=0.6)), scene, CLEAN_PX)


def test_a_lit_part_with_a_large_head_before_a_dark_ground() -> None:
    scene = replace(SHORT, body=(Cylinder(3.4, 3.0),))
    check(measure(picture(screw(scene), background="dark")), scene, CLEAN_PX)


@pytest.mark.slow
def test_dirt_over_several_crests_on_one_side() -> None:
    turn = np.linspace(0, 2 * np.pi, 60)
    dirt = [
        np.column_stack([x + reach * np.cos(turn), 167 + 18 * np.sin(turn) + 4 * np.cos(5 * turn)])
        for x, reach in ((230, 55), (420, 70))
    ]
    measured = measure(picture(np.maximum(screw(), drawn(*dirt))))
    check(measured, ACROSS, SOILED_PX)
    assert "dirty_outline" in warnings(measured)


@pytest.mark.slow
def test_a_hair_across_the_part() -> None:
    """It crosses both edges several times and encloses pieces of the light pad with them."""
    x = np.linspace(-20, WIDTH + 20, 400)
    hair = made.stroke(np.column_stack([x, HEIGHT / 2 + 220 * np.sin(x / 170)]), 3.0)
    measured = measure(picture(np.maximum(screw(), drawn(hair))))
    check(measured, ACROSS, SOILED_PX)
    assert measured.quality.rejected_edge_fraction > 0.02


@pytest.mark.slow
@pytest.mark.parametrize("change", [{"hairs": 5, "seed": 7}, {"dust": 12, "seed": 4}])
def test_hair_and_dust_on_the_outline(change: dict[str, int]) -> None:
    measured = measure(picture(screw(WITH_END, **change)))
    check(measured, WITH_END, SOILED_PX)
    assert "dirty_outline" in warnings(measured)


@pytest.mark.slow
@pytest.mark.parametrize("sigma", [2.0, 3.0])
def test_soft_focus(sigma: float) -> None:
    scene = replace(ACROSS, camera=replace(CAMERA, blur_sigma_px=sigma))
    measured = measure(picture(screw(scene)))
    check(measured, scene, 0.1)
    assert ("soft_focus" in warnings(measured)) == (sigma > 2.2)


@pytest.mark.slow
@pytest.mark.parametrize("direction", [(0.0, 1.0), (1.0, 0.0), (0.7071, 0.7071)])
def test_motion_blur_of_10_px(direction: tuple[float, float]) -> None:
    """It moves no edge: half-way stays half-way. Corners it rounds are not the screw's."""
    measured = measure(picture(made.smeared(screw(), 10, direction)))
    error = measured.thread.pitch_diameter.value - 1.30
    assert abs(error) < min(SOILED_PX * UM_PER_PX / 1e3, measured.thread.pitch_diameter.u95)


@pytest.mark.slow
@pytest.mark.parametrize("background", ["bright", "dark"])
def test_a_jpeg_of_the_worst_quality(background: str, tmp_path: Path) -> None:
    """Blocks of 8 px move the edges by up to 1 px a side, and soften flanks as light does: U95 covers it."""
    seen = made.as_jpeg(picture(screw(), background=background), tmp_path / "worst.jpg", 5)
    measured = measure(seen)
    error = measured.thread.pitch_diameter.value - 1.30
    assert abs(error) < min(2 * UM_PER_PX / 1e3, measured.thread.pitch_diameter.u95)
    assert "poor_fit" in warnings(measured)


@pytest.mark.slow
@pytest.mark.parametrize("tilt", [2.0, 5.0, 10.0])
def test_a_leaning_axis_is_found_and_told(tilt: float) -> None:
    scene = replace(ACROSS, tilt_deg=tilt)
    measured = measure(picture(screw(scene)))
    check(measured, scene, 0.2)
    assert abs(abs(measured.thread.axis_tilt.value) - tilt) < 0.1
    assert ("tilted" in warnings(measured)) == (tilt > 3)


def test_each_of_two_parts() -> None:
    """Numbered from left to right; they differ in size, so that the wrong one would be noticed."""
    camera = replace(CAMERA, um_per_px=9.0)
    left = replace(WITH_END, view_mm=-0.8, rotation_deg=180.0, camera=camera)
    other = replace(made.THREAD, major_mm=1.40, pitch_diameter_mm=1.21, minor_mm=1.04)
    right = replace(WITH_END, view_mm=-0.8, camera=camera, thread=other)
    seen = picture(np.maximum(screw(left), screw(right)))
    order = sorted((left, right), key=lambda s: -np.cos(np.radians(s.rotation_deg)) * np.sign(s.view_mm) * -1)
    for part, scene in enumerate(order, start=1):
        check(measure(seen, 9.0, part), scene, CLEAN_PX)
