"""``flankwise compare``: by how much a replacement differs from the original, and what to change on the die."""

from __future__ import annotations

from typing import TYPE_CHECKING, Annotated, Any

import typer

from cli import options
from cli.bench import measured, scale_of
from cli.brief import BRIEF_CAUTION, Full, Item, doubts, name_of, show_brief
from cli.errors import CommandLineError
from cli.figure import HELP, figure_target, write_figure
from cli.output import show, write_json
from flankwise.reasons import sentence
from flankwise.words import CAUTION
from threads.shared.refusal import Reason

if TYPE_CHECKING:
    from threads.judge.compare import Comparison
    from vision.result.measurement import Measurement

INSTEAD = {"several_parts": "several_parts.of_two", "starts_not_shown": "starts_not_shown.of_two"}
"""What is said in place of what speaks of options of other commands."""

APART = "The pictures are from benches calibrated apart: nothing falls out of the differences."
TURNED = "Which way the parts point is not in view: left and right of the replacement are exchanged."
MOST_ROWS = 5
"""Differences in the short answer."""

NUMBER = "which part, from the left, where several are in view"


def compare(
    original: Annotated[str, typer.Argument(metavar="ORIGINAL", help="The picture of the old part.")],
    replacement: Annotated[str, typer.Argument(metavar="REPLACEMENT", help="The picture of the new one.")],
    calibration: options.CalibrationFile = None,
    focus_locked: options.FocusLocked = False,
    scale: options.Scale = None,
    replacement_calibration: Annotated[
        str | None,
        typer.Option("--replacement-calibration", metavar="CAL.json", help="That of the second picture, if another."),
    ] = None,
    original_part: Annotated[
        int | None, typer.Option("--original-part", min=1, metavar="N", help=f"In the first picture {NUMBER}.")
    ] = None,
    replacement_part: Annotated[
        int | None, typer.Option("--replacement-part", min=1, metavar="N", help=f"In the second picture {NUMBER}.")
    ] = None,
    original_surface: Annotated[
        str | None, typer.Option("--original-surface", metavar="bright|dull|black", help="That of the original.")
    ] = None,
    replacement_surface: Annotated[
        str | None, typer.Option("--replacement-surface", metavar="bright|dull|black", help="That of the replacement.")
    ] = None,
    figure: Annotated[str | None, typer.Option("-o", "--figure", metavar="FILE", help=HELP)] = None,
    full: Full = False,
    unit: options.Unit = "mm",
    as_json: options.Json = False,
) -> None:
    """Compare a replacement with the original: what differs, and how to set the die."""
    inches = options.reads_inches(unit)
    um_per_px = scale_of(calibration, scale)
    if replacement_calibration is not None and calibration is None:
        raise CommandLineError("--replacement-calibration goes with --calibration, which is that of the first picture")
    target = figure_target(figure, original, replacement)
    from cli.refusals import refusals_reported

    with refusals_reported(as_json=as_json, instead=INSTEAD):
        told: dict[str, Any] = {"focus_locked": focus_locked}
        one_surface, two_surface = map(options.read_surface, (original_surface, replacement_surface))
        one = measured(original, calibration, um_per_px, part=original_part, surface=one_surface, **told)
        other = replacement_calibration or calibration
        two = measured(replacement, other, um_per_px, part=replacement_part, surface=two_surface, **told)
    from flankwise.judging import compare as compare_parts

    compared = compare_parts(one, two)
    found, said = compared.found, compared.advised
    both = one.measurement, two.measurement
    write_figure(target, lambda pages: pages.comparison_page(*both, found, said, inches=inches))
    if as_json:
        write_json(compared.to_dict(inches=inches))
        return
    if full:
        _show(*both, found, said, inches=inches)
    else:
        _show_brief(*both, found, said, inches=inches)


def _show_brief(
    one: Measurement, two: Measurement, found: Comparison, said: tuple[Reason, ...], *, inches: bool
) -> None:
    """Whether they differ, by how much where they do, what to do about it."""
    from cli.tables import Paragraph, plain_table
    from threads.shared.formatting import format_quantity

    differing = found.significant
    verdict = "differs from" if differing else "does not differ significantly from"
    table = plain_table("", "", "")
    for name in differing[:MOST_ROWS] or ("pitch_diameter", "major_diameter"):
        was = format_quantity(getattr(found.original, name), inches=inches)
        table.add_row(name.replace("_", " "), _difference(name, found, inches=inches), f"original {was}")
    more = len(differing) - MOST_ROWS
    show_brief([
        Item(f"{name_of(two)} {verdict} {name_of(one)}."),
        Item(table),
        *([Item(f"and {more} more", 30)] if more > 0 else []),
        *(Item(Paragraph(sentence(one, inches=inches), "- "), 2 * n) for n, one in enumerate(said)),
        *([] if found.common_left_out else [Item(APART, 20)]),
        *([Item(TURNED, 21)] if found.turned else []),
        *doubts([("original", one), ("replacement", two)], inches=inches),
        Item(BRIEF_CAUTION),
    ])  # fmt: skip


def _difference(name: str, found: Comparison, *, inches: bool) -> str:
    """Replacement less original, lengths in micrometres, with its sign."""
    from threads.measured.form_errors import in_micrometres
    from threads.shared.formatting import format_quantity

    difference = found.differences[name]
    shown = format_quantity(
        difference if inches or difference.unit != "mm" else in_micrometres(difference), inches=inches
    )
    return f"+{shown}" if difference.value > 0 and not shown.startswith("-") else shown


def _show(one: Measurement, two: Measurement, found: Comparison, said: tuple[Reason, ...], *, inches: bool) -> None:
    from cli.tables import Paragraph, indented, plain_table
    from threads.shared.formatting import format_quantity

    columns = ("original", "replacement", "difference")
    table = plain_table("", *columns, "significant", whole=columns)
    for name in found.differences:
        if name == "lead" and one.thread.starts == 1:
            continue
        each = (format_quantity(getattr(thread, name), inches=inches) for thread in (found.original, found.replacement))
        differs = "yes" if name in found.significant else ""
        table.add_row(name.replace("_", " "), *each, _difference(name, found, inches=inches), differs)
    notes = []
    if found.common_left_out:
        notes.append(
            "Scale, edge offset, temperature and light are those of one bench and fall out of the differences; "
            "what a lens shows otherwise in another place of the picture does not."
        )
    else:
        notes.append(APART)
    if found.turned:
        notes.append(TURNED)
    warnings = _warnings(one, two)
    show(
        f"original     {one.picture.path}",
        f"replacement  {two.picture.path}",
        "",
        table,
        "",
        f"Significant: more than {found.threshold:.1f} u off zero, which two equal parts show in 5 % of cases at most.",
        *notes,
        "",
        *(Paragraph(sentence(one, inches=inches), "- ") for one in said),
        "",
        *warnings,
        *([""] if warnings else []),
        indented(f"Caution: {CAUTION}", 0),
    )


def _warnings(one: Measurement, two: Measurement) -> list[str]:
    """The warnings of both pictures, those they share once."""
    from cli.refusals import in_place

    messages = [[sentence(in_place(warning, INSTEAD)) for warning in m.quality.warnings] for m in (one, two)]
    lines = [f"warning: both pictures: {text}" for text in messages[0] if text in messages[1]]
    for measurement, own, other in ((one, messages[0], messages[1]), (two, messages[1], messages[0])):
        lines += [f"warning: {measurement.picture.path}: {text}" for text in own if text not in other]
    return lines
