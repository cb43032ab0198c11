"""The parts on file, read page by page where one looks, with their pictures, in workers."""

from __future__ import annotations

from collections import OrderedDict
from typing import Any

from PySide6.QtCore import QAbstractListModel, QEvent, QModelIndex, QPersistentModelIndex, QSize, Qt, QTimer, Signal
from PySide6.QtGui import QImage
from PySide6.QtWidgets import QHeaderView, QTableView, QWidget

from gui.desk import Desk
from gui.register.deeds import page, small_pictures
from gui.register.part_row import PartRow, Row
from gui.worded import worded
from records.from_memory import marked
from records.listing import Conditions, Page, PartLine
from threads.shared.formatting import format_quantity
from threads.shared.quantity import COVERAGE_FACTOR, Quantity

PAGE = 60
"""So many parts are read at once."""
MOST_PAGES = 3
"""So many more wait to be read, those that were looked at last."""
MOST_PICTURES = 400
"""So many small pictures are kept: 25 MB."""
_PICTURES_AT_ONCE = 24

Index = QModelIndex | QPersistentModelIndex
ROW = Qt.ItemDataRole.UserRole + 1


class PartsModel(QAbstractListModel):
    """As many rows as there are parts that meet the conditions; what is looked at is read.

    ``counted(total)``: so many there are. ``renewed``: the same parts, read anew after something was filed.
    """

    counted = Signal(int)
    about_to_renew = Signal()
    renewed = Signal()

    def __init__(self, desk: Desk) -> None:
        super().__init__(desk)
        self._desk = desk
        self._conditions = Conditions()
        self._lines: dict[int, PartLine] = {}
        self._rows: dict[int, int] = {}
        self._total = 0
        self._turn = 0
        self._pages: dict[int, None] = {}
        self._reading = False
        self._pictures: OrderedDict[int, QImage] = OrderedDict()
        self._wanted: dict[int, None] = {}
        self._looking = False
        self._soon = QTimer(self)
        self._soon.setSingleShot(True)
        self._soon.setInterval(0)  # once everything in view was asked for
        self._soon.timeout.connect(self._read_pictures)
        desk.units_changed.connect(self._said_anew)

    # --- what is asked for

    def search(self, conditions: Conditions, at: int = 0) -> None:
        """Show the parts that meet ``conditions``; what was being read for others is dropped.

        ``at``: the row that is looked at, where the conditions are as before and only the register has changed.
        """
        again = conditions == self._conditions and self._total > 0
        self._conditions = conditions
        self._turn += 1
        self._pages.clear()
        for part in [part for part, image in self._pictures.items() if image.isNull()]:
            del self._pictures[part]  # it may have a picture by now
        self._read((at // PAGE) * PAGE if again else 0, fresh=True, again=again)

    def row_of(self, part: int) -> int | None:
        """The row of a part, as far as it was read."""
        return self._rows.get(part)

    def _want(self, first: int) -> None:
        """Read the page that begins at row ``first``; one at a time, those asked for last first."""
        self._pages.pop(first, None)
        self._pages[first] = None
        while len(self._pages) > MOST_PAGES:
            del self._pages[next(iter(self._pages))]  # passed by: asked for again when it is seen
        if not self._reading:
            self._read(self._pages.popitem()[0], fresh=False)

    def _read(self, first: int, *, fresh: bool, again: bool = False) -> None:
        turn = self._turn
        self._reading = True

        def done(found: Page) -> None:
            if turn != self._turn:
                return
            self._reading = False
            self._take(found, fresh=fresh, again=again)
            while self._pages and not self._reading:
                wanted = self._pages.popitem()[0]
                if wanted not in self._lines:
                    self._read(wanted, fresh=False)

        def failed(error: Exception) -> None:
            if turn == self._turn:
                self._reading = False
                self._desk.refuse(error)

        self._desk.work.run(
            self.tr("searching the register"), page, self._desk.register_file, self._conditions, first, PAGE,
            done=done, failed=failed, keeps=True,
        )  # fmt: skip

    def _take(self, found: Page, *, fresh: bool, again: bool) -> None:
        lines = {found.first + number: line for number, line in enumerate(found.lines)}
        if not fresh:
            self._lines |= lines
            self._rows |= {line.id: row for row, line in lines.items()}
            if lines:
                self.dataChanged.emit(self.index(min(lines)), self.index(max(lines)))
            return
        if again:
            self.about_to_renew.emit()
        self.beginResetModel()
        self._lines, self._total = lines, found.total
        self._rows = {line.id: row for row, line in lines.items()}
        self.endResetModel()
        if again:
            self.renewed.emit()
        self.counted.emit(found.total)

    # --- what Qt asks

    def rowCount(self, parent: Index = QModelIndex()) -> int:  # noqa: B008 - Qt's own default
        return 0 if parent.isValid() else self._total

    def data(self, index: Index, role: int = Qt.ItemDataRole.DisplayRole) -> Any:
        if not index.isValid() or index.row() >= self._total:
            return None
        line = self._lines.get(index.row())
        if line is None:
            if role == ROW:  # asked for by painting only: what is seen is read
                self._want((index.row() // PAGE) * PAGE)
            return None
        if role == ROW:
            return self._row(line)
        if role in (Qt.ItemDataRole.DisplayRole, Qt.ItemDataRole.ToolTipRole, Qt.ItemDataRole.AccessibleTextRole):
            row = self._row(line, picture=False)
            return ", ".join(text for text in (row.name, row.where, row.says, row.size) if text)
        return line.id if role == Qt.ItemDataRole.UserRole else None

    def _row(self, line: PartLine, *, picture: bool = True) -> Row:
        name = line.name or self.tr("part {number}").format(number=line.id)
        if line.withdrawn:
            name = self.tr("{name} (withdrawn)").format(name=name)
        where = ", ".join(word for word in (line.instrument, line.position) if word)
        size = value_words = ""
        if line.pitch_diameter is not None:
            value, u95 = line.pitch_diameter
            value_words = format_quantity(Quantity(value, u95 / COVERAGE_FACTOR, "mm"), inches=self._desk.inches)
            size = self.tr("pitch dia. {size}").format(size=value_words)
        seen = self._picture(line.id) if picture else None
        says = marked("" if line.words is None else worded(line.words), from_memory=line.from_memory)
        if line.hole is not None:
            says = self.tr("hole, {thread}").format(thread=line.hole)
        return Row(name, where, says, size, value_words, seen, line.withdrawn)

    def _said_anew(self) -> None:
        if self._total:
            self.dataChanged.emit(self.index(0), self.index(self._total - 1))

    # --- pictures

    def _picture(self, part: int) -> QImage | None:
        found = self._pictures.get(part)
        if found is not None:
            self._pictures.move_to_end(part)
            return found
        self._wanted[part] = None
        if not self._looking and not self._soon.isActive():
            self._soon.start()
        return None

    def _read_pictures(self) -> None:
        """Those wanted last: what was only passed by is not read."""
        parts = list(self._wanted)[-_PICTURES_AT_ONCE:]
        self._wanted.clear()
        if not parts:
            return
        self._looking = True

        def done(found: dict[int, QImage]) -> None:
            self._looking = False
            self._pictures |= found
            while len(self._pictures) > MOST_PICTURES:
                self._pictures.popitem(last=False)
            rows = [row for row in map(self._rows.get, found) if row is not None]
            for row in rows:
                self.dataChanged.emit(self.index(row), self.index(row))
            if self._wanted:
                self._soon.start()

        def failed(_: Exception) -> None:
            self._looking = False

        self._desk.work.run(
            self.tr("reading pictures"), small_pictures, self._desk.register_file, parts, PartRow.PICTURE.width(),
            PartRow.PICTURE.height(), done=done, failed=failed, keeps=True,
        )  # fmt: skip


_ROWS = 3
"""So many parts are in view at least."""


class PartsList(QTableView):
    """The parts in rows, each with its picture; the chosen one and the place in the list stay when they are renewed.

    A table of one column, with rows of one height: a list lays every row out anew whenever one of them changes.
    """

    def __init__(self, model: PartsModel, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.setAccessibleName(self.tr("Parts on file"))
        self._parts = model
        self.setModel(model)
        self.setItemDelegate(PartRow(ROW, self))
        self.setSelectionBehavior(QTableView.SelectionBehavior.SelectRows)
        self.setSelectionMode(QTableView.SelectionMode.SingleSelection)
        self.setShowGrid(False)
        self.setCornerButtonEnabled(False)
        self.setTabKeyNavigation(False)
        self.setWordWrap(False)
        self.horizontalHeader().hide()
        self.horizontalHeader().setStretchLastSection(True)
        self.verticalHeader().hide()
        self.verticalHeader().setSectionResizeMode(QHeaderView.ResizeMode.Fixed)
        self.verticalHeader().setMinimumSectionSize(1)
        self.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.setVerticalScrollMode(QTableView.ScrollMode.ScrollPerPixel)
        self._kept: tuple[int | None, int] = (None, 0)
        model.about_to_renew.connect(self._keep)
        model.renewed.connect(self._restore)
        self._size_rows()

    def minimumSizeHint(self) -> QSize:
        row = PartRow.height(self.font())
        bar = self.verticalScrollBar().sizeHint().width()
        return QSize(PartRow.least_width(self.font()) + bar + 2 * self.frameWidth(), _ROWS * row)

    def _size_rows(self) -> None:
        self.verticalHeader().setDefaultSectionSize(PartRow.height(self.font()))

    def changeEvent(self, event: QEvent) -> None:
        super().changeEvent(event)
        if event.type() in (QEvent.Type.FontChange, QEvent.Type.StyleChange):
            self._size_rows()

    def moveCursor(self, action: QTableView.CursorAction, modifiers: Qt.KeyboardModifier) -> QModelIndex:
        ends = {QTableView.CursorAction.MoveHome: 0, QTableView.CursorAction.MoveEnd: self._parts.rowCount() - 1}
        if action in ends:  # of the list; a table means the ends of the row
            return self._parts.index(ends[action])
        return super().moveCursor(action, modifiers)

    @property
    def chosen(self) -> int | None:
        """The number of the part that is chosen."""
        value = self.currentIndex().data(Qt.ItemDataRole.UserRole)
        return None if value is None else int(value)

    @property
    def top(self) -> int:
        """The first row that is seen."""
        return max(self.indexAt(self.viewport().rect().topLeft()).row(), 0)

    def choose(self, part: int) -> None:
        """Choose a part where it was read."""
        row = self._parts.row_of(part)
        if row is not None:
            self.setCurrentIndex(self._parts.index(row))

    def _keep(self) -> None:
        self._kept = (self.chosen, self.verticalScrollBar().value())

    def _restore(self) -> None:
        part, where = self._kept
        row = None if part is None else self._parts.row_of(part)
        if row is not None:
            self.selectionModel().blockSignals(True)  # it is the same part
            self.setCurrentIndex(self._parts.index(row))
            self.selectionModel().blockSignals(False)
            self.viewport().update()
        self.verticalScrollBar().setValue(where)
