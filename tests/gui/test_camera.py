"""Pictures in: a video through the camera's path, sources that fail, a watched folder, the clipboard."""

from __future__ import annotations

import shutil
import threading
import time
import weakref
from pathlib import Path
from typing import TYPE_CHECKING

import numpy as np
import pytest
from PIL import Image
from PySide6.QtCore import QMimeData, QPointF, Qt, QUrl
from PySide6.QtGui import QDropEvent, QImage
from PySide6.QtWidgets import QApplication, QFileDialog

from flankwise.bench import Bench
from gui.bench.laying import PINS
from gui.camera import watched_folder
from gui.camera.capture import WARMING_UP, Capture
from gui.camera.source import FOLDER, LIVE, LOST, NONE, PAUSED
from gui.camera.watched_folder import WatchedFolder
from tests.gui.conftest import a_window
from tests.vision.live_frames import coded
from threads.shared.refusal import RefusalError
from vision.pictures.cameras import Camera, cameras
from vision.pictures.picture import read_picture
from vision.result.measure import measure_picture
from vision.shared.opencv import cv2
from vision.shared.plane import FixedScale

if TYPE_CHECKING:
    from pytestqt.qtbot import QtBot

    from gui.window import Window

SAMPLES = Path(__file__).parents[2] / "sample_images"
SCREW = SAMPLES / "sextant_shade_frame_screw_0-80_bench_a.png"
HALF = FixedScale(8.0, relative_u=1e-5, edge_offset_u_px=0.01)
"""The samples of bench A at half their size."""


