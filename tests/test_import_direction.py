"""Imports run one way only, without circles, and between stages only where DEVELOPERS.md draws an arrow.

The test reads the source of every module (it imports nothing) and follows each ``import``, at any depth of the code,
``import_module("...")`` and ``__import__("...")`` included.
"""

from __future__ import annotations

import ast
import graphlib
import re
from collections.abc import Iterator, Mapping
from functools import cache
from pathlib import Path

import pytest

ROOT = Path(__file__).resolve().parents[1]

MAY_IMPORT: dict[str, frozenset[str]] = {
    "threads": frozenset(),
    "vision": frozenset({"threads"}),
    "calib": frozenset({"vision", "threads"}),
    "flankwise": frozenset({"calib", "vision", "threads"}),
    "records": frozenset({"flankwise", "calib", "vision", "threads"}),
    "cli": frozenset({"records", "flankwise", "calib", "vision", "threads"}),
    "gui": frozenset({"records", "flankwise", "calib", "vision", "threads"}),
    "sample_images": frozenset({"records", "calib", "vision", "threads"}),
    "benchmarks": frozenset({"sample_images", "gui", "records", "flankwise", "calib", "vision", "threads"}),
}
"""Which of the house's packages each package may import, itself aside."""

DOORS = {("cli/gui.py", "gui.app")}
"""The one place where a command opens the window."""

ONLY_IN: dict[str, tuple[str, ...]] = {
    "PySide6": (
        "gui/",
        "benchmarks/live.py",
        "benchmarks/keyboard.py",
        "benchmarks/live_numbers.py",
        "benchmarks/tray.py",
        "benchmarks/waiting.py",
    ),
    "shiboken6": ("gui/",),
    "pyqtgraph": ("gui/",),
    "cv2": ("vision/shared/opencv.py",),
    "matplotlib": ("records/", "cli/figure.py"),
}
"""Where a library from outside may be imported: path prefixes, from the root."""


STAGED = ("vision", "threads")
"""Packages whose folders are stages; an arrow between two of them is drawn in DEVELOPERS.md."""

_DRAWN = re.compile(r"^    (\w+/\w+) +-> ([\w ]*)$", re.MULTILINE)


@cache
def imported_modules(source: str) -> tuple[tuple[int, str], ...]:
    """Line number and dotted name of every absolute import in ``source``."""
    return tuple(_imports(source))


def _imports(source: str) -> Iterator[tuple[int, str]]:
    for node in ast.walk(ast.parse(source)):
        if isinstance(node, ast.Import):
            for alias in node.names:
                yield node.lineno, alias.name
        elif isinstance(node, ast.ImportFrom) and node.level == 0 and node.module:
            yield node.lineno, node.module
            yield from ((node.lineno, f"{node.module}.{alias.name}") for alias in node.names)
        elif isinstance(node, ast.Call) and node.args:
            called = node.func.attr if isinstance(node.func, ast.Attribute) else getattr(node.func, "id", "")
            first = node.args[0]
            if called in {"import_module", "__import__"} and isinstance(first, ast.Constant):
                yield node.lineno, str(first.value)


def wrong_arrows(path: str, source: str) -> list[str]:
    """What is wrong with the imports of the module at ``path`` (from the root, with slashes)."""
    package = path.split("/", 1)[0]
    doors = {(where, inside) for where, door in DOORS for inside in (door, f"{door}.main")}
    wrong = []
    for line, name in imported_modules(source):
        top = name.split(".", 1)[0]
        if top in MAY_IMPORT and top not in {package, *MAY_IMPORT[package]} and (path, name) not in doors:
            wrong.append(f"{path}:{line}: {package} may not import {name}")
        if top in ONLY_IN and not path.startswith(ONLY_IN[top]):
            wrong.append(f"{path}:{line}: {top} may be imported only in {', '.join(ONLY_IN[top]) or 'no module'}")
        if top == "tests":
            wrong.append(f"{path}:{line}: nothing but tests imports tests")
    return wrong


def modules() -> list[Path]:
    return sorted(path for package in MAY_IMPORT for path in (ROOT / package).rglob("*.py"))


def test_every_package_of_the_house_is_looked_at() -> None:
    folders = {path.parent.name for path in ROOT.glob("*/__init__.py")}
    assert folders == set(MAY_IMPORT)
    assert {path.relative_to(ROOT).parts[0] for path in modules()} == set(MAY_IMPORT)


def test_imports_run_downstairs_only() -> None:
    wrong = [
        line for path in modules() for line in wrong_arrows(path.relative_to(ROOT).as_posix(), path.read_text("utf-8"))
    ]
    assert wrong == []


