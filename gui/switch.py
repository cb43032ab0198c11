"""Views of which one at a time is in front, and the row of buttons that brings each there."""

from __future__ import annotations

from collections.abc import Callable, Sequence

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QButtonGroup, QPushButton, QVBoxLayout, QWidget

from gui.flow import Flow


class Stack(QWidget):
    """Views of which one is shown. It needs what that one needs: a long view does not make the short ones long."""

    changed = Signal(int)

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._views: list[QWidget] = []
        self._at = 0
        self._column = QVBoxLayout(self)
        self._column.setContentsMargins(0, 0, 0, 0)

    def addWidget(self, view: QWidget) -> None:
        """One more view, behind the first."""
        self._views.append(view)
        self._column.addWidget(view, 1)
        if len(self._views) > 1:
            view.hide()

    def currentIndex(self) -> int:
        """The number of the view in front."""
        return self._at

    def currentWidget(self) -> QWidget:
        """The view in front."""
        return self._views[self._at]

    def setCurrentIndex(self, number: int) -> None:
        """Bring the view of that number to the front."""
        if number != self._at:
            before, self._at = self._views[self._at], number
            before.hide()
            self._views[number].show()
            self.changed.emit(number)


class Switch:
    """``row`` and ``stack`` are to be laid out by whoever makes it; more may be added to the row's end."""

    def __init__(self, views: Sequence[tuple[str, str, QWidget]], then: Callable[[], None] | None = None) -> None:
        """``views``: a short name, the words of the button and the view of each. ``then`` is called at a change."""
        self.names = tuple(name for name, _, _ in views)
        self.row, self.stack = Flow(spacing=2), Stack()
        self._group = QButtonGroup(self.stack)
        for number, (_, words, view) in enumerate(views):
            button = QPushButton(words)
            button.setProperty("flat", True)
            button.setCheckable(True)
            self._group.addButton(button, number)
            self.row.addWidget(button)
            self.stack.addWidget(view)
        self._group.button(0).setChecked(True)
        self._group.idClicked.connect(self.stack.setCurrentIndex)
        if then is not None:
            self.stack.changed.connect(lambda _: then())

    @property
    def front(self) -> str:
        """The name of the view in front."""
        return self.names[self.stack.currentIndex()]

    def show(self, name: str) -> None:
        """Bring the view of that name to the front."""
        number = self.names.index(name)
        self._group.button(number).setChecked(True)
        self.stack.setCurrentIndex(number)

    def show_next(self) -> None:
        """Bring the next view to the front, after the last the first."""
        self.show(self.names[(self.stack.currentIndex() + 1) % len(self.names)])
