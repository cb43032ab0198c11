"""Bundles of other workshops that are opened in the window: nothing is filed before the person has said so."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

from PySide6.QtWidgets import QFrame, QVBoxLayout, QWidget

from gui.register.question import Question

ENDING = ".flankwise"


def is_bundle(path: str) -> bool:
    """Whether the file is a bundle by its name."""
    return path.lower().endswith(ENDING)


class Bundles(QFrame):
    """A line over the places, with one question after the other; ``take_in`` is called with each bundle agreed to."""

    def __init__(self, take_in: Callable[[Path], None], parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.setProperty("notice", True)
        self.setProperty("weight", "note")
        self._take_in = take_in
        self.question = Question(self.tr("Not now"))
        column = QVBoxLayout(self)
        column.setContentsMargins(14, 8, 8, 8)
        column.addWidget(self.question)
        self.hide()

    def offer(self, path: str) -> None:
        """Ask whether what is in ``path`` shall be filed."""
        text = self.tr("{name} holds parts of another register. File them in yours?").format(name=Path(path).name)

        def agreed() -> None:
            self._take_in(Path(path))
            self._next()

        self.question.ask(0, text, ((self.tr("File them"), agreed),), self._next)
        self.show()
        self.question.first.setFocus()

    def _next(self) -> None:
        self.setVisible(bool(self.question.open))
