"""What may need more room than there is."""

from __future__ import annotations

from PySide6.QtWidgets import QFrame, QScrollArea, QWidget


def scrolling(inside: QWidget | None = None) -> QScrollArea:
    """An area without a frame in which ``inside``, as wide as there is room, can be scrolled."""
    area = QScrollArea()
    area.setWidgetResizable(True)
    area.setFrameShape(QFrame.Shape.NoFrame)
    if inside is not None:
        area.setWidget(inside)
    return area
