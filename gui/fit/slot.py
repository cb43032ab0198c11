"""A slot of Fit: what lies in it, and where it may come from."""

from __future__ import annotations

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QComboBox, QFrame, QHBoxLayout, QLabel, QLineEdit, QPushButton, QVBoxLayout, QWidget

from gui.desk import Desk
from gui.elided import ElidedLabel
from gui.fit.held import Held
from threads.formatting import format_quantity

EMPTY = ""


class Slot(QFrame):
    """``picked(path)``: a piece at hand was chosen. ``file_wanted``: one from a file. ``filed_wanted(number)``: one on
    file. ``typed(text)``: a class was typed (slots that take one only).
    """

    picked = Signal(str)
    file_wanted = Signal()
    filed_wanted = Signal(int)
    typed = Signal(str)

    def __init__(self, desk: Desk, title: str, *, takes_class: bool = False, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._desk = desk
        self.setProperty("card", True)
        heading = QLabel(title)
        heading.setProperty("heading", True)
        self.name = ElidedLabel()
        self.sizes = ElidedLabel()
        self.sizes.setProperty("faint", True)
        self.choose = QComboBox()
        self.choose.setAccessibleName(self.tr("{slot}: a part at hand").format(slot=title))
        self.choose.setSizeAdjustPolicy(QComboBox.SizeAdjustPolicy.AdjustToMinimumContentsLengthWithIcon)
        self.choose.setMinimumContentsLength(8)
        self.choose.activated.connect(self._chosen)
        self.number = QLineEdit()
        self.number.setPlaceholderText(self.tr("part no."))
        self.number.setAccessibleName(self.tr("{slot}: number of a part on file").format(slot=title))
        self.number.setMaximumWidth(90)
        self.number.returnPressed.connect(self._filed)
        file = QPushButton(self.tr("File…"))
        file.setProperty("flat", True)
        file.setAccessibleName(self.tr("{slot}: from a picture file").format(slot=title))
        file.clicked.connect(self.file_wanted)
        row = QHBoxLayout()
        row.addWidget(self.choose, 1)
        row.addWidget(self.number)
        row.addWidget(file)
        column = QVBoxLayout(self)
        column.setContentsMargins(10, 6, 10, 6)
        column.setSpacing(3)
        column.addWidget(heading)
        self.designation: QLineEdit | None = None
        if takes_class:
            self.designation = QLineEdit()
            self.designation.setPlaceholderText(self.tr("class of the hole, such as 4-40 NC-2"))
            self.designation.setAccessibleName(self.tr("Class of the hole"))
            self.designation.editingFinished.connect(self._typed)
            column.addWidget(self.designation)
        column.addWidget(self.name)
        column.addWidget(self.sizes)
        column.addLayout(row)
        desk.at_hand_changed.connect(self.refresh)
        self.refresh()

    def refresh(self) -> None:
        """List the pieces at hand anew."""
        self.choose.blockSignals(True)
        self.choose.clear()
        self.choose.addItem(self.tr("at hand…"), EMPTY)
        for piece in self._desk.at_hand:
            if piece.measurement is not None:
                self.choose.addItem(piece.name, piece.path)
        self.choose.blockSignals(False)

    def show_held(self, held: Held | None, *, inches: bool) -> None:
        """Show what lies in the slot."""
        if held is None:
            self.name.setText("" if self.designation is not None else self.tr("empty"))
            self.sizes.setText("")
            return
        thread = held.thread
        self.name.setText(held.name)
        sizes = (thread.major_diameter, thread.pitch_diameter, thread.pitch)
        self.sizes.setText("   ".join(format_quantity(q, inches=inches) for q in sizes))

    def _chosen(self) -> None:
        path = self.choose.currentData()
        if path:
            self.picked.emit(path)

    def _filed(self) -> None:
        text = self.number.text().strip()
        if text.isdigit():
            self.filed_wanted.emit(int(text))

    def _typed(self) -> None:
        assert self.designation is not None
        self.typed.emit(self.designation.text().strip())
