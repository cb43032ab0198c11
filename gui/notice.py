"""A sentence to the person, shown in the window: nothing has to be dismissed before work goes on."""

from __future__ import annotations

from PySide6.QtCore import QPoint, Qt, QTimer, QUrl
from PySide6.QtGui import QCursor, QDesktopServices
from PySide6.QtWidgets import QFrame, QHBoxLayout, QLabel, QPushButton, QWidget

SECONDS, STILL_SECONDS = 12.0, 2.0
"""So long a mere note stays, and then until the pointer has rested so long: what is below it moves when it goes, and
nobody shall press something else than they meant. Warnings and refusals stay until something new is said or they are
closed."""


class Notice(QFrame):
    """The newest sentence, its weight as a stripe and a word."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.setProperty("notice", True)
        self.setAccessibleName(self.tr("Message"))
        self._path = ""
        self._weight = QLabel()
        self._text = QLabel()
        self._text.setWordWrap(True)
        self._text.setTextInteractionFlags(Qt.TextInteractionFlag.TextSelectableByMouse)
        self.open = QPushButton(self.tr("Open it"))
        self.open.setProperty("flat", True)
        self.open.clicked.connect(lambda: QDesktopServices.openUrl(QUrl.fromLocalFile(self._path)))
        close = QPushButton(self.tr("Close"))
        close.setProperty("flat", True)
        close.setAccessibleName(self.tr("Close the message"))
        close.clicked.connect(self.hide)
        row = QHBoxLayout(self)
        row.setContentsMargins(14, 8, 8, 8)
        row.addWidget(self._weight)
        row.addWidget(self._text, 1)
        row.addWidget(self.open)
        row.addWidget(close)
        self._timer = QTimer(self)
        self._timer.setSingleShot(True)
        self._timer.timeout.connect(self._go)
        self._pointer: QPoint | None = None
        self.hide()

    @property
    def text(self) -> str:
        """What is being said; "" where nothing is."""
        return "" if self.isHidden() else self._text.text()

    def _go(self) -> None:
        before, self._pointer = self._pointer, QCursor.pos()
        if self._pointer == before:
            self.hide()
        else:
            self._timer.start(int(1000 * STILL_SECONDS))

    def offer(self, path: str) -> None:
        """What was just said is about the file or folder ``path``: it can be opened from here."""
        self._path = path
        self.open.setToolTip(path)
        self.open.show()

    def say(self, weight: str, text: str) -> None:
        """Show ``text``. ``weight`` is "note", "warning" or "refusal"."""
        words = {"warning": self.tr("Warning"), "refusal": self.tr("Refused")}
        self.setProperty("weight", weight)
        self.style().unpolish(self)
        self.style().polish(self)
        self._weight.setText(words.get(weight, ""))
        self._weight.setVisible(weight in words)
        self._text.setText(text)
        self.open.hide()
        self.setAccessibleDescription(text)
        self.show()
        self._timer.stop()
        if weight == "note":
            self._timer.start(int(1000 * SECONDS))
