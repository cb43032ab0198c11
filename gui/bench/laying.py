"""Drawings of the bench from the side: what to lay where, one a step. What matters in it is coloured."""

from __future__ import annotations

from PySide6.QtCore import QPointF, QRectF, QSize, Qt
from PySide6.QtGui import QColor, QFont, QPainter, QPaintEvent, QPen, QPolygonF
from PySide6.QtWidgets import QSizePolicy, QWidget

from gui.theme import theme

LIGHT, FOCUS, ALIGNMENT, DISTANCE, MASK, PINS, CHECK = (
    "light", "focus", "alignment", "distance", "mask", "pins", "check",
)  # fmt: skip
STEPS = (LIGHT, FOCUS, ALIGNMENT, DISTANCE, MASK, PINS, CHECK)

_WIDE, _HIGH = 380.0, 150.0
"""Size of the drawing in its own units; it is scaled to the room there is."""
_AXIS = 74.0
"""Height of the optical axis in it."""
_LENS, _PART, _MASK, _PAD = 92.0, 208.0, 282.0, 344.0
"""Where the lens ends, the part lies, mask and pad stand."""

_DARK, _LIT = "#1F1D1A", "#FFF6D8"
"""Of the part before the pad, and of the pad, by day and by night."""
_LEAST_POINTS, _MOST_POINTS = 8.0, 10.5
"""Of its words, in its own units: larger ones would meet."""
_SMALL = 0.75
"""Of its usual height where much else is to be seen."""


