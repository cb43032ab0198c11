"""``flankwise about``: everything that a report of a defect needs, and nothing that tells whose machine it is."""

from __future__ import annotations

import json
import zipfile
from importlib import metadata
from pathlib import Path

import pytest

from cli.main import main
from records import about as about_module
from vision.pictures import cameras as cameras_module
from vision.pictures.cameras import Camera

FIRST = Path(__file__).parents[1] / "records" / "register_v1.zip"
PERSON = "anna-quayside"


@pytest.fixture
def home(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """The data of somebody whose name stands in every path and in the name of the camera; a register of version 1."""
    data = tmp_path / PERSON / "data"
    data.mkdir(parents=True)
    with zipfile.ZipFile(FIRST) as packed:
        packed.extractall(data)
    for name in ("HOME", "USERPROFILE", "XDG_STATE_HOME", "LOCALAPPDATA"):
        monkeypatch.setenv(name, str(tmp_path / PERSON))
    for name in ("USER", "LOGNAME", "USERNAME", "FLANKWISE_USER"):
        monkeypatch.setenv(name, PERSON)
    monkeypatch.setenv("FLANKWISE_DATA", str(data))
    seen = (Camera(0, f"camera of {PERSON}", allowed=False), Camera(2, "bench microscope"))
    monkeypatch.setattr(cameras_module, "cameras", lambda: seen)
    logs = about_module.log_folder()
    logs.mkdir(parents=True)
    (logs / "flankwise-20260301T101500-1.log").write_text("failed")
    return data


def test_it_tells_versions_register_cameras_and_what_is_missing(
    home: Path, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(about_module.sys, "platform", "linux")
    monkeypatch.setattr(about_module, "LIBRARIES", ("libm.so.6", "libnowhere.so.9"))
    for name in ("DISPLAY", "WAYLAND_DISPLAY", "QT_QPA_PLATFORM"):
        monkeypatch.delenv(name, raising=False)
    before = {path: path.read_bytes() for path in home.rglob("*") if path.is_file()}
    assert main(["about", "--json"]) == 0
    found = json.loads(capsys.readouterr().out)
    assert found["schema"] == "flankwise/about/1"
    assert found["packages"]["numpy"] == metadata.version("numpy")
    assert (found["register_version"], found["parts"]) == (1, 3)
    assert (found["cameras"], found["camera_names"], found["defects"]) == (2, [], 1)
    codes = {reason["code"] for reason in found["missing"]}
    assert {"library_missing", "display_missing", "camera_refused", "register_older"} <= codes
    assert "libnowhere.so.9" in json.dumps(found["missing"])
    assert "libm.so.6" not in json.dumps(found["missing"])
    assert {path: path.read_bytes() for path in before} == before  # nothing is brought up to date


@pytest.mark.parametrize("options", [[], ["--json"]])
def test_it_names_nobody_unless_asked(home: Path, capsys: pytest.CaptureFixture[str], options: list[str]) -> None:
    assert main(["about", *options]) == 0
    told = capsys.readouterr().out
    assert PERSON not in told
    assert "microscope" not in told
    assert str(home.parent.parent) not in told
    assert main(["about", "--names", *options]) == 0
    told = capsys.readouterr().out
    assert str(home) in told
    assert "microscope" in told


def test_a_register_that_cannot_be_read_is_told_by_its_code(home: Path, capsys: pytest.CaptureFixture[str]) -> None:
    (home / "register.sqlite").write_bytes(b"no register" * 30)
    assert main(["about", "--json"]) == 0
    found = json.loads(capsys.readouterr().out)
    assert found["parts"] is None
    assert [r for r in found["missing"] if r["code"] == "register_refused" and "not_a_register" in r["message"]]
