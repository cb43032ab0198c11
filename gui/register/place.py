"""The place "Register": instruments, jobs, positions, every part; documenting, searching, printing."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import replace
from functools import partial
from typing import TYPE_CHECKING

from PySide6.QtCore import QModelIndex, Qt, QTimer
from PySide6.QtGui import QUndoCommand
from PySide6.QtWidgets import (
    QLabel,
    QPushButton,
    QStackedWidget,
    QVBoxLayout,
    QWidget,
)

from gui.desk import Desk
from gui.fields import ExampleField
from gui.flow import Flow
from gui.place import Place
from gui.register import deeds
from gui.register.filing import Entry, Filed
from gui.register.filters import Filters
from gui.register.instrument_page import InstrumentView
from gui.register.likeness import Alike
from gui.register.paper import Paper
from gui.register.part_panel import PartPanel
from gui.register.parts import PartsList, PartsModel
from gui.register.steps import Steps
from gui.register.strip import Strip
from gui.register.tree import Places
from gui.register.watch import RegisterWatch
from gui.scrolling import scrolling, upright
from gui.splitters import Folding
from gui.switch import Switch
from gui.tray.cards import Card
from gui.worded import worded_error
from records.label_code import part_of_code
from records.listing import Conditions
from records.nearest import Likeness
from records.overview import Overview
from threads.shared.typed import TypedError

if TYPE_CHECKING:
    from records.tray import TrayPart

DELAY_MS = 120
"""After the last key before a search begins."""


class RegisterPlace(Place):
    """The strip on top; below it what there is, the parts, and the chosen one or the paper."""

    NAME = "register"

    def __init__(self, desk: Desk, parent: QWidget | None = None) -> None:
        super().__init__(desk, parent)
        self.steps = Steps(desk)
        self.strip = Strip(desk)
        self.search = ExampleField()
        self.search.setPlaceholderText(self.tr("search: words, numbers, sizes"))
        self.search.setAccessibleName(self.tr("Search the register"))
        self.search.setClearButtonEnabled(True)
        self.search.returnPressed.connect(self._show_scanned)
        self.filters = Filters()
        self.filters.changed.connect(self._search)
        self.tree = Places(desk)
        self.tree.chosen_changed.connect(self._search)
        self.tree.chosen_changed.connect(self._place_chosen)
        self.model = PartsModel(desk)
        self.parts = PartsList(self.model)
        self.count = QLabel()
        self.count.setWordWrap(True)
        self.count.setProperty("faint", True)
        self.first_words = self._first_words()
        self.panel, self.paper = PartPanel(desk, self.steps), Paper(desk, self.steps)
        self.panel.shown.connect(self._part_shown)
        self.whole = InstrumentView(desk, self.steps)
        self.whole.part_chosen.connect(self._show_part)
        self.alike = Alike(desk)
        self.alike.wanted.connect(self._show_part)
        self.model.counted.connect(self._counted)
        self.parts.selectionModel().currentChanged.connect(self._chosen)
        self._typing = QTimer(self)
        self._typing.setSingleShot(True)
        self._typing.setInterval(DELAY_MS)
        self._typing.timeout.connect(self._search)
        self.search.textChanged.connect(lambda _: self._typing.start())
        self._filings: dict[Filed, QUndoCommand] = {}
        self._lay_out()
        self._make_actions()
        self.strip.filed.connect(self._filed)
        self.strip.tray_filed.connect(self._tray_filed)
        self.strip.to_take_back.connect(self._take_back)
        desk.register_changed.connect(self._changed)
        desk.to_file.connect(self._to_file)
        desk.tray_changed.connect(self._show_highlighted)
        self._at = 0
        self._stale = True
        self._watch = RegisterWatch(desk)

    def _make_actions(self) -> None:
        ask = self.strip.question
        pairs: tuple[tuple[str, str, Callable[[], None]], ...] = (
            (self.tr("Search"), "Ctrl+F", self._to_search),
            (self.tr("Narrow the list down"), "Ctrl+Shift+F", self.narrow.click),
            (self.tr("Next part: where does it belong"), "Ctrl+N", self.strip.position.setFocus),
            (self.tr("File it once more"), "Ctrl+Shift+N", self.strip.file_once_more),
            (self.tr("Take the last one back"), "Ctrl+Backspace", self.strip.take_last_back),
            (self.tr("Parts like the one on the bench"), "Ctrl+L", self._like),
            (self.tr("The chosen part"), "Ctrl+D", partial(self.show_view, "part")),
            (self.tr("The chosen instrument"), "Ctrl+I", partial(self.show_view, "instrument")),
            (self.tr("Print and export"), "Ctrl+P", partial(self.show_view, "paper")),
            (self.tr("Question in the strip: the first answer"), "Alt+1", ask.first.click),
            (self.tr("Question in the strip: the second answer"), "Alt+2", ask.second.click),
            (self.tr("Question in the strip: do not file it"), "Alt+0", ask.neither.click),
        )
        for words, key, do in pairs:
            self.act(words, key, do)

    def _first_words(self) -> QLabel:
        text = self.tr(
            "Nothing is on file yet.\n\n"
            "1   Take or open the picture of a part.\n"
            "2   Say above which instrument it is from and where it belongs, such as index arm 1.\n"
            "3   Press Enter: picture, sizes and identity are filed together.\n\n"
            "The strip counts on to index arm 2 by itself: take the next picture, press Enter."
        )
        label = QLabel(text)
        label.setWordWrap(True)
        label.setAlignment(Qt.AlignmentFlag.AlignTop)
        label.setContentsMargins(24, 24, 24, 24)
        return label

    def _lay_out(self) -> None:
        self.narrow = QPushButton(self.tr("Narrow down"))
        self.narrow.setProperty("flat", True)
        self.narrow.setCheckable(True)
        self.narrow.toggled.connect(self._narrow)
        like = QPushButton(self.tr("Like the one on the bench"))
        like.setProperty("flat", True)
        like.clicked.connect(self._like)
        top = Flow()
        top.add(self.search, 1)
        for button in (self.narrow, like):
            top.add(button)
        self.filters.hide()
        self._list = QStackedWidget()
        self._list.addWidget(self.parts)
        self._begin = scrolling(self.first_words)
        self._list.addWidget(self._begin)
        middle = _column(self._list, self.count)
        area = upright(_column(self.alike, self.panel))
        views = (
            ("part", self.tr("The part"), area),
            ("instrument", self.tr("The instrument"), upright(self.whole)),
            ("paper", self.tr("Print and export"), self.paper),
        )
        self.switch = Switch(views, self._show_instrument)
        right = QWidget()
        column = QVBoxLayout(right)
        column.setContentsMargins(0, 0, 0, 0)
        column.addLayout(self.switch.row)
        column.addWidget(self.switch.stack, 1)
        whole = Folding("register")
        for number, (widget, stretch) in enumerate(((self.tree, 2), (middle, 4), (right, 5))):
            whole.addWidget(widget)
            whole.setStretchFactor(number, stretch)
        whole.setSizes([235, 410, 605])
        column = QVBoxLayout(self)
        column.setContentsMargins(10, 6, 10, 6)
        column.addWidget(self.strip)
        column.addLayout(top)
        column.addWidget(self.filters)
        column.addWidget(whole, 1)

    # --- what is shown

    def entered(self) -> None:
        """The place comes to the front."""
        self.strip.refresh()
        if self._stale:
            self._changed()

    def closing(self) -> None:
        """What was typed is filed before the window closes."""
        self.strip.queue.finish()

    def theme_changed(self) -> None:
        """The theme has changed."""
        self.panel.theme_changed()
        self.whole.theme_changed()
        self.filters.theme_changed()
        self.parts.viewport().update()

    def _place_chosen(self) -> None:
        """The page of an instrument comes to the front when the person chooses one."""
        if self.tree.chosen[0] == "instrument" and self.switch.front == "part":
            self.switch.show("instrument")  # which shows it
        else:
            self._show_instrument()

    def _show_instrument(self) -> None:
        kind, number, of = self.tree.chosen
        instrument = number if kind == "instrument" else of if kind == "position" else None
        if self.switch.front == "instrument" and instrument is not None:
            self.whole.show_instrument(instrument)

    def show_view(self, name: str) -> None:
        """Bring "part", "instrument" or "paper" to the front on the right."""
        self.switch.show(name)

    def views(self) -> Sequence[tuple[str, Callable[[], None]]]:
        """With a part on file and chosen; the report of its job."""
        return [
            ("filed", self._show_filed), ("part", self._show_first), ("question", self._show_question),
            ("paper", self._show_paper), ("instrument", self._show_first_instrument),
        ]  # fmt: skip

    def _show_filed(self) -> None:
        for field, text in (
            (self.strip.instrument, "marine sextant 1938"),
            (self.strip.job, "overhaul"),
            (self.strip.position, "index arm 3"),
        ):
            field.setText(text)
        self.strip.file_it()

    def _show_first(self) -> None:
        self.parts.setCurrentIndex(self.model.index(0))
        self.show_view("part")

    def _show_question(self) -> None:
        self.narrow.setChecked(True)
        self.strip.file_it()

    def _show_first_instrument(self) -> None:
        self.tree.choose_first_instrument()
        self.show_view("instrument")

    def _show_paper(self) -> None:
        self.narrow.setChecked(False)
        self.show_view("paper")
        self.paper.show_preview()

    def _changed(self) -> None:
        if not self.isVisible():
            self._stale = True
            return
        self._stale = False
        words = self.tr("reading the register")
        self.desk.work.run(
            words, deeds.look_over, self.desk.register_file, done=self._show_overview, failed=self.desk.refuse,
            key="register",
        )  # fmt: skip

    def _show_overview(self, found: Overview | None) -> None:
        empty = found is None or (found.parts == 0 and not found.instruments)
        self._list.setCurrentWidget(self._begin if empty else self.parts)
        self.count.setVisible(not empty)
        if found is None:
            self.panel.show_part(None)
            return
        self.tree.show_overview(found)
        self.strip.know([i.name for i in found.instruments], [j.name for j in found.jobs])
        self.paper.know(found)
        self._search()

    def _show_part(self, number: int) -> None:
        self.show_view("part")
        self.parts.choose(number)
        self.panel.show_part(number)

    # --- searching

    def _show_scanned(self) -> None:
        """A scanner types the code of a label and Enter: the part is shown, and the next scan replaces the code."""
        part = part_of_code(self.search.text())
        if part is not None:
            self._search()
            self.show_view("part")
            self.panel.show_part(part)
            self.search.selectAll()

    def _to_search(self) -> None:
        self.search.setFocus()
        self.search.selectAll()

    def _narrow(self, on: bool) -> None:
        self.filters.setVisible(on)
        if on:
            self.filters.least.setFocus()
        else:
            self.filters.clear()

    def _search(self) -> None:
        conditions = self._conditions()
        if conditions is not None:
            self.model.search(conditions, self.parts.top)

    def _conditions(self) -> Conditions | None:
        """What is asked for; None where a length or a year cannot be meant (which is said)."""
        if part_of_code(self.search.text()) is not None:  # off a label: wherever the part belongs
            return Conditions(text=self.search.text())
        kind, number, _ = self.tree.chosen
        try:
            found = self.filters.conditions()
        except TypedError as error:
            self.desk.noticed.emit("refusal", worded_error(error))
            return None
        return replace(
            found,
            text=self.search.text().strip() or None,
            typing=not self.search.text().endswith(" "),
            instrument=number if kind == "instrument" else None,
            position=number if kind == "position" else None,
            job=number if kind == "job" else None,
        )

    def _counted(self, total: int) -> None:
        words = self.tr("one part") if total == 1 else self.tr("{count} parts").format(count=total)
        self.count.setText(words if total else self.tr("No part on file fits what is asked for."))
        if total and not self.parts.currentIndex().isValid() and self.panel.part is None:
            self.parts.setCurrentIndex(self.model.index(0))

    def _chosen(self, now: QModelIndex, _before: QModelIndex) -> None:
        number = now.data(Qt.ItemDataRole.UserRole)
        if number is not None:
            self.panel.show_part(int(number))
            if self.switch.front == "instrument" and self.parts.hasFocus():
                self.show_view("part")

    def _part_shown(self) -> None:
        part = self.panel.part
        self.paper.choose_part(None if part is None else part.id, self.panel.heading.text())

    def _like(self) -> None:
        piece = self.desk.piece
        if piece is None or piece.measurement is None:
            self.desk.noticed.emit("refusal", self.tr("There is no measured part on the bench to compare with."))
            return
        words = self.tr("looking for parts like it")
        self.desk.work.run(
            words, deeds.like_these, self.desk.register_file, piece, done=self._show_like, failed=self.desk.refuse,
            key="like",
        )  # fmt: skip

    def _show_like(self, found: list[Likeness]) -> None:
        if not found:
            self.desk.note(self.tr("No measured part is on file."))
            return
        self.alike.show_likeness(found)
        self._show_part(found[0].part)

    # --- filing

    def _to_file(self) -> None:
        self.strip.refresh()
        self.strip.position.setFocus()
        self.strip.position.selectAll()

    def _filed(self, card: Card, filed: Filed) -> None:
        if filed.back is None:
            return

        number, entry = card.number, _entry(card)  # a step of undo holds no card: its results take a megabyte

        def told(there: bool) -> None:
            self._told(number, entry, filed, there=there)

        there = set(self.strip.last)
        self._filings = {one: step for one, step in self._filings.items() if one in there}
        words = self.tr("{name} on file").format(name=filed.name)
        self._filings[filed] = self.steps.done(words, filed.back, told)
        if self.panel.part is None or self.switch.front == "part":
            self.panel.show_part(filed.part)

    def _tray_filed(self, card: Card, parts: tuple[TrayPart, ...]) -> None:
        """Every part of a picture is on file: one step, whose undoing withdraws them all."""
        there = [one.filed for one in parts if one.filed is not None]
        number, first = card.number, there[0]
        filed = Filed(first.part, new_part=True, measurement=first.measurement, name=card.name)
        back = deeds.Back("parts", first.part, more=tuple(one.part for one in there[1:]))
        words = self.tr("{count} parts on file").format(count=len(there))
        self.desk.is_filed(number, filed)
        self.steps.done(words, back, lambda stays: self.desk.is_filed(number, filed if stays else None))
        self.desk.register_changed.emit()

    def _told(self, number: int, entry: Entry | None, filed: Filed, *, there: bool) -> None:
        """The filing of the card of that number was undone, or done again."""
        self.desk.is_filed(number, filed if there else None)
        if not there and entry is not None:
            self.strip.give_back(entry)

    def _take_back(self, card: Card, filed: Filed) -> None:
        """By undo where it is the last step; otherwise by itself, and nothing else is undone."""
        stack, command = self.desk.undo, self._filings.get(filed)
        if stack.index() and stack.command(stack.index() - 1) is command:
            stack.undo()
            return
        back, file = filed.back, self.desk.register_file
        if back is not None:
            told = self.tr("taking it back"), lambda: deeds.go_back(file, back)
            self.steps.run(*told, lambda _: self._told(card.number, _entry(card), filed, there=False))

    def _show_highlighted(self) -> None:
        """A card on file that the person chooses is shown as it stands in the register."""
        card = self.desk.tray.highlighted
        number = 0 if card is None else card.number
        if number != self._at and self.isVisible() and card is not None and card.piece.filed is not None:
            self._show_part(card.piece.filed)
        self._at = number


def _entry(card: Card) -> Entry | None:
    """As what a card is, or is being, filed."""
    return card.meant if card.given is None else card.given.entry


def _column(*widgets: QWidget) -> QWidget:
    whole = QWidget()
    column = QVBoxLayout(whole)
    column.setContentsMargins(0, 0, 0, 0)
    for number, widget in enumerate(widgets):
        column.addWidget(widget, 1 if number == 0 and len(widgets) > 1 and isinstance(widget, QStackedWidget) else 0)
    return whole
