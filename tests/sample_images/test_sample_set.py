"""The stored set: complete, small enough, as the renderer draws it, in zone; and the command that makes more."""

from __future__ import annotations

import json
import subprocess
import sys
from pathlib import Path

import numpy as np
import pytest
import tifffile
from PIL import Image

from sample_images.__main__ import main
from sample_images.files import srgb_code, write_picture
from sample_images.render import render
from sample_images.sample_set import FOLDER, entry, samples
from sample_images.truth import truth_of
from threads.standards.designation import parse
from threads.standards.limits import limits_of

TRUTH = json.loads((FOLDER / "truth.json").read_text("utf-8"))
SAMPLES = {sample.file: sample for sample in samples()}


def stored(file: str) -> np.ndarray:
    path = FOLDER / file
    if path.suffix == ".tif":
        return tifffile.imread(path)
    with Image.open(path) as picture:
        return np.asarray(picture)


def test_the_set_is_complete_and_small() -> None:
    pictures = {path.name for path in FOLDER.iterdir() if path.suffix in (".png", ".tif", ".jpg")}
    assert pictures == set(SAMPLES) == {item["file"] for item in TRUTH}
    assert sum((FOLDER / name).stat().st_size for name in pictures) < 12e6
    assert sum(item["kind"] == "thread" for item in TRUTH) == 12
    assert sum(item["kind"] == "pin" for item in TRUTH) == 4


def test_the_truth_file_is_what_the_scenes_say() -> None:
    for item in TRUTH:
        sample = SAMPLES[item["file"]]
        fresh = entry(sample, truth_of(sample.scene))
        assert item.keys() == fresh.keys()
        for key, value in fresh.items():
            assert item[key] == (pytest.approx(value, abs=1e-8) if isinstance(value, float) else value), key


@pytest.mark.parametrize(
    "file",
    [
        "sextant_horizon_mirror_screw_2-64_bench_a.png",
        "theodolite_reticle_screw_M2_bench_a.tif",
        "pin_2500_bench_b.png",
    ],
)
def test_a_stored_picture_is_what_the_renderer_draws(file: str) -> None:
    drawn, _ = render(SAMPLES[file].scene)
    kept = stored(file)
    assert kept.dtype == drawn.dtype
    difference = np.abs(kept.astype(int) - drawn.astype(int))
    # Another machine's arithmetic may round a pixel the other way.
    assert difference.max() <= 1
    assert (difference > 0).mean() < 1e-3


def test_the_jpeg_has_the_srgb_curve() -> None:
    file = "theodolite_cover_screw_M2.5_bench_a.jpg"
    drawn, _ = render(SAMPLES[file].scene)
    kept = stored(file)
    assert kept.shape == (*drawn.shape, 3)
    assert np.abs(kept[..., 0].astype(int) - srgb_code(drawn / 65535).astype(int)).mean() < 2
    # IEC 61966-2-1: the linear half is code 188 of 255.
    assert srgb_code(np.array([0.0, 0.5, 1.0])).tolist() == [0, 188, 255]


@pytest.mark.parametrize("item", [item for item in TRUTH if item["kind"] == "thread"], ids=lambda item: item["file"])
def test_a_screw_lies_within_the_limits_it_was_drawn_to(item: dict[str, object]) -> None:
    limits = limits_of(parse(str(item["drawn_as"])))
    for mine, band in (("major_mm", limits.major), ("pitch_diameter_mm", limits.pitch_diameter)):
        assert band.low is not None
        assert band.high is not None
        assert band.low <= float(str(item[mine])) <= band.high
    assert float(str(item["pitch_mm"])) == pytest.approx(limits.pitch, abs=1e-8)


