"""Imports run one way only: cli, gui -> records -> calib -> vision -> threads.

The test reads the source of every module (it imports nothing) and follows each ``import``, at any depth of the code,
``import_module("...")`` and ``__import__("...")`` included.
"""

from __future__ import annotations

import ast
from collections.abc import Iterator
from pathlib import Path

import pytest

ROOT = Path(__file__).resolve().parents[1]

MAY_IMPORT: dict[str, frozenset[str]] = {
    "threads": frozenset(),
    "vision": frozenset({"threads"}),
    "calib": frozenset({"vision", "threads"}),
    "records": frozenset({"calib", "vision", "threads"}),
    "cli": frozenset({"records", "calib", "vision", "threads"}),
    "gui": frozenset({"records", "calib", "vision", "threads"}),
    "sample_images": frozenset({"records", "calib", "vision", "threads"}),
    "benchmarks": frozenset({"sample_images", "gui", "records", "calib", "vision", "threads"}),
}
"""Which of the house's packages each package may import, itself aside."""

DOORS = {("cli/gui.py", "gui.app")}
"""The one place where a command opens the window."""

ONLY_IN: dict[str, tuple[str, ...]] = {
    "PySide6": ("gui/", "benchmarks/live.py"),
    "shiboken6": ("gui/",),
    "pyqtgraph": ("gui/",),
    "cv2": ("vision/shared/opencv.py",),
    "matplotlib": ("records/", "cli/figure.py"),
}
"""Where a library from outside may be imported: path prefixes, from the root."""


def imported_modules(source: str) -> Iterator[tuple[int, str]]:
    """Line number and dotted name of every absolute import in ``source``."""
    for node in ast.walk(ast.parse(source)):
        if isinstance(node, ast.Import):
            for alias in node.names:
                yield node.lineno, alias.name
        elif isinstance(node, ast.ImportFrom) and node.level == 0 and node.module:
            yield node.lineno, node.module
        elif isinstance(node, ast.Call) and node.args:
            called = node.func.attr if isinstance(node.func, ast.Attribute) else getattr(node.func, "id", "")
            first = node.args[0]
            if called in {"import_module", "__import__"} and isinstance(first, ast.Constant):
                yield node.lineno, str(first.value)


def wrong_arrows(path: str, source: str) -> list[str]:
    """What is wrong with the imports of the module at ``path`` (from the root, with slashes)."""
    package = path.split("/", 1)[0]
    wrong = []
    for line, name in imported_modules(source):
        top = name.split(".", 1)[0]
        if top in MAY_IMPORT and top not in {package, *MAY_IMPORT[package]} and (path, name) not in DOORS:
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
    assert len(wrong_arrows(path, source)) == 1


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
