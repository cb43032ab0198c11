"""The parts on file that are most like the one on the bench, nearest first, with what sets them apart."""

from __future__ import annotations

from collections.abc import Sequence

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QFrame, QHBoxLayout, QLabel, QPushButton, QVBoxLayout, QWidget

from gui.desk import Desk
from records.nearest import Likeness
from threads.shared.formatting import format_difference

MOST = 5


class Alike(QFrame):
    """``wanted(part)``: the person wants to see that part."""

    wanted = Signal(int)

    def __init__(self, desk: Desk, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._desk = desk
        self._found: tuple[Likeness, ...] = ()
        self.setProperty("card", True)
        heading = QLabel(self.tr("Most like the part on the bench"))
        heading.setProperty("faint", True)
        close = QPushButton(self.tr("Close"))
        close.setProperty("flat", True)
        close.setAccessibleName(self.tr("Close the list of parts like it"))
        close.clicked.connect(self.hide)
        row = QHBoxLayout()
        row.addWidget(heading, 1)
        row.addWidget(close)
        self.lines = [QPushButton() for _ in range(MOST)]
        column = QVBoxLayout(self)
        column.setContentsMargins(8, 4, 8, 6)
        column.setSpacing(2)
        column.addLayout(row)
        for number, line in enumerate(self.lines):
            line.setProperty("flat", True)
            line.setProperty("listed", True)
            line.clicked.connect(lambda *_, number=number: self.wanted.emit(self._found[number].part))
            column.addWidget(line)
        desk.units_changed.connect(self._fill)
        self.hide()

    def show_likeness(self, found: Sequence[Likeness]) -> None:
        """Show the nearest of ``found``."""
        self._found = tuple(found[:MOST])
        self._fill()
        self.show()

    def _fill(self) -> None:
        for number, line in enumerate(self.lines):
            line.setVisible(number < len(self._found))
            if number < len(self._found):
                line.setText(self._words(self._found[number]))

    def _words(self, one: Likeness) -> str:
        verdict = self.tr("can be the same thread") if one.alike else self.tr("not the same thread")
        difference, u95 = one.differences["pitch_diameter"]
        inches = self._desk.inches
        by = format_difference(difference, "mm", inches=inches)
        if difference > 0:
            by = f"+{by}"
        text = self.tr("part {number}: {verdict}\npitch diameter {difference} ± {u95}")
        return text.format(
            number=one.part, verdict=verdict, difference=by, u95=format_difference(u95, "mm", inches=inches)
        )
