"""Frames of a camera or of a video file, read in a thread of its own: the newest wins, none is queued up.

Both come through the same OpenCV capture, eight bits a channel. It hands all frames over as blue, green, red; those of
a source without colour become grey again, because grey is linear and colour is sRGB (``vision.pictures.live_frame``).
"""

from __future__ import annotations

import threading
import time
from contextlib import suppress
from dataclasses import dataclass
from typing import Any

import numpy as np
import numpy.typing as npt
from PySide6.QtCore import QObject, Signal

from threads.shared.refusal import RefusalError
from vision.pictures.averaged import Averaged, Averaging
from vision.shared.opencv import cv2, quiet

Frame = npt.NDArray[np.uint8]

WARMING_UP = 4
"""The first frames of a camera, whose exposure is still settling: shown, but in no picture that is taken."""
_FAILED_READS = 5
_NO_RATE = 25.0
_WAIT_S = 0.05


@dataclass(frozen=True)
class Setting:
    """One thing that a driver lets be set: its present value. ``name`` as in ``SETTINGS``."""

    name: str
    value: float


SETTINGS = {"exposure": cv2.CAP_PROP_EXPOSURE, "gain": cv2.CAP_PROP_GAIN}
EXPOSURE_BY_HAND = {"V4L2": 1.0, "MSMF": 0.0, "DSHOW": 0.0}
"""What ``CAP_PROP_AUTO_EXPOSURE`` is set to for an exposure by hand, by the system's interface to its cameras.

V4L2 takes the number of its own menu (1: V4L2_EXPOSURE_MANUAL), both of Windows anything but 0 for "automatic"; that of
macOS has no such setting. Source: modules/videoio/src/cap_v4l.cpp, cap_msmf.cpp and cap_dshow.cpp of OpenCV 4.10.
"""
_GREY_FORMATS = ("GREY", "Y8", "Y1")
"""How the four letters of pixel formats without colour begin: 8 bits (GREY, Y800, Y8), and 10 to 16 (Y10, Y16)."""
KINDS = ("GREY", "YUYV", "MJPG")
"""Pixel formats that may be asked for: grey, colour as it is, and colour compressed as JPEG."""
RESOLUTIONS = ((640, 480), (1280, 720), (1280, 960), (1600, 1200), (1920, 1080), (2592, 1944), (3840, 2160))


