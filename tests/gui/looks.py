"""What every view of the window must keep to, measured on the widgets themselves."""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Iterator

from PySide6.QtCore import QPoint, QRect, QRectF, QSize, Qt
from PySide6.QtGui import QColor, QImage, QPalette
from PySide6.QtWidgets import (
    QAbstractButton,
    QAbstractScrollArea,
    QAbstractSlider,
    QAbstractSpinBox,
    QComboBox,
    QLabel,
    QLineEdit,
    QScrollArea,
    QScrollBar,
    QStyle,
    QStyleOptionComboBox,
    QTableWidget,
    QWidget,
)

from gui.elided import ElidedLabel
from gui.plots import Plot
from gui.scrolling import ScrollArea

NUMBER = re.compile(r"\d\s?(mm\b|in\b|µm|°|%|±)")
"""A number with its unit or its U95."""
CONTROLS = (QAbstractButton, QLineEdit, QComboBox, QAbstractSpinBox, QAbstractSlider)


def shown(window: QWidget) -> Iterator[QWidget]:
    """Every visible widget of ours in ``window``: what Qt puts inside its own widgets is Qt's affair."""
    for widget in window.findChildren(QWidget):
        if widget.isVisible() and not widget.objectName().startswith("qt_"):
            yield widget


def contrast(one: QColor, two: QColor) -> float:
    """Ratio of contrast after WCAG 2.1 (relative luminance)."""

    def luminance(colour: QColor) -> float:
        parts = [c / 12.92 if c <= 0.04045 else ((c + 0.055) / 1.055) ** 2.4 for c in colour.getRgbF()[:3]]
        return float(0.2126 * parts[0] + 0.7152 * parts[1] + 0.0722 * parts[2])

    low, high = sorted((luminance(one), luminance(two)))
    return (high + 0.05) / (low + 0.05)


def cut_off(window: QWidget) -> list[str]:
    """Every visible text that has less room than it needs, and widgets that reach out of the window."""
    wrong = []
    for widget in shown(window):
        if not _inside_scroll(widget):
            place = QRect(widget.mapTo(window, QPoint(0, 0)), widget.size())
            if not window.rect().contains(place):
                wrong.append(f"{_name(widget)} reaches out of the window")
        if isinstance(widget, ScrollArea) and widget.horizontalScrollBar().maximum() > 0:
            wrong.append(f"{_name(widget)} is to be scrolled sidewards")
        if not _within_control(widget):
            wrong += _too_small(widget)
    return wrong


def _too_small(widget: QWidget) -> list[str]:
    """What of a text in ``widget`` is cut off."""
    if isinstance(widget, QTableWidget):
        return _cut_cells(widget)
    if isinstance(widget, Plot):
        return _cut_titles(widget)
    width, high, text = widget.width(), widget.height(), ""
    if isinstance(widget, ElidedLabel):  # names and paths may be shortened, never a number with its unit
        text = widget.text() if NUMBER.search(widget.text()) else ""
    elif isinstance(widget, QLabel) and widget.text():
        needed = QSize(width, widget.heightForWidth(width)) if widget.wordWrap() else widget.minimumSizeHint()
        return [f"{_name(widget)} is cut off"] if needed.width() > width + 2 or needed.height() > high + 2 else []
    elif isinstance(widget, QAbstractButton):
        text = widget.text().replace("&", "")
    elif isinstance(widget, QComboBox):
        option = QStyleOptionComboBox()
        widget.initStyleOption(option)
        part = QStyle.SubControl.SC_ComboBoxEditField
        width = widget.style().subControlRect(QStyle.ComplexControl.CC_ComboBox, option, part, widget).width()
        text = widget.currentText() if NUMBER.search(widget.currentText()) or widget.currentData() is None else ""
    elif isinstance(widget, QLineEdit) and not widget.text() and not widget.property("names a card"):
        text, width = widget.placeholderText(), width - 8
    small = widget.fontMetrics().horizontalAdvance(text) > width + 2 or widget.fontMetrics().height() > high + 2
    return [f"{_name(widget)} cuts '{text}'"] if text and small else []


def _cut_cells(table: QTableWidget) -> list[str]:
    """Cells whose text is wider than their column, and columns that are not in view."""
    wrong = []
    if table.horizontalHeader().length() > table.viewport().width() + 2:
        wrong.append(f"{_name(table)} has columns out of view")
    for row in range(table.rowCount()):
        for column in range(table.columnCount()):
            item = table.item(row, column)
            rect = QRect(0, 0, table.columnWidth(column) - 6, 10_000)
            flags = int(Qt.TextFlag.TextWordWrap) if table.wordWrap() else 0
            need = table.fontMetrics().boundingRect(rect, flags, "" if item is None else item.text())
            if need.width() > rect.width() + 2 or need.height() > table.rowHeight(row) + 2:
                wrong.append(f"{_name(table)} cuts '{'' if item is None else item.text()}'")
    return wrong


