"""What a person may add to a part on file, or set right: name, place, a note, a replacement."""

from __future__ import annotations

from collections.abc import Callable

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QGridLayout, QLabel, QLineEdit, QWidget

from gui.fields import ExampleField
from records.entries import Part


class SetRight(QWidget):
    """A line for each; Enter does it.

    ``renamed(name)``, ``moved(instrument, position, job)``, ``noted(text)``, ``replaced(die, setting, stock)``.
    """

    renamed = Signal(str)
    moved = Signal(str, str, str)
    noted = Signal(str)
    replaced = Signal(str, str, str)

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.name = self._field(self.tr("what it is"), self._rename)
        self.instrument = self._field(self.tr("instrument"), self._move)
        self.position = self._field(self.tr("position"), self._move)
        self.job = self._field(self.tr("job"), self._move)
        self.note = self._field(self.tr("what is to be remembered"), self._note)
        self.die = self._field(self.tr("die"), self._replace)
        self.setting = self._field(self.tr("setting"), self._replace)
        self.stock = self._field(self.tr("stock"), self._replace)
        self._part: int | None = None
        grid = QGridLayout(self)
        grid.setContentsMargins(0, 6, 0, 0)
        rows: tuple[tuple[str, tuple[QLineEdit, ...]], ...] = (
            (self.tr("Name"), (self.name,)),
            (self.tr("Belongs to"), (self.instrument, self.position, self.job)),
            (self.tr("Note"), (self.note,)),
            (self.tr("Replaced with"), (self.die, self.setting, self.stock)),
        )
        for row, (words, fields) in enumerate(rows):
            label = QLabel(words)
            label.setProperty("faint", True)
            label.setBuddy(fields[0])
            grid.addWidget(label, row, 0)
            for place, field in enumerate(fields):
                grid.addWidget(field, row, 1 + place, 1, 3 if len(fields) == 1 else 1)

    def _field(self, words: str, do: Callable[[], None]) -> QLineEdit:
        field = ExampleField()
        field.setPlaceholderText(words)
        field.setAccessibleName(words)
        field.returnPressed.connect(do)
        return field

    def show_part(self, part: Part | None) -> None:
        """Fill in what is on file; what a person is typing stays."""
        same = part is not None and part.id == self._part
        self._part = None if part is None else part.id
        self.setEnabled(part is not None)
        places = (None, None, None) if part is None else (part.instrument, part.position, part.job)
        told = ["" if place is None else place.name for place in places]
        name = "" if part is None else part.name or ""
        fields = (self.instrument, self.position, self.job, self.name)
        for field, text in zip(fields, (*told, name), strict=True):
            if not (same and field.isModified()):
                field.setText(text)
        if not same:
            for field in (self.note, self.die, self.setting, self.stock):
                field.clear()

    def give_back(self, part: int, *typed: tuple[QLineEdit, str]) -> None:
        """Put back what was typed for a part and could not be filed, unless something else stands there by now."""
        for field, text in typed:
            if part == self._part and not (field.isModified() and field.text()):
                field.setText(text)
                field.setModified(True)

    def _rename(self) -> None:
        self.name.setModified(False)
        self.renamed.emit(self.name.text().strip())

    def _move(self) -> None:
        for field in (self.instrument, self.position, self.job):
            field.setModified(False)
        self.moved.emit(self.instrument.text().strip(), self.position.text().strip(), self.job.text().strip())

    def _note(self) -> None:
        if self.note.text().strip():
            self.noted.emit(self.note.text().strip())
            self.note.clear()

    def _replace(self) -> None:
        fields = (self.die, self.setting, self.stock)
        texts = [field.text().strip() for field in fields]
        if any(texts):
            self.replaced.emit(*texts)
            for field in fields:
                field.clear()
