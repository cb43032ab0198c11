"""A label for a die's box: its name, what it cuts and how it was set then. As text or drawn at true size."""

from __future__ import annotations

from flankwise.reasons import sentence
from records.label import SLIP_MM, drawn_slip
from threads.cutting.die_choice import DieState
from threads.cutting.die_words import what_it_cuts, what_was_learnt

_SIZES = (12.0, 10.0, 7.0, 7.0)
"""Of the type of the lines, points."""


def die_label_lines(state: DieState, *, inches: bool = False) -> list[str]:
    """What stands on the label, a line each."""
    die = state.die
    learnt = [sentence(one, inches=inches) for one in what_was_learnt(state)]
    kind = "" if die.kind in die.name.casefold() else f" ({die.kind})"
    return [f"{die.name}{kind}", sentence(what_it_cuts(state), inches=inches), *learnt[:2]]


def die_label_drawn(
    state: DieState, kind: str, *, size_mm: tuple[float, float] = SLIP_MM, inches: bool = False
) -> bytes:
    """The label as a ``png`` or ``pdf`` file of ``size_mm`` (width, height)."""
    return drawn_slip(die_label_lines(state, inches=inches), kind, size_mm, sizes=_SIZES, bold=(0, 1))
