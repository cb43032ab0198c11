"""What to make a screw with, in a few lines, for whoever shows it."""

from __future__ import annotations

from typing import TYPE_CHECKING

from flankwise.reasons import sentence
from threads.shared.formatting import format_difference, format_length, format_lengths
from threads.workshop.making import CAUTIONS, Making

if TYPE_CHECKING:
    from collections.abc import Sequence

FIRST_CAUTION = CAUTIONS[0]
OTHER = 0.015
"""From so many mm that errors of pitch and angle do on the pitch diameter on, a die is said to have another one."""


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
    told = [
        f"die {making.die}" if making.sold else f"a die made for it ({making.die})",
        f"tap {' '.join(part for part in (making.tap, making.tap_class) if part)}" if making.tap else "",
        f"blank {_span(making.blank, inches=inches)}" if making.blank[1] is not None else "",
        f"drill {making.drill.drill.name}" if making.drill is not None else "",
    ]
    lines = [f"Make it with: {', '.join(part for part in told if part)}."]
    if making.over_wires[1] is not None:
        wire = format_length(round(making.wire, 4), inches=inches)
        lines.append(f"Gauge it over three wires of {wire}: {_span(making.over_wires, inches=inches)}.")
    if making.nearest:
        near = ", ".join(
            f"{one.name} ({format_difference(abs(one.difference), 'mm', inches=inches)} "
            f"{'larger' if one.difference > 0 else 'smaller'}{', other pitch or angle' if one.errors > OTHER else ''})"
            for one in making.nearest
        )
        lines.append(f"Nearest dies to be had, by the middle of their zone: {near}.")
    if making.supplier is not None:
        lines.append(sentence(making.supplier, inches=inches))
    said = (*making.notes, *CAUTIONS) if cautions else (*making.notes, FIRST_CAUTION)
    return lines + [sentence(one, inches=inches) for one in said]


def _span(span: Sequence[float | None], *, inches: bool) -> str:
    low, high = format_lengths(list(span), inches=inches)
    return high if span[0] is None else f"{low} to {high}"
