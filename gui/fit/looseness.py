"""Looseness as a picture: the screw in its hole at true proportion, its play exaggerated by a stated factor."""

from __future__ import annotations

import itertools
import math
from dataclasses import dataclass

from PySide6.QtCore import QPointF, QRectF, QSize, Qt
from PySide6.QtGui import QBrush, QColor, QPainter, QPaintEvent, QPen, QPolygonF
from PySide6.QtWidgets import QSizePolicy, QWidget

from gui.theme import figures_font, theme

_MARGIN = 10.0
_WALL = 0.7  # of the thread's diameter: how thick the metal is drawn round the hole
_SHOWN_PX = 34.0  # the end's movement on the screen, about
_STEPS = (1, 1.5, 2, 3, 4, 5, 6, 8)
_MOST_TIMES = 500.0
_GAP, _TICK = 14.0, 5.0  # from the rod's end to its bracket, and half of the bracket's foot, px
_LEAST_TURN_PX = 3.0  # a thread with closer ridges is drawn as its two outlines


@dataclass(frozen=True)
class Drawn:
    """What is drawn, mm and degrees.

    Attributes:
        major, minor, pitch: of the thread. engagement, overhang: lengths.
        clearance: radial, median. tilt: greatest lean to one side. end: movement of the end to one side.
        enters: False draws the screw before the hole.
        end_words: the movement as it is written at the bracket.
        other_end, other_words: the same of the screw beside it; None where there is none, or it does not enter.
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
    end_words: str = ""
    other_end: float | None = None
    other_words: str = ""


class Looseness(QWidget):
    """The hole cut open, the screw in the middle and in its two extreme positions, the way of its end in brackets."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.setAccessibleName(self.tr("The screw in its hole"))
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Expanding)
        self._drawn: Drawn | None = None

    @property
    def times(self) -> float:
        """By how much the play is exaggerated: a round number, so that what is stated is what is drawn."""
        drawn = self._drawn
        if drawn is None:
            return 1.0
        most = max(drawn.end, drawn.other_end or 0.0, drawn.clearance, 1e-9)
        return round_factor(min(_SHOWN_PX / (most * self._scale(drawn)), _MOST_TIMES))

    def show_play(self, drawn: Drawn | None, words: str) -> None:
        """Draw ``drawn``; ``words`` say it to a screen reader."""
        self._drawn = drawn
        self.setAccessibleDescription(words)
        self.setToolTip(words)
        self.update()

    def sizeHint(self) -> QSize:
        return QSize(420, 180)

    def minimumSizeHint(self) -> QSize:
        """Two lines have room above the middle and below it."""
        return QSize(0, max(120, 4 * self.fontMetrics().lineSpacing() + 12))

    def _brackets(self, drawn: Drawn) -> float:
        """Room that the brackets with their words take on the right, px."""
        if not drawn.enters:
            return 0.0
        metrics = self.fontMetrics()
        words = [drawn.end_words, *([] if drawn.other_end is None else [drawn.other_words])]
        wide = max(metrics.horizontalAdvance(line) for word in words for line in word.split("\n"))
        return _GAP * (1 + len(words)) + 1.2 * wide + 8

    def _scale(self, drawn: Drawn) -> float:
        """Screen pixels to a millimetre."""
        along = drawn.engagement + drawn.overhang + (0.0 if drawn.enters else drawn.engagement + 0.5 * drawn.major)
        across = drawn.major * (1 + 2 * _WALL)
        wide = self.width() - 2 * _MARGIN - self._brackets(drawn)
        high = self.height() - 2 * _MARGIN - 2 * _SHOWN_PX
        return max(min(wide / max(along, drawn.major), max(high, 20.0) / across), 1e-3)

    def paintEvent(self, event: QPaintEvent) -> None:  # noqa: ARG002
        drawn = self._drawn
        if drawn is None:
            return
        painter = QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        scale, times = self._scale(drawn), self.times
        painter.translate(_MARGIN, self.height() / 2)
        self._post(painter, drawn, scale, times)
        if not drawn.enters:
            self._rod(painter, drawn, scale, drawn.engagement + 0.5 * drawn.major, None, hollow=False)
            return
        for sign in (-1, 1):
            self._rod(painter, drawn, scale, 0.0, sign * times, hollow=True)
        self._rod(painter, drawn, scale, 0.0, None, hollow=False)
        self._ends(painter, drawn, scale, times)

    def _post(self, painter: QPainter, drawn: Drawn, scale: float, times: float) -> None:
        """Both walls in section, the hole wider than the screw by the exaggerated clearance."""
        now = theme()
        room = max(drawn.clearance, 0.0) * times if drawn.enters else 0.0
        outer = (drawn.major * (0.5 + _WALL) + room) * scale
        for side in (-1, 1):
            wall = QPolygonF([QPointF(0, side * outer)])
            for z, radius in thread_line(drawn, side, 0.0, drawn.engagement, scale):
                wall.append(QPointF(z * scale, side * (radius + room) * scale))
            wall.append(QPointF(drawn.engagement * scale, side * outer))
            ground = QColor(now.line)
            ground.setAlpha(120)
            painter.setPen(Qt.PenStyle.NoPen)
            painter.setBrush(ground)
            painter.drawPolygon(wall)
            painter.setPen(QPen(QColor(now.faint), 1.2))
            painter.setBrush(QBrush(QColor(now.faint), Qt.BrushStyle.BDiagPattern))
            painter.drawPolygon(wall)

    def _rod(
        self, painter: QPainter, drawn: Drawn, scale: float, start: float, times: float | None, *, hollow: bool
    ) -> None:
        """The rod from ``start`` on, at rest, or at its extreme on the side of the sign of ``times``."""
        now = theme()
        end = start + drawn.engagement + drawn.overhang

        def at(z: float, y: float) -> QPointF:
            return QPointF(z * scale, (y + _moved(drawn, z, times)) * scale)

        outline = QPolygonF()
        threaded = list(thread_line(drawn, -1, start, start + drawn.engagement, scale))
        for z, radius in threaded:
            outline.append(at(z, -radius))
        outline.append(at(start + drawn.engagement, -drawn.major / 2))
        outline.append(at(end, -drawn.major / 2))
        outline.append(at(end, drawn.major / 2))
        outline.append(at(start + drawn.engagement, drawn.major / 2))
        for z, radius in reversed(list(thread_line(drawn, 1, start, start + drawn.engagement, scale))):
            outline.append(at(z, radius))
        colour = QColor(now.outline if hollow else now.ink if drawn.enters else now.bad)
        painter.setPen(QPen(colour, 1.4, Qt.PenStyle.DashLine if hollow else Qt.PenStyle.SolidLine))
        fill = QColor(colour)
        fill.setAlpha(28 if hollow else 60)
        painter.setBrush(fill)
        painter.drawPolygon(outline)

    def _ends(self, painter: QPainter, drawn: Drawn, scale: float, times: float) -> None:
        """The way of the end to both sides, in brackets with its length to one side."""
        now = theme()
        x = (drawn.engagement + drawn.overhang) * scale + _GAP
        font = figures_font(self.font(), scale=1.15, bold=True)
        told = [(drawn.end, drawn.end_words, now.outline, font)]
        if drawn.other_end is not None:
            told.append((drawn.other_end, drawn.other_words, now.rejected, figures_font(self.font())))
        words_at = x + _GAP * len(told) - 4
        room = self.height() / 2 - 4
        for number, (way, words, colour, font) in enumerate(told):
            half = max(way * times * scale, 0.75)
            style = Qt.PenStyle.SolidLine if number == 0 else Qt.PenStyle.DotLine
            painter.setPen(QPen(QColor(colour), 2.0, style))
            here = x + number * _GAP
            painter.drawLine(QPointF(here, -half), QPointF(here, half))
            painter.setPen(QPen(QColor(colour), 2.0))
            for side in (-1, 1):
                painter.drawLine(QPointF(here - _TICK, side * half), QPointF(here + _TICK, side * half))
            painter.setFont(font)
            painter.setPen(QColor(now.ink if number == 0 else now.faint))
            place = (
                QRectF(words_at, -room, self.width(), room - 2)
                if number == 0
                else QRectF(words_at, 2, self.width(), room)
            )
            up = Qt.AlignmentFlag.AlignBottom if number == 0 else Qt.AlignmentFlag.AlignTop
            painter.drawText(place, Qt.AlignmentFlag.AlignLeft | up, words)


