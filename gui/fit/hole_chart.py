"""The trials of a hole as a picture: the screws at their pitch diameters, the hole's 95 % range, zones of classes."""

from __future__ import annotations

import math
from dataclasses import dataclass

from PySide6.QtCore import QPointF, QRectF, QSize, Qt
from PySide6.QtGui import QColor, QPainter, QPaintEvent, QPen, QPolygonF
from PySide6.QtWidgets import QSizePolicy, QWidget

from gui.plots import zone_brush
from gui.theme import figures_font, theme
from gui.worded import worded
from threads.hole.found_hole import FoundHole, JudgedTrial
from threads.hole.hole_words import trial_words
from threads.hole.trial import MOVED, STOPPED
from threads.shared.formatting import MM_PER_INCH

_ROW, _AXIS, _MARK = 1.55, 1.7, 0.32  # in heights of a line
_MOST_ZONES, _SHOWN_FROM = 3, 0.03
_ROOM = 0.012  # mm on either side of what is shown
_STEPS = (1, 2, 5)
_TICK_PX = 90.0
_MOST_NAME = 0.34  # of the width


@dataclass(frozen=True)
class Line:
    """A trial in words: the screw, what came of it."""

    name: str
    outcome: str


class HoleChart(QWidget):
    """Rows from above: zones of the likeliest classes, then the screws, smallest first; the axis below."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.setAccessibleName(self.tr("The trials, by the pitch diameter of the screws"))
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Fixed)
        self._found: FoundHole | None = None
        self._inches = False

    def show_hole(self, found: FoundHole | None, *, inches: bool) -> None:
        """Draw the trials of ``found``."""
        self._found, self._inches = found, inches
        said = [] if found is None else [f"{line.name}: {line.outcome}" for line in map(self._line, self._trials())]
        self.setAccessibleDescription("; ".join(said))
        self.setVisible(found is not None)
        self.updateGeometry()
        self.update()

    def sizeHint(self) -> QSize:
        rows = 0 if self._found is None else len(self._found.trials) + len(self._zones())
        return QSize(420, round(self.fontMetrics().height() * (_ROW * rows + _AXIS) + 8))

    def minimumSizeHint(self) -> QSize:
        return QSize(260, self.sizeHint().height())

    def _trials(self) -> list[JudgedTrial]:
        return [] if self._found is None else sorted(self._found.trials, key=lambda one: one.size)

    def _zones(self) -> list[tuple[str, float, float]]:
        assert self._found is not None
        likely = [one for one in self._found.classes if one.probability >= _SHOWN_FROM]
        return [(one.designation, one.low, one.high) for one in likely[:_MOST_ZONES]]

    def _line(self, one: JudgedTrial) -> Line:
        return Line(one.trial.screw.name, worded(trial_words(one.trial), inches=self._inches))

    def paintEvent(self, event: QPaintEvent) -> None:  # noqa: ARG002
        found = self._found
        if found is None:
            return
        now, metrics = theme(), self.fontMetrics()
        painter = QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        trials, zones = self._trials(), self._zones()
        lines = [self._line(one) for one in trials]
        named = [*(name for name, _, _ in zones), *(line.name for line in lines)]
        left = min(max(map(metrics.horizontalAdvance, named)) + 10.0, _MOST_NAME * self.width())
        right = self.width() - max(metrics.horizontalAdvance(line.outcome) for line in lines) - 14.0
        row = metrics.height() * _ROW
        size = found.pitch_diameter
        low = min(size.low95, *(one.size - one.u95 for one in trials)) - _ROOM
        high = max(size.high95, *(one.size + one.u95 for one in trials)) + _ROOM
        scale = max(right - left, 40.0) / (high - low)

        def x(value: float) -> float:
            return left + (min(max(value, low), high) - low) * scale

        bottom = row * (len(trials) + len(zones))
        band = QColor(now.accent)
        band.setAlpha(45)
        painter.fillRect(QRectF(QPointF(x(size.low95), 0), QPointF(x(size.high95), bottom)), band)
        painter.setPen(QPen(QColor(now.accent), 2.0))
        painter.drawLine(QPointF(x(size.median), 0), QPointF(x(size.median), bottom))
        for number, (name, at_least, at_most) in enumerate(zones):
            y = number * row
            bar = QRectF(QPointF(x(at_least), y + 0.25 * row), QPointF(x(at_most), y + 0.75 * row))
            painter.fillRect(bar, zone_brush(number, now))
            painter.setPen(QColor(now.faint))
            self._write(painter, name, QRectF(0, y, left - 8, row))
        for number, (one, line) in enumerate(zip(trials, lines, strict=True)):
            y = (len(zones) + number + 0.5) * row
            self._mark(painter, one, x, y, metrics.height() * _MARK)
            painter.setPen(QColor(now.bad if one.cause is not None else now.ink))
            self._write(painter, line.name, QRectF(0, y - row / 2, left - 8, row))
            painter.drawText(
                QRectF(right + 10, y - row / 2, self.width() - right, row), Qt.AlignmentFlag.AlignVCenter, line.outcome
            )
        self._axis(painter, low, high, x, bottom)

    def _mark(self, painter: QPainter, one: JudgedTrial, x: object, y: float, half: float) -> None:
        """U95 as a line; went in: a triangle upwards, stopped: a cross, moved: a diamond."""
        assert callable(x)
        now = theme()
        colour = QColor(now.bad if one.cause is not None else now.ink)
        painter.setPen(QPen(colour, 1.6))
        painter.drawLine(QPointF(x(one.size - one.u95), y), QPointF(x(one.size + one.u95), y))
        at = x(one.size)
        if one.trial.outcome == STOPPED:
            painter.setPen(QPen(colour, 2.4))
            painter.drawLine(QPointF(at - half, y - half), QPointF(at + half, y + half))
            painter.drawLine(QPointF(at - half, y + half), QPointF(at + half, y - half))
            return
        painter.setBrush(colour)
        points = [QPointF(at - half, y + half), QPointF(at, y - half), QPointF(at + half, y + half)]
        if one.trial.outcome == MOVED:
            points = [QPointF(at - half, y), QPointF(at, y - half), QPointF(at + half, y), QPointF(at, y + half)]
        painter.drawPolygon(QPolygonF(points))

    def _axis(self, painter: QPainter, low: float, high: float, x: object, y: float) -> None:
        assert callable(x)
        now, unit = theme(), MM_PER_INCH if self._inches else 1.0
        painter.setPen(QPen(QColor(now.faint), 1.0))
        painter.drawLine(QPointF(x(low), y), QPointF(x(high), y))
        painter.setFont(figures_font(self.font(), scale=0.9))
        wanted = (high - low) / unit * _TICK_PX / max(x(high) - x(low), 1.0)
        power = 10.0 ** math.floor(math.log10(wanted))
        step = next((one * power for one in _STEPS if one * power >= wanted), 10 * power)
        decimals = max(-math.floor(math.log10(step) + 1e-9), 0)
        tick = math.ceil(low / unit / step)
        while tick * step * unit <= high:
            at = x(tick * step * unit)
            painter.drawLine(QPointF(at, y), QPointF(at, y + 4))
            words = f"{tick * step:.{decimals}f} {'in' if self._inches else 'mm'}"
            painter.drawText(
                QRectF(at - 60, y + 5, 120, 2 * self.fontMetrics().height()),
                Qt.AlignmentFlag.AlignHCenter | Qt.AlignmentFlag.AlignTop,
                words,
            )
            tick += 1

    def _write(self, painter: QPainter, words: str, where: QRectF) -> None:
        short = self.fontMetrics().elidedText(words, Qt.TextElideMode.ElideMiddle, round(where.width()))
        painter.drawText(where, Qt.AlignmentFlag.AlignVCenter | Qt.AlignmentFlag.AlignRight, short)
