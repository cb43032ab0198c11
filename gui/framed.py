"""What is plotted, with an axis to its left and one below it, and a title where one is set.

pyqtgraph's own plot brings about a hundred widgets, nearly all of them menus that nobody can open here: nine plots
made half of the window's widgets, and each of them was made, and styled with the others.
"""

from __future__ import annotations

from typing import Any

import pyqtgraph as pg
from PySide6.QtWidgets import QGraphicsGridLayout, QGraphicsItem, QSizePolicy, QWidget

_TITLE_PX, _EDGE_PX = 30, 1
_ABOVE_PICTURES = 0.5  # where the axes lie; what is to cover them lies at 1 or above


class _Axis(pg.AxisItem):  # type: ignore[misc]
    """Its numbers stand in the unit that its title names."""

    def __init__(self, side: str, parent: pg.GraphicsWidget) -> None:
        super().__init__(side, parent=parent)
        self.enableAutoSIPrefix(False)

    def updateAutoSIPrefix(self) -> None:
        """Look for no prefix, and do not write the title anew whenever the range changes."""


class Framed(pg.GraphicsView):  # type: ignore[misc]
    """Its methods are called as those of pyqtgraph's own plot. ``frame`` holds ``box``, where items lie, and the axes
    "left" and "bottom".
    """

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Expanding)
        self.enableMouse(False)
        self.frame = pg.GraphicsWidget()
        self._grid = QGraphicsGridLayout()
        self._grid.setContentsMargins(_EDGE_PX, _EDGE_PX, _EDGE_PX, _EDGE_PX)
        self._grid.setSpacing(0)
        self.frame.setLayout(self._grid)
        self.box = pg.ViewBox(parent=self.frame, enableMenu=False)
        self._grid.addItem(self.box, 1, 1)
        self._axes = {"left": self._axis("left", 1, 0), "bottom": self._axis("bottom", 2, 1)}
        self._title: pg.LabelItem | None = None
        self.setCentralItem(self.frame)

    def _axis(self, side: str, row: int, column: int) -> pg.AxisItem:
        axis = _Axis(side, self.frame)
        axis.linkToView(self.box)
        axis.setZValue(_ABOVE_PICTURES)
        axis.setFlag(QGraphicsItem.GraphicsItemFlag.ItemNegativeZStacksBehindParent)
        self._grid.addItem(axis, row, column)
        return axis

    def getAxis(self, side: str) -> pg.AxisItem:
        return self._axes[side]

    def setLabel(self, side: str, words: str) -> None:
        self._axes[side].setLabel(words)

    def setTitle(self, words: str, **looks: Any) -> None:
        if self._title is None:
            self._title = pg.LabelItem(parent=self.frame)
            self._grid.addItem(self._title, 0, 1)
            self._grid.setRowFixedHeight(0, _TITLE_PX)
        self._title.setText(words, **looks)

    def addItem(self, item: QGraphicsItem, *, ignoreBounds: bool = False) -> None:
        self.box.addItem(item, ignoreBounds=ignoreBounds)

    def clear(self) -> None:
        self.box.clear()

    def setMouseEnabled(self, x: bool, y: bool) -> None:
        self.box.setMouseEnabled(x, y)

    def setRange(self, **ranges: Any) -> None:
        self.box.setRange(**ranges)

    def setXRange(self, low: float, high: float, padding: float) -> None:
        self.box.setXRange(low, high, padding)

    def setYRange(self, low: float, high: float, padding: float) -> None:
        self.box.setYRange(low, high, padding)
