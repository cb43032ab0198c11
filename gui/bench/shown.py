"""The picture of the Bench: live, of a gauge, or the last one measured; and the three signs that speak of it."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

from PySide6.QtCore import Qt, Signal
from PySide6.QtWidgets import QApplication, QSizePolicy, QStackedLayout, QVBoxLayout, QWidget

from gui.bench.gauge_picture import SeenGauge
from gui.bench.signs import Signs
from gui.bench.small import enlarged, label
from gui.camera.looking import Looking
from gui.camera.source import CAMERA, FOLDER, IDLE, LOST, VIDEO, Source
from gui.desk import Desk
from gui.elided import ElidedLabel
from gui.levels import Bytes, levels_of_light, shown_frame
from gui.picture_view import PictureView
from gui.theme import theme
from vision.locate.live_detection import LiveDetection, detect_live
from vision.pictures.picture import read_picture

SIGNS_S = 0.15
"""Signs that change more often are not read."""


def look_at(path: str) -> tuple[LiveDetection, tuple[Bytes, ...]]:
    """What a picture file says of light, focus and alignment, and the picture; raises as ``read_picture``."""
    light = read_picture(path).light
    return detect_live(light), levels_of_light(light)


class Shown(QWidget):
    """``seen(LiveDetection)``: what a picture says. ``came(frame)``: a frame of the live picture was shown.

    ``forgotten()``: the pictures come from elsewhere from now on.
    """

    seen = Signal(object)
    came = Signal(object)
    forgotten = Signal()

    def __init__(
        self, desk: Desk, source: Source, defect: Callable[[Exception], None], typing: Callable[[], bool]
    ) -> None:
        """``typing``: whether somebody types beside the picture; else the keyboard goes with it."""
        super().__init__()
        self._desk, self._source, self._typing = desk, source, typing
        self._looking = Looking(defect, SIGNS_S, self)
        self._frame = 0
        self._piece = ""
        self._sets_up = self._active = False
        self.picture = PictureView(self.tr("Live picture"))
        self.signs = Signs()
        self._hint = enlarged(label(), 1.25)
        self._hint.setAlignment(Qt.AlignmentFlag.AlignCenter)
        self._hint.setMargin(40)
        self._hint.setSizePolicy(QSizePolicy.Policy.Ignored, QSizePolicy.Policy.Preferred)
        self.caption = ElidedLabel()
        self.caption.setProperty("faint", True)
        ground = QWidget()
        self._layers = QStackedLayout(ground)
        self._layers.addWidget(self._hint)
        self._layers.addWidget(self.picture)
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 8, 0)
        column.setSpacing(8)
        column.addWidget(ground, 1)
        column.addWidget(self.caption)
        column.addWidget(self.signs)
        self._looking.seen.connect(self._looked)
        source.changed.connect(self.source_changed)
        desk.piece_changed.connect(self.piece_changed)

    def set_active(self, active: bool) -> None:
        """Whether the Bench is in front."""
        self._active = active
        if active:
            self.piece_changed()

    def set_up(self, sets_up: bool) -> None:
        """Setting up has its signs in its own panel, and the edges that were found in the picture."""
        self._sets_up = sets_up
        self.signs.setVisible(not sets_up)
        if not sets_up:
            self.picture.clear_lines("seen")

    def close_down(self) -> None:
        """Look no more."""
        self._looking.close()

    def theme_changed(self) -> None:
        """Colours and text are others."""
        self.picture.theme_changed()
        self.signs.theme_changed()

    # --- live

    def show_newest(self) -> None:
        """Show the newest frame, if there is one that was not shown."""
        found = self._source.newest(self._frame)
        if found is None:
            return
        self._frame, frame = found
        self._to_front()
        self.picture.set_frame(shown_frame(frame))
        self._looking.offer(detect_live, frame)
        self.came.emit(frame)

    def source_changed(self) -> None:
        """Another source, or another state of it."""
        self._frame = 0
        self.picture.clear_lines("gauge")
        words = {LOST: self.tr("{name}: no picture comes any more")}.get(self._source.state, "{name}")
        self.caption.setText(words.format(name=self._source.name) if self._live else self._caption_of_file())
        if not self._live:
            self.signs.forget()
            self._hint.setText(self._hint_words())
            self._layers.setCurrentWidget(self._hint)
            self._piece = ""
            self.forgotten.emit()
            self.piece_changed()

    @property
    def _live(self) -> bool:
        return self._source.kind in (CAMERA, VIDEO)

    def _looked(self, found: tuple[object, LiveDetection]) -> None:
        if self._source.state != IDLE or self._piece:
            self._say(found[1])

    def _say(self, look: LiveDetection) -> None:
        self.signs.show_look(look)
        if self._sets_up:
            self.picture.set_lines("seen", look.outline, theme().outline, 2.0)
        self.seen.emit(look)

    # --- files

    def judge(self, path: str) -> None:
        """Judge light, focus and alignment by a picture file."""

        def done(found: tuple[LiveDetection, tuple[Bytes, ...]]) -> None:
            look, levels = found
            self._piece = path
            self.picture.clear_lines("gauge")
            self.picture.set_levels(levels)
            self._to_front()
            self.caption.setText(Path(path).name)
            self._say(look)

        words = self.tr("showing the picture")
        self._desk.work.run(words, look_at, path, done=done, failed=self._desk.refuse, key="bench picture")

    def show_gauge(self, seen: SeenGauge) -> None:
        """The picture of a gauge with what was found in it; a live picture stays where it is."""
        if self._live:
            return
        self._piece = seen.found.path
        self._say(seen.look)
        self.picture.clear_lines("seen")
        self.picture.set_levels(seen.levels)
        if seen.found.in_lines:
            self.picture.set_lines("gauge", seen.found.marks, theme().outline, 2.0)
        self._to_front()
        self.caption.setText(self.tr("The edges found in {name}").format(name=Path(seen.found.path).name))

    def piece_changed(self) -> None:
        """Without a live picture the signs speak of the picture that was measured last."""
        piece = self._desk.piece
        if self._live or piece is None or piece.picture is None or not piece.decoded:
            return
        if self._piece == piece.path or not self._active:
            return
        self._piece = piece.path
        light = piece.picture.light

        def done(levels: tuple[Bytes, ...]) -> None:
            if self._live:
                return
            self.picture.clear_lines("gauge")
            self.picture.set_levels(levels)
            self._to_front()
            self.caption.setText(self._caption_of_file())
            self._looking.offer(detect_live, light)

        self._desk.work.run(self.tr("showing the picture"), levels_of_light, light, done=done, key="bench picture")

    # --- around it

    def _to_front(self) -> None:
        """Bring the picture to the front; the keyboard goes with it unless somebody types beside it."""
        if self._layers.currentWidget() is not self.picture:
            self._layers.setCurrentWidget(self.picture)
            if QApplication.focusWidget() is None or not self._typing():
                self.picture.setFocus(Qt.FocusReason.OtherFocusReason)

    def _hint_words(self) -> str:
        if self._source.kind == FOLDER:
            return self.tr("The next picture that comes into this folder is measured:\n{name}").format(
                name=self._source.name
            )
        return self.tr(
            "No live picture.\n\nChoose a camera above, or open a picture (Ctrl+O), drop one here or paste it (Ctrl+V)."
        )

    def _caption_of_file(self) -> str:
        piece = self._desk.piece
        return self.tr("The last picture: {name}").format(name=piece.name) if piece and piece.picture else ""
