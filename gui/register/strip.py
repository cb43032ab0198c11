"""The strip for documenting a whole instrument: picture, position, done; the next part, please."""

from __future__ import annotations

from dataclasses import replace

from PySide6.QtCore import Qt, Signal
from PySide6.QtGui import QPixmap
from PySide6.QtWidgets import (
    QCompleter,
    QFrame,
    QGridLayout,
    QHBoxLayout,
    QLabel,
    QLineEdit,
    QPushButton,
    QVBoxLayout,
    QWidget,
)

from gui.desk import Desk
from gui.elided import ElidedLabel
from gui.piece import Piece
from gui.register.deeds import Entry, Filed, file_piece, next_position
from gui.said import said
from vision.refusal import RefusalError

LAST = 6
"""So many of the last parts are shown."""
_HIGH = 56


class Strip(QFrame):
    """Where the next part belongs. ``filed(filed)`` when one is on file."""

    filed = Signal(object)

    def __init__(self, desk: Desk, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.desk = desk
        self.setProperty("card", True)
        self.instrument, self.job = self._field(self.tr("instrument")), self._field(self.tr("job"))
        self.position, self.name = self._field(self.tr("position")), self._field(self.tr("what it is"))
        self.instrument.setText(desk.settings.text("strip instrument"))
        self.job.setText(desk.settings.text("strip job"))
        self.done = QPushButton(self.tr("Put on file"))
        self.done.setProperty("main", True)
        self.done.clicked.connect(self.file_it)
        self.ready = ElidedLabel()
        self.ready.setProperty("faint", True)
        self.question = QWidget()
        self._asked = QLabel()
        self._asked.setWordWrap(True)
        self.yes, self.no = QPushButton(), QPushButton(self.tr("Leave it"))
        self.no.clicked.connect(self._leave)
        self.yes.clicked.connect(self._go_on)
        row = QHBoxLayout(self.question)
        row.setContentsMargins(0, 0, 0, 0)
        row.addWidget(self._asked, 1)
        row.addWidget(self.yes)
        row.addWidget(self.no)
        self.question.hide()
        grid = QGridLayout()
        for place, (words, field) in enumerate(self._fields()):
            label = QLabel(words)
            label.setProperty("faint", True)
            label.setBuddy(field)
            grid.addWidget(label, 0, place)
            grid.addWidget(field, 1, place)
        grid.addWidget(self.done, 1, 4)
        self._shelf = QHBoxLayout()
        self._shelf.addWidget(self.ready, 1)
        self._shown: list[QLabel] = []
        column = QVBoxLayout(self)
        column.setContentsMargins(10, 6, 10, 6)
        column.addLayout(grid)
        column.addWidget(self.question)
        column.addLayout(self._shelf)
        self._waiting: tuple[Piece, Entry] | None = None
        desk.piece_changed.connect(self.refresh)
        self.refresh()

    def _field(self, words: str) -> QLineEdit:
        field = QLineEdit()
        field.setAccessibleName(words)
        field.returnPressed.connect(self.file_it)
        return field

    def _fields(self) -> tuple[tuple[str, QLineEdit], ...]:
        return (
            (self.tr("instrument"), self.instrument),
            (self.tr("job"), self.job),
            (self.tr("position"), self.position),
            (self.tr("what it is"), self.name),
        )

    def refresh(self) -> None:
        """Say which part is ready to be filed."""
        piece = self.desk.piece
        self.done.setEnabled(piece is not None)
        if piece is None:
            self.ready.setText(self.tr("No part on the bench: take or open its picture; what you type here stays."))
            return
        state = self.tr("measured") if piece.measurement is not None else self.tr("picture only, it was not measured")
        on_file = "" if piece.filed is None else self.tr("  (on file as part {number})").format(number=piece.filed)
        self.ready.setText(self.tr("Ready: {name}, {state}").format(name=piece.name, state=state) + on_file)
        if not self.name.text():
            self.name.setPlaceholderText(piece.name)

    def know(self, instruments: list[str], jobs: list[str]) -> None:
        """Complete these names as one types."""
        for field, names in ((self.instrument, instruments), (self.job, jobs)):
            completer = QCompleter(names, field)
            completer.setCaseSensitivity(Qt.CaseSensitivity.CaseInsensitive)
            completer.setFilterMode(Qt.MatchFlag.MatchContains)
            field.setCompleter(completer)

    def entry(self) -> Entry:
        """What is typed."""
        instrument, job, position, name = (field.text().strip() for _, field in self._fields())
        return Entry(instrument, job, position, name)

    def file_it(self) -> None:
        """File the part on the bench as typed, and get ready for the next; typing goes on meanwhile."""
        piece = self.desk.piece
        if piece is None or self._waiting is not None:
            return
        entry = self.entry()
        self.desk.settings.set_text("strip instrument", entry.instrument)
        self.desk.settings.set_text("strip job", entry.job)
        self._file(piece, entry)
        self.position.setText(next_position(entry.position))
        self.name.clear()
        self.position.setFocus()
        self.position.selectAll()

    def _file(self, piece: Piece, entry: Entry) -> None:
        words = self.tr("filing {name}").format(name=entry.name or piece.name)
        self.desk.work.run(
            words, file_piece, self.desk.register_file, piece, entry,
            done=lambda filed: self._is_filed(piece, filed), failed=lambda error: self._refused(piece, entry, error),
        )  # fmt: skip

    def _is_filed(self, piece: Piece, filed: Filed) -> None:
        if self.desk.piece is not None and self.desk.piece.path == piece.path:
            self.desk.filed(filed.part)
        else:
            self.desk.register_changed.emit()
        self._remember(piece, filed)
        self.filed.emit(filed)
        self.refresh()

    def _refused(self, piece: Piece, entry: Entry, error: Exception) -> None:
        """Ask in the strip where there is a plain choice; say the rest."""
        code = error.reasons[0].code if isinstance(error, RefusalError) else ""
        choices = {
            "name_alike": (self.tr("It is another one"), replace(entry, create=True)),
            "position_taken": (self.tr("It is one more there"), replace(entry, another=True)),
        }
        if code not in choices or not isinstance(error, RefusalError):
            self.desk.refuse(error)
            return
        words, changed = choices[code]
        self._waiting = (piece, changed)
        self._asked.setText(said(error.reasons[0].message))
        self.yes.setText(words)
        self.question.show()
        self.yes.setFocus()

    def _go_on(self) -> None:
        waiting = self._waiting
        self._leave()
        if waiting is not None:
            self._file(*waiting)

    def _leave(self) -> None:
        self._waiting = None
        self.question.hide()
        self.position.setFocus()

    def _remember(self, piece: Piece, filed: Filed) -> None:
        """A small picture of what was filed, the newest on the left."""
        if not piece.levels:
            return
        from gui.picture_view import image_of

        small = min(piece.levels, key=lambda level: abs(level.shape[0] - 2 * _HIGH))
        label = QLabel()
        label.setPixmap(QPixmap.fromImage(image_of(small)).scaledToHeight(_HIGH))
        words = self.tr("part {number}: {name}").format(number=filed.part, name=filed.name)
        label.setToolTip(words)
        label.setAccessibleName(words)
        self._shelf.insertWidget(1, label)
        self._shown.insert(0, label)
        for old in self._shown[LAST:]:
            self._shelf.removeWidget(old)
            old.deleteLater()
        del self._shown[LAST:]
