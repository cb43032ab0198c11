"""A slot of Fit: what lies in it, and where it may come from."""

from __future__ import annotations

from PySide6.QtCore import Qt, Signal
from PySide6.QtGui import QPixmap
from PySide6.QtWidgets import QComboBox, QFrame, QHBoxLayout, QLabel, QLineEdit, QPushButton, QVBoxLayout, QWidget

from gui.calm import calm
from gui.desk import Desk
from gui.elided import ElidedLabel
from gui.fit.fields import ClassField, ShortField, tabular
from gui.fit.held import Held, Hole, OfClass
from gui.fit.trials import Tried
from gui.fit.verdicts import UNVERIFIED
from gui.picture_view import image_of
from threads.shared.formatting import format_lengths, format_quantity

EMPTY = ""
_SEEN = (104, 62)
"""Width and height of the picture, px."""
_LINES = 3


class Slot(QFrame):
    """``picked(path)``: a piece at hand was chosen. ``file_wanted``: one from a file. ``filed_wanted(number)``: one on
    file. In the hole's slot only: ``typed(text)``: a class, ``shrinkage_typed(text)``: by how much the cast shrank.
    """

    picked = Signal(str)
    file_wanted = Signal()
    filed_wanted = Signal(int)
    typed = Signal(str)
    shrinkage_typed = Signal(str)

    def __init__(self, desk: Desk, title: str, *, takes_class: bool = False, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._desk, self.title = desk, title
        self._narrow = False
        self.setProperty("card", True)
        heading = QLabel(title)
        heading.setProperty("heading", True)
        self.seen = QLabel()
        self.seen.setAlignment(Qt.AlignmentFlag.AlignCenter)
        self.seen.setFixedSize(*_SEEN)
        self.name = ElidedLabel()
        self.sizes = tuple(QLabel() for _ in range(_LINES))  # numbers are never cut
        for label in self.sizes:
            tabular(label)
        first = QHBoxLayout()
        first.addWidget(heading)
        first.addSpacing(8)
        self.designation: ClassField | None = None
        self.shrinkage: QLineEdit | None = None
        if takes_class:
            self.designation = ClassField(self.tr("Class of the hole"), self.tr("class, such as 4-40 NC-2"))
            self.designation.editingFinished.connect(self._typed)
            first.addWidget(self.designation, 1)
        else:
            first.addWidget(self.name, 1)
        told = QVBoxLayout()
        told.setSpacing(2)
        told.addStretch(1)
        if takes_class:
            told.addWidget(self.name)
        for label in self.sizes:
            told.addWidget(label)
        if takes_class:
            told.addLayout(self._of_cast())
        told.addStretch(1)
        middle = QHBoxLayout()
        middle.setSpacing(10)
        middle.addWidget(self.seen)
        middle.addLayout(told, 1)
        column = QVBoxLayout(self)
        column.setContentsMargins(10, 6, 10, 6)
        column.setSpacing(3)
        column.addLayout(first)
        column.addLayout(middle, 1)
        column.addLayout(self._sources(takes_cast=takes_class))
        desk.at_hand_changed.connect(self.refresh)
        self.refresh()

    def _sources(self, *, takes_cast: bool) -> QHBoxLayout:
        """Where a part may come from."""
        self.choose = calm(QComboBox())
        self.choose.setAccessibleName(self.tr("{slot}: a part at hand").format(slot=self.title))
        self.choose.setSizeAdjustPolicy(QComboBox.SizeAdjustPolicy.AdjustToMinimumContentsLengthWithIcon)
        self.choose.setMinimumContentsLength(4)  # at twice the size of text three slots fit 1280 px
        self.choose.activated.connect(self._chosen)
        self.number = ShortField(self.tr("part no."))
        self.number.setPlaceholderText(self.tr("part no."))
        self.number.setAccessibleName(self.tr("{slot}: number of a part on file").format(slot=self.title))
        self.number.returnPressed.connect(self._filed)
        file = QPushButton(self.tr("Cast…") if takes_cast else self.tr("File…"))
        file.setProperty("flat", True)
        file.setAccessibleName(
            self.tr("Hole: from the picture of a cast")
            if takes_cast
            else self.tr("{slot}: from a picture file").format(slot=self.title)
        )
        file.clicked.connect(self.file_wanted)
        row = QHBoxLayout()
        row.addWidget(self.choose, 1)
        row.addWidget(self.number)
        row.addWidget(file)
        return row

    def _of_cast(self) -> QHBoxLayout:
        """By how much a cast shrank."""
        self.shrinkage = ShortField("0.25 % ± 0")
        self.shrinkage.setPlaceholderText("0.2%")
        self.shrinkage.setToolTip(self.tr("With its U95 if you know it: {example}").format(example="0.2% ±0.1%"))
        self.shrinkage.editingFinished.connect(self._shrunk)
        self._shrank = QLabel(self.tr("the cast shrank by"))
        self._shrank.setBuddy(self.shrinkage)
        row = QHBoxLayout()
        row.addWidget(self._shrank)
        row.addWidget(self.shrinkage)
        row.addStretch(1)
        return row

    def set_narrow(self, narrow: bool) -> None:
        """Leave the picture out, so that the numbers have room."""
        self._narrow = narrow
        self.seen.setVisible(not (narrow or self.seen.pixmap().isNull()))

    def refresh(self) -> None:
        """List the pieces at hand anew."""
        self.choose.blockSignals(True)
        self.choose.clear()
        self.choose.addItem(self.tr("cast at hand…") if self.designation is not None else self.tr("at hand…"), EMPTY)
        for piece in self._desk.at_hand:
            if piece.measurement is not None:
                self.choose.addItem(piece.name, piece.path)
        self.choose.blockSignals(False)

    def show_held(self, held: Hole | None, *, inches: bool) -> None:
        """Show what lies in the slot."""
        self._show_picture(held if isinstance(held, Held) else None)
        cast = held.cast if isinstance(held, Held) else None
        if self.shrinkage is not None:
            for widget in (self._shrank, self.shrinkage):
                widget.setVisible(cast is not None)
            self.shrinkage.setText("" if cast is None else cast[1])
        if self.designation is not None:
            typing = self.designation.isModified()
            if isinstance(held, OfClass) and not typing:
                self.designation.setText(held.text)
                self.designation.set_wrong(False)
            elif not typing and not self.designation.property("wrong"):
                self.designation.clear()
        if held is None:
            self.name.setText(self.tr("its class, a cast of it, or a hole on file") if self.designation else EMPTY)
            self._write(*([] if self.designation is not None else [self.tr("nothing lies here yet")]))
        elif isinstance(held, OfClass):
            self._show_class(held, inches=inches)
        elif isinstance(held, Tried):
            self._show_tried(held, inches=inches)
        else:
            thread = held.thread
            self.name.setText(self.tr("cast: {name}").format(name=held.name) if held.cast else held.name)
            lines = [
                words.format(value=format_quantity(value, inches=inches))
                for words, value in (
                    (self.tr("pitch diameter {value}"), thread.pitch_diameter),
                    (self.tr("major {value}"), thread.major_diameter),
                    (self.tr("pitch {value}"), thread.pitch),
                )
            ]
            self._write(*(lines[:1] if cast is not None else lines if self.designation is None else lines[:2]))

    def _show_class(self, held: OfClass, *, inches: bool) -> None:
        limits = held.limits
        mark = f" {UNVERIFIED}" if limits.unverified else ""
        self.name.setText(self.tr("anywhere in its zone") + mark)
        lines = []
        for words, at_least, band in (
            (self.tr("pitch diameter {low} to {high}"), self.tr("pitch diameter from {low}"), limits.pitch_diameter),
            (self.tr("minor {low} to {high}"), self.tr("minor from {low}"), limits.minor),
        ):
            low, high = format_lengths([band.low, band.high], inches=inches)
            if band.low is not None:
                lines.append((at_least if band.high is None else words).format(low=low, high=high))
        self._write(*lines)

    def _show_tried(self, held: Tried, *, inches: bool) -> None:
        self.name.setText(held.text)
        if held.answer is None:
            self._write(held.hole.thread, self.tr("no screw has gone in yet"))
            return
        size = held.answer.found.pitch_diameter
        low, high = format_lengths([size.low95, size.high95], inches=inches)
        trials = len(held.answer.found.trials)
        told = self.tr("{thread}, by one trial") if trials == 1 else self.tr("{thread}, by {n} trials")
        self._write(
            told.format(thread=held.hole.thread, n=trials),
            self.tr("pitch diameter {low} to {high}").format(low=low, high=high),
        )

    def _write(self, *lines: str) -> None:
        """The lines of sizes, those that are not needed out of the way."""
        for place, label in enumerate(self.sizes):
            label.setText(lines[place] if place < len(lines) else "")
            label.setVisible(place < len(lines))

    def _show_picture(self, held: Held | None) -> None:
        pixmap = QPixmap()
        seen = None if held is None else held.seen
        if isinstance(seen, bytes):
            pixmap.loadFromData(seen)
        elif seen is not None:
            pixmap = QPixmap.fromImage(image_of(seen))
        self.seen.setVisible(not (pixmap.isNull() or self._narrow))
        if pixmap.isNull():
            self.seen.clear()
            return
        ratio = self.devicePixelRatioF()
        small = pixmap.scaled(
            round(_SEEN[0] * ratio),
            round(_SEEN[1] * ratio),
            Qt.AspectRatioMode.KeepAspectRatio,
            Qt.TransformationMode.SmoothTransformation,
        )
        small.setDevicePixelRatio(ratio)
        self.seen.setPixmap(small)

    def _chosen(self) -> None:
        path = self.choose.currentData()
        self.choose.setCurrentIndex(0)
        if path:
            self.picked.emit(path)

    def _filed(self) -> None:
        text = self.number.text().strip()
        if text.isdigit():
            self.filed_wanted.emit(int(text))
            self.number.clear()
        elif text:
            self._desk.noticed.emit(
                "refusal", self.tr("{text} is no number of a part: the register shows them.").format(text=text)
            )

    def _typed(self) -> None:
        assert self.designation is not None
        self.typed.emit(self.designation.text().strip())

    def _shrunk(self) -> None:
        assert self.shrinkage is not None
        self.shrinkage_typed.emit(self.shrinkage.text().strip())
