"""The window as a whole: places, units, opening a picture, what is said of one that is refused."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING

import pytest
from PySide6.QtCore import Qt

if TYPE_CHECKING:
    from pytestqt.qtbot import QtBot

    from gui.window import Window

SAMPLES = Path(__file__).parents[2] / "sample_images"


def test_the_four_places_are_reached_by_keys(window: Window, qtbot: QtBot) -> None:
    for number, name in enumerate(("bench", "part", "fit", "register"), start=1):
        qtbot.keyClick(window, getattr(Qt.Key, f"Key_{number}"), Qt.KeyboardModifier.ControlModifier)
        assert window.front == name
        assert window.places[name].isVisible()


@pytest.mark.slow
def test_a_picture_is_measured_and_identified_in_the_background(by_hand: Window) -> None:
    by_hand.open_picture(str(SAMPLES / "sextant_index_arm_screw_4-40_bench_a.png"))
    assert by_hand.desk.piece is None  # the interface did not wait
    assert by_hand.desk.work.wait()
    piece = by_hand.desk.piece
    assert piece is not None
    assert piece.measurement is not None
    assert abs(piece.measurement.thread.pitch.value - 0.635) < 0.001
    assert piece.identification is not None
    assert by_hand.front == "part"


def test_a_refused_picture_is_said_and_loses_nothing(by_hand: Window, tmp_path: Path) -> None:
    bad = tmp_path / "no picture.png"
    bad.write_bytes(b"nothing")
    by_hand.open_picture(str(bad))
    assert by_hand.desk.work.wait()
    piece = by_hand.desk.piece
    assert piece is not None
    assert piece.reasons


def test_the_unit_is_switched_everywhere_and_remembered(window: Window, qtbot: QtBot) -> None:
    with qtbot.waitSignal(window.desk.units_changed):
        qtbot.keyClick(window, Qt.Key.Key_U, Qt.KeyboardModifier.ControlModifier)
    assert window.desk.inches
    assert window.desk.settings.text("inches") == "yes"
