"""The chart of a cut: attempts from left to right, the target as a band, the die's setting below."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np
import pyqtgraph as pg
from PySide6.QtCore import QCoreApplication, Qt
from PySide6.QtGui import QColor, QResizeEvent
from PySide6.QtWidgets import QWidget

from flankwise.cutting import CutToFit
from gui.legend import Legend, Named
from gui.plots import Plot, drawn, length_unit, pen, zone_brush
from gui.points import Points
from gui.theme import theme
from threads.shared.quantity import Quantity

_BAND, _MARK = 1, 11.0  # which of the zones' hatches; px
_ROOM = 0.15  # of what is shown, above and below
_LEAST_MM = 0.012  # of the height shown, so that a few micrometres do not fill the chart
_LEGEND_IN = 8  # px from the corner
_ENDS = 0.06  # half the width of the end of a line of U95, in attempts


class CutChart(Plot):
    """``show_answer`` fills it: each attempt a point with its U95, what comes next as an open one."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(QCoreApplication.translate("CutChart", "Pitch diameter over the attempts"), parent)
        self._answer: CutToFit | None = None
        self._settings: tuple[str, ...] = ()
        self._inches = False
        self.setMouseEnabled(False, False)
        self.legend = Legend(self)

    def show_answer(self, answer: CutToFit | None, settings: Sequence[str], *, inches: bool) -> None:
        """Draw the attempts of ``answer``; ``settings``: of the die, as typed, one an attempt."""
        self._answer, self._settings, self._inches = answer, tuple(settings), inches
        self.redraw()

    def draw(self) -> None:
        """Band, aim, attempts, the next cut."""
        self.clear()
        of, unit = length_unit(inches=self._inches)
        words = self.tr("pitch diameter, {unit}").format(unit=unit)
        self.setTitle(words, color=theme().ink, size="9pt")
        if self._answer is None:
            self.getAxis("bottom").setTicks([[]])
            return
        now, found = theme(), self._answer.found
        target = found.target
        band = pg.LinearRegionItem(
            (of * target.low, of * target.high), "horizontal", movable=False, brush=zone_brush(_BAND),
            pen=pen(now.zones[_BAND], 1.0),
        )  # fmt: skip
        self.addItem(band)
        self.addItem(pg.InfiniteLine(of * target.aim, angle=0, pen=pen(now.ink, 1.2, Qt.PenStyle.DashLine)))
        cuts = [] if found.die is None else [cut.observed.pitch_diameter for cut in found.die.cuts]
        self._mark(cuts, 1, of, now.outline)
        coming = [] if found.next_cut is None or found.good else [found.next_cut]
        self._mark(coming, len(cuts) + 1, of, now.faint, square=True)
        seen = [*cuts, *coming]
        low = min([target.low, *(one.value - one.u95 for one in seen)])
        high = max([target.high, *(one.value + one.u95 for one in seen)])
        spare = max(_ROOM * (high - low), (_LEAST_MM - (high - low)) / 2)
        self.setYRange(of * (low - spare), of * (high + spare), padding=0)
        self.setXRange(0.4, max(len(cuts) + len(coming), 3) + 0.6, padding=0)
        self._name(len(cuts), coming=bool(coming))
        lines = [
            Named(self.tr("wanted"), pen(now.zones[_BAND], 1.0), zone_brush(_BAND)),
            Named(self.tr("aim"), pen(now.ink, 1.2, Qt.PenStyle.DashLine)),
            Named(self.tr("attempt, with U95"), pen(now.outline, 1.6)),
        ]
        self.legend.show_lines([*lines, *([Named(self.tr("next, expected"), pen(now.faint, 1.6))] if coming else [])])
        self.legend.put(self.width() - _LEGEND_IN, _LEGEND_IN)

    def resizeEvent(self, event: QResizeEvent) -> None:
        super().resizeEvent(event)
        if hasattr(self, "legend"):
            self.legend.put(self.width() - _LEGEND_IN, _LEGEND_IN)

    def _mark(self, values: Sequence[Quantity], first: int, of: float, colour: str, *, square: bool = False) -> None:
        """Points with their U95 at ``first`` and after."""
        if not values:
            return
        x = np.arange(first, first + len(values), dtype=float)
        y, u95 = (of * np.array([getattr(one, name) for one in values]) for name in ("value", "u95"))
        lines = pg.arrayToQPath(np.repeat(x, 2), np.column_stack([y - u95, y + u95]).ravel(), connect="pairs")
        for end in (y - u95, y + u95):
            across = np.column_stack([x - _ENDS, x + _ENDS]).ravel()
            lines.addPath(pg.arrayToQPath(across, np.repeat(end, 2), connect="pairs"))
        self.addItem(drawn(lines, pen=pen(colour, 1.6), smooth=True), ignoreBounds=True)
        self.addItem(Points(x, y, QColor(colour), _MARK, square=square))

    def _name(self, count: int, *, coming: bool) -> None:
        """Below each attempt its number and how the die was set."""
        ticks = [
            (k + 1, f"{k + 1}\n{self._settings[k] if k < len(self._settings) else ''}".rstrip()) for k in range(count)
        ]
        if coming:
            ticks.append((count + 1, self.tr("next")))
        self.getAxis("bottom").setTicks([ticks])
        self.getAxis("bottom").setHeight(2.6 * self.fontMetrics().height() + 6)
