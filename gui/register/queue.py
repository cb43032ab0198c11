"""Parts on their way into the register, one after the other: each is filed as soon as it is measured."""

from __future__ import annotations

from dataclasses import dataclass, replace

from PySide6.QtCore import QObject, QTimer, Signal

from gui.desk import Desk
from gui.piece import Piece, measure_piece
from gui.register.filing import Doubt, Entry, Filed, file_piece


@dataclass(eq=False)
class Slip:
    """What was typed about a part, and the part. While ``coming`` is not 0 it is being measured under that number."""

    piece: Piece
    entry: Entry
    coming: int = 0
    busy: bool = False


class FilingQueue(QObject):
    """Takes slips and files them in their order. The desk measures what lies on the bench; what it gives up for the
    next picture is measured here.

    ``filed(piece, filed)``: it is on file. ``asked(slip, doubt)``: the person has to say; the others go on meanwhile.
    ``changed``: more or fewer are waiting.
    """

    filed = Signal(object, object)
    asked = Signal(object, object)
    changed = Signal()

    def __init__(self, desk: Desk) -> None:
        super().__init__(desk)
        self._desk = desk
        self._slips: list[Slip] = []
        self._later = QTimer(self)
        self._later.setSingleShot(True)
        self._later.timeout.connect(self._go_on)
        desk.piece_changed.connect(self._go_on)
        desk.work.changed.connect(self._later.start)  # asked for once what ended was handed over

    @property
    def waiting(self) -> int:
        """How many are on their way."""
        return len(self._slips)

    def add(self, entry: Entry) -> bool:
        """File the part that is being measured, or else the one on the bench; False: there is none."""
        number, piece = self._desk.coming or (0, self._desk.piece)
        if piece is None:
            return False
        self.put(Slip(piece, entry, number))
        return True

    def put(self, slip: Slip) -> None:
        """One more, or one again after the person has said."""
        slip.busy = False
        self._slips.append(slip)
        self.changed.emit()
        self._go_on()

    def finish(self) -> None:
        """File what is waiting, the window serving events meanwhile: it is about to close."""
        if self._slips:
            self._desk.work.wait(20.0)

    def _go_on(self) -> None:
        """Take what the desk has measured meanwhile, and do the next thing for the first slip."""
        now, coming = self._desk.piece, self._desk.coming
        for slip in self._slips:
            if slip.coming and slip.coming == self._desk.arrived and now is not None:
                slip.piece, slip.coming = now, 0
        if not self._slips or self._slips[0].busy:
            return
        first = self._slips[0]  # their order is kept
        if not first.coming:
            self._file(first)
        elif coming is None or coming[0] != first.coming:
            self._measure(first)

    def _measure(self, slip: Slip) -> None:
        slip.busy = True
        piece, desk = slip.piece, self._desk

        def done(found: Piece) -> None:
            slip.piece = replace(found, filed=piece.filed, own_plane=piece.own_plane)
            slip.coming, slip.busy = 0, False
            self._go_on()

        plane = piece.own_plane or (None if desk.bench is None else desk.bench.plane)
        before = piece if piece.picture is not None else None
        desk.work.run(
            self.tr("measuring {name}").format(name=piece.name), measure_piece, piece.path, plane, piece.choices,
            before, done=done, failed=lambda error: self._drop(slip, error), keeps=True,
        )  # fmt: skip

    def _file(self, slip: Slip) -> None:
        slip.busy = True
        words = self.tr("filing {name}").format(name=slip.entry.name or slip.piece.name)

        def done(result: Filed | Doubt) -> None:
            self._slips.remove(slip)
            if isinstance(result, Filed):
                self._is_filed(slip.piece, result)
            else:
                self.asked.emit(slip, result)
            self.changed.emit()
            self._go_on()

        self._desk.work.run(
            words, file_piece, self._desk.register_file, slip.piece, slip.entry, done=done,
            failed=lambda error: self._drop(slip, error), keeps=True,
        )  # fmt: skip

    def _is_filed(self, piece: Piece, filed: Filed) -> None:
        self._desk.is_filed(piece.path, filed.part)
        self.filed.emit(piece, filed)

    def _drop(self, slip: Slip, error: Exception) -> None:
        self._slips.remove(slip)
        self._desk.refuse(error)
        self.changed.emit()
        self._go_on()
