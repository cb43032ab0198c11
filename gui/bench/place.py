"""The place "Bench": is the set-up right? Live picture, three signs, and the current bench."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from functools import partial

from PySide6.QtCore import Qt, QTimer
from PySide6.QtWidgets import (
    QAbstractButton,
    QApplication,
    QComboBox,
    QFileDialog,
    QHBoxLayout,
    QVBoxLayout,
    QWidget,
)

from gui.bench.assistant import Assistant
from gui.bench.current_bench import CurrentBench
from gui.bench.gauge_row import GaugeRow
from gui.bench.laying import CHECK, STEPS
from gui.bench.live import LiveNumbers
from gui.bench.live_measuring import LiveMeasuring
from gui.bench.sample_live import show_sample_live, show_sample_turning
from gui.bench.scale_by_hand import ScaleByHand
from gui.bench.shown import Shown
from gui.bench.small import rescale
from gui.bench.verify import VerifyPanel
from gui.camera.chooser import SourceChooser
from gui.camera.source import FOLDER, Source
from gui.desk import Desk
from gui.place import Place
from gui.scrolling import upright
from gui.splitters import Folding
from gui.switch import Stack
from gui.tray.cards import Whence
from vision.pictures.live_frame import Frame

REPAINT_MS = 40
"""At most 25 pictures a second."""
LIVE_PANEL = 4
_SIDE = 400


class BenchPlace(Place):
    """Live picture and signs on the left; on the right the current bench, or the task of calibrating."""

    NAME = "bench"

    def __init__(self, desk: Desk, parent: QWidget | None = None) -> None:
        super().__init__(desk, parent)
        self.source = Source(desk, self)
        self._waiting: GaugeRow | None = None
        self.chooser = SourceChooser(desk, self.source)
        self.shown = Shown(desk, self.source, self._defect, self._types)
        self.picture, self.signs = self.shown.picture, self.shown.signs
        self.setFocusProxy(self.picture)
        self.current_bench = CurrentBench(desk)
        self.task = Assistant(desk)
        self.verify = VerifyPanel(desk)
        self.by_hand = ScaleByHand(desk)
        self.live = LiveNumbers(desk)
        self.measuring = LiveMeasuring(desk, self.source, self.live, self.picture, self._defect)
        self._panels = Stack()
        for panel in (self.current_bench, self.task, self.verify, self.by_hand, self.live):
            if panel is self.task:  # what it holds scrolls, its buttons do not
                self._panels.addWidget(panel)
                continue
            area = upright(panel)
            area.setFocusPolicy(Qt.FocusPolicy.NoFocus)
            self._panels.addWidget(area)
        self._lay_out()
        self._timer = QTimer(self)
        self._timer.setInterval(REPAINT_MS)
        self._timer.timeout.connect(self._tick)
        self._connect()
        self._make_actions()
        self.shown.source_changed()

    def _lay_out(self) -> None:
        splitter = Folding("bench")
        splitter.addWidget(self.shown)
        splitter.addWidget(self._panels)
        splitter.setStretchFactor(0, 1)
        splitter.setStretchFactor(1, 0)
        splitter.setSizes([860, _SIDE])
        whole = QVBoxLayout(self)
        whole.setContentsMargins(14, 10, 8, 8)
        whole.setSpacing(8)
        row = QHBoxLayout()
        row.setContentsMargins(0, 0, 6, 0)
        row.addWidget(self.chooser)
        whole.addLayout(row)
        whole.addWidget(splitter, 1)

    def _connect(self) -> None:
        self.source.changed.connect(self.chooser.show_taking)
        self.shown.seen.connect(self.task.show_look)
        self.shown.came.connect(self._came)
        self.shown.forgotten.connect(self._forgotten)
        self.source.said.connect(self.desk.noticed)
        self.source.arrived.connect(self._arrived)
        self.chooser.take.connect(self.take)
        self.measuring.changed.connect(self._live_changed)
        self.live.calibration.connect(self.show_bench)
        self.live.daily_check.connect(self.show_verify)
        self.current_bench.calibrate.connect(self.show_task)
        self.current_bench.verify.connect(self.show_verify)
        self.current_bench.by_hand.connect(self.show_by_hand)
        self.current_bench.open_file.connect(self._ask_for_bench)
        self.task.live_wanted.connect(self._take_gauge)
        self.verify.live_wanted.connect(self._take_gauge)
        self.task.gauge_shown.connect(self.shown.show_gauge)
        self.task.trial.connect(self.shown.judge)
        self.verify.row.shown.connect(self.shown.show_gauge)
        self.verify.verified.connect(self.current_bench.refresh)
        for panel in (self.task, self.verify, self.by_hand):
            panel.ended.connect(self._show_in_use)

    def _make_actions(self) -> None:
        for words, key, do in (
            (self.tr("Take a picture"), "T", self.take),
            (self.tr("Pause, or go on"), "Space", self._space),
            (self.tr("Reconnect, or play again"), "R", self.source.again),
            (self.tr("Show what the first camera sees"), "L", self._first_camera),
            (self.tr("Play a video"), "P", self.chooser.ask_for_video),
            (self.tr("Watch a folder"), "W", self.chooser.ask_for_folder),
            (self.tr("Set up and calibrate"), "G", self.show_task),
            (self.tr("Daily check with a pin"), "V", self.show_verify),
            (self.tr("Give a scale by hand"), "H", self.show_by_hand),
            (self.tr("Live numbers"), "N", self.show_live),
            (self.tr("Back to the calibration in use"), "B", self.show_bench),
        ):
            self.act(words, key, do)

    # --- what the window asks

    def entered(self) -> None:
        self._timer.start()
        self.chooser.look_for_cameras()
        self.current_bench.refresh()
        self.shown.set_active(True)

    def left(self) -> None:
        self._timer.stop()
        self.shown.set_active(False)

    def closing(self) -> None:
        self._timer.stop()
        self.source.close(wait=True)
        self.shown.close_down()
        self.measuring.close()

    def theme_changed(self) -> None:
        self.shown.theme_changed()
        rescale(self)
        self.live.theme_changed()
        self.task.theme_changed()
        self.verify.theme_changed()

    def views(self) -> Sequence[tuple[str, Callable[[], None]]]:
        steps = ((step, partial(self.task.go, step)) for step in STEPS[1:-1])
        return (
            ("calibrate", self.show_task), *steps, ("verify", self.show_verify), ("by_hand", self.show_by_hand),
            ("live", self._show_sample), ("turning", partial(show_sample_turning, self.live)),
            ("current_bench", self._show_without_source),
        )  # fmt: skip

    def _show_sample(self) -> None:
        self.show_bench()
        show_sample_live(self.source, self.live)

    def _show_without_source(self) -> None:
        self.source.close()
        self.show_bench()

    # --- panels

    def show_bench(self) -> None:
        """The current bench, on the right."""
        self._waiting = None
        self.current_bench.refresh()
        self._show_panel(0)

    def _show_in_use(self) -> None:
        """What the bench in use measures, or else the bench."""
        self.show_bench()
        self._live_changed()

    def _show_panel(self, index: int) -> None:
        self._panels.setCurrentIndex(index)
        self.shown.set_up(index == 1)

    def show_task(self) -> None:
        """Setting up and calibrating, on the right."""
        self._show_panel(1)
        self.task.set_live(self._gives_pictures())
        self.task.begin()

    def show_verify(self) -> None:
        """Checking with a pin, on the right."""
        self._show_panel(2)
        self.verify.set_live(self._gives_pictures())
        self.verify.begin()
        (self.verify.go if self.verify.go.isEnabled() else self.verify.row.size_edit).setFocus()

    def show_by_hand(self) -> None:
        """A scale by hand, on the right."""
        self._show_panel(3)
        self.by_hand.edit.setFocus()

    def show_live(self) -> None:
        """Live numbers, on the right, where there is a live picture and a calibration."""
        if not self.measuring.possible:
            self.desk.note(self.tr("Live numbers need a camera or a video, chosen above, and a calibration."))
            return
        self._show_panel(LIVE_PANEL)

    def _live_changed(self) -> None:
        """Live numbers come to the front where they can be had and nothing else is under way, and go where not."""
        at = self._panels.currentIndex()
        if self.measuring.possible and at == 0:
            self._show_panel(LIVE_PANEL)
        elif not self.measuring.possible and at == LIVE_PANEL:
            self.show_bench()

    @property
    def gauge_wanted(self) -> GaugeRow | None:
        """The gauge whose picture is taken next; None where a part is."""
        index = self._panels.currentIndex()
        if index == 2:
            return self.verify.row
        if index != 1 or not self.task.wants_gauge:
            return None
        if self.task.step == CHECK:
            return self.task.check_row
        focus = QApplication.focusWidget()
        for row in self.task.rows:
            if focus is not None and row.isAncestorOf(focus):
                return row
        return next((row for row in self.task.rows if not row.path), None)

    @property
    def _sets_up(self) -> bool:
        """Whether pictures only serve to set the bench up."""
        return self._panels.currentIndex() == 1 and not self.task.wants_gauge

    # --- pictures

    def takes_files(self, paths: Sequence[str]) -> bool:
        row = self.gauge_wanted
        if row is None and not self._sets_up:
            return False
        if row is not None:
            row.set_picture(paths[0])
        else:
            self.shown.judge(paths[0])
        return True

    def take(self) -> None:
        """Take the picture of the part, or of the gauge that is laid down."""
        row = self.gauge_wanted
        if self._sets_up:
            self.desk.note(
                self.tr("Pictures of pins are taken in step 6, those of parts once the bench is calibrated.")
            )
            return
        if row is not None:
            self._take_gauge(row)
        elif self.source.can_take:
            self.source.take(self.chooser.frames.value(), "part", self._measure)
        elif self.source.taking is None:
            self.desk.note(self.tr("There is no live picture to take. Choose a camera or a video above."))

    def _take_gauge(self, row: GaugeRow) -> None:
        if self.source.kind == FOLDER:
            self._waiting = row
            row.wait_for_picture()
        elif self.source.can_take:
            self.source.take(self.chooser.frames.value(), "gauge", row.set_picture)
        elif self.source.taking is None:
            self.desk.note(self.tr("There is no live picture to take. Choose a camera or a video above."))

    def _measure(self, path: str) -> None:
        self.desk.take_in([path], Whence.TAKEN, show=True)
        self.desk.go.emit("part")

    def _arrived(self, path: str) -> None:
        if self._sets_up and self.isVisible():
            self.shown.judge(path)
            return
        row = self._waiting or (self.gauge_wanted if self.isVisible() else None)
        if row is not None:
            self._waiting = None
            row.set_picture(path)
            return
        self.desk.take_in([path], Whence.WATCHED)
        if self.isVisible():
            self.desk.go.emit("part")

    def _gives_pictures(self) -> bool:
        return self.source.kind == FOLDER or self.source.can_take

    def _first_camera(self) -> None:
        from vision.pictures.cameras import Camera, cameras

        def done(found: tuple[Camera, ...]) -> None:
            if found:
                self.source.use_camera(found[0])
            else:
                self.desk.note(self.tr("No camera is found. Plug one in and look again."))

        self.desk.work.run(self.tr("looking for cameras"), cameras, done=done, key="cameras")

    def _space(self) -> None:
        """Space presses what has the focus; elsewhere it stops the picture."""
        focus = QApplication.focusWidget()
        if isinstance(focus, QAbstractButton):
            focus.click()
        elif isinstance(focus, QComboBox):
            focus.showPopup()
        else:
            self.source.pause()

    def _ask_for_bench(self) -> None:
        folder = self.desk.settings.text("calibrations")
        path, _ = QFileDialog.getOpenFileName(
            self, self.tr("Open a calibration"), folder, self.tr("Calibrations") + " (*.json)"
        )
        if path:
            self.desk.load_bench(path)

    def _tick(self) -> None:
        live = self._gives_pictures()
        self.chooser.show_taking()
        self.task.set_live(live)
        self.verify.set_live(live)
        self.shown.show_newest()

    def _came(self, frame: Frame) -> None:
        self.current_bench.set_frame_size((frame.shape[1], frame.shape[0]))
        self.measuring.offer(frame)

    def _forgotten(self) -> None:
        self.current_bench.set_frame_size(None)
        self.task.forget_looks()

    def _types(self) -> bool:
        """Whether the keyboard is in a panel."""
        focus = QApplication.focusWidget()
        return focus is not None and self._panels.isAncestorOf(focus)

    def _defect(self, error: Exception) -> None:
        raise error
