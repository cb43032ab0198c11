"""The question that is asked before the window closes while pictures are not on file."""

from __future__ import annotations

from collections.abc import Callable

from PySide6.QtWidgets import QFrame, QVBoxLayout, QWidget

from gui.register.question import Question


class Leaving(QFrame):
    """A line over the places; nothing else has to wait for the answer."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.setProperty("notice", True)
        self.setProperty("weight", "warning")
        self.question = Question(self.tr("Stay"))
        column = QVBoxLayout(self)
        column.setContentsMargins(14, 8, 8, 8)
        column.addWidget(self.question)
        self.hide()

    def ask(self, left: int, leave: Callable[..., None]) -> None:
        """Ask what becomes of so many pictures; ``leave(keep=...)`` is called where the person leaves."""
        self.question.keep(set())
        text = (
            self.tr("One picture in the tray is not on file.")
            if left == 1
            else self.tr("{count} pictures in the tray are not on file.").format(count=left)
        )
        keep = (self.tr("Keep for next time"), lambda: leave(keep=True))
        forget = (self.tr("Quit without them"), lambda: leave(keep=False))
        self.question.ask(1, text, (keep, forget), self.hide)
        self.show()
        self.question.first.setFocus()
