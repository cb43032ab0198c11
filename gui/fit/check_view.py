"""The replacement against its class or the original: every limit, and what to do at the die."""

from __future__ import annotations

from PySide6.QtCore import QCoreApplication, QSize, Qt, Signal
from PySide6.QtWidgets import (
    QGridLayout,
    QLabel,
    QPushButton,
    QVBoxLayout,
    QWidget,
)

from flankwise.judging import Checked
from gui.fit.fields import ClassField, ShortField, tabular
from gui.fit.verdicts import UNVERIFIED, from_memory, show_verdict
from gui.flow import Flow
from gui.limit_bar import Between, LimitBar
from gui.worded import word_of, worded, worded_error
from gui.words import caution, quantity_word
from threads.judge.judgement import Judgement
from threads.judge.micrometer import Joined
from threads.judge.wire_defaults import MICROMETER_U95, WIRE_U95
from threads.shared.formatting import MM_PER_INCH, format_length, format_lengths, format_quantity
from threads.shared.quantity import COVERAGE_FACTOR, Quantity
from threads.shared.quantity_words import QUANTITIES
from threads.shared.typed import TypedError, apart_from_u95, parse_length


class CheckView(QWidget):
    """``wanted(against)``: a class was typed; "" is the original. ``refused(text)``: a length that cannot be meant."""

    wanted = Signal(str)
    refused = Signal(str)

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.against = ClassField(
            self.tr("Class that the replacement is held against"),
            self.tr("class, such as 4-40 NC-3; empty: the original"),
        )
        self.against.editingFinished.connect(self._ask)
        self.over_wires = ShortField(self.tr("over wires, 3.021mm"))
        self.wire = ShortField(self.tr("wire, 0.455mm"))
        self.over_wires.setPlaceholderText(self.tr("over wires, 3.021mm"))
        self.over_wires.setAccessibleName(self.tr("Micrometer reading over three wires"))
        with_u95 = self.tr("With its U95 if you know it: {example}")
        self.over_wires.setToolTip(with_u95.format(example="3.021mm ±4um"))
        self.wire.setToolTip(with_u95.format(example="0.455mm ±1um"))
        self.wire.setPlaceholderText(self.tr("wire, 0.455mm"))
        self.wire.setAccessibleName(self.tr("Diameter of the wires"))
        for field in (self.over_wires, self.wire):
            field.editingFinished.connect(self._ask)
        go = QPushButton(self.tr("Check"))
        go.setProperty("main", True)
        go.clicked.connect(self._ask)
        row = Flow()
        row.add(self.against, 1)
        for widget in (self.over_wires, self.wire, go):
            row.add(widget)
        self.verdict = QLabel()
        self.verdict.setWordWrap(True)
        self.verdict.setProperty("large", True)
        self.by_wires = QLabel()
        self.by_wires.setWordWrap(True)
        self._inside = QWidget()
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.addLayout(row)
        column.addWidget(self.verdict)
        column.addWidget(self.by_wires)
        column.addWidget(self._inside, 1)
        self._column = column
        self.by_wires.hide()

    def _ask(self) -> None:
        self.wanted.emit(self.against.text().strip())

    def wires(self) -> tuple[Quantity, Quantity] | None:
        """The micrometer's reading and the wires; None where nothing was typed or it cannot be meant."""
        texts = self.over_wires.text().strip(), self.wire.text().strip()
        if not all(texts):
            return None
        try:
            return (
                _length(texts[0], MICROMETER_U95, self.tr("the reading over wires")),
                _length(texts[1], WIRE_U95, self.tr("the wire")),
            )
        except TypedError as error:
            self.refused.emit(worded_error(error))
            return None

    def show_answer(self, answer: Checked | None, *, inches: bool) -> None:
        """Show the outcome."""
        self.by_wires.setVisible(answer is not None and answer.micrometer is not None)
        if answer is None:
            show_verdict(self.verdict, "", self.tr("Type a class, or lay an original beside the replacement."))
            self._put(QWidget())
            return
        found = answer.found
        unverified = found.limits is not None and found.limits.unverified
        mark = f" {UNVERIFIED}" if unverified else ""
        show_verdict(self.verdict, found.verdict, f"{found.against}{mark}: ")
        if answer.micrometer is not None:
            self._show_wires(answer.micrometer, inches=inches)
        inside = QWidget()
        grid = QGridLayout(inside)
        grid.setContentsMargins(0, 0, 6, 0)
        grid.setHorizontalSpacing(16)
        row = 0
        for one in found.judgements:
            _add_judgement(grid, row, one, mark, inches=inches)
            row += 2
        engaged = format_length(round(found.virtual.engagement_mm, 2), inches=inches)
        rule = self.tr(
            "Errors of pitch count over {engaged} of engagement. A limit is kept if it is cleared by 2 u (U95), broken "
            "if it is passed by 2.6 u: stricter than the default of ISO 14253-1, 1.65 u, because five limits may break "
            "and a good part shall not fail by bad luck."
        ).format(engaged=engaged)
        small = [rule, caution(), *([from_memory()] if unverified else [])]
        for line, faint in (
            *((f"– {worded(advice, inches=inches)}", False) for advice in answer.advised),
            *((line, True) for line in small),
        ):
            label = QLabel(line)
            label.setWordWrap(True)
            label.setProperty("small", faint)
            label.setTextInteractionFlags(Qt.TextInteractionFlag.TextSelectableByMouse)
            grid.addWidget(label, row, 0, 1, 4)
            row += 1
        grid.setColumnStretch(3, 1)
        grid.setRowStretch(row, 1)
        self._put(inside)

    def _put(self, inside: QWidget) -> None:
        """Show ``inside`` in place of what was shown."""
        self._column.replaceWidget(self._inside, inside)
        self._inside.hide()
        self._inside.deleteLater()
        self._inside = inside

    def _show_wires(self, joined: Joined, *, inches: bool) -> None:
        text = self.tr("pitch diameter by the picture {picture}, over wires {wires}, both together {both}{trouble}")
        trouble = "" if joined.agree else self.tr("; they disagree: look for dirt, a burr, a wrong wire")
        three = (joined.by_picture, joined.by_wires, joined.thread.pitch_diameter)
        picture, wires, both = (format_quantity(q, inches=inches) for q in three)
        self.by_wires.setText(text.format(picture=picture, wires=wires, both=both, trouble=trouble))


