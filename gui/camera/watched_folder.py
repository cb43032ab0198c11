"""A folder into which another program drops pictures: each is told of as soon as it is whole, the older first."""

from __future__ import annotations

from pathlib import Path

from PySide6.QtCore import QFileSystemWatcher, QObject, QTimer, Signal

POLL_MS = 400
ENDINGS = frozenset({".png", ".jpg", ".jpeg", ".tif", ".tiff", ".bmp"})
_Stamp = tuple[int, int]


class WatchedFolder(QObject):
    """``arrived(path)``: a new picture lies there whole. ``gone()``: the folder can no longer be read.

    A file is whole when its size and time stayed the same from one look to the next and it can be opened. What lay
    there before is left alone.
    """

    arrived = Signal(str)
    gone = Signal()

    def __init__(self, folder: str, parent: QObject | None = None, poll_ms: int = POLL_MS) -> None:
        super().__init__(parent)
        self.folder = folder
        self._known = self._stamps() or {}
        self._waiting: dict[Path, _Stamp] = {}
        # the watcher is quick, the poll is sure: network drives send nothing
        self._watcher = QFileSystemWatcher([folder] if Path(folder).is_dir() else [], self)
        self._watcher.directoryChanged.connect(lambda _: self.look())
        self._timer = QTimer(self)
        self._timer.setInterval(poll_ms)
        self._timer.timeout.connect(self.look)
        self._timer.start()

    def stop(self) -> None:
        """Watch no longer."""
        self._timer.stop()
        self._watcher.removePaths(self._watcher.directories())

    def look(self) -> None:
        """Look at the folder now."""
        stamps = self._stamps()
        if stamps is None:
            self.stop()
            self.gone.emit()
            return
        whole = []
        for path, stamp in stamps.items():
            if self._known.get(path) == stamp:
                continue
            if self._waiting.get(path) == stamp and stamp[0] > 0 and _opens(path):
                whole.append(path)
                self._known[path] = stamp
                self._waiting.pop(path, None)
            else:
                self._waiting[path] = stamp
        if whole:
            for path in sorted(whole, key=lambda path: (stamps[path][1], path.name)):
                self.arrived.emit(str(path))

    def _stamps(self) -> dict[Path, _Stamp] | None:
        found = {}
        try:
            for path in Path(self.folder).iterdir():
                if path.suffix.lower() in ENDINGS and not path.name.startswith("."):
                    state = path.stat()
                    found[path] = (state.st_size, state.st_mtime_ns)
        except FileNotFoundError:
            return found if Path(self.folder).is_dir() else None
        except OSError:
            return None
        return found


def _opens(path: Path) -> bool:
    try:
        with path.open("rb") as file:
            return bool(file.read(1))
    except OSError:
        return False
