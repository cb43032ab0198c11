"""Tables of one part: the uncertainty budget of a quantity, and the sections of the whole part."""

from __future__ import annotations

import re
from collections.abc import Callable, Sequence

from PySide6.QtCore import QEvent, QObject, QSize, Qt
from PySide6.QtGui import QResizeEvent, QShowEvent
from PySide6.QtWidgets import (
    QComboBox,
    QHBoxLayout,
    QHeaderView,
    QLabel,
    QTableWidget,
    QTableWidgetItem,
    QVBoxLayout,
    QWidget,
)

from gui.calm import calm
from gui.piece import Piece
from gui.worded import word_of
from gui.words import quantity_word
from threads.shared.formatting import format_length, format_quantity
from threads.shared.quantity import Quantity
from threads.shared.quantity_words import OF_SECTIONS, QUANTITIES
from vision.fit.budget import shares

_FEWEST = 6
"""Rows that are in view at least; the others are where there is room, or the table is scrolled."""
_LETTERS = 16
"""Of a last column whose words go on in the next line."""
_AROUND_PX = 100
"""A table asks for no more than the window has beside these: what is wider goes on in the next line."""
_BESIDE_PX = 14  # the words of a cell
_BREAK = re.compile(r"\s+|(?<=[^\W\d]-)(?=[^\W\d])")
"""Where Qt lets a line end."""


class Table(QTableWidget):
    """It asks for the width of its columns, so that no number in it is cut, and for the height of its rows.

    Where there is less room, as beside a large text, the words of the widest columns go on in the next line; those of
    the last do so wherever it is ``wrapped``.
    """

    def __init__(self, heads: Sequence[str], *, wrapped: bool) -> None:
        super().__init__(0, len(heads))
        self._heads, self._wrapped = tuple(heads), wrapped
        self._asked = QSize()
        self.setHorizontalHeaderLabels(list(heads))
        self.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.horizontalHeader().setSectionResizeMode(QHeaderView.ResizeMode.Fixed)
        self.horizontalHeader().setStretchLastSection(wrapped)

    def minimumSizeHint(self) -> QSize:
        beside = 2 * self.frameWidth()
        wide = sum(self._natural()) + beside + self.verticalScrollBar().sizeHint().width()
        rows = sum(self.rowHeight(n) for n in range(min(self.rowCount(), _FEWEST)))
        wide = min(wide, self.window().width() - _AROUND_PX) if self.isVisible() else wide
        self._asked = QSize(wide, rows + self.horizontalHeader().sizeHint().height() + beside)
        return self._asked

    def sizeHint(self) -> QSize:
        return self.minimumSizeHint()

    def changeEvent(self, event: QEvent) -> None:
        super().changeEvent(event)
        if event.type() == QEvent.Type.FontChange:
            self.fit()

    def resizeEvent(self, event: QResizeEvent) -> None:
        super().resizeEvent(event)
        self.fit()

    def showEvent(self, event: QShowEvent) -> None:
        super().showEvent(event)
        self.window().installEventFilter(self)
        self.updateGeometry()

    def eventFilter(self, watched: QObject, event: QEvent) -> bool:
        if event.type() == QEvent.Type.Resize and watched is self.window():
            before = self._asked
            if self.minimumSizeHint() != before:
                self.updateGeometry()
        return super().eventFilter(watched, event)

    def fit(self) -> None:
        """As wide as there is room, and as high as the lines then are."""
        before, least = self._asked, self._widths(self._longest_word)
        for column, width in enumerate(_shared(self._natural(), least, self.viewport().width())):
            self.setColumnWidth(column, width)
            head = self.horizontalHeaderItem(column)
            assert head is not None
            head.setText(self._in_lines(self._heads[column], width))
        self.resizeRowsToContents()
        if self.minimumSizeHint() != before:
            self.updateGeometry()

    def _natural(self) -> list[int]:
        """How wide each column is with every text in one line, px."""
        widths = self._widths(self._wide)
        if self._wrapped:
            widths[-1] = max(_LETTERS * self.fontMetrics().averageCharWidth(), self._wide(self._heads[-1]))
        return widths

    def _widths(self, of: Callable[[str], int]) -> list[int]:
        cells = ((self.item(row, column) for row in range(self.rowCount())) for column in range(self.columnCount()))
        texts = ([head, *(one.text() for one in there if one)] for head, there in zip(self._heads, cells, strict=True))
        return [max(map(of, column)) for column in texts]

    def _wide(self, text: str) -> int:
        return self.fontMetrics().horizontalAdvance(text) + _BESIDE_PX

    def _longest_word(self, text: str) -> int:
        return max(map(self._wide, _BREAK.split(text)))

    def _in_lines(self, head: str, width: int) -> str:
        lines: list[str] = []
        for word in head.split():
            if lines and self._wide(f"{lines[-1]} {word}") <= width:
                lines[-1] += f" {word}"
            else:
                lines.append(word)
        return "\n".join(lines)


