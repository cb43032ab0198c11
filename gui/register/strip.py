"""The strip for documenting a whole instrument: position, Enter; the next card of the tray, please."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

from PySide6.QtCore import QSize, Qt, Signal
from PySide6.QtWidgets import (
    QCompleter,
    QFrame,
    QLabel,
    QLineEdit,
    QPushButton,
    QVBoxLayout,
    QWidget,
)

from gui.desk import Desk
from gui.elided import ElidedLabel
from gui.fields import ExampleField
from gui.flow import Flow
from gui.register.filing import Doubt, Entry, Filed, file_all_parts, known_positions, with_twin
from gui.register.question import Choice, Question
from gui.register.queue import FilingQueue
from gui.tray.cards import Card, State
from gui.worded import worded, worded_error
from records.next_position import next_position

if TYPE_CHECKING:
    from records.tray import TrayPart

_FIELD = 13  # letters of a field, in view at least
_MOST_LETTERS = 24
"""So much of a position stands on the button."""


class _Steady(QPushButton):
    """It does not become wider with every letter of a position."""

    def sizeHint(self) -> QSize:
        least = QSize(self.fontMetrics().averageCharWidth() * _MOST_LETTERS, 0)
        return super().sizeHint().expandedTo(least)

    def minimumSizeHint(self) -> QSize:
        return self.sizeHint()


def _under(label: QLabel, widget: QWidget) -> QWidget:
    made = QWidget()
    column = QVBoxLayout(made)
    column.setContentsMargins(0, 0, 0, 0)
    column.setSpacing(2)
    column.addWidget(label)
    column.addWidget(widget)
    return made


class Strip(QFrame):
    """Where the highlighted card belongs, and what Enter does with it.

    ``filed(card, filed)`` when one is on file; ``tray_filed(card, parts)`` when all parts of its picture are.
    ``to_take_back(card, filed)``: the last filing was a mistake.
    """

    filed = Signal(object, object)
    tray_filed = Signal(object, object)
    to_take_back = Signal(object, object)

    def __init__(self, desk: Desk, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.desk = desk
        self.setProperty("card", True)
        self.instrument, self.job = self._field(self.tr("instrument")), self._field(self.tr("job"))
        self.position, self.name = self._field(self.tr("position")), self._field(self.tr("what it is"))
        self.name.setProperty("names a card", True)  # its example is a name, shortened where it is long
        self.instrument.setText(desk.settings.text("strip instrument"))
        self.job.setText(desk.settings.text("strip job"))
        self.done = _Steady(self.tr("File this part"))
        self.done.setProperty("main", True)
        self.done.clicked.connect(self.file_it)
        self.ready = ElidedLabel()
        self.ready.setAccessibleName(self.tr("Part that is filed next"))
        self.once_more = QPushButton(self.tr("File it once more"))
        self.once_more.setProperty("flat", True)
        self.once_more.clicked.connect(self.file_once_more)
        self.all_parts = QPushButton(self.tr("File every part in the picture"))
        self.all_parts.setProperty("flat", True)
        self.all_parts.clicked.connect(self.file_all_parts)
        self.back = QPushButton(self.tr("Take the last one back"))
        self.back.setProperty("flat", True)
        self.back.clicked.connect(self.take_last_back)
        self.question = Question()
        self.queue = FilingQueue(desk)
        self._taken: dict[str, bool] = {}
        self._proposed, self._at = "", 0
        self._lay_out()
        self.queue.filed.connect(self._is_filed)
        self.queue.asked.connect(self._ask)
        self.queue.refused.connect(self._ask_for_picture_alone)
        self.queue.failed.connect(self._ask_to_try_again)
        self.queue.declined.connect(self.give_back)
        self.instrument.editingFinished.connect(self.read_positions)
        self.job.editingFinished.connect(self.read_positions)
        self.position.textChanged.connect(self.refresh)
        desk.tray_changed.connect(self.refresh)
        desk.register_changed.connect(self.read_positions)
        self.refresh()

    def _field(self, words: str) -> QLineEdit:
        field = ExampleField(_FIELD)
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
        fields = Flow()
        for words, field in self._fields():
            label = QLabel(words)
            label.setProperty("faint", True)
            label.setBuddy(field)
            fields.add(_under(label, field), 1)
        fields.add(_under(QLabel(), self.done))
        row = Flow()
        row.add(self.ready, 1)
        for button in (self.all_parts, self.once_more, self.back):
            row.add(button)
        column = QVBoxLayout(self)
        column.setContentsMargins(10, 6, 10, 6)
        column.addLayout(fields)
        column.addWidget(self.question)
        column.addLayout(row)

    # --- what is known

    def refresh(self) -> None:
        """Say which card is filed next, and as what."""
        card, waiting = self.desk.tray.highlighted, self.queue.waiting
        self._take_what_was_meant(card)
        possible = card is not None and not card.settled and (card.read or card.state is not State.REFUSED)
        self.done.setEnabled(possible)
        self.done.setText(self._button_words(card))
        self.done.setToolTip(self.position.text())
        self.once_more.setVisible(card is not None and card.piece.filed is not None and card.given is None)
        self.all_parts.setVisible(card is not None and not card.settled and _has_several(card))
        self.back.setVisible(any(filed.back is not None for filed in self.last))
        words = self._card_words(card)
        if waiting:
            words += "   " + self.tr("{count} on their way").format(count=waiting)
        self.ready.setText(words)
        self.name.setPlaceholderText("" if card is None or card.settled else card.name)
        self.question.keep({c.number for c in self.desk.tray.on_their_way if c.given is not None and c.given.asked})

    def _button_words(self, card: Card | None) -> str:
        if card is not None and card.given is not None:
            return self.tr("On its way")
        if card is not None and card.piece.filed is not None:
            return self.tr("On file as part {number}").format(number=card.piece.filed)
        place = self.position.text().strip()
        place = place if len(place) <= _MOST_LETTERS else f"{place[: _MOST_LETTERS - 1]}…"
        alone = card is not None and card.state is State.REFUSED
        if not place:
            return self.tr("File the picture alone") if alone else self.tr("File this part")
        words = self.tr("File the picture as {position}") if alone else self.tr("File this as {position}")
        return words.format(position=place).replace("&", "&&")

    def _card_words(self, card: Card | None) -> str:
        if card is None:
            return self.tr("No picture in the tray: take or open one; what you type here stays.")
        if card.given is not None:
            words = self.tr("{name} is filed as {position} as soon as it is measured. Take or open the next picture.")
            return words.format(name=card.name, position=card.given.entry.position or card.name)
        if card.piece.filed is not None:
            return self.tr("{name} is on file. Take or open the next picture.").format(name=card.name)
        words = {
            State.WAITING: self.tr("Next: {name}, still to be measured"),
            State.MEASURING: self.tr("Next: {name}, being measured"),
            State.READY: self.tr("Next: {name}, measured"),
            State.REFUSED: self.tr("Next: {name}, picture only: it was not measured"),
        }[card.state]
        return words.format(name=card.name)

    def _take_what_was_meant(self, card: Card | None) -> None:
        """A card that came back after a bad end brings along where it was to go."""
        number = 0 if card is None else card.number
        if number == self._at:
            return
        self._at = number
        meant = None if card is None or card.settled else card.meant
        if meant is not None and self.position.text() in ("", self._proposed):
            for field, text in zip(
                (self.instrument, self.job, self.name), (meant.instrument, meant.job, meant.name), strict=True
            ):
                field.setText(text)
            self._propose(meant.position)

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
        """File the highlighted card as typed as soon as it is measured, and get ready for the next."""
        card = self.desk.tray.highlighted
        if card is not None and self.done.isEnabled():
            self._give(card)

    def file_once_more(self) -> None:
        """File the highlighted card, which is on file, again: as another part, or as one more picture of it."""
        card = self.desk.tray.highlighted
        if card is not None and card.piece.filed is not None and card.given is None:
            self._give(card)

    def file_all_parts(self) -> None:
        """Measure every part in the picture of the highlighted card, and file them all, or none."""
        card, bench = self.desk.tray.highlighted, self.desk.bench
        if card is None or card.settled:
            return
        if bench is None:
            self.desk.noticed.emit("refusal", self.tr("Calibrate the bench or open a calibration first."))
            return

        def done(parts: tuple[TrayPart, ...]) -> None:
            there = [one.filed.part for one in parts if one.filed is not None]
            left = len(parts) - len(there)
            text = self.tr("{count} parts are on file: {numbers}.")
            text = text.format(count=len(there), numbers=", ".join(map(str, there)))
            if left:
                text += "  " + self.tr("{count} in the picture were not measured.").format(count=left)
            self.desk.noticed.emit("warning" if left else "note", text)
            self.tray_filed.emit(card, parts)

        self.desk.work.run(
            self.tr("measuring every part"), file_all_parts, self.desk.register_file, card.piece, bench, self.entry(),
            done=done, failed=self.desk.refuse, keeps=True,
        )  # fmt: skip

    def _give(self, card: Card) -> None:
        entry = self.entry()
        self.desk.settings.set_text("strip instrument", entry.instrument)
        self.desk.settings.set_text("strip job", entry.job)
        self.name.clear()
        self.desk.set_tray(self.desk.tray.give(card.number, entry))
        self._propose(next_position(entry.position, self._not_free(entry)))
        self.position.setFocus()
        self.position.selectAll()

    def _propose(self, position: str) -> None:
        """Type ``position`` for the person, who may type another over it."""
        self._proposed = position
        self.position.setText(position)

    def _not_free(self, entry: Entry) -> frozenset[str]:
        """The positions that have a part, or will have once what is on its way is on file."""
        there = frozenset(name for name, filed in self._taken.items() if filed)
        return there | self.desk.tray.promised(entry.instrument, entry.job)

    def give_back(self, entry: Entry) -> None:
        """What was to be filed as ``entry`` is not: its position is the next one again, unless somebody typed."""
        typed = self.entry()
        same = (typed.instrument, typed.job) == (entry.instrument, entry.job)
        if entry.position and same and typed.position == self._proposed:
            taken = self._not_free(entry)
            self._propose(next_position(entry.position, taken) if entry.position in taken else entry.position)

    def _is_filed(self, card: Card, filed: Filed) -> None:
        if card.given is not None and card.given.entry.position:
            self._taken[card.given.entry.position] = True
        self.filed.emit(card, filed)

    def _ask(self, card: Card, doubt: Doubt) -> None:
        """Put what is in doubt as a plain choice."""
        assert card.given is not None
        entry, number = card.given.entry, card.number
        name = entry.name or card.name

        def again(changed: Entry) -> None:
            self.queue.again(number, changed)

        if doubt.part is None:
            typed = {"instrument": entry.instrument, "job": entry.job, "position": entry.position}[doubt.field]
            text = self.tr("{name}: “{typed}” is new, but “{twin}” is on file.")
            self._put(
                card,
                text.format(name=name, typed=typed, twin=doubt.twin),
                (self.tr("“{twin}” is meant").format(twin=doubt.twin), lambda: again(with_twin(entry, doubt))),
                (self.tr("Make “{typed}” new").format(typed=typed), lambda: again(replace(entry, create=True))),
            )
            return
        if doubt.again:
            text = self.tr("{name}: this picture is on file as part {number}.")
        else:
            text = self.tr("{name}: part {number} is on file for {position}.")
        self._put(
            card,
            text.format(name=name, number=doubt.part, position=entry.position),
            (self.tr("Add it to part {number}").format(number=doubt.part), lambda: again(_to_part(entry, doubt))),
            (self.tr("It is another part"), lambda: again(replace(entry, another=True))),
        )

    def _ask_for_picture_alone(self, card: Card) -> None:
        """It was refused after Enter had been pressed."""
        assert card.given is not None
        entry, number = card.given.entry, card.number
        why = "  ".join(map(worded, card.piece.reasons))
        text = self.tr("{name} was not measured. {why}").format(name=entry.name or card.name, why=why)
        alone = (self.tr("File the picture alone"), lambda: self.queue.again(number, entry, alone=True))
        self._put(card, text, alone if card.read else None)

    def _ask_to_try_again(self, card: Card, error: Exception) -> None:
        """The register took nothing; what was typed is kept with the card."""
        assert card.given is not None
        entry, number = card.given.entry, card.number
        why = worded_error(error)
        text = self.tr("{name} is not on file yet. {why}").format(name=entry.name or card.name, why=why)
        self._put(card, text, (self.tr("Try again"), lambda: self.queue.again(number, entry)))

    def _put(self, card: Card, text: str, *choices: Choice | None) -> None:
        self.question.ask(card.number, text, [c for c in choices if c], lambda: self.queue.decline(card.number))

    @property
    def last(self) -> tuple[Filed, ...]:
        """What was filed last, the newest at the end."""
        return tuple(card.record for card in self.desk.tray.filed if card.record is not None)

    def take_last_back(self) -> None:
        """The last filing was a mistake."""
        for card in reversed(self.desk.tray.filed):
            if card.record is not None and card.record.back is not None:
                self.to_take_back.emit(card, card.record)
                return


def _has_several(card: Card) -> bool:
    return any(reason.code == "several_parts" for reason in card.piece.reasons)


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
