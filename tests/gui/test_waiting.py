"""No call stalls the window; how quick it is, ``benchmarks.waiting`` measures."""

from __future__ import annotations

import time
from typing import TYPE_CHECKING

import pytest
from PySide6.QtCore import QTimer

from benchmarks.waiting import SCENARIOS, watched
from gui.theme import choose_size, choose_theme

if TYPE_CHECKING:
    from pytestqt.qtbot import QtBot

    from gui.window import Window


def test_the_watch_sees_a_call_that_takes_too_long(qtbot: QtBot) -> None:
    def slow() -> None:
        until = time.thread_time() + 0.2
        while time.thread_time() < until:
            pass

    with watched(least=0.1) as blocked:
        QTimer.singleShot(0, slow)
        qtbot.wait(400)
    assert blocked.longest > 0.1
    assert str(blocked)


@pytest.mark.slow
@pytest.mark.parametrize("words", SCENARIOS)
def test_nothing_stalls_the_window(by_hand: Window, words: str) -> None:
    try:
        with watched() as blocked:
            SCENARIOS[words](by_hand)
    finally:
        choose_theme("system")
        choose_size(100)
    assert not blocked.stretches, blocked


@pytest.mark.slow
def test_other_colours_and_back_leave_a_place_as_it_was(by_hand: Window, qtbot: QtBot) -> None:
    try:
        by_hand.choose_theme("light")
        qtbot.wait(50)
        before = by_hand.grab().toImage()
        by_hand.choose_theme("dark")
        assert by_hand.grab().toImage().pixelColor(2, 400).lightness() < 60
        by_hand.choose_theme("light")
        qtbot.waitUntil(lambda: by_hand.grab().toImage() == before)
        small = by_hand.menuBar().height()
        by_hand.choose_size("150")
        qtbot.waitUntil(lambda: by_hand.menuBar().height() > 1.2 * small)
    finally:
        choose_theme("system")
        choose_size(100)
