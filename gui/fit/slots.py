"""The three slots across the top of Fit, what lies in them, and every way in which something gets there."""

from __future__ import annotations

from pathlib import Path

from PySide6.QtCore import Signal
from PySide6.QtGui import QResizeEvent, QUndoCommand
from PySide6.QtWidgets import QFileDialog, QWidget

from gui.desk import Desk
from gui.fit.held import Held, Hole, OfClass, held_cast, held_piece, hole_of_class, read_filed, shrunk
from gui.fit.slot import Slot
from gui.fit.trials import Tried
from gui.flow import Flow
from gui.piece import Choices, Piece, measure_piece
from gui.worded import worded
from threads.shared.refusal import Reason, RefusalError
from vision.several.impression import UNKNOWN_SHRINKAGE

ORIGINAL, REPLACEMENT, HOLE = "original", "replacement", "hole"


_LETTERS = 140
"""So wide, three slots have room for their pictures beside their numbers."""


class Slots(QWidget):
    """``changed`` when something else lies in a slot. Whatever the person lays there can be undone."""

    changed = Signal()

    def __init__(self, desk: Desk, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.desk = desk
        self.held: dict[str, Hole | None] = {ORIGINAL: None, REPLACEMENT: None, HOLE: None}
        self._by_hand = False  # somebody chose the replacement; until then it is the part on the bench
        self.slots = {
            ORIGINAL: Slot(desk, self.tr("Original")),
            REPLACEMENT: Slot(desk, self.tr("Replacement")),
            HOLE: Slot(desk, self.tr("Hole"), takes_class=True),
        }
        row = Flow(self)
        for name, slot in self.slots.items():
            row.add(slot, 1)
            slot.picked.connect(lambda path, name=name: self._pick(name, path))
            slot.file_wanted.connect(lambda name=name: self._ask_for_file(name))
            slot.filed_wanted.connect(lambda number, name=name: self.take_filed(name, number))
        self.slots[HOLE].typed.connect(self.take_class)
        self.slots[HOLE].shrinkage_typed.connect(self._shrinkage)
        desk.piece_changed.connect(self._follow)
        desk.wanted_as_original.connect(lambda piece: self._put_piece(ORIGINAL, piece))
        desk.wanted_filed.connect(lambda number: self.take_filed("", number))
        self.show_held()

    def resizeEvent(self, event: QResizeEvent) -> None:
        super().resizeEvent(event)
        narrow = self.width() < _LETTERS * self.fontMetrics().averageCharWidth()
        for slot in self.slots.values():
            slot.set_narrow(narrow)

    @property
    def original(self) -> Held | None:
        """The part in the first slot."""
        held = self.held[ORIGINAL]
        return held if isinstance(held, Held) else None

    @property
    def replacement(self) -> Held | None:
        """The part in the second."""
        held = self.held[REPLACEMENT]
        return held if isinstance(held, Held) else None

    @property
    def hole(self) -> Hole | None:
        """What is in the third: a class, a measured hole, or one in which screws are tried."""
        return self.held[HOLE]

    def show_held(self) -> None:
        """Show what lies in the slots, in the current unit."""
        for name, slot in self.slots.items():
            slot.show_held(self.held[name], inches=self.desk.inches)

    # --- what the person lays there

    def put(self, name: str, held: Hole | None) -> None:
        """Lay ``held`` into the slot of that name: a step that can be undone."""
        if held is not self.held[name]:
            self.desk.undo.push(_Laying(self, name, held))

    def lay(self, name: str, held: Hole | None) -> None:
        """As ``put``, without a step of undo."""
        self.held[name] = held
        field = self.slots[name].designation
        if field is not None:
            field.setModified(False)
        self.slots[name].show_held(held, inches=self.desk.inches)
        self.changed.emit()

    def swap(self) -> None:
        """Exchange original and replacement."""
        one, two = self.held[ORIGINAL], self.held[REPLACEMENT]
        self._by_hand = True
        self.desk.undo.beginMacro(self.tr("exchange"))
        self.put(ORIGINAL, two)
        self.put(REPLACEMENT, one)
        self.desk.undo.endMacro()

    def bench_as(self, name: str) -> None:
        """Lay the part on the bench into the slot."""
        if self.desk.piece is None:
            self._refuse(self.tr("There is no part on the bench."))
        else:
            self._put_piece(name, self.desk.piece)

    def _pick(self, name: str, path: str) -> None:
        piece = next((piece for piece in self.desk.at_hand if piece.path == path), None)
        if piece is not None:
            self._put_piece(name, piece)

    def _put_piece(self, name: str, piece: Piece) -> None:
        held = held_cast(piece) if name == HOLE else held_piece(piece)
        if held is None:
            why = "  ".join(worded(reason) for reason in piece.reasons)
            self._refuse(self.tr("{name} was not measured. {why}").format(name=piece.name, why=why).strip())
            return
        self._put_held(name, held)

    def _put_held(self, name: str, held: Held) -> None:
        self._by_hand = self._by_hand or name == REPLACEMENT
        self.put(name, held)
        if held.cast is not None and not held.cast[1]:
            self.desk.noticed.emit(
                "note",
                worded(Reason("shrinkage_unknown", percent=UNKNOWN_SHRINKAGE.value, u95_percent=UNKNOWN_SHRINKAGE.u95)),
            )

    def _ask_for_file(self, name: str) -> None:
        folder = self.desk.settings.text("pictures")
        words = self.tr("Pictures") + " (*.png *.jpg *.jpeg *.tif *.tiff *.bmp)"
        path, _ = QFileDialog.getOpenFileName(self, self.tr("Open a picture"), folder, words)
        if path:
            self.take_file(name, path)

    def take_file(self, name: str, path: str) -> None:
        """Measure the picture in ``path`` and lay the part, or the hole that it is a cast of, into the slot."""
        if self.desk.bench is None:
            self._refuse(
                self.tr(
                    "No calibration is in use: calibrate the bench, or open a calibration, before pictures are laid in."
                )
            )
            return
        words = self.tr("measuring {name}").format(name=Path(path).name)
        self.desk.work.run(
            words, measure_piece, path, self.desk.bench.plane, Choices(), key=f"fit {name}", failed=self.desk.refuse,
            done=lambda piece: self._put_piece(name, piece),
        )  # fmt: skip

    def take_filed(self, name: str, number: int) -> None:
        """Lay a part on file into the slot; with "" a hole into its own, a screw into the original's."""
        file = self.desk.register_file

        def read() -> Held | Tried:
            from records.register import open_register

            return read_filed(open_register(file), number, hole=name == HOLE)

        def done(held: Held | Tried) -> None:
            if isinstance(held, Held):
                self._put_held(name or (HOLE if held.thread.internal else ORIGINAL), held)
            elif name in ("", HOLE):
                self.put(HOLE, held)
            else:
                self._refuse(
                    self.tr("Part {number} is a hole: it goes into the slot on the right.").format(number=number)
                )

        words = self.tr("reading part {number}").format(number=number)
        self.desk.work.run(words, read, done=done, failed=self.desk.refuse, key="filed")

    def take_class(self, text: str) -> None:
        """The hole is one of the class typed as ``text``; "" takes a class out again."""
        held, field = self.hole, self.slots[HOLE].designation
        assert field is not None
        if not text:
            field.set_wrong(False)
            if isinstance(held, OfClass):
                self.put(HOLE, None)
            return
        if bool(field.property("wrong")) or (isinstance(held, OfClass) and text == held.text):
            return

        def refused(error: Exception) -> None:
            field.set_wrong(True)
            self.put(HOLE, None)
            self.desk.refuse(error)

        words = self.tr("looking up {name}").format(name=text)
        self.desk.work.run(words, hole_of_class, text, key="class", failed=refused, done=self._put_class)

    def _put_class(self, found: OfClass) -> None:
        """Once more the same one, written otherwise, is no step."""
        held = self.hole
        same = isinstance(held, OfClass) and held.text == found.text
        (self.lay if same else self.put)(HOLE, found)

    def _shrinkage(self, text: str) -> None:
        held = self.hole
        if not isinstance(held, Held) or held.cast is None or held.cast[1] == text:
            return
        try:
            self.put(HOLE, shrunk(held, text))
        except RefusalError as error:
            self.desk.refuse(error)
            self.slots[HOLE].show_held(held, inches=self.desk.inches)

    def _refuse(self, text: str) -> None:
        self.desk.noticed.emit("refusal", text)

    # --- what lies on the bench

    def _follow(self) -> None:
        """The part on the bench is the replacement until somebody lays another one there; measured anew it is new."""
        piece = self.desk.piece
        if piece is None:
            return
        for name, held in self.held.items():
            if isinstance(held, Held) and held.path == piece.path:
                self.held[name] = held_cast(piece, held.cast[1]) if held.cast is not None else held_piece(piece)
        if not self._by_hand:
            self.held[REPLACEMENT] = held_piece(piece)
            earlier = next((p for p in self.desk.at_hand if p.measurement is not None and p is not piece), None)
            if self.held[ORIGINAL] is None and earlier is not None and earlier.path != piece.path:
                self.held[ORIGINAL] = held_piece(earlier)
        self.show_held()
        self.changed.emit()


class _Laying(QUndoCommand):
    """Something was laid into a slot, or taken out."""

    def __init__(self, slots: Slots, name: str, held: Hole | None) -> None:
        words = "" if held is None else held.name if isinstance(held, Held) else held.text
        super().__init__(words or slots.slots[name].title)
        self._slots, self._name, self._held = slots, name, held
        self._before = slots.held[name]

    def redo(self) -> None:
        self._slots.lay(self._name, self._held)

    def undo(self) -> None:
        self._slots.lay(self._name, self._before)