def test_every_picture_has_a_row_in_the_readme() -> None:
    rows = {
        cells[1].strip(" `"): cells
        for line in (FOLDER / "README.md").read_text("utf-8").splitlines()
        if line.startswith("| `") and (cells := line.split("|"))
    }
    assert set(rows) == set(SAMPLES)
    for item in TRUTH:
        cells = rows[item["file"]]
        if item["kind"] == "pin":
            assert [float(cell) for cell in cells[3:5]] == [item["um_per_px"], item["diameter_mm"]]
            continue
        assert cells[3].strip() == item["drawn_as"]
        assert cells[4].strip().lower() == item["bench"]
        printed = [float(number) for number in cells[5].split("/")]
        assert printed == pytest.approx([item["major_mm"], item["pitch_diameter_mm"], item["minor_mm"]], abs=5.1e-5)
        assert float(cells[6]) == pytest.approx(item["pitch_mm"], abs=5.1e-6)
        form, size = cells[8].split()
        assert float(size) == pytest.approx(item["root_width_mm" if form == "flat" else "root_radius_mm"], abs=5.1e-5)
        assert float(cells[9].strip(" °")) == item["tilt_deg"]


def test_the_command_draws_a_screw_and_writes_its_truth(tmp_path: Path) -> None:
    target = tmp_path / "screw.tif"
    picture = "--size 300 200 --um-per-px 12 --bits 16 --dust 2 --tilt-deg 1"
    part = "--root radius --shank 2.8 2 --thread-length-mm 2.5 --runout-mm 0.5"
    assert main(["-o", str(target), *picture.split(), *part.split()]) == 0
    assert tifffile.imread(target).shape == (200, 300)
    truth = json.loads((tmp_path / "screw.truth.json").read_text("utf-8"))
    assert truth["file"] == "screw.tif"
    assert truth["root_radius_mm"] == pytest.approx(0.14434 * 0.635, abs=3e-5)
    assert truth["body_mm"] == [[2.8, 2.0]]


def test_the_command_draws_a_pin_as_jpeg(tmp_path: Path) -> None:
    assert main(["-o", str(tmp_path / "pin.jpg"), "--pin-mm", "1", "--size", "160", "120", "--um-per-px", "20"]) == 0
    truth = json.loads((tmp_path / "pin.truth.json").read_text("utf-8"))
    assert (truth["diameter_mm"], truth["bits"]) == (1.0, 8)
    with Image.open(tmp_path / "pin.jpg") as picture:
        assert picture.mode == "RGB"


@pytest.mark.parametrize(
    ("arguments", "word"),
    [
        ([], "either -o PICTURE or --rebuild"),
        (["-o", "x.bmp"], "must end in"),
        (["-o", "x.png", "--major-mm", "1", "--pitch-mm", "3"], "minor < pitch < major"),
        (["-o", "x.png", "--tilt-deg", "nan"], "tilt_deg must be a finite number"),
        (["-o", "x.png", "--view-mm", "-90"], "no part of the scene"),
    ],
)
def test_a_wrong_command_line_is_told_in_a_line(
    arguments: list[str], word: str, capsys: pytest.CaptureFixture[str], tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.chdir(tmp_path)
    with pytest.raises(SystemExit) as stop:
        main(arguments)
    assert stop.value.code == 2
    assert word in capsys.readouterr().err
    assert list(tmp_path.iterdir()) == []


def test_a_folder_that_is_not_there_is_told(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    arguments = ["-o", str(tmp_path / "none" / "pin.png"), "--pin-mm", "1", "--size", "40", "30"]
    assert main(arguments) == 1
    assert "cannot write" in capsys.readouterr().err


def test_another_kind_of_file_is_refused(tmp_path: Path) -> None:
    with pytest.raises(ValueError, match="ends in one of"):
        write_picture(tmp_path / "a.gif", np.zeros((4, 4), np.uint8))


def test_help_imports_nothing_heavy() -> None:
    code = "import sys, sample_images.__main__ as m; m.parser().format_help(); print('numpy' in sys.modules)"
    out = subprocess.run([sys.executable, "-c", code], cwd=FOLDER.parent, capture_output=True, text=True, check=True)
    assert out.stdout.strip() == "False"
