"""New colours or another size of text for a window that is open: what is seen first, the rest in turns.

A style sheet of the whole application dresses every widget there is in one go, which takes ten times as long as anybody
waits for without noticing. Each part of the window wears the sheet for itself instead.
"""

from __future__ import annotations

from collections.abc import Callable, Generator, Mapping

from PySide6.QtCore import QObject, QTimer
from PySide6.QtWidgets import QApplication, QWidget

from gui.sheet import style_sheet
from gui.theme import theme


class Wardrobe(QObject):
    """Dresses ``parts`` of ``window``, each with what is to be done once it wears the colours of the theme in force."""

    def __init__(self, window: QWidget, parts: Mapping[QWidget, Callable[[], None]]) -> None:
        super().__init__(window)
        self._window, self._parts = window, dict(parts)
        self._turns: Generator[None, None, None] | None = None
        self._soon = QTimer(self)
        self._soon.setInterval(0)
        self._soon.timeout.connect(self._next)
        self.dress_at_once()

    def dress(self) -> None:
        """Dress what is seen in a few turns, and paint it once; then the rest."""
        if self._turns is not None:
            self._turns.close()
        self._turns = self._in_turns()
        self._next()
        self._soon.start()

    def dress_at_once(self) -> None:
        """Before the window is shown nobody waits."""
        for part in self._parts:
            self._undress(part)
            self._dress(part)

    def _next(self) -> None:
        if self._turns is None or next(self._turns, self) is self:
            self._turns = None
            self._soon.stop()

    def _in_turns(self) -> Generator[None, None, None]:
        seen = sorted((p for p in self._parts if p.isVisible()), key=lambda p: p.width() * p.height())
        self._window.setUpdatesEnabled(False)
        try:
            yield
            if seen:
                large = seen.pop()
                self._undress(large)
                yield
                self._dress(large)
                yield
            for part in seen:
                self._undress(part)
                self._dress(part)
            yield
        finally:
            self._window.setUpdatesEnabled(True)
        for part in self._parts:
            yield
            self._undress(part)
            self._dress(part)

    def _undress(self, part: QWidget) -> None:
        if part.styleSheet() != self._sheet():
            part.setStyleSheet("")  # from one sheet to another every widget is dressed as often as it has ancestors

    def _dress(self, part: QWidget) -> None:
        if not part.styleSheet():
            part.setStyleSheet(self._sheet())
            self._parts[part]()

    def _sheet(self) -> str:
        return style_sheet(theme(), QApplication.font().pointSizeF())
