"""The wheel scrolls, and only scrolls: over every list, number field and slider of every view."""

from __future__ import annotations

from typing import TYPE_CHECKING

import pytest
from PySide6.QtCore import QPoint, QPointF, Qt
from PySide6.QtGui import QWheelEvent
from PySide6.QtWidgets import (
    QAbstractSlider,
    QAbstractSpinBox,
    QApplication,
    QComboBox,
    QScrollBar,
    QSpinBox,
    QTabBar,
    QVBoxLayout,
    QWidget,
)

from gui.calm import calm

if TYPE_CHECKING:
    from pytestqt.qtbot import QtBot

    from gui.window import Window


def _turned(widget: QWidget) -> bool:
    """Turn the wheel over ``widget``, both ways; whether it took it."""
    taken = False
    for step in (120, -120):
        middle = QPointF(widget.rect().center())
        event = QWheelEvent(
            middle, widget.mapToGlobal(middle), QPoint(0, 0), QPoint(0, step), Qt.MouseButton.NoButton,
            Qt.KeyboardModifier.NoModifier, Qt.ScrollPhase.NoScrollPhase, False,
        )  # fmt: skip
        event.ignore()
        QApplication.sendEvent(widget, event)
        taken = taken or event.isAccepted()
    return taken


def _inputs(window: QWidget) -> list[QWidget]:
    kinds = (QComboBox, QAbstractSpinBox, QAbstractSlider, QTabBar)
    return [w for w in window.findChildren(QWidget) if isinstance(w, kinds) and not isinstance(w, QScrollBar)]


def _value(widget: QWidget) -> object:
    return widget.currentIndex() if isinstance(widget, (QComboBox, QTabBar)) else widget.property("value")


@pytest.mark.slow
def test_no_input_of_any_view_takes_the_wheel_unless_it_was_clicked_into(window: Window) -> None:
    seen = set()
    for place in window.places.values():
        window.go(place.NAME)
        for _, reach in (("", lambda: None), *place.views()):
            reach()
            for widget in _inputs(window):
                if isinstance(widget, QComboBox) and widget.count() < 2:
                    widget.addItems(["one", "two", "three"])
                    widget.setCurrentIndex(1)
                before = _value(widget)
                if isinstance(widget, QComboBox):
                    widget.setFocus(Qt.FocusReason.PopupFocusReason)  # as after a choice from its list
                assert not _turned(widget), f"{widget.accessibleName()} in {place.NAME} takes the wheel"
                assert _value(widget) == before, f"{widget.accessibleName()} in {place.NAME}"
                seen.add(type(widget))
    assert len(seen) >= 4


def test_a_number_takes_the_wheel_from_a_click_into_it_until_it_loses_the_focus(qtbot: QtBot) -> None:
    page = QWidget()
    number, other = calm(QSpinBox()), QSpinBox()
    column = QVBoxLayout(page)
    column.addWidget(number)
    column.addWidget(other)
    qtbot.addWidget(page)
    page.show()
    page.activateWindow()
    qtbot.waitActive(page)
    number.setFocus(Qt.FocusReason.TabFocusReason)
    assert not _turned(number)
    other.setFocus()
    qtbot.mouseClick(number.lineEdit(), Qt.MouseButton.LeftButton)
    QApplication.processEvents()
    number.setValue(5)
    assert _turned(number)
    other.setFocus()
    assert not _turned(number)
