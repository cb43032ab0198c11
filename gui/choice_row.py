"""One of a few choices by one click: flat buttons beside each other, of which one is pressed."""

from __future__ import annotations

from collections.abc import Sequence

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QButtonGroup, QHBoxLayout, QPushButton, QWidget


class ChoiceRow(QWidget):
    """``activated()``: the person clicked on a choice; ``current`` is what stands behind its words."""

    activated = Signal()

    def __init__(self, choices: Sequence[tuple[str, str | None]], parent: QWidget | None = None) -> None:
        """``choices``: the words of each and what stands behind them; the first is pressed."""
        super().__init__(parent)
        self._values = [value for _, value in choices]
        self._group = QButtonGroup(self)
        row = QHBoxLayout(self)
        row.setContentsMargins(0, 0, 0, 0)
        row.setSpacing(0)
        for number, (words, _) in enumerate(choices):
            button = QPushButton(words)
            button.setProperty("flat", True)
            button.setCheckable(True)
            self._group.addButton(button, number)
            row.addWidget(button)
        row.addStretch(1)
        self.button(self._values[0]).setChecked(True)
        self._group.idClicked.connect(lambda _: self.activated.emit())

    def button(self, value: str | None) -> QPushButton:
        """The button of a choice."""
        found = self._group.button(self._values.index(value))
        assert isinstance(found, QPushButton)
        return found

    @property
    def current(self) -> str | None:
        """What stands behind the pressed button."""
        return self._values[self._group.checkedId()]

    def show_choice(self, value: str | None) -> None:
        """Press the button of ``value``; nothing is sent."""
        self.button(value).setChecked(True)
