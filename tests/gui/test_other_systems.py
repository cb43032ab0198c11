"""The window on other systems, emulated: colours, cameras, files handed over; and what another version left."""

from __future__ import annotations

import sqlite3
import time
import zipfile
from contextlib import closing
from pathlib import Path
from typing import TYPE_CHECKING, Any, ClassVar

import numpy as np
import pytest
from PySide6.QtCore import Qt, QUrl
from PySide6.QtGui import QFileOpenEvent, QFont, QFontInfo, QGuiApplication
from PySide6.QtWidgets import QApplication

from gui import theme
from gui.app import Opener, create_application
from gui.camera import source as source_module
from gui.camera.capture import Capture
from gui.camera.source import LIVE
from gui.plots import Plot
from records.exchange.outgoing import write_parts
from records.register import VERSION, open_register, version_of
from tests.gui.conftest import a_window
from tests.records.registers import new_register
from vision.pictures.cameras import Camera
from vision.shared.opencv import cv2

if TYPE_CHECKING:
    from pytestqt.qtbot import QtBot

    from gui.window import Window

FIRST = Path(__file__).parents[1] / "records" / "register_v1.zip"


class _Sleeper:
    """A capture of OpenCV whose machine is put to sleep after some frames, and which answers at its third opening."""

    interface = "V4L2"
    opened = 0
    asked: ClassVar[list[tuple[int, float]]] = []

    def __init__(self, *_: object) -> None:
        type(self).opened += 1
        self.left = {1: 5, 2: 0}.get(self.opened, 10**9)
        type(self).asked = []

    def isOpened(self) -> bool:  # noqa: N802 - OpenCV's own name
        return self.left > 0

    def getBackendName(self) -> str:  # noqa: N802 - as above
        return self.interface

    def set(self, number: int, value: float) -> bool:
        self.asked.append((number, value))
        return True

    def get(self, _number: int) -> float:
        return 0.0

    def read(self) -> tuple[bool, Any]:
        time.sleep(0.005)
        self.left -= 1
        return (True, np.full((48, 64, 3), 200, np.uint8)) if self.left > 0 else (False, None)

    def release(self) -> None:
        """Nothing is held."""


