"""What the places of the window share: bench, part, pieces at hand, unit, work under way, register."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, replace
from pathlib import Path
from typing import TYPE_CHECKING

from PySide6.QtCore import QObject, Signal
from PySide6.QtGui import QUndoCommand, QUndoStack

from gui.piece import Choices, Piece, identified, measure_piece
from gui.said import said
from gui.settings import Settings
from gui.work import Work

if TYPE_CHECKING:
    from vision.shared.plane import PlaneMap

MOST_AT_HAND = 12
"""So many pieces are kept at hand; a 24-megapixel picture takes 100 MB."""

MEASURING = "measuring"
"""The key of the job that measures the part on the bench."""


@dataclass(frozen=True)
class Bench:
    """The bench in force: what maps pixels, and the file it came from ("" for a scale given by hand)."""

    plane: PlaneMap
    file: str = ""


class Desk(QObject):
    """The state of the program. Everything in it is replaced as a whole, and said.

    ``bench_changed``: ``bench`` is another one. ``piece_changed``: ``piece`` is another one, or was measured anew.
    ``at_hand_changed``: ``at_hand`` has changed. ``units_changed``: ``inches`` has. ``register_changed``: something was
    filed or set right. ``noticed(weight, text)``: a sentence for the person, weight "note", "warning" or "refusal".
    ``go(place)``: show the place of that name. ``to_file``: the person wants the part on the bench on file.
    ``wanted_as_original(piece)``: and this piece as the original in Fit.
    ``wanted_filed(part)``: the same for a part on file.
    """

    bench_changed = Signal()
    piece_changed = Signal()
    at_hand_changed = Signal()
    units_changed = Signal()
    register_changed = Signal()
    noticed = Signal(str, str)
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
        self.piece: Piece | None = None
        self.at_hand: tuple[Piece, ...] = ()
        self.register_file: str | None = None
        self.inches = settings.text("inches", "no") == "yes"
        self._coming: tuple[int, Piece] | None = None
        self.arrived = 0
        """The number of the measurement that was laid on the bench last."""

    # --- units

    def set_inches(self, inches: bool) -> None:
        """Show inches, or millimetres, everywhere."""
        if inches != self.inches:
            self.inches = inches
            self.settings.set_text("inches", "yes" if inches else "no")
            self.units_changed.emit()

    # --- the bench

    def set_bench(self, bench: Bench | None) -> None:
        """Put another bench in force; the part on it is measured anew."""
        self.bench = bench
        self.settings.set_text("bench", "" if bench is None else bench.file)
        self.bench_changed.emit()
        if self.piece is not None:
            self.measure_again()

    def load_bench(self, file: str, then: Callable[[], None] | None = None) -> None:
        """Put the calibration in ``file`` in force, and go on with ``then``."""
        from calib.file import load_calibration

        def done(found: PlaneMap) -> None:
            self.set_bench(Bench(found, file))
            if then is not None:
                then()

        words = self.tr("reading the bench")
        self.work.run(words, load_calibration, file, done=done, failed=self.refuse, key="bench")

    def calibrate_with(self, make: Callable[[], PlaneMap]) -> None:
        """Put the bench that ``make`` finds in force."""
        words = self.tr("reading the bench")
        self.work.run(words, make, done=lambda found: self.set_bench(Bench(found)), failed=self.refuse, key="bench")

    # --- the part

    def open_picture(
        self, path: str, choices: Choices | None = None, *, plane: PlaneMap | None = None, filed: int | None = None
    ) -> None:
        """Read and measure the picture in ``path``: it is the part on the bench then.

        ``plane``: measure it by this and not by the bench in force. ``filed``: it is on file as this part.
        """
        told = choices or Choices()
        if self.piece is not None and choices is None:  # the instrument is the same until somebody says otherwise
            told = replace(told, origin=self.piece.choices.origin, made=self.piece.choices.made)

        def done(piece: Piece) -> None:
            self.arrived = job.number
            self.show_piece(replace(piece, own_plane=plane, filed=filed))

        words = self.tr("measuring {name}").format(name=Path(path).name)
        used = plane or self._plane
        job = self.work.run(words, measure_piece, path, used, told, done=done, failed=self.refuse, key=MEASURING)
        self._coming = (job.number, Piece(path, told, filed=filed, own_plane=plane))

    @property
    def coming(self) -> tuple[int, Piece] | None:
        """The piece that is being measured for the bench, as it is known so far, with the number of its measurement."""
        if self._coming is None or all(job.number != self._coming[0] for job in self.work.jobs):
            return None
        return self._coming

    @property
    def _plane(self) -> PlaneMap | None:
        return None if self.bench is None else self.bench.plane

    def take_up(self, path: str, choices: Choices) -> None:
        """Measure one more picture as it was before; the last one taken up lies on the bench."""
        words = self.tr("measuring {name}").format(name=Path(path).name)
        self.work.run(words, measure_piece, path, self._plane, choices, done=self.show_piece, failed=self.refuse)

    def show_piece(self, piece: Piece) -> None:
        """Lay ``piece`` on the bench; the pieces before it stay at hand."""
        self.undo.clear()
        self._put(piece)
        rest = [other for other in self.at_hand if other.path != piece.path]
        self.at_hand = (piece, *rest)[:MOST_AT_HAND]
        self.at_hand_changed.emit()

    def choose(self, choices: Choices, words: str) -> None:
        """Let the person say something else about the part; ``words`` name the step for undo."""
        if self.piece is not None and choices != self.piece.choices:
            self.undo.push(_Choosing(self, self.piece.choices, choices, words))

    def apply(self, choices: Choices) -> None:
        """Measure or identify the part by ``choices``; no step of undo is made."""
        piece = self.piece
        if piece is None:
            return
        seen = replace(choices, name="", origin=None, made=None, series=None)
        before = replace(piece.choices, name="", origin=None, made=None, series=None)
        if seen != before:
            self._run(self.tr("measuring again"), piece, choices)
        elif replace(choices, name="") != replace(piece.choices, name=""):
            self._begin(self.tr("weighing the series"), piece, choices, identified, piece, choices)
        else:
            self._replace(replace(piece, choices=choices))

    def measure_again(self) -> None:
        """Measure the part once more, by the bench in force."""
        if self.piece is not None:
            self._run(self.tr("measuring again"), self.piece, self.piece.choices)

    def is_filed(self, path: str, part: int | None) -> None:
        """The piece of the picture in ``path`` is on file as ``part``, or is no longer."""
        told = tuple(replace(one, filed=part) if one.path == path else one for one in self.at_hand)
        if self.piece is not None and self.piece.path == path:
            self._put(replace(self.piece, filed=part))
        self.at_hand = told
        self.at_hand_changed.emit()
        self.register_changed.emit()

    def _run(self, words: str, piece: Piece, choices: Choices) -> None:
        plane = piece.own_plane or self._plane
        self._begin(words, piece, choices, measure_piece, piece.path, plane, choices, piece)

    def _begin(
        self, words: str, piece: Piece, choices: Choices, function: Callable[..., Piece], *arguments: object
    ) -> None:
        def done(found: Piece) -> None:
            self.arrived = job.number
            self._replace(found)

        job = self.work.run(words, function, *arguments, done=done, failed=self.refuse, key=MEASURING)
        self._coming = (job.number, replace(piece, choices=choices))

    def _replace(self, piece: Piece) -> None:
        if self.piece is not None and piece.filed is None:
            piece = replace(piece, filed=self.piece.filed)
        self._put(piece)
        self.at_hand = tuple(piece if other.path == piece.path else other for other in self.at_hand)
        self.at_hand_changed.emit()

    def _put(self, piece: Piece) -> None:
        self.piece = piece
        self.piece_changed.emit()

    # --- what is said

    def note(self, text: str) -> None:
        """Say a sentence."""
        self.noticed.emit("note", text)

    def refuse(self, error: Exception) -> None:
        """Say why something was refused."""
        reasons = getattr(error, "reasons", ())
        self.noticed.emit("refusal", "  ".join(said(reason.message) for reason in reasons) or said(str(error)))


class _Choosing(QUndoCommand):
    """One thing that a person said about the part."""

    def __init__(self, desk: Desk, before: Choices, after: Choices, words: str) -> None:
        super().__init__(words)
        self._desk, self._before, self._after = desk, before, after

    def redo(self) -> None:
        self._desk.apply(self._after)

    def undo(self) -> None:
        self._desk.apply(self._before)
