"""What one needs at the bench to make a thread, under its limits: drill, tap or die, wires."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from cli.tables import Block
    from threads.standards.limits import Limits
    from threads.workshop.tap_drill import TapDrill


def facts_dict(limits: Limits) -> dict[str, Any]:
    """Keys beside the contract's: ``drill`` and ``wires`` (null for the other kind of thread), ``tools``."""
    from threads.workshop.tap_drill import tap_drill
    from threads.workshop.tools import tools_of

    drill = tap_drill(limits)
    return {
        "drill": None if drill is None else drill.to_dict(),
        "tools": tools_of(limits).to_dict(),
        "wires": _wires_dict(limits),
    }


def facts_parts(limits: Limits, *, inches: bool) -> list[Block]:
    """The same for a person: a table of drills for a nut, sizes over wires for a screw, the tool for both."""
    from cli.tables import indented
    from threads.workshop.tap_drill import tap_drill
    from threads.workshop.tools import tools_of

    drill, tools = tap_drill(limits), tools_of(limits)
    parts: list[Block] = [] if drill is None else [_drill_table(drill, inches=inches), ""]
    tap_class = f", {tools.tap_class}" if tools.tap_class else ""
    parts.append(f"{tools.kind:<6}{tools.ask_for}{tap_class}")
    parts += [indented(note, 6) for note in tools.notes]
    if not limits.internal:
        parts.append(_wires_line(limits, inches=inches))
    return parts


def _wires_dict(limits: Limits) -> dict[str, Any] | None:
    from threads.judge.wires import wire_sizes

    if limits.internal:
        return None
    sizes = wire_sizes(limits)
    return {"best_wire": sizes.best_wire, "over_wires": sizes.over_wires_dict()}


def _wires_line(limits: Limits, *, inches: bool) -> str:
    from threads.judge.wires import wire_sizes
    from threads.shared.formatting import format_lengths

    sizes = wire_sizes(limits)
    wire, least, greatest = format_lengths([sizes.best_wire, sizes.least, sizes.greatest], inches=inches)
    return f"wires {wire}, over them {least} to {greatest} (more: flankwise wires)"


def _drill_table(drill: TapDrill, *, inches: bool) -> Block:
    from cli.tables import plain_table
    from threads.shared.formatting import format_length, format_lengths

    diameters = format_lengths([choice.drill.diameter_mm for choice in drill.recommended], inches=inches)
    target = f"for {format_length(drill.target, inches=inches)}, {drill.percent:.0f} % of thread"
    table = plain_table("drill", "diameter", "thread", target, right=("diameter", "thread"))
    for choice, diameter in zip(drill.recommended, diameters, strict=True):
        where = "within the limits" if choice.within else _outside(choice.drill.diameter_mm, drill)
        table.add_row(choice.drill.name, diameter, f"{choice.percent:.0f} %", where)
    return table


def _outside(diameter: float, drill: TapDrill) -> str:
    """Why a drill that is nearest is not for this hole."""
    return "too small" if drill.low is not None and diameter < drill.low else "too large"
