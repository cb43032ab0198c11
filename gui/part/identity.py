"""The identity: groups that the measurement leaves, their probabilities as lengths, what would tell them apart."""

from __future__ import annotations

from PySide6.QtWidgets import QFrame, QHBoxLayout, QLabel, QVBoxLayout, QWidget

from gui.part.share_bar import ShareBar
from gui.piece import Piece
from gui.worded import worded
from threads.identify.candidate import Candidate
from threads.identify.grouping import Group
from threads.shared.formatting import format_probability

MOST_GROUPS = 4
MOST_SHOWN = 6
UNVERIFIED = "†"


class Identity(QWidget):
    """What the thread may be. It is built anew for each answer: seldom, and a few widgets only."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.setAccessibleName(self.tr("Identity"))
        self._column = QVBoxLayout(self)
        self._column.setContentsMargins(0, 0, 0, 0)
        self._column.setSpacing(6)
        self._inside = QWidget()
        self._column.addWidget(self._inside)

    def show_piece(self, piece: Piece | None, *, inches: bool) -> None:
        """Show the identification of ``piece``."""
        self._inside.hide()
        self._column.removeWidget(self._inside)
        self._inside.deleteLater()
        self._inside = QWidget()
        self._column.addWidget(self._inside)
        found = None if piece is None else piece.identification
        if found is None or piece is None:
            return
        column = QVBoxLayout(self._inside)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(8)
        given = piece.choices.origin is not None or piece.choices.made is not None
        for group in found.groups[:MOST_GROUPS]:
            column.addWidget(self._group(group, given=given))
        none = self.tr("no series in the tables")
        column.addLayout(_shared(found.no_standard_probability, none))
        for note in found.notes:
            column.addWidget(faint(worded(note, inches=inches)))
        if any(c.limits.unverified for c in found.candidates[:MOST_SHOWN]):
            text = self.tr("{mark} limits or sizes from memory, not checked against the printed standard")
            column.addWidget(faint(text.format(mark=UNVERIFIED)))

    def _group(self, group: Group, *, given: bool) -> QWidget:
        card = QFrame()
        card.setProperty("card", True)
        column = QVBoxLayout(card)
        column.setContentsMargins(8, 6, 8, 6)
        column.setSpacing(3)
        names = ", ".join(named(member) for member in group.members)
        if not group.holds:
            names += "  " + self.tr("(outside its limits)")
        column.addLayout(_shared(group.probability, names))
        if given:
            alone = sum(member.probability_measurement_only for member in group.members)
            text = self.tr("by measurement alone {share}; {why}")
            why = "; ".join(map(worded, group.members[0].provenance.says))
            column.addWidget(faint(text.format(share=format_probability(alone), why=why)))
        facts = (f"– {worded(fact)}" for fact in group.told_apart_by)
        column.addWidget(faint("\n".join([self.tr("told apart by"), *facts])))
        return card


def named(candidate: Candidate) -> str:
    """Its designation, marked where its limits are from memory."""
    return f"{candidate.designation} {UNVERIFIED}" if candidate.limits.unverified else candidate.designation


def _shared(share: float, words: str) -> QHBoxLayout:
    row = QHBoxLayout()
    number = format_probability(share)
    bar = ShareBar(share, f"{words}: {number}")
    bar.setFixedWidth(70)
    row.addWidget(bar)
    chance = QLabel(number)
    chance.setMinimumWidth(64)
    row.addWidget(chance)
    name = QLabel(words)
    name.setWordWrap(True)
    row.addWidget(name, 1)
    return row


def faint(text: str) -> QLabel:
    """Text of less weight, in as many lines as it needs."""
    label = QLabel(text)
    label.setProperty("faint", True)
    label.setWordWrap(True)
    return label
