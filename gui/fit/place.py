"""The place "Fit": original, replacement, hole."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from pathlib import Path

from PySide6.QtGui import QAction, QKeySequence, QUndoCommand
from PySide6.QtWidgets import QButtonGroup, QFileDialog, QHBoxLayout, QPushButton, QStackedWidget, QVBoxLayout, QWidget

from gui.desk import Desk
from gui.fit.check_view import CheckView
from gui.fit.compare_view import CompareView
from gui.fit.held import DRAWS, DRAWS_MEANWHILE, Held, checked, compared, held_filed, held_piece, played
from gui.fit.play_view import PlayView
from gui.fit.slot import Slot
from gui.piece import Choices, Piece, measure_piece
from gui.place import Place
from gui.said import said

ORIGINAL, REPLACEMENT, HOLE = "original", "replacement", "hole"


class FitPlace(Place):
    """Three slots across the top; below them the comparison, the check and the play."""

    NAME = "fit"

    def __init__(self, desk: Desk, parent: QWidget | None = None) -> None:
        super().__init__(desk, parent)
        self.held: dict[str, Held | None] = {ORIGINAL: None, REPLACEMENT: None, HOLE: None}
        self.hole_class = ""
        self._by_hand = False  # somebody chose the replacement; until then it is the part on the bench
        self.slots = {
            ORIGINAL: Slot(desk, self.tr("Original")),
            REPLACEMENT: Slot(desk, self.tr("Replacement")),
            HOLE: Slot(desk, self.tr("Hole"), takes_class=True),
        }
        self.compare_view, self.check_view, self.play_view = CompareView(), CheckView(), PlayView()
        self._views: list[tuple[str, QPushButton]] = []
        self._stack = QStackedWidget()
        self._make_actions()
        self._lay_out()
        for name, slot in self.slots.items():
            slot.picked.connect(lambda path, name=name: self._pick(name, path))
            slot.file_wanted.connect(lambda name=name: self._ask_for_file(name))
            slot.filed_wanted.connect(lambda number, name=name: self._take_filed(name, number))
        self.slots[HOLE].typed.connect(self._hole_typed)
        self.check_view.wanted.connect(lambda _: self._check())
        self.check_view.refused.connect(self._refuse)
        self.play_view.moved.connect(self._play)
        self.play_view.refused.connect(self._refuse)
        desk.piece_changed.connect(self._follow)
        desk.units_changed.connect(self._show)
        desk.wanted_as_original.connect(lambda piece: self.put(ORIGINAL, held_piece(piece)))
        desk.wanted_filed.connect(lambda number: self._take_filed(ORIGINAL, number))
        self._show()

    def _lay_out(self) -> None:
        top = QHBoxLayout()
        for slot in self.slots.values():
            top.addWidget(slot, 1)
        row = QHBoxLayout()
        group = QButtonGroup(self)
        views: tuple[tuple[str, str, QWidget], ...] = (
            ("compare", self.tr("Laid over each other"), self.compare_view),
            ("check", self.tr("Held to its limits"), self.check_view),
            ("play", self.tr("In the hole"), self.play_view),
        )
        for number, (name, words, widget) in enumerate(views):
            button = QPushButton(words)
            button.setProperty("flat", True)
            button.setCheckable(True)
            group.addButton(button, number)
            row.addWidget(button)
            self._stack.addWidget(widget)
            self._views.append((name, button))
        self._views[0][1].setChecked(True)
        group.idClicked.connect(self._stack.setCurrentIndex)
        self._stack.currentChanged.connect(lambda _: self._show())
        row.addStretch(1)
        for action in (self.swap_action, self.figure_action):
            button = QPushButton(action.text())
            button.setProperty("flat", True)
            button.clicked.connect(action.trigger)
            row.addWidget(button)
        column = QVBoxLayout(self)
        column.setContentsMargins(10, 6, 10, 6)
        column.addLayout(top)
        column.addLayout(row)
        column.addWidget(self._stack, 1)

    def _make_actions(self) -> None:
        self.swap_action = self._action(self.tr("Exchange original and replacement"), "X", self._swap)
        self._action(self.tr("Part on the bench as the original"), "O", lambda: self._bench_as(ORIGINAL))
        self._action(self.tr("Part on the bench as the replacement"), "R", lambda: self._bench_as(REPLACEMENT))
        self._action(self.tr("Next view"), "V", self._next_view)
        self.figure_action = self._action(self.tr("Save a figure…"), "Ctrl+Shift+S", self._save_figure)

    def _action(self, words: str, key: str, do: Callable[[], None]) -> QAction:
        action = QAction(words, self)
        action.setShortcut(QKeySequence(key))
        action.triggered.connect(lambda *_: do())
        self.actions_here.append(action)
        return action

    # --- the slots

    def put(self, name: str, held: Held | None) -> None:
        """Lay ``held`` into the slot of that name: a step that can be undone."""
        if held is not None and held is not self.held[name]:
            self.desk.undo.push(_Laying(self, name, held))

    def lay(self, name: str, held: Held | None) -> None:
        """As ``put``, without a step of undo."""
        self.held[name] = held
        if name == HOLE and held is not None:
            self.hole_class = ""
            designation = self.slots[HOLE].designation
            if designation is not None:
                designation.clear()
        self._show()

    def _pick(self, name: str, path: str) -> None:
        piece = next((piece for piece in self.desk.at_hand if piece.path == path), None)
        self._by_hand = self._by_hand or name == REPLACEMENT
        self.put(name, held_piece(piece))

    def _bench_as(self, name: str) -> None:
        self._by_hand = self._by_hand or name == REPLACEMENT
        self.put(name, held_piece(self.desk.piece))

    def _ask_for_file(self, name: str) -> None:
        folder = self.desk.settings.text("pictures")
        words = self.tr("Pictures") + " (*.png *.jpg *.jpeg *.tif *.tiff *.bmp)"
        path, _ = QFileDialog.getOpenFileName(self, self.tr("Open a picture"), folder, words)
        if path:
            self.take_file(name, path)

    def take_file(self, name: str, path: str) -> None:
        """Measure the picture in ``path`` and lay the part into the slot."""
        if self.desk.bench is None:
            self._refuse(
                self.tr("No bench is in force: calibrate it, or open a calibration, before pictures are laid in.")
            )
            return

        def done(piece: Piece) -> None:
            if piece.reasons:
                self._refuse("  ".join(said(reason.message) for reason in piece.reasons))
            self._by_hand = self._by_hand or name == REPLACEMENT
            self.put(name, held_piece(piece))

        words = self.tr("measuring {name}").format(name=Path(path).name)
        plane = self.desk.bench.plane
        self.desk.work.run(words, measure_piece, path, plane, Choices(), done=done, failed=self.desk.refuse)

    def _take_filed(self, name: str, number: int) -> None:
        file = self.desk.register_file

        def read() -> Held:
            from records.filed_part import filed_hole, filed_part
            from records.register import open_register

            register = open_register(file)
            return held_filed((filed_hole if name == HOLE else filed_part)(register, number))

        words = self.tr("reading part {number}").format(number=number)
        self.desk.work.run(words, read, done=lambda held: self.put(name, held), failed=self.desk.refuse, key="filed")

    def _hole_typed(self, text: str) -> None:
        if text and text != self.hole_class:
            self.hole_class = text
            self.held[HOLE] = None
            self._show()

    def _swap(self) -> None:
        one, two = self.held[ORIGINAL], self.held[REPLACEMENT]
        self._by_hand = True
        self.desk.undo.beginMacro(self.tr("exchange"))
        self.put(ORIGINAL, two)
        self.put(REPLACEMENT, one)
        self.desk.undo.endMacro()

    def _follow(self) -> None:
        """The part on the bench is the replacement until somebody lays another one there."""
        piece = self.desk.piece
        if not self._by_hand:
            self.held[REPLACEMENT] = held_piece(piece)
            earlier = next((p for p in self.desk.at_hand if p.measurement is not None and p is not piece), None)
            if self.held[ORIGINAL] is None and earlier is not None and piece is not None and earlier.path != piece.path:
                self.held[ORIGINAL] = held_piece(earlier)
        if self.isVisible():
            self._show()

    # --- the answers

    def entered(self) -> None:
        """The place comes to the front."""
        self._show()

    def _show(self) -> None:
        inches = self.desk.inches
        for name, slot in self.slots.items():
            slot.show_held(self.held[name], inches=inches)
        self.play_view.show_inches(inches)
        if not self.isVisible():
            return
        front = self._stack.currentWidget()
        if front is self.compare_view:
            self._compare()
        elif front is self.check_view:
            self._check()
        else:
            self._play(*self.play_view.lengths)

    def _compare(self) -> None:
        one, two, inches = self.held[ORIGINAL], self.held[REPLACEMENT], self.desk.inches
        if one is None or two is None:
            self.compare_view.show_answer(None, one, two, inches=inches)
            return
        self.desk.work.run(
            self.tr("comparing"), compared, one, two, inches=inches, key="fit", failed=self.desk.refuse,
            done=lambda answer: self.compare_view.show_answer(answer, one, two, inches=inches),
        )  # fmt: skip

    def _check(self) -> None:
        part, inches = self.held[REPLACEMENT], self.desk.inches
        against: str | Held | None = self.check_view.against.text().strip() or self.held[ORIGINAL]
        if part is None or against is None:
            self.check_view.show_answer(None, inches=inches)
            return
        self.desk.work.run(
            self.tr("checking"), checked, part, against, self.check_view.wires(), inches=inches, key="fit",
            failed=self.desk.refuse, done=lambda answer: self.check_view.show_answer(answer, inches=inches),
        )  # fmt: skip

    def _play(self, engagement: float, overhang: float, dragging: bool = False) -> None:
        screw, inches = self.held[REPLACEMENT], self.desk.inches
        hole: str | Held | None = self.hole_class or self.held[HOLE]
        if screw is None or hole is None:
            self.play_view.show_answer(None, screw, inches=inches)
            return
        self.desk.work.run(
            self.tr("putting together"), played, screw, hole, self.held[ORIGINAL], engagement, overhang,
            DRAWS_MEANWHILE if dragging else DRAWS, key="fit", failed=self.desk.refuse,
            done=lambda found: self.play_view.show_answer(found, screw, inches=inches),
        )  # fmt: skip

    def _refuse(self, text: str) -> None:
        self.desk.noticed.emit("refusal", said(text))

    # --- views

    def show_view(self, name: str) -> None:
        """Bring the view of that name to the front: compare, check or play."""
        for number, (other, button) in enumerate(self._views):
            if other == name:
                button.setChecked(True)
                self._stack.setCurrentIndex(number)

    def _next_view(self) -> None:
        self.show_view(self._views[(self._stack.currentIndex() + 1) % len(self._views)][0])

    def views(self) -> Sequence[tuple[str, Callable[[], None]]]:
        """The three views with something in them."""
        return [("check", self._show_check), ("play", self._show_play), ("compare", lambda: self.show_view("compare"))]

    def _show_check(self) -> None:
        self.check_view.against.setText("4-40 NC-2")
        self.show_view("check")

    def _show_play(self) -> None:
        designation = self.slots[HOLE].designation
        assert designation is not None
        designation.setText("4-40 NC-2")
        self._hole_typed("4-40 NC-2")
        self.show_view("play")

    def dressed(self) -> None:
        """Take the colours of the theme in force."""
        self.compare_view.dressed()

    def _save_figure(self) -> None:
        one, two = self.held[ORIGINAL], self.held[REPLACEMENT]
        if one is None or two is None or one.measurement is None or two.measurement is None:
            self._refuse(self.tr("A figure of the comparison needs the pictures of both parts."))
            return
        folder = self.desk.settings.text("figures")
        start = str(Path(folder) / f"{one.name} - {two.name}.pdf")
        path, _ = QFileDialog.getSaveFileName(
            self, self.tr("Save a figure"), start, "PDF, SVG, PNG (*.pdf *.svg *.png)"
        )
        if path:
            self.desk.settings.set_text("figures", str(Path(path).parent))
            self.save_figure(Path(path))

    def save_figure(self, path: Path) -> None:
        """Draw the page of the comparison into ``path``."""
        one, two, inches = self.held[ORIGINAL], self.held[REPLACEMENT], self.desk.inches
        assert one is not None
        assert two is not None

        def draw() -> None:
            from records.figures import pages
            from records.figures.file import save_figure

            answer = compared(one, two, inches=inches)
            first, second = one.measurement, two.measurement
            assert first is not None
            assert second is not None
            page = lambda: pages.comparison_page(first, second, answer.found, answer.advice, inches=inches)  # noqa: E731
            save_figure(page, path)

        note = self.tr("The figure is in {path}.").format(path=path)
        words = self.tr("drawing {name}").format(name=path.name)
        self.desk.work.run(words, draw, done=lambda _: self.desk.note(note), failed=self.desk.refuse)


class _Laying(QUndoCommand):
    """Something was laid into a slot."""

    def __init__(self, place: FitPlace, name: str, held: Held) -> None:
        super().__init__(held.name)
        self._place, self._name, self._held = place, name, held
        self._before = place.held[name]

    def redo(self) -> None:
        self._place.lay(self._name, self._held)

    def undo(self) -> None:
        self._place.lay(self._name, self._before)
