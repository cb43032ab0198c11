"""Whatever a picture is measured by, the same is remarked: camera, age of the calibration, its last check."""

from __future__ import annotations

import json
from dataclasses import replace
from datetime import UTC, datetime, timedelta
from pathlib import Path

import pytest
from PIL import Image

import flankwise
from calib.calibration import new_calibration
from calib.history import Entry, note
from cli.main import main
from flankwise.bench import Bench, bench_of
from sample_images.files import write_picture
from sample_images.render import render
from sample_images.scene import Camera, Scene, Thread
from tests.sample_images.shots import overlapping_shots
from vision.pictures.camera_note import CameraNote

SAMPLES = Path(__file__).resolve().parents[2] / "sample_images"
CAMERA = Camera(760, 520, um_per_px=9.0, blur_sigma_px=1.0, noise=0.004)
THREAD = Thread(2.81, 2.42, 2.06, 0.635, 30.3, 29.6, crest_corner_radius_mm=0.01)
ROD = Scene(THREAD, 40.0, phase=0.2, seed=5, camera=CAMERA)
FOCAL_MM = 60.0


@pytest.fixture(scope="module")
def bench() -> Bench:
    """Gauges of the sample bench, as if taken for pictures of the rod, with another focal length."""
    pins = [(SAMPLES / "pin_1000_bench_a.png", "1.000mm"), (SAMPLES / "pin_2500_bench_a.png", "2.500mm")]
    found = flankwise.calibrate(pins=pins, pin_u95="1um").calibration
    return bench_of(
        new_calibration(
            gauges=found.gauges,
            um_per_px=CAMERA.um_per_px,
            edge_offset_px=0.0,
            covariance=found.covariance,
            lens=found.lens,
            light_cone_deg=0.0,
            picture_width_px=CAMERA.width,
            picture_height_px=CAMERA.height,
            camera=CameraNote(focal_length_mm=FOCAL_MM + 10),
            warnings=(),
        )
    )


@pytest.fixture(scope="module")
def rod(tmp_path_factory: pytest.TempPathFactory) -> list[Path]:
    """Two overlapping pictures whose files name the focal length."""
    folder = tmp_path_factory.mktemp("rod")
    exif = Image.Exif()
    exif[0x8769] = {0x920A: FOCAL_MM}
    paths = []
    for number, shot in enumerate(overlapping_shots(ROD, (13.0, 10.0))):
        path = folder / f"rod{number}.png"
        write_picture(path, render(shot)[0])
        with Image.open(path) as drawn:
            drawn.load()
            drawn.save(path, exif=exif)
        paths.append(path)
    return paths


def codes(document: dict[str, object]) -> list[str]:
    quality = document["quality"]
    assert isinstance(quality, dict)
    return [warning["code"] for warning in quality["warnings"]]


@pytest.mark.slow
def test_another_camera_is_said_whatever_the_job(
    bench: Bench, rod: list[Path], tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    assert codes(flankwise.measure(rod[0], bench).to_dict()).count("camera_differs") == 1
    (seen,) = flankwise.measure_all(rod[0], bench)
    assert codes(seen.to_dict()).count("camera_differs") == 1
    assert codes(flankwise.stitch(rod, bench, moved="3mm").to_dict()).count("camera_differs") == 1
    bench.save(tmp_path / "bench.json")
    on = ("--calibration", str(tmp_path / "bench.json"), "--json")
    for options, inside in (
        (("--all-parts", str(rod[0])), True),
        (("--stitch", *map(str, rod), "--moved", "3mm"), False),
    ):
        assert main(["measure", *options, *on]) == 0
        found = json.loads(capsys.readouterr().out)
        assert codes(found["parts"][0] if inside else found).count("camera_differs") == 1
    assert main(["batch", str(rod[0].parent), *on[:2], "-o", str(tmp_path / "rows.csv")]) == 0
    assert (tmp_path / "rows.csv").read_text("utf-8").count("camera_differs") == len(rod)


def test_an_old_or_disproved_calibration_is_said(
    bench: Bench, rod: list[Path], tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    old = replace(bench.calibration, when=(datetime.now(UTC) - timedelta(days=90)).isoformat())
    assert codes(flankwise.measure(rod[0], bench_of(old)).to_dict()).count("check_old") == 1
    assert "check_old" not in codes(flankwise.measure(rod[0], bench).to_dict())
    monkeypatch.setenv("FLANKWISE_DATA", str(tmp_path))
    now = datetime.now(UTC).isoformat()
    assert note(Entry("verified", old.id, now, "bench.json", "pin", 9.0, 0.01, 0.0, 0.1, 9.0, 1.0, holds=False))
    assert codes(flankwise.measure(rod[0], bench_of(old)).to_dict()).count("bench_did_not_hold") == 1
