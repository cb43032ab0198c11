"""What is read seldom: a line that says what there is, and below it the whole once the line is clicked."""

from __future__ import annotations

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QToolButton, QVBoxLayout, QWidget


class Disclosure(QWidget):
    """``inside`` is hidden until ``button`` is checked."""

    def __init__(self, words: str, inside: QWidget, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.button = QToolButton()
        self.button.setText(words)
        self.button.setCheckable(True)
        self.button.setAutoRaise(True)
        self.button.setArrowType(Qt.ArrowType.RightArrow)
        self.button.setToolButtonStyle(Qt.ToolButtonStyle.ToolButtonTextBesideIcon)
        self.button.setAccessibleName(words)
        self.inside = inside
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(4)
        column.addWidget(self.button)
        column.addWidget(inside)
        inside.hide()
        self.button.toggled.connect(self._toggled)

    def _toggled(self, shown: bool) -> None:
        self.button.setArrowType(Qt.ArrowType.DownArrow if shown else Qt.ArrowType.RightArrow)
        self.inside.setVisible(shown)
