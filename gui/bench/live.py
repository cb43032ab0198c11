"""What the camera sees, measured all the time: large numbers beside the live picture, and what turning shows."""

from __future__ import annotations

from collections.abc import Sequence

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QFormLayout, QHBoxLayout, QLabel, QPushButton, QVBoxLayout, QWidget

from flankwise.live import SHOWN, Reading
from gui.bench.small import card, figures, label, mark
from gui.bench.turning_plot import TurningPlot
from gui.desk import Desk
from gui.worded import worded, worded_error
from threads.shared.formatting import format_difference, format_quantity
from threads.shared.quantity import Quantity
from threads.shared.refusal import Reason

_LARGE, _LARGEST = 1.25, 2.0
_LONGEST = "0.00000 ± 0.00000 mm"
_FEW_SIDES = 3
"""Fewer sides show no shape."""


class LiveNumbers(QWidget):
    """``calibration``: the person wants to see the calibration in use. ``daily_check``: they want to check it.

    ``measure_all_the_same``: they want it measured though the source may not be that of the calibration.
    """

    calibration = Signal()
    daily_check = Signal()
    measure_all_the_same = Signal()

    def __init__(self, desk: Desk, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._desk = desk
        self.reading: Reading | None = None
        self.state = label()
        self.doubt = label()
        self.all_the_same = QPushButton(self.tr("Measure all the same"))
        self.all_the_same.clicked.connect(self.measure_all_the_same)
        self.values: dict[str, QLabel] = {}
        frame, inside = card()
        form = QFormLayout()
        form.setHorizontalSpacing(14)
        form.setVerticalSpacing(2)
        form.setRowWrapPolicy(QFormLayout.RowWrapPolicy.WrapLongRows)
        words = {
            "pitch": self.tr("Pitch"), "major_diameter": self.tr("Major diameter"),
            "pitch_diameter": self.tr("Pitch diameter"), "minor_diameter": self.tr("Minor diameter"),
        }  # fmt: skip
        for name in ("pitch_diameter", *(one for one in SHOWN if one != "pitch_diameter")):
            first = name == "pitch_diameter"
            value = figures(_LARGEST if first else _LARGE, bold=first)
            value.setAccessibleName(words[name])
            heading = label(words[name], kind="faint", wrap=False)
            if first:
                form.addRow(heading)
                form.addRow(value)
            else:
                form.addRow(heading, value)
            self.values[name] = value
        inside.addLayout(form)
        self.noise = label(kind="faint")
        inside.addWidget(self.noise)
        self.before = label()
        self.turning = TurningPlot()
        self.form = label()
        self.hint = label(
            self.tr(
                "Turn the part slowly in its block: run-out and ovality are drawn here. Lay down the next one: it is "
                "noticed by itself."
            ),
            kind="faint",
        )
        links = QHBoxLayout()
        for text, tip, signal in (
            (self.tr("Daily check (V)"), self.tr("Whether the calibration still holds"), self.daily_check),
            (self.tr("Calibration"), self.tr("The calibration in use"), self.calibration),
        ):
            link = QPushButton(text)
            link.setProperty("flat", True)
            link.setToolTip(tip)
            link.clicked.connect(signal)
            links.addWidget(link)
        links.addStretch(1)
        column = QVBoxLayout(self)
        column.setContentsMargins(10, 0, 6, 0)
        column.setSpacing(8)
        column.addWidget(label(self.tr("Live numbers"), kind="heading", wrap=False))
        column.addLayout(links)
        for widget in (
            self.state, self.doubt, self.all_the_same, frame, self.before, self.turning, self.form, self.hint,
        ):  # fmt: skip
            column.addWidget(widget)
        column.addStretch(1)
        desk.units_changed.connect(self._show)
        self.forget()

    def theme_changed(self) -> None:
        """The plot paints itself, and numbers have their room before they come."""
        self.turning.update()
        for value in self.values.values():
            value.setMinimumWidth(value.fontMetrics().horizontalAdvance(_LONGEST))

    def forget(self) -> None:
        """Another source, or another calibration."""
        self.reading = None
        self._show()

    def show_doubts(self, reasons: Sequence[Reason], *, waits: bool, hopeless: bool) -> None:
        """What is to be said of the source; ``waits``: nothing is measured before the person says so.

        ``hopeless``: nothing can be measured, whatever they say.
        """
        self.doubt.setText("\n".join(worded(reason) for reason in reasons))
        self.doubt.setVisible(bool(reasons))
        mark(self.doubt, "verdict", "bad" if waits else "")
        self.all_the_same.setVisible(waits and not hopeless)

    def show_reading(self, reading: Reading) -> None:
        """Show the newest reading; numbers stay where a frame in between could not be measured."""
        if reading.part is None and self.reading is not None and self.reading.part is not None:
            self._say_refused(reading)
            return
        self.reading = reading
        self._show()

    def _say_refused(self, reading: Reading) -> None:
        assert reading.refusal is not None
        self.state.setText(worded_error(reading.refusal))
        mark(self.state, "verdict", "bad")

    def _show(self) -> None:
        reading = self.reading
        part = None if reading is None else reading.part
        thread = None if part is None else part.thread
        for name, shown in self.values.items():
            quantity = None if thread is None else getattr(thread, name)
            shown.setText("–" if quantity is None else format_quantity(quantity, inches=self._desk.inches))
        sides = () if reading is None else reading.sides
        many = reading is not None and reading.all_round is not None and reading.all_round.sides >= _FEW_SIDES
        self.turning.setVisible(many)
        self.form.setVisible(many)
        self.hint.setVisible(not many)
        self.turning.show_sides(sides if many else ())
        self.form.setText(self._form_words(reading) if many and reading is not None else "")
        self.before.setText("" if reading is None else self._before_words(reading))
        self.before.setVisible(bool(self.before.text()))
        if reading is None:
            self.state.setText(self.tr("Lay a part down: it is measured by itself."))
            mark(self.state, "verdict", "")
            self.noise.setText("")
            return
        if reading.part is None:
            self._say_refused(reading)
            self.noise.setText("")
            return
        mark(self.state, "verdict", "")
        self.state.setText(
            self.tr("Part {number}, mean of {frames} frames").format(number=reading.number, frames=reading.frames)
            if reading.frames > 1
            else self.tr("Part {number}, moving").format(number=reading.number)
        )
        self.noise.setText(self._noise_words(reading))

    def _noise_words(self, reading: Reading) -> str:
        assert reading.part is not None
        whole, steady = reading.part.thread.pitch_diameter.u95, reading.steady_u95["pitch_diameter"]
        noise = (max(whole**2 - steady**2, 0.0)) ** 0.5
        return self.tr(
            "Noise has ± {noise} µm of the ± {whole} µm of the pitch diameter: it falls while the part lies still. The "
            "± {steady} µm of bench, light and form stay."
        ).format(whole=_um(whole), noise=_um(noise), steady=_um(steady))

    def _form_words(self, reading: Reading) -> str:
        found = reading.all_round
        assert found is not None

        def written(quantity: Quantity | None) -> str:
            if quantity is None:
                return self.tr("turn it farther")
            return format_quantity(Quantity(1000 * quantity.value, 1000 * quantity.standard_uncertainty, "um"))

        return self.tr("Ovality: {ovality}. Run-out: {run_out}. Seen from {sides} sides.").format(
            ovality=written(found.ovality), run_out=written(found.run_out), sides=found.sides
        )

    def _before_words(self, reading: Reading) -> str:
        before, now = reading.before, reading.part
        if before is None or now is None:
            return ""
        was, is_now = before.thread.pitch_diameter, now.thread.pitch_diameter
        return self.tr("The part before it had {was}: this one differs by {difference}.").format(
            was=format_quantity(was, inches=self._desk.inches),
            difference=format_difference(is_now.value - was.value, "mm", inches=self._desk.inches),
        )


def _um(length_mm: float) -> str:
    um = 1000 * length_mm
    return f"{um:.1f}" if um >= 1 else f"{um:.2f}"
