"""The replacement against its class or the original: every limit, and what to do at the die."""

from __future__ import annotations

from PySide6.QtCore import Qt, Signal
from PySide6.QtWidgets import (
    QGridLayout,
    QHBoxLayout,
    QLabel,
    QLineEdit,
    QPushButton,
    QScrollArea,
    QVBoxLayout,
    QWidget,
)

from gui.fit.held import Checked
from gui.fit.verdicts import show_verdict
from gui.limit_bar import Between, LimitBar
from gui.said import said
from gui.words import quantity_word
from threads.formatting import MM_PER_INCH, format_lengths, format_quantity
from threads.quantity import COVERAGE_FACTOR, Quantity
from threads.quantity_words import QUANTITIES
from threads.typed import TypedError, parse_length

MICROMETER_U95_MM, WIRE_U95_MM = 0.004, 0.001
"""Where nobody says otherwise: as the command line takes them."""


class CheckView(QWidget):
    """``wanted(against)``: a class was typed; "" is the original. ``refused(text)``: a length that cannot be meant."""

    wanted = Signal(str)
    refused = Signal(str)

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.against = QLineEdit()
        self.against.setPlaceholderText(self.tr("class, such as 4-40 NC-3; empty: the original"))
        self.against.setAccessibleName(self.tr("Class that the replacement is held against"))
        self.against.editingFinished.connect(self._ask)
        self.over_wires, self.wire = QLineEdit(), QLineEdit()
        self.over_wires.setPlaceholderText(self.tr("over wires, e.g. 3.021mm"))
        self.over_wires.setAccessibleName(self.tr("Micrometer reading over three wires"))
        self.wire.setPlaceholderText(self.tr("wire, e.g. 0.455mm"))
        self.wire.setAccessibleName(self.tr("Diameter of the wires"))
        for field in (self.over_wires, self.wire):
            field.setMaximumWidth(190)
            field.editingFinished.connect(self._ask)
        go = QPushButton(self.tr("Check"))
        go.setProperty("main", True)
        go.clicked.connect(self._ask)
        row = QHBoxLayout()
        row.addWidget(self.against, 1)
        row.addWidget(self.over_wires)
        row.addWidget(self.wire)
        row.addWidget(go)
        self.verdict = QLabel()
        self.verdict.setProperty("heading", True)
        self.by_wires = QLabel()
        self.by_wires.setWordWrap(True)
        self._inside = QWidget()
        self._area = QScrollArea()
        self._area.setWidgetResizable(True)
        self._area.setWidget(self._inside)
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.addLayout(row)
        column.addWidget(self.verdict)
        column.addWidget(self.by_wires)
        column.addWidget(self._area, 1)
        self.by_wires.hide()

    def _ask(self) -> None:
        self.wanted.emit(self.against.text().strip())

    def wires(self) -> tuple[Quantity, Quantity] | None:
        """The micrometer's reading and the wires; None where nothing was typed or it cannot be meant."""
        texts = self.over_wires.text().strip(), self.wire.text().strip()
        if not all(texts):
            return None
        try:
            reading = parse_length(texts[0], self.tr("the reading over wires"))
            wire = parse_length(texts[1], self.tr("the wire"))
        except TypedError as error:
            self.refused.emit(said(str(error)))
            return None
        return (
            Quantity(reading, MICROMETER_U95_MM / COVERAGE_FACTOR, "mm"),
            Quantity(wire, WIRE_U95_MM / COVERAGE_FACTOR, "mm"),
        )

    def show_answer(self, answer: Checked | None, *, inches: bool) -> None:
        """Show the outcome."""
        self.by_wires.setVisible(answer is not None and answer.joined is not None)
        if answer is None:
            self.verdict.setText("")
            self._area.setWidget(QWidget())
            return
        found = answer.found
        show_verdict(self.verdict, found.verdict, f"{found.against}: ")
        if answer.joined is not None:
            joined = answer.joined
            text = self.tr("pitch diameter by the picture {picture}, over wires {wires}, both together {both}{trouble}")
            trouble = "" if joined.agree else self.tr("; they disagree: look for dirt, a burr, a wrong wire")
            three = (joined.by_picture, joined.by_wires, joined.thread.pitch_diameter)
            picture, wires, both = (format_quantity(q, inches=inches) for q in three)
            self.by_wires.setText(text.format(picture=picture, wires=wires, both=both, trouble=trouble))
        self._inside = QWidget()
        grid = QGridLayout(self._inside)
        grid.setContentsMargins(0, 0, 6, 0)
        words = dict(QUANTITIES)
        row = 0
        for one in found.judgements:
            measured = one.measured
            in_mm = measured is None or measured.unit == "mm"
            of = 1 / MM_PER_INCH if inches and in_mm else 1.0
            ends = (
                format_lengths([one.low, one.high], inches=inches)
                if in_mm
                else ["" if v is None else f"{v:.2f}°" for v in (one.low, one.high)]
            )
            name = QLabel(quantity_word(words.get(one.quantity, one.quantity.replace("_", " "))))
            verdict = QLabel()
            show_verdict(verdict, one.verdict)
            bar = LimitBar()
            if measured is not None and not (one.low is None and one.high is None):
                limits = (None if v is None else v * of for v in (one.low, one.high))
                told = Between(measured.value * of, measured.u95 * of, *limits)
                bar.set_between(told, f"{ends[0]} – {ends[1]}")
            why = QLabel(said(one.reason_in(inches=inches)))
            why.setProperty("faint", True)
            why.setWordWrap(True)
            cells = (
                name,
                QLabel(format_quantity(measured, inches=inches)),
                bar,
                QLabel(f"{ends[0]} – {ends[1]}"),
                verdict,
            )
            for column, cell in enumerate(cells):
                grid.addWidget(cell, row, column)
            grid.addWidget(why, row + 1, 1, 1, 4)
            row += 2
        for line in answer.advice:
            label = QLabel(f"– {said(line)}")
            label.setWordWrap(True)
            label.setTextInteractionFlags(Qt.TextInteractionFlag.TextSelectableByMouse)
            grid.addWidget(label, row, 0, 1, 5)
            row += 1
        grid.setColumnStretch(2, 1)
        grid.setRowStretch(row, 1)
        self._area.setWidget(self._inside)
