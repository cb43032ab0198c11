"""The parts on file as pictures: a list that reads more as one scrolls, and searches as one types."""

from __future__ import annotations

from typing import Any

from PySide6.QtCore import QAbstractListModel, QByteArray, QModelIndex, QPersistentModelIndex, QSize, Qt, Signal
from PySide6.QtGui import QIcon, QPixmap
from PySide6.QtWidgets import QListView, QWidget

from gui.desk import Desk
from gui.register.deeds import page
from gui.said import said
from records.listing import Conditions, Page, PartLine
from threads.formatting import format_quantity
from threads.quantity import COVERAGE_FACTOR, Quantity

AT_ONCE = 40
MOST_ICONS = 600
"""So many small pictures are kept."""
_ICON = QSize(132, 99)

Index = QModelIndex | QPersistentModelIndex


class PartsModel(QAbstractListModel):
    """Parts that meet the conditions, read page by page in workers."""

    counted = Signal(int)

    def __init__(self, desk: Desk) -> None:
        super().__init__(desk)
        self._desk = desk
        self._conditions = Conditions()
        self._lines: list[PartLine] = []
        self._icons: dict[int, QIcon] = {}
        self._total = 0
        self._reading = False
        self._turn = 0
        desk.units_changed.connect(self._said_anew)

    def search(self, conditions: Conditions) -> None:
        """Show the parts that meet ``conditions``; what was being read for others is dropped."""
        self._conditions = conditions
        self._turn += 1
        self._reading = False
        self._read(0, replace=True)

    def fetchMore(self, parent: Index) -> None:  # noqa: ARG002
        self._read(len(self._lines), replace=False)

    def canFetchMore(self, parent: Index) -> bool:  # noqa: ARG002
        return not self._reading and len(self._lines) < self._total

    def rowCount(self, parent: Index = QModelIndex()) -> int:  # noqa: B008 - Qt's own default
        return 0 if parent.isValid() else len(self._lines)

    def data(self, index: Index, role: int = Qt.ItemDataRole.DisplayRole) -> Any:
        if not index.isValid() or index.row() >= len(self._lines):
            return None
        line = self._lines[index.row()]
        if role == Qt.ItemDataRole.DisplayRole:
            return self._text(line)
        if role == Qt.ItemDataRole.DecorationRole:
            return self._icons.get(line.id)
        if role in (Qt.ItemDataRole.ToolTipRole, Qt.ItemDataRole.AccessibleTextRole):
            return self._text(line).replace("\n", ", ")
        if role == Qt.ItemDataRole.UserRole:
            return line.id
        return None

    def _text(self, line: PartLine) -> str:
        name = line.name or self.tr("part {number}").format(number=line.id)
        where = ", ".join(word for word in (line.instrument, line.position) if word)
        size = ""
        if line.pitch_diameter is not None:
            value, u95 = line.pitch_diameter
            quantity = Quantity(value, u95 / COVERAGE_FACTOR, "mm")
            size = format_quantity(quantity, inches=self._desk.inches)
        return "\n".join((name, where, f"{said(line.says or '')}  {size}".strip()))

    def _said_anew(self) -> None:
        if self._lines:
            self.dataChanged.emit(self.index(0), self.index(len(self._lines) - 1))

    def _read(self, first: int, *, replace: bool) -> None:
        if self._reading:
            return
        self._reading = True
        turn = self._turn

        def done(found: tuple[Page, dict[int, bytes]]) -> None:
            if turn == self._turn:
                self._reading = False
                self._take(*found, replace=replace)

        def failed(error: Exception) -> None:
            self._reading = False
            code = getattr(error, "reasons", (None,))[0]
            if code is None or code.code != "no_register":
                self._desk.refuse(error)
            elif replace:
                self._take(Page((), 0, 0), {}, replace=True)

        self._desk.work.run(
            self.tr("searching the register"), page, self._desk.register_file, self._conditions, first, AT_ONCE,
            done=done, failed=failed, key="parts of the register" if replace else "",
        )  # fmt: skip

    def _take(self, found: Page, small: dict[int, bytes], *, replace: bool) -> None:
        if len(self._icons) > MOST_ICONS:
            self._icons.clear()
        for part, data in small.items():
            pixmap = QPixmap()
            if pixmap.loadFromData(QByteArray(data)):
                self._icons[part] = QIcon(pixmap)
        self._total = found.total
        if replace:
            self.beginResetModel()
            self._lines = list(found.lines)
            self.endResetModel()
        elif found.lines:
            self.beginInsertRows(QModelIndex(), len(self._lines), len(self._lines) + len(found.lines) - 1)
            self._lines += found.lines
            self.endInsertRows()
        self.counted.emit(found.total)


class PartsList(QListView):
    """The parts in rows, each with its picture."""

    def __init__(self, model: PartsModel, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.setAccessibleName(self.tr("Parts on file"))
        self.setModel(model)
        self.setIconSize(_ICON)
        self.setUniformItemSizes(True)
        self.setAlternatingRowColors(True)
        self.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.setTextElideMode(Qt.TextElideMode.ElideRight)
        self.setVerticalScrollMode(QListView.ScrollMode.ScrollPerPixel)

    @property
    def chosen(self) -> int | None:
        """The number of the part that is chosen."""
        value = self.currentIndex().data(Qt.ItemDataRole.UserRole)
        return None if value is None else int(value)
