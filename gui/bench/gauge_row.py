"""One gauge that is laid down: what it is, its size as typed, its picture, and at once what the picture says."""

from __future__ import annotations

from pathlib import Path

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QFileDialog, QFrame, QHBoxLayout, QLineEdit, QPushButton, QVBoxLayout, QWidget

from calib.bench import DEFAULT_U95_MM, GRID, PIN, RULINGS
from calib.gauge_detection import DetectedGauge
from calib.laid_gauges import LaidGauge
from gui.bench.gauge_picture import GaugePicture, SeenGauge, see_gauge
from gui.bench.small import label, line, mark
from gui.desk import Desk
from gui.elided import ElidedLabel
from gui.with_unit import with_unit
from gui.worded import worded, worded_error
from threads.shared.formatting import format_quantity
from threads.shared.quantity import Quantity
from threads.shared.refusal import Reason, RefusalError
from threads.shared.typed import TypedError, parse_length

PICTURES = "*.png *.jpg *.jpeg *.tif *.tiff *.bmp"


class GaugeRow(QFrame):
    """``changed``: something about the gauge is other. ``live_wanted``: take its picture from the live source now.

    ``removed``: the person takes the gauge away. ``shown(SeenGauge)``: its picture was read, or is wanted large.
    """

    changed = Signal()
    live_wanted = Signal()
    removed = Signal()
    shown = Signal(object)

    def __init__(self, desk: Desk, what: str, *, removable: bool = True, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.setProperty("card", True)
        self._desk, self.what = desk, what
        self.path = ""
        self.look: DetectedGauge | None = None
        self._key = f"gauge {id(self)}"
        names = {
            PIN: (self.tr("Pin"), self.tr("Diameter of the pin"), "2.500 mm"),
            RULINGS: (self.tr("Stage micrometer"), self.tr("Distance of its finest divisions"), "0.01 mm"),
            GRID: (self.tr("Grid"), self.tr("Side of a square, or distance of dots"), "1 mm"),
        }
        self.name, size_name, example = names[what]
        self.setAccessibleName(self.name)
        self.size_edit: QLineEdit = line(size_name, example)
        self.u95_edit: QLineEdit = line(self.tr("U95 of it, from the certificate"), f"{1000 * DEFAULT_U95_MM:g} µm")
        self.size_edit.setToolTip(size_name)
        self.u95_edit.setToolTip(self.tr("Left empty, 1 µm is assumed and said so."))
        self.live = QPushButton(self.tr("Take"))
        self.live.setToolTip(self.tr("Take its picture from the live source"))
        self.live.setAccessibleName(self.tr("Take the picture of this gauge"))
        self.file = QPushButton(self.tr("File…"))
        self.file.setAccessibleName(self.tr("Picture file of this gauge"))
        remove = QPushButton("×")
        remove.setProperty("flat", True)
        remove.setAccessibleName(self.tr("Take this gauge away"))
        remove.setToolTip(self.tr("Take this gauge away"))
        remove.setVisible(removable)
        self._picture = ElidedLabel()
        self._picture.setProperty("faint", True)
        self.seen = GaugePicture()
        self.seen.clicked.connect(lambda: self.shown.emit(self.seen.seen))
        self._status = label()
        self._status.setAccessibleName(self.tr("What its picture says"))
        self._lay_out(remove)
        self.live.clicked.connect(self.live_wanted)
        self.file.clicked.connect(self.ask_for_file)
        remove.clicked.connect(self.removed)
        for edit in (self.size_edit, self.u95_edit):
            edit.textChanged.connect(self._typed)
            edit.editingFinished.connect(lambda: self._show(finished=True))
        self.size_edit.editingFinished.connect(self._with_unit)
        self._say(self.tr("Type its size, then take its picture."), "")

    def _lay_out(self, remove: QPushButton) -> None:
        head, fields, pictures = QHBoxLayout(), QHBoxLayout(), QHBoxLayout()
        head.addWidget(label(self.name, kind="heading", wrap=False), 1)
        head.addWidget(remove)
        fields.addWidget(self.size_edit, 5)
        fields.addWidget(label("±", wrap=False))
        fields.addWidget(self.u95_edit, 3)
        pictures.addWidget(self.live)
        pictures.addWidget(self.file)
        pictures.addWidget(self._picture, 1)
        column = QVBoxLayout(self)
        column.setContentsMargins(10, 6, 8, 8)
        column.setSpacing(4)
        for row in (head, fields, pictures):
            column.addLayout(row)
        below = QHBoxLayout()
        below.addWidget(self.seen)
        below.addWidget(self._status, 1)
        column.addLayout(below)

    # --- what is known

    @property
    def size_mm(self) -> float | None:
        """The size as typed, mm; None where it is none."""
        return _length(with_unit(self.size_edit.text(), inches=self._desk.inches))

    @property
    def u95_mm(self) -> float | None:
        """Its U95, mm: the usual one where nothing was typed; None where what was typed is no length."""
        return DEFAULT_U95_MM if not self.u95_edit.text().strip() else _length(self.u95_edit.text())

    @property
    def complete(self) -> bool:
        """Whether size, U95 and a picture that could be read are there."""
        return self.size_mm is not None and self.u95_mm is not None and self.look is not None

    @property
    def status(self) -> str:
        """What is said about the gauge."""
        return self._status.text()

    # --- hands

    def ask_for_file(self) -> None:
        """Let the person choose the gauge's picture."""
        folder = self._desk.settings.text("gauges")
        path, _ = QFileDialog.getOpenFileName(
            self, self.tr("Picture of the gauge"), folder, self.tr("Pictures") + f" ({PICTURES})"
        )
        if path:
            self._desk.settings.set_text("gauges", str(Path(path).parent))
            self.set_picture(path)

    def set_picture(self, path: str) -> None:
        """Read the gauge in the picture ``path``, in the background."""
        self.path, self.look = path, None
        self.seen.show_gauge(None)
        self._picture.setText(Path(path).name)
        self._say(self.tr("Being read…"), "")
        self._desk.work.run(
            self.tr("reading the gauge"), see_gauge, self.what, path, done=self._read, failed=self._refused,
            key=self._key,
        )  # fmt: skip
        self.changed.emit()

    def put_picture_aside(self) -> None:
        """The gauge is as typed, and waits for a new picture."""
        if self.path:
            self.forget()
            self.path, self.look = "", None
            self.seen.show_gauge(None)
            self._picture.setText("")
        self._show()
        if self.size_mm is None:
            self._say(self.tr("Type its size, then take its picture."), "")
        self.changed.emit()

    def laid(self) -> LaidGauge:
        """The gauge as it goes into the calibration; for a row that is complete."""
        assert self.size_mm is not None
        return LaidGauge(self.what, self.path, self.size_mm, self.u95_mm if self.u95_edit.text().strip() else None)

    def wait_for_picture(self) -> None:
        """Say that the next picture that comes is this gauge's."""
        self._say(self.tr("Waits for the next picture in the folder."), "")

    def forget(self) -> None:
        """Give up what is being read."""
        self._desk.work.cancel(self._key)

    # --- what is said

    def _read(self, seen: SeenGauge) -> None:
        self.look = seen.found
        self.seen.show_gauge(seen)
        self._show()
        self.changed.emit()
        self.shown.emit(seen)

    def _refused(self, error: Exception) -> None:
        several = isinstance(error, RefusalError) and error.reasons[0].code == "several_parts"
        self._say(worded(Reason("several_parts.gauges")) if several else worded_error(error), "bad")
        self.changed.emit()

    def _with_unit(self) -> None:
        """A bare number was meant in the unit of the window: say so, before that changes."""
        text = with_unit(self.size_edit.text(), inches=self._desk.inches)
        if text != self.size_edit.text() and _length(text) is not None:
            self.size_edit.setText(text)

    def _typed(self) -> None:
        self._show()
        self.changed.emit()

    def _show(self, *, finished: bool = False) -> None:
        for edit, text in (
            (self.size_edit, with_unit(self.size_edit.text(), inches=self._desk.inches)),
            (self.u95_edit, self.u95_edit.text()),
        ):
            problem = _problem(text, edit.accessibleName())
            # nobody is told off in the middle of a word
            mark(edit, "wrong", bool(problem) and finished)
            if problem:
                hint = self.tr("With its unit, for example {example}.").format(example=edit.placeholderText())
                self._say(problem if finished else hint, "bad" if finished else "")
                return
        if self.look is None:
            if not self.path:
                self._say(self.tr("Now take its picture."), "")
            return
        look = self.look
        seen = format_quantity(Quantity(look.step_px, look.u_px, "px"))
        if look.what == PIN:
            text = self.tr("Read: {seen} thick.").format(seen=seen)
        else:
            text = self.tr("Read: {seen} a step, {steps} steps.").format(seen=seen, steps=look.steps)
        size = self.size_mm
        if size is None:
            text += "  " + self.tr("Type its size.")
        else:
            # one gauge does not know the edge offset: this is as much as it can say
            text += "  " + self.tr("About {scale} µm a pixel.").format(scale=f"{1000 * size / look.step_px:.2f}")
        self._say(text, "")

    def _say(self, text: str, verdict: str) -> None:
        self._status.setText(text)
        mark(self._status, "verdict", verdict)
        self._status.setAccessibleDescription(text)


def _length(text: str) -> float | None:
    try:
        return parse_length(text)
    except TypedError:
        return None


def _problem(text: str, name: str) -> str:
    """What is wrong with what was typed; "" for nothing, and for what is still empty."""
    if not text.strip():
        return ""
    try:
        parse_length(text, name)
    except TypedError as error:
        return worded_error(error)
    return ""