class Laying(QWidget):
    """``show_step`` chooses the drawing."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._step = LIGHT
        policy = QSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Fixed)
        policy.setHeightForWidth(True)
        self.setSizePolicy(policy)
        self.setAccessibleName(self.tr("What to lay where"))

    def show_step(self, step: str) -> None:
        """Draw for ``step``, one of ``STEPS``."""
        self._step = step
        self.updateGeometry()
        self.update()

    def sizeHint(self) -> QSize:
        return QSize(round(_WIDE), round(_HIGH))

    def heightForWidth(self, width: int) -> int:
        whole = min(width, 1.3 * _WIDE) * _HIGH / _WIDE
        return round(whole * (_SMALL if self._step in {PINS, CHECK} else 1.0))

    def hasHeightForWidth(self) -> bool:
        return True

    def paintEvent(self, event: QPaintEvent) -> None:  # noqa: ARG002
        now = theme()
        painter = QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        scale = min(self.width() / _WIDE, self.height() / _HIGH)
        painter.translate((self.width() - scale * _WIDE) / 2, 0)
        painter.scale(scale, scale)
        font = QFont(self.font())
        font.setPointSizeF(min(max(_LEAST_POINTS, 0.75 * font.pointSizeF() / scale), _MOST_POINTS))
        painter.setFont(font)
        self._plain, self._strong = QPen(QColor(now.faint), 1.6), QPen(QColor(now.accent), 2.6)
        if self._step == ALIGNMENT:
            self._draw_view(painter)
            return
        self._draw_camera(painter)
        self._draw_block(painter)
        self._draw_pad(painter)
        {
            LIGHT: self._draw_rays, FOCUS: self._draw_focus, DISTANCE: self._draw_distance, MASK: self._draw_mask,
            PINS: self._draw_pins, CHECK: self._draw_pin,
        }[self._step](painter)  # fmt: skip

    # --- what stands on the bench

    def _draw_camera(self, painter: QPainter) -> None:
        painter.setPen(self._plain)
        painter.setBrush(QColor(theme().raised))
        painter.drawRect(QRectF(12, _AXIS - 26, 46, 52))
        painter.drawRect(QRectF(58, _AXIS - 17, _LENS - 58, 34))
        self._word(painter, 50, self.tr("camera"))

    def _draw_block(self, painter: QPainter) -> None:
        painter.setPen(self._plain)
        painter.setBrush(QColor(theme().line))
        painter.drawPolygon(QPolygonF([QPointF(_PART + x, _AXIS + y) for x, y in (
            (-28, 8), (-12, 8), (0, 20), (12, 8), (28, 8), (28, 46), (-28, 46))]))  # fmt: skip
        if self._step != MASK:
            self._word(painter, _PART, self.tr("V-block"))

    def _draw_pad(self, painter: QPainter) -> None:
        strong = self._step in {LIGHT, MASK}
        painter.setPen(self._strong if strong else self._plain)
        painter.setBrush(QColor(_LIT))
        painter.drawRect(QRectF(_PAD, _AXIS - 44, 10, 88))
        self._word(painter, _PAD, self.tr("light pad"), strong=strong)

    def _disc(self, painter: QPainter, radius: float, *, strong: bool = False, x: float = _PART) -> None:
        painter.setPen(self._strong if strong else self._plain)
        painter.setBrush(QColor(_DARK))
        painter.drawEllipse(QPointF(x, _AXIS + 20 - 1.42 * radius), radius, radius)

    # --- what matters

    def _draw_rays(self, painter: QPainter) -> None:
        self._disc(painter, 9)
        painter.setPen(QPen(QColor(theme().accent), 1.8, Qt.PenStyle.DashLine))
        for y in (-30.0, 30.0):
            painter.drawLine(QPointF(_PAD, _AXIS + y), QPointF(_LENS, _AXIS + y / 4))
        lamp = QPointF(150, 22)
        painter.setPen(self._plain)
        painter.setBrush(Qt.BrushStyle.NoBrush)
        painter.drawEllipse(lamp, 9, 9)
        painter.setPen(QPen(QColor(theme().bad), 2.4))
        painter.drawLine(lamp + QPointF(-13, -13), lamp + QPointF(13, 13))
        painter.drawLine(lamp + QPointF(-13, 13), lamp + QPointF(13, -13))

    def _draw_focus(self, painter: QPainter) -> None:
        self._disc(painter, 12, strong=True)
        self._arrow(painter, QPointF(44, 34), QPointF(108, 34), both=True)
        painter.setPen(QPen(QColor(theme().accent), 1.2, Qt.PenStyle.DashLine))
        painter.drawLine(QPointF(_PART, 22), QPointF(_PART, _AXIS + 8))
        self._word(painter, _PART, self.tr("sharp here"), strong=True, y=16)

    def _draw_distance(self, painter: QPainter) -> None:
        self._disc(painter, 12)
        self._measure(painter, _LENS, _PART, 26, self.tr("distance"))

    def _draw_mask(self, painter: QPainter) -> None:
        self._disc(painter, 9)
        painter.setPen(self._strong)
        painter.setBrush(QColor(theme().ink))
        for top, high in ((_AXIS - 48, 36.0), (_AXIS + 12, 36.0)):
            painter.drawRect(QRectF(_MASK - 3, top, 6, high))
        self._word(painter, _MASK, self.tr("mask"), strong=True)
        self._measure(painter, _PART, _MASK, 18, self.tr("distance"))
        painter.setPen(QPen(QColor(theme().accent), 1.2, Qt.PenStyle.DashLine))
        for y in (-12.0, 12.0):
            painter.drawLine(QPointF(_MASK, _AXIS + y), QPointF(_PART, _AXIS + 4))

    def _draw_pins(self, painter: QPainter) -> None:
        self._disc(painter, 15, strong=True)
        self._disc(painter, 6, strong=True, x=_PART + 64)
        self._arrow(painter, QPointF(_PART + 54, _AXIS - 12), QPointF(_PART + 20, _AXIS - 12))
        self._word(painter, _PART, self.tr("one after the other"), strong=True, y=16)

    def _draw_pin(self, painter: QPainter) -> None:
        self._disc(painter, 12, strong=True)
        self._word(painter, _PART, self.tr("a pin that you know"), strong=True, y=16)

    def _draw_view(self, painter: QPainter) -> None:
        """What the camera should see: the pin lies along the picture, from side to side, with light on both sides."""
        frame = QRectF(96, 10, 188, 118)
        painter.setPen(self._plain)
        painter.setBrush(QColor(_LIT))
        painter.drawRect(frame)
        painter.setBrush(QColor(_DARK))
        painter.drawRect(QRectF(96, 48, 150, 42))
        painter.setPen(QPen(QColor("#00598F"), 1.6, Qt.PenStyle.DashLine))
        painter.drawLine(QPointF(84, 69), QPointF(298, 69))
        painter.setPen(QPen(QColor(theme().bad), 1.6, Qt.PenStyle.DotLine))
        painter.drawLine(QPointF(96, 92), QPointF(284, 46))
        self._word(painter, 190, self.tr("the camera's picture"), y=144)

    # --- strokes and words

    def _word(self, painter: QPainter, x: float, words: str, *, strong: bool = False, y: float = 140.0) -> None:
        painter.setPen(QColor(theme().accent if strong else theme().faint))
        wide = painter.fontMetrics().horizontalAdvance(words)
        painter.drawText(QPointF(min(max(x - wide / 2, 2), _WIDE - wide - 2), y), words)

    def _measure(self, painter: QPainter, left: float, right: float, y: float, words: str) -> None:
        painter.setPen(QPen(QColor(theme().accent), 1.2))
        for x in (left, right):
            painter.drawLine(QPointF(x, y - 4), QPointF(x, _AXIS - 6))
        self._arrow(painter, QPointF(left, y), QPointF(right, y), both=True)
        self._word(painter, (left + right) / 2, words, strong=True, y=y - 5)

    def _arrow(self, painter: QPainter, start: QPointF, end: QPointF, *, both: bool = False) -> None:
        painter.setPen(QPen(QColor(theme().accent), 2.0))
        painter.drawLine(start, end)
        way = 1.0 if end.x() > start.x() else -1.0
        for tip, sign in ((end, way), (start, -way))[: 2 if both else 1]:
            for up in (-4, 4):
                painter.drawLine(tip, tip + QPointF(-7 * sign, up))
