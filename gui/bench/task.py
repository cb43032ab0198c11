"""Calibrating, step by step: gauges laid down one by one, light and lens, the outcome, using it."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

from PySide6.QtCore import Qt, QTimer, Signal
from PySide6.QtGui import QUndoCommand
from PySide6.QtWidgets import QFileDialog, QFrame, QGridLayout, QHBoxLayout, QPushButton, QVBoxLayout, QWidget

from calib.bench import GRID, PIN, RULINGS
from calib.bench_file import default_bench_file, keep_bench
from calib.calibration import Calibration
from calib.laid_gauges import calibrate_laid
from flankwise.bench import Bench
from flankwise.reasons import sentence
from gui.bench.facts import Facts
from gui.bench.gauge_row import GaugeRow
from gui.bench.light_form import LightForm
from gui.bench.small import label, mark
from gui.desk import Desk
from gui.elided import ElidedLabel
from gui.scrolling import scrolling
from gui.worded import worded_error
from threads.shared.typed import TypedError

KEY = "calibrating"


class CalibrationTask(QWidget):
    """``live_wanted(row)``: take the picture of that gauge from the live source. ``ended``: back to the bench.

    ``gauge_shown(SeenGauge)``: the picture of a gauge was read, or is wanted large.
    """

    live_wanted = Signal(object)
    ended = Signal()
    gauge_shown = Signal(object)

    def __init__(self, desk: Desk, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._desk = desk
        self.rows: list[GaugeRow] = []
        self.found: Calibration | None = None
        self._file: Path | None = None
        self.inside = self._make_inside()
        self._area = scrolling(self.inside)
        self._area.setFocusPolicy(Qt.FocusPolicy.NoFocus)
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.addWidget(self._area, 1)
        column.addWidget(self._make_foot())
        self.found_here.hide()
        self.facts.hide()
        for what in (PIN, PIN):
            self.add(what)

    def _make_inside(self) -> QWidget:
        """What may need more room than there is: gauges, light and lens, the numbers found."""
        inside = QWidget()
        column = QVBoxLayout(inside)
        column.setContentsMargins(10, 0, 6, 0)
        column.setSpacing(8)
        column.addWidget(label(self.tr("1  Lay down gauges"), kind="heading", wrap=False))
        column.addWidget(
            label(
                self.tr("Two pins of clearly different diameter tell the scale and the edge offset apart. All in the "
                        "plane in which the parts' axes will lie, nothing moved between."),
                kind="faint",
            )
        )  # fmt: skip
        held = QWidget()
        self._list = QVBoxLayout(held)
        self._list.setContentsMargins(0, 0, 0, 0)
        self._list.setSpacing(8)
        column.addWidget(held)
        self.adders: dict[str, QPushButton] = {}
        adding = QHBoxLayout()
        for what, words in ((PIN, self.tr("+ Pin")), (RULINGS, self.tr("+ Micrometer")), (GRID, self.tr("+ Grid"))):
            button = QPushButton(words)
            button.clicked.connect(self._adder(what))
            adding.addWidget(button)
            self.adders[what] = button
        adding.addStretch(1)
        column.addLayout(adding)
        column.addWidget(label(self.tr("2  Light and lens"), kind="heading", wrap=False))
        self.form = LightForm(lambda: self._desk.inches)
        self.form.changed.connect(self._changed)
        column.addWidget(self.form)
        self.facts = Facts()
        column.addWidget(self.facts)
        column.addStretch(1)
        return inside

    def _make_foot(self) -> QWidget:
        """What is always in view: calibrating, and using what was found."""
        foot = QFrame()
        foot.setProperty("card", True)
        column = QVBoxLayout(foot)
        column.setContentsMargins(10, 6, 10, 6)
        column.setSpacing(4)
        self.missing = label(kind="faint")
        column.addWidget(self.missing)
        self.found_here = QWidget()
        where = QHBoxLayout(self.found_here)
        where.setContentsMargins(0, 0, 0, 0)
        self._name = ElidedLabel()
        self._name.setProperty("faint", True)
        other = QPushButton(self.tr("Other file…"))
        other.setProperty("flat", True)
        other.clicked.connect(self.ask_for_file)
        where.addWidget(self._name, 1)
        where.addWidget(other)
        column.addWidget(self.found_here)
        self.calibrate = QPushButton(self.tr("Calibrate"))
        self.calibrate.clicked.connect(self.do_calibrate)
        self.keep = QPushButton(self.tr("Use this calibration"))
        self.keep.clicked.connect(self.do_keep)
        self.back = QPushButton(self.tr("Back"))
        self.back.clicked.connect(self.ended)
        buttons = QGridLayout()
        buttons.setColumnStretch(0, 1)
        buttons.addWidget(self.calibrate, 0, 0)
        buttons.addWidget(self.back, 0, 1)
        buttons.addWidget(self.keep, 1, 0, 1, 2)
        column.addLayout(buttons)
        return foot

    # --- gauges

    def _adder(self, what: str) -> Callable[[], None]:
        def add() -> None:
            self.add(what).size_edit.setFocus()

        return add

    def add(self, what: str) -> GaugeRow:
        """One more gauge."""
        row = GaugeRow(self._desk, what)
        row.changed.connect(self._changed)
        row.live_wanted.connect(lambda: self.live_wanted.emit(row))
        row.removed.connect(lambda: self.remove(row))
        row.shown.connect(self.gauge_shown)
        self.rows.append(row)
        self._list.addWidget(row)
        self._changed()
        return row

    def remove(self, row: GaugeRow) -> None:
        """Take a gauge away: a step that can be undone."""
        self._desk.undo.push(_TakingAway(self, row))
        self.adders[PIN].setFocus()  # not a line, which would take Ctrl+Z for what was typed into it
        self._desk.note(self.tr("{name} was taken away. Undo (Ctrl+Z) lays it down again.").format(name=row.name))

    def take_out(self, row: GaugeRow) -> None:
        """As ``remove``, without a step of undo."""
        row.forget()
        self.rows.remove(row)
        self._list.removeWidget(row)
        row.hide()
        self._changed()

    def put_back(self, row: GaugeRow, place: int) -> None:
        """Lay down again what was taken out."""
        self.rows.insert(place, row)
        self._list.insertWidget(place, row)
        row.show()
        if row.path and row.look is None:
            row.set_picture(row.path)  # it was being read
        self._changed()

    def set_live(self, live: bool) -> None:
        """Whether there is a live source to take pictures from."""
        for row in self.rows:
            row.live.setEnabled(live)

    def _changed(self) -> None:
        """What was found no longer belongs to what is typed."""
        if not hasattr(self, "missing"):
            return
        if self.found is not None:
            self.found = None
            self.found_here.hide()
            self.facts.hide()
        self._desk.work.cancel(KEY)
        self.keep.setEnabled(False)
        mark(self.keep, "main", False)
        self.missing.setText(self._missing())
        self.missing.setVisible(bool(self.missing.text()))
        self.calibrate.setEnabled(not self.missing.text())
        mark(self.calibrate, "main", True)

    def _missing(self) -> str:
        """What keeps from calibrating; "" for nothing."""
        used = [row for row in self.rows if row.path or row.size_edit.text().strip()]
        if not used:
            return self.tr("Lay down at least one gauge: type its size and take its picture.")
        for row in used:
            if not row.complete:
                return self.tr("Size or picture of a gauge is missing ({name}).").format(name=row.name)
        try:
            self.form.set_up()
        except TypedError as error:
            edit = self.form.missing()
            if edit is not None:
                return self.tr("Missing: {what}.").format(what=edit.accessibleName())
            return worded_error(error)
        return ""

    # --- the outcome

    def do_calibrate(self) -> None:
        """Calibrate from what is laid down, in the background."""
        if self._missing():
            return
        told = self.form.set_up()
        gauges = tuple(row.laid() for row in self.rows if row.complete)
        self._desk.work.run(
            self.tr("calibrating the bench"), calibrate_laid, gauges, done=self._show, failed=self._desk.refuse,
            key=KEY, light_cone_deg=told.cone_deg, light_cone_u_deg=told.cone_u_deg,
            working_distance_mm=told.working_distance_mm, focus_locked=told.focus_locked,
            lens_opening=told.lens_opening, light_patch_mm=told.patch_mm, light_distance_mm=told.patch_distance_mm,
        )  # fmt: skip

    def _show(self, found: Calibration) -> None:
        self.found = found
        self._file = default_bench_file()
        self._name.setText(str(self._file))
        self.facts.show_plane(found)
        self.found_here.show()
        self.facts.show()
        self.keep.setEnabled(True)
        mark(self.calibrate, "main", False)
        mark(self.keep, "main", True)
        self.keep.setFocus(Qt.FocusReason.OtherFocusReason)
        QTimer.singleShot(0, self, self._show_facts)  # once they have their place

    def _show_facts(self) -> None:
        self._area.ensureWidgetVisible(self.facts)

    def ask_for_file(self) -> None:
        """Let the person choose where the calibration is written."""
        start = str(self._file or default_bench_file())
        path, _ = QFileDialog.getSaveFileName(
            self, self.tr("Save the calibration"), start, self.tr("Calibrations") + " (*.json)"
        )
        if path:
            self._file = Path(path if path.endswith(".json") else path + ".json")
            self._name.setText(str(self._file))

    def do_keep(self) -> None:
        """Write the calibration and make it the current one."""
        found, file = self.found, self._file
        if found is None or file is None:
            return

        def done(path: str) -> None:
            self._desk.set_bench(Bench(found, path))
            text = self.tr("The new calibration is in use, kept as {name}.")
            self._desk.note(text.format(name=file.name))
            self.ended.emit()

        self._desk.work.run(
            self.tr("saving the bench"),
            keep_bench,
            found,
            file,
            sentence,
            done=done,
            failed=self._desk.refuse,
            key="saving",
        )


class _TakingAway(QUndoCommand):
    """A gauge was taken away."""

    def __init__(self, task: CalibrationTask, row: GaugeRow) -> None:
        super().__init__(row.name)
        self._task, self._row, self._place = task, row, task.rows.index(row)

    def redo(self) -> None:
        self._task.take_out(self._row)

    def undo(self) -> None:
        self._task.put_back(self._row, self._place)
