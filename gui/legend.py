"""What the colours and lines of a plot mean: a small box in its upper right corner."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from PySide6.QtCore import QPointF, QRectF, QSize, Qt
from PySide6.QtGui import QBrush, QColor, QFont, QPainter, QPaintEvent, QPen
from PySide6.QtWidgets import QApplication, QWidget

from gui.theme import theme

_SAMPLE = 20  # px, as wide as what is drawn before each name
_EDGE, _GAP = 5, 7
_LETTERS = 0.82  # of the usual size


@dataclass(frozen=True)
class Named:
    """One line of it: a hatched area with its outline, or only the line where there is no ``brush``."""

    words: str
    pen: QPen
    brush: QBrush | None = None


class Legend(QWidget):
    """It paints itself, lets the mouse through and is read out as one text."""

    def __init__(self, parent: QWidget) -> None:
        super().__init__(parent)
        self._lines: tuple[Named, ...] = ()
        self.setAttribute(Qt.WidgetAttribute.WA_TransparentForMouseEvents)
        self.setAccessibleName(self.tr("What the lines mean"))
        self.hide()

    def show_lines(self, lines: Sequence[Named]) -> None:
        """Name ``lines``; none: nothing is shown."""
        self._lines = tuple(lines)
        self.setAccessibleDescription("; ".join(line.words for line in lines))
        font = QFont(QApplication.font())
        font.setPointSizeF(_LETTERS * font.pointSizeF())
        self.setFont(font)
        self.resize(self.sizeHint())
        self.setVisible(bool(lines))
        self.update()

    @property
    def words(self) -> list[str]:
        """The names, from above."""
        return [line.words for line in self._lines]

    def put(self, right: int, top: int) -> None:
        """Lay it with its upper right corner there, px of the widget that it lies on."""
        self.move(right - self.width(), top)

    def sizeHint(self) -> QSize:
        metrics = self.fontMetrics()
        widest = max((metrics.horizontalAdvance(line.words) for line in self._lines), default=0)
        return QSize(2 * _EDGE + _SAMPLE + _GAP + widest + 1, 2 * _EDGE + len(self._lines) * metrics.height())

    def paintEvent(self, event: QPaintEvent) -> None:  # noqa: ARG002
        now, metrics = theme(), self.fontMetrics()
        painter = QPainter(self)
        ground = QColor(now.raised)
        ground.setAlpha(215)  # the plot shows through, the words stand out
        painter.fillRect(self.rect(), ground)
        high = metrics.height()
        for number, line in enumerate(self._lines):
            top = _EDGE + number * high
            painter.setPen(line.pen)
            middle = top + high / 2
            if line.brush is None:
                painter.drawLine(QPointF(_EDGE, middle), QPointF(_EDGE + _SAMPLE, middle))
            else:
                painter.setBrush(line.brush)
                painter.drawRect(QRectF(_EDGE + 0.5, middle - 0.36 * high, _SAMPLE - 1, 0.72 * high))
            painter.setPen(QColor(now.ink))
            painter.drawText(QPointF(_EDGE + _SAMPLE + _GAP, top + metrics.ascent()), line.words)
