"""Three plain signs under the live picture: a shape, a word, a sentence; colour last."""

from __future__ import annotations

from PySide6.QtCore import QPointF, QRectF, QSize, Qt
from PySide6.QtGui import QColor, QPainter, QPaintEvent, QPen, QResizeEvent
from PySide6.QtWidgets import QFrame, QGridLayout, QHBoxLayout, QSizePolicy, QWidget

from gui.bench.sign_words import alignment_words, focus_words, light_words
from gui.bench.small import enlarged, label, mark
from gui.theme import theme
from vision.locate.live_detection import LiveDetection
from vision.locate.live_signs import alignment_sign, focus_sign, light_sign

_SHAPE, _TALLEST = 2.3, 26
"""Lines of text, and the tallest line that counts."""
_SENTENCE = 1.12
"""Times the size of plain text: read from 60 cm."""
_BESIDE = 12  # px


class _Shape(QWidget):
    """A disc with a tick: good. A triangle with a stroke: change. An empty ring: nothing known."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._good: bool | None = None
        self.setSizePolicy(QSizePolicy.Policy.Fixed, QSizePolicy.Policy.Fixed)

    def show_state(self, good: bool | None) -> None:
        if good != self._good:
            self._good = good
            self.update()

    def sizeHint(self) -> QSize:
        side = round(_SHAPE * min(self.fontMetrics().height(), _TALLEST))
        return QSize(side, side)

    def paintEvent(self, event: QPaintEvent) -> None:  # noqa: ARG002
        now = theme()
        side = float(min(self.width(), self.height()))
        painter = QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        painter.scale(side / 100, side / 100)
        stroke = QPen(QColor(now.raised), 11, Qt.PenStyle.SolidLine, Qt.PenCapStyle.RoundCap, Qt.PenJoinStyle.RoundJoin)
        if self._good is None:
            painter.setPen(QPen(QColor(now.faint), 6, Qt.PenStyle.DashLine))
            painter.drawEllipse(QRectF(12, 12, 76, 76))
        elif self._good:
            painter.setPen(Qt.PenStyle.NoPen)
            painter.setBrush(QColor(now.good))
            painter.drawEllipse(QRectF(8, 8, 84, 84))
            painter.setPen(stroke)
            painter.drawPolyline([QPointF(30, 52), QPointF(45, 67), QPointF(71, 35)])
        else:
            painter.setPen(QPen(QColor(now.bad), 8, Qt.PenStyle.SolidLine, Qt.PenCapStyle.RoundCap,
                                Qt.PenJoinStyle.RoundJoin))  # fmt: skip
            painter.setBrush(QColor(now.bad))
            painter.drawPolygon([QPointF(50, 12), QPointF(92, 86), QPointF(8, 86)])
            painter.setPen(stroke)
            painter.drawLine(QPointF(50, 38), QPointF(50, 60))
            painter.drawPoint(QPointF(50, 75))


class SignCard(QFrame):
    """One sign."""

    def __init__(self, name: str, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.setProperty("card", True)
        self._name = name
        self.setAccessibleName(name)
        self._shape = _Shape()
        heading = label(name, kind="faint", wrap=False)
        self._word = enlarged(label(wrap=False), 1.6)
        self._sentence = enlarged(label(), _SENTENCE)
        self._sentence.setAlignment(Qt.AlignmentFlag.AlignTop | Qt.AlignmentFlag.AlignLeft)
        self.theme_changed()
        grid = QGridLayout(self)
        grid.setContentsMargins(_BESIDE, 8, _BESIDE, 8)
        grid.setHorizontalSpacing(12)
        grid.setVerticalSpacing(2)
        grid.addWidget(self._shape, 0, 0, 2, 1)
        grid.addWidget(heading, 0, 1)
        grid.addWidget(self._word, 1, 1)
        grid.addWidget(self._sentence, 2, 0, 1, 2)
        grid.setColumnStretch(1, 1)
        self.show_sign(None, self.tr("No live picture."))

    def theme_changed(self) -> None:
        """Text has another size."""
        self._fit()
        self._shape.updateGeometry()

    def resizeEvent(self, event: QResizeEvent) -> None:
        super().resizeEvent(event)
        self._fit()

    def _fit(self) -> None:
        """Keep room for three lines, so that nothing jumps while the part is moved; for more where it is narrow."""
        room = self._sentence.heightForWidth(self.width() - 2 * _BESIDE)
        self._sentence.setMinimumHeight(max(3 * self._sentence.fontMetrics().lineSpacing() + 4, room))

    @property
    def good(self) -> bool | None:
        """What is shown."""
        return self._good

    @property
    def sentence(self) -> str:
        return self._sentence.text()

    def show_sign(self, good: bool | None, sentence: str) -> None:
        """Show the sign with its sentence."""
        self._good = good
        word = {True: self.tr("good"), False: self.tr("change"), None: "–"}[good]
        self._shape.show_state(good)
        if self._word.text() != word:
            self._word.setText(word)
            mark(self._word, "verdict", {True: "good", False: "bad", None: ""}[good])
        if self._sentence.text() != sentence:
            self._sentence.setText(sentence)
            self.setAccessibleDescription(f"{word}. {sentence}")
            self._fit()


class Signs(QWidget):
    """Light, focus and alignment beside each other."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.light, self.focus, self.alignment = (
            SignCard(name) for name in (self.tr("Light"), self.tr("Focus"), self.tr("Alignment"))
        )
        self._least_blur: float | None = None
        row = QHBoxLayout(self)
        row.setContentsMargins(0, 0, 0, 0)
        row.setSpacing(8)
        for sign in (self.light, self.focus, self.alignment):
            row.addWidget(sign, 1)

    def theme_changed(self) -> None:
        """Text has another size."""
        for sign in (self.light, self.focus, self.alignment):
            sign.theme_changed()

    def forget(self) -> None:
        """There is no live picture, or another one."""
        self._least_blur = None
        for sign in (self.light, self.focus, self.alignment):
            sign.show_sign(None, self.tr("No live picture."))

    def show_look(self, look: LiveDetection) -> None:
        """Show what a frame says."""
        light, focus, alignment = light_sign(look), focus_sign(look), alignment_sign(look)
        self.light.show_sign(light.good, light_words(light))
        self.focus.show_sign(focus.good, focus_words(focus, self._least_blur))
        self.alignment.show_sign(alignment.good, alignment_words(alignment, look))
        if look.blur_px is not None:
            self._least_blur = look.blur_px if self._least_blur is None else min(self._least_blur, look.blur_px)
