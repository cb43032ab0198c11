"""The picture of a gauge with the edges, lines or points that were found in it."""

from __future__ import annotations

from dataclasses import dataclass

from PySide6.QtCore import QPointF, QRectF, Qt, Signal
from PySide6.QtGui import QColor, QMouseEvent, QPainter, QPaintEvent, QPen, QPolygonF
from PySide6.QtWidgets import QWidget

from calib.gauge_detection import DetectedGauge, detect_gauge
from gui.levels import Bytes, levels_of_light
from gui.picture_view import image_of
from gui.theme import theme
from vision.locate.live_detection import LiveDetection, detect_live
from vision.pictures.picture import read_picture

_WIDE, _HIGH = 104, 78
"""Room in the row of the gauge, px of the screen."""


@dataclass(frozen=True, eq=False)
class SeenGauge:
    """A gauge as read, its picture made ready for the screen, and what that says of light, focus and alignment."""

    found: DetectedGauge
    levels: tuple[Bytes, ...]
    look: LiveDetection


def see_gauge(what: str, path: str) -> SeenGauge:
    """Read the gauge in the picture ``path``. Raises RefusalError as ``detect_gauge``."""
    picture = read_picture(path)
    return SeenGauge(detect_gauge(what, picture), levels_of_light(picture.light), detect_live(picture.light))


class GaugePicture(QWidget):
    """Small; ``clicked``: the person wants to see it large."""

    clicked = Signal()

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.seen: SeenGauge | None = None
        self.setFixedSize(_WIDE, _HIGH)
        self.setCursor(Qt.CursorShape.PointingHandCursor)
        self.setToolTip(self.tr("The edges that were found. Click to see them large."))
        self.hide()

    def show_gauge(self, seen: SeenGauge | None) -> None:
        """Show ``seen``; None: nothing."""
        self.seen = seen
        self.setVisible(seen is not None)
        self.update()

    def mousePressEvent(self, event: QMouseEvent) -> None:
        self.clicked.emit()
        event.accept()

    def paintEvent(self, event: QPaintEvent) -> None:  # noqa: ARG002
        if self.seen is None:
            return
        found = self.seen.found
        scale = min(self.width() / found.width_px, self.height() / found.height_px)
        level = next((one for one in reversed(self.seen.levels) if one.shape[1] >= self.width()), self.seen.levels[0])
        painter = QPainter(self)
        painter.setRenderHints(QPainter.RenderHint.SmoothPixmapTransform | QPainter.RenderHint.Antialiasing)
        painter.drawImage(QRectF(0, 0, scale * found.width_px, scale * found.height_px), image_of(level))
        painter.setPen(QPen(QColor(theme().outline), 1.5 if found.in_lines else 2.0))
        for points in found.marks:
            line = QPolygonF([QPointF(scale * (x + 0.5), scale * (y + 0.5)) for x, y in points])
            (painter.drawPolyline if found.in_lines else painter.drawPoints)(line)
