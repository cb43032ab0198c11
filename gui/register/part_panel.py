"""One part on file: its picture, sizes, identity, history, and what can be done with it."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from typing import TYPE_CHECKING

from PySide6.QtCore import QByteArray, Qt, Signal
from PySide6.QtGui import QImage
from PySide6.QtWidgets import QGridLayout, QLabel, QPushButton, QVBoxLayout, QWidget

from gui.desk import Desk
from gui.fit.verdicts import from_memory
from gui.flow import Flow
from gui.piece import Choices
from gui.register import deeds
from gui.register.part_history import history
from gui.register.set_right import SetRight
from gui.register.shown_picture import ShownPicture
from gui.register.steps import Steps
from gui.theme import figures_font
from gui.worded import worded
from gui.words import quantity_word
from records.entries import Part
from records.from_memory import identified_from_memory, marked
from records.identity_on_file import words_on_file
from threads.hole.hole_words import size_words
from threads.shared.formatting import NOT_DETERMINED, write_quantity
from threads.shared.quantity_words import QUANTITIES

if TYPE_CHECKING:
    from vision.shared.plane import PlaneMap

SIZES = ("pitch", "major_diameter", "pitch_diameter", "minor_diameter", "included_angle")
_LARGE_PX = 1600


class PartPanel(QWidget):
    """Shows the part of a number; every change is a step that can be undone. ``shown``: another part, or none."""

    shown = Signal()

    def __init__(self, desk: Desk, steps: Steps, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.desk, self._steps = desk, steps
        self._whole: deeds.Whole | None = None
        self.picture = ShownPicture()
        self.picture.pressed.connect(self._to_bench)
        self.heading, self.where, self.answer, self.history = QLabel(), QLabel(), QLabel(), QLabel()
        for label in (self.heading, self.where, self.answer, self.history):
            label.setWordWrap(True)
            label.setTextFormat(Qt.TextFormat.PlainText)
            label.setTextInteractionFlags(Qt.TextInteractionFlag.TextSelectableByMouse)
        self.heading.setProperty("heading", True)
        self.where.setProperty("faint", True)
        self.history.setProperty("faint", True)
        self.sizes = {name: (QLabel(), QLabel(), QLabel()) for name in SIZES}
        self.unmeasured = QLabel(self.tr("It was not measured."))
        self.to_bench = self._button(self.tr("Open"), self._to_bench)
        self.to_fit = self._button(self.tr("Original in Fit"), self._to_fit)
        self.gone = self._button(self.tr("Withdraw"), self._withdraw)
        self.right = SetRight()
        self.right.renamed.connect(self._rename)
        self.right.moved.connect(self._move)
        self.right.noted.connect(self._note)
        self.right.replaced.connect(self._replaced)
        self._lay_out()
        self.show_part(None)
        desk.units_changed.connect(self._fill)
        desk.register_changed.connect(self._read_again)

    @property
    def part(self) -> Part | None:
        """The part that is shown."""
        return None if self._whole is None else self._whole.part

    def _button(self, words: str, do: Callable[[], None]) -> QPushButton:
        button = QPushButton(words)
        button.clicked.connect(do)
        return button

    def _lay_out(self) -> None:
        grid = QGridLayout()
        grid.setHorizontalSpacing(14)
        grid.setVerticalSpacing(2)
        words = dict(QUANTITIES)
        for row, (name, (label, value, u95)) in enumerate(self.sizes.items()):
            label.setText(quantity_word(words[name]))
            label.setProperty("faint", True)
            for place, widget in enumerate((label, value, u95)):
                right = Qt.AlignmentFlag.AlignRight if place == 1 else Qt.AlignmentFlag.AlignLeft
                grid.addWidget(widget, row, place, right | Qt.AlignmentFlag.AlignBaseline)
        grid.setColumnStretch(3, 1)
        row_of_buttons = Flow()
        for button in (self.to_bench, self.to_fit, self.gone):
            row_of_buttons.add(button, 1)
        column = QVBoxLayout(self)
        column.setContentsMargins(8, 0, 4, 0)
        column.addWidget(self.picture)
        for line in (self.heading, self.where, self.answer, self.unmeasured):
            column.addWidget(line)
        column.addLayout(grid)
        column.addLayout(row_of_buttons)
        column.addWidget(self.right)
        column.addWidget(self.history)
        column.addStretch(1)
        self.theme_changed()

    def theme_changed(self) -> None:
        """Take the current type."""
        for name, (_, value, u95) in self.sizes.items():
            strong = name == "pitch_diameter"
            value.setFont(figures_font(self.font(), scale=1.15, bold=strong))
            u95.setFont(figures_font(self.font(), scale=1.0))

    # --- what is shown

    def show_part(self, number: int | None) -> None:
        """Read the part of that number and show it; None: nothing."""
        if number is None:
            self._take(None)
            return
        words = self.tr("reading part {number}").format(number=number)
        self.desk.work.run(
            words, deeds.whole_part, self.desk.register_file, number, done=self._take, failed=self.desk.refuse,
            key="part of the register",
        )  # fmt: skip

    def _read_again(self) -> None:
        if self.part is not None:
            self.show_part(self.part.id)

    def _take(self, whole: deeds.Whole | None) -> None:
        before, self._whole = self._whole, whole
        if whole is None:
            self.picture.show_image(QImage())
        elif before is None or before.path != whole.path or self.picture.image.isNull():
            self.picture.show_image(QImage.fromData(QByteArray(whole.small)))
            if whole.path:
                self._read_large(whole.path)
        self.right.show_part(self.part)
        self._fill()
        self.shown.emit()

    def _read_large(self, path: str) -> None:
        def done(image: QImage) -> None:
            if not image.isNull() and self._whole is not None and self._whole.path == path:
                self.picture.show_image(image)

        self.desk.work.run(
            self.tr("reading the picture"), deeds.large_picture, path, _LARGE_PX, done=done, failed=lambda _: None,
            key="large picture of the register",
        )  # fmt: skip

    def _fill(self) -> None:
        whole, part = self._whole, self.part
        measurement = None if part is None else part.measurement
        for button in (self.to_bench, self.to_fit, self.gone, self.right, self.history, self.where):
            button.setVisible(part is not None)
        hole = None if part is None else part.hole
        self.unmeasured.setVisible(part is not None and measurement is None and hole is None)
        thread = None if measurement is None else measurement.thread
        for name, labels in self.sizes.items():
            quantity = None if thread is None else getattr(thread, name)
            written = None if quantity is None else write_quantity(quantity, inches=self.desk.inches)
            labels[1].setText(NOT_DETERMINED if written is None else written.value)
            labels[2].setText("" if written is None else str(written).split(" ", 1)[1])
            for label in labels:
                label.setVisible(thread is not None)
        if whole is None or part is None:
            self.heading.setText(self.tr("Choose a part"))
            self.answer.setText("")
            return
        number = self.tr("part {number}").format(number=part.id)
        self.heading.setText(f"{part.name}  ({number})" if part.name else number)
        places = (part.instrument, part.position, part.job)
        self.where.setText(", ".join(place.name for place in places if place is not None))
        found = None if measurement is None else measurement.identification
        unverified = found is not None and identified_from_memory(found.document)
        says = "" if found is None else worded(words_on_file(found.document.get("words"), found.says))
        self.answer.setText(marked(says, from_memory=unverified) if says else "")
        self.answer.setToolTip(from_memory() if unverified else "")
        self.answer.setVisible(found is not None or hole is not None)
        if hole is not None:
            size = None if whole.hole is None else size_words(whole.hole.found)
            nothing = self.tr("A {thread} hole in which no screw has gone in yet.").format(thread=hole.thread)
            self.answer.setText(nothing if size is None else worded(size, inches=self.desk.inches))
        self.to_fit.setEnabled(measurement is not None or hole is not None)
        self.to_fit.setText(self.tr("Original in Fit") if hole is None else self.tr("Hole in Fit"))
        self.to_bench.setEnabled(bool(whole.path))
        self.gone.setText(self.tr("Bring it back") if part.withdrawn else self.tr("Withdraw"))
        self.history.setText("\n".join(history(whole, inches=self.desk.inches)))

    # --- what the person does

    def _to_bench(self) -> None:
        whole = self._whole
        if whole is None or not whole.path:
            return
        part, instrument = whole.part, whole.part.instrument
        choices = Choices(name=part.name or "")
        if instrument is not None:
            choices = replace(choices, origin=instrument.country, made=instrument.made, instrument=instrument.name)

        def lay(plane: PlaneMap | None) -> None:
            self.desk.open_picture(whole.path, choices, plane=plane, filed=part.id)
            self.desk.go.emit("part")
            if plane is not None:
                self.desk.note(
                    self.tr("Measured with the calibration that it was filed with, not with the one in use.")
                )

        words = self.tr("reading the bench")
        self.desk.work.run(
            words, deeds.plane_of, self.desk.register_file, part.id, done=lay, failed=self.desk.refuse, key="lay"
        )

    def _to_fit(self) -> None:
        if self.part is not None:
            self.desk.wanted_filed.emit(self.part.id)
            self.desk.go.emit("fit")

    def _rename(self, text: str) -> None:
        part, file = self.part, self.desk.register_file
        if part is not None and text and text != part.name:
            self._steps.do(
                self.tr("another name"),
                lambda: deeds.correct_part(file, part.id, {"name": text}),
                lambda: self.right.give_back(part.id, (self.right.name, text)),
            )

    def _move(self, instrument: str, position: str, job: str) -> None:
        part, file = self.part, self.desk.register_file
        if part is None:
            return
        if position and not instrument:
            self.desk.noticed.emit("refusal", self.tr("On which instrument is that position?"))
            return
        right = self.right
        typed = ((right.instrument, instrument), (right.position, position), (right.job, job))
        self._steps.do(
            self.tr("belongs elsewhere"),
            lambda: deeds.move_part(file, part.id, instrument, position, job),
            lambda: right.give_back(part.id, *typed),
        )

    def _withdraw(self) -> None:
        part, file = self.part, self.desk.register_file
        if part is None:
            return
        words = self.tr("part brought back") if part.withdrawn else self.tr("part withdrawn")
        changes = {"withdrawn": int(not part.withdrawn)}
        self._steps.do(words, lambda: deeds.correct_part(file, part.id, changes))

    def _note(self, text: str) -> None:
        part, file = self.part, self.desk.register_file
        if part is not None:
            self._steps.do(
                self.tr("note"),
                lambda: deeds.note_part(file, part.id, text),
                lambda: self.right.give_back(part.id, (self.right.note, text)),
            )

    def _replaced(self, die: str, setting: str, stock: str) -> None:
        part, file = self.part, self.desk.register_file
        if part is not None:
            typed = ((self.right.die, die), (self.right.setting, setting), (self.right.stock, stock))
            self._steps.do(
                self.tr("replacement made"),
                lambda: deeds.replaced_part(file, part.id, die=die, setting=setting, stock=stock),
                lambda: self.right.give_back(part.id, *typed),
            )
