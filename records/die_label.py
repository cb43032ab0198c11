"""A label for a die's box: its name, what it cuts and how it was set then. As text or drawn at true size."""

from __future__ import annotations

from records.report.label_page import SLIP_MM, Label, label_png, labels_pdf
from records.report.spoken import Spoken
from threads.cutting.die_choice import DieState
from threads.cutting.die_words import what_it_cuts, what_was_learnt

_SIZES = (12.0, 10.0, 7.0, 7.0)
"""Of the type of the lines, points."""


def die_label_lines(state: DieState, spoken: Spoken | None = None) -> list[str]:
    """What stands on the label, a line each."""
    die, spoken = state.die, spoken or Spoken()
    learnt = [spoken.say(one) for one in what_was_learnt(state)]
    kind = "" if die.kind in die.name.casefold() else f" ({spoken.word(die.kind)})"
    return [f"{die.name}{kind}", spoken.say(what_it_cuts(state)), *learnt[:2]]


def die_label_drawn(
    state: DieState, kind: str, spoken: Spoken | None = None, *, size_mm: tuple[float, float] = SLIP_MM
) -> bytes:
    """The label as a ``png`` or ``pdf`` file of ``size_mm`` (width, height)."""
    label = Label(tuple(die_label_lines(state, spoken)), sizes=_SIZES, bold=(0, 1))
    return label_png(label, size_mm=size_mm) if kind == "png" else labels_pdf([label], size_mm=size_mm)
