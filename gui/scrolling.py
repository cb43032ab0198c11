"""What may need more room than there is."""

from __future__ import annotations

from PySide6.QtCore import QEvent, QSize, Qt
from PySide6.QtWidgets import QFrame, QScrollArea, QWidget

_LINES = 8  # of text, which are in view at least


class ScrollArea(QScrollArea):
    """An area without a frame in which what is inside, as wide as there is room, can be scrolled.

    ``upright``: it is never narrower than what is inside needs, as that is now: a larger text makes it wider, a smaller
    one narrower. ``whole``: it is as high as what is inside, and something around it scrolls.
    """

    def __init__(self, inside: QWidget | None = None, *, upright: bool = False) -> None:
        super().__init__()
        self._upright, self._whole = upright, False
        self._asked = QSize()
        self.setWidgetResizable(True)
        self.setFrameShape(QFrame.Shape.NoFrame)
        if upright:
            self.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        if inside is not None:
            self.setWidget(inside)

    def set_whole(self, whole: bool) -> None:
        """Be as high as what is inside, or scroll it."""
        if whole != self._whole:
            self._whole = whole
            self.updateGeometry()

    def minimumSizeHint(self) -> QSize:
        self._asked = self._needed()
        return self._asked

    def event(self, event: QEvent) -> bool:
        done = super().event(event)
        kinds = (QEvent.Type.LayoutRequest, QEvent.Type.Resize)
        if event.type() in kinds and (self._upright or self._whole) and self._needed() != self._asked:
            self.updateGeometry()
        return done

    def _needed(self) -> QSize:
        inside, plain = self.widget(), super().minimumSizeHint()
        if inside is None:
            return plain
        least = inside.minimumSizeHint()
        wide = least.width() + self.verticalScrollBar().sizeHint().width() if self._upright else plain.width()
        if not self._whole:
            return QSize(wide, _LINES * self.fontMetrics().height())
        return QSize(wide, max(inside.heightForWidth(self.viewport().width()), least.height()))


def scrolling(inside: QWidget | None = None) -> ScrollArea:
    """``inside`` in an area in which it can be scrolled."""
    return ScrollArea(inside)


def upright(inside: QWidget) -> ScrollArea:
    """The same, scrolled upwards and downwards only."""
    return ScrollArea(inside, upright=True)
