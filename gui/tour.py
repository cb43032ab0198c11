"""The first tour: the three jobs on the sample pictures, step by step, in the real window."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from typing import TYPE_CHECKING

from PySide6.QtCore import QCoreApplication, Qt
from PySide6.QtWidgets import QFrame, QHBoxLayout, QLabel, QPushButton, QWidget

from calib.sample_calibration import as_sample, is_sample
from flankwise.bench import Bench
from gui.desk import Desk
from gui.samples import CUT, SAMPLES, SCREW, sample_bench
from gui.tray.cards import Whence

if TYPE_CHECKING:
    from calib.calibration import Calibration

_KEY = "calibration of the samples"


@dataclass(frozen=True)
class Step:
    """What is said, and what the window does when the step is reached."""

    text: str
    do: Callable[[], None]


class Tour(QFrame):
    """A strip above the places: one sentence a step, Next and End. Everything else stays usable."""

    def __init__(self, desk: Desk, go: Callable[[str], None], parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._desk, self._go = desk, go
        self.setProperty("notice", True)
        self.setAccessibleName(self.tr("Tour"))
        self.count = QLabel()
        self.count.setProperty("faint", True)
        self.text = QLabel()
        self.text.setWordWrap(True)
        self.next = QPushButton()
        self.next.setProperty("main", True)
        self.next.clicked.connect(self.go_on)
        end = QPushButton(self.tr("End the tour"))
        end.setProperty("flat", True)
        end.clicked.connect(self.end)
        row = QHBoxLayout(self)
        row.setContentsMargins(14, 8, 8, 8)
        row.addWidget(self.count)
        row.addWidget(self.text, 1)
        row.addWidget(self.next)
        row.addWidget(end)
        self._at = 0
        self._before: tuple[Bench | None] | None = None  # what was in use before the tour; None: there is no tour
        self._steps: tuple[Step, ...] = ()
        self.hide()

    def begin(self) -> None:
        """Start from the first step."""
        self._steps = self._make_steps()
        self._at = -1
        self._before = self._before or (self._desk.bench,)
        self.show()
        self.go_on()

    def go_on(self) -> None:
        """The next step, or the end after the last."""
        self._at += 1
        if self._at >= len(self._steps):
            self.end()
            return
        step = self._steps[self._at]
        self.count.setText(f"{self._at + 1} / {len(self._steps)}")
        self.text.setText(step.text)
        self.setAccessibleDescription(step.text)
        last = self._at == len(self._steps) - 1
        self.next.setText(self.tr("Done") if last else self.tr("Next"))
        step.do()
        self.next.setFocus(Qt.FocusReason.OtherFocusReason)

    def end(self) -> None:
        """Put the strip away, and what was in use before the tour in its place again."""
        self.hide()
        self._desk.work.cancel(_KEY)
        before, self._before = self._before, None
        if before is not None and self._desk.bench is not None and is_sample(self._desk.bench.plane):
            self._desk.set_bench(before[0])
        self._desk.settings.set_text("toured", "yes")

    def _make_steps(self) -> tuple[Step, ...]:
        return (
            Step(
                self.tr(
                    "Every length comes from gauges. Here the bench is calibrated with two pins of 1.000 and 2.500 mm "
                    "from sample pictures; with your own camera you lay down pins and take their pictures here."
                ),
                self._calibrate,
            ),
            Step(
                self.tr(
                    "An unknown screw from a 1938 marine sextant. The blue line is the thread that was fitted to its "
                    "shadow. Below, all ridges are folded onto one, over the zones of the threads that it may be."
                ),
                lambda: self._show_part(SCREW),
            ),
            Step(
                self.tr(
                    "By measurement alone two standards stay open. Say where and when the instrument was made, "
                    "and see what that changes. What a picture cannot settle is said, not guessed."
                ),
                lambda: self._go("part"),
            ),
            Step(
                self.tr(
                    "A screw cut today beside it. In Fit you lay the two over each other, check a freshly cut thread, "
                    "and see how loose it will feel in the old hole."
                ),
                self._lay_beside,
            ),
            Step(
                self.tr(
                    "In the register every part is filed with its picture, so that it goes back where it came from and "
                    "can be made again in ten years. F1 lists all keys. The tour can be had again from Help."
                ),
                lambda: self._go("register"),
            ),
        )

    def _lay_beside(self) -> None:
        self._show_part(CUT)
        self._go("fit")

    def _show_part(self, name: str) -> None:
        self._desk.take_in([str(SAMPLES / name)], Whence.SAMPLE, show=True)
        self._go("part")

    def _calibrate(self) -> None:
        self._go("bench")

        def done(found: Calibration) -> None:
            if self._before is not None:
                self._desk.set_bench(Bench(found))

        words = self.tr("reading the calibration of the samples")
        self._desk.work.run(words, lambda: as_sample(sample_bench()), done=done, failed=self._desk.refuse, key=_KEY)


def tour_words() -> str:
    """The invitation of the first run."""
    return QCoreApplication.translate(
        "Tour", "New here? The tour shows the three jobs on sample pictures: Help, Show me round."
    )
