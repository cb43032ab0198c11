"""A scale typed by hand, for want of gauges."""

from __future__ import annotations

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QHBoxLayout, QPushButton, QVBoxLayout, QWidget

from flankwise.bench import Bench
from gui.bench.small import label, line, mark
from gui.desk import Desk
from gui.worded import worded_error
from threads.shared.typed import TypedError, parse_length
from vision.shared.plane import FixedScale

LEAST_UM, MOST_UM = 0.05, 1000.0


class ScaleByHand(QWidget):
    """``ended``: back to the bench."""

    ended = Signal()

    def __init__(self, desk: Desk, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._desk = desk
        self.edit = line(self.tr("Size of one pixel in the plane of the part"), "4.00 um")
        self.edit.returnPressed.connect(self.use_it)
        self.go = QPushButton(self.tr("Use this scale"))
        self.go.setProperty("main", True)
        self.go.clicked.connect(self.use_it)
        self.back = QPushButton(self.tr("Back"))
        self.back.clicked.connect(self.ended)
        self.problem = label()
        mark(self.problem, "verdict", "bad")
        remark = label(
            self.tr(
                "No gauge stands behind such a scale. It is taken to be known to 0.2 % and the edges to 0.3 px (U95): "
                "enough to tell coarse threads apart, never to tell standards apart. Lay down two pins when you can."
            )
        )
        mark(remark, "verdict", "open")
        buttons = QHBoxLayout()
        buttons.addWidget(self.go, 1)
        buttons.addWidget(self.back)
        column = QVBoxLayout(self)
        column.setContentsMargins(10, 0, 6, 0)
        column.setSpacing(8)
        column.addWidget(label(self.tr("A scale by hand"), kind="heading", wrap=False))
        column.addWidget(remark)
        words = label(self.tr("One pixel is"), kind="faint", wrap=False)
        words.setBuddy(self.edit)
        column.addWidget(words)
        column.addWidget(self.edit)
        column.addWidget(self.problem)
        column.addLayout(buttons)
        column.addStretch(1)

    def use_it(self) -> None:
        """Use what was typed, or say what is wrong with it."""
        try:
            um = 1000 * parse_length(self.edit.text(), self.edit.accessibleName())
        except TypedError as error:
            self._refuse(worded_error(error))
            return
        if not LEAST_UM <= um <= MOST_UM:
            self._refuse(self.tr("A pixel of {size} µm is not credible. Check the unit.").format(size=f"{um:g}"))
            return
        self._refuse("")
        self._desk.set_bench(Bench(FixedScale(um)))
        self.ended.emit()

    def _refuse(self, text: str) -> None:
        self.problem.setText(text)
        mark(self.edit, "wrong", bool(text))
