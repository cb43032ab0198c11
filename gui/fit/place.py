"""The place "Fit": original, replacement, hole."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from pathlib import Path
from typing import Any

from PySide6.QtWidgets import (
    QPushButton,
    QVBoxLayout,
    QWidget,
)

from flankwise.judging import Checked
from gui.desk import Desk
from gui.figure_file import ask_for_figure, save_figure
from gui.fit.attempts import Attempt
from gui.fit.check_view import CheckView
from gui.fit.compare_view import CompareView
from gui.fit.cut_view import CutView
from gui.fit.held import DRAWS, DRAWS_MEANWHILE, Held, Hole, checked, compared, felt
from gui.fit.hole_view import HoleView
from gui.fit.play_view import PlayView
from gui.fit.slots import HOLE, ORIGINAL, REPLACEMENT, Slots
from gui.fit.trials import NewHole, NewTrial, Tried, add_trial, file_hole, read_tried
from gui.piece import with_picture
from gui.place import Place
from gui.register.deeds import Back, instruments_on_file
from gui.register.steps import Steps
from gui.switch import Switch
from threads.hole.trial import MOVED, WENT_IN
from threads.standards.designation import known_designations

ANSWER = "fit"
"""The key of the work on whichever answer is in front."""


class FitPlace(Place):
    """Three slots across the top; below them comparison, check, play, how large the hole is, the loop at the lathe."""

    NAME = "fit"

    def __init__(self, desk: Desk, parent: QWidget | None = None) -> None:
        super().__init__(desk, parent)
        self.row = Slots(desk)
        self.slots = self.row.slots
        self._offered = False
        self._checked: Checked | None = None
        self.compare_view, self.check_view, self.play_view = CompareView(), CheckView(), PlayView()
        self.hole_view, self.steps = HoleView(), Steps(desk)
        self._just_filed: Tried | None = None
        self.cut_view = CutView(desk, self.row)
        self.switch = Switch(
            (
                ("compare", self.tr("Overlay"), self.compare_view),
                ("check", self.tr("Check"), self.check_view),
                ("play", self.tr("Play in the hole"), self.play_view),
                ("hole", self.tr("Size of the hole"), self.hole_view),
                ("cut", self.tr("Cutting to fit"), self.cut_view),
            ),
            self._show,
        )
        self._make_actions()
        self._lay_out()
        self.row.changed.connect(self._answer)
        self.check_view.wanted.connect(lambda _: self._check())
        self.check_view.refused.connect(self._refuse)
        self.play_view.moved.connect(self._play)
        self.play_view.refused.connect(self._refuse)
        self.hole_view.filed.connect(self._file_hole)
        self.hole_view.tried.connect(self._try)
        self.hole_view.refused.connect(self._refuse)
        desk.register_changed.connect(self._read_hole_again)
        desk.units_changed.connect(self._show)
        self._show()

    @property
    def held(self) -> dict[str, Hole | None]:
        """What lies in the slots, by their names."""
        return self.row.held

    def _lay_out(self) -> None:
        for action, words in ((self.swap_action, self.tr("Exchange")), (self.figure_action, self.tr("Figure…"))):
            button = QPushButton(words)
            button.setAccessibleName(action.text())
            button.setToolTip(action.text())
            button.setProperty("flat", True)
            button.clicked.connect(action.trigger)
            self.switch.row.add(button)
        column = QVBoxLayout(self)
        column.setContentsMargins(10, 6, 10, 6)
        column.addWidget(self.row)
        column.addLayout(self.switch.row)
        column.addWidget(self.switch.stack, 1)

    def _make_actions(self) -> None:
        self.swap_action = self.act(self.tr("Exchange original and replacement"), "X", self.row.swap)
        self.act(self.tr("Part on the bench as the original"), "O", lambda: self.row.bench_as(ORIGINAL))
        self.act(self.tr("Part on the bench as the replacement"), "R", lambda: self.row.bench_as(REPLACEMENT))
        self.act(self.tr("Say what the hole is"), "H", self._to_hole)
        self.act(self.tr("Next view"), "V", self.switch.show_next)
        self.figure_action = self.act(self.tr("Save a figure…"), "Ctrl+Shift+S", self._save_figure)

    def _to_hole(self) -> None:
        field = self.slots[HOLE].designation
        assert field is not None
        field.setFocus()
        field.selectAll()

    def put(self, name: str, held: Hole | None) -> None:
        """Lay ``held`` into the slot of that name: a step that can be undone."""
        self.row.put(name, held)

    # --- the answers

    def entered(self) -> None:
        """The place comes to the front."""
        if not self._offered:
            self._offered = True
            words = self.tr("reading the tables")
            self.desk.work.run(words, _names, done=self._offer, failed=self.desk.refuse, key="names")
            self._offer_instruments()
        self._show()

    def _offer(self, names: tuple[tuple[str, ...], tuple[str, ...]]) -> None:
        """Complete what is typed from the classes of screws and of holes."""
        screws, holes = names
        self.check_view.against.offer(screws)
        self.cut_view.of_class.offer(screws)
        field = self.slots[HOLE].designation
        assert field is not None
        field.offer(holes)

    def _show(self) -> None:
        self.row.show_held()
        self.play_view.show_inches(self.desk.inches)
        self._answer()

    def _answer(self) -> None:
        """Work out what is in front."""
        if not self.isVisible():
            return
        front = self.switch.front
        if front == "compare":
            self._compare()
        elif front == "check":
            self._check()
        elif front == "hole":
            self.hole_view.show_hole(self.row.hole, self.row.replacement, inches=self.desk.inches)
        elif front == "cut":
            self.cut_view.entered()
        else:
            self._play(*self.play_view.lengths)

    def _compare(self) -> None:
        one, two, inches = self.row.original, self.row.replacement, self.desk.inches
        if one is None or two is None:
            self.desk.work.cancel(ANSWER)
            self.compare_view.show_answer(None, one, two, inches=inches)
            return

        def refused(error: Exception) -> None:
            self.compare_view.show_answer(None, one, two, inches=inches)
            self.desk.refuse(error)

        self.desk.work.run(
            self.tr("comparing"), compared, one, two, key=ANSWER, failed=refused,
            done=lambda answer: self.compare_view.show_answer(answer, one, two, inches=inches),
        )  # fmt: skip

    def _check(self) -> None:
        part = self.row.replacement
        text = self.check_view.against.text().strip()
        against: str | Held | None = text or self.row.original
        if part is None or against is None:
            self.desk.work.cancel(ANSWER)
            self._show_checked(None)
            return

        def refused(error: Exception) -> None:
            self._show_checked(None)
            self.check_view.against.set_wrong(bool(text))
            self.desk.refuse(error)

        self.desk.work.run(
            self.tr("checking"), checked, part, against, self.check_view.wires(), key=ANSWER,
            failed=refused, done=self._show_checked,
        )  # fmt: skip

    def _show_checked(self, answer: Checked | None) -> None:
        self._checked = answer
        self.check_view.show_answer(answer, inches=self.desk.inches)

    def _play(self, engagement: float, overhang: float, dragging: bool = False) -> None:
        screw, hole, inches = self.row.replacement, self.row.hole, self.desk.inches
        if screw is None or hole is None:
            self.desk.work.cancel(ANSWER)
            self.play_view.show_answer(None, screw, hole, inches=inches)
            return
        self.desk.work.run(
            self.tr("putting together"), felt, screw, hole, self.row.original, engagement, overhang,
            DRAWS_MEANWHILE if dragging else DRAWS, key=ANSWER, failed=self.play_view.show_why_not,
            done=lambda found: self.play_view.show_answer(found, screw, hole, inches=inches),
        )  # fmt: skip

    # --- the hole by its trials

    def _file_hole(self, new: NewHole) -> None:
        file = self.desk.register_file

        def do() -> Back:
            self._just_filed = file_hole(file, new)
            return Back("parts", self._just_filed.number)

        self.steps.do(self.tr("filing the hole"), do)

    def _try(self, new: NewTrial) -> None:
        hole, screw, file = self.row.hole, self.row.replacement, self.desk.register_file
        if isinstance(hole, Tried) and screw is not None:
            number = hole.number
            self.steps.do(
                self.tr("trying {name}").format(name=screw.name), lambda: add_trial(file, number, screw.tried_now, new)
            )
            self.hole_view.clear_trial()

    def _read_hole_again(self) -> None:
        """A hole was just filed, or trials of the one in the slot may have changed."""
        new, self._just_filed = self._just_filed, None
        if new is not None:
            self.put(HOLE, new)
        hole = self.row.hole
        if isinstance(hole, Tried):
            self.desk.work.run(
                self.tr("reading part {number}").format(number=hole.number), read_tried, self.desk.register_file,
                hole.number, key="hole", done=lambda found: self.row.lay(HOLE, found), failed=self.desk.refuse,
            )  # fmt: skip
        if self._offered:
            self._offer_instruments()

    def _offer_instruments(self) -> None:
        self.desk.work.run(
            self.tr("reading the register"), instruments_on_file, self.desk.register_file, key="instruments in fit",
            done=self.hole_view.offer_instruments, failed=self.desk.refuse,
        )  # fmt: skip

    def _refuse(self, text: str) -> None:
        self.desk.noticed.emit("refusal", text)

    # --- views

    def show_view(self, name: str) -> None:
        """Bring the view of that name to the front: compare, check, play or hole."""
        """Bring the view of that name to the front: compare, check, play or cut."""
        self.switch.show(name)

    def views(self) -> Sequence[tuple[str, Callable[[], None]]]:
        """The views with something in them."""
        return [
            ("hole", self._show_hole),
            ("check", self._show_check),
            ("play", self._show_play),
            ("cut", self._show_cut),
            ("compare", lambda: self.show_view("compare")),
        ]

    def _show_cut(self) -> None:
        """The replacement as the first attempt."""
        self.show_view("cut")
        screw = self.row.replacement
        if screw is not None and not self.cut_view.attempts:
            self.cut_view.lay((Attempt(screw, self.tr("open 1/4 turn")),))

    def _show_hole(self) -> None:
        """A hole with two trials; it is filed in the register of whoever takes the picture."""
        file, screw, original = self.desk.register_file, self.row.replacement, self.row.original
        self.show_view("hole")
        if screw is None or original is None:
            return
        tried = file_hole(file, NewHole("4-40", 3.0, None, self.tr("index arm post"), ""))
        add_trial(file, tried.number, original.tried_now, NewTrial(MOVED, movement=0.42, u95=0.02, overhang=20.0))
        add_trial(file, tried.number, screw.tried_now, NewTrial(WENT_IN))
        self.row.lay(HOLE, read_tried(file, tried.number))

    def _show_check(self) -> None:
        self.check_view.against.setText("4-40 NC-2")
        self.show_view("check")

    def _show_play(self) -> None:
        self.row.take_class("4-40 NC-2")
        self.show_view("play")

    def theme_changed(self) -> None:
        """Take the colours of the current theme."""
        for view in (self.compare_view, self.cut_view, self.hole_view):
            view.theme_changed()

    def _save_figure(self) -> None:
        name = self._figure_name()
        if name is None:
            self._refuse(
                self.tr("A figure needs the picture of the replacement, and of the original to compare it with.")
            )
            return
        path = ask_for_figure(self, self.desk, name)
        if path is not None:
            self.save_figure(path)

    def _figure_name(self) -> str | None:
        """A name for the figure of what is in front; None where there is none to draw."""
        one, two = self.row.original, self.row.replacement
        if two is None or two.measurement is None:
            return None
        if self._in_front_checked() is not None:
            return two.name
        return None if one is None or one.measurement is None else f"{one.name} - {two.name}"

    def _in_front_checked(self) -> Checked | None:
        return self._checked if self.switch.front == "check" else None

    def save_figure(self, path: Path) -> None:
        """Draw the page of the check if that is in front, else that of the comparison, into ``path``."""
        one, two, inches = self.row.original, self.row.replacement, self.desk.inches
        answer = self._in_front_checked()

        def draw() -> Any:
            from records.figures import pages

            assert two is not None
            assert two.measurement is not None
            if answer is not None:
                return pages.check_page(with_picture(two.measurement), answer.found, answer.advised, inches=inches)
            assert one is not None
            assert one.measurement is not None
            both = compared(one, two)
            return pages.comparison_page(
                with_picture(one.measurement), with_picture(two.measurement), both.found, both.advised, inches=inches
            )

        save_figure(self.desk, path, draw)


def _names() -> tuple[tuple[str, ...], tuple[str, ...]]:
    return known_designations(internal=False), known_designations(internal=True)
