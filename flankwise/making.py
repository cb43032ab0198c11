"""What to make a screw with, in a few lines, for whoever shows it."""

from __future__ import annotations

from typing import TYPE_CHECKING

from flankwise.reasons import sentence
from threads.workshop.making_told import making_told

if TYPE_CHECKING:
    from threads.workshop.making import Making


def making_of_designation(designation: str) -> Making | None:
    """How to make a screw of this class; None for a hole, and for a series that is no longer there."""
    from threads.standards.designation import UnknownDesignationError, parse
    from threads.standards.limits import limits_of
    from threads.workshop.making import making_of

    try:
        return making_of(limits_of(parse(designation)))
    except (UnknownDesignationError, ValueError):
        return None


def making_lines(making: Making, *, inches: bool, cautions: bool = True) -> list[str]:
    """Die, tap, blank, drill; wires; what to ask for; and the cautions, of the standing ones the first if not all."""
    return [sentence(one, inches=inches) for one in making_told(making, cautions=cautions)]
