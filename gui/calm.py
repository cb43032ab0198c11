"""Lists of choices, number fields and sliders that the mouse wheel leaves alone while it scrolls the page."""

from __future__ import annotations

from typing import TypeVar

from PySide6.QtCore import QEvent, QObject, Qt
from PySide6.QtWidgets import QAbstractSpinBox, QLineEdit, QWidget

_Widget = TypeVar("_Widget", bound=QWidget)


def calm(widget: _Widget) -> _Widget:
    """``widget``, which takes the wheel only between a click into it and its loss of the focus, and only as a number.

    A list of choices or a slider never takes it: it keeps the focus after a choice, when the person scrolls on.
    """
    widget.setFocusPolicy(Qt.FocusPolicy.StrongFocus)  # Qt's own would give a list the focus by the wheel
    watch = _Calm(widget)
    widget.installEventFilter(watch)
    for inside in widget.findChildren(QLineEdit):  # it gets the clicks into a number
        inside.installEventFilter(watch)
    return widget


class _Calm(QObject):
    def __init__(self, widget: QWidget) -> None:
        super().__init__(widget)
        self._is_number = isinstance(widget, QAbstractSpinBox)
        self._clicked = False

    def eventFilter(self, _: QObject, event: QEvent) -> bool:
        kind = event.type()
        if kind == QEvent.Type.MouseButtonPress:
            self._clicked = True
        elif kind == QEvent.Type.FocusOut:
            self._clicked = False
        elif kind == QEvent.Type.Wheel and not (self._is_number and self._clicked):
            event.ignore()  # so that what is around it scrolls
            return True
        return False
