"""Tables of one part: the uncertainty budget of a quantity, and the sections of the whole part."""

from __future__ import annotations

from collections.abc import Sequence

from PySide6.QtCore import Qt
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


def table(name: str, heads: Sequence[str]) -> QTableWidget:
    """An empty table that is only looked at."""
    made = QTableWidget(0, len(heads))
    made.setAccessibleName(name)
    made.setHorizontalHeaderLabels(list(heads))
    made.verticalHeader().hide()
    made.setEditTriggers(QTableWidget.EditTrigger.NoEditTriggers)
    made.setShowGrid(False)
    made.setWordWrap(True)
    made.horizontalHeader().setSectionResizeMode(QHeaderView.ResizeMode.ResizeToContents)
    made.horizontalHeader().setStretchLastSection(True)
    return made


def fill(made: QTableWidget, rows: Sequence[Sequence[str]]) -> None:
    """Put ``rows`` of text into ``made``."""
    header = made.horizontalHeader()
    header.setSectionResizeMode(QHeaderView.ResizeMode.Fixed)  # else columns are measured at every cell
    made.setRowCount(len(rows))
    for row, texts in enumerate(rows):
        for column, text in enumerate(texts):
            item = made.item(row, column)
            if item is None:
                item = QTableWidgetItem()
                item.setTextAlignment(Qt.AlignmentFlag.AlignVCenter | Qt.AlignmentFlag.AlignLeft)
                made.setItem(row, column, item)
            item.setText(text)
    header.setSectionResizeMode(QHeaderView.ResizeMode.ResizeToContents)
    made.resizeRowsToContents()


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
        column.addWidget(self.table)

    def show_piece(self, piece: Piece | None, *, inches: bool) -> None:
        """Show the sections of ``piece``."""
        rows = []
        part = None if piece is None or piece.measurement is None else piece.measurement.part
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
