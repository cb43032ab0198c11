"""The tray along the lower edge of the window: a row of cards, one of them highlighted."""

from __future__ import annotations

from typing import Any

from PySide6.QtCore import (
    QAbstractListModel,
    QItemSelectionModel,
    QModelIndex,
    QPersistentModelIndex,
    QRect,
    QSize,
    Qt,
    Signal,
)
from PySide6.QtGui import QColor, QFont, QFontMetrics, QImage, QKeyEvent, QPainter, QPen, QResizeEvent, QWheelEvent
from PySide6.QtWidgets import (
    QFrame,
    QHBoxLayout,
    QLabel,
    QListView,
    QPushButton,
    QStyledItemDelegate,
    QStyleOptionViewItem,
    QVBoxLayout,
    QWidget,
)

from gui.desk import Desk
from gui.picture_view import image_of
from gui.theme import figures_font, theme
from gui.tray.cards import Card, State
from gui.tray.words import facts_words, sign_of, state_words, step_words
from gui.turns import Soon
from gui.worded import worded

_CARD = Qt.ItemDataRole.UserRole
_LETTERS, _MOST_LETTERS = 15, 40
"""So many of the name stand on a card at least, and at most where there is room."""
_PICTURE = QSize(72, 54)
_GAP = 7
Index = QModelIndex | QPersistentModelIndex


class TrayModel(QAbstractListModel):
    """A row a card. Only what has changed is told of, so that a long tray stays quick."""

    def __init__(self, desk: Desk) -> None:
        super().__init__(desk)
        self._desk = desk
        self._cards: tuple[Card, ...] = ()
        desk.units_changed.connect(self._said_anew)

    def rowCount(self, parent: Index = QModelIndex()) -> int:  # noqa: B008
        return 0 if parent.isValid() else len(self._cards)

    def data(self, index: Index, role: int = Qt.ItemDataRole.DisplayRole) -> Any:
        if not 0 <= index.row() < len(self._cards):
            return None
        card = self._cards[index.row()]
        if role == _CARD:
            return card
        facts = facts_words(card, inches=self._desk.inches)
        words = (card.name, state_words(card), step_words(card), facts, *map(worded, card.doubts))
        if role in (Qt.ItemDataRole.DisplayRole, Qt.ItemDataRole.AccessibleTextRole):
            return ", ".join(word for word in words if word)
        return "\n".join(word for word in words if word) if role == Qt.ItemDataRole.ToolTipRole else None

    def show_cards(self, cards: tuple[Card, ...]) -> None:
        """Show ``cards`` in place of those before."""
        before, numbers = self._cards, [card.number for card in cards]
        kept = [card.number for card in before]
        if numbers[: len(kept)] == kept:  # the usual: the same, and perhaps more at the end
            if len(numbers) > len(kept):
                self.beginInsertRows(QModelIndex(), len(kept), len(numbers) - 1)
                self._cards = cards
                self.endInsertRows()
            self._cards = cards
            for row, (one, other) in enumerate(zip(before, cards, strict=False)):
                if one is not other:
                    self.dataChanged.emit(self.index(row), self.index(row))
            return
        self.beginResetModel()
        self._cards = cards
        self.endResetModel()

    def row_of(self, number: int) -> int | None:
        """The row of the card of that number."""
        return next((row for row, card in enumerate(self._cards) if card.number == number), None)

    def _said_anew(self) -> None:
        if self._cards:
            self.dataChanged.emit(self.index(0), self.index(len(self._cards) - 1))


