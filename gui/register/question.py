"""A plain choice, asked where the person is typing; nothing else has to wait for the answer."""

from __future__ import annotations

from collections.abc import Callable

from PySide6.QtWidgets import QHBoxLayout, QLabel, QPushButton, QSizePolicy, QWidget

Choice = tuple[str, Callable[[], None]]


class Question(QWidget):
    """One question after the other, each with two answers and the way out."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._waiting: list[tuple[str, Choice, Choice]] = []
        self.text = QLabel()
        self.text.setWordWrap(True)
        self.text.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Preferred)
        self.first, self.second = QPushButton(), QPushButton()
        self.neither = QPushButton(self.tr("Do not file it"))
        self.neither.setProperty("flat", True)
        row = QHBoxLayout(self)
        row.setContentsMargins(0, 0, 0, 0)
        row.addWidget(self.text, 1)
        for number, button in enumerate((self.first, self.second, self.neither)):
            row.addWidget(button)
            button.clicked.connect(lambda *_, number=number: self._answered(number))
        self.hide()

    def ask(self, text: str, first: Choice, second: Choice) -> None:
        """Ask ``text``; the choices are words and what is done then."""
        self._waiting.append((text, first, second))
        if len(self._waiting) == 1:
            self._show()

    @property
    def open(self) -> int:
        """How many questions wait for an answer."""
        return len(self._waiting)

    def _show(self) -> None:
        if not self._waiting:
            self.hide()
            return
        text, first, second = self._waiting[0]
        self.text.setText(text)
        self.first.setText(first[0])
        self.second.setText(second[0])
        self.setAccessibleName(text)
        self.show()

    def _answered(self, number: int) -> None:
        _, *choices = self._waiting.pop(0)
        self._show()
        if number < len(choices):
            choices[number][1]()
