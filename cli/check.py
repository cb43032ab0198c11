"""``flankwise check``: does a freshly cut thread keep to the limits of its class, and what to do at the die."""

from __future__ import annotations

from typing import TYPE_CHECKING, Annotated, Any

import typer

from cli import options
from cli.bench import measured, scale_of
from cli.brief import BRIEF_CAUTION, UNVERIFIED, Full, Item, doubts, missing, name_of, show_brief
from cli.errors import CommandLineError, ExitCode
from cli.figure import FigureFile, figure_target, write_figure
from cli.filed_part import filed_part
from cli.lengths import parse_length
from cli.measure import Picture
from cli.output import show, write_json
from cli.own_gauge import Known, KnownU95, PinBeside, PinU95, own_gauges
from cli.register import RegisterFile, part_number
from flankwise.measuring import KNOWN_U95, PIN_U95
from flankwise.reasons import message, sentence
from flankwise.words import CAUTION
from threads.judge.wire_defaults import MICROMETER_U95, WIRE_U95
from threads.shared.refusal import Reason

if TYPE_CHECKING:
    from flankwise.judging import Checked
    from flankwise.part import Part
    from flankwise.reference import Reference
    from threads.judge.check import Check
    from threads.judge.judgement import Judgement
    from threads.judge.micrometer import Joined
    from threads.standards.limits import Limits
    from vision.result.measurement import Measurement

MOST_ROWS = 4
"""Quantities in the short answer."""

WORDS = {
    "conforms": "conforms",
    "does_not_conform": "does not conform",
    "cannot_tell": "cannot tell",
    "not_limited": "no limit",
}


def check(
    picture: Picture,
    against: Annotated[
        str | None, typer.Option("--against", metavar="DESIGNATION", help="What it shall be, such as '4-40 NC-3'.")
    ] = None,
    against_part: Annotated[
        str | None, typer.Option("--against-part", metavar="PART", help="Or the part on file that it shall be like.")
    ] = None,
    calibration: options.CalibrationFile = None,
    focus_locked: options.FocusLocked = False,
    scale: options.Scale = None,
    pin_beside: PinBeside = None,
    pin_u95: PinU95 = PIN_U95,
    known: Known = None,
    known_u95: KnownU95 = KNOWN_U95,
    over_wires: Annotated[
        str | None,
        typer.Option("--over-wires", metavar="LENGTH", help="A micrometer's reading over three wires, joined with it."),
    ] = None,
    over_wires_u95: Annotated[
        str, typer.Option("--over-wires-u95", metavar="LENGTH", help="U95 of that reading.")
    ] = MICROMETER_U95,
    wire: Annotated[str | None, typer.Option("--wire", metavar="LENGTH", help="Diameter of the wires.")] = None,
    wire_u95: Annotated[
        str, typer.Option("--wire-u95", metavar="LENGTH", help="U95 of the diameter of the wires.")
    ] = WIRE_U95,
    engagement: Annotated[
        str | None,
        typer.Option(
            "--engagement", metavar="LENGTH", help="Length over which errors of pitch count; else a diameter."
        ),
    ] = None,
    surface: options.Surface = None,
    part: options.Part = None,
    register: RegisterFile = None,
    figure: FigureFile = None,
    full: Full = False,
    unit: options.Unit = "mm",
    as_json: options.Json = False,
) -> None:
    """Check a thread against the limits of its class, or against a part on file.

    Ends with 0 conforms, 4 does not conform, 5 cannot tell.
    """
    inches = options.reads_inches(unit)
    own = own_gauges(pin_beside, pin_u95, known, known_u95)
    um_per_px = scale_of(calibration, scale, own)
    if (against is None) == (against_part is None):
        raise CommandLineError("against what? Give either --against DESIGNATION or --against-part PART")
    limits = None if against is None else limits_against(against)
    number = None if against_part is None else part_number(against_part)
    engagement_mm = None if engagement is None else parse_length(engagement, "--engagement")
    wires = _wires(over_wires, over_wires_u95, wire, wire_u95)
    target = figure_target(figure, picture)
    from cli.refusals import refusals_reported

    with refusals_reported(as_json=as_json):
        reference = None if number is None else filed_part(register, number)
        told = {"surface": options.read_surface(surface), "focus_locked": focus_locked}
        screw = measured(picture, calibration, um_per_px, own, part=part, **told)
    held_to = limits or reference
    assert held_to is not None
    checked = _checked(screw, held_to, wires | {"engagement": engagement_mm})
    measurement, found, said = screw.measurement, checked.found, checked.advised
    write_figure(target, lambda pages: pages.check_page(measurement, found, said, inches=inches))
    if as_json:
        write_json(checked.to_dict(inches=inches))
    elif full:
        _show(measurement, found, said, checked.micrometer, inches=inches)
    else:
        _show_brief(measurement, found, said, checked.micrometer, inches=inches)
    raise typer.Exit(exit_code(found.verdict))


