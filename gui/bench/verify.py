"""Whether the current bench still holds: one pin, measured with it."""

from __future__ import annotations

from pathlib import Path

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QHBoxLayout, QPushButton, QVBoxLayout, QWidget

from calib.bench import DEFAULT_U95_MM, PIN
from calib.calibration import Calibration
from calib.history import note_verification
from calib.laid_gauges import LaidGauge
from calib.sample_calibration import is_sample
from calib.verification import Verification, verify_bench
from gui.bench.gauge_row import GaugeRow
from gui.bench.small import enlarged, figures, label, mark
from gui.desk import Desk
from threads.shared.formatting import format_quantity
from threads.shared.quantity import COVERAGE_FACTOR, Quantity
from vision.pictures.picture import read_picture

KEY = "verifying"


def verify_laid(calibration: Calibration, file: str, gauge: LaidGauge) -> Verification:
    """Measure the pin with the bench and note the outcome. Raises RefusalError as ``verify_bench`` does."""
    u95 = DEFAULT_U95_MM if gauge.u95_mm is None else gauge.u95_mm
    found = verify_bench(calibration, read_picture(gauge.path), gauge.size_mm, pin_u95_mm=u95)
    note_verification(calibration, found, Path(file).name)
    return found


class VerifyPanel(QWidget):
    """``live_wanted(row)``: take the pin's picture from the live source. ``ended``: back. ``verified``: it was done."""

    live_wanted = Signal(object)
    ended = Signal()
    verified = Signal()

    def __init__(self, desk: Desk, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._desk = desk
        self.row = GaugeRow(desk, PIN, removable=False)
        self.row.changed.connect(self._changed)
        self.row.live_wanted.connect(lambda: self.live_wanted.emit(self.row))
        self.go = QPushButton(self.tr("Verify"))
        self.go.setProperty("main", True)
        self.go.clicked.connect(self.verify)
        self.back = QPushButton(self.tr("Back"))
        self.back.clicked.connect(self.ended)
        self.word = enlarged(label(wrap=False), 1.5)
        self.difference = figures(1.2)
        self.sentence = label()
        buttons = QHBoxLayout()
        buttons.addWidget(self.go, 1)
        buttons.addWidget(self.back)
        column = QVBoxLayout(self)
        column.setContentsMargins(10, 0, 6, 0)
        column.setSpacing(8)
        column.addWidget(label(self.tr("Verify with a pin"), kind="heading", wrap=False))
        column.addWidget(
            label(self.tr("Lay down a pin that you know. Nothing is changed; the outcome is kept."), kind="faint")
        )
        column.addWidget(self.row)
        column.addLayout(buttons)
        column.addWidget(self.word)
        column.addWidget(self.difference)
        column.addWidget(self.sentence)
        column.addStretch(1)
        self._changed()

    def _changed(self) -> None:
        self.go.setEnabled(self.row.complete and self._bench is not None)
        for shown in (self.word, self.difference, self.sentence):
            shown.setText("")

    @property
    def _bench(self) -> tuple[Calibration, str] | None:
        """The calibration in use and its file; None where there is none that a pin of the person's could verify."""
        bench = self._desk.bench
        if bench is None or not isinstance(bench.plane, Calibration) or is_sample(bench.plane):
            return None
        return bench.plane, bench.file

    def verify(self) -> None:
        """Measure the pin with the current bench, in the background."""
        found = self._bench
        if found is None or not self.row.complete:
            return
        self._desk.work.run(
            self.tr("verifying the bench"), verify_laid, *found, self.row.laid(), done=self._show,
            failed=self._desk.refuse, key=KEY,
        )  # fmt: skip

    def _show(self, found: Verification) -> None:
        self.word.setText(self.tr("The bench holds") if found.holds else self.tr("The bench has changed"))
        mark(self.word, "verdict", "good" if found.holds else "bad")
        off = Quantity(found.difference_um, found.difference_u95_um / COVERAGE_FACTOR, "um")
        self.difference.setText(self.tr("difference {off}").format(off=format_quantity(off)))
        if found.holds:
            text = self.tr("The pin measures as it should: {share} of what the uncertainties allow.")
        else:
            text = self.tr(
                "The pin measures {share} times as much different as the uncertainties allow. Clean it, focus on its "
                "edges and try again; if it stays, calibrate anew."
            )
        self.sentence.setText(text.format(share=f"{found.normalised_error:.2f}"))
        self.verified.emit()
