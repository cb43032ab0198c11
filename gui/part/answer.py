"""The answer: what the thread is in one sentence, what would settle the rest, and what to make it with."""

from __future__ import annotations

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QLabel, QVBoxLayout, QWidget

from gui.disclosure import Disclosure
from gui.flow import Flow
from gui.piece import Piece
from gui.worded import word_of, worded
from threads.workshop.making import CAUTIONS
from threads.workshop.making_told import making_told


class AnswerLine(QWidget):
    """The sentence across the top; ``beside`` stands at its right: what is given there changes it."""

    def __init__(self, beside: QWidget, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.sentence, self.more = _text(), _text(faint=True)
        self.sentence.setProperty("heading", True)
        self.sentence.setAccessibleName(self.tr("Answer"))
        told = QWidget()
        left = QVBoxLayout(told)
        left.setContentsMargins(0, 0, 0, 0)
        left.setSpacing(2)
        left.addWidget(self.sentence)
        left.addWidget(self.more)
        left.addStretch(1)
        row = Flow(self, spacing=16)
        row.setContentsMargins(0, 4, 12, 4)
        row.add(told, 3)
        row.add(beside, 1)

    def show_piece(self, piece: Piece | None, *, inches: bool) -> None:
        """Say what ``piece`` is."""
        said = None if piece is None else piece.answer
        self.setVisible(piece is not None)
        if piece is None or said is None:
            self.sentence.clear()
            self.more.clear()
            return
        self.sentence.setText(worded(said.sentence, inches=inches))
        lines = [worded(doubt, inches=inches) for doubt in piece.bench_doubts]
        kin = None if piece.identification is None else piece.identification.as_part_of
        lines += [] if kin is None else [worded(kin.said())]
        found = piece.identification
        if found is not None and found.stated is not None:
            one = found.stated
            told = self.tr("Stated: {text}, by {by}; counts {weight} times.")
            lines.append(told.format(text=one.text, by=word_of(one.by), weight=f"{one.weight:g}"))
            lines += [worded(note) for note in found.notes if note.code == "stated_contradicted"]
        if said.settles:
            facts = "; ".join(worded(one, inches=inches) for one in said.settles)
            lines.append(self.tr("To settle it: {facts}").format(facts=facts))
        self.more.setText("\n".join(lines))
        self.more.setVisible(bool(lines))


class MakeWith(QWidget):
    """Die, tap, blank and drill first, then wires, what to ask a dealer for, and the cautions."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.setAccessibleName(self.tr("What to make it with"))
        self.tools, self.more = _text(), _text(faint=True)
        font = self.tools.font()
        font.setBold(True)
        self.tools.setFont(font)
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(2)
        column.addWidget(self.tools)
        column.addWidget(self.more)
        standing = "\n".join(f"• {worded(one)}" for one in CAUTIONS[1:])
        column.addWidget(Disclosure(self.tr("More cautions"), _text(standing, faint=True)))

    def show_piece(self, piece: Piece | None, *, inches: bool) -> None:
        """Say what to make ``piece`` with; nothing of a hole."""
        making = None if piece is None or piece.answer is None else piece.answer.make_with
        self.setVisible(making is not None)
        lines = [] if making is None else [worded(one, inches=inches) for one in making_told(making, cautions=False)]
        self.tools.setText(lines[0] if lines else "")
        self.more.setText("\n".join(f"• {line}" for line in lines[1:]))

    def lines(self) -> list[str]:
        """What it says, for copying."""
        return [text for text in (self.tools.text(), self.more.text()) if text]


def _text(text: str = "", *, faint: bool = False) -> QLabel:
    label = QLabel(text)
    label.setProperty("faint", faint)
    label.setWordWrap(True)
    label.setTextInteractionFlags(Qt.TextInteractionFlag.TextSelectableByMouse)
    return label
