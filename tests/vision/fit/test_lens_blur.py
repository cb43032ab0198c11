"""Lenses that do not blur like a Gaussian: a halo, astigmatism and coma, on pictures that the benchmark draws.

What they do to the edges is known from nothing but the drawing; the bounds are a third of what goes wrong without it.
"""

from __future__ import annotations

from dataclasses import replace
from functools import cache
from pathlib import Path
from tempfile import TemporaryDirectory

import pytest

from benchmarks.blur import draw
from sample_images.files import write_picture
from sample_images.render import render
from sample_images.scene import Camera, Scene, Thread
from vision.pictures.picture import read_picture
from vision.result.measure import measure_picture
from vision.result.measurement import Measurement
from vision.shared.plane import FixedScale

THREAD = Thread(2.81, 2.42, 2.06, 0.635, 30.3, 29.6, crest_corner_radius_mm=0.01)
CAMERA = Camera(820, 560, um_per_px=8.0, noise=0.004)
SCENE = Scene(THREAD, 40.0, view_mm=15.0, phase=0.2, rotation_deg=12.0, seed=5, camera=CAMERA)
PLANE = FixedScale(8.0, relative_u=1e-5, edge_offset_u_px=0.01, light_cone_deg=0.0)


@cache
def measured(kind: str) -> Measurement:
    with TemporaryDirectory() as folder:
        return measure_picture(draw(SCENE, kind, 0.6, Path(folder) / "screw.png"), PLANE)


@pytest.mark.parametrize(("kind", "case", "angle_deg"), [
    ("halo", "lens_blur.halo", 0.03), ("astigmatism", "lens_blur.direction", 0.1), ("coma", "lens_blur.direction", 0.1),
])  # fmt: skip
def test_blur_that_is_no_gaussian_is_found_and_used(kind: str, case: str, angle_deg: float) -> None:
    found = measured(kind)
    assert not found.solution.lens.is_gaussian
    said = {warning.key for warning in found.quality.warnings}
    assert case in said
    assert not said & {"glare", "dirty_outline", "poor_fit"}
    thread = found.thread
    for quantity, true in ((thread.pitch_diameter, 2.42), (thread.major_diameter, 2.81), (thread.minor_diameter, 2.06)):
        assert abs(quantity.value - true) < 0.1 * 8e-3 + quantity.u95
    assert abs(thread.included_angle.value - 59.9) < min(angle_deg, thread.included_angle.u95 + 0.03)


def test_a_gaussian_is_left_alone() -> None:
    with TemporaryDirectory() as folder:
        path = Path(folder) / "screw.png"
        write_picture(path, render(replace(SCENE, camera=replace(CAMERA, blur_sigma_px=1.3)))[0])
        found = measure_picture(read_picture(path), PLANE)
    assert found.solution.lens.is_gaussian
    assert found.to_dict()["quality"]["blur"]["gaussian"]
    budget = {term.source: term.u for term in found.budget["flank_angle_left"]}
    # a halo costs more of the angle than the doubt whether there is one
    halo = {term.source: term.u for term in measured("halo").budget["flank_angle_left"]}
    assert 0 < budget["lens blur that is no Gaussian"] < halo["lens blur that is no Gaussian"]


def test_noise_that_is_cut_off_at_black_is_no_blur() -> None:
    """Cut noise lifts the light in the part's shade as far tails of a blur would."""
    with TemporaryDirectory() as folder:
        path = Path(folder) / "screw.png"
        write_picture(path, render(replace(SCENE, camera=replace(CAMERA, blur_sigma_px=1.3, noise=0.035)))[0])
        found = measure_picture(read_picture(path), PLANE)
    assert found.solution.lens.is_gaussian
