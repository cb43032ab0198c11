"""One part on file: its picture, sizes, identity, history, and what can be done with it."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, replace
from typing import Any

from PySide6.QtCore import QByteArray, Qt
from PySide6.QtGui import QPixmap, QUndoCommand
from PySide6.QtWidgets import QGridLayout, QHBoxLayout, QLabel, QLineEdit, QPushButton, QVBoxLayout, QWidget

from gui.desk import Desk
from gui.piece import Choices
from gui.register import deeds
from gui.said import said
from gui.words import quantity_word
from records.entries import Part
from threads.formatting import format_quantity
from threads.quantity_words import QUANTITIES

SIZES = ("pitch", "major_diameter", "pitch_diameter", "minor_diameter", "included_angle")
_HIGH = 150


@dataclass(frozen=True)
class _Deed:
    """A step in the register: how it is done, and how what it returned is undone."""

    words: str
    do: Callable[[], Any]
    undo: Callable[[Any], Any]


class PartPanel(QWidget):
    """Shows the part of a number; every change is a step that can be undone."""

    def __init__(self, desk: Desk, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.desk = desk
        self.part: Part | None = None
        self._path = ""
        self.picture = QLabel()
        self.picture.setAlignment(Qt.AlignmentFlag.AlignCenter)
        self.picture.setAccessibleName(self.tr("Picture of the part on file"))
        self.heading = QLabel()
        self.heading.setProperty("heading", True)
        self.heading.setWordWrap(True)
        self.where, self.answer, self.sizes, self.history = QLabel(), QLabel(), QLabel(), QLabel()
        for label in (self.where, self.answer, self.sizes, self.history):
            label.setWordWrap(True)
            label.setTextInteractionFlags(Qt.TextInteractionFlag.TextSelectableByMouse)
        self.history.setProperty("faint", True)
        self.to_bench = self._button(self.tr("Lay it on the bench"), self._to_bench)
        self.to_fit = self._button(self.tr("Original in Fit"), self._to_fit)
        self.gone = self._button(self.tr("Withdraw"), self._withdraw)
        self.name = self._field(self.tr("another name"), self._rename)
        self.note = self._field(self.tr("a note"), self._note)
        self.die, self.setting, self.stock = (
            self._field(self.tr("replacement: die"), self._replaced),
            self._field(self.tr("setting"), self._replaced),
            self._field(self.tr("stock"), self._replaced),
        )
        self._lay_out()
        self.show_part(None)
        desk.units_changed.connect(self._fill)

    def _button(self, words: str, do: Callable[[], None]) -> QPushButton:
        button = QPushButton(words)
        button.clicked.connect(do)
        return button

    def _field(self, words: str, do: Callable[[], None]) -> QLineEdit:
        field = QLineEdit()
        field.setPlaceholderText(words)
        field.setAccessibleName(words)
        field.returnPressed.connect(do)
        return field

    def _lay_out(self) -> None:
        row = QHBoxLayout()
        for button in (self.to_bench, self.to_fit, self.gone):
            row.addWidget(button)
        grid = QGridLayout()
        grid.addWidget(self.name, 0, 0, 1, 3)
        grid.addWidget(self.note, 1, 0, 1, 3)
        for place, field in enumerate((self.die, self.setting, self.stock)):
            grid.addWidget(field, 2, place)
        column = QVBoxLayout(self)
        column.setContentsMargins(8, 0, 4, 0)
        for widget in (self.picture, self.heading, self.where, self.answer, self.sizes):
            column.addWidget(widget)
        column.addLayout(row)
        column.addLayout(grid)
        column.addWidget(self.history)
        column.addStretch(1)

    def show_part(self, number: int | None) -> None:
        """Read the part of that number and show it; None: nothing."""
        if number is None:
            self._take((None, b"", ""))
            return
        words = self.tr("reading part {number}").format(number=number)
        self.desk.work.run(
            words, deeds.whole_part, self.desk.register_file, number, done=self._take, failed=self.desk.refuse,
            key="part of the register",
        )  # fmt: skip

    def _take(self, read: tuple[Part | None, bytes, str]) -> None:
        self.part, small, self._path = read
        pixmap = QPixmap()
        if small and pixmap.loadFromData(QByteArray(small)):
            self.picture.setPixmap(pixmap.scaledToHeight(_HIGH, Qt.TransformationMode.SmoothTransformation))
        else:
            self.picture.clear()
        self._fill()

    def _fill(self) -> None:
        part = self.part
        for widget in (self.to_bench, self.to_fit, self.gone, self.name, self.note, self.die, self.setting, self.stock):
            widget.setEnabled(part is not None)
        if part is None:
            self.heading.setText(self.tr("Choose a part"))
            for label in (self.where, self.answer, self.sizes, self.history):
                label.setText("")
            return
        number = self.tr("part {number}").format(number=part.id)
        self.heading.setText(f"{part.name}  ({number})" if part.name else number)
        places = (part.instrument, part.position, part.job)
        self.where.setText(", ".join(place.name for place in places if place is not None))
        measurement = part.measurement
        found = None if measurement is None else measurement.identification
        self.answer.setText("" if found is None else said(found.says))
        self.to_fit.setEnabled(measurement is not None)
        self.to_bench.setEnabled(bool(self._path))
        if measurement is None:
            self.sizes.setText(self.tr("It was not measured."))
        else:
            thread, words = measurement.thread, dict(QUANTITIES)
            lines = [
                f"{quantity_word(words[name])}  {format_quantity(getattr(thread, name), inches=self.desk.inches)}"
                for name in SIZES
            ]
            self.sizes.setText("\n".join(lines))
        self.history.setText("\n".join(self._history(part)))

    def _history(self, part: Part) -> list[str]:
        lines = [f"{note.added[:10]}  {note.text}" for note in part.notes if not note.withdrawn]
        for made in part.replacements:
            if not made.withdrawn:
                told = ", ".join(word for word in (made.die, made.setting, made.stock) if word)
                lines.append(self.tr("{day}  replaced: {what}").format(day=made.made, what=told))
        lines += [
            self.tr("{day}  measured by {who}").format(day=m.measured[:10], who=m.who)
            for m in part.measurements
            if not m.withdrawn
        ]
        lines += [
            self.tr("{day}  {what}: {before} became {after}").format(
                day=c.added[:10], what=c.column, before=c.before or "–", after=c.after or "–"
            )
            for c in part.corrections
            if c.column != "withdrawn"
        ]
        return lines

    # --- what the person does

    def _to_bench(self) -> None:
        if self.part is None:
            return
        instrument = self.part.instrument
        choices = Choices(name=self.part.name or "")
        if instrument is not None:
            choices = replace(choices, origin=instrument.country, made=instrument.made)
        self.desk.open_picture(self._path, choices)
        self.desk.go.emit("part")

    def _to_fit(self) -> None:
        if self.part is not None:
            self.desk.wanted_filed.emit(self.part.id)
            self.desk.go.emit("fit")

    def _rename(self) -> None:
        text, part = self.name.text().strip(), self.part
        if part is None or not text:
            return
        file = self.desk.register_file
        self.step(
            self.tr("another name"),
            lambda: deeds.correct_part(file, part.id, {"name": text}),
            lambda done: deeds.take_back(file, done),
        )
        self.name.clear()

    def _withdraw(self) -> None:
        part, file = self.part, self.desk.register_file
        if part is not None:
            self.step(
                self.tr("part withdrawn"),
                lambda: deeds.withdraw_part(file, part.id),
                lambda done: deeds.take_back(file, done),
            )

    def _note(self) -> None:
        text, part, file = self.note.text().strip(), self.part, self.desk.register_file
        if part is None or not text:
            return
        self.step(
            self.tr("note"),
            lambda: deeds.note_part(file, part.id, text),
            lambda note: deeds.withdraw_row(file, "notes", note),
        )
        self.note.clear()

    def _replaced(self) -> None:
        part, file = self.part, self.desk.register_file
        die, setting, stock = (field.text().strip() for field in (self.die, self.setting, self.stock))
        if part is None or not (die or setting or stock):
            return
        self.step(
            self.tr("replacement made"),
            lambda: deeds.replaced_part(file, part.id, die=die, setting=setting, stock=stock),
            lambda row: deeds.withdraw_row(file, "replacements", row),
        )
        for field in (self.die, self.setting, self.stock):
            field.clear()

    def step(self, words: str, do: Callable[[], Any], undo: Callable[[Any], Any]) -> None:
        """Do something to the register in a worker; undo takes it back in another."""
        self.desk.undo.push(_Step(self, _Deed(words, do, undo)))

    def done(self) -> None:
        """Something changed: read the part anew, and tell the others."""
        self.desk.register_changed.emit()
        if self.part is not None:
            self.show_part(self.part.id)


class _Step(QUndoCommand):
    """One deed; doing it again after an undo does it anew."""

    def __init__(self, panel: PartPanel, deed: _Deed) -> None:
        super().__init__(deed.words)
        self._panel, self._deed = panel, deed
        self._result: Any = None

    def redo(self) -> None:
        self._run(self._deed.do, keep=True)

    def undo(self) -> None:
        result = self._result
        self._run(lambda: self._deed.undo(result), keep=False)

    def _run(self, what: Callable[[], Any], *, keep: bool) -> None:
        def done(result: Any) -> None:
            if keep:
                self._result = result
            self._panel.done()

        desk = self._panel.desk
        desk.work.run(self._deed.words, what, done=done, failed=desk.refuse)
