"""Charts of one part: errors thread by thread, and what is left of the edge, magnified."""

from __future__ import annotations

from collections.abc import Callable, Sequence

import numpy as np
import pyqtgraph as pg
from PySide6.QtCore import QCoreApplication
from PySide6.QtGui import QResizeEvent
from PySide6.QtWidgets import QVBoxLayout, QWidget

from gui.legend import Legend, Named
from gui.piece import Piece
from gui.plots import Plot, drawn, pen
from gui.points import Points
from gui.theme import theme
from threads.measured.thread import RidgeError
from threads.shared.formatting import MM_PER_INCH
from threads.shared.quantity import COVERAGE_FACTOR

_MOST_POINTS = 6000
_LEGEND_IN = 8  # px from the corner
_ROOM = 0.08  # of what is shown, around it


def fine_unit(*, inches: bool) -> tuple[float, str]:
    """Factor from mm to what small differences are shown in, and its name."""
    return (10000 / MM_PER_INCH, "0.0001 in") if inches else (1000.0, "µm")


class ThreadCharts(QWidget):
    """Pitch error and pitch diameter of each thread, with U95 against the others."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.pitch = _Chart(self.tr("Pitch error of each thread"), self._draw_pitch)
        self.diameter = _Chart(self.tr("Pitch diameter of each thread"), self._draw_diameter)
        self.diameter.box.setXLink(self.pitch.box)
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(0)
        column.addWidget(self.pitch, 4)
        column.addWidget(self.diameter, 5)
        self.pitch.getAxis("bottom").setStyle(showValues=False)  # both have one axis: its numbers stand below
        self.diameter.setLabel("bottom", self.tr("along the axis, mm"))
        self._piece: Piece | None = None
        self._inches = False

    def show_piece(self, piece: Piece | None, *, inches: bool) -> None:
        """Draw the threads of ``piece``."""
        self._piece, self._inches = piece, inches
        for plot in (self.pitch, self.diameter):
            plot.redraw()

    def _ridges(self) -> Sequence[RidgeError]:
        measurement = None if self._piece is None else self._piece.measurement
        return () if measurement is None else measurement.thread.per_thread

    def _draw_pitch(self) -> None:
        ridges = self._ridges()
        self.pitch.setLabel("left", self.tr("pitch error, {unit}").format(unit=fine_unit(inches=self._inches)[1]))
        self._draw(self.pitch, ridges, [r.pitch_error for r in ridges], [r.pitch_error_u for r in ridges])

    def _draw_diameter(self) -> None:
        ridges = self._ridges()
        mean = float(np.mean([r.pitch_diameter for r in ridges])) if ridges else 0.0
        self.diameter.setLabel("left", self.tr("pitch diameter, {unit}").format(unit=fine_unit(inches=self._inches)[1]))
        off = [r.pitch_diameter - mean for r in ridges]
        self._draw(self.diameter, ridges, off, [r.pitch_diameter_u for r in ridges])

    def _draw(self, plot: _Chart, ridges: Sequence[RidgeError], y: Sequence[float], u: Sequence[float]) -> None:
        """Points ``y`` with their U95 over the ridges, the two edges apart."""
        plot.clear()
        if not ridges:
            return
        of, now = fine_unit(inches=self._inches)[0], theme()
        edge, x = np.array([r.edge for r in ridges]), np.array([r.position for r in ridges])
        values, spread = of * np.asarray(y), of * COVERAGE_FACTOR * np.asarray(u)
        for which, square, colour in ((1, False, now.outline), (-1, True, now.rejected), (0, False, now.ink)):
            on = edge == which
            if not on.any():
                continue
            ends = np.column_stack([values[on] - spread[on], values[on] + spread[on]])
            lines = pg.arrayToQPath(np.repeat(x[on], 2), ends.ravel(), connect="pairs")
            lines.addPath(pg.arrayToQPath(x[on], values[on]))
            plot.addItem(drawn(lines, pen=pen(colour, 0.9), smooth=True), ignoreBounds=True)
            plot.addItem(Points(x[on], values[on], pg.mkColor(colour), 8.0, square=square))
        plot.addItem(pg.InfiniteLine(0.0, angle=0, pen=pen(now.faint, 1.0)))
        low, high = min(float((values - spread).min()), 0.0), max(float((values + spread).max()), 0.0)
        plot.name_edges(self.tr("their mean; lines: U95"))
        plot.setRange(xRange=(float(x.min()), float(x.max())), yRange=(low, high), padding=_ROOM)

    def theme_changed(self) -> None:
        """Take the colours of the current theme."""
        for plot in (self.pitch, self.diameter):
            plot.theme_changed()


class _WithLegend(Plot):
    """What its marks mean stands in its upper right corner."""

    def __init__(self, name: str, parent: QWidget | None = None) -> None:
        super().__init__(name, parent)
        self.legend = Legend(self)

    def name_edges(self, more: str = "") -> None:
        """Name the two edges of the part, and ``more``."""
        now = theme()
        lines = [
            Named("● " + QCoreApplication.translate("ThreadCharts", "upper edge"), pen(now.outline, 2.0)),
            Named("■ " + QCoreApplication.translate("ThreadCharts", "lower edge"), pen(now.rejected, 2.0)),
            Named(more, pen(now.ink, 1.0)),
        ]
        self.legend.show_lines(lines if more else lines[:2])
        self.legend.put(self.width() - _LEGEND_IN, _LEGEND_IN)

    def resizeEvent(self, event: QResizeEvent) -> None:
        super().resizeEvent(event)
        if hasattr(self, "legend"):
            self.legend.put(self.width() - _LEGEND_IN, _LEGEND_IN)


class _Chart(_WithLegend):
    """A plot that is filled by whoever made it."""

    def __init__(self, name: str, fill: Callable[[], None]) -> None:
        super().__init__(name)
        self._fill = fill

    def draw(self) -> None:
        self._fill()


class Residuals(_WithLegend):
    """How far each edge point lies outside the fitted thread, along it."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(QCoreApplication.translate("Residuals", "Edge points off the fitted thread"), parent)
        self._piece: Piece | None = None
        self._inches = False

    def show_piece(self, piece: Piece | None, *, inches: bool) -> None:
        """Draw the points of ``piece``."""
        self._piece, self._inches = piece, inches
        self.redraw()

    def draw(self) -> None:
        piece = self._piece
        self.clear()
        of, unit = fine_unit(inches=self._inches)
        self.setLabel("bottom", self.tr("along the thread, from its middle toward the free end, mm"))
        if piece is None or piece.folded is None:
            return
        folded, now = piece.folded, theme()
        step = max(folded.s.size // _MOST_POINTS, 1)
        for on, square, colour in ((folded.upper, False, now.outline), (~folded.upper, True, now.rejected)):
            along, out = folded.along[on][::step], of * folded.out[on][::step]
            self.addItem(Points(along, out, pg.mkColor(colour), 3.0, square=square))
        self.addItem(pg.InfiniteLine(0.0, angle=0, pen=pen(now.ink, 1.0)))
        self.box.autoRange()
        (x0, x1), (y0, y1) = self.box.viewRange()
        width, height = max(self.width(), 1), max(self.height(), 1)
        times = (height / max(y1 - y0, 1e-12) * of) / (width / max(x1 - x0, 1e-12))
        self.setLabel("left", self.tr("off the thread, {unit}").format(unit=unit))
        shown = f"{times:.2g}" if times < 100 else f"{times:.0f}"
        self.name_edges(self.tr("the fitted thread; magnified {times} times across").format(times=shown))
