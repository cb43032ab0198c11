"""Whether the current bench still holds: one pin, measured with it."""

from __future__ import annotations

from pathlib import Path

from PySide6.QtCore import QCoreApplication, Signal
from PySide6.QtWidgets import QHBoxLayout, QPushButton, QVBoxLayout, QWidget

from calib.bench import DEFAULT_U95_MM, PIN
from calib.calibration import Calibration
from calib.history import history, note_verification
from calib.laid_gauges import LaidGauge
from calib.sample_calibration import is_sample
from calib.verification import Verification, verify_bench
from gui.bench.check_chart import CheckChart
from gui.bench.gauge_row import GaugeRow
from gui.bench.small import enlarged, figures, label, mark
from gui.desk import Desk
from threads.shared.formatting import format_quantity
from threads.shared.quantity import COVERAGE_FACTOR, Quantity
from vision.pictures.picture import read_picture

KEY = "verifying"
_PIN, _PIN_U95 = "check_pin", "check_pin_u95"


def verify_laid(calibration: Calibration, file: str, gauge: LaidGauge) -> Verification:
    """Measure the pin with the bench and note the outcome. Raises RefusalError as ``verify_bench`` does."""
    u95 = DEFAULT_U95_MM if gauge.u95_mm is None else gauge.u95_mm
    found = verify_bench(calibration, read_picture(gauge.path), gauge.size_mm, pin_u95_mm=u95)
    note_verification(calibration, found, Path(file).name)
    return found


def outcome_words(found: Verification) -> str:
    """How far the pin is from what it should be, and what to do."""
    share = f"{found.normalised_error:.2f}"
    if found.holds:
        text = QCoreApplication.translate(
            "VerifyPanel", "The pin measures as it should: {share} of what the uncertainties allow."
        )
    else:
        text = QCoreApplication.translate(
            "VerifyPanel",
            "The pin measures {share} times as much different as the uncertainties allow. Clean it, focus on its edges "
            "and try again; if it stays, calibrate anew.",
        )
    return text.format(share=share)


class VerifyPanel(QWidget):
    """``live_wanted(row)``: take the pin's picture from the live source. ``ended``: back. ``verified``: it was done.

    The pin of last time is there already: one click takes its picture and checks the bench.
    """

    live_wanted = Signal(object)
    ended = Signal()
    verified = Signal()

    def __init__(self, desk: Desk, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._desk = desk
        self._live = self._goes_on = False
        self.row = GaugeRow(desk, PIN, removable=False)
        self.row.size_edit.setText(desk.settings.text(_PIN))
        self.row.u95_edit.setText(desk.settings.text(_PIN_U95))
        self.row.changed.connect(self._changed)
        self.row.live_wanted.connect(lambda: self.live_wanted.emit(self.row))
        self.go = QPushButton()
        self.go.setProperty("main", True)
        self.go.clicked.connect(self.check)
        self.back = QPushButton(self.tr("Back"))
        self.back.clicked.connect(self.ended)
        self.word = enlarged(label(wrap=False), 1.5)
        self.difference = figures(1.2)
        self.sentence = label()
        self.chart = CheckChart()
        self._limits = label(
            self.tr("Within the band the bench holds; a dotted line is a new calibration."), kind="faint"
        )
        buttons = QHBoxLayout()
        buttons.addWidget(self.go, 1)
        buttons.addWidget(self.back)
        column = QVBoxLayout(self)
        column.setContentsMargins(10, 0, 6, 0)
        column.setSpacing(8)
        column.addWidget(label(self.tr("Check with a pin"), kind="heading", wrap=False))
        column.addWidget(
            label(self.tr("Lay down a pin that you know. Nothing is changed; the outcome is kept."), kind="faint")
        )
        column.addWidget(self.row)
        column.addLayout(buttons)
        for widget in (self.word, self.difference, self.sentence, self.chart, self._limits):
            column.addWidget(widget)
        column.addStretch(1)
        self._changed()

    def begin(self) -> None:
        """A new check: the picture of the last one is put aside."""
        self.row.put_picture_aside()
        self._show_history()

    def set_live(self, live: bool) -> None:
        """Whether there is a live source to take the picture from."""
        self.row.live.setEnabled(live)
        if live != self._live:
            self._live = live
            self._changed()

    def _changed(self) -> None:
        ready = self.row.size_mm is not None and self.row.u95_mm is not None
        self.go.setEnabled(ready and self._bench is not None)
        self.go.setText(
            self.tr("Check") if self.row.look is not None
            else self.tr("Take and check") if self._live
            else self.tr("Choose its picture and check")
        )  # fmt: skip
        for shown in (self.word, self.difference, self.sentence):
            shown.setText("")
        if self._goes_on and self.row.complete:
            self.verify()

    @property
    def _bench(self) -> tuple[Calibration, str] | None:
        """The calibration in use and its file; None where there is none that a pin of the person's could verify."""
        bench = self._desk.bench
        if bench is None or not isinstance(bench.plane, Calibration) or is_sample(bench.plane):
            return None
        return bench.plane, bench.file

    def check(self) -> None:
        """Verify, once there is a picture of the pin: it is taken or asked for first."""
        if self.row.complete:
            self.verify()
            return
        self._goes_on = True
        if self._live:
            self.live_wanted.emit(self.row)
        else:
            self.row.ask_for_file()

    def verify(self) -> None:
        """Measure the pin with the current bench, in the background."""
        self._goes_on = False
        found = self._bench
        if found is None or not self.row.complete:
            return
        self._desk.settings.set_text(_PIN, self.row.size_edit.text())
        self._desk.settings.set_text(_PIN_U95, self.row.u95_edit.text())
        self._desk.work.run(
            self.tr("verifying the bench"), verify_laid, *found, self.row.laid(), done=self._show,
            failed=self._desk.refuse, key=KEY,
        )  # fmt: skip

    def _show(self, found: Verification) -> None:
        self.word.setText(self.tr("The bench holds") if found.holds else self.tr("The bench has changed"))
        mark(self.word, "verdict", "good" if found.holds else "bad")
        off = Quantity(found.difference_um, found.difference_u95_um / COVERAGE_FACTOR, "um")
        self.difference.setText(self.tr("difference {off}").format(off=format_quantity(off)))
        self.sentence.setText(outcome_words(found))
        self._show_history()
        self.verified.emit()

    def _show_history(self) -> None:
        self.chart.show_history(history())
        self._limits.setVisible(not self.chart.isHidden())

    def theme_changed(self) -> None:
        """The plot takes the colours of the theme."""
        self.chart.theme_changed()
