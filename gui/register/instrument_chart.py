"""The charts of an instrument in the window: every screw among the zones of the classes, and how the answer grew."""

from __future__ import annotations

import numpy as np
import pyqtgraph as pg
from PySide6.QtCore import QPointF, QRectF, Qt, Signal
from PySide6.QtGui import QMouseEvent, QPainterPath, QResizeEvent
from PySide6.QtWidgets import QWidget

from gui.legend import Legend, Named
from gui.plots import Plot, drawn, pen, zone_brush
from gui.points import Points
from gui.theme import theme
from gui.worded import word_of, worded
from records.figures.instrument_view import ChartedScrew, by_size
from records.figures.style import scale_of
from records.instrument import chart_of
from records.instrument_page import InstrumentPage

_GAP = 0.8  # columns between two sizes
_NEAR = 14.0  # px within which a click is meant for a point
_MOST_SYSTEMS = 4
_LEGEND_IN = 8
_LETTERS = 0.8  # of the usual size, of the sizes' names
_AXIS_PX = 60  # of the width, left of the plot


class _WithLegend(Plot):
    def __init__(self, name: str, parent: QWidget | None = None, lines: int = 16) -> None:
        self._page: InstrumentPage | None = None
        self._inches = False
        super().__init__(name, parent, lines)
        self.legend = Legend(self)
        self.setMouseEnabled(x=False, y=False)

    def show_page(self, page: InstrumentPage | None, *, inches: bool) -> None:
        """Show the screws of ``page``."""
        self._page, self._inches = page, inches
        self.redraw()

    def resizeEvent(self, event: QResizeEvent) -> None:
        super().resizeEvent(event)
        if hasattr(self, "legend"):  # the first comes while it is made
            self.legend.put(self.width() - _LEGEND_IN, _LEGEND_IN)
            self.redraw()

    def _show(self, left: float, right: float, low: float, high: float) -> None:
        """Show all of that, left of the legend."""
        room = max(self.width() - _AXIS_PX, 1)
        beside = min(self.legend.width() + 2 * _LEGEND_IN, 0.6 * room)
        self.setRange(xRange=(left, left + (right - left) * room / (room - beside)), yRange=(low, high), padding=0)

    def _name(self, lines: list[Named]) -> None:
        self.legend.show_lines(lines)
        self.legend.put(self.width() - _LEGEND_IN, _LEGEND_IN)


