"""What a document or a person says of an instrument's threads: what, by whom, how much it counts, where it stands."""

from __future__ import annotations

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QComboBox, QDoubleSpinBox, QGridLayout, QLabel, QPushButton, QWidget

from gui.calm import calm
from gui.fields import ExampleField
from gui.flow import Flow
from gui.worded import word_of, worded_error
from threads.identify.stated import MOST, WEIGHTS, StatedError, stated


class StatedForm(QWidget):
    """``said(statement, source)``: the person stated something. ``refused(text)``: it cannot be meant.

    ``taken_back``: what was stated last is not to count any more.
    """

    said = Signal(object, str)
    taken_back = Signal()
    refused = Signal(str)

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.text, self.source = ExampleField(), ExampleField()
        self.text.setPlaceholderText(self.tr("NC, 5-40 NC or 5-40 NC-2"))
        self.source.setPlaceholderText(self.tr("page of the drawing, or its file"))
        self.by = calm(QComboBox())
        for name in WEIGHTS:
            self.by.addItem(word_of(name), name)
        self.weight = calm(QDoubleSpinBox())
        self.weight.setRange(1.0, MOST)
        self.weight.setDecimals(0)
        self.weight.setSuffix(self.tr(" times"))
        self.by.currentIndexChanged.connect(self._weigh)
        self._weigh()
        self.done = QPushButton(self.tr("Let it count"))
        self.done.clicked.connect(self._say)
        self.back = QPushButton(self.tr("Take it back"))
        self.back.clicked.connect(self.taken_back)
        self.text.returnPressed.connect(self._say)
        self.source.returnPressed.connect(self._say)
        grid = QGridLayout(self)
        grid.setContentsMargins(0, 0, 0, 0)
        fields = (
            (self.tr("it says"), self.text), (self.tr("by"), self.by),
            (self.tr("counts"), self.weight), (self.tr("where it stands"), self.source),
        )  # fmt: skip
        for place, (words, field) in enumerate(fields):
            label = QLabel(words)
            label.setProperty("faint", True)
            label.setBuddy(field)
            field.setAccessibleName(words)
            grid.addWidget(label, place, 0)
            grid.addWidget(field, place, 1)
        row = Flow()
        for button in (self.back, self.done):
            row.add(button)
        grid.addLayout(row, len(fields), 1)
        grid.setColumnStretch(1, 1)

    def _weigh(self) -> None:
        self.weight.setValue(WEIGHTS[self.by.currentData()])

    def _say(self) -> None:
        try:
            told = stated(self.text.text(), self.by.currentData(), self.weight.value())
        except StatedError as error:
            self.refused.emit(worded_error(error))
            return
        self.said.emit(told, self.source.text().strip())
        self.text.clear()
        self.source.clear()
