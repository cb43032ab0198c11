"""Notices what other programs file: the command line, or a second window."""

from __future__ import annotations

from PySide6.QtCore import QObject, QTimer

from gui.desk import Desk
from records.change_mark import Mark, change_mark

LOOK_EVERY_MS = 1000
"""What another program filed is shown within two seconds: one until it is seen, the other to read it."""


class RegisterWatch(QObject):
    """Says that the register has changed where this window has not done it."""

    def __init__(self, desk: Desk) -> None:
        super().__init__(desk)
        self._desk = desk
        self._file = desk.register_file
        self._mark: Mark | None = None
        self._timer = QTimer(self)
        self._timer.setInterval(LOOK_EVERY_MS)
        self._timer.timeout.connect(self.look)
        self._timer.start()
        desk.register_changed.connect(self._seen)
        self._seen()

    def _seen(self) -> None:
        """What there is now is known: whoever shows it has been told."""
        self._file, self._mark = self._desk.register_file, change_mark(self._desk.register_file)

    def look(self) -> None:
        """Look at the register now."""
        if self._desk.register_file != self._file or change_mark(self._desk.register_file) != self._mark:
            self._desk.register_changed.emit()
