"""The strip for documenting a whole instrument: picture, position, Enter; the next part, please."""

from __future__ import annotations

from dataclasses import replace

from PySide6.QtCore import QSize, Qt, Signal
from PySide6.QtGui import QIcon, QPixmap
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
from gui.register.filing import Doubt, Entry, Filed, known_positions, next_position, with_twin
from gui.register.question import Question
from gui.register.queue import FilingQueue, Slip

LAST = 6
"""So many of the last parts are shown."""
_SIZE = QSize(76, 52)


class Strip(QFrame):
    """Where the next part belongs.

    ``filed(piece, filed)`` when one is on file. ``wanted(part)``: the person wants to see that part.
    ``to_take_back(piece, filed)``: the last filing was a mistake.
    """

    filed = Signal(object, object)
    wanted = Signal(int)
    to_take_back = Signal(object, object)

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
        self.ready.setAccessibleName(self.tr("Part that is filed next"))
        self.back = QPushButton(self.tr("Take the last one back"))
        self.back.setProperty("flat", True)
        self.back.clicked.connect(self.take_last_back)
        self.question = Question()
        self.queue = FilingQueue(desk)
        self._shelf: list[tuple[Piece, Filed, QPushButton]] = []
        self._taken: dict[str, bool] = {}
        self._lay_out()
        self.queue.filed.connect(self._is_filed)
        self.queue.asked.connect(self._ask)
        self.queue.changed.connect(self.refresh)
        self.instrument.editingFinished.connect(self.read_positions)
        self.job.editingFinished.connect(self.read_positions)
        desk.piece_changed.connect(self.refresh)
        desk.register_changed.connect(self.read_positions)
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

    def _lay_out(self) -> None:
        grid = QGridLayout()
        grid.setVerticalSpacing(2)
        for place, (words, field) in enumerate(self._fields()):
            label = QLabel(words)
            label.setProperty("faint", True)
            label.setBuddy(field)
            grid.addWidget(label, 0, place)
            grid.addWidget(field, 1, place)
        grid.addWidget(self.done, 1, 4)
        row = QHBoxLayout()
        row.addWidget(self.ready, 1)
        self._pictures = QHBoxLayout()
        row.addLayout(self._pictures)
        row.addWidget(self.back)
        column = QVBoxLayout(self)
        column.setContentsMargins(10, 6, 10, 6)
        column.addLayout(grid)
        column.addWidget(self.question)
        column.addLayout(row)

    # --- what is known

    def refresh(self) -> None:
        """Say which part is filed next."""
        coming = None if self.desk.coming is None else self.desk.coming[1]
        piece, waiting = self.desk.piece, self.queue.waiting
        self.done.setEnabled(piece is not None or coming is not None)
        self.back.setVisible(any(filed.back is not None for _, filed, _ in self._shelf))
        if coming is not None:
            words = self.tr("Next: {name}, being measured").format(name=coming.name)
        elif piece is None:
            words = self.tr("No part on the bench: take or open its picture; what you type here stays.")
        elif piece.filed is not None:
            text = self.tr("On file as part {number}. Take or open the next picture.")
            words = text.format(number=piece.filed)
        elif piece.measurement is not None:
            words = self.tr("Next: {name}, measured").format(name=piece.name)
        else:
            words = self.tr("Next: {name}, picture only: it was not measured").format(name=piece.name)
        if waiting:
            words += "   " + self.tr("{count} on their way").format(count=waiting)
        self.ready.setText(words)
        nearest = coming or piece
        self.name.setPlaceholderText("" if nearest is None or nearest.filed is not None else nearest.name)

    def know(self, instruments: list[str], jobs: list[str]) -> None:
        """Complete these names as one types."""
        _complete(self.instrument, instruments)
        _complete(self.job, jobs)
        self.read_positions()

    def read_positions(self) -> None:
        """Learn the positions of the instrument, to complete them and to propose the next one that is free."""
        entry = self.entry()
        self.desk.work.run(
            self.tr("reading the positions"), known_positions, self.desk.register_file, entry.instrument, entry.job,
            done=self._know_positions, failed=lambda _: None, key="positions of the strip",
        )  # fmt: skip

    def _know_positions(self, found: dict[str, bool]) -> None:
        if list(found) != list(self._taken):
            _complete(self.position, list(found))
        self._taken = found

    # --- filing

    def entry(self) -> Entry:
        """What is typed."""
        instrument, job, position, name = (field.text().strip() for _, field in self._fields())
        return Entry(instrument, job, position, name)

    def file_it(self) -> None:
        """File the part as typed as soon as it is measured, and get ready for the next."""
        entry = self.entry()
        if not self.queue.add(entry):
            return
        self.desk.settings.set_text("strip instrument", entry.instrument)
        self.desk.settings.set_text("strip job", entry.job)
        if entry.position:
            self._taken[entry.position] = True
        taken = frozenset(name for name, there in self._taken.items() if there)
        self.position.setText(next_position(entry.position, taken))
        self.name.clear()
        self.position.setFocus()
        self.position.selectAll()

    def _is_filed(self, piece: Piece, filed: Filed) -> None:
        self.remember(piece, filed)
        self.filed.emit(piece, filed)

    def _ask(self, slip: Slip, doubt: Doubt) -> None:
        """Put what is in doubt as a plain choice."""
        entry, name = slip.entry, slip.entry.name or slip.piece.name

        def again(changed: Entry) -> None:
            slip.entry = changed
            self.queue.put(slip)

        if doubt.part is None:
            typed = {"instrument": entry.instrument, "job": entry.job, "position": entry.position}[doubt.field]
            text = self.tr("{name}: “{typed}” is new, but “{twin}” is on file.")
            self.question.ask(
                text.format(name=name, typed=typed, twin=doubt.twin),
                (self.tr("“{twin}” is meant").format(twin=doubt.twin), lambda: again(with_twin(entry, doubt))),
                (self.tr("Make “{typed}” new").format(typed=typed), lambda: again(replace(entry, create=True))),
            )
            return
        if doubt.again:
            text = self.tr("{name}: this picture is on file as part {number}.")
        else:
            text = self.tr("{name}: part {number} is on file for {position}.")
        self.question.ask(
            text.format(name=name, number=doubt.part, position=entry.position),
            (self.tr("Add it to part {number}").format(number=doubt.part), lambda: again(_to_part(entry, doubt))),
            (self.tr("It is another part"), lambda: again(replace(entry, another=True))),
        )

    # --- the last ones

    def remember(self, piece: Piece, filed: Filed) -> None:
        """A small picture of what was filed, the newest on the right; a click shows the part."""
        button = QPushButton()
        words = self.tr("part {number}: {name}").format(number=filed.part, name=filed.name)
        if piece.levels:
            from gui.picture_view import image_of

            small = min(piece.levels, key=lambda level: abs(level.shape[0] - 2 * _SIZE.height()))
            button.setIcon(QIcon(QPixmap.fromImage(image_of(small))))
            button.setIconSize(_SIZE)
        else:
            button.setText(str(filed.part))
        button.setProperty("flat", True)
        button.setToolTip(words)
        button.setAccessibleName(words)
        button.clicked.connect(lambda: self.wanted.emit(filed.part))
        self._pictures.addWidget(button)
        self._shelf.append((piece, filed, button))
        while len(self._shelf) > LAST:
            self._take_away(0)
        self.refresh()

    def forget(self, filed: Filed) -> None:
        """It was taken back."""
        for number, (_, one, _) in reversed(list(enumerate(self._shelf))):
            if one == filed:
                self._take_away(number)
                break
        self.refresh()

    def _take_away(self, number: int) -> None:
        button = self._shelf.pop(number)[2]
        self._pictures.removeWidget(button)
        button.deleteLater()

    @property
    def last(self) -> tuple[Filed, ...]:
        """What was filed last, the newest at the end."""
        return tuple(filed for _, filed, _ in self._shelf)

    def take_last_back(self) -> None:
        """The last filing was a mistake."""
        for piece, filed, _ in reversed(self._shelf):
            if filed.back is not None:
                self.to_take_back.emit(piece, filed)
                return


def _to_part(entry: Entry, doubt: Doubt) -> Entry:
    return replace(entry, part=doubt.part)


def _complete(field: QLineEdit, names: list[str]) -> None:
    if field.property("names") == names:
        return  # a list that is open stays open
    field.setProperty("names", names)
    completer = QCompleter(names, field)
    completer.setCaseSensitivity(Qt.CaseSensitivity.CaseInsensitive)
    completer.setFilterMode(Qt.MatchFlag.MatchContains)
    field.setCompleter(completer)
