"""Every view in every size and both languages: nothing cut off, no overlaps, text that stands out."""

from __future__ import annotations

import json
import os
import subprocess
import sys
from pathlib import Path
from typing import TYPE_CHECKING

import pytest
from PySide6.QtCore import Qt
from PySide6.QtWidgets import QApplication, QLabel, QPushButton, QWidget

from gui.splitters import Folding
from tests.gui import looks

if TYPE_CHECKING:
    from pytestqt.qtbot import QtBot

    from gui.window import Window

ROOT = Path(__file__).parents[2]


@pytest.mark.slow
@pytest.mark.parametrize(("language", "scale"), [("en", "1"), ("de", "2")])
def test_every_view_keeps_to_the_rules(language: str, scale: str) -> None:
    # in a process of its own: every change of colours styles each widget of the process, those of earlier tests too
    done = subprocess.run(
        [sys.executable, "-m", "tests.gui.look_over", language],
        cwd=ROOT,
        capture_output=True,
        text=True,
        env={**os.environ, "QT_QPA_PLATFORM": "offscreen", "QT_SCALE_FACTOR": scale},
        timeout=600,
        check=False,
    )
    assert done.returncode == 0, done.stderr
    told = json.loads(done.stdout)
    assert told["wrong"] == {}
    assert len(told["seen"]) > 3 * 30


def test_a_window_becomes_narrow_again_after_large_text(window: Window) -> None:
    window.resize(1024, 700)
    splitter = window.findChild(Folding, "bench")
    assert splitter is not None
    QApplication.processEvents()
    before = splitter.sizes()
    try:
        window.choose_size("200")
        QApplication.processEvents()
        assert splitter.orientation() == Qt.Orientation.Vertical  # side by side is one below the other
        assert looks.cut_off(window) == []
    finally:
        window.choose_size("100")
    QApplication.processEvents()
    assert (window.width(), window.height()) == (1024, 700)
    assert splitter.orientation() == Qt.Orientation.Horizontal
    assert splitter.sizes() == pytest.approx(before, abs=20)


def test_the_rules_find_what_is_wrong(qtbot: QtBot) -> None:
    page = QWidget()
    qtbot.addWidget(page)
    page.resize(300, 200)
    long = QLabel("a text far too long for its place", page)
    long.setGeometry(10, 10, 40, 20)
    QPushButton("upon it", page).setGeometry(20, 12, 80, 24)
    bare = QPushButton("", page)
    bare.setGeometry(200, 100, 40, 24)
    grey = QLabel("grey", page)
    grey.setStyleSheet("color: #999999; background: #aaaaaa")
    grey.setGeometry(100, 150, 60, 20)
    page.show()
    assert looks.cut_off(page) == ["QLabel 'a text far too long for its place' is cut off"]
    assert len(looks.overlaps(page)) == 1
    assert len(looks.unnamed(page)) == 1
    assert any("grey" in line for line in looks.faint_text(page))
