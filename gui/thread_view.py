"""The one-thread view: every ridge in view folded onto one, over the zones of the threads that it may be.

It shows the axial section. The upright axis is the diameter, so that limits can be read off it; lengths along and
across the part are to one scale. What ``records.figures.thread_view`` prints is here alive: zoom, pan, unit.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from typing import Any

import numpy as np
import numpy.typing as npt
import pyqtgraph as pg
from PySide6.QtCore import Qt
from PySide6.QtGui import QKeyEvent, QPainterPath, QResizeEvent
from PySide6.QtWidgets import QWidget

from gui.legend import Legend, Named
from gui.plots import Plot, drawn, length_unit, pen, zone_brush
from gui.points import Points
from gui.theme import theme
from gui.thinned import thinned
from gui.zoom_keys import look_about
from records.figures.thread_view import Zone
from threads.shared.quantity import Quantity
from vision.result.folded import Folded

Array = npt.NDArray[np.float64]

_REACH = 0.62  # pitches to either side of the ridge's middle
_DEEPER = 0.10  # of the depth: room below the root and above the crest
_CURVE = 260
_LEGEND_IN = 10  # px from the right edge of the plot
_UNSEEN = 1e-5  # of the width of the view, which can be magnified
_MOST_POINTS = 5000  # on the screen, of one thread


@dataclass(frozen=True)
class Shown:
    """One thread in the view.

    Attributes:
        folded: its ridges. name: what the legend calls it; "" for a thread that is alone.
        turned: it points the other way: left and right are exchanged.
    """

    folded: Folded
    name: str = ""
    turned: bool = False


class ThreadView(Plot):
    """One or two threads over zones."""

    def __init__(self, name: str, parent: QWidget | None = None) -> None:
        """``name`` is what a screen reader calls it."""
        self._threads: tuple[Shown, ...] = ()
        self._zones: tuple[Zone, ...] = ()
        self._measured: Quantity | None = None
        self._inches = False
        self._fresh = False
        self._look: Callable[[], None] = self.show_ridge
        super().__init__(name, parent)
        self.box.setAspectLocked(True, ratio=2.0)  # the upright axis is a diameter
        self.legend = Legend(self)
        self.redraw()

    def set_threads(
        self,
        threads: Sequence[Shown],
        zones: Sequence[Zone] = (),
        measured: Quantity | None = None,
        *,
        inches: bool = False,
    ) -> None:
        """Show ``threads`` over ``zones``; ``measured`` is the pitch diameter whose U95 the flank's view draws."""
        self._threads, self._zones, self._measured = tuple(threads), tuple(zones), measured
        self._inches = inches
        self._look = self.show_ridge
        self._fresh = True
        self.redraw()

    # --- where one looks

    def show_ridge(self) -> None:
        """The whole ridge."""
        self._look = self.show_ridge
        sections = [shown.folded.section for shown in self._threads]
        if not sections:
            return
        tops = [s.crest for s in sections] + [z.section.most.crest for z in self._zones]
        roots = [s.root for s in sections]
        depth = max(tops) - min(roots)
        of, _ = length_unit(inches=self._inches)
        reach = _REACH * sections[0].pitch * of
        low, high = 2 * (min(roots) - _DEEPER * depth) * of, 2 * (max(tops) + _DEEPER * depth) * of
        self.setRange(xRange=(-reach, reach), yRange=(low, high), padding=0)

    def show_flank(self) -> None:
        """The right flank where it crosses the pitch line, magnified: what separates the classes."""
        self._look = self.show_flank
        if not self._threads:
            return
        section = self._threads[0].folded.section
        of, _ = length_unit(inches=self._inches)
        widths = [abs(side.pitch_radius - section.pitch_radius) for z in self._zones for side in _sides(z)]
        reach = float(np.clip(1.6 * max(widths, default=0.0), 0.02 * section.pitch, 0.12 * section.pitch)) * of
        middle, radius = section.pitch / 4 * of, float(section.radius(section.pitch / 4)) * of
        self.setRange(
            xRange=(middle - reach, middle + reach), yRange=(2 * (radius - reach), 2 * (radius + reach)), padding=0
        )

    def keyPressEvent(self, event: QKeyEvent) -> None:
        if not look_about(self.box, event, self.show_ridge):
            super().keyPressEvent(event)

    # --- drawing

    def draw(self) -> None:
        self.clear()
        of, unit = length_unit(inches=self._inches)
        self.setLabel("bottom", self.tr("along the axis, {unit}").format(unit=unit))
        self.setLabel("left", self.tr("diameter, {unit}").format(unit=unit))
        if not self._threads:
            self.legend.show_lines(())
            return
        named = [self._band(number, zone, of) for number, zone in enumerate(self._zones)]
        first = self._threads[0].folded.section
        middle = 2 * first.pitch_radius * of
        self.addItem(pg.InfiniteLine(middle, angle=0, pen=pen(theme().faint, 1.0, Qt.PenStyle.DashDotLine)))
        if self._measured is not None:
            self._uncertain(self._threads[0], self._measured, of)
        named += [self._thread(number, shown, of) for number, shown in enumerate(self._threads)]
        self.legend.show_lines(named)
        self._put_legend()
        if self._fresh:
            self._fresh = False
            self._look()

    def resizeEvent(self, event: QResizeEvent) -> None:
        super().resizeEvent(event)
        if hasattr(self, "legend"):  # the first comes while it is made
            self._put_legend()

    def _put_legend(self) -> None:
        self.legend.put(self.width() - _LEGEND_IN, _LEGEND_IN + 5)

    def _band(self, number: int, zone: Zone, of: float) -> Named:
        """One zone between least and most material."""
        now = theme()
        pitch = zone.section.most.pitch
        s = np.linspace(-_REACH, _REACH, _CURVE) * pitch
        colour = now.zones[number % len(now.zones)]
        line, brush = pen(colour, 1.2), zone_brush(number, now)
        least, most = (2 * side.radius(s) * of for side in _sides(zone))
        self.addItem(drawn(_between(s * of, least, most), brush=brush), ignoreBounds=True)
        lines = _line(s * of, least)
        lines.addPath(_line(s * of, most))
        self.addItem(drawn(lines, pen=line), ignoreBounds=True)
        return Named(zone.name, line, brush)

    def _uncertain(self, shown: Shown, measured: Quantity, of: float) -> None:
        """The U95 of the pitch diameter, as the band in which the fitted section lies."""
        s, r = _curve(shown)
        colour = pg.mkColor(theme().ink)
        colour.setAlpha(45)
        band = _between(s * of, (2 * r - measured.u95) * of, (2 * r + measured.u95) * of)
        self.addItem(drawn(band, brush=pg.mkBrush(colour)), ignoreBounds=True)

    def _thread(self, number: int, shown: Shown, of: float) -> Named:
        now = theme()
        folded = shown.folded
        flip = -1.0 if shown.turned else 1.0
        alone = len(self._threads) == 1
        step = max(folded.s.size // _MOST_POINTS, 1)
        s, r, upper = folded.s[::step], folded.r[::step], folded.upper[::step]
        kinds = [(upper, False, now.outline, 4.0), (~upper, True, now.rejected, 3.0)]
        if not alone:
            kinds = [(np.ones_like(upper), number % 2 == 1, (now.outline, now.rejected)[number % 2], 3.0)]
        for on, square, colour, size in kinds:
            fill = pg.mkColor(colour)
            fill.setAlpha(170 if alone else 90)
            self.addItem(Points(flip * s[on] * of, 2 * r[on] * of, fill, size, square=square))
        along, radius = _curve(shown)
        colour = now.ink if alone else (now.outline, now.rejected)[number % 2]
        style = Qt.PenStyle.SolidLine if number % 2 == 0 else Qt.PenStyle.DashLine
        line = pen(colour, 1.8, style)
        self.addItem(drawn(_line(along * of, 2 * radius * of), pen=line, smooth=True), ignoreBounds=True)
        return Named(shown.name or self.tr("fitted axial section"), line)


def _line(x: Array, y: Array) -> QPainterPath:
    """A curve, x and y (n,)."""
    return pg.arrayToQPath(*thinned(np.column_stack([x, y]), _UNSEEN * float(np.ptp(x))).T)


def _between(x: Array, low: Array, high: Array) -> QPainterPath:
    """The area between two curves over ``x``, all (n,)."""
    return pg.arrayToQPath(np.concatenate([x, x[::-1]]), np.concatenate([low, high[::-1]]))


def _sides(zone: Zone) -> tuple[Any, Any]:
    return zone.section.least, zone.section.most


def _curve(shown: Shown) -> tuple[Array, Array]:
    section = shown.folded.section.mirrored() if shown.turned else shown.folded.section
    return section.curve(_REACH, _CURVE)
