"""The loop at the lathe: what is cut for, the attempts below each other, their chart, and the line of what to do."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from pathlib import Path

from PySide6.QtCore import Qt
from PySide6.QtGui import QUndoCommand
from PySide6.QtWidgets import (
    QCheckBox,
    QComboBox,
    QFileDialog,
    QLabel,
    QPushButton,
    QVBoxLayout,
    QWidget,
)

from flankwise.cutting import CutToFit
from gui.calm import calm
from gui.desk import Desk
from gui.fit.attempts import Attempt, file_attempts, fitted_to
from gui.fit.cut_chart import CutChart
from gui.fit.cut_rows import CutRows
from gui.fit.die_field import DieField
from gui.fit.fields import ClassField
from gui.fit.held import Held, Hole, held_piece
from gui.fit.slots import Slots
from gui.flow import Flow
from gui.piece import Choices, Piece, measure_piece
from gui.scrolling import upright
from gui.switch import Stack
from gui.worded import worded
from threads.cutting.to_fit import CLASS, HOLE, ORIGINAL

ANSWER = "cut to fit"
"""The key of the work on the answer."""


class CutView(QWidget):
    """The page. What is cut for lies in the slots above it; the attempts are its own, and every step can be undone."""

    def __init__(self, desk: Desk, slots: Slots, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.desk, self._slots = desk, slots
        self.attempts: tuple[Attempt, ...] = ()
        self._answer: CutToFit | None = None
        self._seen: set[str] = set()
        self._begun = self._to_last = False
        self.line = QLabel()
        self.line.setProperty("large", True)
        self.line.setWordWrap(True)
        self.line.setTextInteractionFlags(Qt.TextInteractionFlag.TextSelectableByMouse)
        self.more = QLabel()
        self.more.setWordWrap(True)
        self.more.setProperty("faint", True)
        self.chart = CutChart()
        self.list = CutRows()
        self.list.set_to.connect(self._set_to)
        self.list.unwanted.connect(self._take_out)
        self._make_target()
        self._make_buttons()
        self._lay_out()
        desk.at_hand_changed.connect(self._arrived)
        desk.piece_changed.connect(self._follow)

    def _make_target(self) -> None:
        self.kind = calm(QComboBox())
        self.kind.setAccessibleName(self.tr("What is cut for"))
        for name, words in (
            (ORIGINAL, self.tr("to be as the original")),
            (CLASS, self.tr("to a class")),
            (HOLE, self.tr("to fit the hole")),
        ):
            self.kind.addItem(words, name)
        self.of_class = ClassField(self.tr("Class to cut to"), self.tr("class, such as 4-40 NC-2"))
        self.of_class.setVisible(False)
        self.kind.currentIndexChanged.connect(self._target_chosen)
        self.of_class.editingFinished.connect(self.answer)
        self.die = DieField(self.desk)

    def _make_buttons(self) -> None:
        self.take = QPushButton()
        self.take.clicked.connect(self.take_bench)
        self.file = QPushButton(self.tr("From a file…"))
        self.file.setProperty("flat", True)
        self.file.clicked.connect(self._ask_for_file)
        self.follow = QCheckBox(self.tr("Each new picture is an attempt"))
        self.follow.setChecked(True)
        self.keep = QPushButton()
        self.keep.clicked.connect(self.keep_attempts)

    def _lay_out(self) -> None:
        first = Flow()
        first.add(QLabel(self.tr("Cut")))
        first.add(self.kind)
        first.add(self.of_class, 1)
        first.add(QLabel(self.tr("with")))
        first.add(self.die, 5)
        inside = upright(self.list)
        inside.verticalScrollBar().rangeChanged.connect(self._grown)
        self._area = inside
        buttons = Flow()
        for widget in (self.take, self.file, self.follow, self.keep):
            buttons.add(widget)
        middle = Flow(spacing=10)
        middle.add(inside, 2)
        middle.add(self.chart, 5)
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.addLayout(first)
        column.addWidget(self.line)
        column.addWidget(self.more)
        column.addLayout(middle, 1)
        column.addLayout(buttons)

    # --- attempts

    def put(self, attempts: Sequence[Attempt], words: str) -> None:
        """Have these attempts instead: a step that can be undone."""
        self.desk.undo.push(_Trying(self, tuple(attempts), words))

    def lay(self, attempts: tuple[Attempt, ...]) -> None:
        """As ``put``, without a step of undo."""
        self.attempts = attempts
        self._seen |= {one.held.path for one in attempts}
        self._show_list()
        self.answer()
        self._to_last = True

    def _grown(self, _: int, end: int) -> None:
        """The list is as long as its attempts: the newest comes into view."""
        if self._to_last:
            self._to_last = False
            self._area.verticalScrollBar().setValue(end)

    def take_bench(self) -> None:
        """The part on the bench is the next attempt."""
        piece = self.desk.piece
        if piece is None:
            self._refuse(self.tr("There is no part on the bench."))
        else:
            self._add(piece)

    def _add(self, piece: Piece) -> None:
        held = held_piece(piece)
        if held is None:
            why = "  ".join(worded(reason) for reason in piece.reasons)
            self._refuse(self.tr("{name} was not measured. {why}").format(name=piece.name, why=why).strip())
        elif any(one.held.path == held.path for one in self.attempts):
            self._refuse(self.tr("{name} is an attempt already.").format(name=piece.name))
        else:
            number = len(self.attempts) + 1
            self.put((*self.attempts, Attempt(held)), self.tr("attempt {number}").format(number=number))

    def _set_to(self, number: int, text: str) -> None:
        attempts = list(self.attempts)
        attempts[number] = replace(attempts[number], setting=text)
        self.put(attempts, self.tr("setting of attempt {number}").format(number=number + 1))

    def _take_out(self, number: int) -> None:
        left = (*self.attempts[:number], *self.attempts[number + 1 :])
        self.put(left, self.tr("attempt {number} taken out").format(number=number + 1))

    def _ask_for_file(self) -> None:
        folder = self.desk.settings.text("pictures")
        words = self.tr("Pictures") + " (*.png *.jpg *.jpeg *.tif *.tiff *.bmp)"
        path, _ = QFileDialog.getOpenFileName(self, self.tr("Open a picture"), folder, words)
        if path:
            self.take_file(path)

    def take_file(self, path: str) -> None:
        """Measure the picture in ``path``: it is the next attempt."""
        if self.desk.bench is None:
            self._refuse(self.tr("No calibration is in use: calibrate the bench, or open a calibration, first."))
            return
        words = self.tr("measuring {name}").format(name=Path(path).name)
        self.desk.work.run(
            words, measure_piece, path, self.desk.bench.plane, Choices(), key="attempt", failed=self.desk.refuse,
            done=self._add,
        )  # fmt: skip

    def _arrived(self) -> None:
        """Pictures that were measured since the page came to the front of Fit are attempts, in their order."""
        new = [one for one in reversed(self.desk.at_hand) if one.measurement is not None and one.path not in self._seen]
        self._seen |= {one.path for one in new}
        original = self._slots.original
        for piece in new:
            if self._in_front and self.follow.isChecked() and (original is None or original.path != piece.path):
                self._add(piece)

    @property
    def _in_front(self) -> bool:
        """Whether the loop is under way: Part or the tray may cover it meanwhile."""
        stack = self.parentWidget()
        return self._begun and isinstance(stack, Stack) and stack.currentWidget() is self

    def _follow(self) -> None:
        """What was measured anew is so in the attempts, too."""
        piece = self.desk.piece
        held = None if piece is None else held_piece(piece)
        if held is not None and any(one.held.path == held.path for one in self.attempts):
            self.attempts = tuple(
                replace(one, held=held) if one.held.path == held.path else one for one in self.attempts
            )
            self.answer()
        self._name_buttons()

    # --- the answer

    def entered(self) -> None:
        """The page comes to the front."""
        if not self._begun:
            self._begun = True
            self._seen |= {one.path for one in self.desk.at_hand}
        self.die.read(self._part)
        self.answer()

    def _target_chosen(self) -> None:
        self.of_class.setVisible(self.kind.currentData() == CLASS)
        self.answer()

    @property
    def target(self) -> Hole | str | None:
        """The original, the hole, or the class as typed; None where there is none yet."""
        kind = self.kind.currentData()
        if kind == ORIGINAL:
            return self._slots.original
        return self._slots.hole if kind == HOLE else self.of_class.text().strip() or None

    def answer(self) -> None:
        """Work out where the attempts stand."""
        target = self.target
        if target is None:
            self.desk.work.cancel(ANSWER)
            self._show(None)
            return

        def refused(error: Exception) -> None:
            self._show(None)
            self.of_class.set_wrong(isinstance(target, str))
            self.desk.refuse(error)

        words = self.tr("looking at the attempts")
        self.desk.work.run(words, fitted_to, target, self.attempts, key=ANSWER, failed=refused, done=self._show)

    def _show_list(self) -> None:
        aim = None if self._answer is None else self._answer.found.target.aim
        self.list.show_attempts(self.attempts, aim, inches=self.desk.inches)

    def _show(self, answer: CutToFit | None) -> None:
        self._answer, inches = answer, self.desk.inches
        self._show_list()
        self.chart.show_answer(answer, [one.setting for one in self.attempts], inches=inches)
        if answer is None:
            needs = {
                ORIGINAL: self.tr("Lay the original into its slot."),
                CLASS: self.tr("Type the class to cut to."),
                HOLE: self.tr("Say what the hole is, or lay a cast of it into its slot."),
            }
            self.line.setText(needs[self.kind.currentData()])
            self.more.setText("")
        else:
            first, *more = (worded(one, inches=inches) for one in answer.advised)
            self.line.setText(first)
            self.more.setText(" ".join(more))
        self.more.setVisible(bool(self.more.text()))
        self._name_buttons()

    def _name_buttons(self) -> None:
        """What a button does is written on it."""
        piece = self.desk.piece
        number = len(self.attempts) + 1
        original = self._slots.original
        taken = {one.held.path for one in self.attempts} | ({original.path} if original is not None else set())
        fresh = piece is not None and piece.path not in taken
        self.take.setEnabled(fresh)
        name = piece.name if fresh and piece is not None else ""
        words = self.tr("{name} is attempt {number}") if name else self.tr("Part on the bench is attempt {number}")
        self.take.setText(words.format(name=name if len(name) < 30 else f"{name[:27]}…", number=number))
        part = self._part
        self.keep.setEnabled(part is not None and any(one.filed is None for one in self.attempts))
        whose = "" if part is None else self.tr("File the attempts for part {part}").format(part=part)
        self.keep.setText(whose or self.tr("File the attempts"))
        self.keep.setToolTip("" if part is not None else self.tr("Attempts are filed for an original that is on file."))

    @property
    def _part(self) -> int | None:
        original = self._slots.original
        return original.filed if isinstance(original, Held) else None

    def keep_attempts(self) -> None:
        """File the attempts as replacements for the original, cut by the die that is named."""
        part = self._part
        if part is None:
            return
        words = self.tr("filing the attempts")
        self.desk.work.run(
            words, file_attempts, self.desk.register_file, part, self.die.name, self.attempts,
            key="file attempts", keeps=True, failed=self.desk.refuse, done=self._kept,
        )  # fmt: skip

    def _kept(self, attempts: tuple[Attempt, ...]) -> None:
        filed = {one.held.path: one.filed for one in attempts}
        self.attempts = tuple(replace(one, filed=filed.get(one.held.path, one.filed)) for one in self.attempts)
        self._show(self._answer)
        self.desk.register_changed.emit()
        self.die.read(self._part)
        self.desk.note(self.tr("Attempts on file: {count}.").format(count=len(attempts)))

    def theme_changed(self) -> None:
        """Take the colours of the current theme."""
        self.chart.theme_changed()

    def _refuse(self, text: str) -> None:
        self.desk.noticed.emit("refusal", text)


class _Trying(QUndoCommand):
    """An attempt came, went, or got another setting."""

    def __init__(self, view: CutView, attempts: tuple[Attempt, ...], words: str) -> None:
        super().__init__(words)
        self._view, self._attempts, self._before = view, attempts, view.attempts

    def redo(self) -> None:
        self._view.lay(self._attempts)

    def undo(self) -> None:
        self._view.lay(self._before)
