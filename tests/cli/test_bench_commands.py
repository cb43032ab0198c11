"""Whole commands about the bench: rulings and grids, verification, history, gauges in the picture."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

import pytest
from PIL import Image

from cli.main import main
from sample_images.files import write_picture
from sample_images.flat_gauges import FlatGauge, draw
from tests.calib.bench_pictures import BESIDE, MAJOR_MM, SHANKED, pin, write_scenes
from tests.vision.flat_pictures import CHESSBOARD, RULINGS

Out = pytest.CaptureFixture[str]


@pytest.fixture(scope="module")
def folder(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """Pictures of a bench: pins, a stage micrometer, a chessboard, parts."""
    place = tmp_path_factory.mktemp("bench")
    for name, scenes in {
        "pin0800.png": (pin(0.8),),
        "pin2000.png": (pin(2.0),),
        "pin1500.png": (pin(1.5),),
        "beside.png": BESIDE,
        "shanked.png": (SHANKED,),
    }.items():
        write_scenes(place / name, scenes)
    gauge: FlatGauge
    for gauge in (RULINGS, CHESSBOARD):
        write_picture(place / f"{gauge.kind}.png", draw(gauge))
    return place


@pytest.fixture(autouse=True)
def at_the_bench(folder: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.chdir(folder)
    monkeypatch.setenv("FLANKWISE_DATA", str(tmp_path / "data"))


def run(*arguments: str) -> int:
    return main(list(arguments))


def printed(capsys: Out, code: int, *arguments: str) -> Any:
    capsys.readouterr()
    assert run(*arguments, "--json") == code
    return json.loads(capsys.readouterr().out)


def pins_calibrated(target: Path) -> str:
    assert run("calibrate", "--pin", "pin0800.png", "0.8mm", "--pin", "pin2000.png", "2mm", "-o", str(target)) == 0
    return str(target)


@pytest.mark.slow
def test_rulings_and_grid_in_one_calibration(tmp_path: Path, capsys: Out) -> None:
    target = tmp_path / "flat.json"
    typed = ["--stage-micrometer", "rulings.png", "50um", "--grid", "chessboard.png", "0.2mm"]
    assert (
        run("calibrate", *typed, "--division-u95", "0.3um", "--working-distance", "telecentric", "-o", str(target)) == 0
    )
    shown = capsys.readouterr().out
    assert "stage micrometer" in shown
    assert "40 steps, 2.00000 ± 0.00030 mm" in shown
    assert "11 steps, 2.2000 ± 0.0010 mm" in shown
    assert "No pin was given" in shown
    data = json.loads(target.read_text("utf-8"))
    assert data["um_per_px"]["value"] == pytest.approx(4.0, rel=5e-5)
    assert [g["what"] for g in data["gauges"]] == ["stage micrometer", "grid"]
    assert data["camera"] == {"camera": None, "lens": None, "focal_length_mm": None, "digital_zoom": None}


def test_a_bench_that_holds_and_one_that_does_not(tmp_path: Path, capsys: Out) -> None:
    calibration = pins_calibrated(tmp_path / "bench.json")
    verify = ["calibrate", "--verify", "pin1500.png"]
    found = printed(capsys, 0, *verify, "1.5mm", "--calibration", calibration)
    assert found["schema"] == "flankwise/verification/1"
    assert found["status"] == "holds"
    assert found["normalised_error"] < 1
    assert run(*verify, "1.5mm", "--calibration", calibration) == 0
    assert "The bench holds" in capsys.readouterr().out
    refused = printed(capsys, 3, *verify, "1.52mm", "--calibration", calibration)
    assert refused["schema"] == "flankwise/refusal/1"
    assert refused["reasons"][0]["code"] == "bench_changed"
    assert run("calibrate", "--verify", "pin1500.png", "1.5mm", "--calibration", "missing.json") == 3
    entries = printed(capsys, 0, "calibrate", "--history")["entries"]
    assert [(e["event"], e["holds"]) for e in entries] == [
        ("calibrated", None), ("verified", True), ("verified", True), ("verified", False),
    ]  # fmt: skip
    assert len({e["id"] for e in entries}) == 1
    assert run("calibrate", "--history") == 0
    shown = capsys.readouterr().out
    assert "bench.json, from 2 pins" in shown
    assert "holds" in shown
    assert "CHANGED" in shown


def test_a_history_that_cannot_be_kept_fails_nothing(
    tmp_path: Path, capsys: Out, monkeypatch: pytest.MonkeyPatch
) -> None:
    (tmp_path / "file").write_text("in the way")
    monkeypatch.setenv("FLANKWISE_DATA", str(tmp_path / "file"))
    pins_calibrated(tmp_path / "bench.json")
    assert run("calibrate", "--history") == 0
    assert "No calibration has been noted" in capsys.readouterr().out


@pytest.mark.slow
def test_a_pin_beside_the_part(tmp_path: Path, capsys: Out) -> None:
    alone = printed(capsys, 0, "measure", "beside.png", "--pin-beside", "0.8mm", "--pin-u95", "0.5um")
    assert abs(alone["thread"]["major_diameter"]["value"] - MAJOR_MM) < alone["thread"]["major_diameter"]["u95"]
    assert alone["calibration"]["traceable"]
    assert "edge_offset_assumed" in {w["code"] for w in alone["quality"]["warnings"]}
    calibration = pins_calibrated(tmp_path / "bench.json")
    weighed = printed(capsys, 0, "measure", "beside.png", "--pin-beside", "0.8mm", "--calibration", calibration)
    assert "edge_offset_assumed" not in {w["code"] for w in weighed["quality"]["warnings"]}
    assert weighed["calibration"]["um_per_px"]["u95"] < alone["calibration"]["um_per_px"]["u95"]
    assert (
        printed(capsys, 3, "measure", "shanked.png", "--pin-beside", "0.8mm")["reasons"][0]["code"] == "no_pin_beside"
    )


@pytest.mark.slow
def test_a_size_known_by_hand_serves_to_identify(capsys: Out) -> None:
    found = printed(capsys, 0, "identify", "shanked.png", "--known", f"major={MAJOR_MM}mm", "--known-u95", "3um")
    measured = found["measurement"]["thread"]["major_diameter"]
    # half a micrometre for light that is not stated: the part's surface is unknown, a gauge's is taken as lapped
    assert measured["value"] == pytest.approx(MAJOR_MM, abs=5e-4)
    assert found["measurement"]["calibration"]["um_per_px"]["value"] == pytest.approx(5.0, rel=3e-3)


@pytest.mark.parametrize(
    ("arguments", "says"),
    [
        (["--known", "major"], "write major=2.83mm or shank=2.50mm"),
        (["--known", "pitch=0.5mm"], "write major=2.83mm or shank=2.50mm"),
        (["--known", "major=2.83"], "--known major '2.83' has no unit"),
        (["--known", "major=2mm", "--known", "major=3mm"], "--known major was given twice"),
        (["--pin-beside", "1"], "--pin-beside '1' has no unit"),
        (["--pin-beside", "1mm", "--scale", "4um"], "--scale has no uncertainty to be weighed"),
        ([], "lay a pin beside the part"),
    ],
)
@pytest.mark.parametrize("command", ["measure", "identify"])
def test_typed_wrong(command: str, arguments: list[str], says: str, capsys: Out) -> None:
    assert run(command, "beside.png", *arguments) == 2
    shown = capsys.readouterr()
    assert shown.err.count("\n") == 1
    assert says in shown.err


@pytest.mark.slow
def test_another_focal_length_is_said(tmp_path: Path, capsys: Out) -> None:
    """Pictures that note their focal length: the calibration keeps it, a part taken with another is warned of."""

    def noted(name: str, focal: float) -> str:
        exif = Image.Exif()
        exif[0x8769] = {0x920A: focal}
        with Image.open(name) as picture:
            picture.save(tmp_path / name, exif=exif)
        return str(tmp_path / name)

    target = str(tmp_path / "noted.json")
    gauges = ["--pin", noted("pin0800.png", 60.0), "0.8mm", "--pin", noted("pin2000.png", 60.0), "2mm"]
    data = printed(capsys, 0, "calibrate", *gauges, "-o", target)
    assert data["camera"]["focal_length_mm"] == 60.0
    for focal, warned in ((60.0, False), (55.0, True)):
        found = printed(capsys, 0, "measure", noted("shanked.png", focal), "--calibration", target)
        assert ("camera_differs" in {w["code"] for w in found["quality"]["warnings"]}) == warned
    mixed = printed(capsys, 0, "calibrate", *gauges[:4], noted("pin2000.png", 50.0), "2mm", "-o", target, "--force")
    assert "cameras_differ" in {w["code"] for w in mixed["warnings"]}
