"""Views of which one at a time is in front, and the row of buttons that brings each there."""

from __future__ import annotations

from collections.abc import Callable, Sequence

from PySide6.QtCore import QSize
from PySide6.QtWidgets import QButtonGroup, QPushButton, QStackedWidget, QWidget

from gui.flow import Flow


class Stack(QStackedWidget):
    """It needs what the view in front needs: a long view does not make the short ones long."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.currentChanged.connect(lambda _: self.updateGeometry())

    def sizeHint(self) -> QSize:
        return self._front().sizeHint()

    def minimumSizeHint(self) -> QSize:
        return self._front().minimumSizeHint()

    def hasHeightForWidth(self) -> bool:
        return self._front().hasHeightForWidth()

    def heightForWidth(self, width: int) -> int:
        return self._front().heightForWidth(width)

    def _front(self) -> QWidget:
        return self.currentWidget() or QWidget()


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
            self.stack.currentChanged.connect(lambda _: then())

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
