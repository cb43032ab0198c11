"""What the person knows of the part: name, origin and year of the instrument, hand, starts, which part in view, a pin
beside it.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import replace

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QComboBox, QGridLayout, QLabel, QLineEdit, QSpinBox, QWidget

from gui.calm import calm
from gui.choice_row import ChoiceRow
from gui.countries import offer_countries
from gui.fields import ExampleField
from gui.piece import Choices
from gui.with_unit import with_unit
from gui.worded import worded_error
from threads.shared.typed import TypedError, parse_length, parse_years
from threads.standards.series import series_names

MOST_STARTS = 6
_LETTERS = 9  # of a choice, in view at least


class Given(QWidget):
    """``chosen(choices, words)``: the person said something; ``refused(text)``: what was typed cannot be meant."""

    chosen = Signal(object, str)
    refused = Signal(str)

    def __init__(self, inches: Callable[[], bool], parent: QWidget | None = None) -> None:
        """``inches``: whether a bare number is meant so."""
        super().__init__(parent)
        self._inches = inches
        self._choices = Choices()
        self.name = ExampleField()
        self.name.setPlaceholderText(self.tr("as the picture"))
        self.origin = calm(QComboBox())
        self.origin.addItem(self.tr("not known"), None)
        offer_countries(self.origin)
        self.made = ExampleField()
        self.made.setPlaceholderText(self.tr("1938 or 1930-1940"))
        self.instrument = calm(QComboBox())
        self.instrument.setToolTip(self.tr("Whether the other screws of its instrument count, or the part by itself"))
        self.instrument.addItem(self.tr("by itself"), None)
        self.series = calm(QComboBox())
        self.series.addItem(self.tr("all series"), None)
        for name in series_names():
            self.series.addItem(name, name)
        self.hand = calm(QComboBox())
        for words, hand in ((self.tr("not looked"), None), (self.tr("right"), "right"), (self.tr("left"), "left")):
            self.hand.addItem(words, hand)
        self.surface = ChoiceRow((
            (self.tr("bright"), "bright"), (self.tr("dull"), "dull"), (self.tr("blackened"), "black"),
            (self.tr("not said"), None),
        ))  # fmt: skip
        self.surface.show_choice(None)
        self.starts = calm(QSpinBox())
        self.starts.setRange(0, MOST_STARTS)
        self.starts.setSpecialValueText(self.tr("as seen"))
        self.part = calm(QSpinBox())
        self.part.setRange(0, 40)
        self.part.setSpecialValueText(self.tr("the only one"))
        self.pin = ExampleField()
        self.pin.setPlaceholderText(self.tr("none, or its diameter"))
        self.pin.setToolTip(
            self.tr("A gauge pin beside the part gives the scale of this picture, also where the camera refocused")
        )
        self.beside = QWidget()
        """Surface, country, year and instrument, to stand beside the answer that they change."""
        known = (
            (self.tr("surface"), self.surface), (self.tr("country"), self.origin), (self.tr("made"), self.made),
            (self.tr("part of"), self.instrument),
        )  # fmt: skip
        _lay_out(self.beside, known, 1)
        pairs = (
            (self.tr("name"), self.name), (self.tr("series"), self.series), (self.tr("hand"), self.hand),
            (self.tr("starts"), self.starts), (self.tr("part in view"), self.part), (self.tr("pin beside"), self.pin),
        )  # fmt: skip
        _lay_out(self, pairs, 2)
        self.name.editingFinished.connect(lambda: self._say(self.tr("name"), name=self.name.text().strip()))
        self.origin.activated.connect(lambda: self._say(self.tr("country"), origin=self.origin.currentData()))
        self.made.editingFinished.connect(self._say_made)
        self.instrument.activated.connect(
            lambda: self._say(self.tr("part of"), instrument=self.instrument.currentData())
        )
        self.series.activated.connect(self._say_series)
        self.pin.editingFinished.connect(self._say_pin)
        self.hand.activated.connect(lambda: self._say(self.tr("hand"), hand=self.hand.currentData()))
        self.surface.activated.connect(lambda: self._say(self.tr("surface"), surface=self.surface.current))
        self.starts.editingFinished.connect(lambda: self._say(self.tr("starts"), starts=self.starts.value() or None))
        self.part.editingFinished.connect(
            lambda: self._say(self.tr("part in view"), part=self.part.value() or None, ends=None, masks=())
        )

    def show_choices(self, choices: Choices) -> None:
        """Show what was said; nothing is sent."""
        self._choices = choices
        self._know(choices.instrument)
        chosen = (
            (self.origin, choices.origin), (self.hand, choices.hand), (self.instrument, choices.instrument),
        )  # fmt: skip
        for box, value in chosen:
            box.setCurrentIndex(max(box.findData(value), 0))
        self.surface.show_choice(choices.surface)
        self.series.setCurrentIndex(max(self.series.findData(choices.series[0] if choices.series else None), 0))
        if not self.name.hasFocus():
            self.name.setText(choices.name)
        if not self.made.hasFocus():
            self.made.setText(_years(choices.made))
        if not self.pin.hasFocus():
            self.pin.setText("" if choices.pin_beside is None else f"{choices.pin_beside:g} mm")
        for spin, number in ((self.starts, choices.starts), (self.part, choices.part)):
            spin.setValue(number or 0)

    def know_instruments(self, names: Sequence[str]) -> None:
        """Offer the instruments on file; the one that is chosen stays so."""
        while self.instrument.count() > 1:
            self.instrument.removeItem(1)
        for name in names:
            self.instrument.addItem(name, name)
        self._know(self._choices.instrument)
        self.instrument.setCurrentIndex(max(self.instrument.findData(self._choices.instrument), 0))

    def _know(self, name: str | None) -> None:
        if name is not None and self.instrument.findData(name) < 0:
            self.instrument.addItem(name, name)

    def _say(self, words: str, **changed: object) -> None:
        told = replace(self._choices, **changed)  # type: ignore[arg-type]
        if told != self._choices:
            self._choices = told
            self.chosen.emit(told, words)

    def _say_series(self) -> None:
        name = self.series.currentData()
        self._say(self.tr("series"), series=None if name is None else (name,))

    def _say_made(self) -> None:
        text = self.made.text().strip()
        wrong = False
        if not text:
            self._say(self.tr("year"), made=None)
        else:
            try:
                self._say(self.tr("year"), made=parse_years(text))
            except TypedError as error:
                wrong = True
                self.refused.emit(worded_error(error))
        _mark(self.made, wrong=wrong)

    def _say_pin(self) -> None:
        text, wrong = self.pin.text().strip(), False
        try:
            size = parse_length(with_unit(text, inches=self._inches()), self.tr("pin beside")) if text else None
            self._say(self.tr("pin beside"), pin_beside=size, ends=None, masks=())
        except TypedError as error:
            wrong = True
            self.refused.emit(worded_error(error))
        _mark(self.pin, wrong=wrong)


def _mark(edit: QLineEdit, *, wrong: bool) -> None:
    edit.setProperty("wrong", wrong)
    edit.style().unpolish(edit)
    edit.style().polish(edit)


def _lay_out(parent: QWidget, pairs: Sequence[tuple[str, QWidget]], beside: int) -> None:
    """Lay the fields out in ``parent``, so many ``beside`` each other, each with its words at its left."""
    grid = QGridLayout(parent)
    grid.setContentsMargins(0, 0, 0, 0)
    grid.setVerticalSpacing(3)
    for number, (words, widget) in enumerate(pairs):
        label = QLabel(words)
        label.setProperty("faint", True)
        label.setBuddy(widget)
        widget.setAccessibleName(words)
        if isinstance(widget, QComboBox):
            widget.setSizeAdjustPolicy(QComboBox.SizeAdjustPolicy.AdjustToMinimumContentsLengthWithIcon)
            widget.setMinimumContentsLength(_LETTERS)
        row, column = divmod(number, beside)
        grid.addWidget(label, row, 2 * column)
        grid.addWidget(widget, row, 2 * column + 1)
        grid.setColumnStretch(2 * column + 1, 1)


def _years(made: tuple[int, int] | None) -> str:
    if made is None:
        return ""
    return str(made[0]) if made[0] == made[1] else f"{made[0]}-{made[1]}"
