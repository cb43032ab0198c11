"""A label that gives way: what does not fit is cut with an ellipsis and shown in full as a tip."""

from __future__ import annotations

from PySide6.QtCore import QSize, Qt
from PySide6.QtGui import QPainter, QPaintEvent, QResizeEvent
from PySide6.QtWidgets import QLabel, QStyleOption

_LETTERS = 14  # which are in view at least


class ElidedLabel(QLabel):
    """One line of plain text that never makes the window wider."""

    def minimumSizeHint(self) -> QSize:
        some = _LETTERS * self.fontMetrics().averageCharWidth()
        return QSize(min(some, self.sizeHint().width()), super().minimumSizeHint().height())

    def sizeHint(self) -> QSize:
        return QSize(self.fontMetrics().horizontalAdvance(self.text()) + 4, super().sizeHint().height())

    def setText(self, text: str) -> None:
        super().setText(text)
        self._tip()
        self.updateGeometry()

    def resizeEvent(self, event: QResizeEvent) -> None:
        super().resizeEvent(event)
        self._tip()

    def _tip(self) -> None:
        whole = self.fontMetrics().horizontalAdvance(self.text()) <= self.width()
        self.setToolTip("" if whole else self.text())

    def paintEvent(self, event: QPaintEvent) -> None:  # noqa: ARG002
        painter = QPainter(self)
        option = QStyleOption()
        option.initFrom(self)
        text = self.fontMetrics().elidedText(self.text(), Qt.TextElideMode.ElideMiddle, self.width())
        self.style().drawItemText(
            painter, self.rect(), int(self.alignment()), option.palette, self.isEnabled(), text, self.foregroundRole()
        )
