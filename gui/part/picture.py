"""The part's picture with the fitted outline, what was set aside, and handles to set things right by hand."""

from __future__ import annotations

from typing import Any

import numpy as np
import pyqtgraph as pg
from PySide6.QtCore import QPointF, QRectF, QSize, Qt, Signal
from PySide6.QtGui import QKeyEvent, QPaintEvent, QResizeEvent
from PySide6.QtWidgets import QWidget

from gui.part.dimension_items import dimension_items, paint_scale_bar
from gui.picture_view import PictureView
from gui.piece import Piece
from gui.plots import pen
from gui.theme import theme
from gui.worded import word_of
from vision.result.dimensions import DRAWN, ELSEWHERE, Dimension, FlankSeen, dimensions, flank_at

Ends = tuple[tuple[float, float], tuple[float, float]]
Mask = tuple[float, float, float, float]

_ROOM = 0.1  # of the height, above and below, for the texts of dimensions
_AROUND_PX = 8  # the text of a dimension and its line
_LINES = 14  # of text, as high as which it is at least
_NEAR = 7.0  # px of the screen, within which a click is meant for a flank


class PartPicture(PictureView):
    """``ends_set(ends)``: an end of the threaded length was dragged. ``mask_set(mask)``: a rectangle was drawn.

    ``part_chosen(x, y)``: the person clicked on the picture. ``lit`` is the quantity whose place stands out.
    """

    ends_set = Signal(object)
    mask_set = Signal(object)
    part_chosen = Signal(float, float)

    def __init__(self, name: str, parent: QWidget | None = None) -> None:
        super().__init__(name, parent)
        self.masking = False
        self._path = ""
        self._handles: list[pg.TargetItem] = []
        self._masks: list[pg.RectROI] = []
        self._drawn: pg.RectROI | None = None
        self._corner: QPointF | None = None
        self._piece: Piece | None = None
        self._inches = False
        self._dimensions: tuple[Dimension, ...] = ()
        self._dimension_items: list[pg.GraphicsObject] = []
        self.lit: str | None = None
        self.scale_bar = ""
        self._whole = True
        self.ground.sigRangeChangedManually.connect(self._looked_closer)

    def minimumSizeHint(self) -> QSize:
        """Higher than another picture: dimensions stand beside each other in it."""
        return QSize(super().minimumSizeHint().width(), _LINES * self.fontMetrics().height())

    def show_piece(self, piece: Piece | None, *, inches: bool) -> None:
        """Show ``piece``: its picture, and over it what was found in it."""
        self._inches = inches
        fresh = piece is None or piece.path != self._path or not piece.levels
        if fresh:
            self.lit = None
        measured = None if piece is None else piece.measurement
        self._dimensions = () if measured is None else dimensions(measured)
        self._piece = piece
        if fresh:
            self._path = "" if piece is None else piece.path
            self.set_levels(() if piece is None else piece.levels)
        elif piece is not None and piece.levels and self.levels.size == (0, 0):
            self.set_levels(piece.levels)
        elif self._dimensions and self._whole:
            self.show_all()
        self._draw()

    def theme_changed(self) -> None:
        """Take the colours of the current theme."""
        super().theme_changed()
        if hasattr(self, "_masks"):
            self._draw()

    def _draw(self) -> None:
        now, piece = theme(), self._piece
        self.clear_lines()
        self._clear_items()
        if piece is None:
            return
        if piece.outline is not None:
            self.set_lines("outline", piece.outline, now.outline, 2.0)
        measurement = piece.measurement
        if measurement is not None:
            runs = [np.array([run.begin_px, run.end_px]) for run in measurement.rejected]
            self.set_lines("rejected", runs, now.rejected, 5.0)
            self._add_handles(_ends(piece))
        self._draw_dimensions()
        for mask in piece.choices.masks:
            self._add_mask(mask)

    def light(self, quantity: str | None) -> bool:
        """Show where in the picture ``quantity`` was taken; False where it has no place there."""
        taken = ELSEWHERE.get(quantity or "", quantity)
        self.lit = taken if any(one.quantity == taken for one in self._dimensions) else None
        self._draw_dimensions()
        return self.lit is not None

    def _draw_dimensions(self) -> None:
        for item in self._dimension_items:
            self.ground.removeItem(item)
        self._dimension_items = []
        self._dimension_items = dimension_items(self._dimensions, self.lit, inches=self._inches)
        for item in self._dimension_items:
            self.ground.addItem(item, ignoreBounds=True)

    def paintEvent(self, event: QPaintEvent) -> None:
        super().paintEvent(event)
        measurement = None if self._piece is None else self._piece.measurement
        if measurement is not None:
            self.scale_bar = paint_scale_bar(self, measurement.plane.um_per_px, inches=self._inches)

    def flank_near(self, x: float, y: float) -> FlankSeen | None:
        """The flank that lies within a finger's width of a point of the picture."""
        measurement = None if self._piece is None else self._piece.measurement
        within = _NEAR * float(self.ground.viewPixelSize()[0])
        return None if measurement is None else flank_at(measurement, x, y, within)

    def _looked_closer(self) -> None:
        self._whole = False

    def keyPressEvent(self, event: QKeyEvent) -> None:
        self._looked_closer()  # by keys; the key that shows all says otherwise
        super().keyPressEvent(event)

    def resizeEvent(self, event: QResizeEvent) -> None:
        super().resizeEvent(event)
        if getattr(self, "_whole", False):
            self.show_all()

    def show_all(self) -> None:
        """The whole picture, and what is drawn beside it."""
        region = self.levels.boundingRect()
        for one in self._dimensions:
            if one.quantity in DRAWN:
                low, high = one.line.min(axis=0), one.line.max(axis=0)
                region = region.united(QRectF(QPointF(*low), QPointF(*high)))
        if self._dimensions:  # and their texts, which are as large in a small view
            text = self.fontMetrics().height() + _AROUND_PX
            room = max(_ROOM, text / max(self.height() - 2 * text, text)) * region.height()
            region.adjust(0, -room, 0, room)
        self.show_region(region)
        self._whole = True

    def _clear_items(self) -> None:
        for item in (*self._handles, *self._masks, *self._dimension_items):
            self.ground.removeItem(item)
        self._handles, self._masks, self._dimension_items = [], [], []

    def _add_handles(self, ends: Ends) -> None:
        now = theme()
        for number, place in enumerate(ends):
            handle = pg.TargetItem(
                place, size=16, symbol="d", pen=pen(now.accent, 2.0), brush=pg.mkBrush(now.on_accent), movable=True
            )
            handle.setToolTip(self.tr("End of the threaded length: drag it"))
            handle.setZValue(30)
            handle.sigPositionChangeFinished.connect(lambda item, number=number: self._dragged(number, item))
            self.ground.addItem(handle, ignoreBounds=True)
            self._handles.append(handle)

    def _add_mask(self, mask: Mask) -> None:
        now = theme()
        left, top, right, bottom = mask
        roi = pg.RectROI((left, top), (right - left, bottom - top), pen=pen(now.rejected, 2.0), movable=False)
        for handle in list(roi.getHandles()):
            roi.removeHandle(handle)
        roi.setZValue(20)
        self.ground.addItem(roi, ignoreBounds=True)
        self._masks.append(roi)

    def _dragged(self, number: int, handle: pg.TargetItem) -> None:
        if self._piece is None:
            return
        ends = list(_ends(self._piece))
        ends[number] = (float(handle.pos().x()), float(handle.pos().y()))
        self.ends_set.emit((ends[0], ends[1]))

    # --- drawing a mask, clicking a part

    def mousePressEvent(self, event: Any) -> None:
        if self.masking and event.button() == Qt.MouseButton.LeftButton:
            self._corner = self.place_in_picture(event.position())
            return
        self._corner = None
        self._pressed = event.position()
        super().mousePressEvent(event)

    def mouseMoveEvent(self, event: Any) -> None:
        if self._corner is None:
            super().mouseMoveEvent(event)
            return
        region = QRectF(self._corner, self.place_in_picture(event.position())).normalized()
        outline = np.array(
            [
                (region.left(), region.top()), (region.right(), region.top()), (region.right(), region.bottom()),
                (region.left(), region.bottom()), (region.left(), region.top()),
            ]
        )  # fmt: skip
        self.set_lines("mask", [outline], theme().rejected, 2.0, Qt.PenStyle.DashLine)

    def mouseReleaseEvent(self, event: Any) -> None:
        if self._corner is None:
            super().mouseReleaseEvent(event)
            moved = event.position() - getattr(self, "_pressed", event.position())
            if event.button() == Qt.MouseButton.LeftButton and moved.manhattanLength() < 4:
                place = self.place_in_picture(event.position())
                self.part_chosen.emit(place.x(), place.y())
            return
        region = QRectF(self._corner, self.place_in_picture(event.position())).normalized()
        self._corner = None
        self.clear_lines("mask")
        if min(region.width(), region.height()) >= 1:
            self.mask_set.emit((region.left(), region.top(), region.right(), region.bottom()))


def _ends(piece: Piece) -> Ends:
    """The two ends of the threaded length: those set by hand, or those that were found."""
    if piece.choices.ends is not None:
        return piece.choices.ends
    assert piece.measurement is not None
    corners = np.array(piece.measurement.part.corners_px)
    middle = np.array(piece.measurement.part.middle_px)
    angle = np.radians(piece.measurement.part.angle)
    along = (corners - middle) @ np.array([np.cos(angle), np.sin(angle)])
    low, high = (corners[(along < 0)].mean(axis=0), corners[(along >= 0)].mean(axis=0))
    return (float(low[0]), float(low[1])), (float(high[0]), float(high[1]))


def legend(piece: Piece) -> list[str]:
    """What the marked pieces of outline are, each reason once with how often."""
    if piece.measurement is None:
        return []
    reasons: dict[str, int] = {}
    for run in piece.measurement.rejected:
        reasons[run.reason] = reasons.get(run.reason, 0) + 1
    return [f"{word_of(reason.replace('_', ' '))}: {count}" for reason, count in reasons.items()]