class Capture(QObject):
    """One source of frames while it is in use.

    ``opened()``: frames come from now on. ``lost(kind)``: none come any more; kind is "unopened", "lost" (a camera) or
    "ended" (a video file). ``taken(Averaged)`` and ``not_taken(RefusalError)`` answer ``take``.
    All are sent from the reading thread and arrive in that of whoever listens.
    """

    opened = Signal()
    lost = Signal(str)
    taken = Signal(object)
    not_taken = Signal(object)

    def __init__(
        self,
        source: int | str,
        size: tuple[int, int] | None = None,
        parent: QObject | None = None,
        kind: str = "",
    ) -> None:
        """``source``: the number of a camera, or the path of a video file. ``size``: width and height asked for.

        ``kind``: the pixel format asked for, four letters as in ``KINDS``; "": as the camera has it.
        """
        super().__init__(parent)
        self.source = source
        self._size, self._kind = size, kind
        self._lock = threading.Lock()
        self._newest: Frame | None = None
        self._number, self._settled = 0, 0
        self._settings: tuple[Setting, ...] = ()
        self._wishes: list[tuple[int, float]] = []
        self._averaging: Averaging | None = None
        self._over = self._ended = False
        self._stop = threading.Event()
        self._run_on = threading.Event()
        self._run_on.set()
        self._thread = threading.Thread(target=self._read, name="flankwise-frames", daemon=True)

    # --- from the interface

    def start(self) -> None:
        """Begin to read."""
        self._thread.start()

    def stop(self, wait_s: float = 0.0) -> None:
        """End for good; the camera is free again soon after. Wait for that no longer than ``wait_s`` seconds."""
        self._stop.set()
        self._run_on.set()
        if wait_s and self._thread.is_alive():
            self._thread.join(wait_s)
        with self._lock:
            self._newest = self._averaging = None
            ended = self._ended
        if ended:
            self.deleteLater()

    def pause(self, on: bool) -> None:
        """Let frames stand still, or go on. A video file stops where it is."""
        if on:
            self._run_on.clear()
        else:
            self._run_on.set()

    @property
    def paused(self) -> bool:
        return not self._run_on.is_set()

    def newest(self, after: int = 0) -> tuple[int, Frame] | None:
        """The newest frame and its number, if there is one with a number above ``after``."""
        with self._lock:
            return (self._number, self._newest) if self._newest is not None and self._number > after else None

    def take(self, frames: int) -> None:
        """Average the next ``frames`` frames; answered by ``taken`` or ``not_taken``. One standing still is taken."""
        averaging = Averaging(frames)
        with self._lock:
            still = self._newest if self.paused or self._over else None
            if still is None:
                self._averaging = averaging
        if still is not None:
            threading.Thread(target=self._take_still, args=(averaging, still), daemon=True).start()

    def _take_still(self, averaging: Averaging, still: Frame) -> None:
        averaging.add(still)
        self._say(self.taken, averaging.mean())

    @property
    def share(self) -> float | None:
        """How much of the picture that is being taken is there; None where none is."""
        averaging = self._averaging
        return None if averaging is None else averaging.share

    @property
    def settings(self) -> tuple[Setting, ...]:
        """What the driver lets be set."""
        return self._settings

    def set(self, name: str, value: float) -> None:
        """Ask the driver for another value of a setting."""
        with self._lock:
            self._wishes.append((SETTINGS[name], value))

    # --- the thread

    def _read(self) -> None:
        with quiet():
            capture = self._open()
            try:
                if capture is None or not capture.isOpened():
                    self._say(self.lost, "unopened")
                    return
                if not isinstance(self.source, str):
                    known = {name: capture.get(number) for name, number in SETTINGS.items()}
                    self._settings = tuple(Setting(*each) for each in known.items() if each[1] not in (-1.0, 0.0))
                self._say(self.opened)
                self._frames(capture)
            finally:
                if capture is not None:
                    capture.release()
                self._end()

    def _end(self) -> None:
        """Go once the last signal is sent and nobody wants the last frame: whoever listens holds this object."""
        with self._lock:
            self._ended = True
            unwanted = self._stop.is_set()
        if unwanted:
            with suppress(RuntimeError):  # the window is gone
                self.deleteLater()

    def _open(self) -> Any:
        capture = cv2.VideoCapture(self.source)
        if isinstance(self.source, str) or not capture.isOpened():
            return capture
        if self._kind:  # before the size, which may not be had in another one
            capture.set(cv2.CAP_PROP_FOURCC, int.from_bytes(self._kind.encode("ascii"), "little"))
        if self._size is not None:
            capture.set(cv2.CAP_PROP_FRAME_WIDTH, self._size[0])
            capture.set(cv2.CAP_PROP_FRAME_HEIGHT, self._size[1])
        capture.set(cv2.CAP_PROP_BUFFERSIZE, 1)
        return capture

    def _frames(self, capture: Any) -> None:
        is_file = isinstance(self.source, str)
        rate = capture.get(cv2.CAP_PROP_FPS) if is_file else 0.0
        step = 1 / (rate if 1 <= rate <= 240 else _NO_RATE)
        failed = 0
        grey = _without_colour(capture)
        due = time.monotonic()
        while not self._stop.is_set():
            if self.paused:
                if is_file:
                    self._run_on.wait(_WAIT_S)
                    due = time.monotonic()
                    continue
                if not capture.grab():  # a camera's frames do not grow old meanwhile
                    self._stop.wait(_WAIT_S)
                continue
            self._grant(capture)
            good, frame = capture.read()
            if not good or frame is None:
                failed += 1
                if is_file or failed >= _FAILED_READS:
                    self._give_up(capture, is_file)
                    return
                self._stop.wait(_WAIT_S)
                continue
            failed = 0
            levels = np.asarray(frame, np.uint8)
            self._show(levels[:, :, 0].copy() if grey and levels.ndim == 3 else levels, warming_up=not is_file)
            if is_file:
                due = max(due + step, time.monotonic() - step)
                self._stop.wait(max(due - time.monotonic(), 0.0))

    def _grant(self, capture: Any) -> None:
        with self._lock:
            wishes, self._wishes = self._wishes, []
        for number, value in wishes:
            by_hand = EXPOSURE_BY_HAND.get(_interface(capture))
            if number == cv2.CAP_PROP_EXPOSURE and by_hand is not None:
                capture.set(cv2.CAP_PROP_AUTO_EXPOSURE, by_hand)
            capture.set(number, value)
            self._settled = self._number + WARMING_UP

    def _show(self, frame: Frame, *, warming_up: bool) -> None:
        frame.setflags(write=False)
        with self._lock:
            if self.paused:
                return
            self._newest, self._number = frame, self._number + 1
            averaging = self._averaging
        if averaging is None or (warming_up and self._number <= max(WARMING_UP, self._settled)):
            return
        averaging.add(frame)
        if averaging.complete:
            self._finish(averaging)

    def _give_up(self, capture: Any, is_file: bool) -> None:
        with self._lock:  # what is asked for from now on gets the last frame
            self._over = True
            averaging, last = self._averaging, self._newest
        if averaging is not None:
            if is_file and last is not None and averaging.share == 0:  # asked for after the last frame was read
                averaging.add(last)
            self._finish(averaging)
        capture.release()
        self._say(self.lost, "ended" if is_file and self._number else "unopened" if is_file else "lost")

    def _finish(self, averaging: Averaging) -> None:
        with self._lock:
            self._averaging = None
        try:
            mean: Averaged = averaging.mean()
        except RefusalError as refusal:
            self._say(self.not_taken, refusal)
            return
        self._say(self.taken, mean)

    def _say(self, signal: Any, *what: object) -> None:
        if self._stop.is_set():
            return
        try:
            signal.emit(*what)
        except RuntimeError:
            return  # the window is gone


def _interface(capture: Any) -> str:
    """The name that OpenCV has for the system's interface to the camera."""
    try:
        return str(capture.getBackendName())
    except cv2.error:  # it is closed
        return ""


def _without_colour(capture: Any) -> bool:
    """Whether the frames come in a pixel format that has no colour."""
    for number in (cv2.CAP_PROP_CODEC_PIXEL_FORMAT, cv2.CAP_PROP_FOURCC):  # the first is 0 or less for a camera
        code = int(capture.get(number))
        if code > 0:
            return code.to_bytes(8, "little")[:4].decode("ascii", "replace").startswith(_GREY_FORMATS)
    return False
