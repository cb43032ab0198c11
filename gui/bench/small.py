"""Small things that the panels of the bench are made of."""

from __future__ import annotations

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QApplication, QFrame, QLabel, QLineEdit, QSizePolicy, QVBoxLayout, QWidget

from gui.theme import figures_font

_SCALE, _FIGURES, _BOLD = "scale of text", "figures", "bold figures"
_MOST_POINTS = 20.0


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
    made.setTextInteractionFlags(Qt.TextInteractionFlag.TextSelectableByMouse)
    made.setProperty(_FIGURES, True)
    made.setProperty(_BOLD, bold)
    return enlarged(made, scale)


def enlarged(made: QLabel, scale: float) -> QLabel:
    """``made`` with text ``scale`` times the usual size, also after ``rescale``."""
    made.setProperty(_SCALE, scale)
    _set_font(made)
    return made


def rescale(root: QWidget) -> None:
    """Bring what was ``enlarged`` below ``root`` to the size of text in force."""
    for made in root.findChildren(QLabel):
        if made.property(_SCALE):
            _set_font(made)


def _set_font(made: QLabel) -> None:
    base = QApplication.font().pointSizeF()
    # where all text is large already, what was larger needs its room for words
    points = max(base, min(float(made.property(_SCALE)) * base, _MOST_POINTS))
    if made.property(_FIGURES):
        made.setFont(figures_font(QApplication.font(), scale=points / base, bold=bool(made.property(_BOLD))))
    else:  # by a style of its own: a font that was set is lost when the style of a verdict comes and goes
        made.setStyleSheet(f"font-size: {points:.1f}pt")


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
