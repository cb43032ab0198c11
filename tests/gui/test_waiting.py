"""No call keeps the interface for more than 50 ms, whatever is going on."""

from __future__ import annotations

import itertools
import time
from functools import partial
from pathlib import Path
from typing import TYPE_CHECKING

import pytest
from PySide6.QtCore import QTimer

from gui.theme import choose_size, choose_theme
from tests.gui.conftest import a_window
from tests.gui.watchdog import MOST_SECONDS, TRIES, watched, watched_thrice

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


def test_what_is_made_when_it_is_first_shown_keeps_nobody_waiting(qtbot: QtBot, tmp_path: Path) -> None:
    for number in range(TRIES):
        with a_window(qtbot, tmp_path / str(number)) as window, watched() as blocked:
            for name in window.places:
                window.go(name)
                qtbot.wait(20)
        if not blocked.stretches:
            break
    assert not blocked.stretches, blocked


def test_opening_measuring_and_looking_around_keeps_nobody_waiting(by_hand: Window, qtbot: QtBot) -> None:
    inches = itertools.cycle((True, False))

    def look_around() -> None:
        for name in ("sextant_index_arm_screw_4-40_bench_a.png", "sextant_index_arm_replacement_4-40_bench_a.png"):
            by_hand.open_picture(str(SAMPLES / name))
            assert by_hand.desk.work.wait()
            qtbot.wait(50)
        for name in by_hand.places:
            by_hand.go(name)
            qtbot.wait(20)
        by_hand.go("part")
        by_hand.desk.set_inches(next(inches))
        qtbot.wait(50)
        for _, reach in by_hand.part.views():
            reach()
            qtbot.wait(50)

    blocked = watched_thrice(look_around)
    assert not blocked.stretches, blocked


def test_original_replacement_and_hole_keep_nobody_waiting(by_hand: Window, qtbot: QtBot) -> None:
    def look_around() -> None:
        by_hand.open_picture(str(SAMPLES / "sextant_index_arm_screw_4-40_bench_a.png"))
        assert by_hand.desk.work.wait()
        by_hand.part.actions_here[-1].trigger()  # as the original
        by_hand.open_picture(str(SAMPLES / "sextant_index_arm_replacement_4-40_bench_a.png"))
        assert by_hand.desk.work.wait()
        by_hand.go("fit")
        assert by_hand.desk.work.wait()
        for _, reach in by_hand.fit.views():
            reach()
            assert by_hand.desk.work.wait()
            qtbot.wait(50)
        for length in (40, 60, 80):
            by_hand.fit.play_view.engagement.setValue(length)
            qtbot.wait(50)

    blocked = watched_thrice(look_around)
    assert by_hand.fit.row.original is not None
    assert not blocked.stretches, blocked


@pytest.mark.parametrize("place", ["bench", "part", "fit", "register"])
def test_other_colours_and_larger_text_keep_nobody_waiting(by_hand: Window, qtbot: QtBot, place: str) -> None:
    """They come in turns; once all is back, everything looks as before."""
    by_hand.open_picture(str(SAMPLES / "sextant_index_arm_screw_4-40_bench_a.png"))
    assert by_hand.desk.work.wait()
    by_hand.choose_theme("light")
    for name in (*by_hand.places, place):
        by_hand.go(name)
        qtbot.wait(100)
    assert by_hand.desk.work.wait()
    before = by_hand.grab().toImage()
    try:

        def change() -> None:
            for choose, what in (
                (by_hand.choose_theme, "dark"),
                (by_hand.choose_size, "150"),
                (by_hand.choose_size, "100"),
                (by_hand.choose_theme, "light"),
            ):
                QTimer.singleShot(0, partial(choose, what))
                qtbot.wait(200)

        blocked = watched_thrice(change)
        if place not in ("part", "fit"):  # there the axes of a plot have been wider meanwhile, and its range with them
            qtbot.waitUntil(lambda: by_hand.grab().toImage() == before, timeout=5000)
        by_hand.choose_theme("dark")
        qtbot.wait(200)
        assert by_hand.grab().toImage().pixelColor(2, 400).lightness() < 60
    finally:
        choose_theme("system")
        choose_size(100)
    assert not blocked.stretches, blocked
