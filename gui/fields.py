"""One line to type into, with room for the example that stands in it."""

from __future__ import annotations

from PySide6.QtCore import QSize, Qt
from PySide6.QtGui import QFocusEvent
from PySide6.QtWidgets import QLineEdit

AROUND = 26  # the frame and its padding, px


class ExampleField(QLineEdit):
    """Never narrower than its example, or than so many ``letters``, whatever the size of the text.

    A text that is longer shows its beginning while nobody types; with so many ``letters`` it is whole as a tip.
    """

    def __init__(self, letters: int | None = None) -> None:
        super().__init__()
        self._letters = letters

    def setText(self, text: str | None) -> None:
        super().setText(text)
        if not self.hasFocus():
            self._to_beginning()

    def _to_beginning(self) -> None:
        self.setCursorPosition(0)
        if self._letters is not None:
            cut = self.fontMetrics().horizontalAdvance(self.text()) > self.width() - AROUND
            self.setToolTip(self.text() if cut else "")

    def focusOutEvent(self, event: QFocusEvent) -> None:
        super().focusOutEvent(event)
        if event.reason() != Qt.FocusReason.PopupFocusReason:
            self._to_beginning()

    def minimumSizeHint(self) -> QSize:
        metrics = self.fontMetrics()
        example = metrics.horizontalAdvance(self.placeholderText())
        wide = AROUND + (example if self._letters is None else self._letters * metrics.averageCharWidth())
        return QSize(wide, super().minimumSizeHint().height())
