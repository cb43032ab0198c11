"""A layout in a row that goes on in the next line where the width ends, as words do in a text."""

from __future__ import annotations

from dataclasses import dataclass

from PySide6.QtCore import QRect, QSize, Qt
from PySide6.QtWidgets import QLayout, QLayoutItem, QWidget


@dataclass(frozen=True)
class _Shown:
    """An item that is in view: the sizes it needs at least and would like, and whether it wants to be high."""

    item: QLayoutItem
    stretch: int
    least: QSize
    wanted: QSize
    high: bool

    def height(self, width: int) -> int:
        """What it needs at that width; what wants to be high can do with its least height."""
        if self.item.hasHeightForWidth():
            return max(self.item.heightForWidth(width), self.least.height())
        return self.least.height() if self.high else self.wanted.height()


@dataclass(frozen=True)
class _Line:
    """Items side by side, their widths, and what the highest of them needs."""

    items: tuple[_Shown, ...]
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
        self._measured: list[_Shown] | None = None
        self._found: dict[int, list[_Line]] = {}
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
        self.invalidate()

    def count(self) -> int:
        return len(self._items)

    def itemAt(self, index: int) -> QLayoutItem | None:
        return self._items[index] if 0 <= index < len(self._items) else None

    def takeAt(self, index: int) -> QLayoutItem | None:
        if not 0 <= index < len(self._items):
            return None
        del self._stretches[index]
        self.invalidate()
        return self._items.pop(index)

    def invalidate(self) -> None:
        """What was measured holds no more: Qt calls this whenever an item may need another size."""
        self._measured = None
        self._found.clear()
        super().invalidate()

    def expandingDirections(self) -> Qt.Orientation:
        high = any(one.high for one in self._shown())
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
        shown = [one.least for one in self._shown()]
        wide, high = (max((get(size) for size in shown), default=0) for get in (QSize.width, QSize.height))
        return QSize(wide, high).grownBy(around)

    def sizeHint(self) -> QSize:
        around, shown = self.contentsMargins(), self._shown()
        wide = sum(one.wanted.width() for one in shown)
        wide += self.spacing() * max(len(shown) - 1, 0) + around.left() + around.right()
        return QSize(wide, self.heightForWidth(wide))

    def setGeometry(self, rect: QRect) -> None:
        super().setGeometry(rect)
        inside = self.contentsRect()
        lines = self._lines(inside.width())
        over = max(inside.height() - sum(line.height for line in lines) - self._gaps(lines), 0)
        growing = [line for line in lines if any(one.high for one in line.items)]
        top = inside.top()
        for line in lines:
            high = line.height + (over // len(growing) if line in growing else 0)
            x = inside.left()
            for one, wide in zip(line.items, line.widths, strict=True):
                one.item.setGeometry(QRect(x, top, wide, high))
                x += wide + self.spacing()
            top += high + self.spacing()

    def _gaps(self, lines: list[_Line]) -> int:
        return self.spacing() * max(len(lines) - 1, 0)

    def _shown(self) -> list[_Shown]:
        """The items that are in view, measured once until something changes."""
        if self._measured is None:
            self._measured = []
            for item, stretch in zip(self._items, self._stretches, strict=True):
                if not item.isEmpty():
                    least = item.minimumSize()
                    high = bool(item.expandingDirections() & Qt.Orientation.Vertical)
                    self._measured.append(_Shown(item, stretch, least, item.sizeHint().expandedTo(least), high))
        return self._measured

    def _lines(self, width: int) -> list[_Line]:
        """Which items stand beside each other in so many px."""
        if width not in self._found:
            made: list[list[_Shown]] = []
            left = 0
            for one in self._shown():
                least = (one.least if one.stretch else one.wanted).width()
                if not made or self.spacing() + least > left:
                    made.append([])
                    left = width + self.spacing()
                left -= self.spacing() + least
                made[-1].append(one)
            self._found[width] = [self._line(items, width) for items in made]
        return self._found[width]

    def _line(self, items: list[_Shown], width: int) -> _Line:
        left = width - self.spacing() * (len(items) - 1)
        stretches = [one.stretch for one in items]
        widths = [one.least.width() if one.stretch else min(one.wanted.width(), left) for one in items]
        free = left - sum(widths)
        if free > 0 and any(stretches):
            widths = _shared(widths, stretches, free)
        elif len(items) == 1:
            widths = [min(widths[0], left)]
        return _Line(tuple(items), tuple(widths), max(map(_Shown.height, items, widths)))


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