def graph_of(sources: Mapping[str, str]) -> dict[str, set[str]]:
    """Which of the modules in ``sources`` (path to source) each of them imports, by dotted names."""
    names = {path.removesuffix(".py").removesuffix("/__init__").replace("/", "."): path for path in sources}
    found = {
        name: {what for _, what in imported_modules(sources[path]) if what in names and what != name}
        for name, path in names.items()
    }
    # "from a.b import c" needs the package a.b only if c is no module of it
    packages = {name for name, path in names.items() if path.endswith("__init__.py")}
    return {
        name: {what for what in needed if what not in packages or not any(n.startswith(f"{what}.") for n in needed)}
        for name, needed in found.items()
    }


@cache
def graph_of_house() -> dict[str, set[str]]:
    return graph_of({path.relative_to(ROOT).as_posix(): path.read_text("utf-8") for path in modules()})


def circle_in(graph: Mapping[str, set[str]]) -> list[str]:
    """A circle of imports, the first module again at its end; empty if there is none."""
    try:
        graphlib.TopologicalSorter(graph).prepare()
    except graphlib.CycleError as error:
        return list(error.args[1])
    return []


def stages_of(graph: Mapping[str, set[str]]) -> dict[str, set[str]]:
    """Which stages of the same package each stage imports from; a module outside a stage is one by its own name."""
    arrows: dict[str, set[str]] = {}
    for name, needed in graph.items():
        package, _, stage = (name.rpartition(".")[0] if name.count(".") > 1 else name).partition(".")
        for other in needed:
            to_package, _, to_stage = (other.rpartition(".")[0] if other.count(".") > 1 else other).partition(".")
            if package == to_package and package in STAGED and stage != to_stage:
                arrows.setdefault(f"{package}/{stage}", set()).add(to_stage)
    return arrows


def test_there_is_no_circle_of_imports() -> None:
    assert circle_in(graph_of_house()) == []


def test_the_arrows_between_stages_are_those_that_are_drawn() -> None:
    drawn = {stage: set(to.split()) for stage, to in _DRAWN.findall((ROOT / "DEVELOPERS.md").read_text("utf-8"))}
    assert {stage: to for stage, to in drawn.items() if to} == stages_of(graph_of_house())
    assert circle_in({s: {f"{s.split('/')[0]}/{t}" for t in to} for s, to in drawn.items()}) == []


def test_a_circle_is_found() -> None:
    sources = {
        "vision/__init__.py": "",
        "vision/fit/__init__.py": "",
        "vision/fit/solve.py": "from vision.fit import wear",
        "vision/fit/wear.py": "def f():\n    from vision.fit.solve import solve",
    }
    graph = graph_of(sources)
    assert set(circle_in(graph)) == {"vision.fit.solve", "vision.fit.wear"}
    assert circle_in(graph | {"vision.fit.wear": set()}) == []


def test_an_arrow_between_stages_is_found() -> None:
    sources = {
        "vision/model/shadow.py": "from vision.fit import wear\nfrom threads.shared import refusal",
        "vision/fit/wear.py": "from vision.fit.solve import solve",
        "vision/fit/solve.py": "",
        "threads/shared/refusal.py": "",
    }
    assert stages_of(graph_of(sources)) == {"vision/model": {"fit"}}


@pytest.mark.parametrize(
    ("path", "source"),
    [
        ("threads/standards/limits.py", "import vision.fit"),
        ("threads/standards/limits.py", "from vision import fit"),
        ("vision/fit/marquardt.py", "def f():\n    from calib.file import load_calibration"),
        ("vision/fit/marquardt.py", "from sample_images import render"),
        ("calib/pins.py", "import importlib\nimportlib.import_module('records.register')"),
        ("records/report.py", "import cli.main"),
        ("cli/measure.py", "import gui.window"),
        ("gui/window.py", "from cli import main"),
        ("cli/measure.py", "from PySide6 import QtCore"),
        ("calib/pins.py", "import cv2"),
        ("gui/plot.py", "import matplotlib.pyplot as plt"),
        ("sample_images/render.py", "import benchmarks.speed"),
        ("vision/fit/marquardt.py", "__import__('tests.helpers')"),
    ],
)
def test_an_upward_arrow_is_found(path: str, source: str) -> None:
    assert len({line.split(":")[1] for line in wrong_arrows(path, source)}) == 1


@pytest.mark.parametrize(
    ("path", "source"),
    [
        ("vision/shared/opencv.py", "import cv2"),
        ("gui/window.py", "from PySide6.QtWidgets import QWidget"),
        ("cli/measure.py", "from calib.file import load_calibration\nfrom threads import limits"),
        ("benchmarks/speed.py", "from sample_images.render import render"),
        ("vision/fit/marquardt.py", "from . import edges\nfrom .edges import find"),
    ],
)
def test_a_downward_arrow_is_left_alone(path: str, source: str) -> None:
    assert wrong_arrows(path, source) == []
