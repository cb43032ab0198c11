"""What a bench tells apart, in words: the end of setting it up."""

from __future__ import annotations

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QGridLayout, QLabel, QVBoxLayout, QWidget

from calib.calibration import Calibration
from flankwise.bench import Bench
from flankwise.telling_apart import Pair, Telling, telling_apart
from gui.bench.small import enlarged, label, mark
from gui.desk import Desk
from gui.worded import word_of
from threads.shared.refusal import RefusalError

KEY = "telling apart"
_WELL = 0.7
"""Part of what perfect measuring would tell, from which a bench tells it well (judgement)."""
_CAUSES = 2


def tell(calibration: Calibration) -> Telling | None:
    """What the bench tells apart; None where no screw suits its view."""
    try:
        return telling_apart(Bench(calibration))
    except RefusalError:
        return None


class TellingApart(QWidget):
    """``show_calibration`` fills it, in the background."""

    def __init__(self, desk: Desk, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._desk = desk
        self.sentence = enlarged(label(), 1.12)
        self.causes = label(kind="faint")
        self._lines: list[tuple[QLabel, QLabel]] = []
        self._rows = QGridLayout()
        self._rows.setHorizontalSpacing(10)
        self._rows.setColumnStretch(1, 1)
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.addWidget(self.sentence)
        column.addLayout(self._rows)
        column.addWidget(self.causes)

    def show_calibration(self, calibration: Calibration | None) -> None:
        """Say what ``calibration`` tells apart; None: nothing."""
        self._desk.work.cancel(KEY)
        self._clear()
        if calibration is not None:
            words = self.tr("looking what this bench tells apart")
            self._desk.work.run(words, tell, calibration, done=self._show, key=KEY)

    @property
    def words(self) -> list[str]:
        """What is said of each pair."""
        return [f"{verdict.text()} {said.text()}" for verdict, said in self._lines]

    def _clear(self) -> None:
        self.sentence.setText("")
        self.causes.setText("")
        for shown in (one for line in self._lines for one in line):
            self._rows.removeWidget(shown)
            shown.hide()
            shown.deleteLater()
        self._lines.clear()

    def _show(self, found: Telling | None) -> None:
        self._clear()
        if found is None:
            self.sentence.setText(self.tr("No usual screw fits this view: nothing can be said of what it tells apart."))
            return
        self.sentence.setText(
            self.tr("Pitch diameters to ± {u95} µm, on a clean {size} screw:").format(
                u95=f"{1000 * found.u95:.1f}", size=found.size
            )
        )
        for row, pair in enumerate(found.pairs):
            verdict = label(self._word(pair), wrap=False)
            mark(verdict, "verdict", {2: "good", 1: "open", 0: "bad"}[_grade(pair)])
            said = label(self._sentence(pair))
            self._rows.addWidget(verdict, row, 0, Qt.AlignmentFlag.AlignTop)
            self._rows.addWidget(said, row, 1)
            self._lines.append((verdict, said))
        largest = [f"{word_of(source)} ± {1000 * u95:.1f} µm" for source, u95 in found.causes[:_CAUSES]]
        self.causes.setText(self.tr("Most of it comes from: {causes}.").format(causes="; ".join(largest)))

    def _word(self, pair: Pair) -> str:
        return {2: self.tr("✓ yes"), 1: self.tr("◐ partly"), 0: self.tr("✗ no")}[_grade(pair)]

    def _sentence(self, pair: Pair) -> str:
        if pair.possible <= 0:
            text = self.tr("{one} against {other}: every one of the first is within the limits of the second as well.")
        else:
            text = self.tr("{one} against {other}: {told} of 100 are told; perfect measuring would tell {possible}.")
        return text.format(
            one=pair.one, other=pair.other, told=f"{100 * pair.told:.0f}", possible=f"{100 * pair.possible:.0f}"
        )


def _grade(pair: Pair) -> int:
    """2 for what the bench tells as well as the zones allow, 1 for some of it, 0 for nothing."""
    return 2 if pair.told >= _WELL * pair.possible > 0 else 1 if pair.told > 0 else 0
