"""Every view, by day and by night, in two sizes: nothing cut off, no overlaps, text that stands out."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING

import pytest
from PySide6.QtWidgets import QLabel, QPushButton, QWidget

from gui.screenshots import take
from tests.gui import looks

if TYPE_CHECKING:
    from pytestqt.qtbot import QtBot

    from gui.window import Window


@pytest.mark.usefixtures("qtbot")
def test_every_view_keeps_to_the_rules(tmp_path: Path) -> None:
    wrong: dict[str, list[str]] = {}

    def visit(name: str, window: Window) -> None:
        assert (window.width(), window.height()) == tuple(int(n) for n in name.split("_")[-2].split("x"))
        found = [*looks.cut_off(window), *looks.overlaps(window), *looks.unnamed(window), *looks.faint_text(window)]
        if found:
            wrong[name] = found

    made = take(tmp_path, visit)
    assert wrong == {}
    assert all(path.stat().st_size > 5000 for path in made)


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