@pytest.fixture(autouse=True)
def _own_data(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("FLANKWISE_DATA", str(tmp_path / "data"))


def _still(of: Path = SCREW) -> np.ndarray:
    levels = cv2.imread(str(of), cv2.IMREAD_UNCHANGED)
    small = cv2.resize(levels, (640, 480), interpolation=cv2.INTER_AREA)
    return coded(small / np.iinfo(levels.dtype).max)


def write_video(path: Path, frames: int, *, step_px: float = 0.0, of: Path = SCREW) -> str:
    """A sample picture at half its size with slight noise, moved along by ``step_px`` a frame."""
    still, noise = _still(of), np.random.default_rng(5)
    writer = cv2.VideoWriter(str(path), cv2.VideoWriter_fourcc(*"MJPG"), 50, (640, 480))
    assert writer.isOpened()
    for number in range(frames):
        matrix = np.array([[1, 0, 0.3 * number * step_px], [0, 1, number * step_px]], np.float32)
        moved = cv2.warpAffine(still, matrix, (640, 480), borderMode=cv2.BORDER_REPLICATE)
        noisy = np.clip(moved + noise.normal(0, 2, moved.shape), 0, 255).astype(np.uint8)
        writer.write(cv2.cvtColor(noisy, cv2.COLOR_GRAY2BGR))
    writer.release()
    return str(path)


@pytest.mark.slow
def test_a_picture_taken_from_a_video_is_measured(window: Window, qtbot: QtBot, tmp_path: Path) -> None:
    window.desk.set_bench(Bench(HALF))
    bench = window.bench
    bench.chooser.frames.setValue(4)
    bench.source.use_video(write_video(tmp_path / "screw.avi", 40))
    qtbot.waitUntil(lambda: bench.signs.alignment.good is True)
    assert "9.6 threads" in bench.signs.alignment.sentence
    assert bench.signs.focus.good
    qtbot.waitUntil(bench.chooser.take_button.isEnabled)
    qtbot.keyClick(window.bench.picture, Qt.Key.Key_T)
    qtbot.waitUntil(lambda: window.desk.piece is not None)
    assert window.front == "part"
    piece = window.desk.piece
    assert piece is not None
    assert piece.measurement is not None
    assert piece.measurement.thread.pitch.value == pytest.approx(0.3175, abs=0.001)
    assert piece.picture is not None
    assert piece.picture.bit_depth == 16
    assert "linear" in piece.picture.notes[0]
    assert Path(piece.path).parent == tmp_path / "data" / "pictures"


@pytest.mark.slow
@pytest.mark.parametrize("colour", [False, True])
def test_a_frame_of_a_lossless_video_measures_as_the_same_frame_in_a_file(
    window: Window, qtbot: QtBot, tmp_path: Path, colour: bool
) -> None:
    still = _still()
    frame = cv2.cvtColor(still, cv2.COLOR_GRAY2BGR) if colour else still
    name = str(tmp_path / "screw.mkv")
    writer = cv2.VideoWriter(name, cv2.VideoWriter_fourcc(*"FFV1"), 25, (640, 480), colour)
    for _ in range(4):
        writer.write(frame)
    writer.release()
    cv2.imwrite(str(tmp_path / "screw.png"), frame)
    in_file = measure_picture(read_picture(tmp_path / "screw.png"), HALF).thread
    window.desk.set_bench(Bench(HALF))
    told: list[str] = []  # the end of the film may be said after it
    window.desk.noticed.connect(lambda _, text: told.append(text))
    window.bench.chooser.frames.setValue(1)
    window.bench.source.use_video(name)
    qtbot.waitUntil(window.bench.chooser.take_button.isEnabled)
    window.bench.take()
    qtbot.waitUntil(lambda: window.desk.piece is not None)
    assert window.desk.piece is not None
    assert window.desk.piece.measurement is not None
    found = window.desk.piece.measurement.thread
    for quantity in ("major_diameter", "pitch_diameter", "minor_diameter"):
        assert getattr(found, quantity).value == pytest.approx(getattr(in_file, quantity).value, abs=1e-4)
    assert any("take the pictures of the gauges from screw.mkv too" in text for text in told) is colour


@pytest.mark.slow
def test_a_video_that_ends_keeps_its_last_frame_and_plays_again(window: Window, qtbot: QtBot, tmp_path: Path) -> None:
    bench = window.bench
    bench.source.use_video(write_video(tmp_path / "short.avi", 4))
    qtbot.waitUntil(lambda: bench.source.state == LOST)
    assert "has ended" in window.notice.text
    assert bench.chooser.again.isVisible()
    assert bench.source.can_take
    qtbot.waitUntil(bench.picture.hasFocus)
    qtbot.keyClick(bench.picture, Qt.Key.Key_Space)
    qtbot.waitUntil(lambda: bench.source.state == LIVE)


@pytest.mark.slow
def test_sources_that_were_let_go_of_leave_nothing(window: Window, qtbot: QtBot, tmp_path: Path) -> None:
    """One that is still being read, and one that has ended and whose last frame stood."""
    source = window.bench.source
    let_go = []
    for frames in (4, 200):
        source.use_video(write_video(tmp_path / f"{frames}.avi", frames))
        qtbot.waitUntil(lambda ends=frames == 4: source.state == (LOST if ends else LIVE))
        assert source.capture is not None
        qtbot.waitUntil(lambda: source.newest() is not None)
        let_go.append(weakref.ref(source.capture))
    source.again()
    qtbot.waitUntil(lambda: [kept() for kept in let_go] == [None, None])
    assert source.findChildren(Capture) == [source.capture]


@pytest.mark.slow
def test_space_pauses_and_presses_the_button_that_has_the_focus(window: Window, qtbot: QtBot, tmp_path: Path) -> None:
    bench = window.bench
    bench.source.use_video(write_video(tmp_path / "long.avi", 200))
    qtbot.waitUntil(lambda: bench.source.state == LIVE and bench.picture.hasFocus())
    qtbot.keyClick(bench.picture, Qt.Key.Key_Space)
    assert bench.source.state == PAUSED
    time.sleep(0.05)
    before = bench.source.newest()
    time.sleep(0.1)
    after = bench.source.newest()
    assert before is not None
    assert after is not None
    assert before[0] == after[0]
    bench.chooser.pause.setFocus()
    qtbot.keyClick(bench.chooser.pause, Qt.Key.Key_Space)
    assert bench.source.state == LIVE


def test_what_is_no_video_is_said(window: Window, qtbot: QtBot, tmp_path: Path) -> None:
    (tmp_path / "no.avi").write_bytes(b"nothing")
    window.bench.source.use_video(str(tmp_path / "no.avi"))
    qtbot.waitUntil(lambda: "cannot be opened as a video" in window.notice.text)


@pytest.mark.slow
def test_a_part_that_moves_is_refused(window: Window, qtbot: QtBot, tmp_path: Path) -> None:
    bench = window.bench
    bench.chooser.frames.setValue(6)
    bench.source.use_video(write_video(tmp_path / "moving.avi", 60, step_px=1.0))
    qtbot.waitUntil(lambda: bench.source.can_take)
    bench.take()
    qtbot.waitUntil(lambda: "moved while the picture was taken" in window.notice.text)
    assert window.front == "bench"
    assert window.desk.piece is None


class _Unplugged:
    """A capture as OpenCV gives it, of a camera that is pulled out after some frames."""

    left = 12

    def __init__(self, *_: object) -> None:
        self._frame = np.repeat(_still()[:, :, None], 3, axis=2)

    def isOpened(self) -> bool:  # noqa: N802 - OpenCV's own name
        return True

    def set(self, *_: object) -> bool:
        return True

    def get(self, number: int) -> float:
        return 156.0 if number == cv2.CAP_PROP_EXPOSURE else 0.0

    def getBackendName(self) -> str:  # noqa: N802 - OpenCV's own name
        return "V4L2"

    def grab(self) -> bool:
        return self.left > 0

    def read(self) -> tuple[bool, np.ndarray | None]:
        time.sleep(0.01)
        self.left -= 1
        return (True, self._frame.copy()) if self.left > 0 else (False, None)

    def release(self) -> None:
        """Nothing is held."""


@pytest.mark.slow
def test_a_camera_that_is_pulled_out_is_survived_and_reconnected(
    window: Window, qtbot: QtBot, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr("gui.camera.capture.cv2.VideoCapture", _Unplugged)
    bench = window.bench
    bench.source.use_camera(Camera(0, "bench microscope"), (640, 480))
    qtbot.waitUntil(lambda: bench.source.state == LOST)
    assert "bench microscope no longer answers" in window.notice.text
    assert "Reconnect" in window.notice.text
    assert bench.chooser.again.isVisible()
    assert window.isVisible()
    monkeypatch.setattr(_Unplugged, "left", 10_000)
    qtbot.mouseClick(bench.chooser.again, Qt.MouseButton.LeftButton)
    qtbot.waitUntil(lambda: bench.source.state == LIVE)
    qtbot.waitUntil(lambda: bench.source.can_take)
    assert [setting.name for setting in bench.source.capture.settings] == ["exposure"]  # type: ignore[union-attr]
    bench.source.close(wait=True)


def _choose(window: Window, kind: str) -> None:
    choice = window.bench.chooser.choice
    index = next(n for n in range(choice.count()) if choice.itemData(n)[0] == kind)
    choice.setCurrentIndex(index)
    choice.activated.emit(index)


@pytest.mark.slow
def test_the_camera_of_last_time_is_used_again(qtbot: QtBot, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("gui.camera.capture.cv2.VideoCapture", _Unplugged)
    monkeypatch.setattr(_Unplugged, "left", 10_000)
    plugged = [Camera(0, "doorbell"), Camera(2, "bench microscope")]
    monkeypatch.setattr("gui.camera.chooser.are_listed", lambda: True)
    monkeypatch.setattr("gui.camera.chooser.cameras", lambda: tuple(plugged))
    with a_window(qtbot, tmp_path) as window:
        chooser = window.bench.chooser
        chooser.look_for_cameras()
        chooser.choice.setCurrentText("bench microscope")
        chooser.size_choice.setCurrentText("1280 × 720")
        chooser.choice.activated.emit(chooser.choice.currentIndex())
    plugged[1] = Camera(1, "bench microscope")  # another socket
    with a_window(qtbot, tmp_path) as window:
        window.greet()
        source = window.bench.source
        qtbot.waitUntil(lambda: source.state == LIVE)
        assert (source.camera, source.size) == (plugged[1], (1280, 720))
        assert window.bench.chooser.choice.currentText() == "bench microscope"
    unplugged = plugged.pop()
    with a_window(qtbot, tmp_path) as window:
        window.desk.settings.set_text("toured", "yes")
        window.greet()
        assert "bench microscope is not plugged in" in window.notice.text
        assert window.bench.source.kind == NONE
    plugged.append(unplugged)
    with a_window(qtbot, tmp_path) as window:
        window.greet()
        _choose(window, NONE)
    with a_window(qtbot, tmp_path) as window:
        window.greet()
        assert window.bench.source.kind == NONE


@pytest.mark.slow
def test_the_folder_of_last_time_is_watched_again(
    qtbot: QtBot, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    folder = tmp_path / "tethered"
    folder.mkdir()
    monkeypatch.setattr(QFileDialog, "getExistingDirectory", lambda *_: str(folder))
    with a_window(qtbot, tmp_path) as window:
        window.bench.chooser.ask_for_folder()
        assert window.bench.source.kind == FOLDER
    with a_window(qtbot, tmp_path) as window:
        window.greet()
        assert window.desk.work.wait()
        assert (window.bench.source.kind, window.bench.source.name) == (FOLDER, str(folder))
    folder.rmdir()
    with a_window(qtbot, tmp_path) as window:
        window.greet()
        assert window.desk.work.wait()
        assert window.bench.source.kind == NONE


def test_the_first_frames_of_a_camera_are_in_no_picture(qtbot: QtBot, monkeypatch: pytest.MonkeyPatch) -> None:
    class Settling(_Unplugged):
        left = 10_000

        def read(self) -> tuple[bool, np.ndarray | None]:
            _, frame = super().read()
            dark = 10_000 - self.left <= WARMING_UP
            return True, np.zeros_like(frame) if dark and frame is not None else frame

    monkeypatch.setattr("gui.camera.capture.cv2.VideoCapture", Settling)
    capture = Capture(0)
    with qtbot.waitSignal(capture.taken) as taken:
        capture.take(3)
        capture.start()
    capture.stop(1.0)
    mean = taken.args[0]
    assert mean.left_out == 0
    assert float(mean.light.max()) > 0.5


def test_nothing_coming_is_a_refusal_not_a_picture(qtbot: QtBot, monkeypatch: pytest.MonkeyPatch) -> None:
    class Dead(_Unplugged):
        left = 0

    monkeypatch.setattr("gui.camera.capture.cv2.VideoCapture", Dead)
    capture = Capture(0)
    with qtbot.waitSignal(capture.not_taken) as answer:
        capture.take(3)
        capture.start()
    capture.stop(1.0)
    assert isinstance(answer.args[0], RefusalError)


def test_memory_stays_flat_and_frames_are_not_queued(qtbot: QtBot, monkeypatch: pytest.MonkeyPatch) -> None:
    class Endless(_Unplugged):
        left = 10_000

    monkeypatch.setattr("gui.camera.capture.cv2.VideoCapture", Endless)
    capture = Capture(0)
    capture.start()
    qtbot.waitUntil(lambda: (capture.newest() or (0, None))[0] > 20)
    first = capture.newest()
    assert first is not None
    qtbot.waitUntil(lambda: capture.newest(after=first[0]) is not None)
    second = capture.newest()
    capture.stop(1.0)
    assert second is not None
    assert second[0] > first[0]
    assert capture.newest(after=second[0] + 100) is None
    assert not [value for value in vars(capture).values() if isinstance(value, list) and value]


def test_a_file_that_grows_is_told_of_once_and_whole(qtbot: QtBot, tmp_path: Path) -> None:
    (tmp_path / "old.png").write_bytes(b"was there before")
    folder = WatchedFolder(str(tmp_path), poll_ms=30)
    told: list[str] = []
    folder.arrived.connect(told.append)
    content = SCREW.read_bytes()
    target = tmp_path / "new.png"
    with target.open("wb") as file:
        for start in range(0, len(content), len(content) // 4):
            file.write(content[start : start + len(content) // 4])
            file.flush()
            folder.look()
            assert told == []
    qtbot.waitUntil(lambda: told == [str(target)])
    qtbot.wait(150)
    assert told == [str(target)]
    assert read_picture(told[0]).width_px == 1280
    (tmp_path / "notes.txt").write_text("no picture")
    with qtbot.waitSignal(folder.gone):
        shutil.rmtree(tmp_path)


def test_a_folder_that_answers_slowly_keeps_nobody_waiting(
    window: Window, qtbot: QtBot, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    answer, stamps_of = threading.Event(), watched_folder.stamps_of

    def slowly(folder: str) -> dict[Path, tuple[int, int]] | None:
        answer.wait(30)
        return stamps_of(folder)

    monkeypatch.setattr(watched_folder, "stamps_of", slowly)
    monkeypatch.setattr(watched_folder, "FIRST_S", 0.01)
    monkeypatch.setattr(watched_folder, "SLOW_S", 0.0)
    (tmp_path / "old.png").write_bytes(b"was there before")
    source = window.bench.source
    source.use_folder(str(tmp_path))  # comes back though the folder does not answer
    told: list[str] = []
    source.arrived.connect(told.append)
    folder = source.folder
    assert folder is not None
    folder.look()
    qtbot.wait(30)
    answer.set()
    qtbot.waitUntil(lambda: "to answer" in window.notice.text)
    shutil.copy(SCREW, tmp_path / "new.png")
    qtbot.waitUntil(lambda: told == [str(tmp_path / "new.png")])


@pytest.mark.slow
def test_what_comes_into_the_watched_folder_is_measured(
    by_hand: Window, qtbot: QtBot, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    folder = tmp_path / "tethered"
    folder.mkdir()
    monkeypatch.setattr(QFileDialog, "getExistingDirectory", lambda *_: str(folder))
    qtbot.keyClick(by_hand.bench.picture, Qt.Key.Key_W)
    assert by_hand.bench.source.state == LIVE
    shutil.copy(SCREW, folder / "shot 1.png")
    qtbot.waitUntil(lambda: by_hand.desk.piece is not None)
    assert by_hand.front == "part"
    assert by_hand.desk.piece is not None
    assert by_hand.desk.piece.measurement is not None
    by_hand.go("bench")
    assert by_hand.desk.work.wait()
    qtbot.waitUntil(lambda: by_hand.bench.signs.focus.good is True)


@pytest.mark.slow
def test_gauges_are_taken_from_the_live_picture_and_from_the_folder(
    window: Window, qtbot: QtBot, tmp_path: Path
) -> None:
    bench = window.bench
    bench.chooser.frames.setValue(2)
    bench.source.use_video(write_video(tmp_path / "pin.avi", 60, of=SAMPLES / "pin_2500_bench_a.png"))
    bench.show_task()
    bench.task.go(PINS)
    first, second = bench.task.rows
    qtbot.waitUntil(first.live.isEnabled)
    qtbot.mouseClick(first.live, Qt.MouseButton.LeftButton)
    qtbot.waitUntil(lambda: first.look is not None)
    assert first.look is not None
    assert first.look.step_px == pytest.approx(624.5 / 2, abs=0.3)
    assert Path(first.path).name.startswith("gauge_")
    folder = tmp_path / "tethered"
    folder.mkdir()
    bench.source.use_folder(str(folder))
    second.size_edit.setFocus()
    shutil.copy(SAMPLES / "pin_1000_bench_a.png", folder / "pin.png")
    qtbot.waitUntil(lambda: second.look is not None)
    assert window.front == "bench"
    assert window.desk.piece is None


@pytest.mark.slow
def test_a_pasted_picture_is_kept_and_measured(by_hand: Window, qtbot: QtBot, tmp_path: Path) -> None:
    still = np.ascontiguousarray(_still())
    image = QImage(still.data, 640, 480, 640, QImage.Format.Format_Grayscale8).copy()
    QApplication.clipboard().setImage(image)
    qtbot.keyClick(by_hand, Qt.Key.Key_V, Qt.KeyboardModifier.ControlModifier)
    qtbot.waitUntil(lambda: by_hand.desk.piece is not None)
    piece = by_hand.desk.piece
    assert piece is not None
    assert Path(piece.path).parent == tmp_path / "data" / "pictures"
    assert piece.picture is not None
    expected = np.where(still / 255 <= 0.04045, still / 255 / 12.92, ((still / 255 + 0.055) / 1.055) ** 2.4)
    assert np.abs(piece.picture.light - expected).max() < 1e-4
    QApplication.clipboard().clear()


@pytest.mark.slow
def test_a_phone_picture_that_is_dropped_stands_upright(by_hand: Window, qtbot: QtBot, tmp_path: Path) -> None:
    upright = Image.open(SCREW).convert("L")
    exif = Image.Exif()
    exif[0x0112] = 6  # EXIF 2.32: turned by a quarter clockwise to be upright
    upright.rotate(90, expand=True).save(tmp_path / "phone.jpg", quality=95, exif=exif)
    data = QMimeData()
    data.setUrls([QUrl.fromLocalFile(str(tmp_path / "phone.jpg"))])
    where = QPointF(by_hand.rect().center())
    buttons, keys = Qt.MouseButton.LeftButton, Qt.KeyboardModifier.NoModifier
    by_hand.dropEvent(QDropEvent(where, Qt.DropAction.CopyAction, data, buttons, keys))
    qtbot.waitUntil(lambda: by_hand.desk.piece is not None)
    assert by_hand.desk.work.wait()
    piece = by_hand.desk.piece
    assert piece is not None
    assert piece.picture is not None
    assert (piece.picture.width_px, piece.picture.height_px) == upright.size
    assert piece.measurement is not None
    assert abs(piece.measurement.thread.pitch.value - 0.3175) < 1e-3


def test_cameras_are_listed_by_name(tmp_path: Path) -> None:
    for node, index, name in ((0, 0, "bench microscope"), (1, 1, "bench microscope"), (2, 0, "lid camera")):
        (tmp_path / f"video{node}").mkdir()
        (tmp_path / f"video{node}" / "index").write_text(f"{index}\n")
        (tmp_path / f"video{node}" / "name").write_text(f"{name}\n")
    assert cameras(tmp_path) == (Camera(0, "bench microscope"), Camera(2, "lid camera"))
    assert cameras(tmp_path / "none") == ()
