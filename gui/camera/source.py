"""Where pictures come from at the moment: a camera, a video file, a watched folder, or nothing but picture files."""

from __future__ import annotations

import math
import platform
from collections.abc import Callable
from pathlib import Path

from PySide6.QtCore import QObject, QTimer, Signal

from gui.camera.capture import KINDS, SETTINGS, Capture, Frame
from gui.camera.pictures_folder import keep_picture
from gui.camera.watched_folder import WatchedFolder
from gui.desk import Desk
from threads.shared.refusal import RefusalError
from vision.pictures.averaged import Averaged
from vision.pictures.cameras import Camera, are_listed, cameras

NONE, CAMERA, VIDEO, FOLDER = "none", "camera", "video", "folder"
IDLE, OPENING, LIVE, PAUSED, LOST = "idle", "opening", "live", "paused", "lost"
_CLOSE_S = 0.5
RETRY_MS = 3000
"""A lost camera is tried again so often: after the machine has slept, it takes some seconds until one answers."""
MOST_RETRIES = 40

Taken = Callable[[str], None]


def camera_key(camera: str, what: str) -> str:
    """Under which name of the settings something is kept of a camera: no sign of it may part the name."""
    return f"camera {camera} {what}".replace("/", " ").replace("\\", " ")


def _is_number(text: str) -> bool:
    try:
        return math.isfinite(float(text))
    except ValueError:
        return False