class InstrumentChart(_WithLegend):
    """Pitch diameter less basic of every screw, with U95, over the zones; the number is that of the plan.

    ``part_chosen(part)``: the person clicked on a point.
    """

    part_chosen = Signal(int)

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__("", parent)
        self.setAccessibleName(self.tr("Pitch diameters of the instrument's screws"))
        self._at: list[tuple[float, float, int]] = []
        self.odd: list[str] = []

    def draw(self) -> None:
        self.clear()
        self._at, self.odd = [], []
        scale = scale_of(inches=self._inches)
        self.setLabel("left", f"{word_of('pitch diameter less basic')}, {scale.fine_name}")
        page = self._page
        if page is None or page.answer is None:
            self._name([])
            return
        numbers = {part: place.number for part, place in page.by_part.items()}
        charted, zones = chart_of(page.filed, page.answer, worded)
        looks = {name: number for number, name in enumerate(dict.fromkeys(zone.name for zone in zones))}
        column, ticks, low, high = 0.0, [], 0.0, 0.0
        tops: list[tuple[float, str]] = []
        for size, members in by_size(charted):
            start, basic = column - 0.5, members[0].basic
            for screw in members:
                value = (screw.pitch_diameter.value - screw.basic) * scale.fine
                u95 = screw.pitch_diameter.u95 * scale.fine
                self._point(column, value, u95, screw)
                low, high = min(low, value - u95), max(high, value + u95)
                ticks.append((column, str(numbers.get(screw.part, ""))))
                column += 1.0
            for zone in zones:
                if zone.size == size:
                    edges = [(edge - basic) * scale.fine for edge in (zone.low, zone.high)]
                    self._band(start, column - 0.5, edges, looks[zone.name])
                    low, high = min(low, *edges), max(high, *edges)
            tops.append(((start + column - 0.5) / 2, size))
            column += _GAP
        room = 0.06 * (high - low)
        for middle, size in tops:
            label = pg.TextItem(size, color=theme().ink, anchor=(0.5, 0.0))
            font = label.textItem.font()
            font.setPointSizeF(_LETTERS * font.pointSizeF())
            label.setFont(font)
            label.setPos(middle, high + 3 * room)
            self.addItem(label)
        self.addItem(pg.InfiniteLine(0.0, angle=0, pen=pen(theme().faint, 1.0)))
        self.getAxis("bottom").setTicks([ticks])
        colours = theme().zones
        self._name([Named(name, pen(colours[k % len(colours)]), zone_brush(k)) for name, k in looks.items()])
        self._show(-0.8, column - _GAP, low - room, high + 3 * room)

    def _point(self, x: float, y: float, u95: float, screw: ChartedScrew) -> None:
        now = theme()
        colour = now.rejected if screw.odd else now.ink
        path = QPainterPath(QPointF(x, y - u95))
        path.lineTo(x, y + u95)
        self.addItem(drawn(path, pen=pen(colour, 1.4), smooth=True), ignoreBounds=True)
        mark = Points(np.array([x]), np.array([y]), pg.mkColor(colour), 9.0, square=bool(screw.odd))
        mark.setToolTip(screw.label)
        self.addItem(mark)
        self._at.append((x, y, screw.part))
        if screw.odd:
            self.odd.append(screw.odd)
            label = pg.TextItem(screw.odd, color=colour, anchor=(1.0, 1.0), fill=now.raised)
            label.setPos(x, y)
            label.setZValue(20)
            self.addItem(label, ignoreBounds=True)

    def _band(self, left: float, right: float, edges: list[float], number: int) -> None:
        path = QPainterPath()
        path.addRect(QRectF(QPointF(left, min(edges)), QPointF(right, max(edges))))
        colour = theme().zones[number % len(theme().zones)]
        item = drawn(path, pen=pen(colour, 1.0), brush=zone_brush(number))
        item.setZValue(-1)
        self.addItem(item, ignoreBounds=True)

    def mouseReleaseEvent(self, event: QMouseEvent) -> None:
        super().mouseReleaseEvent(event)
        to_screen = self.box.mapViewToScene
        near = []
        for x, y, part in self._at:
            away = self.mapFromScene(to_screen(QPointF(x, y))) - event.position().toPoint()
            near.append((float(np.hypot(away.x(), away.y())), part))
        if near and min(near)[0] <= _NEAR:
            self.part_chosen.emit(min(near)[1])


class GrowthChart(_WithLegend):
    """The probability of each system as screws were added."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__("", parent, 12)
        self.setAccessibleName(self.tr("How the answer grew, screw by screw"))

    def draw(self) -> None:
        self.clear()
        self.setLabel("left", word_of("probability, %"))
        self.setLabel("bottom", self.tr("screws added, in the order of their positions"))
        page = self._page
        if page is None or page.answer is None:
            self._name([])
            return
        found, now = page.answer.sheet.found, theme()
        x = np.arange(len(found.grown))
        styles = (Qt.PenStyle.SolidLine, Qt.PenStyle.DashLine, Qt.PenStyle.DotLine, Qt.PenStyle.DashDotLine)
        named = []
        for k, system in enumerate(found.systems[:_MOST_SYSTEMS]):
            line = pen(now.zones[k], 1.8, styles[k])
            y = 100 * found.grown[:, k]
            self.addItem(drawn(pg.arrayToQPath(x.astype(float), y), pen=line, smooth=True), ignoreBounds=True)
            self.addItem(Points(x.astype(float), y, pg.mkColor(now.zones[k]), 6.0, square=k % 2 == 1))
            named.append(Named(word_of(system.system), line))
        self.getAxis("bottom").setTicks([[(float(i), str(i)) for i in x]])
        self._name(named)
        self._show(-0.3, len(x) - 0.7, -4, 104)
