"""Small things that the panels of the bench are made of."""

from __future__ import annotations

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QApplication, QFrame, QLabel, QLineEdit, QSizePolicy, QVBoxLayout, QWidget

from gui.sheet import ENLARGED, enlarged_points
from gui.theme import figures_font

_FIGURES, _BOLD = "size of figures", "bold figures"


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
    made.setProperty(_BOLD, bold)
    made.setProperty(_FIGURES, scale)
    _set_font(made)
    return made


def enlarged(made: QLabel, times: float) -> QLabel:
    """``made`` with text ``times`` the usual size (``gui.sheet.ENLARGED``).

    A font that was set would be lost when the style of a verdict comes and goes; what the sheet says is not.
    """
    assert times in ENLARGED, times
    made.setProperty("times", f"{times:g}")
    return made


def rescale(root: QWidget) -> None:
    """Bring the ``figures`` below ``root`` to the current size of text."""
    for made in root.findChildren(QLabel):
        if made.property(_FIGURES):
            _set_font(made)


def _set_font(made: QLabel) -> None:
    base = QApplication.font().pointSizeF()
    scale = enlarged_points(float(made.property(_FIGURES)), base) / base
    made.setFont(figures_font(QApplication.font(), scale=scale, bold=bool(made.property(_BOLD))))


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
