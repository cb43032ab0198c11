"""A folder into which another program drops pictures: each is told of as soon as it is whole, the older first.

It is looked at in a worker: a share on the network may take seconds to answer, and the window does not wait for it.
"""

from __future__ import annotations

import threading
import time
from collections.abc import Callable
from contextlib import suppress
from pathlib import Path

from PySide6.QtCore import QFileSystemWatcher, QObject, QTimer, Signal

POLL_MS = 400
FIRST_S = 0.3
"""So long the first look is waited for: what came before it was there already. A disk of this machine takes less."""
SLOW_S = 2.0
"""A look that takes longer is said."""
ENDINGS = frozenset({".png", ".jpg", ".jpeg", ".tif", ".tiff", ".bmp"})
_Stamp = tuple[int, int]
_Stamps = dict[Path, _Stamp]


class WatchedFolder(QObject):
    """``arrived(path)``: a new picture lies there whole. ``gone()``: the folder can no longer be read.

    ``slow(seconds)``: it takes that long to answer; said once. A file is whole when its size and time stayed the same
    from one look to the next and it can be opened. What lay there before is left alone.
    """

    arrived = Signal(str)
    gone = Signal()
    slow = Signal(float)
    _looked = Signal(object, object, float)

    def __init__(self, folder: str, parent: QObject | None = None, poll_ms: int = POLL_MS) -> None:
        super().__init__(parent)
        self.folder = folder
        self._known: _Stamps | None = None
        self._waiting: _Stamps = {}
        self._told_slow = self._over = False
        self._looked.connect(self._take_in)
        self._watcher: QFileSystemWatcher | None = None
        first: list[_Stamps | None] = []
        self._looking = _begun(lambda: first.append(stamps_of(folder)))
        self._looking.join(FIRST_S)
        if first:
            self._known = first[0] or {}
            # the watcher is quick, the poll is sure: network drives send nothing
            self._watcher = QFileSystemWatcher([folder] if first[0] is not None else [], self)
            self._watcher.directoryChanged.connect(lambda _: self.look())
        self._timer = QTimer(self)
        self._timer.setInterval(poll_ms)
        self._timer.timeout.connect(self.look)
        self._timer.start()

    def stop(self) -> None:
        """Watch no longer."""
        self._over = True
        self._timer.stop()
        if self._watcher is not None:
            self._watcher.removePaths(self._watcher.directories())

    def look(self) -> None:
        """Look at the folder now, unless it is being looked at."""
        if not self._over and not self._looking.is_alive():
            self._looking = _begun(self._look)

    def _look(self) -> None:
        began = time.monotonic()
        stamps = stamps_of(self.folder)
        ready = {path for path, stamp in (stamps or {}).items() if self._waiting.get(path) == stamp and _opens(path)}
        with suppress(RuntimeError):  # the window is gone
            self._looked.emit(stamps, ready, time.monotonic() - began)

    def _take_in(self, stamps: _Stamps | None, ready: set[Path], took_s: float) -> None:
        if self._over:
            return
        if stamps is None:
            self.stop()
            self.gone.emit()
            return
        if took_s > SLOW_S and not self._told_slow:
            self._told_slow = True
            self.slow.emit(took_s)
        if self._known is None:
            self._known = stamps
            return
        whole = []
        for path, stamp in stamps.items():
            if self._known.get(path) == stamp:
                continue
            if path in ready and self._waiting.get(path) == stamp and stamp[0] > 0:
                whole.append(path)
                self._known[path] = stamp
                self._waiting.pop(path, None)
            else:
                self._waiting[path] = stamp
        for path in sorted(whole, key=lambda path: (stamps[path][1], path.name)):
            self.arrived.emit(str(path))


def _begun(do: Callable[[], object]) -> threading.Thread:
    """Done in a thread that keeps nobody from leaving, however long the folder takes."""
    thread = threading.Thread(target=do, name="flankwise-folder", daemon=True)
    thread.start()
    return thread


def stamps_of(folder: str) -> _Stamps | None:
    """Size and time of every picture in the folder; None where it cannot be read."""
    found = {}
    try:
        for path in Path(folder).iterdir():
            if path.suffix.lower() in ENDINGS and not path.name.startswith("."):
                state = path.stat()
                found[path] = (state.st_size, state.st_mtime_ns)
    except FileNotFoundError:
        return found if Path(folder).is_dir() else None
    except OSError:
        return None
    return found


def _opens(path: Path) -> bool:
    try:
        with path.open("rb") as file:
            return bool(file.read(1))
    except OSError:
        return False
