"""New colours or another size of text for a window that is open: what is seen first, the rest in turns.

A style sheet of the whole application dresses every widget there is in one go, which takes ten times as long as anybody
waits for without noticing. Each part of the window wears the sheet for itself instead.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping

from PySide6.QtCore import QObject, QTimer
from PySide6.QtWidgets import QApplication, QWidget

from gui.sheet import style_sheet
from gui.theme import theme


class Wardrobe(QObject):
    """Dresses ``parts``, each with what is to be done once it wears the colours of the theme in force."""

    def __init__(self, parts: Mapping[QWidget, Callable[[], None]], parent: QObject | None = None) -> None:
        super().__init__(parent)
        self._parts = dict(parts)
        self._waiting: list[QWidget] = []
        self._turn = QTimer(self)
        self._turn.setSingleShot(True)
        self._turn.setInterval(0)
        self._turn.timeout.connect(self._next)

    def dress(self) -> None:
        """Dress the largest part that is seen now, the others when the interface has served what waits meanwhile."""
        self._waiting = sorted(self._parts, key=lambda part: (part.isVisible(), part.width() * part.height()))
        self._next()

    def dress_all(self) -> None:
        """Dress every part now, before the window is shown."""
        self._waiting = list(self._parts)
        while self._waiting:
            self._next()

    def _next(self) -> None:
        if not self._waiting:
            return
        part = self._waiting.pop()
        sheet = style_sheet(theme(), QApplication.font().pointSizeF())
        if part.styleSheet() != sheet:
            part.setStyleSheet("")  # from one sheet to another every widget is dressed as often as it has ancestors
            part.setStyleSheet(sheet)
            self._parts[part]()
        if self._waiting:
            self._turn.start()
