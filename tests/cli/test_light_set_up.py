"""``flankwise calibrate`` with the width of the light: as an angle, or as a patch and its distance; the set-up help."""

from __future__ import annotations

import json
import math
from pathlib import Path

import pytest

from cli.errors import CommandLineError
from cli.light import Cone, read_cone
from cli.main import main
from vision.model.grazing import mirror_of, setup_effect
from vision.shared.plane import FixedScale

PINS = ["--pin", "sample_images/pin_1000_bench_a.png", "1.000mm"]
PINS += ["--pin", "sample_images/pin_2500_bench_a.png", "2.500mm"]


def test_a_patch_and_its_distance_make_the_cone() -> None:
    cone = read_cone(None, "10mm", "150mm")
    assert cone is not None
    assert cone.deg == pytest.approx(math.degrees(math.atan(5 / 150)))
    assert 0 < cone.u_deg < 0.1 * cone.deg
    assert read_cone("2deg", None, None) == Cone(2.0, 0.0)
    assert read_cone(None, None, None) is None


@pytest.mark.parametrize(
    ("given", "says"),
    [
        (("2deg", "10mm", "150mm"), "twice"),
        (("2deg", None, "150mm"), "twice"),
        ((None, "10mm", None), "go together"),
        ((None, None, "150mm"), "go together"),
        ((None, "10", "150mm"), "--light-patch '10' has no unit"),
        ((None, "10mm", "0mm"), "must be above zero"),
    ],
)
def test_what_is_no_cone_is_refused(given: tuple[str | None, str | None, str | None], says: str) -> None:
    with pytest.raises(CommandLineError, match=says):
        read_cone(*given)


def test_without_gauges_the_command_says_what_the_light_takes(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["calibrate", "--light-patch", "10mm", "--light-distance", "150mm", "--json"]) == 0
    told = json.loads(capsys.readouterr().out)
    assert told["schema"] == "flankwise/light/1"
    half, this, twice = told["effects"]
    assert this["light_cone_deg"] == pytest.approx(told["light_cone"]["value"])
    assert this["taken_mm"] / half["taken_mm"] == pytest.approx(4.0)
    assert twice["taken_mm"] / this["taken_mm"] == pytest.approx(4.0, rel=0.01)  # of wide cones pins mirror more
    assert main(["calibrate", "--light-cone", "2deg"]) == 0
    out = capsys.readouterr().out
    assert f"{1000 * setup_effect(2.0, 2.5).taken:.2f} µm" in out
    assert "this light" in out
    assert main(["calibrate", "--light-cone", "0deg"]) == 0
    assert "nothing is taken" in capsys.readouterr().out


def test_the_calibration_keeps_the_cone_and_shows_the_table(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    target = tmp_path / "bench.json"
    assert main(["calibrate", *PINS, "--light-patch", "20mm", "--light-distance", "200mm", "-o", str(target)]) == 0
    assert "this light" in capsys.readouterr().out
    kept = json.loads(target.read_text("utf-8"))
    assert kept["light_cone_deg"] == pytest.approx(math.degrees(math.atan(0.05)))
    assert kept["light_cone_u_deg"] == pytest.approx(0.05 * kept["light_cone_deg"])


def test_set_up_effect_is_the_formula() -> None:
    """Flanks of 30 deg lose four times f D A^2 / 8; pins give one of it back."""
    mirror = mirror_of(FixedScale(4.0, light_cone_deg=3.0, round_gauges=True), "bright")
    assert setup_effect(3.0, 2.5).taken == pytest.approx(2.5 * (4 * mirror.recession - mirror.scale_excess))
    flat = setup_effect(3.0, 2.5, round_gauges=False)
    assert flat.taken == pytest.approx(4 * 2.5 * mirror.recession)
    assert 0 < setup_effect(3.0, 2.5, round_gauges=False, surface="dull").u95 < flat.u95
    assert setup_effect(3.0, 2.5, cone_u_deg=0.3).u95 > setup_effect(3.0, 2.5).u95


def test_f_number_and_magnification_make_the_lens_opening(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """f/8 at half size: a lens 10 mm wide of 80 mm, the part 240 mm before it; 5 / 240 by plain geometry."""
    target = tmp_path / "bench.json"
    stated = ["calibrate", *PINS, "-o", str(target), "--f-number", "8"]
    assert main([*stated, "--magnification", "0.5"]) == 0
    assert json.loads(target.read_text())["lens_opening"] == pytest.approx(5 / 240, abs=1e-6)
    for wrong in ([], ["--magnification", "0.5", "--lens-opening", "0.02"], ["--magnification", "-1"]):
        assert main([*stated, "--force", *wrong]) == 2
    assert "--magnification" in capsys.readouterr().err
