"""How large the hole is: what the trials say, their chart, and what came of the screw that is tried now."""

from __future__ import annotations

from collections.abc import Callable

from PySide6.QtCore import Qt, Signal
from PySide6.QtWidgets import QComboBox, QLabel, QLineEdit, QPushButton, QVBoxLayout, QWidget

from flankwise.holes import length_or_zero
from gui.calm import calm
from gui.elided import ElidedLabel
from gui.fields import ExampleField
from gui.fit.fields import ShortField
from gui.fit.held import Held, Hole, OfClass
from gui.fit.hole_chart import HoleChart
from gui.fit.trials import NewHole, NewTrial, Tried
from gui.flow import Flow
from gui.with_unit import with_unit
from gui.worded import worded, worded_error
from gui.words import caution
from threads.hole.classes import hole_thread
from threads.hole.hole_words import class_words, make_words, next_words, size_words
from threads.hole.trial import FEELER, INDICATOR, MOVED, READ_WITH, RULER, STOPPED, WENT_IN
from threads.shared.formatting import format_difference, format_length


class HoleView(QWidget):
    """``filed(NewHole)``: the hole is to be filed. ``tried(NewTrial)``: the replacement was tried in it.
    ``refused(text)``: what was typed cannot be meant.
    """

    filed = Signal(object)
    tried = Signal(object)
    refused = Signal(str)

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._inches = False
        self.sentence, self.more = QLabel(), QLabel()
        self.sentence.setProperty("large", True)
        for label in (self.sentence, self.more):
            label.setWordWrap(True)
            label.setTextInteractionFlags(Qt.TextInteractionFlag.TextSelectableByMouse)
        self.chart = HoleChart()
        self.filing, self.trying = QWidget(), QWidget()
        self._lay_out_filing()
        self._lay_out_trying()
        told = QLabel(caution())
        told.setWordWrap(True)
        told.setProperty("small", True)
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        for widget in (self.sentence, self.filing, self.trying, self.chart, self.more):
            column.addWidget(widget)
        column.addStretch(1)
        column.addWidget(told)
        self.show_hole(None, None, inches=False)

    # --- the hole is filed

    def _lay_out_filing(self) -> None:
        self.thread_field = self._field("1 1/8-12 UNF", self.tr("thread of the hole"), "4-40")
        self.engaged_field = self._field("000.000 mm", self.tr("engagement"), "3 mm")
        self.depth_field = self._field("000.000 mm", self.tr("depth of the hole"), self.tr("if known"))
        self.name_field = ExampleField()
        self.name_field.setAccessibleName(self.tr("What the hole is"))
        self.name_field.setPlaceholderText(self.tr("what it is, such as index arm post"))
        self.instrument = calm(QComboBox())
        self.instrument.setEditable(True)
        self.instrument.setAccessibleName(self.tr("Instrument of the hole"))
        edit = self.instrument.lineEdit()
        assert edit is not None
        edit.setPlaceholderText(self.tr("instrument"))
        button = QPushButton(self.tr("File this hole"))
        button.clicked.connect(self._file)
        first, second = Flow(), Flow()
        for words, field in (
            (self.tr("Thread"), self.thread_field),
            (self.tr("engages over"), self.engaged_field),
            (self.tr("depth"), self.depth_field),
        ):
            first.add(QLabel(words))
            first.add(field)
        second.add(self.name_field, 2)
        second.add(self.instrument, 1)
        second.add(button)
        column = QVBoxLayout(self.filing)
        column.setContentsMargins(0, 0, 0, 0)
        column.addLayout(first)
        column.addLayout(second)

    def offer_instruments(self, names: list[str]) -> None:
        """Those on file, to choose from."""
        text = self.instrument.currentText()
        self.instrument.clear()
        self.instrument.addItems(["", *names])
        self.instrument.setCurrentText(text)

    def _file(self) -> None:
        def hole() -> NewHole:
            thread = self.thread_field.text().strip()
            if not thread:
                raise ValueError(self.tr("Say the thread of the hole, such as 4-40 or M2.5."))
            hole_thread(thread)
            depth = self.depth_field.text().strip()
            return NewHole(
                thread,
                self._length(self.engaged_field, self.tr("engagement")),
                self._length(self.depth_field, self.tr("depth")) if depth else None,
                self.name_field.text().strip(),
                self.instrument.currentText().strip(),
            )

        self._say(hole, self.filed)

    # --- a screw is tried

    def _lay_out_trying(self) -> None:
        self.screw = ElidedLabel()
        self.went_in = QPushButton(self.tr("It went in"))
        self.went_in.clicked.connect(lambda: self.tried.emit(NewTrial(WENT_IN)))
        self.stopped = QPushButton(self.tr("It stopped"))
        self.stopped.clicked.connect(self._stopped)
        self.turns = self._field("00.0 turns", self.tr("turns until it stopped"), self.tr("turns"))
        self.moved = QPushButton(self.tr("It moved"))
        self.moved.clicked.connect(self._moved)
        self.movement = self._field("0.000 mm", self.tr("whole movement from side to side"), "0.42 mm")
        self.overhang = self._field("000.0 mm", self.tr("overhang from the mouth of the hole"), "20 mm")
        self.read_with = calm(QComboBox())
        self.read_with.setAccessibleName(self.tr("What the movement was read with"))
        for key, words in (
            (RULER, self.tr("ruler")),
            (FEELER, self.tr("feeler")),
            (INDICATOR, self.tr("indicator")),
        ):
            self.read_with.addItem(f"{words} ± {format_difference(READ_WITH[key], 'mm')}", key)
        self.read_with.setCurrentIndex(2)
        first, second = Flow(), Flow()
        first.add(self.screw, 1)
        row: tuple[QWidget, ...] = (self.went_in, self.stopped, QLabel(self.tr("after")), self.turns)
        for widget in row:
            first.add(widget)
        row = (
            self.moved, self.movement, QLabel(self.tr("from side to side,")), self.overhang,
            QLabel(self.tr("from the mouth, read with")), self.read_with,
        )  # fmt: skip
        for widget in row:
            second.add(widget)
        column = QVBoxLayout(self.trying)
        column.setContentsMargins(0, 0, 0, 0)
        column.addLayout(first)
        column.addLayout(second)

    def _stopped(self) -> None:
        def trial() -> NewTrial:
            text = self.turns.text().strip().replace(",", ".")
            try:
                return NewTrial(STOPPED, turns=float(text) if text else None)
            except ValueError as error:
                raise ValueError(self.tr("{text} is no number of turns, such as 2.5.").format(text=text)) from error

        self._say(trial, self.tried)

    def _moved(self) -> None:
        def trial() -> NewTrial:
            return NewTrial(
                MOVED,
                movement=self._length(self.movement, self.tr("movement")),
                u95=READ_WITH[self.read_with.currentData()],
                overhang=self._length(self.overhang, self.tr("overhang")),
            )

        self._say(trial, self.tried)

    def clear_trial(self) -> None:
        """The trial that was typed is on file."""
        for field in (self.turns, self.movement):
            field.clear()

    # --- what is shown

    def show_hole(self, hole: Hole | None, screw: Held | None, *, inches: bool) -> None:
        """Show the hole in the slot, and the screw that can be tried in it."""
        self._inches = inches
        tried = hole if isinstance(hole, Tried) else None
        found = None if tried is None or tried.answer is None else tried.answer.found
        self.filing.setVisible(tried is None)
        self.trying.setVisible(tried is not None)
        for widget in (
            self.went_in,
            self.stopped,
            self.turns,
            self.moved,
            self.movement,
            self.overhang,
            self.read_with,
        ):
            widget.setEnabled(screw is not None)
        if isinstance(hole, OfClass) and not self.thread_field.isModified():
            self.thread_field.setText(hole.text)
        self.screw.setText(
            self.tr("Lay a screw into the replacement's slot to try it.")
            if screw is None
            else self.tr("{name} in this hole:").format(name=screw.name)
        )
        self.chart.show_hole(found, inches=inches)
        if tried is None:
            self.sentence.setText(self.tr("File the hole, then say which screws go in: that tells how large it is."))
            self.more.setText("")
            return
        if found is None:
            length = format_length(tried.engagement, inches=inches)
            words = self.tr("{thread}, engaged over {length}: no screw has gone in yet. Try a small one.")
            self.sentence.setText(words.format(thread=tried.hole.thread, length=length))
            self.more.setText("")
            return
        self.sentence.setText(worded(size_words(found), inches=inches))
        causes = [one.cause for one in found.trials if one.cause is not None]
        told = [*class_words(found), *causes, make_words(found), next_words(found)]
        self.more.setText("\n".join(f"– {worded(one, inches=inches)}" for one in told))

    def theme_changed(self) -> None:
        """Take the colours of the current theme."""
        self.chart.update()

    # --- what is typed

    def _field(self, longest: str, name: str, example: str) -> QLineEdit:
        field = ShortField(longest)
        field.setAccessibleName(name)
        field.setPlaceholderText(example)
        return field

    def _length(self, field: QLineEdit, what: str) -> float:
        return length_or_zero(with_unit(field.text(), inches=self._inches), what)

    def _say(self, read: Callable[[], NewHole | NewTrial], signal: object) -> None:
        try:
            said = read()
        except ValueError as error:  # also a length without its unit, an unknown thread
            self.refused.emit(worded_error(error))
        else:
            signal.emit(said)  # type: ignore[attr-defined]