def exit_code(verdict: str) -> ExitCode:
    """The exit code of a verdict."""
    codes = {"conforms": ExitCode.DONE, "does_not_conform": ExitCode.DOES_NOT_CONFORM}
    return codes.get(verdict, ExitCode.CANNOT_TELL)


def limits_against(against: str) -> Limits:
    """The limits of what ``--against`` names. Raises CommandLineError for no known designation."""
    from flankwise.judging import limits_named
    from threads.standards.designation import UnknownDesignationError

    try:
        return limits_named(against)
    except UnknownDesignationError as error:
        raise CommandLineError(message(error)) from error


def _wires(over_wires: str | None, over_wires_u95: str, wire: str | None, wire_u95: str) -> dict[str, Any]:
    """Reading and wire, each with its U95, mm, as ``flankwise.check`` takes them."""
    if (over_wires is None) != (wire is None):
        raise CommandLineError("--over-wires and --wire go together: the reading, and the diameter of the wires")
    if over_wires is None or wire is None:
        return {}
    return {
        "over_wires": parse_length(over_wires, "--over-wires"),
        "over_wires_u95": parse_length(over_wires_u95, "--over-wires-u95"),
        "wire": parse_length(wire, "--wire"),
        "wire_u95": parse_length(wire_u95, "--wire-u95"),
    }


def _checked(part: Part, held_to: Limits | Reference, given: dict[str, Any]) -> Checked:
    """``flankwise.check``, what does not go together said of its option. Raises CommandLineError."""
    from flankwise.judging import check
    from threads.judge.check import CheckError
    from threads.judge.compare import CompareError
    from threads.judge.wires import WireError

    try:
        return check(part, held_to, **given)
    except (CheckError, CompareError, WireError) as error:
        option = {CheckError: "--against", CompareError: "--against-part"}.get(type(error), "--over-wires")
        raise CommandLineError(f"{option}: {message(error)}") from error


def _show(
    measurement: Measurement, found: Check, said: tuple[Reason, ...], joined: Joined | None, *, inches: bool
) -> None:
    from cli.findings import heading, quality_lines
    from cli.tables import UNVERIFIED_MARK, Paragraph, indented, plain_table, unverified_note
    from threads.shared.formatting import format_length

    limits = found.limits
    unverified = limits is not None and limits.unverified
    head = ("", "measured", "min", "max", "verdict", "because")
    table = plain_table(*head, right=("min", "max"), whole=head[:5])
    for one in found.judgements:
        table.add_row(*_row(one, inches=inches), sentence(one.why, inches=inches) + _room(one, inches=inches))
    engaged = format_length(round(found.virtual.engagement_mm, 2), inches=inches)
    mark = f" {UNVERIFIED_MARK}" if unverified else ""
    by = "" if limits is None else f" ({limits.standard})"
    show(
        *heading(measurement),
        *([] if joined is None else ["", *_micrometer_lines(joined, inches=inches)]),
        "",
        f"Against {found.against}{mark}{by}: {WORDS[found.verdict]}",
        "",
        table,
        "",
        *(Paragraph(sentence(one, inches=inches), "- ") for one in said),
        "",
        indented(
            f"Errors of pitch count over {engaged} of engagement. A limit is kept if it is cleared by 2 u (U95), "
            "broken if it is passed by 2.6 u: stricter than the default of ISO 14253-1, 1.65 u, because five limits "
            "may break and a good part shall not fail by bad luck.",
            0,
        ),
        "",
        *quality_lines(measurement),
        *([unverified_note("limits or sizes")] if unverified else []),
        "",
        indented(f"Caution: {CAUTION}", 0),
    )


