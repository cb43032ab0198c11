"""Borders between views that can be drawn, kept from one day to the next."""

from __future__ import annotations

from PySide6.QtCore import Qt
from PySide6.QtGui import QColor, QPainter, QPaintEvent
from PySide6.QtWidgets import QSplitter, QSplitterHandle, QWidget

from gui.settings import Settings
from gui.theme import theme

_WIDE = 3  # px


class Splitter(QSplitter):
    """Views side by side, or one above the other, with a thin line between them. ``name``: by which it is kept."""

    def __init__(self, orientation: Qt.Orientation, name: str) -> None:
        super().__init__(orientation)
        self.setObjectName(name)
        self.setHandleWidth(_WIDE)

    def createHandle(self) -> QSplitterHandle:
        return _Border(self.orientation(), self)


class _Border(QSplitterHandle):
    def paintEvent(self, event: QPaintEvent) -> None:
        QPainter(self).fillRect(event.rect(), QColor(theme().line))


def restore_splitters(window: QWidget, settings: Settings) -> None:
    """Put every splitter of ``window`` where it was left."""
    for splitter in window.findChildren(Splitter):
        state = settings.state(_key(splitter))
        if not state.isEmpty():
            splitter.restoreState(state)


def keep_splitters(window: QWidget, settings: Settings) -> None:
    """Keep where they are."""
    for splitter in window.findChildren(Splitter):
        settings.set_state(_key(splitter), splitter.saveState())


def _key(splitter: QSplitter) -> str:
    return f"splitters/{splitter.objectName()}"