def round_factor(most: float) -> float:
    """The largest round number up to ``most``: 1, 1.5, 2, 3 ... 8 times a power of ten; below 1 it is 1."""
    if most <= 1:
        return 1.0
    power = 10.0 ** math.floor(math.log10(most))
    return max(step for step in _STEPS if step * power <= most * (1 + 1e-9)) * power


def thread_line(drawn: Drawn, side: int, start: float, end: float, scale: float) -> list[tuple[float, float]]:
    """Crests and roots along one side from ``start`` to ``end``: (z, radius), mm; the sides are half a pitch apart."""
    if drawn.pitch * scale < _LEAST_TURN_PX:
        middle = (drawn.major + drawn.minor) / 4
        return [(start, middle), (end, middle)]
    crest, root = drawn.major / 2, drawn.minor / 2
    flat, half = drawn.pitch / 8, drawn.pitch / 2
    shift = 0.0 if side > 0 else half
    points = [(start, 0.0)]
    turns = math.ceil((end - start) / drawn.pitch) + 1
    for turn in range(-1, turns):
        middle = start + turn * drawn.pitch + shift
        points += [
            (middle - flat / 2, crest), (middle + flat / 2, crest), (middle + half - flat, root),
            (middle + half + flat, root),
        ]  # fmt: skip
    inside = [(z, radius) for z, radius in points[1:] if start < z < end]
    return [(start, _at(points[1:], start)), *inside, (end, _at(points[1:], end))]


def _at(points: list[tuple[float, float]], z: float) -> float:
    """The radius of the line through ``points`` at ``z``."""
    for (left, low), (right, high) in itertools.pairwise(points):
        if left <= z <= right and right > left:
            return low + (high - low) * (z - left) / (right - left)
    return points[-1][1]


def _moved(drawn: Drawn, z: float, times: float | None) -> float:
    """How far the axis at ``z`` is off the hole's, mm on the picture: clearance, and lean about the mouth."""
    if times is None:
        return 0.0
    lean = math.tan(math.radians(drawn.tilt))
    return times * (max(drawn.clearance, 0.0) + lean * (z - drawn.engagement))
