"""Whole calibrations on pictures that another renderer drew, see tests/pictures/README.md."""

from __future__ import annotations

import json
import math
from functools import cache
from pathlib import Path
from typing import Any

import pytest

from calib.bench import calibrate_bench
from calib.calibration import Calibration, calibration_from_dict
from flankwise.reasons import message
from tests.vision.flat_pictures import CHESSBOARD, RULINGS, seen
from threads.shared.refusal import RefusalError
from vision.pictures.picture import Picture, read_picture

FOLDER = Path(__file__).parents[1] / "pictures"
TRUTH: dict[str, dict[str, Any]] = json.loads((FOLDER / "truth.json").read_text(encoding="utf-8"))
U95_MM = 0.0002


@cache
def picture(name: str) -> Picture:
    return read_picture(FOLDER / name)


def gauges(camera: str, *kinds: str) -> dict[str, Any]:
    """The arguments of ``calibrate_bench`` for some kinds of gauge of a camera."""
    size = {"pin": "diameter_mm", "stage_micrometer": "division_mm", "chessboard": "square_mm"}
    argument = {"pin": "pins", "stage_micrometer": "stage_micrometers", "chessboard": "grids"}
    u95 = {"pin_u95_mm": U95_MM, "division_u95_mm": U95_MM, "grid_u95_mm": U95_MM}
    return u95 | {
        argument[kind]: [
            (picture(name), truth[size[kind]])
            for name, truth in TRUTH.items()
            if truth["camera"] == camera and truth["kind"] == kind
        ]
        for kind in kinds
    }


@cache
def bench(camera: str, *kinds: str, distance: float | None = None) -> Calibration:
    return calibrate_bench(**gauges(camera, *kinds), working_distance_mm=distance)


def ppm(found: Calibration, camera: str) -> float:
    true = next(t["um_per_px"] for t in TRUTH.values() if t["camera"] == camera)
    return 1e6 * (found.um_per_px / true - 1)


def test_a_stage_micrometer_alone() -> None:
    """Camera B: the scale within 20 ppm and its U95; the offset is assumed, and said to be."""
    found = bench("B", "stage_micrometer")
    assert abs(ppm(found, "B")) < 20
    assert abs(found.um_per_px - 3.2) < found.um_per_px_u95
    assert found.gauges[0].steps == 200
    assert found.gauges[0].scatter_px is not None
    assert found.gauges[0].scatter_px < 0.03
    assert [w.code for w in found.warnings] == ["edge_offset_assumed"]
    assert not found.round_gauges
    assert found.light_cone_deg is None


def test_a_grid_alone() -> None:
    """Camera D: brightness has a scale 70 ppm smaller than green light; k1 within 1 % of the truth."""
    found = bench("D", "chessboard")
    assert abs(ppm(found, "D") + 70) < 25
    assert found.lens["k1"] == pytest.approx(0.008, rel=0.01)
    assert found.gauges[0].steps == 20


def test_rulings_alone_find_the_lens_too() -> None:
    found = bench("D", "stage_micrometer")
    assert abs(ppm(found, "D") + 70) < 120  # along 2 mm in the middle only
    assert found.lens["k1"] == pytest.approx(0.008, rel=0.15)
    assert abs(ppm(found, "D") + 70) < 1e6 * found.um_per_px_u95 / found.um_per_px


@pytest.mark.slow
@pytest.mark.parametrize(
    ("camera", "kinds", "distance", "cone"),
    [
        ("B", ("pin", "stage_micrometer"), 80.0, 3.0),
        ("D", ("pin", "stage_micrometer"), 60.0, 4.0),
        ("D", ("pin", "chessboard"), 60.0, 4.0),
        ("D", ("pin", "stage_micrometer", "chessboard"), 60.0, 4.0),
    ],
)
def test_mixed_gauges_find_the_cone(camera: str, kinds: tuple[str, ...], distance: float, cone: float) -> None:
    """Within its U95 and 0.7 deg of the truth; offset within 0.03 px of none; scale that of the flat gauge."""
    found = bench(camera, *kinds, distance=distance)
    assert found.light_cone_deg == pytest.approx(cone, abs=0.7)
    assert abs(found.light_cone_deg - cone) < 2 * found.light_cone_u_deg
    assert found.light_cone_found
    assert abs(found.edge_offset_px) < min(0.03, found.edge_offset_px_u95)
    assert not found.round_gauges
    assert abs(ppm(found, camera) + (70 if camera == "D" else 0)) < 50
    assert found.working_distance_mm == distance
    again = calibration_from_dict(found.to_dict())
    assert again.to_dict() == found.to_dict()
    assert (again.light_cone_u_deg, again.light_cone_found) == (found.light_cone_u_deg, True)


