"""What there is: instruments with their positions, and jobs."""

from __future__ import annotations

from PySide6.QtCore import QSize, Qt, Signal
from PySide6.QtWidgets import QTreeWidget, QTreeWidgetItem, QWidget

from gui.desk import Desk
from gui.register.deeds import places_on
from records.entries import Position
from records.overview import Overview

Chosen = tuple[str, int, int]
"""What is chosen: "instrument", "job", "position" or "" for everything; its id; of a position, the instrument's id."""

EVERYTHING: Chosen = ("", 0, 0)
_ROLE = Qt.ItemDataRole.UserRole


_LETTERS, _ROWS = 26, 6
"""In view at least."""


class Places(QTreeWidget):
    """``chosen_changed`` when the person chooses. The positions of an instrument are read when it is chosen."""

    chosen_changed = Signal()

    def __init__(self, desk: Desk, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._desk = desk
        self.setHeaderHidden(True)
        self.setAccessibleName(self.tr("Instruments and jobs"))
        self.setUniformRowHeights(True)
        self.setIndentation(14)
        self.setTextElideMode(Qt.TextElideMode.ElideMiddle)  # the number at the end of a name is what tells it
        self._instrument = 0
        self._entries: tuple[tuple[Position, int], ...] = ()
        self.currentItemChanged.connect(lambda *_: self._changed())

    def minimumSizeHint(self) -> QSize:
        metrics = self.fontMetrics()
        return QSize(_LETTERS * metrics.averageCharWidth(), _ROWS * metrics.height())

    @property
    def chosen(self) -> Chosen:
        """What the person has chosen."""
        item = self.currentItem()
        told: Chosen | None = None if item is None else item.data(0, _ROLE)
        return EVERYTHING if told is None else told

    def show_overview(self, found: Overview) -> None:
        """Show what there is; what was chosen stays so."""
        chosen = self.chosen
        self.blockSignals(True)
        self.clear()
        self._add(None, self.tr("all parts  ({count})").format(count=found.parts), EVERYTHING)
        for heading, kind, rows, counts in (
            (self.tr("instruments"), "instrument", found.instruments, found.parts_on),
            (self.tr("jobs"), "job", found.jobs, found.parts_in),
        ):
            group = self._add(None, heading, None)
            group.setFlags(Qt.ItemFlag.ItemIsEnabled)
            for row in rows:
                self._add(group, f"{row.name}  ({counts.get(row.id, 0)})", (kind, row.id, 0))
            group.setExpanded(True)
        self._add_positions()  # those known so far, so that what was chosen is there
        self._choose(chosen)
        self.blockSignals(False)
        if self._instrument:
            self._read_positions(self._instrument)

    def _add(self, group: QTreeWidgetItem | None, words: str, place: Chosen | None) -> QTreeWidgetItem:
        item = _item(words, place)
        if group is None:
            self.addTopLevelItem(item)
        else:
            group.addChild(item)
        return item

    def _find(self, place: Chosen) -> QTreeWidgetItem | None:
        def below(item: QTreeWidgetItem) -> QTreeWidgetItem | None:
            if item.data(0, _ROLE) == place:
                return item
            for number in range(item.childCount()):
                child = item.child(number)
                found = None if child is None else below(child)
                if found is not None:
                    return found
            return None

        return below(self.invisibleRootItem())

    def _choose(self, place: Chosen) -> None:
        item = self._find(place)
        if item is None and place[0] == "position":
            item = self._find(("instrument", place[2], 0))
        item = item or self.topLevelItem(0)
        if item is not None:
            self.setCurrentItem(item)

    def _changed(self) -> None:
        kind, number, _ = self.chosen
        if kind == "instrument" and number != self._instrument:
            self._read_positions(number)
        self.chosen_changed.emit()

    def _read_positions(self, instrument: int) -> None:
        def done(found: tuple[tuple[Position, int], ...]) -> None:
            self._instrument, self._entries = instrument, found
            chosen = self.chosen
            self.blockSignals(True)
            self._add_positions()
            if chosen[0] == "position":
                self._choose(chosen)
            self.blockSignals(False)

        self._desk.work.run(
            self.tr("reading the positions"), places_on, self._desk.register_file, instrument, done=done,
            failed=self._desk.refuse, key="positions of the register",
        )  # fmt: skip

    def choose_first_instrument(self) -> None:
        """Choose the first instrument there is."""
        for number in range(self.topLevelItemCount()):
            group = self.topLevelItem(number)
            first = None if group is None else group.child(0)
            if first is not None and first.data(0, _ROLE)[0] == "instrument":
                self.setCurrentItem(first)
                return

    def _add_positions(self) -> None:
        above = self._find(("instrument", self._instrument, 0))
        if above is None:
            return
        above.takeChildren()
        items = []
        for position, count in self._entries:
            words = position.name
            if count != 1:  # one is the rule
                words += f"  ({count})" if count else "  " + self.tr("(none yet)")
            items.append(_item(words, ("position", position.id, self._instrument)))
        above.addChildren(items)
        above.setExpanded(True)


def _item(words: str, place: Chosen | None) -> QTreeWidgetItem:
    item = QTreeWidgetItem([words])
    item.setToolTip(0, words)
    item.setData(0, _ROLE, place)
    return item
