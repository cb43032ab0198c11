"""When the live picture is measured, by what, and what is said of its source first."""

from __future__ import annotations

from collections.abc import Callable, Sequence

from PySide6.QtCore import QObject, Signal

from calib.sample_calibration import is_sample
from flankwise.live import LiveReadings, Reading
from gui.bench.live import LiveNumbers
from gui.camera.looking import Looking
from gui.camera.source import CAMERA, VIDEO, Source
from gui.desk import Desk
from gui.picture_view import PictureView
from gui.theme import theme
from threads.shared.refusal import Reason
from vision.pictures.live_frame import Frame, is_colourless

READINGS_S = 0.1
"""Between two readings at least: what is left of the processor's time is the interface's."""
_LINES = "live"


class LiveMeasuring(QObject):
    """Frames in, numbers and outline shown. ``changed``: whether there is anything to measure, and by what.

    ``read(Reading)``: a frame was measured.
    """

    changed = Signal()
    read = Signal(object)

    def __init__(
        self, desk: Desk, source: Source, shown: LiveNumbers, picture: PictureView, defect: Callable[[Exception], None]
    ) -> None:
        super().__init__(shown)
        self._desk, self._source, self._shown, self._picture = desk, source, shown, picture
        self._looking = Looking(defect, READINGS_S, self)
        self._readings: LiveReadings | None = None
        self._size: tuple[int, int] | None = None
        self._here: tuple[object, ...] = ()
        self._anyway = self._colourless = False
        self._looking.seen.connect(self._measured)
        shown.measure_all_the_same.connect(self._measure_anyway)
        desk.bench_changed.connect(self._begin)
        source.changed.connect(self._source_changed)

    @property
    def possible(self) -> bool:
        """Whether there are a live picture and a calibration."""
        return self._readings is not None

    def offer(self, frame: Frame) -> None:
        """Measure the newest frame, unless one is being measured or something is to be said first."""
        size = (frame.shape[1], frame.shape[0])
        if size != self._size:
            self._size, self._colourless = size, is_colourless(frame)
            self._begin()
        if self._readings is not None and self._shown.isVisible() and not self._waits(self._doubts()):
            self._looking.offer(self._readings.read, frame)

    def close(self) -> None:
        """Measure no more."""
        self._looking.close()

    def _source_changed(self) -> None:
        here = (self._source.kind, self._source.name, self._source.size)
        if here != self._here:
            self._here, self._size = here, None
            self._begin()

    def _begin(self) -> None:
        """Another source, size of picture or calibration: what was read before belongs to the one before."""
        bench = self._desk.bench
        usable = bench is not None and not is_sample(bench.plane) and self._source.kind in (CAMERA, VIDEO)
        self._readings = LiveReadings(bench) if usable and bench is not None else None
        self._anyway = False
        self._shown.forget()
        self._picture.clear_lines(_LINES)
        self._say_doubts()
        self.changed.emit()

    def _doubts(self) -> tuple[Reason, ...]:
        bench = self._desk.bench
        if self._readings is None or bench is None or self._size is None:
            return ()
        return bench.remarks_on_source(self._source.camera_name, self._size, colourless=self._colourless)

    def _say_doubts(self) -> None:
        reasons = self._doubts()
        waits = self._waits(reasons)
        self._shown.show_doubts(reasons, waits=waits, hopeless=waits and _hopeless(reasons))

    def _waits(self, reasons: Sequence[Reason]) -> bool:
        return _hopeless(reasons) or (not self._anyway and any(one.code == "source_differs" for one in reasons))

    def _measure_anyway(self) -> None:
        self._anyway = True
        self._say_doubts()

    def _measured(self, found: tuple[object, Reading]) -> None:
        by, reading = found
        if self._readings is None or by != self._readings.read:
            return
        self._shown.show_reading(reading)
        self.read.emit(reading)
        if reading.outline and reading.frames > 1 and self._shown.isVisible():  # of one that moves it lags behind
            self._picture.set_lines(_LINES, reading.outline, theme().outline, 2.0)
        else:
            self._picture.clear_lines(_LINES)


def _hopeless(reasons: Sequence[Reason]) -> bool:
    return any(one.code == "calibration_picture_size" for one in reasons)
