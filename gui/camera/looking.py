"""Looking at live frames in a worker of its own: one at a time, the newest, none queued up."""

from __future__ import annotations

import time
from collections.abc import Callable
from concurrent.futures import ThreadPoolExecutor
from typing import Any

from PySide6.QtCore import QObject, Signal

from vision.pictures.live_frame import Frame


class Looking(QObject):
    """``seen(what look returned)`` answers the frames that were accepted."""

    seen = Signal(object)
    _ended = Signal(object, object, object)

    def __init__(self, defect: Callable[[Exception], None], least_s: float, parent: QObject | None = None) -> None:
        """``least_s``: from one frame that is looked at to the next, at least."""
        super().__init__(parent)
        self._defect, self._least_s = defect, least_s
        self._pool = ThreadPoolExecutor(1, thread_name_prefix="flankwise-look")
        self._busy = False
        self._last = 0.0
        self._ended.connect(self._hand_over)

    def offer(self, look: Callable[[Frame], Any], frame: Frame) -> bool:
        """``look`` at ``frame`` unless another is being looked at or was a moment ago; whether it is."""
        if self._busy or time.monotonic() - self._last < self._least_s:
            return False
        self._busy, self._last = True, time.monotonic()
        self._pool.submit(self._look, look, frame)
        return True

    def close(self) -> None:
        """Look no more."""
        self._pool.shutdown(wait=False, cancel_futures=True)

    def _look(self, look: Callable[[Frame], Any], frame: Frame) -> None:
        found, error = None, None
        try:
            found = look(frame)
        except Exception as caught:  # noqa: BLE001 - told of as a defect in the interface's thread
            error = caught
        try:
            self._ended.emit(look, found, error)
        except RuntimeError:
            return  # the window is gone

    def _hand_over(self, look: Callable[[Frame], Any], found: Any, error: Exception | None) -> None:
        self._busy = False
        if error is not None:
            self._defect(error)
        else:
            self.seen.emit((look, found))
