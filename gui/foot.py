"""The line along the bottom: the current bench, the unit, the part, what is being computed."""

from __future__ import annotations

from PySide6.QtCore import Qt, QTimer
from PySide6.QtWidgets import QFrame, QLabel, QProgressBar, QPushButton, QWidget

from gui.desk import Desk
from gui.elided import ElidedLabel
from gui.flow import Flow
from gui.words import bench_words

REFRESH_MS = 200


class Foot(QFrame):
    """What is always said."""

    def __init__(self, desk: Desk, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._desk = desk
        self.setProperty("foot", True)
        self.bench = QLabel()
        self.bench.setAccessibleName(self.tr("Calibration in use"))
        self.part = QLabel(self.tr("no part on the bench"))
        self.part.setAccessibleName(self.tr("Part on the bench"))
        self.unit = QPushButton()
        self.unit.setProperty("flat", True)
        self.unit.setAccessibleName(self.tr("Unit: press to change"))
        self.unit.clicked.connect(lambda: desk.set_inches(not desk.inches))
        self.doing = ElidedLabel()
        self.doing.setAccessibleName(self.tr("Being computed"))
        self.share = QProgressBar()
        self.share.setFormat("%p %")
        self.share.setAccessibleName(self.tr("How far it is"))
        self.cancel = QPushButton(self.tr("Cancel"))
        self.cancel.setProperty("flat", True)
        self.cancel.clicked.connect(desk.work.cancel_all)
        row = Flow(self, spacing=18)
        row.setContentsMargins(14, 4, 14, 4)
        for label in (self.bench, self.part, self.doing):
            label.setTextFormat(Qt.TextFormat.PlainText)
        for widget in (self.bench, self.unit, self.part, self.doing, self.share, self.cancel):
            row.add(widget, 1 if widget is self.doing else 0)
        for widget in (self.share, self.cancel):  # else all above would be laid out anew whenever they come and go
            policy = widget.sizePolicy()
            policy.setRetainSizeWhenHidden(True)
            widget.setSizePolicy(policy)
        # what lasts only a moment does not flicker
        self._timer = QTimer(self)
        self._timer.setInterval(REFRESH_MS)
        self._timer.timeout.connect(self.show_work)
        self._timer.start()
        desk.bench_changed.connect(self._show)
        desk.units_changed.connect(self._show)
        desk.tray_changed.connect(self._show)
        self._show()
        self.show_work()

    def _show(self) -> None:
        self.bench.setText(bench_words(self._desk.bench))
        self.unit.setText(self.tr("inches") if self._desk.inches else self.tr("millimetres"))
        card = self._desk.tray.highlighted
        self.part.setVisible(card is None)  # else it is highlighted above, with its name

    def show_work(self) -> None:
        """Say what is under way, as is done now and then by itself."""
        jobs = self._desk.work.jobs
        newest = jobs[-1] if jobs else None
        words = "" if newest is None else newest.words
        if any(job.waits for job in jobs):
            words = self.tr("waiting for another program that is writing the register")
        self.doing.setText(words)
        if newest is not None:
            known = newest.share is not None
            self.share.setRange(0, 100 if known else 0)
            self.share.setTextVisible(known)
            self.share.setValue(round(100 * (newest.share or 0.0)))
        for widget in (self.share, self.cancel):
            widget.setVisible(newest is not None)