class CardDelegate(QStyledItemDelegate):
    """Draws a card: its picture, its name, its state as a sign and a word, and what was found."""

    def __init__(self, desk: Desk, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._desk = desk
        self._images: dict[int, tuple[object, QImage]] = {}
        self.room = 0
        """How wide the tray is, px: few cards are wide enough for long names."""

    def sizeHint(self, option: QStyleOptionViewItem, index: Index) -> QSize:  # noqa: ARG002
        metrics = QFontMetrics(option.font)
        letter, beside = metrics.averageCharWidth(), _PICTURE.width() + 3 * _GAP
        least = max(_LETTERS * letter, 96) + beside
        wide = min(max(self.room // max(len(self._desk.tray.cards), 1), least), _MOST_LETTERS * letter + beside)
        return QSize(wide, max(_PICTURE.height(), 3 * metrics.lineSpacing()) + 2 * _GAP)

    def paint(self, painter: QPainter, option: QStyleOptionViewItem, index: Index) -> None:
        card, now = index.data(_CARD), theme()
        if card is None:
            return
        chosen = card.number == self._desk.tray.at
        place = QRect(option.rect).adjusted(2, 2, -2, -2)
        painter.save()
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        pen = QPen(QColor(now.accent if chosen else now.line), 3 if chosen else 1)
        painter.setPen(pen)
        painter.setBrush(QColor(now.sunk if chosen else now.raised))
        painter.drawRoundedRect(place.adjusted(1, 1, -1, -1), 5, 5)
        frame = QRect(place.left() + _GAP, place.top(), _PICTURE.width(), _PICTURE.height())
        frame.moveTop(place.center().y() - _PICTURE.height() // 2)
        self._draw_picture(painter, frame, card)
        text = QRect(place)
        text.setLeft(frame.right() + _GAP)
        text.setRight(place.right() - _GAP)
        self._draw_words(painter, text, card, option.font, chosen=chosen)
        painter.restore()

    def _draw_picture(self, painter: QPainter, frame: QRect, card: Card) -> None:
        painter.fillRect(frame, QColor(theme().picture))
        small = card.piece.small
        if small is None:
            return
        known = self._images.get(card.number)
        if known is None or known[0] is not small:
            known = (small, image_of(small))
            self._images[card.number] = known
        size = known[1].size().scaled(frame.size(), Qt.AspectRatioMode.KeepAspectRatio)
        there = QRect(frame.topLeft(), size)
        there.moveCenter(frame.center())
        painter.setRenderHint(QPainter.RenderHint.SmoothPixmapTransform)
        painter.setOpacity(0.55 if card.stale or card.state is State.FILED else 1.0)
        painter.drawImage(there, known[1])
        painter.setOpacity(1.0)

    def _draw_words(self, painter: QPainter, place: QRect, card: Card, font: QFont, *, chosen: bool) -> None:
        now = theme()
        strong, figures = QFont(font), figures_font(font)
        strong.setBold(chosen or not card.settled)
        colours = {
            State.READY: now.open if card.given is not None else now.good,
            State.REFUSED: now.bad,
            State.FILED: now.faint,
        }
        facts = facts_words(card, inches=self._desk.inches)
        end, middle = Qt.TextElideMode.ElideRight, Qt.TextElideMode.ElideMiddle  # names and positions end in a number
        lines = (
            (card.name, strong, now.ink if not card.settled or chosen else now.faint, middle),
            (f"{sign_of(card)} {state_words(card)}", font, colours.get(card.state, now.open), middle),
            (facts, figures, now.faint if card.stale or card.settled else now.ink, end),
        )
        high = QFontMetrics(strong).lineSpacing()
        top = place.center().y() - len(lines) * high // 2
        for text, with_font, colour, side in lines:
            painter.setFont(with_font)
            painter.setPen(QColor(colour))
            line = QRect(place.left(), top, place.width(), high)
            painter.drawText(
                line,
                Qt.AlignmentFlag.AlignVCenter | Qt.AlignmentFlag.AlignLeft,
                QFontMetrics(with_font).elidedText(text, side, line.width()),
            )
            top += high

    def forget(self, numbers: set[int]) -> None:
        """Let go of the pictures of all other cards."""
        self._images = {number: kept for number, kept in self._images.items() if number in numbers}


class Cards(QListView):
    """The row itself. The wheel scrolls; arrows move the highlight; Enter is told of."""

    chosen = Signal(int)
    entered_key = Signal()

    def __init__(self, desk: Desk, model: TrayModel, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.setAccessibleName(self.tr("Tray: pictures that arrived"))
        self.setProperty("tray", True)
        self.setModel(model)
        self.drawn = CardDelegate(desk, self)
        self.setItemDelegate(self.drawn)
        self.setFlow(QListView.Flow.LeftToRight)
        self.setWrapping(False)
        self.setUniformItemSizes(True)
        self.setFrameShape(QFrame.Shape.NoFrame)
        self.setHorizontalScrollMode(QListView.ScrollMode.ScrollPerPixel)
        self.setVerticalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.setEditTriggers(QListView.EditTrigger.NoEditTriggers)
        self.clicked.connect(lambda index: self.chosen.emit(index.data(_CARD).number))

    def fit(self) -> None:
        """As high as a card at this size of text, and the bar below it."""
        high = self.sizeHintForRow(0) if self.model().rowCount() else 0
        bar = self.horizontalScrollBar()
        room = bar.sizeHint().height() if bar.maximum() > 0 else 0
        self.setFixedHeight(max(high, _PICTURE.height() + 2 * _GAP) + room + 2)

    def resizeEvent(self, event: QResizeEvent) -> None:
        self.drawn.room = self.viewport().width()
        self.scheduleDelayedItemsLayout()
        super().resizeEvent(event)

    def wheelEvent(self, event: QWheelEvent) -> None:
        delta = event.angleDelta()
        bar = self.horizontalScrollBar()
        bar.setValue(bar.value() - (delta.y() or delta.x()))
        event.accept()

    def keyPressEvent(self, event: QKeyEvent) -> None:
        if event.key() in (Qt.Key.Key_Return, Qt.Key.Key_Enter):
            self.entered_key.emit()
            return
        super().keyPressEvent(event)
        index = self.currentIndex()
        if index.isValid():
            self.chosen.emit(index.data(_CARD).number)


class TrayView(QFrame):
    """The tray, and beside it how many cards are still to be filed, and what can be done with the highlighted one.

    It is hidden while it is empty. ``enter``: Enter was pressed on a card.
    """

    enter = Signal()

    def __init__(self, desk: Desk, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._desk = desk
        self.setProperty("foot", True)
        self.model = TrayModel(desk)
        self.cards = Cards(desk, self.model)
        self.cards.chosen.connect(desk.highlight)
        self.cards.entered_key.connect(self.enter)
        self.count = QLabel()
        self.count.setProperty("faint", True)
        self.count.setAlignment(Qt.AlignmentFlag.AlignRight)
        self.out = self._button(self.tr("Take it out"), desk.take_out)
        self.out.setToolTip(self.tr("Take the highlighted picture out of the tray") + "  (Alt+Del)")
        self.back = self._button("", desk.put_back)
        column = QVBoxLayout()
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(0)
        column.addWidget(self.count)
        for button in (self.back, self.out):
            column.addWidget(button, 0, Qt.AlignmentFlag.AlignRight)
        column.addStretch(1)
        row = QHBoxLayout(self)
        row.setContentsMargins(12, 3, 14, 3)
        row.setSpacing(10)
        row.addWidget(self.cards, 1)
        row.addLayout(column)
        self.cards.horizontalScrollBar().rangeChanged.connect(lambda *_: self.cards.fit())
        self._soon = Soon(self, self._show, 0)
        desk.tray_changed.connect(self._soon.want)
        self._show()

    def _button(self, words: str, do: Any) -> QPushButton:
        button = QPushButton(words)
        button.setProperty("flat", True)
        button.clicked.connect(lambda *_: do())
        return button

    def theme_changed(self) -> None:
        """Take the current colours and the size of text."""
        self.cards.fit()
        self.cards.viewport().update()

    def _show(self) -> None:
        tray = self._desk.tray
        fresh = len(tray.cards) != self.model.rowCount()
        self.model.show_cards(tray.cards)
        if fresh:
            self.cards.drawn.forget({card.number for card in tray.cards})
            self.cards.fit()
        row = self.model.row_of(tray.at)
        if row is not None and self.cards.currentIndex().row() != row:
            index = self.model.index(row)
            self.cards.selectionModel().setCurrentIndex(index, QItemSelectionModel.SelectionFlag.ClearAndSelect)
            self.cards.scrollTo(index)
        self.cards.viewport().update()
        gone = self._desk.taken_out
        self.setVisible(bool(tray.cards) or gone is not None)
        self.back.setVisible(gone is not None)
        if gone is not None:
            self.back.setText(self.tr("Put it back"))
            self.back.setToolTip(gone[0].name)
        at = tray.highlighted
        self.out.setEnabled(at is not None and at.given is None)
        self.count.setText(self._words())

    def _words(self) -> str:
        """How many cards there are, and what is still to be done with them."""
        tray = self._desk.tray
        left, way = len([c for c in tray.unfiled if c.given is None]), len(tray.on_their_way)
        waits = len([c for c in tray.cards if c.state in (State.WAITING, State.MEASURING)])
        words = [
            self.tr("{left} not on file") if left or not way else "",
            self.tr("{way} on their way") if way else "",
            self.tr("{waits} to measure") if waits else "",
        ]
        return "\n".join(word for word in words if word).format(left=left, way=way, waits=waits)
