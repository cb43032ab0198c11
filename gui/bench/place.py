"""The place "Bench": is the set-up right? Live picture, three signs, and the current bench."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from functools import partial
from pathlib import Path

from PySide6.QtCore import Qt, QTimer
from PySide6.QtWidgets import (
    QAbstractButton,
    QApplication,
    QComboBox,
    QFileDialog,
    QHBoxLayout,
    QSizePolicy,
    QStackedLayout,
    QStackedWidget,
    QVBoxLayout,
    QWidget,
)

from gui.bench.assistant import Assistant
from gui.bench.current_bench import CurrentBench
from gui.bench.gauge_picture import SeenGauge
from gui.bench.gauge_row import GaugeRow
from gui.bench.laying import CHECK, STEPS
from gui.bench.live import LiveNumbers
from gui.bench.live_measuring import LiveMeasuring
from gui.bench.scale_by_hand import ScaleByHand
from gui.bench.signs import Signs
from gui.bench.small import enlarged, label, rescale
from gui.bench.verify import VerifyPanel
from gui.camera.chooser import SourceChooser
from gui.camera.looking import Looking
from gui.camera.source import CAMERA, FOLDER, IDLE, LOST, VIDEO, Source
from gui.desk import Desk
from gui.levels import Bytes, levels_of_light, shown_frame
from gui.picture_view import PictureView
from gui.place import Place
from gui.scrolling import scrolling
from gui.splitters import Splitter
from gui.theme import theme
from gui.tray.cards import Whence
from vision.locate.live_detection import LiveDetection, detect_live
from vision.pictures.picture import read_picture

REPAINT_MS = 40
"""At most 25 pictures a second."""
SIGNS_S = 0.15
"""Signs that change more often are not read."""
LIVE_PANEL = 4
_SIDE, _WIDEST = 400, 620


def look_at(path: str) -> tuple[LiveDetection, tuple[Bytes, ...]]:
    """What a picture file says of light, focus and alignment, and the picture; raises as ``read_picture``."""
    light = read_picture(path).light
    return detect_live(light), levels_of_light(light)


class BenchPlace(Place):
    """Live picture and signs on the left; on the right the current bench, or the task of calibrating."""

    NAME = "bench"

    def __init__(self, desk: Desk, parent: QWidget | None = None) -> None:
        super().__init__(desk, parent)
        self.source = Source(desk, self)
        self._looking = Looking(self._defect, SIGNS_S, self)
        self._shown_frame = 0
        self._shown_piece = ""
        self._waiting: GaugeRow | None = None
        self.chooser = SourceChooser(desk, self.source)
        self.picture = PictureView(self.tr("Live picture"))
        self.setFocusProxy(self.picture)
        self.signs = Signs()
        self._hint = enlarged(label(), 1.25)
        self._hint.setAlignment(Qt.AlignmentFlag.AlignCenter)
        self._hint.setMargin(40)
        self._hint.setSizePolicy(QSizePolicy.Policy.Ignored, QSizePolicy.Policy.Ignored)
        self._caption = label(kind="faint", wrap=False)
        self._caption.setSizePolicy(QSizePolicy.Policy.Ignored, QSizePolicy.Policy.Fixed)
        self.current_bench = CurrentBench(desk)
        self.task = Assistant(desk)
        self.verify = VerifyPanel(desk)
        self.by_hand = ScaleByHand(desk)
        self.live = LiveNumbers(desk)
        self.measuring = LiveMeasuring(desk, self.source, self.live, self.picture, self._defect)
        self._panels = QStackedWidget()
        for panel in (self.current_bench, self.task, self.verify, self.by_hand, self.live):
            if panel is self.task:  # what it holds scrolls, its buttons do not
                self._panels.addWidget(panel)
                continue
            area = scrolling(panel)
            area.setFocusPolicy(Qt.FocusPolicy.NoFocus)
            self._panels.addWidget(area)
        self._lay_out()
        self._timer = QTimer(self)
        self._timer.setInterval(REPAINT_MS)
        self._timer.timeout.connect(self._tick)
        self._connect()
        self._make_actions()
        self._source_changed()

    def _lay_out(self) -> None:
        ground = QWidget()
        self._layers = QStackedLayout(ground)
        self._layers.addWidget(self._hint)
        self._layers.addWidget(self.picture)
        left = QWidget()
        column = QVBoxLayout(left)
        column.setContentsMargins(0, 0, 8, 0)
        column.setSpacing(8)
        column.addWidget(ground, 1)
        column.addWidget(self._caption)
        column.addWidget(self.signs)
        splitter = Splitter(Qt.Orientation.Horizontal, "bench")
        splitter.addWidget(left)
        splitter.addWidget(self._panels)
        splitter.setStretchFactor(0, 1)
        splitter.setStretchFactor(1, 0)
        splitter.setSizes([860, _SIDE])
        splitter.setChildrenCollapsible(False)
        self._give_panels_room()
        whole = QVBoxLayout(self)
        whole.setContentsMargins(14, 10, 8, 8)
        whole.setSpacing(8)
        row = QHBoxLayout()
        row.setContentsMargins(0, 0, 6, 0)
        row.addWidget(self.chooser)
        whole.addLayout(row)
        whole.addWidget(splitter, 1)

    def _give_panels_room(self) -> None:
        """As wide as what stands in them at this size of text, but never most of the window."""
        panels = (self.current_bench, self.task.inside, self.verify, self.by_hand, self.live)
        needed = max(panel.minimumSizeHint().width() for panel in panels)
        self._panels.setMinimumWidth(min(max(needed + 24, 340), _WIDEST))

    def _connect(self) -> None:
        self.source.changed.connect(self._source_changed)
        self.source.said.connect(self.desk.noticed)
        self.source.arrived.connect(self._arrived)
        self.chooser.take.connect(self.take)
        self._looking.seen.connect(self._seen)
        self.measuring.changed.connect(self._live_changed)
        self.live.calibration.connect(self.show_bench)
        self.desk.piece_changed.connect(self._piece_changed)
        self.current_bench.calibrate.connect(self.show_task)
        self.current_bench.verify.connect(self.show_verify)
        self.current_bench.by_hand.connect(self.show_by_hand)
        self.current_bench.open_file.connect(self._ask_for_bench)
        self.task.live_wanted.connect(self._take_gauge)
        self.verify.live_wanted.connect(self._take_gauge)
        self.task.gauge_shown.connect(self._show_gauge)
        self.task.trial.connect(self._judge)
        self.verify.row.shown.connect(self._show_gauge)
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
        self._piece_changed()

    def left(self) -> None:
        self._timer.stop()

    def closing(self) -> None:
        self._timer.stop()
        self.source.close(wait=True)
        self._looking.close()
        self.measuring.close()

    def theme_changed(self) -> None:
        self.picture.theme_changed()
        rescale(self)
        self.signs.theme_changed()
        self.live.theme_changed()
        self.task.theme_changed()
        self.verify.theme_changed()
        self._give_panels_room()

    def views(self) -> Sequence[tuple[str, Callable[[], None]]]:
        steps = ((step, partial(self.task.go, step)) for step in STEPS[1:-1])
        return (
            ("calibrate", self.show_task), *steps, ("verify", self.show_verify), ("by_hand", self.show_by_hand),
            ("current_bench", self.show_bench),
        )  # fmt: skip

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
        """Setting up has its signs in its own panel, and the edges that were found in the picture."""
        self._panels.setCurrentIndex(index)
        self.signs.setVisible(index != 1)
        if index != 1:
            self.picture.clear_lines("seen")

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
            self._judge(paths[0])
        return True

    def _judge(self, path: str) -> None:
        """Judge light, focus and alignment by a picture file."""

        def done(found: tuple[LiveDetection, tuple[Bytes, ...]]) -> None:
            look, levels = found
            self._shown_piece = path
            self.picture.set_levels(levels)
            self._show_picture()
            self._caption.setText(Path(path).name)
            self._show_seen(look)

        words = self.tr("showing the picture")
        self.desk.work.run(words, look_at, path, done=done, failed=self.desk.refuse, key="bench picture")

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
            self._judge(path)
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

    # --- what is shown

    def _tick(self) -> None:
        found = self.source.newest(self._shown_frame)
        live = self._gives_pictures()
        self.chooser.show_taking()
        self.task.set_live(live)
        self.verify.set_live(live)
        if found is None:
            return
        number, frame = found
        self._shown_frame = number
        self._show_picture()
        self.picture.set_frame(shown_frame(frame))
        self.current_bench.set_frame_size((frame.shape[1], frame.shape[0]))
        self._looking.offer(detect_live, frame)
        self.measuring.offer(frame)

    def _show_picture(self) -> None:
        """Bring the picture to the front; the keyboard goes with it unless somebody types in a panel."""
        if self._layers.currentWidget() is self.picture:
            return
        self._layers.setCurrentWidget(self.picture)
        focus = QApplication.focusWidget()
        if focus is None or not self._panels.isAncestorOf(focus):
            self.picture.setFocus(Qt.FocusReason.OtherFocusReason)

    def _seen(self, found: tuple[object, LiveDetection]) -> None:
        if self.source.state != IDLE or self._shown_piece:
            self._show_seen(found[1])

    def _show_seen(self, look: LiveDetection) -> None:
        self.signs.show_look(look)
        self.task.show_look(look)
        if (self._panels.currentIndex() == 1 and self.source.kind in (CAMERA, VIDEO)) or self._sets_up:
            self.picture.set_lines("seen", look.outline, theme().outline, 2.0)

    def _source_changed(self) -> None:
        self._shown_frame = 0
        self.picture.clear_lines("gauge")
        live = self.source.kind in (CAMERA, VIDEO)
        words = {LOST: self.tr("{name}: no picture comes any more")}.get(self.source.state, "{name}")
        self._caption.setText(words.format(name=self.source.name) if live else self._caption_of_file())
        if not live:
            self.current_bench.set_frame_size(None)
            self.signs.forget()
            self.task.forget_looks()
            self._hint.setText(self._hint_words())
            self._layers.setCurrentWidget(self._hint)
            self._shown_piece = ""
            self._piece_changed()
        self.chooser.show_taking()

    def _hint_words(self) -> str:
        if self.source.kind == FOLDER:
            return self.tr("The next picture that comes into this folder is measured:\n{name}").format(
                name=self.source.name
            )
        return self.tr(
            "No live picture.\n\nChoose a camera above, or open a picture (Ctrl+O), drop one here or paste it (Ctrl+V)."
        )

    def _caption_of_file(self) -> str:
        piece = self.desk.piece
        return self.tr("The last picture: {name}").format(name=piece.name) if piece and piece.picture else ""

    def _show_gauge(self, seen: SeenGauge) -> None:
        """The picture of a gauge with what was found in it; a live picture stays where it is."""
        if self.source.kind in (CAMERA, VIDEO):
            return
        self._shown_piece = seen.found.path
        self.signs.show_look(seen.look)
        self.task.show_look(seen.look)
        self.picture.clear_lines("seen")
        self.picture.set_levels(seen.levels)
        if seen.found.in_lines:
            self.picture.set_lines("gauge", seen.found.marks, theme().outline, 2.0)
        self._show_picture()
        self._caption.setText(self.tr("The edges found in {name}").format(name=Path(seen.found.path).name))

    def _piece_changed(self) -> None:
        """Without a live picture the signs speak of the picture that was measured last."""
        piece = self.desk.piece
        if self.source.kind in (CAMERA, VIDEO) or piece is None or piece.picture is None or not piece.decoded:
            return
        if self._shown_piece == piece.path or not self._timer.isActive():
            return
        self._shown_piece = piece.path
        light = piece.picture.light

        def done(levels: tuple[Bytes, ...]) -> None:
            if self.source.kind in (CAMERA, VIDEO):
                return
            self.picture.clear_lines("gauge")
            self.picture.set_levels(levels)
            self._show_picture()
            self._caption.setText(self._caption_of_file())
            self._looking.offer(detect_live, light)

        self.desk.work.run(self.tr("showing the picture"), levels_of_light, light, done=done, key="bench picture")

    def _defect(self, error: Exception) -> None:
        raise error
