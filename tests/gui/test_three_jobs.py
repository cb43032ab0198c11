"""The three jobs of the bench, each from a picture to what stays on record, through the real window."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING

import pytest
from PySide6.QtCore import Qt

from gui.register import deeds
from records.reading import read_part

if TYPE_CHECKING:
    from pytestqt.qtbot import QtBot

    from gui.window import Window
    from records.entries import Part

SAMPLES = Path(__file__).parents[2] / "sample_images"
CTRL = Qt.KeyboardModifier.ControlModifier


def on_file(window: Window, number: int) -> Part:
    with deeds.opened(window.desk.register_file).reading() as connection:
        return read_part(connection, number)


@pytest.mark.slow
def test_an_unknown_original_is_identified_and_filed(by_hand: Window, qtbot: QtBot) -> None:
    by_hand.open_picture(str(SAMPLES / "sextant_index_arm_screw_4-40_bench_a.png"))
    assert by_hand.desk.work.wait()
    given = by_hand.part.given
    qtbot.keyClicks(given.made, "1938")
    qtbot.keyClick(given.made, Qt.Key.Key_Return)
    given.origin.setFocus()
    while given.origin.currentData() != "US":
        qtbot.keyClick(given.origin, Qt.Key.Key_Down)
    given.origin.activated.emit(given.origin.currentIndex())
    assert by_hand.desk.work.wait()
    assert "NC" in by_hand.part.answer.sentence.text()
    qtbot.keyClick(by_hand.part, Qt.Key.Key_S, CTRL)
    assert by_hand.front == "register"
    strip = by_hand.register.strip
    qtbot.keyClicks(strip.instrument, "marine sextant")
    qtbot.keyClicks(strip.position, "index arm 3")
    qtbot.keyClicks(strip.name, "index arm screw")
    qtbot.keyClick(strip.name, Qt.Key.Key_Return)
    assert by_hand.desk.work.wait()
    part = on_file(by_hand, 1)
    assert part.name == "index arm screw"
    assert part.instrument is not None
    assert part.instrument.made == (1938, 1938)
    assert part.measurement is not None
    assert part.measurement.identification is not None
    assert "NC" in part.measurement.identification.says


@pytest.mark.slow
def test_a_thread_just_cut_is_held_to_the_original_and_written_down(by_hand: Window, qtbot: QtBot) -> None:
    by_hand.open_picture(str(SAMPLES / "sextant_index_arm_screw_4-40_bench_a.png"))
    by_hand.go("register")
    assert by_hand.desk.work.wait()
    qtbot.keyClicks(by_hand.register.strip.position, "")
    qtbot.keyClick(by_hand.register.strip.name, Qt.Key.Key_Return)
    assert by_hand.desk.work.wait()
    by_hand.open_picture(str(SAMPLES / "sextant_index_arm_replacement_4-40_bench_a.png"))
    assert by_hand.desk.work.wait()
    qtbot.keyClick(by_hand, Qt.Key.Key_3, CTRL)
    assert by_hand.desk.work.wait()
    fit = by_hand.fit
    assert "thinner" in fit.compare_view.advice.text()
    fit.slots["original"].number.setText("1")
    qtbot.keyClick(fit.slots["original"].number, Qt.Key.Key_Return)
    assert by_hand.desk.work.wait()
    for _ in range(2):
        qtbot.keyClick(fit, Qt.Key.Key_V)
    designation = fit.slots["hole"].designation
    assert designation is not None
    qtbot.keyClicks(designation, "4-40 NC-2")
    qtbot.keyClick(designation, Qt.Key.Key_Return)
    assert by_hand.desk.work.wait()
    assert "as loose as the original" in fit.play_view.sentence.text()
    qtbot.keyClick(by_hand, Qt.Key.Key_4, CTRL)
    panel = by_hand.register.panel
    panel.show_part(1)
    assert by_hand.desk.work.wait()
    qtbot.keyClicks(panel.right.die, "4-40 split die")
    qtbot.keyClicks(panel.right.setting, "opened by 41 µm")
    qtbot.keyClick(panel.right.setting, Qt.Key.Key_Return)
    assert by_hand.desk.work.wait()
    made = on_file(by_hand, 1).replacements[0]
    assert (made.die, made.setting) == ("4-40 split die", "opened by 41 µm")
