"""Where the parts of an instrument sit: a picture of it, in which one clicks position after position."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING

from PySide6.QtCore import QPointF, QRectF, QSize, Qt, Signal
from PySide6.QtGui import QColor, QImage, QMouseEvent, QPainter, QPen
from PySide6.QtWidgets import QComboBox, QFileDialog, QHBoxLayout, QLabel, QPushButton, QVBoxLayout, QWidget

from gui.bench.gauge_row import PICTURES
from gui.calm import calm
from gui.desk import Desk
from gui.register import deeds
from gui.register.steps import Steps
from gui.theme import theme

if TYPE_CHECKING:
    from records.instrument_page import PlannedPlace

_LARGE_PX = 1400
_RADIUS = 10.0


class MapPicture(QWidget):
    """The picture with its marks. ``clicked(across, down)``: shares of its width and height."""

    clicked = Signal(float, float)

    def __init__(self) -> None:
        super().__init__()
        self.image = QImage()
        self.marks: list[tuple[str, float, float]] = []
        self.setCursor(Qt.CursorShape.CrossCursor)
        self.setAccessibleName(self.tr("Picture of the instrument"))

    def show_map(self, image: QImage, marks: list[tuple[str, float, float]]) -> None:
        """Show ``marks``: text, and shares of width and height."""
        self.image, self.marks = image, marks
        self.setVisible(not image.isNull())
        self.updateGeometry()
        self.update()

    def sizeHint(self) -> QSize:
        return QSize(320, self.heightForWidth(320))

    def hasHeightForWidth(self) -> bool:
        return True

    def heightForWidth(self, width: int) -> int:
        return 0 if self.image.isNull() else width * self.image.height() // self.image.width()

    def _place(self) -> QRectF:
        """Where the picture is: as large as there is room, from the upper left."""
        size = QSize(self.image.size()).scaled(self.size(), Qt.AspectRatioMode.KeepAspectRatio)
        return QRectF(0, 0, size.width(), size.height())

    def paintEvent(self, _event: object) -> None:
        painter = QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        place = self._place()
        painter.drawImage(place, self.image)
        for text, across, down in self.marks:
            at = QPointF(across * place.width(), down * place.height())
            painter.setPen(QPen(QColor(theme().ink), 1.5))
            painter.setBrush(QColor(theme().paper))
            wide = max(_RADIUS, painter.fontMetrics().horizontalAdvance(text) / 2 + 4)
            disc = QRectF(at.x() - wide, at.y() - _RADIUS, 2 * wide, 2 * _RADIUS)
            painter.drawRoundedRect(disc, _RADIUS, _RADIUS)
            painter.drawText(disc, Qt.AlignmentFlag.AlignCenter, text)
        painter.end()

    def mousePressEvent(self, event: QMouseEvent) -> None:
        place = self._place()
        if not self.image.isNull() and place.contains(event.position()):
            self.clicked.emit(event.position().x() / place.width(), event.position().y() / place.height())


class MapForm(QWidget):
    """Position by position: the one that is chosen is marked by a click, and the next one without a mark is chosen."""

    def __init__(self, desk: Desk, steps: Steps, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.desk, self._steps = desk, steps
        self._instrument = 0
        self._places: tuple[PlannedPlace, ...] = ()
        self._shown = deeds.MapShown(())
        self._new = ""
        """The picture that was opened and has no mark yet."""
        self.position = calm(QComboBox())
        self.position.setAccessibleName(self.tr("Position that is marked next"))
        self.position.setMinimumContentsLength(10)
        self.position.setSizeAdjustPolicy(QComboBox.SizeAdjustPolicy.AdjustToMinimumContentsLengthWithIcon)
        self.open = QPushButton(self.tr("Open a picture of it…"))
        self.open.clicked.connect(self._ask)
        self.hint = QLabel()
        self.hint.setWordWrap(True)
        self.hint.setProperty("faint", True)
        self.picture = MapPicture()
        self.picture.clicked.connect(self.mark)
        row = QHBoxLayout()
        row.addWidget(self.position, 1)
        row.addWidget(self.open)
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.addLayout(row)
        column.addWidget(self.hint)
        column.addWidget(self.picture)

    def show_places(self, instrument: int, places: Sequence[PlannedPlace]) -> None:
        """The positions of an instrument, with the numbers that the map gives them."""
        if instrument != self._instrument:
            self._new = ""
        self._instrument = instrument
        self._places = tuple(one for one in places if one.position is not None)
        self.desk.work.run(
            self.tr("reading the register"), deeds.map_of_instrument, self.desk.register_file, instrument,
            done=self._take, failed=lambda _: None, key="map of the instrument",
        )  # fmt: skip

    def open_picture(self, path: str) -> None:
        """Mark positions in the picture at ``path`` from now on."""
        self._new = path
        self._read(path)

    def _ask(self) -> None:
        folder = self.desk.settings.text("pictures")
        words = self.tr("Pictures") + f" ({PICTURES})"
        path, _ = QFileDialog.getOpenFileName(self, self.tr("A picture of the whole instrument"), folder, words)
        if path:
            self.open_picture(path)

    def _take(self, shown: deeds.MapShown) -> None:
        before, self._shown = self._shown, shown
        if shown.path and shown.path == before.path and not self._new and not self.picture.image.isNull():
            self._fill(self.picture.image)
        elif self._new or shown.path:
            self._read(self._new or shown.path)
        else:
            self._fill(QImage())

    def _read(self, path: str) -> None:
        self.desk.work.run(
            self.tr("reading the picture"), deeds.large_picture, path, _LARGE_PX, done=self._fill,
            failed=self.desk.refuse, key="picture of the map",
        )  # fmt: skip

    def _fill(self, image: QImage) -> None:
        marked = {one.position: one for one in self._shown.marks}
        numbers: dict[int, list[str]] = {}
        for place in self._places:
            numbers.setdefault(place.position or 0, []).append(str(place.number))
        here = [one for one in self._shown.marks if not self._new and one.picture == self._shown.picture]
        drawn = [(", ".join(numbers.get(one.position, [])), one.across, one.down) for one in here]
        self.picture.show_map(image, drawn)
        chosen = self.position.currentData()
        self.position.clear()
        for place in {one.position: one for one in self._places}.values():
            done = "✓ " if place.position in marked else ""
            self.position.addItem(f"{done}{place.number}  {place.name}", place.position)
        free = next((one.position for one in self._places if one.position not in marked), chosen)
        self.position.setCurrentIndex(max(self.position.findData(free), 0))
        self.hint.setText(
            self.tr("Open a picture of the whole instrument; then click where each position is.")
            if image.isNull()
            else self.tr("Click in the picture where the position above is.")
        )

    def mark(self, across: float, down: float) -> None:
        """The chosen position is there."""
        position, picture = self.position.currentData(), self._new or self._shown.picture
        file = self.desk.register_file
        if position is None or not picture:
            return
        self._new = ""
        self._steps.do(
            self.tr("position on the map"), lambda: deeds.mark_position(file, position, picture, across, down)
        )
