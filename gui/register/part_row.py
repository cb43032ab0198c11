"""How one part on file is drawn in the list: its picture, what it is, where it belongs, its thread and its size."""

from __future__ import annotations

from dataclasses import dataclass

from PySide6.QtCore import QModelIndex, QObject, QPersistentModelIndex, QRect, QSize, Qt
from PySide6.QtGui import QColor, QFont, QFontMetrics, QImage, QPainter
from PySide6.QtWidgets import QStyle, QStyledItemDelegate, QStyleOptionViewItem

from gui.theme import figures_font, theme

_GAP = 8
_AROUND = 4 * _GAP + 9  # px of a row beside its picture and its words
_LEAST_PICTURE = 72  # px
_LONGEST = "0.000000 ± 0.000000 in"


@dataclass(frozen=True)
class Row:
    """What is drawn.

    ``value`` is ``size`` in fewer words, for a narrow list. ``picture`` is None while it is being read; ``faint``: the
    part was withdrawn.
    """

    name: str
    where: str
    says: str
    size: str
    value: str
    picture: QImage | None
    faint: bool = False


class PartRow(QStyledItemDelegate):
    """Draws the rows; the model gives them by the role ``role``."""

    PICTURE = QSize(136, 92)

    def __init__(self, role: int, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self._role = role

    @classmethod
    def height(cls, font: QFont) -> int:
        """Of every row where words are written in ``font``, px."""
        return max(cls.PICTURE.height(), 4 * QFontMetrics(font).lineSpacing()) + 2 * _GAP

    @classmethod
    def least_width(cls, font: QFont) -> int:
        """In which a picture and the longest number have room, px."""
        return _AROUND + _LEAST_PICTURE + _wide(_LONGEST, font)

    @classmethod
    def frame(cls, place: QRect, row: Row | None, font: QFont) -> QRect:
        """Where the picture of ``row`` goes: it gives way to the number beside it."""
        room = place.width() - _AROUND - (0 if row is None else _wide(row.value, font))
        wide = min(cls.PICTURE.width(), max(room, _LEAST_PICTURE))
        return QRect(place.left() + _GAP + 5, place.top() + _GAP, wide, cls.PICTURE.height())

    @classmethod
    def words_beside(cls, place: QRect, frame: QRect) -> QRect:
        """Where the words go."""
        text = QRect(place)
        text.setLeft(frame.right() + _GAP + 4)
        text.setRight(place.right() - _GAP)
        return text

    def sizeHint(self, option: QStyleOptionViewItem, index: QModelIndex | QPersistentModelIndex) -> QSize:  # noqa: ARG002
        return QSize(0, self.height(option.font))

    def paint(
        self, painter: QPainter, option: QStyleOptionViewItem, index: QModelIndex | QPersistentModelIndex
    ) -> None:
        now, place = theme(), option.rect
        row = index.data(self._role)
        chosen = bool(option.state & QStyle.StateFlag.State_Selected)
        painter.save()
        painter.fillRect(place, QColor(now.raised if chosen else now.sunk))
        if chosen:  # a bar beside the picture: its colours stay as they are
            painter.fillRect(QRect(place.left(), place.top(), 5, place.height()), QColor(now.accent))
        painter.setPen(QColor(now.line))
        painter.drawLine(place.bottomLeft(), place.bottomRight())
        frame = self.frame(place, row, option.font)
        if row is not None:
            self._draw_picture(painter, frame, row)
            self._draw_words(painter, self.words_beside(place, frame), row, option.font)
        else:
            painter.fillRect(frame, QColor(now.picture))
        painter.restore()

    def _draw_picture(self, painter: QPainter, frame: QRect, row: Row) -> None:
        if row.picture is None or row.picture.isNull():
            painter.fillRect(frame, QColor(theme().picture))
            return
        size = row.picture.size().scaled(frame.size(), Qt.AspectRatioMode.KeepAspectRatio)
        there = QRect(frame.topLeft(), size)
        there.moveCenter(frame.center())
        painter.setRenderHint(QPainter.RenderHint.SmoothPixmapTransform)
        painter.setOpacity(0.5 if row.faint else 1.0)
        painter.drawImage(there, row.picture)
        painter.setOpacity(1.0)

    def _draw_words(self, painter: QPainter, place: QRect, row: Row, font: QFont) -> None:
        now = theme()
        strong = QFont(font)
        strong.setBold(True)
        figures = figures_font(font)
        fits = _wide(row.size, font) <= place.width()
        parts = (
            (row.name, strong, now.faint if row.faint else now.ink),
            (row.where, font, now.faint),
            (row.says, font, now.ink),
            (row.size if fits else row.value, figures, now.ink),
        )
        high = QFontMetrics(strong).lineSpacing()
        top = place.top() + max((place.height() - len(parts) * high) // 2, 0)
        for text, with_font, colour in parts:
            painter.setFont(with_font)
            painter.setPen(QColor(colour))
            line = QRect(place.left(), top, place.width(), high)
            fitted = QFontMetrics(with_font).elidedText(text, Qt.TextElideMode.ElideRight, line.width())
            painter.drawText(line, Qt.AlignmentFlag.AlignVCenter | Qt.AlignmentFlag.AlignLeft, fitted)
            top += high


def _wide(number: str, font: QFont) -> int:
    return QFontMetrics(figures_font(font)).horizontalAdvance(number)