def _shared(natural: Sequence[int], least: Sequence[int], room: int) -> list[int]:
    """The widths of columns in so much ``room``: where it is short, the widest become narrower first."""
    most = max(natural)
    while sum(widths := [min(n, max(low, most)) for n, low in zip(natural, least, strict=True)]) > room and most > 0:
        most -= 1
    return widths


def table(name: str, heads: Sequence[str], *, wrapped: bool = True) -> Table:
    """An empty table that is only looked at. ``wrapped``: the last column goes on in the next line."""
    made = Table(heads, wrapped=wrapped)
    made.setAccessibleName(name)
    made.verticalHeader().hide()
    made.setEditTriggers(QTableWidget.EditTrigger.NoEditTriggers)
    made.setShowGrid(False)
    return made


def fill(made: Table, rows: Sequence[Sequence[str]]) -> None:
    """Put ``rows`` of text into ``made``."""
    made.setRowCount(len(rows))
    for row, texts in enumerate(rows):
        for column, text in enumerate(texts):
            item = made.item(row, column)
            if item is None:
                item = QTableWidgetItem()
                item.setTextAlignment(Qt.AlignmentFlag.AlignVCenter | Qt.AlignmentFlag.AlignLeft)
                made.setItem(row, column, item)
            item.setText(text)
    made.fit()


class BudgetTable(QWidget):
    """What the uncertainty of one quantity is made of, with the share of each term."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.quantity = calm(QComboBox())
        self.quantity.setAccessibleName(self.tr("Quantity whose budget is shown"))
        for name, words in QUANTITIES:
            self.quantity.addItem(quantity_word(words), name)
        self.quantity.setCurrentIndex([name for name, _ in QUANTITIES].index("pitch_diameter"))
        self.quantity.currentIndexChanged.connect(self._fill)
        self.total = QLabel()
        heads = (self.tr("source"), self.tr("standard uncertainty"), self.tr("share"))
        self.table = table(self.tr("Uncertainty budget"), heads)
        row = QHBoxLayout()
        row.addWidget(self.quantity)
        row.addWidget(self.total, 1)
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.addLayout(row)
        column.addWidget(self.table, 1)
        self._piece: Piece | None = None
        self._inches = False

    def show_piece(self, piece: Piece | None, *, inches: bool) -> None:
        """Show the budget of ``piece``."""
        self._piece, self._inches = piece, inches
        self._fill()

    def _fill(self) -> None:
        measurement = None if self._piece is None else self._piece.measurement
        name = str(self.quantity.currentData())
        terms = () if measurement is None else measurement.budget.get(name, ())
        value: Quantity | None = None if measurement is None else getattr(measurement.thread, name)
        self.total.setText(format_quantity(value, inches=self._inches) if measurement is not None else "")
        rows = []
        for term, share in zip(terms, shares(terms), strict=True):
            exact = format_quantity(Quantity(term.u, 0.0, term.unit), inches=self._inches)
            if term.unit == "mm" and not self._inches:
                exact = f"{1000 * term.u:.3f} µm"
            full = self.tr("full bound, one side")
            rows.append((word_of(term.source), exact, full if share is None else f"{100 * share:.1f} %"))
        fill(self.table, rows)


class SectionsTable(QWidget):
    """The part from left to right: head, shank, shoulder, thread, undercut, point."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        heads = (self.tr("section"), self.tr("from"), self.tr("length"), self.tr("diameter"), self.tr("more"))
        self.table = table(self.tr("Sections of the part"), heads)
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.addWidget(self.table, 1)
        self.holds = QLabel()
        self.holds.setWordWrap(True)
        self.holds.setProperty("faint", True)
        column.addWidget(self.holds)

    def show_piece(self, piece: Piece | None, *, inches: bool) -> None:
        """Show the sections of ``piece``, and where along it the thread's diameters hold."""
        rows = []
        part = None if piece is None or piece.measurement is None else piece.measurement.part
        holds = None if part is None else part.middle_from_free_end
        self.holds.setVisible(holds is not None)
        if holds is not None:
            place = format_length(round(holds, 3), inches=inches)
            self.holds.setText(
                self.tr("The diameters of the thread hold {place} from the free end, in the middle of it.").format(
                    place=place
                )
            )
        for section in () if part is None else part.sections:
            more = [
                f"{word_of(words)} {format_quantity(quantity, inches=inches)}"
                for name, words in OF_SECTIONS
                if (quantity := getattr(section, name)) is not None
            ]
            rows.append(
                (
                    word_of(section.kind),
                    format_length(round(section.start, 3), inches=inches),
                    self.tr("cut off") if section.cut_off else format_quantity(section.length, inches=inches),
                    "" if section.diameter is None else format_quantity(section.diameter, inches=inches),
                    "; ".join(more),
                )
            )
        fill(self.table, rows)
