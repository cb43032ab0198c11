"""From a fresh start with a camera and two pins of one's own to what a screw is: in at most twelve actions."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING

import pytest
from PySide6.QtCore import Qt
from PySide6.QtWidgets import QPushButton, QWidget

from calib.file import load_calibration
from gui.bench.laying import CHECK, DISTANCE, MASK, PINS
from tests.gui.test_camera import SAMPLES, _still, _Unplugged
from vision.pictures.cameras import Camera
from vision.shared.opencv import cv2

if TYPE_CHECKING:
    import numpy as np
    from pytestqt.qtbot import QtBot

    from gui.window import Window

MOST_ACTIONS = 12
"""Clicks, choices, and sizes typed. Laying pins and screw down is what the hands do meanwhile."""


class _Camera(_Unplugged):
    """It sees what lies on the bench."""

    left = 100_000
    lies = SAMPLES / "pin_1000_bench_a.png"

    def read(self) -> tuple[bool, np.ndarray | None]:
        good, _ = super().read()
        return good, cv2.cvtColor(_still(self.lies), cv2.COLOR_GRAY2BGR)


@pytest.mark.slow
def test_a_first_screw_is_known_after_twelve_actions(
    window: Window, qtbot: QtBot, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setenv("FLANKWISE_DATA", str(tmp_path / "data"))
    monkeypatch.setattr("gui.camera.capture.cv2.VideoCapture", _Camera)
    monkeypatch.setattr("gui.camera.chooser.are_listed", lambda: True)
    monkeypatch.setattr("gui.camera.chooser.cameras", lambda: (Camera(0, "bench microscope"),))
    bench, task, done = window.bench, window.bench.task, 0

    def click(button: QWidget) -> None:
        nonlocal done
        assert button.isVisible()
        assert button.isEnabled()
        qtbot.mouseClick(button, Qt.MouseButton.LeftButton)
        done += 1

    def type_in(words: str) -> None:
        nonlocal done
        qtbot.keyClicks(window.focusWidget(), words)
        done += 1

    window.greet()
    choice = bench.chooser.choice
    bench.chooser.look_for_cameras()
    choice.setCurrentText("bench microscope")
    choice.activated.emit(choice.currentIndex())
    done += 1
    qtbot.waitUntil(lambda: bench.signs.alignment.good is True)
    click(next(b for b in bench.current_bench.findChildren(QPushButton) if b.text().startswith("Set up")))
    assert task.step == DISTANCE  # light, focus and alignment are good
    task.form.lens.setCurrentIndex(1)
    done += 1
    click(task.next)
    assert task.step == MASK
    click(task.next)
    assert task.step == PINS
    for row, size, lies in zip(task.rows, ("1.000", "2.500"), ("pin_1000", "pin_2500"), strict=True):
        monkeypatch.setattr(_Camera, "lies", SAMPLES / f"{lies}_bench_a.png")
        row.size_edit.setFocus()  # the first by itself; Tab to the second
        type_in(size)
        qtbot.wait(50)  # the hand goes to the mouse
        click(row.live)
        qtbot.waitUntil(lambda row=row: row.look is not None)
    click(task.calibrate)
    qtbot.waitUntil(lambda: task.step == CHECK)
    assert window.desk.work.wait()
    click(task.keep)
    monkeypatch.setattr(_Camera, "lies", SAMPLES / "sextant_index_arm_screw_4-40_bench_a.png")
    qtbot.waitUntil(lambda: bench.live.reading is not None and bench.live.reading.part is not None)
    assert bench.live.values["pitch"].text().startswith("0.63")
    click(bench.chooser.take_button)
    qtbot.waitUntil(lambda: "4-40" in window.part.answer.sentence.text())
    assert window.front == "part"
    assert done <= MOST_ACTIONS
    assert window.desk.bench is not None
    assert load_calibration(Path(window.desk.bench.file)).camera.camera == "bench microscope"
