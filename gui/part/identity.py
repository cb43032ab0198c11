"""The identity: groups that the measurement leaves, their probabilities as lengths, what would tell them apart."""

from __future__ import annotations

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QFrame, QGridLayout, QHBoxLayout, QLabel, QVBoxLayout, QWidget

from gui.limit_bar import Between, LimitBar
from gui.part.share_bar import ShareBar
from gui.piece import Piece
from gui.worded import word_of, worded
from threads.identify.candidate import Candidate
from threads.identify.evidence import Evidence
from threads.identify.grouping import Group
from threads.identify.identification import Identification
from threads.identify.identity_words import status_words
from threads.shared.formatting import MM_PER_INCH, format_lengths, format_probability

MOST_GROUPS = 4
MOST_CLASSES = 6
UNVERIFIED = "†"


class Identity(QWidget):
    """What the thread may be. It is built anew for each answer: seldom, and a few widgets only."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.setAccessibleName(self.tr("Identity"))
        self._column = QVBoxLayout(self)
        self._column.setContentsMargins(0, 0, 0, 0)
        self._column.setSpacing(6)
        self.answer = QLabel()
        self.answer.setProperty("heading", True)
        self.answer.setWordWrap(True)
        self.answer.setTextInteractionFlags(Qt.TextInteractionFlag.TextSelectableByMouse)
        self._column.addWidget(self.answer)
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
        self.answer.setText("" if found is None else worded(status_words(found)))
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
        bars = self._classes(found, inches=inches)
        if bars is not None:
            column.addWidget(bars)
        for note in found.notes:
            column.addWidget(_faint(worded(note, inches=inches)))
        if any(c.limits.unverified for c in found.candidates[:MOST_CLASSES]):
            text = self.tr("{mark} limits or sizes from memory, not checked against the printed standard")
            column.addWidget(_faint(text.format(mark=UNVERIFIED)))

    def _group(self, group: Group, *, given: bool) -> QWidget:
        card = QFrame()
        card.setProperty("card", True)
        column = QVBoxLayout(card)
        column.setContentsMargins(8, 6, 8, 6)
        column.setSpacing(3)
        names = ", ".join(_named(member) for member in group.members)
        if not group.holds:
            names += "  " + self.tr("(outside its limits)")
        column.addLayout(_shared(group.probability, names))
        if given:
            alone = sum(member.probability_measurement_only for member in group.members)
            text = self.tr("by measurement alone {share}; {why}")
            why = "; ".join(map(worded, group.members[0].provenance.says))
            column.addWidget(_faint(text.format(share=format_probability(alone), why=why)))
        facts = (f"– {worded(fact)}" for fact in group.told_apart_by)
        column.addWidget(_faint("\n".join([self.tr("told apart by"), *facts])))
        return card

    def _classes(self, found: Identification, *, inches: bool) -> QWidget | None:
        """The zones of the classes of the likeliest threads as bars, the measured pitch diameter on each."""
        rows = [(c, e) for c in found.candidates[:MOST_CLASSES] if (e := _of_pitch_diameter(c)) is not None]
        if not rows:
            return None
        box = QWidget()
        grid = QGridLayout(box)
        grid.setContentsMargins(0, 4, 0, 0)
        grid.addWidget(_faint(self.tr("pitch diameter in the zone of each class")), 0, 0, 1, 3)
        of = 1 / MM_PER_INCH if inches else 1.0
        for row, (candidate, evidence) in enumerate(rows, start=1):
            bar = LimitBar()
            low, high = evidence.low, evidence.high
            assert low is not None
            assert high is not None
            ends = format_lengths([low, high], inches=inches)
            words = f"{candidate.designation}: {ends[0]} – {ends[1]}"
            measured = evidence.measured
            bar.set_between(
                Between(measured.value * of, measured.u95 * of, low * of, high * of), words, zone=(row - 1) % 2
            )
            name = QLabel(_named(candidate))
            name.setWordWrap(True)
            grid.addWidget(name, row, 0)
            grid.addWidget(bar, row, 1)
            grid.addWidget(QLabel(word_of(evidence.verdict)), row, 2)
        grid.setColumnStretch(0, 2)
        grid.setColumnStretch(1, 3)
        return box


def _of_pitch_diameter(candidate: Candidate) -> Evidence | None:
    return next(
        (e for e in candidate.evidence if e.quantity == "pitch_diameter" and e.low is not None and e.high is not None),
        None,
    )


def _named(candidate: Candidate) -> str:
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


def _faint(text: str) -> QLabel:
    label = QLabel(text)
    label.setProperty("faint", True)
    label.setWordWrap(True)
    return label
