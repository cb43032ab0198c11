"""How loose it will feel: one sentence, the rod in its post, numbers, sliders for engagement and overhang."""

from __future__ import annotations

from PySide6.QtCore import Qt, Signal
from PySide6.QtWidgets import QGridLayout, QHBoxLayout, QLabel, QLineEdit, QSlider, QVBoxLayout, QWidget

from gui.fit.held import Held
from gui.fit.looseness import Drawn, Looseness
from gui.part.tables import fill, table
from gui.said import said
from gui.words import caution
from threads.formatting import format_length, format_probability
from threads.play import LIMITS, Feel, Play
from threads.play_words import WILL_NOT_ENTER, sentences, verdict, written
from threads.typed import TypedError, parse_length

STEPS_PER_MM = 10
MOST_ENGAGEMENT_MM, MOST_OVERHANG_MM = 25.0, 120.0
_ENTERS = 0.5


class PlayView(QWidget):
    """``moved(engagement, overhang, dragging)`` in mm; ``refused(text)``: a length that cannot be meant."""

    moved = Signal(float, float, bool)
    refused = Signal(str)

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._inches = False
        self.sentence = QLabel()
        self.sentence.setProperty("heading", True)
        self.sentence.setWordWrap(True)
        self.rod = Looseness()
        self.times = QLabel()
        self.times.setProperty("faint", True)
        grid = QGridLayout()
        self.engagement, self.engaged = self._length(grid, 0, self.tr("engagement"), MOST_ENGAGEMENT_MM, 3.0)
        self.overhang, self.hangs = self._length(grid, 1, self.tr("overhang"), MOST_OVERHANG_MM, 40.0)
        heads = ("", self.tr("this screw"), "95 %", self.tr("beside it"), "95 %")
        self.table = table(self.tr("Play"), heads)
        self.more = QLabel()
        self.more.setWordWrap(True)
        self.method = QLabel("\n".join([*map(said, LIMITS), caution()]))
        self.method.setWordWrap(True)
        self.method.setProperty("faint", True)
        left, right = QVBoxLayout(), QVBoxLayout()
        left.addWidget(self.rod, 1)
        left.addWidget(self.times)
        left.addLayout(grid)
        right.addWidget(self.table, 1)
        right.addWidget(self.more)
        row = QHBoxLayout()
        row.addLayout(left, 1)
        row.addLayout(right, 1)
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.addWidget(self.sentence)
        column.addLayout(row, 1)
        column.addWidget(self.method)

    def _length(self, grid: QGridLayout, row: int, words: str, most: float, first: float) -> tuple[QSlider, QLineEdit]:
        label = QLabel(words)
        slider = QSlider(Qt.Orientation.Horizontal)
        slider.setRange(0, round(most * STEPS_PER_MM))
        slider.setValue(round(first * STEPS_PER_MM))
        slider.setAccessibleName(words)
        field = QLineEdit(format_length(first))
        field.setMaximumWidth(110)
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
            self.refused.emit(said(str(error)))
            field.setText(format_length(slider.value() / STEPS_PER_MM, inches=self._inches))
            return
        slider.setValue(round(length * STEPS_PER_MM))

    def show_inches(self, inches: bool) -> None:
        """Show lengths in inches, or in millimetres."""
        self._inches = inches
        for slider, field in ((self.engagement, self.engaged), (self.overhang, self.hangs)):
            field.setText(format_length(slider.value() / STEPS_PER_MM, inches=inches))

    def show_answer(self, found: Play | None, screw: Held | None, *, inches: bool) -> None:
        """Show how loose it is."""
        if found is None or screw is None:
            self.sentence.setText(self.tr("Lay a screw into its slot and say what the hole is."))
            self.rod.show_play(None, "")
            self.times.setText("")
            self.more.setText("")
            fill(self.table, ())
            return
        told = [said(text) for text in sentences(found, inches=inches)]
        self.sentence.setText(told[-1])
        self.more.setText("\n".join(told[:-1]))
        feel = found.screw
        thread = screw.thread
        drawn = Drawn(
            thread.major_diameter.value,
            thread.minor_diameter.value,
            thread.pitch.value,
            found.engagement,
            found.overhang,
            feel.radial_clearance.median,
            feel.tilt.median,
            feel.end_movement.median,
            feel.enters >= _ENTERS,
        )
        self.rod.show_play(drawn, self.sentence.text())
        text = self.tr("Proportions are true; the play is drawn {times} times as large.")
        self.times.setText(text.format(times=f"{self.rod.times:.0f}") if drawn.enters else "")
        fill(self.table, self._rows(found, inches=inches))

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
        rows.append((self.tr("enters"), *(c for feel in feels for c in (format_probability(feel.enters), ""))))
        if found.beside:
            rows.insert(0, ("", self.tr("as cut"), "", said(found.beside[0].what), ""))
        return rows


def _cells(feel: Feel, name: str, *, inches: bool) -> tuple[str, str]:
    if verdict(feel) == WILL_NOT_ENTER and name != "radial_clearance":
        return "–", ""
    return written(getattr(feel, name), inches=inches)
