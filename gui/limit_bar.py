"""A short bar that shows where a measured value with its U95 lies between limits."""

from __future__ import annotations

from dataclasses import dataclass

from PySide6.QtCore import QPointF, QRectF, QSize, Qt
from PySide6.QtGui import QBrush, QColor, QPainter, QPaintEvent, QPen
from PySide6.QtWidgets import QSizePolicy, QWidget

from gui.theme import theme

_ROOM = 0.6  # of the zone's width, shown beyond each limit


@dataclass(frozen=True)
class Between:
    """A value with its U95 and two limits, all in one unit; a limit that is not set is None."""

    value: float
    u95: float
    low: float | None
    high: float | None


class LimitBar(QWidget):
    """The zone as a band, its limits as posts, the value as a diamond with a line as long as its U95."""

    def __init__(self, between: Between | None = None, zone: int = 0, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._between, self._zone = between, zone
        self._view: tuple[float, float] | None = None
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Fixed)
        self.setAccessibleName(self.tr("Place between the limits"))

    def set_between(
        self, between: Between | None, words: str = "", zone: int = 0, view: tuple[float, float] | None = None
    ) -> None:
        """Show ``between``; ``words`` say the same to a screen reader and as a tip.

        ``view``: what its left and right end stand for, where several bars share one scale; the U95 is then a band too.
        """
        self._between, self._zone, self._view = between, zone, view
        self.setToolTip(words)
        self.setAccessibleDescription(words)
        self.update()

    def sizeHint(self) -> QSize:
        return QSize(150, 20)

    def paintEvent(self, event: QPaintEvent) -> None:  # noqa: ARG002
        told = self._between
        if told is None or (told.low is None and told.high is None):
            return
        now = theme()
        half = _half_width(told)
        middle = (told.low + told.high) / 2 if told.low is not None and told.high is not None else _only(told)
        reach = (1 + _ROOM) * half
        first, last = self._view or (middle - reach, middle + reach)
        width, height = self.width(), self.height()

        def x(value: float) -> float:
            at = (value - first) / (last - first) * width
            return min(max(at, 3.0), width - 3.0)

        painter = QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        left = 0.0 if told.low is None else x(told.low)
        right = float(width) if told.high is None else x(told.high)
        colour = QColor(now.zones[self._zone % len(now.zones)])
        band = QRectF(left, 0.25 * height, right - left, 0.5 * height)
        soft = QColor(colour)
        soft.setAlpha(70)
        painter.fillRect(band, soft)
        painter.fillRect(band, QBrush(colour, (Qt.BrushStyle.BDiagPattern, Qt.BrushStyle.FDiagPattern)[self._zone % 2]))
        painter.setPen(QPen(QColor(now.ink), 1.6))
        for limit, at in ((told.low, left), (told.high, right)):
            if limit is not None:
                painter.drawLine(QPointF(at, 0.1 * height), QPointF(at, 0.9 * height))
        y, at = 0.5 * height, x(told.value)
        if self._view is not None:
            over = QColor(now.ink)
            over.setAlpha(40)
            painter.fillRect(
                QRectF(QPointF(x(told.value - told.u95), 0), QPointF(x(told.value + told.u95), height)), over
            )
        painter.setPen(QPen(QColor(now.ink), 2.0))
        painter.drawLine(QPointF(x(told.value - told.u95), y), QPointF(x(told.value + told.u95), y))
        painter.setBrush(QColor(now.ink))
        size = 0.22 * height
        painter.drawPolygon(
            [QPointF(at - size, y), QPointF(at, y - size), QPointF(at + size, y), QPointF(at, y + size)]
        )


def _half_width(told: Between) -> float:
    if told.low is not None and told.high is not None and told.high > told.low:
        return (told.high - told.low) / 2
    return max(3 * told.u95, abs(told.value - _only(told)), 1e-9)


def _only(told: Between) -> float:
    return told.low if told.low is not None else told.high if told.high is not None else told.value
