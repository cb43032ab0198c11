"""Setting up a bench, one step a screen, from the light to what it then tells apart."""

from __future__ import annotations

import math
from collections.abc import Callable
from pathlib import Path

from PySide6.QtCore import Qt, QTimer, Signal
from PySide6.QtWidgets import QFileDialog, QFrame, QHBoxLayout, QPushButton, QVBoxLayout, QWidget

from calib.bench import PIN
from calib.bench_file import default_bench_file, keep_bench
from calib.calibration import Calibration
from calib.laid_gauges import calibrate_laid
from calib.verification import Verification
from flankwise.bench import Bench
from flankwise.reasons import sentence
from gui.bench.facts import Facts
from gui.bench.gauge_row import PICTURES, GaugeRow
from gui.bench.gauges import Gauges
from gui.bench.laying import ALIGNMENT, CHECK, DISTANCE, FOCUS, LIGHT, MASK, PINS, STEPS, Laying
from gui.bench.light_form import LightForm, SetUp
from gui.bench.sign_words import alignment_words, focus_words, light_words
from gui.bench.signs import SignCard
from gui.bench.small import label
from gui.bench.step_strip import StepStrip
from gui.bench.step_words import names, tasks
from gui.bench.telling import TellingApart
from gui.bench.verify import outcome_words, verify_laid
from gui.desk import Desk
from gui.elided import ElidedLabel
from gui.scrolling import upright
from gui.worded import worded_error
from threads.shared.typed import TypedError
from vision.locate.live_detection import LiveDetection
from vision.locate.live_signs import alignment_sign, focus_sign, light_sign

KEY, CHECK_KEY = "calibrating", "checking"
SEEN = (LIGHT, FOCUS, ALIGNMENT)
"""Steps that are judged by a picture."""