def _ends(one: Judgement, *, inches: bool) -> list[str]:
    """What it is held between, as written."""
    from threads.shared.formatting import format_lengths

    if one.measured is None or one.measured.unit == "mm":
        return format_lengths([one.low, one.high], inches=inches)
    return ["none" if angle is None else f"{angle:.2f}°" for angle in (one.low, one.high)]


def _room(one: Judgement, *, inches: bool) -> str:
    """What the pitch diameter leaves a pitch or a flank angle, which have no limits of their own."""
    from threads.judge.check import ROOM_LEFT

    if one.quantity not in ROOM_LEFT or one.low is None:
        return ""
    return f"; room left by the pitch diameter: {' to '.join(_ends(one, inches=inches))}"


def _row(one: Judgement, *, inches: bool) -> tuple[str, str, str, str, str]:
    """Quantity, measured, min, max, verdict."""
    from threads.shared.formatting import format_quantity

    low, high = ("none", "none") if _room(one, inches=inches) else _ends(one, inches=inches)
    words = one.quantity.replace("_", " ")
    return words, format_quantity(one.measured, inches=inches), low, high, WORDS[one.verdict]


def _show_brief(
    measurement: Measurement, found: Check, said: tuple[Reason, ...], joined: Joined | None, *, inches: bool
) -> None:
    """The verdict, the quantities that decide it, what to do."""
    from cli.tables import UNVERIFIED_MARK, Paragraph, plain_table

    limits = found.limits
    unverified = limits is not None and limits.unverified
    mark, by = (f" {UNVERIFIED_MARK}" if unverified else ""), "" if limits is None else f" ({limits.standard})"
    table = plain_table("", "measured", "min", "max", "verdict", right=("min", "max"))
    against_it = [one for one in found.judgements if one.verdict in ("does_not_conform", "cannot_tell")]
    against_it.sort(key=lambda one: one.verdict == "cannot_tell")
    for one in (against_it or [found.of("pitch_diameter"), found.of("virtual_pitch_diameter")])[:MOST_ROWS]:
        table.add_row(*_row(one, inches=inches))
    room = [f"{one.quantity.replace('_', ' ')}{_room(one, inches=inches)}" for one in against_it[:MOST_ROWS]]
    both = [] if joined is None else [line.strip() for line in _micrometer_lines(joined, inches=inches)[2:]]
    brief = [
        Item(f"{name_of(measurement)} against {found.against}{mark}{by}: {WORDS[found.verdict]}"),
        Item(table),
        *(Item(line, 1) for line in room if "room" in line),
        *(Item(line, 3) for line in both),
        *(Item(Paragraph(sentence(one, inches=inches), "- "), 2 * number) for number, one in enumerate(said)),
        *doubts([("", measurement)], inches=inches),
        *([Item(UNVERIFIED)] if unverified else []),
        Item(BRIEF_CAUTION),
    ]
    show_brief(brief, missing([measurement]))


def _micrometer_lines(joined: Joined, *, inches: bool) -> list[str]:
    from threads.shared.formatting import format_quantity

    reading, wire, by_wires, by_picture, both = (
        format_quantity(q, inches=inches)
        for q in (joined.over_wires, joined.wire, joined.by_wires, joined.by_picture, joined.thread.pitch_diameter)
    )
    half = ", half of what light may hide counted in" if joined.by_picture.one_sided else ""
    lines = [
        f"pitch diameter  by the picture     {by_picture}",
        f"                over wires         {by_wires} ({reading} over wires of {wire})",
        f"                both together      {both} ({100 * joined.share:.0f} % of it the micrometer's{half})",
    ]
    how = f"normalised difference {joined.normalised_difference:.2f}"
    if joined.agree:
        return [*lines, f"They agree ({how}, up to 1 is chance)."]
    disagree = (
        f"warning: They disagree ({how}; up to 1 would be chance): one of them is wrong. Look for a burr or dirt under "
        "a wire, a wire of another size, an oval or tapered screw, a calibration that is not of this bench. The "
        "uncertainty is enlarged to cover both."
    )
    return [*lines, disagree]