def test_a_cone_that_is_given_is_kept() -> None:
    found = calibrate_bench(**gauges("B", "pin", "stage_micrometer"), light_cone_deg=3.0, light_cone_u_deg=0.3)
    assert (found.light_cone_deg, found.light_cone_found) == (3.0, False)
    assert 0.3 <= found.light_cone_u_deg < 0.9  # pins of this blur do not tell it from 4 deg
    assert abs(ppm(found, "B")) < 20


def test_pins_alone_are_too_large_by_what_the_light_takes() -> None:
    """0.7 A^2 / 8 of 3 deg are 240 ppm; the near camera hides 190 of them unless its distance is known."""
    assert ppm(bench("B", "pin", distance=80.0), "B") == pytest.approx(240, abs=80)
    assert bench("B", "pin").round_gauges
    assert bench("B", "pin").light_cone_deg is None


def test_gauges_that_contradict_are_refused() -> None:
    wrong = gauges("B", "pin", "stage_micrometer")
    wrong["stage_micrometers"] = [(wrong["stage_micrometers"][0][0], 0.1)]  # long lines taken for divisions
    with pytest.raises(RefusalError) as caught:
        calibrate_bench(**wrong)
    assert caught.value.reasons[0].code == "gauges_contradict"
    assert "stage micrometer" in message(caught.value)


@pytest.mark.parametrize(
    ("changes", "code"),
    [
        ({"stage_micrometers": [(seen(RULINGS), 0.0)]}, "bad_gauge"),
        ({"stage_micrometers": [(seen(RULINGS), math.nan)]}, "bad_gauge"),
        ({"stage_micrometers": [(seen(RULINGS), 0.01)], "division_u95_mm": 0.05}, "bad_gauge"),
        ({"stage_micrometers": [(seen(RULINGS), 0.01)], "division_u95_mm": [1e-4, 1e-4]}, "bad_gauge"),
        ({"grids": [(seen(CHESSBOARD), -1.0)]}, "bad_gauge"),
        ({"grids": [(seen(CHESSBOARD), 0.2), (seen(CHESSBOARD), 0.2)]}, "same_picture_twice"),
        ({"grids": [(seen(CHESSBOARD), 0.2)], "stage_micrometers": [(picture("camB_micrometer.png"), 0.01)]}, "sizes"),
        ({"grids": [(seen(CHESSBOARD), 900.0)]}, "implausible_scale"),
        ({"grids": [(seen(CHESSBOARD), 0.2)], "light_cone_deg": 95.0}, "bad_light_cone"),
        ({"grids": [(seen(CHESSBOARD), 0.2)], "working_distance_mm": 1.0}, "bad_working_distance"),
        ({"grids": [(seen(RULINGS), 0.2)]}, "no_grid"),
        ({"stage_micrometers": [(seen(CHESSBOARD), 0.2)]}, "no_rulings"),
        ({}, "no_gauge"),
    ],
)
def test_refused(changes: dict[str, Any], code: str) -> None:
    with pytest.raises(RefusalError) as caught:
        calibrate_bench(**changes)
    assert caught.value.reasons[0].code == {"sizes": "gauge_picture_sizes"}.get(code, code)
    assert "\n" not in message(caught.value)


def test_what_was_assumed_is_said() -> None:
    found = calibrate_bench(stage_micrometers=[(seen(RULINGS), 0.05)], grids=[(seen(CHESSBOARD), 0.2)])
    assert {"division_u95_assumed", "grid_u95_assumed"} <= {w.code for w in found.warnings}
    assert [g.u95_mm for g in found.gauges] == [0.001, 0.001]
    assert found.um_per_px == pytest.approx(4.0, rel=5e-5)


def test_a_leaning_grid_is_said_to_lean() -> None:
    found = calibrate_bench(grids=[(seen(CHESSBOARD, tilt_deg=4.0, tilt_about_deg=30.0), 0.2)])
    assert "grid_tilted" in {w.code for w in found.warnings}
    assert found.um_per_px_u95 / found.um_per_px > 5e-4
