"""The page of an instrument: what its maker used, charts, its positions as a plan, odd ones, tools, what is missing."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path
from typing import TYPE_CHECKING

from PySide6.QtCore import QCoreApplication, QSize, Qt, Signal
from PySide6.QtGui import QColor, QIcon, QImage, QPainter, QPixmap, QResizeEvent
from PySide6.QtWidgets import (
    QGridLayout,
    QLabel,
    QListView,
    QListWidget,
    QListWidgetItem,
    QPushButton,
    QSizePolicy,
    QVBoxLayout,
    QWidget,
)

from gui.desk import Desk
from gui.disclosure import Disclosure
from gui.figure_file import ask_for_figure, save_figure
from gui.register import deeds
from gui.register.instrument_chart import GrowthChart, InstrumentChart
from gui.register.map_form import MapForm
from gui.register.stated_form import StatedForm
from gui.register.steps import Steps
from gui.theme import theme
from gui.worded import language, word_of, worded
from threads.shared.formatting import format_quantity
from threads.workshop.instrument_sheet import supplier_notes

if TYPE_CHECKING:
    from records.instrument_page import InstrumentPage, PlannedPlace
    from threads.identify.stated import Stated
    from threads.workshop.instrument_sheet import Tool

_PICTURE = QSize(96, 64)
_LETTERS = 0.9  # of the usual size, in the plan


class InstrumentView(QWidget):
    """Shows the instrument of a number. ``part_chosen(part)``: the person wants to see that part."""

    part_chosen = Signal(int)

    def __init__(self, desk: Desk, steps: Steps, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.desk, self._steps = desk, steps
        self.number: int | None = None
        self.page: InstrumentPage | None = None
        self._pictures: dict[str, QImage] = {}
        self.heading, self.verdict, self.notes = _text("heading"), _text("heading"), _text("faint")
        self.odd, self.missing = _text(), _text()
        self.chart, self.growth = InstrumentChart(), GrowthChart()
        for chart in (self.chart, self.growth):
            chart.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Fixed)
        self.plan = _Plan()
        self.tools = _text()
        self.ask_for = _text("faint")
        self.map = MapForm(desk, steps)
        self.stated = StatedForm()
        self.stated.said.connect(self._state)
        self.stated.refused.connect(lambda text: desk.noticed.emit("refusal", text))
        self.stated.taken_back.connect(self._take_back)
        self.sheet = self._button(self.tr("Instrument sheet…"), self._save_sheet)
        self.figure = self._button(self.tr("Save the charts…"), self._save_figure)
        self.list = self._button(self.tr("Tools as a table…"), self._save_tools)
        self.chart.part_chosen.connect(self.part_chosen)
        self.plan.part_chosen.connect(self.part_chosen)
        self._lay_out()
        self._fill()
        desk.units_changed.connect(self._fill)
        desk.register_changed.connect(self._read_again)

    def _button(self, words: str, do: Callable[[], None]) -> QPushButton:
        button = QPushButton(words)
        button.clicked.connect(do)
        return button

    def _lay_out(self) -> None:
        self._inside = QWidget()
        column = QVBoxLayout(self._inside)
        column.setContentsMargins(0, 0, 0, 0)
        buttons = QGridLayout()
        for place, button in enumerate((self.sheet, self.list, self.figure)):
            buttons.addWidget(button, *divmod(place, 2))
        buttons.setColumnStretch(2, 1)
        column.addWidget(self.verdict)
        column.addWidget(self.notes)
        column.addWidget(self.odd)
        column.addWidget(self.chart)
        column.addWidget(self.missing)
        column.addWidget(self.plan)
        column.addWidget(self.tools)
        column.addWidget(self.ask_for)
        column.addWidget(Disclosure(self.tr("Where each part sits: mark it in a picture"), self.map))
        column.addWidget(Disclosure(self.tr("What a drawing, a catalogue or a person says"), self.stated))
        column.addLayout(buttons)
        column.addWidget(self.growth)
        whole = QVBoxLayout(self)
        whole.setContentsMargins(8, 0, 4, 0)
        whole.addWidget(self.heading)
        whole.addWidget(self._inside)
        whole.addStretch(1)

    def theme_changed(self) -> None:
        """Take the colours of the theme in force."""
        self.chart.theme_changed()
        self.growth.theme_changed()
        self._fill()

    # --- what is shown

    def show_instrument(self, number: int | None) -> None:
        """Read the instrument of that number and show it; None: nothing."""
        if number != self.number:
            self.page = None
            self._fill()
        self.number = number
        if number is None:
            return
        self.desk.work.run(
            self.tr("judging the instrument"), deeds.page_of_instrument, self.desk.register_file, number,
            done=self._take, failed=self.desk.refuse, key="instrument of the register",
        )  # fmt: skip

    def _read_again(self) -> None:
        if self.number is not None and self.isVisible():
            self.show_instrument(self.number)

    def _take(self, page: InstrumentPage) -> None:
        if page.filed.instrument.id != self.number:
            return
        self.page = page
        self.map.show_places(page.filed.instrument.id, page.places)
        self._fill()
        wanted = [one.part for one in page.places if one.part is not None and one.sha256 not in self._pictures]
        if wanted:
            self.desk.work.run(
                self.tr("reading pictures"), deeds.small_pictures, self.desk.register_file, wanted, _PICTURE.width(),
                _PICTURE.height(), done=self._take_pictures, failed=lambda _: None, key="pictures of the instrument",
            )  # fmt: skip

    def _take_pictures(self, found: dict[int, QImage]) -> None:
        if self.page is None:
            return
        shown = self.page.by_part
        self._pictures |= {shown[part].sha256: image for part, image in found.items() if part in shown}
        self._fill_plan()

    def _fill(self) -> None:
        page, inches = self.page, self.desk.inches
        self._inside.setVisible(page is not None)
        if page is None:
            self.heading.setText(self.tr("Choose an instrument on the left") if self.number is None else "")
            return
        answer = page.answer
        self.heading.setText(page.filed.instrument.name)
        self.verdict.setText(worded(page.verdict))
        sheet = None if answer is None else answer.sheet
        notes = [] if sheet is None else [worded(note) for note in sheet.notes]
        said = None if sheet is None else sheet.found.stated
        if said is not None:
            words = self.tr("Stated: {text}, by {by}; counts {weight} times.")
            notes.insert(0, words.format(text=said.text, by=word_of(said.by), weight=f"{said.weight:g}"))
        self._tell(self.notes, notes)
        self.stated.back.setEnabled(page.filed.stated_note is not None)
        odd = [f"{one.number}  {one.name}: {worded(one.why)}" for one in page.places if one.why is not None]
        self._tell(self.odd, [self.tr("Odd ones out:"), *odd] if odd else [])
        missing = [worded(one) for one in page.missing]
        self._tell(self.missing, [self.tr("Still missing:"), *missing] if missing else [])
        for widget in (self.chart, self.growth, self.tools, self.sheet, self.list, self.figure):
            widget.setVisible(sheet is not None)
        for chart in (self.chart, self.growth):
            chart.show_page(page, inches=inches)
        self._fill_plan()
        tools = () if sheet is None else sheet.tools
        self._tell(self.tools, [self.tr("To have ready, with how many screws each is for:"), *_tool_lines(tools)])
        self.tools.setVisible(bool(tools))
        self._tell(self.ask_for, [worded(note, inches=inches) for note in supplier_notes(tools)])

    def _tell(self, label: QLabel, lines: list[str]) -> None:
        label.setText("\n".join(lines))
        label.setVisible(bool(lines))

    def _fill_plan(self) -> None:
        places = () if self.page is None else self.page.places
        self.plan.show_places(places, self._pictures, inches=self.desk.inches)

    # --- what the person does

    def _state(self, said: Stated, source: str) -> None:
        number, file = self.number, self.desk.register_file
        if number is not None:
            self._steps.do(self.tr("statement"), lambda: deeds.state_of_instrument(file, number, said, source))

    def _take_back(self) -> None:
        note = None if self.page is None else self.page.filed.stated_note
        file = self.desk.register_file
        if note is not None:
            self._steps.do(self.tr("statement taken back"), lambda: deeds.go_back(file, deeds.Back("notes", note)))

    def _save_sheet(self) -> None:
        if self.page is not None:
            path = ask_for_figure(self, self.desk, self.page.filed.instrument.name)
            if path is not None:
                self.save_sheet(path.with_suffix(".pdf"))

    def save_sheet(self, path: Path) -> None:
        """Make the instrument sheet in ``path``."""
        words = self.tr("The instrument sheet is in {path}.").format(path=path)
        self.desk.work.run(
            self.tr("making the report"), deeds.save_instrument_sheet, self.desk.register_file, self.number, path,
            inches=self.desk.inches, language=language(), done=lambda _: self.desk.saved(words, path),
            failed=self.desk.refuse,
        )  # fmt: skip

    def _save_figure(self) -> None:
        page, inches = self.page, self.desk.inches
        if page is None or page.answer is None:
            return
        path = ask_for_figure(self, self.desk, page.filed.instrument.name)
        answer = page.answer
        if path is not None:
            from records.instrument import figure_of

            spoken = language()
            save_figure(self.desk, path, lambda: figure_of(page.filed, answer, inches=inches, language=spoken))

    def _save_tools(self) -> None:
        if self.page is not None and self.page.answer is not None:
            path = ask_for_figure(self, self.desk, f"{self.page.filed.instrument.name} tools")
            if path is not None:
                self.save_tools(path.with_suffix(".csv"))

    def save_tools(self, path: Path) -> None:
        """Write the list of tools to ``path``."""
        if self.page is None or self.page.answer is None:
            return
        words = self.tr("The list of tools is in {path}.").format(path=path)
        self.desk.work.run(
            self.tr("writing the list of tools"), deeds.save_tools, self.page.answer, path,
            done=lambda _: self.desk.saved(words, path), failed=self.desk.refuse,
        )  # fmt: skip


class _Plan(QListWidget):
    """The positions as pictures, in the order of the strip. ``part_chosen(part)`` by a click or Enter."""

    part_chosen = Signal(int)

    def __init__(self) -> None:
        super().__init__()
        self.setAccessibleName(self.tr("Positions of the instrument, in their order"))
        self.setViewMode(QListView.ViewMode.IconMode)
        self.setMovement(QListView.Movement.Static)
        self.setResizeMode(QListView.ResizeMode.Adjust)
        self.setWordWrap(True)
        self.setIconSize(_PICTURE)
        self.setVerticalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        font = self.font()
        font.setPointSizeF(_LETTERS * font.pointSizeF())
        self.setFont(font)
        self.itemClicked.connect(self._choose)
        self.itemActivated.connect(self._choose)

    def _choose(self, item: QListWidgetItem) -> None:
        part = item.data(Qt.ItemDataRole.UserRole)
        if part is not None:
            self.part_chosen.emit(int(part))

    def show_places(self, places: tuple[PlannedPlace, ...], pictures: dict[str, QImage], *, inches: bool) -> None:
        """Show ``places``; ``pictures`` by their hashes."""
        self.clear()
        high = self.fontMetrics().height()
        wide = max(_PICTURE.width(), self.fontMetrics().horizontalAdvance("2.4276 ± 0.0069 mm")) + 16
        self.setGridSize(QSize(wide, _PICTURE.height() + 4 * high + 10))
        for one in places:
            lines = [f"{one.number}  {one.name}", one.thread or word_of(one.state)]
            if one.diameter is not None:
                lines.append(format_quantity(one.diameter, inches=inches))
            if one.why is not None:
                lines.append(word_of(one.state))
            item = QListWidgetItem(QIcon(_framed(pictures.get(one.sha256))), "\n".join(lines))
            item.setData(Qt.ItemDataRole.UserRole, one.part)
            item.setTextAlignment(Qt.AlignmentFlag.AlignHCenter | Qt.AlignmentFlag.AlignTop)
            item.setToolTip(item.text() + ("" if one.why is None else f"\n{worded(one.why)}"))
            if one.why is not None:
                item.setForeground(QColor(theme().rejected))
            elif one.part is None:
                item.setForeground(QColor(theme().faint))
            self.addItem(item)
        self._fit()

    def resizeEvent(self, event: QResizeEvent) -> None:
        super().resizeEvent(event)
        self._fit()

    def _fit(self) -> None:
        """All rows are seen: the page scrolls, not the plan."""
        grid = self.gridSize()
        columns = max((self.viewport().width() - 1) // max(grid.width(), 1), 1)
        high = -(-self.count() // columns) * grid.height() + 2 * self.frameWidth() + 4
        if high != self.height():
            self.setFixedHeight(high)


def _framed(image: QImage | None) -> QPixmap:
    """A picture on a card of one size; a place without a picture is an empty card."""
    card = QPixmap(_PICTURE)
    card.fill(QColor(theme().raised))
    painter = QPainter(card)
    if image is not None and not image.isNull():
        painter.drawImage((_PICTURE.width() - image.width()) // 2, (_PICTURE.height() - image.height()) // 2, image)
    painter.setPen(QColor(theme().line))
    painter.drawRect(0, 0, _PICTURE.width() - 1, _PICTURE.height() - 1)
    painter.end()
    return card


def _tool_lines(tools: tuple[Tool, ...]) -> list[str]:
    """A line a kind: names, with how many screws each is for, and which of the workshop's own are at hand."""
    hand = QCoreApplication.translate("InstrumentView", "at hand: {names}")
    lines: dict[str, list[str]] = {}
    for tool in tools:
        more = [] if tool.kind == "pins" else [str(tool.screws)]
        more += [hand.format(names=", ".join(tool.at_hand))] if tool.at_hand else []
        name = tool.name.replace(" and ", " + ") if tool.kind == "pins" else tool.name
        lines.setdefault(tool.kind, []).append(f"{name} ({'; '.join(more)})" if more else name)
    return [f"{word_of(kind)}: {', '.join(names)}" for kind, names in lines.items()]


def _text(kind: str = "") -> QLabel:
    label = QLabel()
    label.setWordWrap(True)
    label.setTextFormat(Qt.TextFormat.PlainText)
    label.setTextInteractionFlags(Qt.TextInteractionFlag.TextSelectableByMouse)
    if kind:
        label.setProperty(kind, True)
    return label
