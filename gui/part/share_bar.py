"""A share of the whole as a length, with its number beside it."""

from __future__ import annotations

from PySide6.QtCore import QRectF, QSize
from PySide6.QtGui import QColor, QPainter, QPaintEvent
from PySide6.QtWidgets import QSizePolicy, QWidget

from gui.theme import theme


class ShareBar(QWidget):
    """A length from 0 to 1."""

    def __init__(self, share: float, words: str, parent: QWidget | None = None) -> None:
        """``words`` say the share to a screen reader."""
        super().__init__(parent)
        self._share = min(max(share, 0.0), 1.0)
        self.setAccessibleName(words)
        self.setToolTip(words)
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Fixed)

    def sizeHint(self) -> QSize:
        return QSize(90, 14)

    def paintEvent(self, event: QPaintEvent) -> None:  # noqa: ARG002
        now = theme()
        painter = QPainter(self)
        width, height = float(self.width()), float(self.height())
        painter.fillRect(QRectF(0, 0.3 * height, width, 0.4 * height), QColor(now.line))
        painter.fillRect(QRectF(0, 0.1 * height, max(self._share * width, 2.0), 0.8 * height), QColor(now.accent))
