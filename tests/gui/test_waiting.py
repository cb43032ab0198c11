"""No call keeps the interface for more than 50 ms, whatever is going on."""

from __future__ import annotations

import time
from pathlib import Path
from typing import TYPE_CHECKING

from PySide6.QtCore import QTimer

from tests.gui.watchdog import MOST_SECONDS, RESERVE, watched

if TYPE_CHECKING:
    from pytestqt.qtbot import QtBot

    from gui.window import Window

SAMPLES = Path(__file__).parents[2] / "sample_images"


def test_the_watchdog_sees_a_call_that_takes_too_long(qtbot: QtBot) -> None:
    def slow() -> None:
        until = time.thread_time() + 2 * MOST_SECONDS
        while time.thread_time() < until:
            pass

    with watched() as blocked:
        QTimer.singleShot(0, slow)
        qtbot.wait(200)
    assert blocked.longest > MOST_SECONDS
    assert str(blocked)


def test_opening_measuring_and_looking_around_keeps_nobody_waiting(by_hand: Window, qtbot: QtBot) -> None:
    with watched() as first:  # plots and fonts are made when they are first shown
        for name in by_hand.places:
            by_hand.go(name)
            qtbot.wait(20)
    assert first.longest < RESERVE * MOST_SECONDS, first
    with watched() as blocked:
        by_hand.open_picture(str(SAMPLES / "clarinet_post_screw_4-40.png"))
        assert by_hand.desk.work.wait()
        qtbot.wait(50)
        for name in by_hand.places:
            by_hand.go(name)
            qtbot.wait(20)
        by_hand.desk.set_inches(True)
        qtbot.wait(50)
    assert blocked.longest < RESERVE * MOST_SECONDS, blocked
