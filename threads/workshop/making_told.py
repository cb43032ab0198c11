"""What to make a screw with, as reasons that any surface words: a line each, in the order in which it is read."""

from __future__ import annotations

from threads.shared.refusal import Reason
from threads.workshop.making import CAUTIONS, Making, NearestTool, Span

OTHER = 0.015
"""From so many mm that errors of pitch and angle do on the pitch diameter on, a die is said to have another one."""


def making_told(making: Making, *, cautions: bool = True) -> tuple[Reason, ...]:
    """Die, tap, blank, drill; wires; what to ask for; and the cautions, of the standing ones the first if not all."""
    lines = [Reason("making.tools", tools=_tools(making))]
    if making.over_wires[1] is not None:
        lines.append(Reason("making.wires", wire=round(making.wire, 4), span=_known(making.over_wires)))
    if making.nearest:
        lines.append(Reason("making.nearest", dies=tuple(_near(one) for one in making.nearest)))
    if making.supplier is not None:
        lines.append(making.supplier)
    return (*lines, *making.notes, *(CAUTIONS if cautions else CAUTIONS[:1]))


def _tools(making: Making) -> tuple[Reason, ...]:
    tools = [Reason("making_tool.die" if making.sold else "making_tool.own_die", die=making.die)]
    if making.tap:
        tap = " ".join(part for part in (making.tap, making.tap_class) if part)
        tools.append(Reason("making_tool.tap", tap=tap))
    if making.blank[1] is not None:
        tools.append(Reason("making_tool.blank", span=_known(making.blank)))
    if making.drill is not None:
        tools.append(Reason("making_tool.drill", drill=making.drill.drill.name))
    return tuple(tools)


def _known(span: Span) -> tuple[float, ...]:
    return tuple(end for end in span if end is not None)


def _near(one: NearestTool) -> Reason:
    size, form = "larger" if one.difference > 0 else "smaller", "_other_form" if one.errors > OTHER else ""
    return Reason(f"near_die.{size}{form}", name=one.name, difference=one.difference)
