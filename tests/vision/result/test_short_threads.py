"""Threads of two to three whole turns, as old screws have them: measured, with a warning, without errors of form."""

from __future__ import annotations

from pathlib import Path

import numpy as np
import pytest

from sample_images.files import write_picture
from sample_images.random_scene import short_scene
from sample_images.render import render
from vision.pictures.picture import read_picture
from vision.result.measure import measure_picture
from vision.shared.plane import FixedScale


@pytest.mark.parametrize("seed", [1003, 1008, 1014, (2, 17)])
def test_a_thread_of_two_turns_is_measured(seed: int | tuple[int, int], tmp_path: Path) -> None:
    """Four that were refused: edges out of step at chamfer and runout, a part whose mask lies askew, and two turns that
    do not begin where half pitches are counted from.
    """
    scene = short_scene(np.random.default_rng(seed), (2.0, 3.0), width=1100, height=820)
    assert scene.thread is not None
    write_picture(tmp_path / "short.png", render(scene)[0])
    offset = scene.edge_offset_px
    plane = FixedScale(scene.camera.um_per_px, 1e-5, 0.01, edge_offset_px=offset, light_cone_deg=0.0)
    found = measure_picture(read_picture(tmp_path / "short.png"), plane)
    thread, true = found.thread, scene.thread
    for quantity, value in (
        (thread.pitch, true.pitch_mm),
        (thread.pitch_diameter, true.pitch_diameter_mm),
        (thread.major_diameter, true.major_mm),
        (thread.minor_diameter, true.minor_mm),
        (thread.included_angle, true.half_angle_left_deg + true.half_angle_right_deg),
    ):
        assert abs(quantity.value - value) < 1.5 * quantity.u95
    codes = {warning.code for warning in found.quality.warnings}
    assert "few_threads" in codes
    assert not codes & {"bent", "drunken"}
    assert found.form is not None
    assert found.form.axis_bend is None
    assert found.form.drunkenness_seen is None
