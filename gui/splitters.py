"""Borders between views that can be drawn, kept from one day to the next."""

from __future__ import annotations

from collections.abc import Sequence

from PySide6.QtCore import QByteArray, QEvent, QSize, Qt
from PySide6.QtGui import QColor, QPainter, QPaintEvent, QResizeEvent
from PySide6.QtWidgets import QSplitter, QSplitterHandle, QWidget

from gui.scrolling import ScrollArea
from gui.settings import Settings
from gui.theme import theme

_WIDE = 3  # px


class Splitter(QSplitter):
    """Views side by side, or one above the other, with a thin line between them. ``name``: by which it is kept."""

    def __init__(self, orientation: Qt.Orientation, name: str) -> None:
        super().__init__(orientation)
        self.setObjectName(name)
        self.setHandleWidth(_WIDE)

    def createHandle(self) -> QSplitterHandle:
        return _Border(self.orientation(), self)

    def sizeHint(self) -> QSize:
        """No more than the least: around it is scrolled only where that is not to be had."""
        return self.minimumSizeHint()

    def resizeEvent(self, event: QResizeEvent) -> None:
        super().resizeEvent(event)
        self._fit()

    def event(self, event: QEvent) -> bool:
        done = super().event(event)
        if event.type() == QEvent.Type.LayoutRequest:
            self._fit()
        return done

    def _views(self) -> list[QWidget]:
        views = (self.widget(number) for number in range(self.count()))
        return [view for view in views if view is not None and not view.isHidden()]

    def _heights(self) -> list[int]:
        return [max(view.heightForWidth(self.width()), view.minimumSizeHint().height()) for view in self._views()]

    def _fit(self) -> None:
        """Of views below each other, each is as high as its lines of words need at this width."""
        if self.orientation() == Qt.Orientation.Vertical:
            for view, high in zip(self._views(), self._heights(), strict=True):
                if view.minimumHeight() != high:
                    view.setMinimumHeight(high)


class Folding(Splitter):
    """Views side by side, and one below the other where they have no room beside each other.

    Below each other, what scrolls is as high as what it holds: the page around it scrolls, and nothing within it.
    """

    def __init__(self, name: str) -> None:
        super().__init__(Qt.Orientation.Horizontal, name)
        self.setChildrenCollapsible(False)
        self._beside: list[int] = []  # as the person wants them, or as they were at first
        self._needed = 0
        self.splitterMoved.connect(lambda *_: self._keep())

    def setSizes(self, sizes: Sequence[int]) -> None:
        super().setSizes(sizes)
        self._beside = list(sizes)

    def restoreState(self, state: QByteArray | bytes | bytearray | memoryview[int]) -> bool:
        done = super().restoreState(state)
        self._keep()
        return done

    def _keep(self) -> None:
        if self.orientation() == Qt.Orientation.Horizontal and any(self.sizes()):
            self._beside = self.sizes()

    def minimumSizeHint(self) -> QSize:
        sizes = [_least(view) for view in self._views()]
        wide, high = [size.width() for size in sizes], [size.height() for size in sizes]
        if self.orientation() == Qt.Orientation.Horizontal:
            return QSize(max(wide, default=0), max(high, default=0))
        return QSize(max(wide, default=0), sum(self._heights()) + _WIDE * len(high))

    def _fit(self) -> None:
        views = self._views()
        needed = sum(_least(view).width() for view in views) + _WIDE * (len(views) - 1)
        beside = self.orientation() == Qt.Orientation.Horizontal
        narrower, self._needed = needed < self._needed, needed
        if beside and self.width() < needed:
            self.setOrientation(Qt.Orientation.Vertical)
            self._show_whole(views, whole=True)
        elif not beside and self.width() >= needed:
            for view in views:
                view.setMinimumHeight(0)
            self.setOrientation(Qt.Orientation.Horizontal)
            super().setSizes(self._beside)
            self._show_whole(views, whole=False)
        elif beside and narrower:  # a larger text took room that it needs no longer
            super().setSizes(self._beside)
        super()._fit()

    def _show_whole(self, views: list[QWidget], *, whole: bool) -> None:
        for area in (area for view in views for area in (view, *view.findChildren(ScrollArea))):
            if isinstance(area, ScrollArea):
                area.set_whole(whole)


def _least(view: QWidget) -> QSize:
    return view.minimumSizeHint().expandedTo(QSize(view.minimumWidth(), 0))


class _Border(QSplitterHandle):
    def paintEvent(self, event: QPaintEvent) -> None:
        QPainter(self).fillRect(event.rect(), QColor(theme().line))


def restore_splitters(window: QWidget, settings: Settings) -> None:
    """Put every splitter of ``window`` where it was left."""
    for splitter in window.findChildren(Splitter):
        state = settings.state(_key(splitter))
        if not state.isEmpty():
            splitter.restoreState(state)


def keep_splitters(window: QWidget, settings: Settings) -> None:
    """Keep where they are."""
    for splitter in window.findChildren(Splitter):
        if isinstance(splitter, Folding) and splitter.orientation() == Qt.Orientation.Vertical:
            continue  # folded: what it was before is kept
        settings.set_state(_key(splitter), splitter.saveState())


def _key(splitter: QSplitter) -> str:
    return f"splitters/{splitter.objectName()}"