class Assistant(QWidget):
    """``live_wanted(row)``: take the picture of that gauge from the live source. ``ended``: back to the bench.

    ``gauge_shown(SeenGauge)``: the picture of a gauge was read, or is wanted large. ``trial(path)``: a picture file by
    which light, focus and alignment are to be judged.
    """

    live_wanted = Signal(object)
    ended = Signal()
    gauge_shown = Signal(object)
    trial = Signal(str)

    def __init__(self, desk: Desk, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._desk = desk
        self.found: Calibration | None = None
        self._file: Path | None = None
        self._signs: dict[str, tuple[bool | None, str]] = {}
        self._least_blur: float | None = None
        self._live = self._filled = False
        self.step = LIGHT
        self.strip = StepStrip([names()[step] for step in STEPS])
        self.strip.chosen.connect(lambda number: self.go(STEPS[number]))
        self.gauges = Gauges(desk)
        self.form = LightForm(lambda: self._desk.inches)
        self.telling, self.facts = TellingApart(desk), Facts()
        self.check_row = GaugeRow(desk, PIN, removable=False)
        self.inside = self._make_inside()
        self._area = upright(self.inside)
        self._area.setFocusPolicy(Qt.FocusPolicy.NoFocus)
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(4)
        column.addWidget(self.strip)
        column.addWidget(self._area, 1)
        column.addWidget(self._make_foot())
        self.gauges.changed.connect(self._changed)
        self.gauges.live_wanted.connect(self.live_wanted)
        self.gauges.shown.connect(self.gauge_shown)
        self.form.changed.connect(self._changed)
        self.check_row.changed.connect(self._check)
        self.check_row.live_wanted.connect(lambda: self.live_wanted.emit(self.check_row))
        self.check_row.shown.connect(self.gauge_shown)
        self.go(LIGHT)

    def _make_inside(self) -> QWidget:
        """What may need more room than there is; of it each step shows its own."""
        inside = QWidget()
        column = QVBoxLayout(inside)
        column.setContentsMargins(10, 0, 6, 0)
        column.setSpacing(8)
        self.heading = label(kind="heading", wrap=False)
        self.laying = Laying()
        self.task = label()
        self.verdict = SignCard(self.tr("Is it good?"))
        self.trial_file = QPushButton(self.tr("Picture file…"))
        self.trial_file.setToolTip(self.tr("Judge a picture that was taken on the bench"))
        self.trial_file.clicked.connect(self._ask_for_trial)
        own: tuple[tuple[QWidget, tuple[str, ...]], ...] = (
            (self.heading, STEPS), (self.telling, (CHECK,)), (self.laying, STEPS), (self.task, STEPS),
            (self.trial_file, SEEN), (self.form.of_lens, (DISTANCE,)), (self.form.of_light, (MASK,)),
            (self.gauges, (PINS,)), (self.check_row, (CHECK,)), (self.verdict, (*SEEN, DISTANCE, MASK, CHECK)),
            (self.facts, (CHECK,)),
        )  # fmt: skip
        self._own = own
        for widget, _ in own:
            column.addWidget(widget)
        column.addStretch(1)
        return inside

    def _make_foot(self) -> QWidget:
        """What is always in view: on to the next step, calibrating, and using what was found."""
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
        self.next = QPushButton(self.tr("Next"))
        self.calibrate = QPushButton(self.tr("Calibrate"))
        self.keep = QPushButton(self.tr("Use this calibration"))
        self.back = QPushButton(self.tr("Back"))
        buttons = QHBoxLayout()
        does: tuple[tuple[QPushButton, Callable[[], None]], ...] = (
            (self.next, self.go_on), (self.calibrate, self.do_calibrate), (self.keep, self.do_keep),
            (self.back, self.go_back),
        )  # fmt: skip
        for button, do in does:
            button.setProperty("main", button is not self.back)
            button.clicked.connect(do)
            buttons.addWidget(button, 0 if button is self.back else 1)
        column.addLayout(buttons)
        return foot

    # --- steps

    def begin(self) -> None:
        """Show the first step that is not known to be good; what was said of lens and light last time holds."""
        bench = self._desk.bench
        if not self._filled and bench is not None and isinstance(bench.plane, Calibration):
            self._fill_in(bench.plane)
        self.go(self._first_open(STEPS[:-1]))

    def _fill_in(self, last: Calibration) -> None:
        """What was said for the calibration in use; it keeps a telecentric lens as one whose distance nobody misses."""
        self._filled = True
        missed = any(reason.code == "working_distance_unknown" for reason in last.warnings)
        distance = last.working_distance_mm
        if distance is None and last.round_gauges and not missed:
            distance = math.inf
        self.form.show_set_up(
            SetUp(
                None if last.light_cone_found else last.light_cone_deg,
                last.light_cone_u_deg,
                distance,
                last.focus_locked,
                last.light_patch_mm,
                last.light_distance_mm,
                last.lens_opening,
            )
        )

    def _first_open(self, steps: tuple[str, ...]) -> str:
        return next((step for step in steps if self.good(step) is not True), PINS)

    def good(self, step: str) -> bool | None:
        """Whether a step is in order; None where nobody knows."""
        if step in (*SEEN, CHECK):
            return self._signs.get(step, (None, ""))[0]
        if step == DISTANCE:
            return True if self.form.lens_is_known else None
        if step == MASK:
            return self.form.light_is_small
        return True if self.found is not None else None

    def go(self, step: str) -> None:
        """Show ``step``."""
        if step == CHECK and self.found is None:
            step = PINS
        self.step = step
        number = STEPS.index(step)
        self.heading.setText(
            self.tr("{number} of {all}  {name}").format(number=number + 1, all=len(STEPS), name=names()[step])
        )
        self.laying.show_step(step)
        self.task.setText(tasks()[step])
        for widget, steps in self._own:
            widget.setVisible(step in steps)
        self.trial_file.setVisible(step in SEEN and not self._live)
        for button, on in ((self.next, number < STEPS.index(PINS)), (self.calibrate, step == PINS),
                           (self.keep, step == CHECK)):  # fmt: skip
            button.setVisible(on)
        self.found_here.setVisible(step == CHECK)
        self._show_state()
        self._area.verticalScrollBar().setValue(0)
        if step == PINS and self.isVisible():
            first = next((row for row in self.gauges.rows if not row.complete), None)
            (first.size_edit if first is not None else self.calibrate).setFocus()
        elif self.isVisible():
            (self.keep if step == CHECK else self.next).setFocus()

    def go_on(self) -> None:
        """To the next step that is not known to be good."""
        self.go(self._first_open(STEPS[STEPS.index(self.step) + 1 : -1]))

    def go_back(self) -> None:
        """To the step before; from the first one back to the bench."""
        number = STEPS.index(self.step)
        if number == 0:
            self.ended.emit()
        else:
            self.go(STEPS[number - 1])

    def _show_state(self) -> None:
        self.strip.show_steps(STEPS.index(self.step), [self.good(step) for step in STEPS], last=self.found is not None)
        self.missing.setText(self._missing() if self.step == PINS else "")
        self.missing.setVisible(bool(self.missing.text()))
        self.calibrate.setEnabled(not self._missing())
        self.keep.setEnabled(self.found is not None)
        self.verdict.show_sign(self.good(self.step), self._sentence())

    def _sentence(self) -> str:
        if self.step in SEEN:
            none = self.tr("No picture yet: it is judged as soon as one comes.") if self._live else self.tr(
                "No picture yet: choose a camera above, or take one on the bench and choose its file."
            )  # fmt: skip
            return self._signs.get(self.step, (None, none))[1]
        if self.step == DISTANCE:
            return (
                self.tr("Distance and focus are known.")
                if self.form.lens_is_known
                else self.tr("What is not said makes U95 wider, nothing else.")
            )
        if self.step == MASK:
            return self.form.effect
        return self._signs.get(CHECK, (None, self.tr("Nobody has checked it yet.")))[1]

    # --- what is seen

    def set_live(self, live: bool) -> None:
        """Whether there is a live source to take pictures from."""
        self.gauges.set_live(live)
        self.check_row.live.setEnabled(live)
        if live != self._live:
            self._live = live
            self.trial_file.setVisible(self.step in SEEN and not live)
            self._show_state()

    def show_look(self, look: LiveDetection) -> None:
        """Judge light, focus and alignment by what a picture shows."""
        light, focus, alignment = light_sign(look), focus_sign(look), alignment_sign(look)
        self._signs |= {
            LIGHT: (light.good, light_words(light)),
            FOCUS: (focus.good, focus_words(focus, self._least_blur)),
            ALIGNMENT: (alignment.good, alignment_words(alignment, look)),
        }
        if look.blur_px is not None:
            self._least_blur = look.blur_px if self._least_blur is None else min(self._least_blur, look.blur_px)
        self._show_state()

    def forget_looks(self) -> None:
        """The pictures come from elsewhere."""
        self._least_blur = None
        self._signs = {step: said for step, said in self._signs.items() if step == CHECK}
        self._show_state()

    def _ask_for_trial(self) -> None:
        path, _ = QFileDialog.getOpenFileName(
            self, self.tr("Judge a picture"), self._desk.settings.text("gauges"),
            self.tr("Pictures") + f" ({PICTURES})",
        )  # fmt: skip
        if path:
            self.trial.emit(path)

    # --- gauges

    @property
    def rows(self) -> list[GaugeRow]:
        """The gauges that are laid down."""
        return self.gauges.rows

    @property
    def wants_gauge(self) -> bool:
        """Whether the next picture is that of a gauge."""
        return self.step in {PINS, CHECK}

    def _changed(self) -> None:
        """What was found no longer belongs to what is typed."""
        if not hasattr(self, "missing"):
            return
        if self.found is not None:
            self.found = None
            self._signs.pop(CHECK, None)
            self.telling.show_calibration(None)
            if self.step == CHECK:
                self.go(PINS)
        self._desk.work.cancel(KEY)
        self._show_state()

    def _missing(self) -> str:
        """What keeps from calibrating; "" for nothing."""
        if self.gauges.missing:
            return self.gauges.missing
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
        laid = tuple(row.laid() for row in self.rows if row.complete)
        self._desk.work.run(
            self.tr("calibrating the bench"), calibrate_laid, laid, done=self._show, failed=self._desk.refuse,
            key=KEY, light_cone_deg=told.cone_deg, light_cone_u_deg=told.cone_u_deg,
            working_distance_mm=told.working_distance_mm, focus_locked=told.focus_locked,
            lens_opening=told.lens_opening, light_patch_mm=told.patch_mm, light_distance_mm=told.patch_distance_mm,
        )  # fmt: skip

    def _show(self, found: Calibration) -> None:
        self.found = found
        self._file = default_bench_file()
        self._name.setText(str(self._file))
        self.facts.show_plane(found)
        self.telling.show_calibration(found)
        self._signs.pop(CHECK, None)
        self.go(CHECK)
        QTimer.singleShot(0, self, lambda: self.keep.setFocus(Qt.FocusReason.OtherFocusReason))

    def _check(self) -> None:
        """The third pin was laid down: does it measure as it should?"""
        if self.found is None or not self.check_row.complete:
            return
        file = "" if self._file is None else str(self._file)
        self._desk.work.run(
            self.tr("verifying the bench"), verify_laid, self.found, file, self.check_row.laid(),
            done=self._show_check, failed=self._desk.refuse, key=CHECK_KEY,
        )  # fmt: skip

    def _show_check(self, found: Verification) -> None:
        self._signs[CHECK] = (found.holds, outcome_words(found))
        self._show_state()

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
            for row in (*self.rows, self.check_row):  # the next calibration takes its own
                row.put_picture_aside()
            self.ended.emit()

        self._desk.work.run(
            self.tr("saving the bench"), keep_bench, found, file, sentence, done=done, failed=self._desk.refuse,
            key="saving",
        )  # fmt: skip

    def theme_changed(self) -> None:
        """The text or the colours are others."""
        self.verdict.theme_changed()
        self.laying.update()
