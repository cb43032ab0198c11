"""Cards on their way into the register, one after the other: each is filed as soon as it is measured."""

from __future__ import annotations

from PySide6.QtCore import QObject, Signal

from gui.desk import Desk
from gui.piece import filled
from gui.register.filing import Doubt, Entry, Filed, file_piece
from gui.tray.cards import Card, State, plane_for
from gui.tray.measuring import measure_card
from gui.turns import Soon
from vision.shared.plane import PlaneMap


class FilingQueue(QObject):
    """Files what the tray says is to be filed, in the order in which Enter was pressed.

    ``filed(card, filed)``: it is on file. ``asked(card, doubt)``: the person has to say; the others go on meanwhile.
    ``refused(card)``: it was refused while it waited: is its picture filed alone? ``failed(card, error)``: the register
    took nothing, and is left alone until ``again`` or ``decline`` says how it goes on. ``declined(entry)``: a card is
    not filed after all.
    """

    filed = Signal(object, object)
    asked = Signal(object, object)
    refused = Signal(object)
    failed = Signal(object, object)
    declined = Signal(object)

    def __init__(self, desk: Desk) -> None:
        super().__init__(desk)
        self._desk = desk
        self._busy = False
        self._halted = 0
        self._later = Soon(self, self._go_on, 0)
        desk.tray_changed.connect(self._later.want)

    @property
    def waiting(self) -> int:
        """How many are on their way."""
        return len(self._desk.tray.on_their_way)

    def again(self, number: int, entry: Entry, *, alone: bool = False) -> None:
        """File the card of that number as ``entry``: the person has said so."""
        self._halted = 0
        self._desk.set_tray(self._desk.tray.answered(number, entry, alone=alone))

    def decline(self, number: int) -> None:
        """Do not file the card of that number; it stays in the tray."""
        card = self._desk.tray.card(number)
        self._halted = 0
        self._desk.set_tray(self._desk.tray.declined(number))
        if card is not None and card.given is not None:
            self.declined.emit(card.given.entry)

    def finish(self) -> None:
        """File what is waiting, the window serving events meanwhile: it is about to close."""
        if self.waiting:
            self._desk.work.wait(20.0)

    def _go_on(self) -> None:
        halted = self._desk.tray.card(self._halted)
        if self._busy or (halted is not None and halted.given is not None):
            return
        card = self._desk.tray.next_to_file()
        if card is None or card.given is None:
            return
        if card.state is State.REFUSED and not card.given.alone:
            self._desk.set_tray(self._desk.tray.asked(card.number))
            self.refused.emit(card)
            return
        self._file(card, card.given.entry)

    def _file(self, card: Card, entry: Entry) -> None:
        desk, number = self._desk, card.number
        self._busy = True

        def done(result: Filed | Doubt) -> None:
            self._busy = False
            if isinstance(result, Filed):
                desk.is_filed(number, result)
                self.filed.emit(card, result)
            else:
                desk.set_tray(desk.tray.asked(number))
                self.asked.emit(card, result)

        def failed(error: Exception) -> None:
            self._busy, self._halted = False, number
            desk.set_tray(desk.tray.asked(number))
            self.failed.emit(card, error)

        def gone() -> None:
            self._busy = False
            desk.set_tray(desk.tray.asked(number))
            self.failed.emit(card, OSError(self.tr("It was not filed.")))

        words = self.tr("filing {name}").format(name=entry.name or card.name)
        plane = plane_for(card, card.bench)
        desk.work.run(
            words, file_card, desk.register_file, card, plane, entry, done=done, failed=failed, gone=gone, keeps=True
        )


def file_card(file: str | None, card: Card, plane: PlaneMap | None, entry: Entry) -> Filed | Doubt:
    """File a card with what was found in it, by the bench that it was measured with; nothing of what is shown is read.

    Its picture is read again; results that were let go are found once more. Raises RefusalError; nothing is filed then.
    """
    piece = card.piece
    if card.let_go:
        piece = measure_card(piece.path, card.stamp, plane, piece.choices, piece)
    return file_piece(file, filled(piece), entry)
