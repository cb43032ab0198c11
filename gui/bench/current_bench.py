"""The current bench: can what follows be trusted?"""

from __future__ import annotations

from pathlib import Path

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QHBoxLayout, QPushButton, QVBoxLayout, QWidget

from calib.calibration import Calibration
from calib.last_check import LastCheck, last_check
from calib.sample_calibration import is_sample
from gui.bench.facts import Facts
from gui.bench.small import card, label, mark
from gui.desk import Desk
from gui.elided import ElidedLabel
from threads.shared.refusal import Reason


class CurrentBench(QWidget):
    """``calibrate``, ``verify``, ``by_hand``, ``open_file``: what the person wants to do about it."""

    calibrate = Signal()
    verify = Signal()
    by_hand = Signal()
    open_file = Signal()

    def __init__(self, desk: Desk, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._desk = desk
        self._frame: tuple[int, int] | None = None
        self._check: LastCheck | None = None
        self.name = ElidedLabel()
        self.name.setProperty("faint", True)
        self.state = label()
        self.facts = Facts()
        self.none = label(
            self.tr(
                "No calibration is in use. Until one is, pictures can be looked at but not measured. Calibrate with "
                "gauge pins, open a calibration that you have, or give a scale by hand."
            )
        )
        self._calibrate = QPushButton(self.tr("Set up and calibrate (G)"))
        self._calibrate.setProperty("main", True)
        self._verify = QPushButton(self.tr("Daily check (V)"))
        by_hand = QPushButton(self.tr("By hand…"))
        by_hand.setToolTip(self.tr("Give a scale by hand, without gauges"))
        opening = QPushButton(self.tr("Open…"))
        opening.setToolTip(self.tr("Open a calibration file"))
        for button, signal in (
            (self._calibrate, self.calibrate), (self._verify, self.verify), (by_hand, self.by_hand),
            (opening, self.open_file),
        ):  # fmt: skip
            button.clicked.connect(signal)
        first, second = QHBoxLayout(), QHBoxLayout()
        first.addWidget(self._calibrate, 1)
        second.addWidget(self._verify, 1)
        second.addWidget(opening)
        second.addWidget(by_hand)
        frame, inside = card()
        inside.addWidget(label(self.tr("Calibration in use"), kind="heading", wrap=False))
        inside.addWidget(self.name)
        inside.addWidget(self.state)
        inside.addWidget(self.none)
        self._numbers, numbers = card()
        numbers.addWidget(self.facts)
        column = QVBoxLayout(self)
        column.setContentsMargins(10, 0, 6, 0)
        column.setSpacing(8)
        column.addWidget(frame)
        column.addLayout(first)
        column.addLayout(second)
        column.addWidget(self._numbers)
        column.addStretch(1)
        desk.bench_changed.connect(self.refresh)
        self.refresh()

    def set_frame_size(self, size: tuple[int, int] | None) -> None:
        """The size of the live picture, None without one."""
        if size != self._frame:
            self._frame = size
            self._show()

    def refresh(self) -> None:
        """Look again at the current bench and at its history."""
        bench = self._desk.bench
        self._check = last_check(bench.plane) if bench is not None and isinstance(bench.plane, Calibration) else None
        self._show()

    def _show(self) -> None:
        bench = self._desk.bench
        self.none.setVisible(bench is None)
        for widget in (self._numbers, self.name, self.state):
            widget.setVisible(bench is not None)
        self._verify.setEnabled(self._check is not None and not self._is_sample)
        if bench is None:
            return
        self.name.setText(Path(bench.file).name if bench.file else bench.plane.id)
        self.state.setText(self._age())
        trusted = self._check is not None and not self._check.warnings and not self._is_sample
        mark(self.state, "verdict", "good" if trusted else "open")
        self.facts.show_plane(bench.plane, self._more())

    @property
    def _is_sample(self) -> bool:
        return self._desk.bench is not None and is_sample(self._desk.bench.plane)

    def _age(self) -> str:
        if self._is_sample:
            return self.tr("Sample calibration: for the pictures of the tour alone. It goes when the tour ends.")
        check = self._check
        if check is None:
            return self.tr("Given by hand: no gauge stands behind it.")
        made = self._days(check.age_days)
        if not check.verified:
            return self.tr("Calibrated {when}.").format(when=made)
        outcome = self.tr("it held") if check.holds else self.tr("it did not hold")
        return self.tr("Calibrated {when}, verified {then}: {outcome}.").format(
            when=made, then=self._days(check.days), outcome=outcome
        )

    def _days(self, days: float) -> str:
        if days < 1:
            return self.tr("today")
        if days < 2:
            return self.tr("yesterday")
        return self.tr("{days} days ago").format(days=f"{days:.0f}")

    def _more(self) -> list[Reason]:
        """Warnings beside those that the calibration was made with."""
        bench = self._desk.bench
        more = list(self._check.warnings) if self._check is not None else []
        if bench is not None and isinstance(bench.plane, Calibration) and self._frame is not None:
            valid = (bench.plane.picture_width_px, bench.plane.picture_height_px)
            if valid != self._frame:
                more.insert(
                    0,
                    Reason(
                        "calibration_picture_size.live",
                        width_px=self._frame[0],
                        height_px=self._frame[1],
                        valid_width_px=valid[0],
                        valid_height_px=valid[1],
                    ),
                )
        return more
