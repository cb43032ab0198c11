"""The steps of a task in a row: which one is shown, which ones are good, and to any of them by a click."""

from __future__ import annotations

from collections.abc import Sequence
from functools import partial

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QHBoxLayout, QPushButton, QSizePolicy, QWidget


class StepStrip(QWidget):
    """``chosen(number)``: the person wants that step, counted from 0."""

    chosen = Signal(int)

    def __init__(self, names: Sequence[str], parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._names = tuple(names)
        row = QHBoxLayout(self)
        row.setContentsMargins(6, 0, 6, 0)
        row.setSpacing(2)
        self.buttons: list[QPushButton] = []
        for number, name in enumerate(names):
            button = QPushButton()
            button.setProperty("flat", True)
            button.setCheckable(True)
            button.setToolTip(name)
            button.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Fixed)
            button.setMinimumWidth(1)
            button.clicked.connect(partial(self.chosen.emit, number))
            row.addWidget(button, 1)
            self.buttons.append(button)

    def show_steps(self, at: int, good: Sequence[bool | None], *, last: bool) -> None:
        """``at`` is shown; ``good``: of each step, None where nobody knows; ``last``: the last one can be reached."""
        for number, (button, is_good) in enumerate(zip(self.buttons, good, strict=True)):
            sign = {True: "✓", False: "!", None: ""}[is_good]
            button.setText(f"{number + 1}{sign}")
            button.setChecked(number == at)
            button.setEnabled(last or number + 1 < len(self.buttons))
            state = {True: self.tr("good"), False: self.tr("change"), None: self.tr("not known")}[is_good]
            button.setAccessibleName(f"{self._names[number]}: {state}")
