"""``flankwise wires``: three-wire sizes of a screw, and its pitch diameter from a measurement over wires."""

from __future__ import annotations

from typing import TYPE_CHECKING, Annotated, Any

import typer

from cli import options
from cli.errors import CommandLineError
from cli.lengths import parse_length
from cli.output import show, write_json
from flankwise.reasons import message
from threads.judge.wire_defaults import MICROMETER_U95, WIRE_U95

if TYPE_CHECKING:
    from threads.judge.wires import WireSizes
    from threads.shared.quantity import Quantity
    from threads.standards.limits import Limits


def wires(
    designation: Annotated[
        str, typer.Argument(metavar="DESIGNATION", help="A screw, such as '4-40 UNC-2A', '4 BA' or 'M3-6g'.")
    ],
    wire: Annotated[
        str | None, typer.Option("--wire", metavar="LENGTH", help="Diameter of the wires at hand; else the best ones.")
    ] = None,
    measured: Annotated[
        str | None,
        typer.Option("--measured", metavar="LENGTH", help="The reading over the wires: gives the pitch diameter."),
    ] = None,
    measured_u95: Annotated[
        str, typer.Option("--measured-u95", metavar="LENGTH", help="U95 of that reading.")
    ] = MICROMETER_U95,
    wire_u95: Annotated[
        str, typer.Option("--wire-u95", metavar="LENGTH", help="U95 of the diameter of the wires.")
    ] = WIRE_U95,
    unit: options.Unit = "mm",
    as_json: options.Json = False,
) -> None:
    """Show three-wire sizes and measurements over wires, to check a screw with a micrometer."""
    inches = options.reads_inches(unit)
    diameter = None if wire is None else parse_length(wire, "--wire")
    reading = None if measured is None else parse_length(measured, "--measured")
    u95s = parse_length(measured_u95, "--measured-u95"), parse_length(wire_u95, "--wire-u95")
    from threads.judge.wires import WireError, wire_sizes
    from threads.standards.designation import UnknownDesignationError, parse
    from threads.standards.limits import limits_of

    try:
        limits = limits_of(parse(designation))
        sizes = wire_sizes(limits, diameter)
        found = None if reading is None else _measured(limits, sizes, reading, u95s)
    except (UnknownDesignationError, WireError) as error:
        raise CommandLineError(message(error)) from error
    if as_json:
        write_json({**sizes.to_dict(), **({} if found is None else {"measured": _found_dict(*found)})})
    else:
        _show(limits, sizes, found, inches=inches)


def _measured(
    limits: Limits, sizes: WireSizes, reading: float, u95s: tuple[float, float]
) -> tuple[Quantity, Quantity, Quantity, str]:
    """Reading, wire, pitch diameter, and what this says of the limits.

    Pitch and flank angles of the part are not known here: they count as nominal, to within what taps and dies keep to.
    """
    from threads.identify.evidence import verdict_of
    from threads.identify.zone_prior import FLANK_SPREAD, PITCH_SPREAD
    from threads.judge.wires import pitch_diameter_over_wires
    from threads.shared.quantity import COVERAGE_FACTOR, Quantity

    over, wire = (
        Quantity(value, u95 / COVERAGE_FACTOR, "mm") for value, u95 in zip((reading, sizes.wire), u95s, strict=True)
    )
    pitch_diameter = pitch_diameter_over_wires(
        over,
        wire,
        pitch=Quantity(sizes.pitch, PITCH_SPREAD * sizes.pitch, "mm"),
        flank_angle=Quantity(sizes.flank_angle_deg, FLANK_SPREAD, "deg"),
    )
    if abs(pitch_diameter.value - limits.basic_pitch_diameter) > limits.pitch / 2:
        raise CommandLineError(
            f"--measured {reading:g} mm is not of this screw, which measures about {sizes.basic:.3f} mm over wires of "
            f"{sizes.wire:.4g} mm; is the reading over all three wires?"
        )
    verdict = verdict_of(pitch_diameter, limits.pitch_diameter.low, limits.pitch_diameter.high)
    return over, wire, pitch_diameter, verdict


def _found_dict(over: Quantity, wire: Quantity, pitch_diameter: Quantity, verdict: str) -> dict[str, Any]:
    return {
        "over_wires": over.to_dict(),
        "wire": wire.to_dict(),
        "pitch_diameter": pitch_diameter.to_dict(),
        "verdict": verdict,
    }


def _show(
    limits: Limits, sizes: WireSizes, found: tuple[Quantity, Quantity, Quantity, str] | None, *, inches: bool
) -> None:
    from cli.tables import UNVERIFIED_MARK, plain_table, source_lines
    from threads.shared.formatting import format_length, format_lengths, format_quantity

    mark = f" {UNVERIFIED_MARK}" if limits.unverified else ""
    best, least, greatest = format_lengths([sizes.best_wire, sizes.least_wire, sizes.greatest_wire], inches=inches)
    used = format_length(sizes.wire, inches=inches)
    over = format_lengths([sizes.greatest, sizes.least, sizes.basic], inches=inches)
    band = limits.pitch_diameter
    diameters = format_lengths([band.high, band.low, limits.basic_pitch_diameter], inches=inches)
    columns = f"over wires of {used}", "pitch diameter"
    table = plain_table("", *columns, right=columns)
    for name, measurement, diameter in zip(("max", "min", "basic"), over, diameters, strict=True):
        table.add_row(name, measurement, diameter)
    more = _um(sizes.basic_by_series - sizes.basic)
    without = _um(sizes.basic_without_lead_angle - sizes.basic)
    lines = [
        f"Exact, the lead angle of {sizes.lead_angle_deg:.2f}° included: the wire is solved for on the helicoid.",
        f"The classical formula of second order gives {more}, without its term of the lead angle {without}.",
    ]
    if found is not None:
        reading, wire, pitch_diameter = (format_quantity(quantity, inches=inches) for quantity in found[:3])
        lines += [
            "",
            f"{reading} over wires of {wire}: pitch diameter {pitch_diameter}, {_against(found[3])}.",
            "Pitch and flank angles counted as nominal, to within what taps and dies keep to.",
            "A screw that is oval, bent or tapered measures otherwise elsewhere.",
        ]
    show(
        f"{sizes.designation}{mark}: best wire {best} (usable {least} to {greatest})",
        "",
        table,
        "",
        *lines,
        "",
        *source_lines(sizes.source, unverified=limits.unverified),
    )


def _um(difference: float) -> str:
    """A difference in words: "0.14 um more"."""
    return f"{abs(difference) * 1000:.2f} µm {'more' if difference > 0 else 'less'}"


def _against(verdict: str) -> str:
    """What a verdict says of the pitch diameter, in words."""
    words = {"inside": "within its limits", "above": "above its limits", "below": "below its limits"}
    return words.get(verdict, "too near a limit to tell on which side")
