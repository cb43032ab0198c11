"""What a part shows while it is turned, as it would lie in the hand: a polar plot of ovality and run-out."""

from __future__ import annotations

import math
from collections.abc import Sequence

import numpy as np
from PySide6.QtCore import QPointF, QRectF, QSize, Qt
from PySide6.QtGui import QColor, QPainter, QPaintEvent, QPen
from PySide6.QtWidgets import QSizePolicy, QWidget

from gui.theme import theme
from vision.several.turning import Side

_STEPS_UM = (1, 2, 5, 10, 20, 50, 100, 200, 500)
_GAP_DEG = 40.0
_MIDDLE, _REACH = 0.55, 0.4
"""Of the radius: where nothing deviates, and what the largest deviation takes to either side of it."""


class TurningPlot(QWidget):
    """Discs: pitch diameter, drawn at both ends of it. Squares: where the axis stood. The ring is the mean of each."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._sides: tuple[Side, ...] = ()
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Fixed)
        self.setAccessibleName(self.tr("Ovality and run-out over a turn"))

    def show_sides(self, sides: Sequence[Side]) -> None:
        """Draw ``sides``."""
        self._sides = tuple(sides)
        diameters, axes = self._deviations()
        self.setAccessibleDescription(
            "; ".join(
                self.tr("at {angle}°: pitch diameter {d} µm, axis {a} µm").format(
                    angle=f"{side.turn.angle.value:.0f}", d=f"{d:+.1f}", a=f"{a:+.1f}"
                )
                for side, d, a in zip(self._sides, diameters, axes, strict=True)
            )
        )
        self.update()

    def _deviations(self) -> tuple[list[float], list[float]]:
        """Of pitch diameter and axis from their means, µm."""
        out = []
        for name in ("pitch_diameter", "axis"):
            each = np.array([1000 * getattr(side, name).value for side in self._sides])
            out.append((each - each.mean()).tolist() if each.size else [])
        return out[0], out[1]

    def sizeHint(self) -> QSize:
        side = 14 * self.fontMetrics().height()
        return QSize(side, side)

    def paintEvent(self, event: QPaintEvent) -> None:  # noqa: ARG002
        if not self._sides:
            return
        now = theme()
        painter = QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        line = self.fontMetrics().height()
        radius = (min(self.width(), self.height() - 2 * line) - 4) / 2
        middle = QPointF(self.width() / 2, radius + 2)
        diameters, axes = self._deviations()
        largest = max(abs(v) for v in (*diameters, *axes))
        step = next((s for s in _STEPS_UM if s >= largest), _STEPS_UM[-1])

        def at(angle_deg: float, um: float) -> QPointF:
            out = radius * (_MIDDLE + _REACH * um / step)
            angle = math.radians(angle_deg)
            return QPointF(middle.x() + out * math.cos(angle), middle.y() - out * math.sin(angle))

        painter.setPen(QPen(QColor(now.line), 1.0))
        for um in (-step, step):
            painter.drawEllipse(
                middle, radius * (_MIDDLE + _REACH * um / step), radius * (_MIDDLE + _REACH * um / step)
            )
        for angle in range(0, 180, 45):
            painter.drawLine(at(angle, step), at(angle + 180, step))
        painter.setPen(QPen(QColor(now.ink), 1.4))
        painter.setBrush(Qt.BrushStyle.NoBrush)
        painter.drawEllipse(middle, radius * _MIDDLE, radius * _MIDDLE)
        angles = [side.turn.angle.value for side in self._sides]
        ends = [(a + half, d) for a, d in zip(angles, diameters, strict=True) for half in (0, 180)]
        both = sorted(ends, key=lambda each: each[0] % 360)
        painter.setPen(QPen(QColor(now.outline), 1.6))
        self._join(painter, [(a, at(a, d)) for a, d in both])
        painter.setBrush(QColor(now.outline))
        for a, d in both:
            painter.drawEllipse(at(a, d), 3.5, 3.5)
        painter.setPen(QPen(QColor(now.rejected), 1.6, Qt.PenStyle.DashLine))
        painter.setBrush(Qt.BrushStyle.NoBrush)
        turned = sorted(zip(angles, axes, strict=True), key=lambda each: each[0] % 360)
        self._join(painter, [(a, at(a, d)) for a, d in turned])
        painter.setPen(Qt.PenStyle.NoPen)
        painter.setBrush(QColor(now.rejected))
        for a, d in turned:
            place = at(a, d)
            painter.drawRect(QRectF(place.x() - 3.5, place.y() - 3.5, 7, 7))
        painter.setPen(QColor(now.ink))
        words = self.tr("●  pitch diameter    ■  axis    rings: ± {step} µm").format(step=step)
        below = QRectF(0, 2 * radius + 4, self.width(), 2 * line)
        painter.drawText(below, int(Qt.AlignmentFlag.AlignHCenter | Qt.TextFlag.TextWordWrap), words)

    @staticmethod
    def _join(painter: QPainter, places: Sequence[tuple[float, QPointF]]) -> None:
        """Lines from each place to the next, where no large part of the turn between them was not seen."""
        for (angle, here), (following, there) in zip(places, [*places[1:], *places[:1]], strict=True):
            if (following - angle) % 360 <= _GAP_DEG:
                painter.drawLine(here, there)
