"""The attempts below each other, each with its picture, its size, and how the die was set."""

from __future__ import annotations

from collections.abc import Sequence

from PySide6.QtCore import Qt, Signal
from PySide6.QtGui import QPixmap
from PySide6.QtWidgets import QFrame, QHBoxLayout, QLabel, QLineEdit, QPushButton, QVBoxLayout, QWidget

from gui.fit.attempts import Attempt
from gui.fit.fields import tabular
from gui.picture_view import image_of
from threads.shared.formatting import format_difference, format_quantity

_SEEN = (72, 44)
"""Width and height of the picture, px."""


class CutRow(QFrame):
    """``set_to(text)``: another setting was typed; ``unwanted``: the attempt is to go."""

    set_to = Signal(str)
    unwanted = Signal()

    def __init__(self, number: int, attempt: Attempt, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.setProperty("card", True)
        self._attempt, self._number = attempt, number
        name = self.tr("attempt {number}").format(number=number)
        heading = QLabel(str(number))
        heading.setProperty("heading", True)
        seen = QLabel()
        seen.setFixedSize(*_SEEN)
        seen.setAlignment(Qt.AlignmentFlag.AlignCenter)
        _show_picture(seen, attempt)
        self.diameter, self.off = QLabel(), QLabel()
        self.off.setProperty("faint", True)
        for label in (self.diameter, self.off):
            tabular(label)
        self.setting = QLineEdit(attempt.setting)
        self.setting.setPlaceholderText(self.tr("setting: 1/4 turn"))
        self.setting.setAccessibleName(self.tr("{attempt}: how the die was set").format(attempt=name))
        self.setting.setToolTip(
            self.tr("Turns of the die's screw, always counted from the same place: open 1/4 turn, closed 1/8 turn.")
        )
        self.setting.editingFinished.connect(self._typed)
        away = QPushButton("✕")
        away.setProperty("flat", True)
        away.setAccessibleName(self.tr("{attempt}: take it out").format(attempt=name))
        away.setToolTip(away.accessibleName())
        away.clicked.connect(self.unwanted)
        told = QVBoxLayout()
        told.setSpacing(1)
        told.addWidget(self.diameter)
        told.addWidget(self.off)
        told.addWidget(self.setting)
        row = QHBoxLayout(self)
        row.setContentsMargins(8, 4, 4, 4)
        row.setSpacing(8)
        for widget in (heading, seen):
            row.addWidget(widget, 0, Qt.AlignmentFlag.AlignTop)
        row.addLayout(told, 1)
        row.addWidget(away, 0, Qt.AlignmentFlag.AlignTop)

    def renew(self, attempt: Attempt) -> None:
        """The same screw with another setting, or on file since."""
        if attempt.setting != self._attempt.setting:
            self.setting.setText(attempt.setting)
        self._attempt = attempt

    def show_off(self, off: float | None, *, inches: bool) -> None:
        """Show its size, and by how much it is larger than the aim, mm."""
        found = self._attempt.held.thread.pitch_diameter
        self.diameter.setText(format_quantity(found, inches=inches))
        words = ""
        if off is not None:
            by = format_difference(abs(off), "mm", inches=inches)
            words = (self.tr("{by} too thick") if off > 0 else self.tr("{by} too thin")).format(by=by)
        if self._attempt.filed is not None:
            words = ", ".join(filter(None, (words, self.tr("part {number}").format(number=self._attempt.filed))))
        self.off.setText(words)

    def _typed(self) -> None:
        text = self.setting.text().strip()
        if text != self._attempt.setting:
            self.set_to.emit(text)


class CutRows(QWidget):
    """All of them; ``set_to(number, text)`` and ``unwanted(number)`` count from 0."""

    set_to = Signal(int, str)
    unwanted = Signal(int)

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.rows: tuple[CutRow, ...] = ()
        self._shown: tuple[Attempt, ...] = ()
        self.empty = QLabel(self.tr("No attempt yet."))
        self.empty.setProperty("faint", True)
        self.empty.setWordWrap(True)
        self._column = QVBoxLayout(self)
        self._column.setContentsMargins(0, 0, 0, 0)
        self._column.setSpacing(4)
        self._column.addWidget(self.empty)
        self._column.addStretch(1)

    def show_attempts(self, attempts: Sequence[Attempt], aim: float | None, *, inches: bool) -> None:
        """Show ``attempts``; ``aim``: what their pitch diameter should be, mm."""
        if [one.held for one in attempts] != [one.held for one in self._shown]:
            for row in self.rows:
                row.hide()
                row.deleteLater()
            self.rows = tuple(self._row(number, one) for number, one in enumerate(attempts))
            self.empty.setVisible(not self.rows)
        self._shown = tuple(attempts)
        for row, one in zip(self.rows, attempts, strict=True):
            row.renew(one)
            off = None if aim is None else one.held.thread.pitch_diameter.value - aim
            row.show_off(off, inches=inches)

    def _row(self, number: int, attempt: Attempt) -> CutRow:
        row = CutRow(number + 1, attempt)
        row.set_to.connect(lambda text: self.set_to.emit(number, text))
        row.unwanted.connect(lambda: self.unwanted.emit(number))
        self._column.insertWidget(number + 1, row)
        return row


def _show_picture(label: QLabel, attempt: Attempt) -> None:
    seen, pixmap = attempt.held.seen, QPixmap()
    if isinstance(seen, bytes):
        pixmap.loadFromData(seen)
    elif seen is not None:
        pixmap = QPixmap.fromImage(image_of(seen))
    if not pixmap.isNull():
        ratio = label.devicePixelRatioF()
        size = (round(_SEEN[0] * ratio), round(_SEEN[1] * ratio))
        small = pixmap.scaled(*size, Qt.AspectRatioMode.KeepAspectRatio, Qt.TransformationMode.SmoothTransformation)
        small.setDevicePixelRatio(ratio)
        label.setPixmap(small)
