"""How loose it will feel: one sentence, the screw in its hole, numbers, sliders for engagement and overhang."""

from __future__ import annotations

from PySide6.QtCore import Qt, Signal
from PySide6.QtWidgets import (
    QGridLayout,
    QLabel,
    QLineEdit,
    QSlider,
    QVBoxLayout,
    QWidget,
)

from gui.calm import calm
from gui.fit.fields import ShortField
from gui.fit.held import Felt, Held, Hole, OfClass
from gui.fit.looseness import Drawn, Looseness
from gui.fit.verdicts import from_memory
from gui.flow import Flow
from gui.part.tables import fill, table
from gui.worded import worded, worded_error
from gui.words import caution
from threads.shared.formatting import format_length, format_probability
from threads.shared.typed import TypedError, parse_length
from threads.workshop.play_words import MAY_NOT_ENTER, WILL_NOT_ENTER, is_held_off, sentences, verdict, written
from threads.workshop.predicted_play import LIMITS, Feel, Play

STEPS_PER_MM = 10
MOST_ENGAGEMENT_MM, MOST_OVERHANG_MM = 25.0, 120.0
_ENTERS = 0.5
_ROD_HIGH = 340
"""At most so much for the picture, px: the sliders stay close to it."""


class PlayView(QWidget):
    """``moved(engagement, overhang, dragging)`` in mm; ``refused(text)``: a length that cannot be meant."""

    moved = Signal(float, float, bool)
    refused = Signal(str)

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._inches = False
        self.sentence = QLabel()
        self.sentence.setProperty("large", True)
        self.sentence.setWordWrap(True)
        self.rod = Looseness()
        self.times = QLabel()
        self.times.setProperty("faint", True)
        grid = QGridLayout()
        self.engagement, self.engaged = self._length(grid, 0, self.tr("engagement"), MOST_ENGAGEMENT_MM, 3.0)
        self.overhang, self.hangs = self._length(grid, 1, self.tr("overhang"), MOST_OVERHANG_MM, 40.0)
        heads = ("", self.tr("this screw"), "95 %", self.tr("compared with"), "95 %")
        self.table = table(self.tr("Play"), heads, wrapped=False)
        self.more = QLabel()
        self.more.setWordWrap(True)
        self.more.setTextInteractionFlags(Qt.TextInteractionFlag.TextSelectableByMouse)
        self.method = QLabel()
        self.method.setWordWrap(True)
        self.method.setProperty("small", True)
        self._write_method(None, None)
        beside, below = QWidget(), QWidget()
        left, right = QVBoxLayout(beside), QVBoxLayout(below)
        for side in (left, right):
            side.setContentsMargins(0, 0, 0, 0)
        self.rod.setMaximumHeight(_ROD_HIGH)
        left.addWidget(self.rod, 20)
        left.addWidget(self.times)
        left.addLayout(grid)
        right.addWidget(self.table)
        right.addWidget(self.more)
        right.addStretch(1)
        left.addStretch(1)
        row = Flow(spacing=14)
        row.add(beside, 3)
        row.add(below, 4)
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.addWidget(self.sentence)
        column.addLayout(row, 1)
        column.addWidget(self.method)

    def _length(self, grid: QGridLayout, row: int, words: str, most: float, first: float) -> tuple[QSlider, QLineEdit]:
        label = QLabel(words)
        slider = calm(QSlider(Qt.Orientation.Horizontal))
        slider.setRange(0, round(most * STEPS_PER_MM))
        slider.setValue(round(first * STEPS_PER_MM))
        slider.setAccessibleName(words)
        field = ShortField("000.000 mm")
        field.setText(format_length(first))
        field.setAccessibleName(self.tr("{what}, with its unit").format(what=words))
        label.setBuddy(slider)
        slider.valueChanged.connect(lambda: self._slid(slider.isSliderDown()))
        slider.sliderReleased.connect(lambda: self._slid(False))
        field.editingFinished.connect(lambda: self._typed(slider, field, words))
        for column, widget in enumerate((label, slider, field)):
            grid.addWidget(widget, row, column)
        return slider, field

    @property
    def lengths(self) -> tuple[float, float]:
        """Engagement and overhang, mm."""
        return self.engagement.value() / STEPS_PER_MM, self.overhang.value() / STEPS_PER_MM

    def _slid(self, dragging: bool) -> None:
        for slider, field in ((self.engagement, self.engaged), (self.overhang, self.hangs)):
            field.setText(format_length(slider.value() / STEPS_PER_MM, inches=self._inches))
        self.moved.emit(*self.lengths, dragging)

    def _typed(self, slider: QSlider, field: QLineEdit, words: str) -> None:
        try:
            length = parse_length(field.text(), words)
        except TypedError as error:
            self.refused.emit(worded_error(error))
            field.setText(format_length(slider.value() / STEPS_PER_MM, inches=self._inches))
            return
        slider.setValue(round(length * STEPS_PER_MM))

    def show_inches(self, inches: bool) -> None:
        """Show lengths in inches, or in millimetres."""
        self._inches = inches
        for slider, field in ((self.engagement, self.engaged), (self.overhang, self.hangs)):
            field.setText(format_length(slider.value() / STEPS_PER_MM, inches=inches))

    def show_answer(self, felt: Felt | None, screw: Held | None, hole: Hole | None, *, inches: bool) -> None:
        """Show how loose it is."""
        found = None if felt is None else felt.found
        self._write_method(found, hole)
        if felt is None or found is None or screw is None:
            self._show_nothing(self.tr("Lay a screw into its slot and say what the hole is."))
            return
        told = [worded(one, inches=inches) for one in sentences(found)]
        headline, told = self._headline(found, told)
        self.sentence.setText(headline)
        advice = [f"– {worded(one, inches=inches)}" for one in felt.advice] if found.screw.pair.meshes else []
        more = [*told, *advice[:1]]
        self.more.setToolTip("\n".join(advice))
        self.more.setText("\n".join(more))
        drawn = self._drawn(found, screw, inches=inches)
        self.rod.show_play(drawn, self.sentence.text())
        if drawn.enters:
            text = self.tr("Proportions are true; the play is drawn {times} times as large.")
            self.times.setText(text.format(times=f"{self.rod.times:g}"))
        else:
            self.times.setText(self.tr("Proportions are true."))
        fill(self.table, self._rows(found, inches=inches))
        self.table.show()
        self.table.updateGeometry()

    def _headline(self, found: Play, told: list[str]) -> tuple[str, list[str]]:
        """The sentence that is written large, and those that are left."""
        if not found.screw.pair.meshes:
            return told[0], told[1:]
        if verdict(found.screw) == WILL_NOT_ENTER:
            return self.tr("It will not enter the hole."), told
        if verdict(found.screw) == MAY_NOT_ENTER:
            chance = format_probability(found.screw.enters)
            return self.tr("It may not enter the hole: it does in {share}.").format(share=chance), told
        if len(told) > 1:
            return told[1], [told[0], *told[2:]]
        return self.tr("It enters the hole."), told

    def show_why_not(self, error: Exception) -> None:
        """Say what cannot be put together, in the place of the answer."""
        self._show_nothing(worded_error(error))

    def _show_nothing(self, words: str) -> None:
        self.sentence.setText(words)
        self.rod.show_play(None, words)
        self.times.setText("")
        self.more.setText("")
        self.more.setToolTip("")
        fill(self.table, ())
        self.table.hide()

    def _write_method(self, found: Play | None, hole: Hole | None) -> None:
        """Method, limits and caution, always in view; where the numbers come from if a class is among them."""
        lines = [caution(), " ".join(map(worded, LIMITS))]
        if isinstance(hole, OfClass) and hole.limits.unverified:
            lines.append(from_memory())
        if found is not None:
            lines.append(" ".join(map(worded, found.method)))
        self.method.setText("\n".join(lines))

    def _drawn(self, found: Play, screw: Held, *, inches: bool) -> Drawn:
        feel, thread = found.screw, screw.thread
        end, _ = written(feel.end_movement, inches=inches)
        other = found.beside[0].feel if found.beside and found.beside[0].feel.enters >= _ENTERS else None
        name = worded(found.beside[0].what) if found.beside else ""
        other_end = "" if other is None else written(other.end_movement, inches=inches)[0]
        return Drawn(
            thread.major_diameter.value,
            thread.minor_diameter.value,
            thread.pitch.value,
            found.engagement,
            found.overhang,
            feel.radial_clearance.median,
            feel.tilt.median,
            feel.end_movement.median,
            feel.enters >= _ENTERS,
            f"± {end}",
            None if other is None else other.end_movement.median,
            f"{name}\n± {other_end}",
        )

    def _rows(self, found: Play, *, inches: bool) -> list[tuple[str, ...]]:
        feels = [found.screw, *(one.feel for one in found.beside[:1])]
        names = (
            (self.tr("radial clearance"), "radial_clearance"),
            (self.tr("axial backlash"), "axial_backlash"),
            (self.tr("tilt"), "tilt"),
            (self.tr("movement of the end"), "end_movement"),
        )
        rows = [
            (words, *(cell for feel in feels for cell in _cells(feel, name, inches=inches))) for words, name in names
        ]
        chances = [format_probability(feel.enters) if feel.pair.meshes else "–" for feel in feels]
        rows.append((self.tr("enters"), *(cell for chance in chances for cell in (chance, ""))))
        if found.beside:
            rows.insert(0, ("", self.tr("as cut"), "", worded(found.beside[0].what), ""))
        return rows


def _cells(feel: Feel, name: str, *, inches: bool) -> tuple[str, str]:
    if is_held_off(feel) and not (feel.pair.meshes and name == "radial_clearance"):
        return "–", ""
    return written(getattr(feel, name), inches=inches)
