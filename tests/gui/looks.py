"""What every view of the window must keep to, measured on the widgets themselves."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator

from PySide6.QtCore import QPoint, QRect
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
    QWidget,
)

from gui.elided import ElidedLabel

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
    """Labels and buttons that have less room than their text needs, and widgets that reach out of the window."""
    wrong = []
    for widget in shown(window):
        if _inside_scroll(widget):
            continue
        place = QRect(widget.mapTo(window, QPoint(0, 0)), widget.size())
        if not window.rect().contains(place):
            wrong.append(f"{_name(widget)} reaches out of the window")
        wrong += _too_small(widget)
    return wrong


def _too_small(widget: QWidget) -> list[str]:
    if isinstance(widget, ElidedLabel):
        return []
    if isinstance(widget, QLabel) and widget.text():
        if widget.wordWrap():
            needed = widget.heightForWidth(widget.width())
            return [f"{_name(widget)} is too low for its text"] if needed > widget.height() + 2 else []
        hint = widget.minimumSizeHint()
        if hint.width() > widget.width() + 2 or hint.height() > widget.height() + 2:
            return [f"{_name(widget)} is too small for its text"]
    if isinstance(widget, QAbstractButton) and widget.text():
        width = widget.fontMetrics().horizontalAdvance(widget.text().replace("&", ""))
        if width > widget.width() + 2 or widget.fontMetrics().height() > widget.height() + 2:
            return [f"{_name(widget)} is too small for its text"]
    return []


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
    image = window.grab().toImage()
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