def test_a_live_camera_goes_on_by_itself_after_a_sleep(
    window: Window, qtbot: QtBot, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr("gui.camera.capture.cv2.VideoCapture", _Sleeper)
    monkeypatch.setattr(_Sleeper, "opened", 0)
    source = window.bench.source
    source._retry.setInterval(30)
    told: list[str] = []
    window.desk.noticed.connect(lambda _, text: told.append(text))
    source.use_camera(Camera(0, "bench microscope"))
    qtbot.waitUntil(lambda: source.state == LIVE and _Sleeper.opened == 3)
    qtbot.waitUntil(lambda: source.can_take)
    assert [text.split(".")[0] for text in told if "microscope" in text] == [
        "bench microscope no longer answers",
        "bench microscope answers again",
    ]  # the attempt in between that failed was not told of
    assert not source._retry.isActive()
    source.close(wait=True)


@pytest.mark.parametrize(
    ("interface", "expected"), [("V4L2", [1.0]), ("MSMF", [0.0]), ("DSHOW", [0.0]), ("AVFOUNDATION", [])]
)
def test_exposure_by_hand_in_the_numbers_of_each_system(
    qtbot: QtBot, monkeypatch: pytest.MonkeyPatch, interface: str, expected: list[float]
) -> None:
    monkeypatch.setattr("gui.camera.capture.cv2.VideoCapture", _Sleeper)
    monkeypatch.setattr(_Sleeper, "interface", interface)
    monkeypatch.setattr(_Sleeper, "opened", 10)
    monkeypatch.setattr(_Sleeper, "asked", [])
    capture = Capture(0)
    capture.set("exposure", -6.0)
    capture.start()
    qtbot.waitUntil(lambda: (cv2.CAP_PROP_EXPOSURE, -6.0) in _Sleeper.asked)
    capture.stop(1.0)
    assert [value for number, value in _Sleeper.asked if number == cv2.CAP_PROP_AUTO_EXPOSURE] == expected


@pytest.mark.parametrize(
    ("system", "allowed", "expected"),
    [
        ("Windows", True, "Settings, Privacy, Camera"),
        ("Darwin", True, "Privacy & Security, Camera"),
        ("Linux", False, "group video"),
        ("Linux", True, "does no other program use it?"),
    ],
)
def test_a_camera_that_is_not_allowed_says_where_to_allow_it(
    window: Window, qtbot: QtBot, monkeypatch: pytest.MonkeyPatch, system: str, allowed: bool, expected: str
) -> None:
    monkeypatch.setattr("gui.camera.capture.cv2.VideoCapture", _Sleeper)
    monkeypatch.setattr(_Sleeper, "opened", 1)  # the next one does not open
    monkeypatch.setattr(source_module.platform, "system", lambda: system)
    window.bench.source.use_camera(Camera(0, "bench microscope", allowed))
    qtbot.waitUntil(lambda: expected in window.notice.text)


def test_the_window_follows_the_colours_of_the_system(window: Window, monkeypatch: pytest.MonkeyPatch) -> None:
    hints = QGuiApplication.styleHints()
    dark = Qt.ColorScheme.Dark

    class Hints:
        def colorScheme(self) -> Qt.ColorScheme:  # noqa: N802 - Qt's own name
            return dark

    monkeypatch.setattr(theme.QGuiApplication, "styleHints", Hints)
    hints.colorSchemeChanged.emit(dark)
    assert window.palette().window().color().name().upper() == theme.DARK.paper
    plots = window.findChildren(Plot)
    assert len(plots) >= 4
    assert {plot.backgroundBrush().color().name().upper() for plot in plots} == {theme.DARK.raised.upper()}
    monkeypatch.undo()
    hints.colorSchemeChanged.emit(Qt.ColorScheme.Light)
    assert window.palette().window().color().name().upper() == theme.LIGHT.paper


def test_a_bundle_that_the_system_hands_over_is_filed_once_the_person_agrees(
    window: Window, qtbot: QtBot, tmp_path: Path
) -> None:
    with zipfile.ZipFile(FIRST) as packed:
        packed.extractall(tmp_path / "theirs")
    bundle = tmp_path / "overhaul.FLANKWISE"
    write_parts(open_register(tmp_path / "theirs" / "register.sqlite"), [1, 2], bundle)
    opener = Opener(lambda: window, window)
    opener.eventFilter(window, QFileOpenEvent(QUrl.fromLocalFile(str(bundle))))
    assert window.front == "register"
    assert window.bundles.isVisible()
    assert "overhaul.FLANKWISE" in window.bundles.question.text.text()
    window.bundles.question.neither.click()
    assert not window.bundles.isVisible()
    assert not (tmp_path / "parts.sqlite").exists()
    window.open_files([str(bundle)])
    window.bundles.question.first.click()
    qtbot.waitUntil(lambda: "2 parts were taken in from overhaul.FLANKWISE" in window.notice.text)
    assert not window.bundles.isVisible()


def test_settings_of_another_version_do_not_keep_the_window_from_opening(qtbot: QtBot, tmp_path: Path) -> None:
    (tmp_path / "window.ini").write_text(
        "[General]\nsize=huge\nframes=1.5\ntheme=violet\nlanguage=xx\ngeometry=7\nof_later=kept\nsource_size=x\n"
        "inches=yes\ntoured=yes\n"
    )
    with a_window(qtbot, tmp_path) as window:
        assert window.desk.inches
        window.greet()
    assert "of_later=kept" in (tmp_path / "window.ini").read_text()


def test_a_register_of_the_first_version_is_brought_up_to_date_and_told_of(qtbot: QtBot, tmp_path: Path) -> None:
    with zipfile.ZipFile(FIRST) as packed:
        packed.extractall(tmp_path)
    (tmp_path / "register.sqlite").rename(tmp_path / "parts.sqlite")
    (tmp_path / "register.pictures").rename(tmp_path / "parts.pictures")
    with a_window(qtbot, tmp_path) as window:
        window.desk.settings.set_text("toured", "yes")
        window.greet()
        qtbot.waitUntil(lambda: "brought up to date" in window.notice.text)
        (copy,) = tmp_path.glob("parts.before-upgrade-from-1.*.sqlite")
        assert str(copy) in window.notice.text
    assert (version_of(copy), version_of(tmp_path / "parts.sqlite")) == (1, VERSION)


def test_a_newer_register_is_told_of_and_left_alone(qtbot: QtBot, tmp_path: Path) -> None:
    register = new_register(tmp_path)
    with closing(sqlite3.connect(register.path)) as changed:
        changed.execute(f"PRAGMA user_version = {VERSION + 1}")
    before = register.path.read_bytes()
    with a_window(qtbot, tmp_path) as window:
        window.greet()
        qtbot.waitUntil(lambda: "Update the program" in window.notice.text)
    assert register.path.read_bytes() == before


def test_a_system_without_any_type_gets_the_program_s_own(qtbot: QtBot, monkeypatch: pytest.MonkeyPatch) -> None:
    del qtbot
    before = QApplication.font()
    QApplication.setFont(QFont("of another system"))
    monkeypatch.setattr("gui.app.QFontDatabase.families", lambda: ["Monospace", "Sans Serif", "Serif"])
    try:
        create_application()
        assert QApplication.font().family() == QFontInfo(QApplication.font()).family() == "DejaVu Sans"
    finally:
        QApplication.setFont(before)
