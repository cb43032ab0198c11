"""``flankwise limits``: the limits of size of a designation."""

from __future__ import annotations

from typing import TYPE_CHECKING, Annotated

import typer

from cli import options
from cli.errors import CommandLineError
from cli.lengths import parse_length
from cli.output import show, write_json
from flankwise.reasons import message

if TYPE_CHECKING:
    from threads.standards.limits import Limits

DIAMETERS = ("major_diameter", "pitch_diameter", "minor_diameter")


def limits(
    designation: Annotated[
        str, typer.Argument(metavar="DESIGNATION", help="Such as '4-40 UNC-2A', '4-40 NC-2' or 'M3-6H'.")
    ],
    internal: Annotated[
        bool, typer.Option("--internal", help="The nut, where the class does not say so (American National).")
    ] = False,
    engagement: Annotated[
        str | None,
        typer.Option("--engagement", metavar="LENGTH", help="Length of engagement, if not the standard's (Unified)."),
    ] = None,
    unit: options.Unit = "mm",
    as_json: options.Json = False,
) -> None:
    """Show the limits of size of a designation."""
    inches = options.reads_inches(unit)
    engagement_mm = parse_length(engagement, "--engagement") if engagement is not None else None
    from threads.standards.designation import UnknownDesignationError, parse
    from threads.standards.limits import EngagementError, limits_of

    try:
        found = limits_of(parse(designation, internal=True if internal else None), engagement_mm=engagement_mm)
    except (UnknownDesignationError, EngagementError) as error:
        raise CommandLineError(message(error)) from error
    if as_json:
        from cli.bench_facts import facts_dict

        write_json({**found.to_dict(), **facts_dict(found)})
    else:
        _show(found, inches=inches)


def _show(found: Limits, *, inches: bool) -> None:
    from cli.bench_facts import facts_parts
    from cli.tables import UNVERIFIED_MARK, plain_table, source_lines
    from threads.shared.formatting import format_length, format_lengths

    printed_unit = found.published["unit"]
    head = ["", "min", "max", "basic"]
    if (printed_unit == "in") != inches:
        head += [f"printed min ({printed_unit})", f"printed max ({printed_unit})"]
    bands = (found.major, found.pitch_diameter, found.minor)
    basics = (found.basic_major, found.basic_pitch_diameter, found.basic_minor)
    in_rows = [length for band, basic in zip(bands, basics, strict=True) for length in (band.low, band.high, basic)]
    lengths = format_lengths(in_rows, inches=inches)
    table = plain_table(*head, right=tuple(head[1:]))
    for row, key in enumerate(DIAMETERS):
        printed = [_as_printed(found.published[key][end], printed_unit) for end in ("min", "max")]
        table.add_row(key.replace("_", " "), *lengths[3 * row : 3 * row + 3], *printed[: len(head) - 4])

    mark = f" {UNVERIFIED_MARK}" if found.unverified else ""
    kind = "internal" if found.internal else "external"
    per_inch = found.published.get("threads_per_inch")
    beside = f" ({per_inch:g} threads per inch)" if per_inch else ""
    facts = [
        f"pitch      {format_length(found.pitch, inches=inches)}{beside}",
        f"allowance  {format_length(found.allowance, inches=inches)}",
    ]
    if found.tap_drill is not None:
        drill = format_length(found.tap_drill, inches=inches)
        facts.append(f"tap drill  {drill} (the middle of the limits of the minor diameter)")
    show(
        f"{found.designation}{mark}, {kind} thread: {found.standard}",
        "",
        table,
        "",
        *facts,
        "",
        *facts_parts(found, inches=inches),
        "",
        *source_lines(found.source, unverified=found.unverified),
    )


def _as_printed(number: float | None, unit: str) -> str:
    if number is None:
        return "none"
    return f"{number:.4f}" if unit == "in" else f"{number:.3f}"
