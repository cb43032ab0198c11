"""Fields of Fit: for the class of a thread, completed from the tables as one types, and for short entries."""

from __future__ import annotations

from collections.abc import Sequence

from PySide6.QtCore import QSize, Qt
from PySide6.QtGui import QFont
from PySide6.QtWidgets import QCompleter, QLineEdit, QSizePolicy, QWidget

from gui.fields import AROUND, ExampleField

_OFFERED = 12


class ClassField(ExampleField):
    """One line; what is wrong is framed until it is changed."""

    def __init__(self, name: str, example: str) -> None:
        super().__init__()
        self.setAccessibleName(name)
        self.setPlaceholderText(example)
        self.setClearButtonEnabled(True)
        self.textEdited.connect(lambda _: self.set_wrong(False))

    def offer(self, names: Sequence[str]) -> None:
        """Complete from ``names``."""
        completer = QCompleter(list(names), self)
        completer.setCaseSensitivity(Qt.CaseSensitivity.CaseInsensitive)
        completer.setFilterMode(Qt.MatchFlag.MatchStartsWith)
        completer.setMaxVisibleItems(_OFFERED)
        self.setCompleter(completer)

    def set_wrong(self, wrong: bool) -> None:
        """Frame what no table has."""
        if bool(self.property("wrong")) != wrong:
            self.setProperty("wrong", wrong)
            self.style().unpolish(self)
            self.style().polish(self)


class ShortField(QLineEdit):
    """One line as wide as ``longest`` needs, whatever the size of the text."""

    def __init__(self, longest: str, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._longest = longest
        self.setSizePolicy(QSizePolicy.Policy.Fixed, QSizePolicy.Policy.Fixed)

    def sizeHint(self) -> QSize:
        return QSize(self.fontMetrics().horizontalAdvance(self._longest) + AROUND, super().sizeHint().height())

    def minimumSizeHint(self) -> QSize:
        return self.sizeHint()


def tabular(widget: QWidget) -> None:
    """Give ``widget`` figures of one width and leave the size of its text to the window."""
    font = QFont()
    font.setFeature(QFont.Tag("tnum"), 1)
    widget.setFont(font)
