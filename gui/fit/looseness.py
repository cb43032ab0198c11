"""Looseness as a picture: the rod in its post at true proportion, its play exaggerated by a stated factor."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from PySide6.QtCore import QPointF, QRectF, QSize, Qt
from PySide6.QtGui import QBrush, QColor, QPainter, QPaintEvent, QPen, QPolygonF, QTransform
from PySide6.QtWidgets import QSizePolicy, QWidget

from gui.theme import theme

_MARGIN = 12
_WALL = 0.55  # of the thread's diameter: how thick the post is drawn round the hole
_SHOWN_PX = 22.0  # the end's movement on the screen
_MOST_TIMES = 500.0


@dataclass(frozen=True)
class Drawn:
    """What is drawn, mm and degrees.

    Attributes:
        major, minor, pitch: of the thread. engagement, overhang: lengths.
        clearance: radial, median. tilt: greatest lean to one side. end: movement of the end to one side.
        enters: False draws the screw before the hole.
    """

    major: float
    minor: float
    pitch: float
    engagement: float
    overhang: float
    clearance: float
    tilt: float
    end: float
    enters: bool


class Looseness(QWidget):
    """The post cut open, the rod in its two extreme positions."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.setAccessibleName(self.tr("The rod in its post"))
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Expanding)
        self.setMinimumHeight(110)
        self._drawn: Drawn | None = None

    @property
    def times(self) -> float:
        """By how much the play is exaggerated."""
        if self._drawn is None:
            return 1.0
        moved = max(abs(self._drawn.end), self._drawn.clearance, 1e-9) * self._scale(self._drawn)
        return float(np.clip(_SHOWN_PX / moved, 1.0, _MOST_TIMES))

    def show_play(self, drawn: Drawn | None, words: str) -> None:
        """Draw ``drawn``; ``words`` say it to a screen reader."""
        self._drawn = drawn
        self.setAccessibleDescription(words)
        self.setToolTip(words)
        self.update()

    def sizeHint(self) -> QSize:
        return QSize(420, 180)

    def _scale(self, drawn: Drawn) -> float:
        """Screen pixels to a millimetre."""
        wide = drawn.engagement + drawn.overhang + 0.6 * drawn.major
        high = drawn.major * (1 + 2 * _WALL)
        return min((self.width() - 2 * _MARGIN) / wide, (self.height() - 2 * _MARGIN - 2 * _SHOWN_PX) / high)

    def paintEvent(self, event: QPaintEvent) -> None:  # noqa: ARG002
        drawn = self._drawn
        if drawn is None:
            return
        now = theme()
        painter = QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        scale = self._scale(drawn)
        if scale <= 0:
            return
        painter.translate(_MARGIN, self.height() / 2)
        painter.scale(scale, scale)
        thin = 1.4 / scale
        reach = drawn.engagement
        post = QColor(now.line)
        for side in (-1, 1):
            wall = QPolygonF([QPointF(0, side * drawn.major * (0.5 + _WALL)), *_profile(drawn, side, reach)])
            wall.append(QPointF(reach, side * drawn.major * (0.5 + _WALL)))
            painter.setPen(QPen(QColor(now.ink), thin))
            painter.setBrush(QBrush(post))
            painter.drawPolygon(wall)
        times = self.times
        rod = QRectF(0, -drawn.minor / 2, reach + drawn.overhang, drawn.minor)
        if not drawn.enters:
            painter.translate(reach + 0.4 * drawn.major, 0)
            self._rod(painter, rod.adjusted(0, 0, -reach * 0.2, 0), drawn, QColor(now.bad), thin, hollow=False)
            return
        for sign, hollow in ((-1, True), (1, True), (0, False)):
            painter.save()
            painter.setTransform(self._moved(drawn, sign * times), True)
            colour = QColor((now.outline, now.ink, now.rejected)[sign + 1])
            self._rod(painter, rod, drawn, colour, thin, hollow=hollow)
            painter.restore()

    def _moved(self, drawn: Drawn, times: float) -> QTransform:
        """The rod leaning about the middle of its engagement, ``times`` exaggerated."""
        angle = float(np.clip(drawn.tilt * times, -25.0, 25.0))
        turned = QTransform()
        turned.translate(drawn.engagement / 2, 0)
        turned.rotate(angle)
        turned.translate(-drawn.engagement / 2, 0)
        return turned

    def _rod(self, painter: QPainter, rod: QRectF, drawn: Drawn, colour: QColor, thin: float, *, hollow: bool) -> None:
        painter.setPen(QPen(colour, thin, Qt.PenStyle.DashLine if hollow else Qt.PenStyle.SolidLine))
        fill = QColor(colour)
        fill.setAlpha(30 if hollow else 90)
        painter.setBrush(fill)
        outline = QPolygonF([*_profile(drawn, -1, drawn.engagement, inside=True), QPointF(rod.right(), rod.top())])
        outline.append(QPointF(rod.right(), rod.bottom()))
        for point in reversed(_profile(drawn, 1, drawn.engagement, inside=True)):
            outline.append(point)
        painter.drawPolygon(outline)


def _profile(drawn: Drawn, side: int, reach: float, *, inside: bool = False) -> list[QPointF]:
    """The zigzag of the thread along one side over ``reach``: of the hole, or of the rod a little ``inside``."""
    shift = 0.0 if side > 0 else drawn.pitch / 2
    away = 0.04 * drawn.major if inside else 0.0
    points = []
    count = max(int(2 * reach / drawn.pitch), 2)
    for index in range(count + 1):
        z = min(index * drawn.pitch / 2, reach)
        high = (index + (0 if shift == 0 else 1)) % 2 == 0
        radius = (drawn.major if high else drawn.minor) / 2 - away
        points.append(QPointF(z, side * radius))
    return points
