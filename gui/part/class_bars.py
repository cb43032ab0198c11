"""The classes of the likeliest threads: a bar each, all to one scale, with the measured pitch diameter and its U95."""

from __future__ import annotations

from collections.abc import Sequence

from PySide6.QtWidgets import QGridLayout, QLabel, QVBoxLayout, QWidget

from gui.limit_bar import Between, LimitBar
from gui.part.identity import faint, named
from gui.piece import Piece
from gui.worded import word_of, worded
from threads.identify.candidate import Candidate
from threads.identify.evidence import Evidence
from threads.identify.identification import Identification
from threads.identify.why_out import why_out
from threads.shared.formatting import MM_PER_INCH, format_lengths, format_quantity

MOST_CLASSES = 6
_ROOM = 0.05  # of what is shown, at either end


class ClassBars(QWidget):
    """It is built anew for each answer: seldom, and a few widgets only."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.setAccessibleName(self.tr("Pitch diameter in the zone of each class"))
        self._column = QVBoxLayout(self)
        self._column.setContentsMargins(0, 0, 0, 0)
        self._inside = QWidget()
        self._column.addWidget(self._inside)

    def show_piece(self, piece: Piece | None, *, inches: bool) -> None:
        """Show the classes of ``piece``."""
        self._inside.hide()
        self._column.removeWidget(self._inside)
        self._inside.deleteLater()
        found = None if piece is None else piece.identification
        self._inside = QWidget() if found is None else self._classes(found, inches=inches)
        self._column.addWidget(self._inside)

    def _classes(self, found: Identification, *, inches: bool) -> QWidget:
        box = QWidget()
        rows = [(c, e) for c in found.candidates[:MOST_CLASSES] if (e := _of_pitch_diameter(c)) is not None]
        if not rows:
            return box
        grid = QGridLayout(box)
        grid.setContentsMargins(0, 0, 0, 0)
        grid.setVerticalSpacing(1)
        of = 1 / MM_PER_INCH if inches else 1.0
        measured = rows[0][1].measured
        words = self.tr("pitch diameter {measured} in the zone of each class")
        grid.addWidget(faint(words.format(measured=format_quantity(measured, inches=inches))), 0, 0, 1, 3)
        view = _view([e for _, e in rows], of)
        for row, (candidate, evidence) in enumerate(rows, start=1):
            bar = LimitBar()
            low, high = evidence.low, evidence.high
            assert low is not None
            assert high is not None
            ends = format_lengths([low, high], inches=inches)
            between = Between(measured.value * of, measured.u95 * of, low * of, high * of)
            bar.set_between(between, f"{candidate.designation}: {ends[0]} – {ends[1]}", (row - 1) % 2, view)
            name = QLabel(named(candidate))
            name.setWordWrap(True)
            out = why_out(candidate)
            grid.addWidget(name, 2 * row, 0)
            grid.addWidget(bar, 2 * row, 1)
            grid.addWidget(QLabel(word_of(evidence.verdict)), 2 * row, 2)
            if out is not None:
                grid.addWidget(faint(worded(out, inches=inches)), 2 * row + 1, 0, 1, 3)
        grid.setColumnStretch(0, 2)
        grid.setColumnStretch(1, 3)
        return box


def _view(rows: Sequence[Evidence], of: float) -> tuple[float, float]:
    """From the least to the greatest of all limits and of the value with its U95, and some room; times ``of``."""
    measured = rows[0].measured
    ends = [end for row in rows for end in (row.low, row.high) if end is not None]
    ends += [measured.value - measured.u95, measured.value + measured.u95]
    room = _ROOM * (max(ends) - min(ends))
    return (min(ends) - room) * of, (max(ends) + room) * of


def _of_pitch_diameter(candidate: Candidate) -> Evidence | None:
    return next(
        (e for e in candidate.evidence if e.quantity == "pitch_diameter" and e.low is not None and e.high is not None),
        None,
    )
