"""How plots look in this window: the theme's colours, thin axes, no grid, lengths in the current unit."""

from __future__ import annotations

import pyqtgraph as pg
from PySide6.QtCore import QSize, Qt
from PySide6.QtGui import (
    QBrush,
    QColor,
    QFont,
    QFontMetrics,
    QPainter,
    QPainterPath,
    QPaintEvent,
    QPen,
    QShowEvent,
    QTextOption,
)
from PySide6.QtWidgets import QApplication, QGraphicsPathItem, QStyleOptionGraphicsItem, QWidget

from gui.framed import Framed
from gui.theme import Theme, theme
from gui.turns import Soon
from threads.shared.formatting import MM_PER_INCH

HATCHES = (
    Qt.BrushStyle.BDiagPattern, Qt.BrushStyle.FDiagPattern, Qt.BrushStyle.Dense6Pattern, Qt.BrushStyle.DiagCrossPattern,
    Qt.BrushStyle.HorPattern,
)  # fmt: skip
"""Of zones side by side, so that colour is not the only sign; in the order of ``Theme.zones``."""

_AROUND = 12  # px around the words of a title
_AFTER_PAINTING_MS = 15
"""Plots are drawn when labels and tables are on the screen: nobody waits for all of it at once."""

_LETTERS, _LINES = 34, 11
"""The least size of a plot: its numbers and titles have room, and what is drawn between them."""

pg.setConfigOptions(antialias=True, imageAxisOrder="row-major")


class Plot(Framed):
    """A plot in the colours of the window. ``theme_changed`` is to be called when the theme changes.

    What it shows is drawn in ``draw``, once for any number of ``redraw`` and in a turn of its own: an interface that
    fills labels and tables at the same time stays quick. What nobody sees is drawn when it is seen.
    """

    def __init__(self, name: str, parent: QWidget | None = None, lines: int = _LINES) -> None:
        """``name`` is what a screen reader calls it; ``lines`` of text are its least height."""
        super().__init__(parent)
        self.setAccessibleName(name)
        self.frame.setContentsMargins(0, 7, 0, 0)  # half a line: the highest number on the axis is whole
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self._due, self._veiled = False, False
        self._lines = lines
        self._refit = Soon(self, self._fit_titles, 0)  # once all axes have their places
        self._titled: dict[str, object] = {}
        self.box.sigResized.connect(lambda _: self._refit.want())
        self._soon = Soon(self, self._draw_now, _AFTER_PAINTING_MS)
        self._colour()

    def minimumSizeHint(self) -> QSize:
        return QSize(_LETTERS * self.fontMetrics().averageCharWidth(), self._lines * self.fontMetrics().height())

    def sizeHint(self) -> QSize:
        return self.minimumSizeHint()

    def redraw(self) -> None:
        """Draw anew, soon."""
        self._due = True
        if self.isVisible():
            self._soon.want()

    def draw(self) -> None:
        """Fill the plot from what is to be shown."""

    def _draw_now(self) -> None:
        if self.closed:  # it was closed meanwhile
            return
        if self._due:
            self._due = False
            self.draw()
            self._fit_titles()
        if self._veiled:
            self._veiled = False
            self.viewport().update()

    def _veil(self) -> None:
        """Paint nothing but the ground while all around it is painted too; what is to be seen comes in its own turn."""
        self._veiled = True
        self._soon.want()

    def paintEvent(self, event: QPaintEvent) -> None:
        if self._veiled:
            QPainter(self.viewport()).fillRect(event.rect(), QColor(theme().raised))
        else:
            super().paintEvent(event)

    def showEvent(self, event: QShowEvent) -> None:
        super().showEvent(event)
        self._veil()

    def _fit_titles(self) -> None:
        """Titles of axes in the size of the text in use: in two lines, and then smaller, where an axis is short."""
        for side in () if self.closed else ("left", "bottom"):
            axis = self.getAxis(side)
            place, upright = axis.geometry(), side == "left"
            middle, whole = (place.center().y(), self.height()) if upright else (place.center().x(), self.width())
            room = int(2 * min(middle, whole - middle)) - 2
            text, font = axis.label.toPlainText().strip(), QFont(QApplication.font())
            if not text or room <= 0:
                continue
            longest = max(map(QFontMetrics(font).horizontalAdvance, text.split())) + _AROUND
            font.setPointSizeF(font.pointSizeF() * min(room / longest, 1.0))
            wide = QFontMetrics(font).horizontalAdvance(text) + _AROUND
            wanted = (font.pointSizeF(), min(room, wide))
            if self._titled.get(side) != (text, wanted):
                self._titled[side] = (text, wanted)
                axis.label.setFont(font)
                axis.label.document().setDefaultTextOption(QTextOption(Qt.AlignmentFlag.AlignHCenter))
                axis.label.setTextWidth(min(room, wide))
                axis.showLabel(True)  # which gives it the height that it needs
                axis.resizeEvent()

    def theme_changed(self) -> None:
        """Take the colours of the current theme."""
        self._colour()
        self.redraw()
        if self.isVisible():
            self._veil()

    def _colour(self) -> None:
        now = theme()
        self.setBackground(now.raised)
        for side in ("left", "bottom"):
            axis = self.getAxis(side)
            axis.setPen(pg.mkPen(now.line))
            axis.setTextPen(pg.mkPen(now.ink))


def pen(colour: str, width: float = 1.0, style: Qt.PenStyle = Qt.PenStyle.SolidLine) -> QPen:
    """A pen as wide on the screen as it says, whatever the zoom."""
    made = pg.mkPen(colour, width=width, style=style)
    made.setCosmetic(True)
    return made


def drawn(
    path: QPainterPath, *, pen: QPen | None = None, brush: QBrush | None = None, smooth: bool = False
) -> QGraphicsPathItem:
    """A path as an item of a plot: many times cheaper than a plot's own curves, and than a ``smooth`` one."""
    item = _Smooth(path) if smooth else QGraphicsPathItem(path)
    item.setPen(pen or QPen(Qt.PenStyle.NoPen))
    item.setBrush(brush or QBrush(Qt.BrushStyle.NoBrush))
    return item


class _Smooth(QGraphicsPathItem):
    def paint(self, painter: QPainter, option: QStyleOptionGraphicsItem, widget: QWidget | None = None) -> None:
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        super().paint(painter, option, widget)


def zone_brush(number: int, now: Theme | None = None, alpha: int = 150) -> QBrush:
    """The hatch of zone ``number`` in its colour."""
    colours = (now or theme()).zones
    colour = QColor(colours[number % len(colours)])
    colour.setAlpha(alpha)
    return QBrush(colour, HATCHES[number % len(HATCHES)])


def length_unit(*, inches: bool) -> tuple[float, str]:
    """Factor from mm to what stands on the axes, and its name."""
    return (1 / MM_PER_INCH, "in") if inches else (1.0, "mm")
