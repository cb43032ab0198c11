"""The wheel has what the program needs when it is installed, and nothing else. It is built without a network."""

from __future__ import annotations

import configparser
import os
import shutil
import subprocess
import sys
import tarfile
import tomllib
import zipfile
from pathlib import Path
from xml.etree import ElementTree as ET

import pytest

ROOT = Path(__file__).resolve().parents[2]
SETTINGS = tomllib.loads((ROOT / "pyproject.toml").read_text("utf-8"))
PACKAGES = SETTINGS["tool"]["setuptools"]["packages"]
FOLDERS = sorted({name.split(".")[0] for name in PACKAGES})
BUILD = "from setuptools import build_meta; print(build_meta.{}('out'))"


@pytest.fixture(scope="module")
def tree(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A copy of what a build reads: setuptools leaves folders behind where it builds."""
    place = tmp_path_factory.mktemp("tree")
    for name in (*FOLDERS, "benchmarks", "docs", "packaging"):
        if (ROOT / name).is_dir():
            shutil.copytree(ROOT / name, place / name, ignore=shutil.ignore_patterns("__pycache__"))
    for name in ("pyproject.toml", "MANIFEST.in", "README.md", "LICENSE", "DEVELOPERS.md"):
        shutil.copy(ROOT / name, place / name)
    (place / "tests").mkdir()
    (place / "tests" / "test_nothing.py").write_text("")
    return place


@pytest.fixture(scope="module")
def wheel(tree: Path) -> set[str]:
    """The names in the wheel; a warning of the build fails."""
    environment = {**os.environ, "PYTHONWARNINGS": "error", "PYTHONDONTWRITEBYTECODE": ""}
    ended = subprocess.run(
        [sys.executable, "-c", BUILD.format("build_wheel")],
        cwd=tree,
        env=environment,
        text=True,
        capture_output=True,
        check=False,
    )
    assert ended.returncode == 0, ended.stderr
    assert "Warning" not in ended.stderr + ended.stdout, ended.stderr
    with zipfile.ZipFile(tree / "out" / ended.stdout.splitlines()[-1]) as archive:
        return set(archive.namelist())


def test_every_folder_of_code_is_a_package_of_the_wheel() -> None:
    there = {".".join(p.parent.relative_to(ROOT).parts) for f in FOLDERS for p in (ROOT / f).rglob("*.py")}
    assert there <= set(PACKAGES)
    assert [name for name in PACKAGES if not (ROOT / name.replace(".", "/")).is_dir()] == []


def test_all_modules_are_in_the_wheel(wheel: set[str]) -> None:
    modules = {p.relative_to(ROOT).as_posix() for f in FOLDERS for p in (ROOT / f).rglob("*.py")}
    assert len(modules) > 200
    assert modules - wheel == set()


def test_data_and_sample_pictures_are_in_the_wheel(wheel: set[str]) -> None:
    data = [
        *(ROOT / "threads" / "data").glob("*.csv"),
        *(ROOT / "records").rglob("*.schema.json"),
        *(ROOT / "gui" / "icons").glob("*.svg"),
        *(ROOT / "gui" / "translations").glob("*.qm"),
        *(p for p in (ROOT / "sample_images").iterdir() if p.suffix in {".png", ".jpg", ".tif", ".json"}),
    ]
    assert len(data) > 30
    assert {p.relative_to(ROOT).as_posix() for p in data} - wheel == set()


def test_licence_and_entry_are_in_the_wheel_and_no_tests_or_benchmarks(wheel: set[str]) -> None:
    ends = {name.split(".dist-info/")[1] for name in wheel if ".dist-info/" in name}
    assert {"licenses/LICENSE", "entry_points.txt"} <= ends
    shared = {name.split("/data/share/", 1)[1] for name in wheel if "/data/share/" in name}
    assert {
        "applications/flankwise.desktop",
        "man/man1/flankwise.1",
        "icons/hicolor/scalable/apps/flankwise.svg",
    } <= shared
    code = [name for name in wheel if "-info/" not in name and ".data/" not in name]
    assert "benchmarks" not in {name.split("/")[0] for name in code}
    assert [name for name in code if name.split("/")[0] not in FOLDERS or "tests" in name] == []


@pytest.mark.slow
def test_the_source_archive_has_the_documents_and_no_tests(tree: Path) -> None:
    ended = subprocess.run(
        [sys.executable, "-c", BUILD.format("build_sdist")], cwd=tree, text=True, capture_output=True, check=True
    )
    with tarfile.open(tree / "out" / ended.stdout.splitlines()[-1]) as archive:
        names = {name.split("/", 1)[1] for name in archive.getnames() if "/" in name}
    assert {"LICENSE", "README.md", "DEVELOPERS.md", "pyproject.toml", "packaging/flankwise.desktop"} <= names
    assert [name for name in names if name.split("/")[0] in {"tests", "benchmarks"}] == []


def test_the_desktop_entry_starts_the_window() -> None:
    entry = configparser.ConfigParser(interpolation=None)
    entry.read(ROOT / "packaging" / "flankwise.desktop", "utf-8")
    stated = entry["Desktop Entry"]
    assert stated["Exec"].split()[:2] == ["flankwise", "gui"]
    assert (ROOT / "gui" / "icons" / f"{stated['Icon']}.svg").exists()


def test_the_icon_is_a_square_drawing_of_its_own() -> None:
    icon = ET.parse(ROOT / "gui" / "icons" / "flankwise.svg").getroot()
    assert icon.attrib["viewBox"] == "0 0 128 128"
    assert "href" not in ET.tostring(icon, "unicode")  # nothing fetched from elsewhere
