"""Dimensions stand where the picture has what they name, and are as long as the standard has it.

The sample is a 4-40 of American National form: 40 threads per inch and 60 degrees (ASME B1.1-2003), at 4 µm a pixel.
"""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import numpy as np
import pytest

from flankwise.bench import Bench
from flankwise.measuring import measure
from sample_images.scene import Cylinder, Scene
from tests.vision.scenes import CAMERA, UNIFIED, photograph
from vision.result.dimensions import DRAWN, Dimension, dimensions, flank_at
from vision.result.measurement import Measurement
from vision.shared.plane import FixedScale

SCREW = Path(__file__).parents[3] / "sample_images" / "sextant_index_arm_screw_4-40_bench_a.png"
MM = 0.004
HALF_LIGHT = 0.5


@pytest.fixture(scope="module")
def screw() -> Measurement:
    return measure(str(SCREW), Bench(FixedScale(4.0, relative_u=1e-5, edge_offset_u_px=0.01))).measurement


@pytest.fixture(scope="module")
def drawn(screw: Measurement) -> dict[str, Dimension]:
    return {one.quantity: one for one in dimensions(screw)}


def length(one: Dimension) -> float:
    """Between the arrows, mm."""
    return MM * float(np.hypot(*(one.line[1] - one.line[0])))


def light(screw: Measurement, at: np.ndarray) -> float:
    x, y = np.rint(at).astype(int)
    return float(screw.picture.light[y, x])


def test_lines_are_as_long_as_the_thread_is_large(drawn: dict[str, Dimension]) -> None:
    assert set(DRAWN) - {"length"} <= set(drawn)  # the picture cuts the thread off
    assert length(drawn["pitch"]) == pytest.approx(25.4 / 40, rel=1e-3)
    # ASME B1.1-2003, table 2A, 4-40 UNC: a screw cut above class 2A is between its limits and the basic diameter
    assert 0.1061 * 25.4 < length(drawn["major_diameter"]) < 0.1120 * 25.4
    assert length(drawn["minor_diameter"]) < length(drawn["pitch_diameter"]) < length(drawn["major_diameter"])
    sides = [line[1] - line[0] for line in drawn["included_angle"].extensions]
    cosine = sides[0] @ sides[1] / np.hypot(*sides[0]) / np.hypot(*sides[1])
    assert np.degrees(np.arccos(cosine)) == pytest.approx(60.0, abs=0.4)


def test_extension_lines_of_the_pitch_start_on_crests_of_the_picture(
    screw: Measurement, drawn: dict[str, Dimension]
) -> None:
    dark, bright = np.quantile(screw.picture.light, [0.05, 0.95])
    half = dark + HALF_LIGHT * (bright - dark)
    for line in drawn["pitch"].extensions:
        way = (line[1] - line[0]) / np.hypot(*(line[1] - line[0]))
        assert light(screw, line[0] + 4 * way) > half
        assert light(screw, line[0] - 4 * way) < half


def test_diameters_stand_clear_of_the_part_the_smallest_nearest(drawn: dict[str, Dimension]) -> None:
    across = [drawn[f"{name}_diameter"].text_at[0] for name in ("minor", "pitch", "major")]
    assert across == sorted(across)
    assert np.diff(across).min() > 60  # px: room for the text of one between two


def test_a_place_on_the_edge_names_its_flank(screw: Measurement, drawn: dict[str, Dimension]) -> None:
    crest = drawn["pitch"].extensions[0][0]
    along = (drawn["pitch"].line[1] - drawn["pitch"].line[0]) / 4  # a quarter of the pitch: the middle of a flank
    down = -drawn["pitch"].away * (screw.thread.major_diameter.value - screw.thread.pitch_diameter.value) / 2 / MM
    right, left = (flank_at(screw, *(crest + sign * along + down), within=5.0) for sign in (1, -1))
    assert right is not None
    assert left is not None
    assert (right.quantity, left.quantity) == ("flank_angle_right", "flank_angle_left")
    assert flank_at(screw, *screw.part.middle_px, within=5.0) is None
    assert right.ridge is not None
    assert right.ridge == left.ridge  # both flanks of one ridge have its numbers
    beyond = flank_at(screw, *(crest + 3 * along + down), within=5.0)  # up the next ridge, toward the free end
    assert beyond is not None
    assert beyond.quantity == "flank_angle_left"
    assert beyond.number == right.number - 1
    assert beyond.ridge is not None
    assert beyond.ridge.position - right.ridge.position == pytest.approx(25.4 / 40, rel=0.02)


def test_lengths_of_a_whole_screw_are_those_that_were_drawn() -> None:
    """A head of 0.9 mm and 3.6 mm of thread, at 6 µm a pixel."""
    camera = replace(CAMERA, width=1100, height=900)
    scene = Scene(UNIFIED, 3.6, body=(Cylinder(4.2, 0.9),), view_mm=2.2, rotation_deg=6.0, camera=camera)
    plane = FixedScale(CAMERA.um_per_px, relative_u=1e-5, edge_offset_u_px=0.01)
    found = dimensions(measure(photograph(scene)[0], Bench(plane)).measurement)
    lengths = [one for one in found if one.quantity == "length"]
    assert [one.value.value for one in lengths] == pytest.approx([0.9, 3.6], abs=0.003)
    drawn = [CAMERA.um_per_px / 1000 * np.hypot(*(one.line[1] - one.line[0])) for one in lengths]
    assert drawn == pytest.approx([0.9, 3.6], abs=0.003)
    assert [(one.line[0, 1] + one.line[1, 1]) / 2 > 800 for one in lengths] == [True, True]  # px: below the part
