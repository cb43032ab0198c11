"""A layout in a row that goes on in the next line where the width ends, as words do in a text."""

from __future__ import annotations

from dataclasses import dataclass

from PySide6.QtCore import QRect, QSize, Qt
from PySide6.QtWidgets import QLayout, QLayoutItem, QWidget


@dataclass(frozen=True)
class _Line:
    """Items side by side: their numbers, their widths, and what the highest of them needs."""

    items: tuple[int, ...]
    widths: tuple[int, ...]
    height: int


class Flow(QLayout):
    """Items side by side while each has its least width, else in lines one below the other.

    What is left of a line's width goes to the items with a ``stretch``; what is left of the height to the lines with an
    item that wants to be high.
    """

    def __init__(self, parent: QWidget | None = None, spacing: int = 6) -> None:
        super().__init__()
        self._items: list[QLayoutItem] = []
        self._stretches: list[int] = []
        self._stretch = 0
        self.setSpacing(spacing)
        self.setContentsMargins(0, 0, 0, 0)
        if parent is not None:
            parent.setLayout(self)

    def add(self, widget: QWidget, stretch: int = 0) -> None:
        """One more widget; those with a ``stretch`` share what is left of their line."""
        self._stretch = stretch
        self.addWidget(widget)
        self._stretch = 0

    def addItem(self, item: QLayoutItem) -> None:
        self._items.append(item)
        self._stretches.append(self._stretch)

    def count(self) -> int:
        return len(self._items)

    def itemAt(self, index: int) -> QLayoutItem | None:
        return self._items[index] if 0 <= index < len(self._items) else None

    def takeAt(self, index: int) -> QLayoutItem | None:
        if not 0 <= index < len(self._items):
            return None
        del self._stretches[index]
        return self._items.pop(index)

    def expandingDirections(self) -> Qt.Orientation:
        high = any(_high(item) for item in self._items)
        return Qt.Orientation.Horizontal | Qt.Orientation.Vertical if high else Qt.Orientation.Horizontal

    def hasHeightForWidth(self) -> bool:
        return True

    def heightForWidth(self, width: int) -> int:
        around = self.contentsMargins()
        lines = self._lines(width - around.left() - around.right())
        high = sum(line.height for line in lines) + self._gaps(lines)
        return high + around.top() + around.bottom()

    def minimumSize(self) -> QSize:
        around = self.contentsMargins()
        shown = [item.minimumSize() for item in self._items if not item.isEmpty()]
        wide, high = (max((get(size) for size in shown), default=0) for get in (QSize.width, QSize.height))
        return QSize(wide, high).grownBy(around)

    def sizeHint(self) -> QSize:
        around = self.contentsMargins()
        shown = [item for item in self._items if not item.isEmpty()]
        wide = sum(max(item.sizeHint().width(), item.minimumSize().width()) for item in shown)
        wide += self.spacing() * max(len(shown) - 1, 0) + around.left() + around.right()
        return QSize(wide, self.heightForWidth(wide))

    def setGeometry(self, rect: QRect) -> None:
        super().setGeometry(rect)
        inside = self.contentsRect()
        lines = self._lines(inside.width())
        over = max(inside.height() - sum(line.height for line in lines) - self._gaps(lines), 0)
        growing = [line for line in lines if any(_high(self._items[n]) for n in line.items)]
        top = inside.top()
        for line in lines:
            high = line.height + (over // len(growing) if line in growing else 0)
            x = inside.left()
            for number, wide in zip(line.items, line.widths, strict=True):
                self._items[number].setGeometry(QRect(x, top, wide, high))
                x += wide + self.spacing()
            top += high + self.spacing()

    def _gaps(self, lines: list[_Line]) -> int:
        return self.spacing() * max(len(lines) - 1, 0)

    def _lines(self, width: int) -> list[_Line]:
        """Which items stand beside each other in so many px."""
        made: list[_Line] = []
        now: list[int] = []
        used = 0
        for number, item in enumerate(self._items):
            if item.isEmpty():
                continue
            least = item.minimumSize().width() if self._stretches[number] else _natural(item)
            if now and used + self.spacing() + least > width:
                made.append(self._line(now, width))
                now, used = [], 0
            used += least + (self.spacing() if now else 0)
            now.append(number)
        return [*made, self._line(now, width)] if now else made

    def _line(self, numbers: list[int], width: int) -> _Line:
        items = [self._items[n] for n in numbers]
        stretches = [self._stretches[n] for n in numbers]
        left = width - self.spacing() * (len(items) - 1)
        widths = [
            item.minimumSize().width() if stretch else min(_natural(item), left)
            for item, stretch in zip(items, stretches, strict=True)
        ]
        free = left - sum(widths)
        if free > 0 and any(stretches):
            widths = _shared(widths, stretches, free)
        elif len(items) == 1:
            widths = [min(widths[0], left)]
        return _Line(tuple(numbers), tuple(widths), max(map(_height, items, widths)))


def _shared(widths: list[int], stretches: list[int], free: int) -> list[int]:
    """``widths`` with ``free`` px given out: those with a stretch become as wide as their share, none narrower."""
    whole = free + sum(w for w, s in zip(widths, stretches, strict=True) if s)
    open_ones = {n for n, s in enumerate(stretches) if s}
    given = list(widths)
    while open_ones:
        unit = whole / sum(stretches[n] for n in open_ones)
        wider = {n for n in open_ones if widths[n] > unit * stretches[n]}
        if not wider:
            for n in open_ones:
                given[n] = int(unit * stretches[n])
            break
        whole -= sum(widths[n] for n in wider)
        open_ones -= wider
    return given


def _natural(item: QLayoutItem) -> int:
    return max(item.sizeHint().width(), item.minimumSize().width())


def _high(item: QLayoutItem) -> bool:
    return bool(item.expandingDirections() & Qt.Orientation.Vertical) and not item.isEmpty()


def _height(item: QLayoutItem, width: int) -> int:
    """What ``item`` needs at that width; what wants to be high can do with its least height."""
    if item.hasHeightForWidth():
        return max(item.heightForWidth(width), item.minimumSize().height())
    return item.minimumSize().height() if _high(item) else max(item.sizeHint().height(), item.minimumSize().height())
