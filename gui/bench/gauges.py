"""The gauges that are laid down one by one for a calibration."""

from __future__ import annotations

from collections.abc import Callable

from PySide6.QtCore import Signal
from PySide6.QtGui import QUndoCommand
from PySide6.QtWidgets import QHBoxLayout, QPushButton, QVBoxLayout, QWidget

from calib.bench import GRID, PIN, RULINGS
from gui.bench.gauge_row import GaugeRow
from gui.desk import Desk


class Gauges(QWidget):
    """``changed``: something about a gauge is other. ``live_wanted(row)``: take its picture from the live source.

    ``shown(SeenGauge)``: the picture of a gauge was read, or is wanted large.
    """

    changed = Signal()
    live_wanted = Signal(object)
    shown = Signal(object)

    def __init__(self, desk: Desk, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._desk = desk
        self.rows: list[GaugeRow] = []
        self._list = QVBoxLayout()
        self._list.setSpacing(8)
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.addLayout(self._list)
        self.adders: dict[str, QPushButton] = {}
        adding = QHBoxLayout()
        for what, words in ((PIN, self.tr("+ Pin")), (RULINGS, self.tr("+ Micrometer")), (GRID, self.tr("+ Grid"))):
            button = QPushButton(words)
            button.clicked.connect(self._adder(what))
            adding.addWidget(button)
            self.adders[what] = button
        adding.addStretch(1)
        column.addLayout(adding)
        for what in (PIN, PIN):
            self.add(what)

    def _adder(self, what: str) -> Callable[[], None]:
        def add() -> None:
            self.add(what).size_edit.setFocus()

        return add

    def add(self, what: str) -> GaugeRow:
        """One more gauge."""
        row = GaugeRow(self._desk, what)
        row.changed.connect(self.changed)
        row.live_wanted.connect(lambda: self.live_wanted.emit(row))
        row.removed.connect(lambda: self.remove(row))
        row.shown.connect(self.shown)
        self.rows.append(row)
        self._list.addWidget(row)
        self.changed.emit()
        return row

    def remove(self, row: GaugeRow) -> None:
        """Take a gauge away: a step that can be undone."""
        self._desk.undo.push(_TakingAway(self, row))
        self.adders[PIN].setFocus()  # not a line, which would take Ctrl+Z for what was typed into it
        self._desk.note(self.tr("{name} was taken away. Undo (Ctrl+Z) lays it down again.").format(name=row.name))

    def take_out(self, row: GaugeRow) -> None:
        """As ``remove``, without a step of undo."""
        row.forget()
        self.rows.remove(row)
        self._list.removeWidget(row)
        row.hide()
        self.changed.emit()

    def put_back(self, row: GaugeRow, place: int) -> None:
        """Lay down again what was taken out."""
        self.rows.insert(place, row)
        self._list.insertWidget(place, row)
        row.show()
        if row.path and row.look is None:
            row.set_picture(row.path)  # it was being read
        self.changed.emit()

    def set_live(self, live: bool) -> None:
        """Whether there is a live source to take pictures from."""
        for row in self.rows:
            row.live.setEnabled(live)

    @property
    def missing(self) -> str:
        """What keeps from calibrating; "" for nothing."""
        used = [row for row in self.rows if row.path or row.size_edit.text().strip()]
        if not used:
            return self.tr("Lay down at least one gauge: type its size and take its picture.")
        for row in used:
            if not row.complete:
                return self.tr("Size or picture of a gauge is missing ({name}).").format(name=row.name)
        return ""


class _TakingAway(QUndoCommand):
    """A gauge was taken away."""

    def __init__(self, gauges: Gauges, row: GaugeRow) -> None:
        super().__init__(row.name)
        self._gauges, self._row, self._place = gauges, row, gauges.rows.index(row)

    def redo(self) -> None:
        self._gauges.take_out(self._row)

    def undo(self) -> None:
        self._gauges.put_back(self._row, self._place)
