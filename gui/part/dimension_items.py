"""Drawn dimensions over the picture of a part: lines as wide and text as large on the screen at any zoom."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np
import pyqtgraph as pg
from PySide6.QtCore import Qt
from PySide6.QtGui import QColor, QPainter

from gui.picture_view import PictureView
from gui.plots import drawn, pen
from gui.theme import theme
from records.figures.part_view import dimension_text, rule_within, text_angle
from threads.shared.formatting import MM_PER_INCH
from vision.result.dimensions import DRAWN, Dimension

_HALO = 3.5  # px, wider than the line: seen on metal and on the light pad
_ABOVE = 15  # z of the lines, over the outline
_HEAD = 9  # px, length of an arrow
_TEXT = 0.8  # of the size of plain text: the large numbers stand on the right
_BAR = 0.25  # of the width of the view: the scale bar is shorter
_CORNER = 14  # px of the screen from the corner to the scale bar


def dimension_items(every: Sequence[Dimension], lit: str | None, *, inches: bool) -> list[pg.GraphicsObject]:
    """What is drawn of ``every``: those of ``DRAWN`` and the one that is ``lit``, which stands out with its U95."""
    items: list[pg.GraphicsObject] = []
    for one in every:
        if one.quantity in DRAWN or one.quantity == lit:
            text = dimension_text(one, inches=inches, short=one.quantity != lit)
            items += _items(one, text, lit=one.quantity == lit)
    return items


def _items(one: Dimension, text: str, *, lit: bool) -> list[pg.GraphicsObject]:
    colour, width = (theme().accent, 3.0) if lit else ("#1F1D1A", 1.2)
    edged = (("#FFFFFF", width + _HALO), (colour, width))
    paths = [pg.arrayToQPath(line[:, 0], line[:, 1]) for line in (*one.extensions, one.line)]
    items = [drawn(path, pen=pen(*each), smooth=True) for each in edged for path in paths]
    for tip, behind in ((one.line[0], one.line[1]), (one.line[-1], one.line[-2])):
        angle = float(np.degrees(np.arctan2(behind[1] - tip[1], behind[0] - tip[0])))
        items.append(pg.ArrowItem(pos=tuple(tip), angle=angle, headLen=_HEAD, tipAngle=28, pen=None, brush=colour))
    turned = text_angle(one)
    over = -one.away @ np.array([np.sin(np.radians(turned)), np.cos(np.radians(turned))]) > 0
    paper = QColor(colour) if lit else QColor(255, 255, 255, 210)
    label = pg.TextItem(
        text, color="#FFFFFF" if lit else colour, anchor=(0.5, 1.0 if over else 0.0), angle=turned, fill=paper
    )
    font = label.textItem.font()
    font.setPointSizeF(_TEXT * font.pointSizeF())
    label.setFont(font)
    label.setPos(*one.text_at)
    items.append(label)
    for number, item in enumerate(items):
        item.setZValue(_ABOVE + (5 if lit else 0) + number / 100)
        item.setAcceptedMouseButtons(Qt.MouseButton.NoButton)
    return items


def paint_scale_bar(view: PictureView, um_per_px: float, *, inches: bool) -> str:
    """Paint a round length in the lower left corner of ``view``; returns its words."""
    across = float(view.ground.viewPixelSize()[0])  # picture px to a px of the screen
    unit = um_per_px / 1000 / (MM_PER_INCH if inches else 1.0)
    length = rule_within(_BAR * view.width() * across * unit, inches=inches)
    words = f"{length:g} {'in' if inches else 'mm'}"
    wide, painter = round(length / unit / across), QPainter(view.viewport())
    bottom = view.viewport().height() - _CORNER
    metrics = painter.fontMetrics()
    painter.fillRect(
        _CORNER - 4, bottom - metrics.height() - 6, max(wide, metrics.horizontalAdvance(words)) + 8,
        metrics.height() + 14, QColor(255, 255, 255, 200),
    )  # fmt: skip
    painter.fillRect(_CORNER, bottom, wide, 4, QColor("#1F1D1A"))
    painter.setPen(QColor("#1F1D1A"))
    painter.drawText(_CORNER, bottom - metrics.descent() - 3, words)
    painter.end()
    return words
