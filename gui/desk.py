"""What the places of the window share: bench, tray, the part on the bench, unit, work under way, register."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import replace
from pathlib import Path
from typing import TYPE_CHECKING

from PySide6.QtCore import QObject, Signal
from PySide6.QtGui import QUndoCommand, QUndoStack

from calib.sample_calibration import is_sample
from flankwise.bench import Bench
from gui.piece import Choices, Piece
from gui.settings import Settings
from gui.tray.cards import GIVEN_UP, Card, Facts, State, Whence, plane_for, stamp_of
from gui.tray.tray import Tray, at_hand
from gui.worded import worded_error
from gui.work import Work

if TYPE_CHECKING:
    from gui.register.filing import Filed
    from gui.unfinished import Left
    from vision.shared.plane import PlaneMap

MOST_AT_HAND = 12
"""So many measured pieces are offered to be laid beside each other."""


class Desk(QObject):
    """The state of the program. Everything in it is replaced as a whole, and said.

    ``bench_changed``: ``bench`` is another one. ``tray_changed``: ``tray`` is another one. ``piece_changed``:
    ``piece``, what is known of the highlighted card, is another one, or ``pending``, whether it is being computed anew.
    ``at_hand_changed``: ``at_hand`` has changed. ``units_changed``: ``inches`` has. ``register_changed``: something was
    filed or set right. ``noticed(weight, text)``: a sentence for the person, weight "note", "warning" or "refusal".
    ``written(path)``: the sentence before it is about that file.
    ``go(place)``: show the place of that name. ``to_file``: the person wants the part on the bench on file.
    ``wanted_as_original(piece)``: and this piece as the original in Fit.
    ``wanted_filed(part)``: the same for a part on file.
    """

    bench_changed = Signal()
    tray_changed = Signal()
    piece_changed = Signal()
    at_hand_changed = Signal()
    units_changed = Signal()
    register_changed = Signal()
    noticed = Signal(str, str)
    written = Signal(str)
    go = Signal(str)
    to_file = Signal()
    wanted_as_original = Signal(object)
    wanted_filed = Signal(int)

    def __init__(self, settings: Settings, defect: Callable[[Exception], None], parent: QObject | None = None) -> None:
        super().__init__(parent)
        self.settings = settings
        self.work = Work(defect, self)
        self.undo = QUndoStack(self)
        self.bench: Bench | None = None
        self.tray = Tray()
        self.piece: Piece | None = None
        self.pending = False
        self.at_hand: tuple[Piece, ...] = ()
        self.register_file: str | None = None
        self.inches = settings.text("inches", "no") == "yes"
        self.taken_out: tuple[Card, int] | None = None
        """The card that was taken out last, and its place: it can be put back."""
        self._whole: tuple[int, Piece] | None = None
        self._shown: tuple[object, ...] = ()

    # --- units

    def set_inches(self, inches: bool) -> None:
        """Show inches, or millimetres, everywhere."""
        if inches != self.inches:
            self.inches = inches
            self.settings.set_text("inches", "yes" if inches else "no")
            self.units_changed.emit()

    # --- the bench

    def set_bench(self, bench: Bench | None) -> None:
        """Use another bench; what is in the tray and not on file is measured anew.

        A sample bench is none of the person's: it is not kept, what was measured before it keeps its numbers, and what
        was measured by it is held to it.
        """
        before, self.bench = self.bench, bench
        tray = self.tray
        if before is not None and is_sample(before.plane):
            tray = tray.held_to(before)
        if bench is None or not is_sample(bench.plane):
            self.settings.set_text("bench", "" if bench is None else bench.file)
            tray = tray.by_another_bench(bench=bench is not None)
        self.bench_changed.emit()
        self.set_tray(tray)

    def load_bench(self, file: str) -> None:
        """Make the calibration in ``file`` the current one. Pictures that arrive meanwhile wait for it."""
        from flankwise.bench import load_bench

        words = self.tr("reading the bench")
        self.work.run(words, load_bench, file, done=self.set_bench, failed=self.refuse, key="bench")

    # --- the tray

    def set_tray(self, tray: Tray) -> None:
        """Put another tray in place of the one there is. Steps of the part that was highlighted before are over."""
        before, self.tray = self.tray, tray
        if before.at != tray.at:
            self._whole = None
            self.undo.clear()
        self._show()
        self.tray_changed.emit()
        near = tuple(at_hand(tray, MOST_AT_HAND))
        if [id(one) for one in near] != [id(one) for one in self.at_hand]:
            self.at_hand = near
            self.at_hand_changed.emit()

    def take_in(self, paths: Sequence[str], whence: Whence = Whence.OPENED, *, show: bool = False) -> None:
        """A card for each of the pictures; ``show``: highlight the first of them, whatever is highlighted now."""
        tray, first = self.tray, 0
        for path in paths:
            stamp = stamp_of(path)
            there = tray.called(path, stamp)
            if there is not None and there.whence is not Whence.REGISTER:
                self.note(self.tr("{name} is in the tray already.").format(name=there.name))
                first = first or there.number
                continue
            piece = Piece(path, self._as_before(tray))
            tray = tray.with_arrived(piece, whence, stamp)
            first = first or tray.made
        self.set_tray(tray.highlighting(first) if show else tray)

    def take_up(self, left: Sequence[Left]) -> None:
        """Cards of a run of the program that has ended are back, the first of them highlighted."""
        tray = self.tray
        for one in left:
            tray = tray.with_arrived(Piece(one.path, one.choices), Whence.LEFT, stamp_of(one.path), meant=one.meant)
        self.set_tray(tray)

    def _as_before(self, tray: Tray) -> Choices:
        """What is known of a new part: the instrument is the same until somebody says otherwise."""
        card = tray.highlighted
        if card is None:
            return Choices()
        filed_on = None if card.given is None else card.given.entry.instrument
        said = card.choices
        return Choices(origin=said.origin, made=said.made, instrument=filed_on or said.instrument)

    def open_picture(
        self, path: str, choices: Choices | None = None, *, plane: PlaneMap | None = None, filed: int | None = None
    ) -> None:
        """Read and measure the picture in ``path``, and highlight it: it is the part on the bench.

        ``plane``: measure it by this and not by the current bench. ``filed``: it is on file as this part.
        """
        if choices is None and plane is None and filed is None:
            self.take_in([path], show=True)
            return
        tray = self.tray
        while (there := tray.called(path)) is not None and not there.unfiled:
            tray = tray.without(there.number)
        piece = Piece(path, choices or Choices(), filed=filed, own_plane=plane)
        whence = Whence.OPENED if filed is None else Whence.REGISTER
        tray = tray.with_arrived(piece, whence, stamp_of(path))
        self.set_tray(tray.highlighting(tray.made))

    def highlight(self, number: int) -> None:
        """The person chose a card; one whose measurement was given up is measured now."""
        card = self.tray.card(number)
        if card is not None:
            tray = self.tray.highlighting(number)
            stopped = card.state is State.REFUSED and any(reason.code == GIVEN_UP for reason in card.piece.reasons)
            self.set_tray(tray.again(number) if stopped else tray)

    def take_out(self) -> None:
        """Take the highlighted card out of the tray, unless it is on its way."""
        card = self.tray.highlighted
        if card is not None and card.given is None:
            self.taken_out = (card, self.tray.cards.index(card))
            self.set_tray(self.tray.without(card.number))

    def put_back(self) -> None:
        """Put the card that was taken out last back in its place."""
        if self.taken_out is not None:
            (card, place), self.taken_out = self.taken_out, None
            waits = replace(card, state=State.WAITING) if card.state is State.MEASURING else card
            self.set_tray(self.tray.put_back(waits, place))

    def measured(self, number: int, piece: Piece, facts: Facts | None) -> None:
        """A card was measured."""
        if number == self.tray.at:
            self._whole = (number, piece)
        self.set_tray(self.tray.found(number, piece, facts))

    def show_whole(self, number: int, piece: Piece) -> None:
        """The picture of the highlighted card was read again."""
        if number == self.tray.at:
            self._whole = (number, piece)
            self._show()

    def whole(self, card: Card) -> Piece:
        """What was found in the card, with its picture where that is at hand."""
        if self._whole is None or self._whole[0] != card.number:
            return card.piece
        seen, piece = self._whole[1], card.piece
        if not seen.decoded or piece.picture is None:
            return piece
        measured = piece.measurement
        if measured is not None:
            measured = measured if seen.picture is None else replace(measured, picture=seen.picture)
        return replace(piece, picture=seen.picture, levels=seen.levels, looked=seen.looked, measurement=measured)

    def _show(self) -> None:
        """What is known of the highlighted card is the part on the bench."""
        card = self.tray.highlighted
        pending = card is not None and (card.state is State.MEASURING or self._waits(card))
        seen = None if self._whole is None else self._whole[1]
        known = (card and card.piece, card and card.choices, card and card.doubts, seen, pending)
        if all(one is other for one, other in zip(known, self._shown, strict=False)) and self._shown:
            return
        self._shown = known
        self.pending = pending
        if card is None or not (card.read or card.piece.reasons):
            self.piece = None
        else:
            self.piece = replace(self.whole(card), choices=card.choices)
        self.piece_changed.emit()

    def _waits(self, card: Card) -> bool:
        return card.state is State.WAITING and (plane_for(card, self.bench) is not None or not card.read)

    # --- the part

    def choose(self, choices: Choices, words: str) -> None:
        """Let the person say something else about the part; ``words`` name the step for undo."""
        if self.piece is not None and choices != self.piece.choices:
            self.undo.push(_Choosing(self, self.piece.choices, choices, words))

    def apply(self, choices: Choices) -> None:
        """Measure or identify the part by ``choices``; no step of undo is made."""
        self.set_tray(self.tray.told(self.tray.at, choices))

    def is_filed(self, number: int, record: Filed | None) -> None:
        """The card of that number is on file, or is no longer."""
        tray = self.tray
        self.set_tray(tray.taken_back(number) if record is None else tray.is_filed(number, record))
        self.register_changed.emit()

    # --- what is said

    def note(self, text: str) -> None:
        """Say a sentence."""
        self.noticed.emit("note", text)

    def saved(self, text: str, path: str | Path, weight: str = "note") -> None:
        """Say that something was written, and offer to open it."""
        self.noticed.emit(weight, text)
        self.written.emit(str(path))

    def refuse(self, error: Exception) -> None:
        """Say why something was refused."""
        self.noticed.emit("refusal", worded_error(error))


class _Choosing(QUndoCommand):
    """One thing that a person said about the part."""

    def __init__(self, desk: Desk, before: Choices, after: Choices, words: str) -> None:
        super().__init__(words)
        self._desk, self._before, self._after = desk, before, after

    def redo(self) -> None:
        self._desk.apply(self._after)

    def undo(self) -> None:
        self._desk.apply(self._before)
