"""What people without Python get: how the program is frozen, its guide, the entry in the menu, the kind of file."""

from __future__ import annotations

import ast
import configparser
import importlib.util
import os
import re
import subprocess
import tomllib
from pathlib import Path
from types import ModuleType
from xml.etree import ElementTree as ET

import pytest
from PIL import Image

import packaging
from gui.bundles import is_bundle
from tests.test_import_direction import imported_modules, modules

ROOT = Path(__file__).resolve().parents[2]
PACKAGING = ROOT / "packaging"
BUILT = tomllib.loads((ROOT / "pyproject.toml").read_text("utf-8"))["tool"]["setuptools"]
OPTIONAL = {"distributed", "dask"}
"""Imported where a person has them; the frozen program refuses what needs them."""

BESIDE = "../sample_images/README.md"
"""Lies beside the guide in the frozen program."""


def loaded(name: str) -> ModuleType:
    spec = importlib.util.spec_from_file_location(f"packaging_{name}", PACKAGING / f"{name}.py")
    assert spec is not None
    assert spec.loader is not None
    module = importlib.util.module_from_spec(spec)
    spec.loader.exec_module(module)
    return module


def test_the_folder_does_not_hide_the_library_of_its_name() -> None:
    assert not (PACKAGING / "__init__.py").exists()
    assert packaging.__file__ is not None
    assert Path(packaging.__file__).parent != PACKAGING


@pytest.mark.slow
def test_nothing_that_is_left_out_is_used() -> None:
    """Whoever begins to use a module that the description leaves out would break the frozen program only."""
    tree = ast.parse((PACKAGING / "flankwise.spec").read_text("utf-8"))
    (stated,) = (
        node.value
        for node in tree.body
        if isinstance(node, ast.Assign) and getattr(node.targets[0], "id", "") == "UNUSED_MODULES"
    )
    left_out = set(eval(compile(ast.Expression(stated), "flankwise.spec", "eval")))
    assert len(left_out) > 40
    used = {
        (path.relative_to(ROOT).as_posix(), name)
        for path in modules()
        if path.relative_to(ROOT).parts[0] != "benchmarks"
        for _, name in imported_modules(path.read_text("utf-8"))
        if any(name == out or name.startswith(f"{out}.") for out in left_out - OPTIONAL)
    }
    assert used == set()


def test_every_link_of_the_guide_leads_to_a_page_that_is_there(tmp_path: Path) -> None:
    loaded("guide").write_guide(ROOT, tmp_path / "guide")
    pages = list((tmp_path / "guide").glob("*.html"))
    assert len(pages) >= 12
    lost = [
        (page.name, address)
        for page in pages
        for address in re.findall(r'(?:href|src)="([^"#]+)', page.read_text("utf-8"))
        if "://" not in address and address != BESIDE and not (tmp_path / "guide" / address).exists()
    ]
    assert lost == []
    assert "<table>" in (tmp_path / "guide" / "7_warnings.html").read_text("utf-8")


def test_the_icons_have_the_sizes_that_they_are_filed_under() -> None:
    sizes = {}
    for folder, (file,) in BUILT["data-files"].items():
        if "hicolor" in folder and "scalable" not in folder:
            with Image.open(ROOT / file) as icon:
                sizes[folder.split("/")[3]] = "{}x{}".format(*icon.size)
                assert icon.getpixel((0, 0))[3] == 0  # corners are open
                assert icon.getchannel("A").getextrema()[1] == 255
    assert {"16x16", "48x48", "256x256"} <= set(sizes)
    assert list(sizes) == list(sizes.values())


def test_entry_kind_of_file_and_metadata_speak_of_the_same_things() -> None:
    entry = configparser.ConfigParser(interpolation=None)
    entry.read(PACKAGING / "flankwise.desktop", "utf-8")
    main = entry["Desktop Entry"]
    actions = main["Actions"].strip(";").split(";")
    for name in actions:
        assert entry[f"Desktop Action {name}"]["Exec"] == f"flankwise gui --place {name}"
    kinds = ET.parse(PACKAGING / "flankwise-bundle.xml").getroot()
    (kind,) = [each.attrib["type"] for each in kinds]
    (pattern,) = [each.attrib["pattern"] for each in kinds.iter() if each.tag.endswith("}glob")]
    assert kind in main["MimeType"].split(";")
    data = ET.parse(PACKAGING / "org.flankwise.Flankwise.metainfo.xml").getroot()
    assert data.findtext("provides/mediatype") == kind
    assert data.findtext("launchable") == "flankwise.desktop"
    version = tomllib.loads((ROOT / "pyproject.toml").read_text("utf-8"))["project"]["version"]
    assert data.find("releases/release").attrib["version"] == version  # type: ignore[union-attr]
    assert is_bundle(pattern.replace("*", "/home/overhaul"))


@pytest.mark.skipif(os.name == "nt", reason="a shell of POSIX")
def test_the_menu_entry_is_put_in_place_and_taken_out(tmp_path: Path) -> None:
    """In a folder whose name has what means something in entries, in sed and in the shell."""
    program = tmp_path / 'down & loads $1 "x"' / "flankwise"
    for folder, files in BUILT["data-files"].items():
        (program / folder).mkdir(parents=True)
        for file in (path for pattern in files for path in ROOT.glob(pattern)):
            (program / folder / file.name).write_bytes(file.read_bytes())
    (program / "add-to-menu").write_bytes((PACKAGING / "add-to-menu").read_bytes())
    (program / "flankwise").write_text("")
    home = tmp_path / "home"
    home.mkdir()
    environment = {"HOME": str(home), "PATH": os.environ["PATH"]}

    def run(*options: str) -> str:
        return subprocess.run(
            ["sh", str(program / "add-to-menu"), *options], env=environment, check=True, text=True, capture_output=True
        ).stdout

    assert "in the menu" in run()
    text = (home / ".local/share/applications/flankwise.desktop").read_text("utf-8")
    starts = re.findall("^Exec=(.*)$", text, re.MULTILINE)
    assert len(starts) == 3
    # read as the Desktop Entry Specification 1.5 says ("The Exec key"): first the backslashes of every text, then those
    # in quotes
    quoted = [re.match(r'"((?:[^"\\]|\\.)*)"', line.replace("\\\\", "\\")) for line in starts]
    paths = {re.sub(r"\\(.)", r"\1", found[1]).replace("%%", "%") for found in quoted if found}
    assert paths == {str(program / "flankwise")}
    assert (home / ".local/bin/flankwise").resolve() == program / "flankwise"
    assert (home / ".local/share/icons/hicolor/48x48/apps/flankwise.png").is_file()
    assert "no longer" in run("--remove")
    left = [path for path in home.rglob("*") if not path.is_dir()]
    assert [path for path in left if "flankwise" in path.name.lower()] == []
