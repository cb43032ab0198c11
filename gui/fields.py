"""One line to type into, with room for the example that stands in it."""

from __future__ import annotations

from PySide6.QtCore import QSize
from PySide6.QtWidgets import QLineEdit

AROUND = 26  # the frame and its padding, px


class ExampleField(QLineEdit):
    """Never narrower than its example, or than so many ``letters``, whatever the size of the text."""

    def __init__(self, letters: int | None = None) -> None:
        super().__init__()
        self._letters = letters

    def minimumSizeHint(self) -> QSize:
        metrics = self.fontMetrics()
        example = metrics.horizontalAdvance(self.placeholderText())
        wide = AROUND + (example if self._letters is None else self._letters * metrics.averageCharWidth())
        return QSize(wide, super().minimumSizeHint().height())
