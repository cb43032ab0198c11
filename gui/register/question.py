"""A plain choice, asked where the person is typing; nothing else has to wait for the answer."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass

from PySide6.QtWidgets import QHBoxLayout, QLabel, QPushButton, QSizePolicy, QWidget

Choice = tuple[str, Callable[[], None]]


@dataclass(frozen=True)
class _Asked:
    about: int
    text: str
    choices: tuple[Choice, ...]
    neither: Callable[[], None]


class Question(QWidget):
    """One question after the other, each with one or two answers and the way out, which says ``neither``."""

    def __init__(self, neither: str = "", parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._waiting: list[_Asked] = []
        self.text = QLabel()
        self.text.setWordWrap(True)
        self.text.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Preferred)
        self.first, self.second = QPushButton(), QPushButton()
        self.neither = QPushButton(neither or self.tr("Do not file it"))
        self.neither.setProperty("flat", True)
        row = QHBoxLayout(self)
        row.setContentsMargins(0, 0, 0, 0)
        row.addWidget(self.text, 1)
        for number, button in enumerate((self.first, self.second, self.neither)):
            row.addWidget(button)
            button.clicked.connect(lambda *_, number=number: self._answered(number))
        self.hide()

    def ask(self, about: int, text: str, choices: Sequence[Choice], neither: Callable[[], None]) -> None:
        """Ask ``text`` about the card of that number; the choices are words and what is done then."""
        self._waiting.append(_Asked(about, text, tuple(choices), neither))
        if len(self._waiting) == 1:
            self._show()

    def keep(self, numbers: set[int]) -> None:
        """Drop what was asked about cards of other numbers."""
        if any(one.about not in numbers for one in self._waiting):
            self._waiting = [one for one in self._waiting if one.about in numbers]
            self._show()

    @property
    def open(self) -> int:
        """How many questions wait for an answer."""
        return len(self._waiting)

    def _show(self) -> None:
        if not self._waiting:
            self.hide()
            return
        now = self._waiting[0]
        self.text.setText(now.text)
        for button, choice in zip((self.first, self.second), (*now.choices, None, None), strict=False):
            button.setText("" if choice is None else choice[0])
            button.setVisible(choice is not None)
        self.setAccessibleName(now.text)
        self.show()

    def _answered(self, number: int) -> None:
        now = self._waiting.pop(0)
        self._show()
        (now.choices[number][1] if number < len(now.choices) else now.neither)()
