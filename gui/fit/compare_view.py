"""Original and replacement laid over each other, and what differs."""

from __future__ import annotations

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QLabel, QVBoxLayout, QWidget

from flankwise.judging import Compared
from gui.fit.held import Held
from gui.flow import Flow
from gui.part.tables import fill, table
from gui.thread_view import Shown, ThreadView
from gui.worded import worded
from gui.words import quantity_word
from threads.judge.compare import Comparison
from threads.measured.form_errors import in_micrometres
from threads.shared.formatting import format_quantity
from threads.shared.quantity import Quantity
from threads.shared.quantity_words import QUANTITIES


class CompareView(QWidget):
    """The two ridges on the left, the differences and what to do on the right."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.ridges = ThreadView(self.tr("Overlay of original and replacement"))
        heads = ("", self.tr("original"), self.tr("replacement"), self.tr("difference"), self.tr("significant"))
        self.table = table(self.tr("Differences"), heads, wrapped=False)
        self.note = QLabel()
        self.note.setWordWrap(True)
        self.note.setProperty("small", True)
        self.advice = QLabel()
        self.advice.setWordWrap(True)
        self.advice.setTextInteractionFlags(Qt.TextInteractionFlag.TextSelectableByMouse)
        header = self.table.horizontalHeader()
        for place, which in enumerate((0, 3, 4, 1, 2)):  # what differs comes first
            header.moveSection(header.visualIndex(which), place)
        self.large = QLabel()
        self.large.setProperty("large", True)
        self.large.setWordWrap(True)
        right = QWidget()
        column = QVBoxLayout(right)
        column.setContentsMargins(6, 0, 0, 0)
        column.addWidget(self.large)
        column.addWidget(self.table, 1)
        column.addWidget(self.advice)
        column.addWidget(self.note)
        whole = Flow(self)
        whole.add(self.ridges, 1)
        whole.add(right, 1)

    def show_answer(
        self, answer: Compared | None, original: Held | None, replacement: Held | None, *, inches: bool
    ) -> None:
        """Show the comparison."""
        turned = answer is not None and answer.found.turned
        shown = []
        for held, name, flip in (
            (original, self.tr("original"), False),
            (replacement, self.tr("replacement"), turned),
        ):
            if held is not None and held.folded is not None:
                shown.append(Shown(held.folded, name, turned=flip))
        self.ridges.set_threads(shown, inches=inches)
        self.advice.setText(
            "" if answer is None else "\n".join(f"– {worded(one, inches=inches)}" for one in answer.advised)
        )
        if answer is None:
            self.large.setText("")
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
            rows.append((quantity_word(words.get(name, name)), *each, _signed(small, inches=inches), yes))
        fill(self.table, rows)
        self.large.setText(self._in_large(found, inches=inches))
        one_bench = self.tr("Scale, edge offset, temperature and light are those of one bench and fall out.")
        apart = self.tr("The two come from benches calibrated apart: nothing falls out of the differences.")
        if any(held is not None and held.measurement is None for held in (original, replacement)):
            apart = self.tr(
                "Of one of the two only the sizes on file are known: what both have in common does not fall out of the "
                "differences."
            )
        chance = self.tr("Significant: more than {times:.1f} u off zero, which two equal parts show in 5 % of cases.")
        lines = [one_bench if found.common_left_out else apart, chance.format(times=found.threshold)]
        if found.turned:
            lines.append(
                self.tr("Which way the parts point is not in view: left and right of the replacement are exchanged.")
            )
        self.note.setText(" ".join(lines))

    def _in_large(self, found: Comparison, *, inches: bool) -> str:
        """The difference that counts, in one line."""
        difference = found.differences.get("pitch_diameter")
        if difference is None:
            return ""
        small = difference if inches else in_micrometres(difference)
        text = self.tr("pitch diameter {difference}: significant")
        if "pitch_diameter" not in found.significant:
            text = self.tr("pitch diameter {difference}: not significant")
        return text.format(difference=_signed(small, inches=inches))

    def theme_changed(self) -> None:
        """Take the colours of the current theme."""
        self.ridges.theme_changed()


def _signed(difference: Quantity, *, inches: bool) -> str:
    """A difference with its sign."""
    text = format_quantity(difference, inches=inches)
    if text.startswith("-"):
        return text
    return f"+{text}" if difference.value > 0 else text
