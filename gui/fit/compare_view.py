"""Original and replacement laid over each other, and what differs."""

from __future__ import annotations

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QLabel, QSplitter, QVBoxLayout, QWidget

from gui.fit.held import Compared, Held
from gui.part.tables import fill, table
from gui.said import said
from gui.thread_view import Shown, ThreadView
from gui.words import quantity_word
from threads.form_errors import in_micrometres
from threads.formatting import format_quantity
from threads.quantity_words import QUANTITIES


class CompareView(QWidget):
    """The two ridges on the left, the differences and what to do on the right."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.ridges = ThreadView(self.tr("Original and replacement laid over each other"))
        heads = ("", self.tr("original"), self.tr("replacement"), self.tr("difference"), self.tr("beyond chance"))
        self.table = table(self.tr("Differences"), heads)
        self.note = QLabel()
        self.note.setWordWrap(True)
        self.note.setProperty("faint", True)
        self.advice = QLabel()
        self.advice.setWordWrap(True)
        self.advice.setTextInteractionFlags(Qt.TextInteractionFlag.TextSelectableByMouse)
        right = QWidget()
        column = QVBoxLayout(right)
        column.setContentsMargins(6, 0, 0, 0)
        column.addWidget(self.table, 1)
        column.addWidget(self.advice)
        column.addWidget(self.note)
        whole = QSplitter(Qt.Orientation.Horizontal)
        whole.addWidget(self.ridges)
        whole.addWidget(right)
        whole.setSizes([620, 640])
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.addWidget(whole)

    def show_answer(
        self, answer: Compared | None, original: Held | None, replacement: Held | None, *, inches: bool
    ) -> None:
        """Show the comparison."""
        self.ridges.set_inches(inches)
        turned = answer is not None and answer.found.turned
        shown = []
        for held, name, flip in (
            (original, self.tr("original"), False),
            (replacement, self.tr("replacement"), turned),
        ):
            if held is not None and held.folded is not None:
                shown.append(Shown(held.folded, name, turned=flip))
        self.ridges.set_threads(shown)
        self.advice.setText("" if answer is None else "\n".join(f"– {said(line)}" for line in answer.advice))
        if answer is None:
            self.note.setText(self.tr("Lay an original and a replacement into their slots."))
            fill(self.table, ())
            return
        found, words = answer.found, dict(QUANTITIES)
        rows = []
        for name, difference in found.differences.items():
            if name == "lead" and found.original.starts == 1:
                continue
            small = difference if inches or difference.unit != "mm" else in_micrometres(difference)
            each = (format_quantity(getattr(t, name), inches=inches) for t in (found.original, found.replacement))
            yes = self.tr("yes") if name in found.significant else ""
            rows.append((quantity_word(words.get(name, name)), *each, format_quantity(small, inches=inches), yes))
        fill(self.table, rows)
        one_bench = self.tr("Scale, edge offset, temperature and light are those of one bench and fall out.")
        apart = self.tr("The two come from benches calibrated apart: nothing falls out of the differences.")
        self.note.setText(one_bench if found.common_left_out else apart)

    def dressed(self) -> None:
        """Take the colours of the theme in force."""
        self.ridges.dressed()
