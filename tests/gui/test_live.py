"""The live picture measured all the time: numbers beside it, and what is said of its source first."""

from __future__ import annotations

import time
from dataclasses import replace
from pathlib import Path
from typing import TYPE_CHECKING

import pytest
from PySide6.QtCore import Qt

from calib.calibration import Calibration
from calib.file import load_calibration, save_calibration
from flankwise.bench import Bench, calibrate
from flankwise.reasons import sentence
from gui.camera.source import LIVE, LOST
from gui.tray.cards import State
from gui.tray.words import facts_words
from tests.gui.test_camera import HALF, SAMPLES, _Unplugged
from vision.pictures.camera_note import CameraNote, camera_note, with_camera
from vision.pictures.cameras import Camera
from vision.shared.opencv import cv2

if TYPE_CHECKING:
    from pytestqt.qtbot import QtBot

    from gui.window import Window


class _Plugged(_Unplugged):
    """A camera that shows a screw which lies still, as long as it is wanted."""

    left = 10_000


@pytest.fixture(autouse=True)
def _own_data(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("FLANKWISE_DATA", str(tmp_path / "data"))


def _half_bench(folder: Path, camera: str | None) -> Calibration:
    """Bench A at half size, calibrated with two pins; ``camera``: with which one."""
    pins = []
    for name, size in (("pin_1000_bench_a.png", 1.0), ("pin_2500_bench_a.png", 2.5)):
        levels = cv2.imread(str(SAMPLES / name), cv2.IMREAD_GRAYSCALE)
        cv2.imwrite(str(folder / name), cv2.resize(levels, (640, 480), interpolation=cv2.INTER_AREA))
        pins.append((folder / name, size))
    found = calibrate(pins, pin_u95="1um", working_distance="telecentric").calibration
    return replace(found, camera=CameraNote(camera=camera))


@pytest.mark.slow
def test_a_still_part_is_measured_beside_its_live_picture(
    window: Window, qtbot: QtBot, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr("gui.camera.capture.cv2.VideoCapture", _Plugged)
    window.desk.set_bench(Bench(HALF))
    bench = window.bench
    bench.source.use_camera(Camera(0, "bench microscope"))
    qtbot.waitUntil(bench.live.isVisible)
    qtbot.waitUntil(lambda: "mean of" in bench.live.state.text())
    assert bench.live.values["pitch"].text().startswith("0.317")  # 0-80: 25.4 mm / 80
    assert "noise" in bench.live.noise.text().lower()
    qtbot.waitUntil(lambda: "live" in bench.picture._lines)
    window.desk.set_inches(True)
    assert bench.live.values["pitch"].text().endswith("in")
    qtbot.keyClick(bench.picture, Qt.Key.Key_B)
    assert bench.current_bench.isVisible()
    qtbot.keyClick(bench.picture, Qt.Key.Key_N)
    assert bench.live.isVisible()
    bench.source.close()
    assert bench.current_bench.isVisible()


@pytest.mark.slow
def test_another_camera_is_named_before_anything_is_measured(
    window: Window, qtbot: QtBot, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr("gui.camera.capture.cv2.VideoCapture", _Plugged)
    calibration = _half_bench(tmp_path, "bench microscope")
    save_calibration(calibration, tmp_path / "half.json", sentence)
    assert load_calibration(tmp_path / "half.json").camera.camera == "bench microscope"
    window.desk.set_bench(Bench(calibration))
    bench = window.bench
    bench.source.use_camera(Camera(1, "lid camera"))
    qtbot.waitUntil(bench.live.all_the_same.isVisible)
    assert "come from lid camera" in bench.live.doubt.text()
    assert "grey in a colour format" in bench.live.doubt.text()
    assert "bench microscope" in bench.live.doubt.text()
    time.sleep(0.3)
    qtbot.wait(100)
    assert bench.live.reading is None
    qtbot.mouseClick(bench.live.all_the_same, Qt.MouseButton.LeftButton)
    qtbot.waitUntil(lambda: bench.live.reading is not None)
    bench.source.use_camera(Camera(0, "bench microscope"))
    qtbot.waitUntil(lambda: bench.live.reading is not None)
    assert not bench.live.doubt.isVisible()
    bench.take()  # the picture that is taken says with which camera
    qtbot.waitUntil(lambda: window.desk.piece is not None)
    assert window.desk.piece is not None
    assert camera_note(window.desk.piece.path).camera == "bench microscope"
    file, seen = tmp_path / "from_elsewhere.png", []  # a picture file says it too, before there are numbers
    file.write_bytes(with_camera((tmp_path / "pin_1000_bench_a.png").read_bytes(), "lid camera"))
    window.desk.tray_changed.connect(lambda: seen.append(window.desk.tray.cards[-1]))
    window.go("part")
    window.desk.take_in([str(file)], show=True)
    qtbot.waitUntil(window.part.source.isVisible)
    assert "lid camera" in window.part.source.text()
    assert next(card for card in seen if card.doubts).state is State.MEASURING
    assert facts_words(next(card for card in seen if card.doubts), inches=False) == "another camera"
    window.desk.work.wait()


@pytest.mark.slow
def test_exposure_and_size_are_those_of_the_camera(
    window: Window, qtbot: QtBot, monkeypatch: pytest.MonkeyPatch
) -> None:
    asked: list[tuple[int, float]] = []

    class Plugged(_Plugged):
        def set(self, *what: object) -> bool:
            asked.append(what)  # type: ignore[arg-type]
            return True

    monkeypatch.setattr("gui.camera.capture.cv2.VideoCapture", Plugged)
    bench = window.bench
    bench.source.use_camera(Camera(0, "bench microscope"))
    qtbot.waitUntil(lambda: bench.source.can_take)
    box = bench.chooser._settings["exposure"][1]
    box.setValue(80)
    qtbot.waitUntil(lambda: (cv2.CAP_PROP_EXPOSURE, 80.0) in asked)
    bench.source.use_camera(Camera(1, "lid camera"))
    qtbot.waitUntil(lambda: bench.source.state == LIVE)
    assert box.value() == 156  # as the driver has it
    kinds = bench.chooser.kind_choice
    kinds.setCurrentText("grey")
    kinds.activated.emit(kinds.currentIndex())
    qtbot.waitUntil(lambda: (cv2.CAP_PROP_FOURCC, int.from_bytes(b"GREY", "little")) in asked)
    asked.clear()
    bench.source.use_camera(Camera(0, "bench microscope"))
    assert kinds.currentText() == "kind as it is"
    qtbot.waitUntil(lambda: (cv2.CAP_PROP_EXPOSURE, 80.0) in asked)
    assert box.value() == 80


@pytest.mark.slow
def test_a_camera_that_comes_back_with_another_number_is_found_by_its_name(
    window: Window, qtbot: QtBot, monkeypatch: pytest.MonkeyPatch
) -> None:
    opened: list[object] = []

    class Once(_Unplugged):
        def __init__(self, number: object) -> None:
            super().__init__()
            opened.append(number)

    monkeypatch.setattr("gui.camera.capture.cv2.VideoCapture", Once)
    monkeypatch.setattr("gui.camera.source.are_listed", lambda: True)
    monkeypatch.setattr("gui.camera.source.cameras", lambda: (Camera(0, "lid camera"),))
    source = window.bench.source
    source.use_camera(Camera(0, "bench microscope"))
    qtbot.waitUntil(lambda: source.state == LOST)
    source._try_again()
    assert opened == [0]  # another camera has its number
    assert window.bench.chooser.choice.currentText() == "bench microscope"
    monkeypatch.setattr(Once, "left", 10_000)
    monkeypatch.setattr("gui.camera.source.cameras", lambda: (Camera(0, "lid camera"), Camera(3, "bench microscope")))
    source._try_again()
    qtbot.waitUntil(lambda: source.state == LIVE)
    assert opened == [0, 3]
