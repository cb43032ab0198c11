"""The list of keys: everything that has one, as it stands in the menus."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from PySide6.QtGui import QAction, QKeySequence
from PySide6.QtWidgets import QFrame, QGridLayout, QHBoxLayout, QLabel, QPushButton, QVBoxLayout, QWidget

from gui.flow import Flow
from gui.scrolling import scrolling

_LETTERS = 22
"""Of what a key does, in a line at least."""


@dataclass(frozen=True)
class KeyGroup:
    """Keys that belong together: a heading, and (key, what it does) each."""

    heading: str
    keys: tuple[tuple[str, str], ...]


def keys_of(actions: Sequence[QAction]) -> tuple[tuple[str, str], ...]:
    """(key, what it does) of those ``actions`` that have one."""
    return tuple(
        (action.shortcut().toString(QKeySequence.SequenceFormat.NativeText), action.text().replace("&", ""))
        for action in actions
        if not action.shortcut().isEmpty()
    )


class KeyList(QFrame):
    """The keys beside each other in columns; shown over the place, closed by Esc or its button."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.setProperty("card", True)
        self.setAccessibleName(self.tr("List of keys"))
        heading = QLabel(self.tr("Keys"))
        heading.setProperty("heading", True)
        close = QPushButton(self.tr("Close"))
        close.setProperty("flat", True)
        close.setShortcut(QKeySequence("Esc"))
        close.clicked.connect(self.hide)
        top = QHBoxLayout()
        top.addWidget(heading, 1)
        top.addWidget(close)
        self._inside = QWidget()
        self._columns = Flow(self._inside, spacing=24)
        area = scrolling(self._inside)
        column = QVBoxLayout(self)
        column.addLayout(top)
        column.addWidget(area, 1)
        self.hide()

    def show_keys(self, groups: Sequence[KeyGroup]) -> None:
        """Show ``groups`` and take the keyboard."""
        while (item := self._columns.takeAt(0)) is not None:
            widget = item.widget()
            if widget is not None:
                widget.hide()
                widget.deleteLater()
        for group in groups:
            if group.keys:
                self._columns.add(_column(group), 1)
        self.show()
        self.raise_()
        self.setFocus()


def _column(group: KeyGroup) -> QWidget:
    made = QWidget()
    grid = QGridLayout(made)
    grid.setHorizontalSpacing(14)
    grid.setColumnStretch(1, 1)
    heading = QLabel(group.heading)
    heading.setProperty("heading", True)
    grid.addWidget(heading, 0, 0, 1, 2)
    for row, (key, words) in enumerate(group.keys, start=1):
        shown = QLabel(key)
        shown.setProperty("faint", True)
        grid.addWidget(shown, row, 0)
        told = QLabel(words)
        told.setWordWrap(True)
        told.setMinimumWidth(_LETTERS * told.fontMetrics().averageCharWidth())
        grid.addWidget(told, row, 1)
    grid.setRowStretch(len(group.keys) + 1, 1)
    return made
