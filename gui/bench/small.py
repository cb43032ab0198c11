"""Small things that the panels of the bench are made of."""

from __future__ import annotations

from PySide6.QtCore import Qt
from PySide6.QtGui import QFont
from PySide6.QtWidgets import QFrame, QLabel, QLineEdit, QSizePolicy, QVBoxLayout, QWidget

from gui.theme import figures_font


def label(text: str = "", *, kind: str = "", wrap: bool = True) -> QLabel:
    """A label; ``kind`` is "heading", "faint" or nothing."""
    made = QLabel(text)
    made.setTextFormat(Qt.TextFormat.PlainText)
    made.setWordWrap(wrap)
    if wrap:
        made.setSizePolicy(QSizePolicy.Policy.Preferred, QSizePolicy.Policy.MinimumExpanding)
    if kind:
        made.setProperty(kind, True)
    return made


def figures(scale: float = 1.0, *, bold: bool = False) -> QLabel:
    """A label for numbers, with figures of one width, that can be copied."""
    made = QLabel()
    made.setTextFormat(Qt.TextFormat.PlainText)
    made.setFont(figures_font(made.font(), scale=scale, bold=bold))
    made.setTextInteractionFlags(Qt.TextInteractionFlag.TextSelectableByMouse)
    return made


def larger(font: QFont, scale: float) -> QFont:
    """``font``, ``scale`` times its size."""
    own = QFont(font)
    own.setPointSizeF(scale * own.pointSizeF())
    return own


def mark(widget: QWidget, name: str, value: object) -> None:
    """Set a property that the style sheet looks at, and let it be seen."""
    if widget.property(name) != value:
        widget.setProperty(name, value)
        widget.style().unpolish(widget)
        widget.style().polish(widget)


def card() -> tuple[QFrame, QVBoxLayout]:
    """A raised frame and the column inside it."""
    frame = QFrame()
    frame.setProperty("card", True)
    column = QVBoxLayout(frame)
    column.setContentsMargins(12, 10, 12, 10)
    column.setSpacing(6)
    return frame, column


def line(name: str, example: str) -> QLineEdit:
    """A line to type a quantity into, called ``name``."""
    made = QLineEdit()
    made.setAccessibleName(name)
    made.setPlaceholderText(example)
    return made
