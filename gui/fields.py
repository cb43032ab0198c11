"""One line to type into, with room for the example that stands in it."""

from __future__ import annotations

from PySide6.QtCore import QSize
from PySide6.QtWidgets import QLineEdit

AROUND = 26  # the frame and its padding, px


class ExampleField(QLineEdit):
    """Never narrower than its example, whatever the size of the text."""

    def minimumSizeHint(self) -> QSize:
        wide = self.fontMetrics().horizontalAdvance(self.placeholderText()) + AROUND
        return QSize(wide, super().minimumSizeHint().height())
