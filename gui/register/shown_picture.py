"""The picture of the chosen part: as wide as there is room, the small one until the large one was read."""

from __future__ import annotations

from PySide6.QtCore import QRect, QSize, Qt, Signal
from PySide6.QtGui import QColor, QImage, QMouseEvent, QPainter, QPaintEvent
from PySide6.QtWidgets import QSizePolicy, QWidget

from gui.theme import theme

_SHAPE = 0.37
_MOST_HIGH = 400  # px


class ShownPicture(QWidget):
    """``pressed``: the person wants to see it at work (a double click)."""

    pressed = Signal()

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._image = QImage()
        self.setAccessibleName(self.tr("Picture of the part on file"))
        policy = QSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Preferred)
        policy.setHeightForWidth(True)
        self.setSizePolicy(policy)

    def show_image(self, image: QImage) -> None:
        """Show ``image``; a null one is none."""
        self._image = image
        self.setVisible(not image.isNull())
        self.update()

    @property
    def image(self) -> QImage:
        """What is shown."""
        return self._image

    def sizeHint(self) -> QSize:
        return QSize(320, self.heightForWidth(320))

    def heightForWidth(self, width: int) -> int:
        """As high as leaves the sizes in view."""
        return min(round(_SHAPE * width), _MOST_HIGH)

    def mouseDoubleClickEvent(self, event: QMouseEvent) -> None:  # noqa: ARG002
        self.pressed.emit()

    def paintEvent(self, event: QPaintEvent) -> None:  # noqa: ARG002
        painter = QPainter(self)
        painter.fillRect(self.rect(), QColor(theme().picture))
        if self._image.isNull():
            return
        there = QRect(self.rect().topLeft(), self._image.size().scaled(self.size(), Qt.AspectRatioMode.KeepAspectRatio))
        there.moveCenter(self.rect().center())
        painter.setRenderHint(QPainter.RenderHint.SmoothPixmapTransform)
        painter.drawImage(there, self._image)