def _cut_titles(plot: Plot) -> list[str]:
    """Titles of axes that reach beyond the plot."""
    wrong = []
    for side in ("left", "bottom"):
        label = plot.getAxis(side).label
        place = label.mapRectToScene(label.boundingRect())
        if label.isVisible() and label.toPlainText() and not QRectF(plot.rect()).adjusted(-4, -4, 4, 4).contains(place):
            wrong.append(f"{_name(plot)} cuts the title '{label.toPlainText()}'")
    return wrong


def overlaps(window: QWidget) -> list[str]:
    """Controls and labels that lie upon each other."""
    wrong = []
    leaves = [w for w in shown(window) if isinstance(w, (QLabel, *CONTROLS)) and not _scrolls(w)]
    places = [QRect(w.mapTo(window, QPoint(0, 0)), w.size()).adjusted(1, 1, -1, -1) for w in leaves]
    covered = [_covers(window, w) for w in leaves]
    for i, one in enumerate(leaves):
        for j in range(i):
            same = covered[i] is covered[j]
            if same and places[i].intersects(places[j]) and not _visible_apart(leaves[j], one):
                wrong.append(f"{_name(one)} lies upon {_name(leaves[j])}")
    return wrong


def unnamed(window: QWidget) -> list[str]:
    """Controls that a screen reader could not name."""
    wrong = []
    for widget in shown(window):
        if not isinstance(widget, CONTROLS) or _within_control(widget) or isinstance(widget, QScrollBar):
            continue
        text = widget.text() if isinstance(widget, QAbstractButton) else ""
        if not (widget.accessibleName() or text or _buddy(window, widget)):
            wrong.append(f"{type(widget).__name__} under {_name(widget.parentWidget())} has no name")
    return wrong


def faint_text(window: QWidget, least: float = 4.5) -> list[str]:
    """Texts whose contrast against their ground is below ``least`` : 1, as drawn."""
    image = window.grab().toImage().scaled(window.size())  # one pixel a unit, whatever the screen has
    wrong = []
    for widget in shown(window):
        if not isinstance(widget, (QLabel, QAbstractButton)) or not widget.text() or not widget.isEnabled():
            continue
        place = QRect(widget.mapTo(window, QPoint(0, 0)), widget.size()).intersected(window.rect())
        if place.isEmpty() or not _seen(window, widget, place):
            continue
        role = QPalette.ColorRole.ButtonText if isinstance(widget, QAbstractButton) else widget.foregroundRole()
        text = widget.palette().color(role)
        ground = _ground(image.copy(place))
        if contrast(text, ground) < least:
            wrong.append(f"{_name(widget)}: {contrast(text, ground):.1f} : 1 ({text.name()} on {ground.name()})")
    return wrong


def _seen(window: QWidget, widget: QWidget, place: QRect) -> bool:
    """Whether nothing lies over ``widget`` where its middle is."""
    there = window.childAt(place.center())
    return there is not None and (there is widget or widget.isAncestorOf(there))


def _ground(image: QImage) -> QColor:
    """The colour that most pixels of ``image`` have."""
    across, down = max(image.width() // 40, 1), max(image.height() // 12, 1)
    pixels = [image.pixel(x, y) for x in range(0, image.width(), across) for y in range(0, image.height(), down)]
    return QColor(Counter(pixels).most_common(1)[0][0])


def _inside_scroll(widget: QWidget) -> bool:
    """What scrolls may reach beyond what is shown."""
    above = widget.parentWidget()
    while above is not None:
        if isinstance(above, QAbstractScrollArea):
            return True
        above = above.parentWidget()
    return False


def _scrolls(widget: QWidget) -> bool:
    return isinstance(widget, QScrollBar) or _within_control(widget)


def _within_control(widget: QWidget) -> bool:
    above = widget.parentWidget()
    while above is not None:
        if isinstance(above, (QComboBox, QAbstractSpinBox, QLineEdit)):
            return True
        if isinstance(above, QAbstractScrollArea) and not isinstance(above, QScrollArea):
            return True
        above = above.parentWidget()
    return False


def _covers(window: QWidget, widget: QWidget) -> QWidget:
    """The scroll area or the window in which ``widget`` lies: only what lies in the same one can collide."""
    above = widget.parentWidget()
    while above is not None and above is not window:
        if isinstance(above, QScrollArea) or (above.property("card") is True and not _in_layout(above)):
            return above
        above = above.parentWidget()
    return window


def _in_layout(widget: QWidget) -> bool:
    parent = widget.parentWidget()
    return parent is not None and parent.layout() is not None and parent.layout().indexOf(widget) >= 0


def _visible_apart(one: QWidget, other: QWidget) -> bool:
    """Whether one of the two is hidden where they meet, or holds the other."""
    nested = one.isAncestorOf(other) or other.isAncestorOf(one)
    return nested or one.visibleRegion().isEmpty() or other.visibleRegion().isEmpty()


def _buddy(window: QWidget, widget: QWidget) -> bool:
    return any(label.buddy() is widget for label in window.findChildren(QLabel))


def _name(widget: QWidget | None) -> str:
    if widget is None:
        return "nothing"
    text = getattr(widget, "text", lambda: "")()
    return f"{type(widget).__name__} '{widget.accessibleName() or text[:40] or widget.objectName()}'"
