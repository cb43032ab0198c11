"""The picture of a part, large: zoom and pan by mouse, touchpad and keys, lines drawn over it."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

import numpy as np
import numpy.typing as npt
import pyqtgraph as pg
from PySide6.QtCore import QEvent, QPointF, QRectF, QSize, Qt, Signal
from PySide6.QtGui import QImage, QKeyEvent, QNativeGestureEvent, QPainter, QPen, QWheelEvent
from PySide6.QtWidgets import QGraphicsPathItem, QWidget

from gui.levels import Bytes
from gui.plots import drawn, pen
from gui.theme import theme
from gui.zoom_keys import look_about

_LETTERS, _LINES = 36, 8
"""The least size of a picture: what is written over it has room."""
_CRISP = 4.0  # screen pixels a picture pixel, from which on pixels are shown as squares


class Levels(pg.GraphicsObject):  # type: ignore[misc]
    """A picture drawn from whichever of its levels suits the zoom. Pixel centres lie on whole numbers."""

    def __init__(self) -> None:
        super().__init__()
        self.setFlag(Levels.GraphicsItemFlag.ItemClipsChildrenToShape)
        self._images: tuple[QImage, ...] = ()
        self._kept: tuple[Bytes, ...] = ()

    def set_levels(self, levels: Sequence[Bytes]) -> None:
        """Show ``levels``, the largest first; none: nothing."""
        if (self._kept and (not levels or levels[0].shape != self._kept[0].shape)) or not self._kept:
            self.prepareGeometryChange()
        self._kept = tuple(levels)  # the images look into this memory
        self._images = tuple(image_of(level) for level in levels)
        self.update()

    @property
    def size(self) -> tuple[int, int]:
        """Width and height, px; (0, 0) where nothing is shown."""
        return (self._images[0].width(), self._images[0].height()) if self._images else (0, 0)

    def boundingRect(self) -> QRectF:
        width, height = self.size
        return QRectF(-0.5, -0.5, width, height)

    def paint(self, painter: QPainter, option: Any, widget: QWidget | None = None) -> None:  # noqa: ARG002
        if not self._images:
            return
        zoom = painter.worldTransform().m11() or painter.worldTransform().m12()
        factor = abs(zoom) * painter.device().devicePixelRatioF()
        wanted = 0
        while wanted + 1 < len(self._images) and factor * 2 ** (wanted + 1) <= 1.0:
            wanted += 1
        image = self._images[wanted]
        sx, sy = self.size[0] / image.width(), self.size[1] / image.height()
        shown = self.boundingRect()
        view = self.getViewBox()
        if view is not None:
            shown = shown.intersected(view.viewRect().adjusted(-1, -1, 1, 1))
        if shown.isEmpty():
            return
        source = QRectF((shown.x() + 0.5) / sx, (shown.y() + 0.5) / sy, shown.width() / sx, shown.height() / sy)
        painter.setRenderHint(QPainter.RenderHint.SmoothPixmapTransform, factor < _CRISP)
        painter.drawImage(shown, image, source)


def image_of(level: Bytes) -> QImage:
    """``level`` as Qt shows it; it looks into the same memory."""
    height, width = level.shape[:2]
    if level.ndim == 3:
        return QImage(level.data, width, height, level.strides[0], QImage.Format.Format_BGR888)
    return QImage(level.data, width, height, level.strides[0], QImage.Format.Format_Grayscale8)


class _Ground(pg.ViewBox):  # type: ignore[misc]
    """Two fingers on a touchpad pan; the wheel, and two fingers with Ctrl, zoom about the pointer."""

    def wheelEvent(self, event: Any, axis: int | None = None) -> None:
        pixels = event.pixelDelta() if hasattr(event, "pixelDelta") else None
        if pixels is not None and not pixels.isNull() and not event.modifiers() & Qt.KeyboardModifier.ControlModifier:
            scale = self.viewPixelSize()
            self.translateBy(x=-pixels.x() * scale[0], y=-pixels.y() * scale[1])
            event.accept()
            return
        super().wheelEvent(event, axis)


class PictureView(pg.GraphicsView):  # type: ignore[misc]
    """A picture with lines over it. Coordinates are those of the picture: pixel centres whole, x right, y down.

    ``clicked(x, y)``: the person clicked there without dragging.
    """

    clicked = Signal(float, float)

    def __init__(self, name: str, parent: QWidget | None = None) -> None:
        """``name`` is what a screen reader calls it."""
        super().__init__(parent)
        self.setAccessibleName(name)
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self.ground = _Ground(enableMenu=False)
        self.ground.setAspectLocked(True)
        self.ground.invertY(True)
        self.setCentralItem(self.ground)
        self.levels = Levels()
        self.ground.addItem(self.levels)
        # lines are wider on the screen than in the picture: what they cover is not known before they are painted
        self.setViewportUpdateMode(PictureView.ViewportUpdateMode.FullViewportUpdate)
        self._lines: dict[str, list[QGraphicsPathItem]] = {}
        self.theme_changed()

    def minimumSizeHint(self) -> QSize:
        return QSize(_LETTERS * self.fontMetrics().averageCharWidth(), _LINES * self.fontMetrics().height())

    def sizeHint(self) -> QSize:
        return self.minimumSizeHint()

    def theme_changed(self) -> None:
        """Take the colours of the current theme."""
        self.setBackground(theme().picture)

    # --- the picture

    def set_levels(self, levels: Sequence[Bytes], *, keep_zoom: bool = False) -> None:
        """Show another picture (``gui.levels``), whole unless ``keep_zoom``."""
        same = keep_zoom and bool(levels) and self.levels.size == (levels[0].shape[1], levels[0].shape[0])
        self.levels.set_levels(levels)
        if not same:
            self.show_all()

    def set_frame(self, image: Bytes) -> None:
        """Show a live frame (height, width) or (height, width, 3) BGR without making levels of it."""
        self.set_levels((image,), keep_zoom=True)

    def show_all(self) -> None:
        """The whole picture."""
        self.show_region(self.levels.boundingRect())

    def show_region(self, region: QRectF, padding: float = 0.02) -> None:
        """Zoom to ``region``."""
        if not region.isEmpty():
            self.ground.setRange(region, padding=padding)

    # --- lines over it

    def set_lines(
        self, layer: str, lines: Sequence[npt.NDArray[np.float64]], colour: str, width: float = 1.5,
        style: Qt.PenStyle = Qt.PenStyle.SolidLine,
    ) -> None:  # fmt: skip
        """Draw ``lines``, each (n, 2) px, as the layer of that name, in place of those there."""
        self.clear_lines(layer)
        items = []
        with_pen: QPen = pen(colour, width, style)
        for line in lines:
            item = drawn(pg.arrayToQPath(line[:, 0], line[:, 1]), pen=with_pen, smooth=True)
            item.setZValue(10)
            item.setParentItem(self.levels)  # which clips it: no line lies beside the picture
            items.append(item)
        self._lines[layer] = items

    def clear_lines(self, layer: str | None = None) -> None:
        """Take the lines of ``layer`` away, or all."""
        for name in [layer] if layer is not None else list(self._lines):
            for curve in self._lines.pop(name, []):
                self.levels.scene().removeItem(curve)

    # --- hands

    def place_in_picture(self, position: QPointF) -> QPointF:
        """Where in the picture a point of this widget lies."""
        return QPointF(self.ground.mapSceneToView(self.mapToScene(position.toPoint())))

    def keyPressEvent(self, event: QKeyEvent) -> None:
        if not look_about(self.ground, event, self.show_all):
            super().keyPressEvent(event)

    def viewportEvent(self, event: QEvent) -> bool:
        if isinstance(event, QNativeGestureEvent) and event.gestureType() == Qt.NativeGestureType.ZoomNativeGesture:
            factor = 1 / max(1 + event.value(), 0.2)
            self.ground.scaleBy((factor, factor), center=self.place_in_picture(event.position()))
            return True
        return bool(super().viewportEvent(event))

    def wheelEvent(self, event: QWheelEvent) -> None:
        if not event.pixelDelta().isNull() and not event.modifiers() & Qt.KeyboardModifier.ControlModifier:
            across, down = self.ground.viewPixelSize()
            self.ground.translateBy(x=-event.pixelDelta().x() * across, y=-event.pixelDelta().y() * down)
            event.accept()
            return
        super().wheelEvent(event)
