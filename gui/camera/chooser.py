"""The row on top: where pictures come from, how they are taken, and taking one."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

from PySide6.QtCore import Qt, Signal
from PySide6.QtWidgets import (
    QComboBox,
    QDoubleSpinBox,
    QFileDialog,
    QHBoxLayout,
    QLabel,
    QPushButton,
    QSpinBox,
    QWidget,
)

from gui.calm import calm
from gui.camera.capture import KINDS, RESOLUTIONS
from gui.camera.last_source import LastSource, keep_source, kept_source
from gui.camera.source import CAMERA, FOLDER, LIVE, LOST, NONE, OPENING, PAUSED, VIDEO, Source, camera_key
from gui.desk import Desk
from gui.flow import Flow
from vision.pictures.averaged import MOST_FRAMES
from vision.pictures.cameras import Camera, are_listed, cameras

VIDEOS = "*.avi *.mp4 *.mov *.mkv *.mjpg *.webm"
USUAL_FRAMES = 8


def _pair(label: QLabel, field: QWidget) -> QWidget:
    """A field and its name, which stay in one line."""
    both = QWidget()
    row = QHBoxLayout(both)
    row.setContentsMargins(0, 0, 0, 0)
    row.addWidget(label)
    row.addWidget(field)
    return both


def _size_name(size: tuple[int, int] | None) -> str:
    return "as it is" if size is None else f"{size[0]}x{size[1]}"


class _Choice(QComboBox):
    """A list that is filled when it is opened."""

    about_to_open = Signal()

    def showPopup(self) -> None:
        self.about_to_open.emit()
        super().showPopup()


class SourceChooser(QWidget):
    """``take``: the person wants a picture. ``picture_file``: a picture file instead of a live source."""

    take = Signal()
    picture_file = Signal()

    def __init__(self, desk: Desk, source: Source, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._desk, self._source = desk, source
        self._cameras: tuple[Camera, ...] = ()
        self.choice = calm(_Choice())
        self.choice.setAccessibleName(self.tr("Where pictures come from"))
        self.choice.setMinimumContentsLength(10)
        self.choice.setSizeAdjustPolicy(QComboBox.SizeAdjustPolicy.AdjustToMinimumContentsLengthWithIcon)
        self.choice.about_to_open.connect(self.look_for_cameras)
        self.choice.activated.connect(self._chosen)
        label = QLabel(self.tr("Picture from"))
        label.setBuddy(self.choice)
        self.size_choice = calm(QComboBox())
        self.size_choice.setAccessibleName(self.tr("Size of the camera's picture"))
        self.size_choice.addItem(self.tr("size as it is"), None)
        for width, height in RESOLUTIONS:
            megapixels = self.tr("{count} megapixels").format(count=f"{width * height / 1e6:.1f}")
            self.size_choice.addItem(f"{width} × {height}", (width, height))
            self.size_choice.setItemData(self.size_choice.count() - 1, megapixels, Qt.ItemDataRole.ToolTipRole)
        self.size_choice.activated.connect(self._resized)
        self.kind_choice = calm(QComboBox())
        self.kind_choice.setAccessibleName(self.tr("Kind of the camera's picture"))
        self.kind_choice.setToolTip(
            self.tr("Pins and parts in the same kind. Grey is best; what is compressed loses some of the edges.")
        )
        for kind, words in zip(
            ("", *KINDS),
            (self.tr("kind as it is"), self.tr("grey"), self.tr("colour"), self.tr("colour, compressed")),
            strict=True,
        ):
            self.kind_choice.addItem(words, kind)
        self.kind_choice.activated.connect(lambda index: source.ask_for(self.kind_choice.itemData(index)))
        self._settings = {
            "exposure": self._setting("exposure", self.tr("Exposure")),
            "gain": self._setting("gain", self.tr("Gain")),
        }
        self.frames = calm(QSpinBox())
        self.frames.setRange(1, MOST_FRAMES)
        self.frames.setValue(desk.settings.number("frames", USUAL_FRAMES))
        self.frames.setAccessibleName(self.tr("Frames averaged to one picture"))
        self.frames.setToolTip(self.tr("So many frames are averaged to one picture: noise goes down with their root."))
        self.frames.valueChanged.connect(lambda value: desk.settings.set_text("frames", str(value)))
        self._frames_label = QLabel(self.tr("Frames"))
        self._frames_label.setBuddy(self.frames)
        self.again = QPushButton(self.tr("Reconnect"))
        self.again.clicked.connect(source.again)
        self.pause = QPushButton()
        self.pause.clicked.connect(source.pause)
        self.take_button = QPushButton(self.tr("Take (T)"))
        self.take_button.setProperty("main", True)
        self.take_button.clicked.connect(self.take)
        row = Flow(self)
        row.add(label)
        row.add(self.choice, 1)
        row.add(self.size_choice)
        row.add(self.kind_choice)
        self._of_frames = _pair(self._frames_label, self.frames)
        for both, _ in self._settings.values():
            row.add(both)
        for widget in (self._of_frames, self.again, self.pause, self.take_button):
            row.add(widget)
        source.changed.connect(self.refresh)
        self._fill()
        self.refresh()

    def _setting(self, name: str, words: str) -> tuple[QWidget, QDoubleSpinBox]:
        box = calm(QDoubleSpinBox())
        box.setRange(-100_000, 100_000)
        box.setDecimals(0)
        box.setKeyboardTracking(False)
        box.valueChanged.connect(lambda value: self._source.set(name, value))
        label = QLabel(words)
        label.setBuddy(box)
        return _pair(label, box), box

    # --- the list of sources

    def look_for_cameras(self, *, say: bool = False) -> None:
        """Ask the system which cameras there are now; ``say`` it where there is none."""

        def done() -> None:
            if say and not self._cameras:
                text = self.tr("No camera is found. Plug one in and look again; pictures can also come from files.")
                self._desk.noticed.emit("note", text)

        if are_listed() or say:
            self._find_cameras(done)

    def _find_cameras(self, then: Callable[[], None]) -> None:
        def done(found: tuple[Camera, ...]) -> None:
            self._cameras = found
            self._fill()
            then()

        if are_listed():
            done(cameras())
        else:
            self._desk.work.run(self.tr("looking for cameras"), cameras, done=done, key="cameras")

    def resume(self) -> None:
        """Go on with the camera or the watched folder of last time."""
        last = kept_source(self._desk.settings)

        def use() -> None:
            for camera in self._cameras:
                if self._source.name_of(camera) == last.name:
                    sizes = [self.size_choice.itemData(index) for index in range(self.size_choice.count())]
                    self.size_choice.setCurrentIndex(sizes.index(last.size) if last.size in sizes else 0)
                    self._use_camera(camera)
                    return
            text = self.tr("{name} is not plugged in: pictures come from files until it is chosen above.")
            self._desk.note(text.format(name=last.name))

        def watch(there: bool) -> None:
            if there:
                self._source.use_folder(last.name)

        if last.kind == FOLDER:  # a share on the network may take long to say whether it is there
            self._desk.work.run(self.tr("looking for the folder"), Path(last.name).is_dir, done=watch, key="folder")
        elif last.kind == CAMERA:
            self._find_cameras(use)

    def _fill(self) -> None:
        self.choice.blockSignals(True)
        self.choice.clear()
        self.choice.addItem(self.tr("picture files only"), (NONE, None))
        used = self._source.camera if self._source.kind == CAMERA else None  # it may be unplugged by now
        for camera in (*self._cameras, *((used,) if used is not None and used not in self._cameras else ())):
            self.choice.addItem(self._source.name_of(camera), (CAMERA, camera))
        for kind, words in (
            ("search", self.tr("look for cameras")), (VIDEO, self.tr("a video file…")),
            (FOLDER, self.tr("a watched folder…")), ("file", self.tr("open a picture file…")),
        ):  # fmt: skip
            self.choice.addItem(words, (kind, None))
        self.choice.blockSignals(False)
        self._show_choice()

    def _show_choice(self) -> None:
        source = self._source
        for index in range(self.choice.count()):
            kind, camera = self.choice.itemData(index)
            if kind == source.kind and camera == (source.camera if kind == CAMERA else None):
                self.choice.setCurrentIndex(index)
                if kind in (VIDEO, FOLDER):
                    what = self.tr("video") if kind == VIDEO else self.tr("folder")
                    self.choice.setItemText(index, f"{what}: {Path(source.name).name}")
                    self.choice.setToolTip(source.name)
                return

    def _chosen(self, index: int) -> None:
        kind, camera = self.choice.itemData(index)
        if kind == NONE:
            self._source.close()
            keep_source(self._desk.settings, LastSource(NONE))
        elif kind == "search":
            self.look_for_cameras(say=True)
        elif kind == CAMERA:
            self._choose_size(self._desk.settings.text(camera_key(self._source.name_of(camera), "size")))
            self._use_camera(camera)
        elif kind == VIDEO:
            self.ask_for_video()
        elif kind == FOLDER:
            self.ask_for_folder()
        else:
            self.picture_file.emit()
        self._show_choice()

    def ask_for_video(self) -> None:
        """Let the person choose a video file."""
        path, _ = QFileDialog.getOpenFileName(
            self, self.tr("Play a video"), self._desk.settings.text("videos"), self.tr("Videos") + f" ({VIDEOS})"
        )
        if path:
            self._desk.settings.set_text("videos", str(Path(path).parent))
            self._source.use_video(path)

    def ask_for_folder(self) -> None:
        """Let the person choose the folder that another program fills."""
        path = QFileDialog.getExistingDirectory(
            self, self.tr("Watch a folder"), self._desk.settings.text("watched")
        )  # fmt: skip
        if path:
            self._desk.settings.set_text("watched", path)
            self._source.use_folder(path)
            keep_source(self._desk.settings, LastSource(FOLDER, path))

    def _choose_size(self, kept: str) -> None:
        """Choose the size that was used with a camera last."""
        names = [_size_name(self.size_choice.itemData(index)) for index in range(self.size_choice.count())]
        if kept in names:
            self.size_choice.setCurrentIndex(names.index(kept))

    def _use_camera(self, camera: Camera) -> None:
        size = self.size_choice.currentData()
        self._desk.settings.set_text(camera_key(self._source.name_of(camera), "size"), _size_name(size))
        self._source.use_camera(camera, size)
        keep_source(self._desk.settings, LastSource(CAMERA, self._source.name, size))

    def _resized(self) -> None:
        if self._source.kind == CAMERA and self._source.camera is not None:
            self._use_camera(self._source.camera)

    # --- state

    def refresh(self) -> None:
        """Show the state of the source."""
        source = self._source
        live = source.kind in (CAMERA, VIDEO)
        self._fill()
        self.size_choice.setVisible(source.kind == CAMERA)
        self.kind_choice.setVisible(source.kind == CAMERA)
        self.kind_choice.setCurrentIndex(max(self.kind_choice.findData(source.pixel_format), 0))
        known = {} if source.capture is None else {s.name: s.value for s in source.capture.settings}
        known |= {name: value for name, value in source.remembered.items() if name in known}
        for name, (both, box) in self._settings.items():
            both.setVisible(name in known)
            if name in known and not box.hasFocus():
                box.blockSignals(True)
                box.setValue(known[name])
                box.blockSignals(False)
        for widget in (self._of_frames, self.take_button):
            widget.setVisible(live)
        self.pause.setVisible(live and source.state in (LIVE, PAUSED))
        self.pause.setText(self.tr("Go on") if source.state == PAUSED else self.tr("Pause"))
        self.again.setVisible(source.state == LOST)
        self.again.setText(self.tr("Play again") if source.kind == VIDEO else self.tr("Reconnect"))
        self.show_taking()
        self.setCursor(Qt.CursorShape.BusyCursor if source.state == OPENING else Qt.CursorShape.ArrowCursor)

    def show_taking(self) -> None:
        """Whether a picture can be taken, or how far it is."""
        share = self._source.taking
        self.take_button.setEnabled(self._source.can_take)
        words = (
            self.tr("Take (T)") if share is None else self.tr("Taking {percent} %").format(percent=round(100 * share))
        )
        if self.take_button.text() != words:
            self.take_button.setText(words)