class _Cell(QLabel):
    """One line of words where there is room for it, else several."""

    def __init__(self, text: str = "") -> None:
        super().__init__(text)
        self.setWordWrap(True)

    def sizeHint(self) -> QSize:
        wide = self.fontMetrics().horizontalAdvance(self.text()) + 2
        return QSize(wide, self.heightForWidth(wide))


def _add_judgement(grid: QGridLayout, row: int, one: Judgement, mark: str, *, inches: bool) -> None:
    """One quantity: verdict, value and bar; in the row below why, and the limits under their bar."""
    measured = one.measured
    in_mm = measured is None or measured.unit == "mm"
    if in_mm:
        ends = format_lengths([one.low, one.high], inches=inches)
    else:
        ends = ["–" if v is None else f"{v:.2f}°" for v in (one.low, one.high)]
    limited = not (one.low is None and one.high is None)
    between = f"{ends[0]} – {ends[1]}"
    if limited and one.low is None:
        between = QCoreApplication.translate("verdict", "up to {limit}").format(limit=ends[1])
    elif limited and one.high is None:
        between = QCoreApplication.translate("verdict", "from {limit}").format(limit=ends[0])
    bar = LimitBar()
    if measured is not None and limited:
        of = 1 / MM_PER_INCH if inches and in_mm else 1.0
        low, high = (None if v is None else v * of for v in (one.low, one.high))
        bar.set_between(Between(measured.value * of, measured.u95 * of, low, high), between)
    verdict = _Cell()
    show_verdict(verdict, one.verdict)
    value, limits = _Cell(format_quantity(measured, inches=inches)), _Cell(f"{between}{mark}" if limited else "")
    for label in (value, limits):
        tabular(label)
    words = dict(QUANTITIES).get(one.quantity)
    name = _Cell(word_of(one.quantity.replace("_", " ")) if words is None else quantity_word(words))
    bar.setMinimumWidth(40)
    for column, cell in enumerate((verdict, name, value, bar)):
        grid.addWidget(cell, row, column)
    why = QLabel(worded(one.why, inches=inches))
    why.setProperty("faint", True)
    why.setWordWrap(True)
    grid.addWidget(why, row + 1, 1, 1, 2)
    limits.setAlignment(Qt.AlignmentFlag.AlignHCenter | Qt.AlignmentFlag.AlignTop)
    grid.addWidget(limits, row + 1, 3)


def _length(text: str, usual: str, what: str) -> Quantity:
    """The length typed with its U95, ``usual`` where none was typed. Raises TypedError."""
    value, u95 = apart_from_u95(text)
    return Quantity(parse_length(value, what), parse_length(u95 or usual, what) / COVERAGE_FACTOR, "mm")