class Source(QObject):
    """The one source in use.

    ``changed``: kind, state or settings are others. ``said(weight, text)``: a sentence for the person.
    ``arrived(path)``: a picture came into the watched folder.
    """

    changed = Signal()
    said = Signal(str, str)
    arrived = Signal(str)

    def __init__(self, desk: Desk, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self._desk = desk
        self.kind, self.state, self.name = NONE, IDLE, ""
        self.capture: Capture | None = None
        self.folder: WatchedFolder | None = None
        self.camera: Camera | None = None
        self.size: tuple[int, int] | None = None
        self._video = ""
        self._told_colourless = False
        self._taken: tuple[str, Taken] | None = None
        self._retries = 0
        self._retry = QTimer(self)
        self._retry.setInterval(RETRY_MS)
        self._retry.timeout.connect(self._try_again)

    # --- choosing

    def use_camera(self, camera: Camera, size: tuple[int, int] | None = None) -> None:
        """Show what ``camera`` sees, ``size`` wide and high where it can."""
        self.close()
        self.camera, self.size = camera, size
        self.kind = CAMERA
        self.name = self.name_of(camera)
        self._start(camera.number)

    @property
    def camera_name(self) -> str:
        """The name of the camera in use; "" where there is none or the system does not tell."""
        return self.camera.name if self.kind == CAMERA and self.camera is not None else ""

    def name_of(self, camera: Camera) -> str:
        """What ``camera`` is called; by its number where the system does not tell which is which."""
        if camera.perhaps and not camera.name:
            perhaps = self.tr("camera {number}: {names}")
            return perhaps.format(number=camera.number, names=self.tr(" or ").join(camera.perhaps))
        return camera.name or self.tr("camera {number}").format(number=camera.number)

    def use_video(self, path: str) -> None:
        """Play a video file as if it came from a camera."""
        self.close()
        self.kind, self.name, self._video = VIDEO, Path(path).name, path
        self._start(path)

    @property
    def video(self) -> str:
        """The path of the video file that is played; empty where none is."""
        return self._video if self.kind == VIDEO else ""

    def use_folder(self, path: str) -> None:
        """Wait for pictures in a folder."""
        self.close()
        self.kind, self.name, self.state = FOLDER, path, LIVE
        self.folder = WatchedFolder(path, self)
        self.folder.arrived.connect(self.arrived)
        self.folder.gone.connect(self._folder_gone)
        self.folder.slow.connect(self._folder_slow)
        self.changed.emit()

    def close(self, *, wait: bool = False) -> None:
        """Let go of the source in use."""
        if self.capture is not None:
            self.capture.stop(_CLOSE_S if wait else 0.0)
            self.capture = None
        if self.folder is not None:
            self.folder.stop()
            self.folder.deleteLater()
            self.folder = None
        self._retry.stop()
        self._taken = None
        self._told_colourless = False
        self.kind, self.state, self.name = NONE, IDLE, ""
        self.changed.emit()

    def again(self) -> None:
        """Connect the lost source again, or play the video from its beginning."""
        if self.kind == CAMERA and self.camera is not None:
            self.use_camera(self.camera, self.size)
        elif self.kind == VIDEO:
            self.use_video(self._video)
        elif self.kind == FOLDER:
            self.use_folder(self.name)

    def pause(self) -> None:
        """Stop the picture, or let it go on; a video that has ended plays again."""
        if self.state == LOST:
            self.again()
        elif self.capture is not None and self.state in (LIVE, PAUSED):
            self.capture.pause(self.state == LIVE)
            self.state = PAUSED if self.state == LIVE else LIVE
            self.changed.emit()

    # --- exposure and gain

    @property
    def remembered(self) -> dict[str, float]:
        """Exposure and gain as the person set them for this camera last; only those that were set."""
        if self.kind != CAMERA:
            return {}
        kept = {name: self._desk.settings.text(self._key(name)) for name in SETTINGS}
        return {name: float(text) for name, text in kept.items() if _is_number(text)}

    def set(self, name: str, value: float) -> None:
        """Ask the camera for another exposure or gain, now and whenever it is used again."""
        if self.capture is not None:
            self.capture.set(name, value)
            self._desk.settings.set_text(self._key(name), f"{value:g}")

    @property
    def pixel_format(self) -> str:
        """The kind of frames that the person asked of this camera; "" where it is as the camera has it."""
        return self._desk.settings.text(self._key("kind")) if self.kind == CAMERA else ""

    def ask_for(self, pixel_format: str) -> None:
        """Ask this camera for another kind of frames (``gui.camera.capture.KINDS``), now and whenever it is used."""
        if self.kind == CAMERA:
            self._desk.settings.set_text(self._key("kind"), pixel_format)
            self.again()

    def _key(self, name: str) -> str:
        return camera_key(self.name, name)

    # --- pictures

    def newest(self, after: int = 0) -> tuple[int, Frame] | None:
        """The newest frame and its number, if its number is above ``after``."""
        return None if self.capture is None else self.capture.newest(after)

    @property
    def can_take(self) -> bool:
        """Whether there is a frame to take and none is being taken."""
        return self._taken is None and self.capture is not None and self.capture.newest() is not None

    @property
    def taking(self) -> float | None:
        """How far the picture is that is being taken, 0 to 1; None where none is."""
        if self._taken is None:
            return None
        share = None if self.capture is None else self.capture.share
        return 1.0 if share is None else share

    def take(self, frames: int, what: str, then: Taken) -> None:
        """Average ``frames`` frames, keep them as a picture called after ``what``, and call ``then`` with its path."""
        if not self.can_take or self.capture is None:
            return
        self._taken = (what, then)
        self.changed.emit()
        self.capture.take(frames)

    def _try_again(self) -> None:
        """Try whether the lost camera answers again; nothing is said and shown before it does."""
        self._retries += 1
        if self._retries >= MOST_RETRIES:
            self._retry.stop()
        if self.camera is None or self.state != LOST:
            return
        there = cameras() if are_listed() and self.camera.name else ()
        again = next((one for one in there if one.name == self.camera.name), None)
        if there and again is None:
            return  # another camera may have its number by now
        self.camera = again or self.camera
        if self.capture is not None:
            self.capture.stop()
        self._start(self.camera.number, state=LOST)

    def _start(self, source: int | str, state: str = OPENING) -> None:
        self.state = state
        of_camera = isinstance(source, int)
        kind = self._desk.settings.text(self._key("kind")) if of_camera else ""
        capture = Capture(source, self.size if of_camera else None, self, kind if kind in KINDS else "")
        self.capture = capture
        capture.opened.connect(lambda: self._opened(capture))
        capture.lost.connect(lambda kind: self._lost(capture, kind))
        capture.taken.connect(lambda mean: self._keep(capture, mean))
        capture.not_taken.connect(lambda refusal: self._refused(capture, refusal))
        capture.start()
        self.changed.emit()

    def _opened(self, capture: Capture) -> None:
        if capture is self.capture:
            for name, value in self.remembered.items():
                capture.set(name, value)
            if self._retry.isActive():
                self._retry.stop()
                self.said.emit("note", self.tr("{name} answers again.").format(name=self.name))
            self.state = LIVE
            self.changed.emit()

    def _lost(self, capture: Capture, kind: str) -> None:
        if capture is not self.capture:
            return
        self.state = LOST
        if self._retry.isActive():  # it was said when it was lost
            return
        if self.kind == CAMERA and kind == "lost":
            self._retries = 0
            self._retry.start()
        words = {
            "unopened": self._why_unopened()
            if self.kind == CAMERA
            else self.tr("{name} cannot be opened as a video. Choose another file."),
            "lost": self.tr(
                "{name} no longer answers. Check its cable: it is used again as soon as it answers, or press "
                "Reconnect. Nothing else is lost."
            ),
            "ended": self.tr("{name} has ended. Its last frame stays; Space plays it again."),
        }[kind]
        self.said.emit("note" if kind == "ended" else "warning", words.format(name=self.name))
        self.changed.emit()

    def _why_unopened(self) -> str:
        """Why a camera may not open, and what to do, in the places where this system keeps the permission."""
        if self.camera is not None and not self.camera.allowed:
            return self.tr(
                "This account may not use {name}: put it into the group video (sudo usermod -aG video NAME) and log in "
                "again."
            )
        words = self.tr("{name} cannot be opened: is it plugged in, and does no other program use it?")
        allowed = {
            "Windows": self.tr("Windows must allow it: Settings, Privacy, Camera, desktop apps."),
            "Darwin": self.tr("macOS must allow it: System Settings, Privacy & Security, Camera; then start again."),
        }.get(platform.system())
        return f"{words} {allowed}" if allowed else words

    def _folder_slow(self, seconds: float) -> None:
        text = self.tr("{name} takes {seconds} s to answer: pictures come that much later. None is lost.")
        self.said.emit("note", text.format(name=self.name, seconds=f"{seconds:.0f}"))

    def _folder_gone(self) -> None:
        self.state = LOST
        self.said.emit("warning", self.tr("The folder {name} is gone. Choose another one.").format(name=self.name))
        self.changed.emit()

    def _keep(self, capture: Capture, mean: Averaged) -> None:
        if capture is not self.capture or self._taken is None:
            return
        what, then = self._taken
        words = self.tr("keeping the picture")

        def done(path: str) -> None:
            self._taken = None
            self.changed.emit()
            if mean.left_out:
                text = self.tr("{left} of {all} frames were left out: something moved in them.")
                self.said.emit("note", text.format(left=mean.left_out, all=mean.left_out + mean.frames))
            if mean.colourless and not self._told_colourless:
                self._told_colourless = True
                text = self.tr(
                    "{name} gives grey pictures in a colour format: they are read as sRGB. A grey picture file is read "
                    "as linear light, so take the pictures of the gauges from {name} too."
                )
                self.said.emit("note", text.format(name=self.name))
            then(path)

        def failed(error: Exception) -> None:
            self._taken = None
            self.changed.emit()
            self._desk.refuse(error)

        self._desk.work.run(words, keep_picture, mean.light, what, self.camera_name, done=done, failed=failed)

    def _refused(self, capture: Capture, refusal: RefusalError) -> None:
        if capture is self.capture:
            self._taken = None
            self.changed.emit()
            self._desk.refuse(refusal)
