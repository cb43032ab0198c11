"""Looking at live frames in a worker of its own: one at a time, the newest, none queued up."""

from __future__ import annotations

import time
from collections.abc import Callable
from concurrent.futures import ThreadPoolExecutor

from PySide6.QtCore import QObject, Signal

from vision.locate.live_detection import LiveDetection, detect_live
from vision.pictures.live_frame import Frame

LEAST_S = 0.15
"""Signs that change more often are not read."""


class Looking(QObject):
    """``seen(LiveDetection)`` answers the frames that were accepted."""

    seen = Signal(object)
    _ended = Signal(object, object)

    def __init__(self, defect: Callable[[Exception], None], parent: QObject | None = None) -> None:
        super().__init__(parent)
        self._defect = defect
        self._pool = ThreadPoolExecutor(1, thread_name_prefix="flankwise-look")
        self._busy = False
        self._last = 0.0
        self._ended.connect(self._hand_over)

    def offer(self, frame: Frame) -> bool:
        """Look at ``frame`` unless another is being looked at or was a moment ago; whether it is."""
        if self._busy or time.monotonic() - self._last < LEAST_S:
            return False
        self._busy, self._last = True, time.monotonic()
        self._pool.submit(self._look, frame)
        return True

    def close(self) -> None:
        """Look no more."""
        self._pool.shutdown(wait=False, cancel_futures=True)

    def _look(self, frame: Frame) -> None:
        look: LiveDetection | None = None
        error: Exception | None = None
        try:
            look = detect_live(frame)
        except Exception as caught:  # noqa: BLE001 - told of as a defect in the interface's thread
            error = caught
        try:
            self._ended.emit(look, error)
        except RuntimeError:
            return  # the window is gone

    def _hand_over(self, look: LiveDetection | None, error: Exception | None) -> None:
        self._busy = False
        if error is not None:
            self._defect(error)
        elif look is not None:
            self.seen.emit(look)
