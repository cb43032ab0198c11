"""Thousands of points in a plot, drawn in a few milliseconds: one mark, stamped at each of them."""

from __future__ import annotations

from typing import Any

import numpy as np
import numpy.typing as npt
import shiboken6
from PySide6.QtCore import QPointF, QRectF, Qt
from PySide6.QtGui import QColor, QPainter, QPixmap
from PySide6.QtWidgets import QGraphicsItem

Array = npt.NDArray[np.float64]
_ROOM = 1.0  # px around the mark, for its soft edge


class Points(QGraphicsItem):
    """Points in the plot's units, as marks of so many pixels of the screen."""

    def __init__(self, x: Array, y: Array, colour: QColor, size: float, *, square: bool = False) -> None:
        """``x`` and ``y``: (n,). ``size``: px across. ``square``: marks are squares and not discs."""
        super().__init__()
        known = np.isfinite(x) & np.isfinite(y)
        self._x, self._y = np.asarray(x, float)[known], np.asarray(y, float)[known]
        self._colour, self._size, self._square = QColor(colour), size, square
        self._mark: QPixmap | None = None
        self._bounds = QRectF()
        if self._x.size:
            low, high = QPointF(self._x.min(), self._y.min()), QPointF(self._x.max(), self._y.max())
            self._bounds = QRectF(low, high)

    @property
    def places(self) -> Array:
        """(n, 2), where the marks are."""
        return np.column_stack([self._x, self._y])

    def boundingRect(self) -> QRectF:
        return self._bounds

    def paint(self, painter: QPainter, option: Any, widget: Any = None) -> None:  # noqa: ARG002
        to, scale = painter.worldTransform(), painter.device().devicePixelRatioF()
        across = self._x * to.m11() + self._y * to.m21() + to.dx()
        down = self._x * to.m12() + self._y * to.m22() + to.dy()
        port = painter.viewport()
        seen = (across > -self._size) & (across < port.width() + self._size)
        seen &= (down > -self._size) & (down < port.height() + self._size)
        if not seen.any():
            return
        mark = self._stamp(scale)
        stamps = np.zeros((int(seen.sum()), 10))  # as QPainter.PixmapFragment: ten doubles
        stamps[:, 0], stamps[:, 1] = across[seen], down[seen]
        stamps[:, 4], stamps[:, 5] = mark.width(), mark.height()
        stamps[:, 6:8] = 1 / scale
        stamps[:, 9] = 1.0
        painter.resetTransform()
        first: Any = shiboken6.Shiboken.wrapInstance(stamps.ctypes.data, QPainter.PixmapFragment)  # of all in a row
        painter.drawPixmapFragments(first, len(stamps), mark)

    def _stamp(self, scale: float) -> QPixmap:
        """The mark, once for a screen of that many pixels a unit."""
        side = round((self._size + 2 * _ROOM) * scale)
        if self._mark is None or self._mark.width() != side:
            mark = QPixmap(side, side)
            mark.fill(Qt.GlobalColor.transparent)
            painter = QPainter(mark)
            painter.setRenderHint(QPainter.RenderHint.Antialiasing)
            painter.setPen(Qt.PenStyle.NoPen)
            painter.setBrush(self._colour)
            half = self._size * scale / 2
            inside = QRectF(side / 2 - half, side / 2 - half, 2 * half, 2 * half)
            if self._square:
                painter.drawRect(inside)
            else:
                painter.drawEllipse(inside)
            painter.end()
            self._mark = mark
        return self._mark
