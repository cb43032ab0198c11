"""Every view, by day and by night, in two sizes: nothing cut off, no overlaps, text that stands out."""

from __future__ import annotations

import json
import os
import subprocess
import sys
from pathlib import Path
from typing import TYPE_CHECKING

import pytest
from PySide6.QtWidgets import QLabel, QPushButton, QWidget

from tests.gui import looks

if TYPE_CHECKING:
    from pytestqt.qtbot import QtBot

ROOT = Path(__file__).parents[2]


@pytest.mark.slow
def test_every_view_keeps_to_the_rules(tmp_path: Path) -> None:
    # in a process of its own: every change of colours styles each widget of the process, those of earlier tests too
    done = subprocess.run(
        [sys.executable, "-m", "tests.gui.look_over", str(tmp_path)],
        cwd=ROOT,
        capture_output=True,
        text=True,
        env={**os.environ, "QT_QPA_PLATFORM": "offscreen"},
        timeout=600,
        check=False,
    )
    assert done.returncode == 0, done.stderr
    told = json.loads(done.stdout)
    assert told["wrong"] == {}
    assert len(told["made"]) > 3 * 20
    assert all(Path(path).stat().st_size > 5000 for path in told["made"])


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
    assert len(looks.cut_off(page)) == 1
    assert len(looks.overlaps(page)) == 1
    assert len(looks.unnamed(page)) == 1
    assert any("grey" in line for line in looks.faint_text(page))
