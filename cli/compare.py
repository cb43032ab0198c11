"""``flankwise compare``: by how much a replacement differs from the original, and what to change on the die."""

from __future__ import annotations

from typing import TYPE_CHECKING, Annotated

import typer

from cli import options
from cli.bench import measured, scale_of
from cli.errors import CommandLineError
from cli.figure import HELP, figure_target, write_figure
from cli.output import show, write_json
from flankwise.words import CAUTION

if TYPE_CHECKING:
    from threads.judge.compare import Comparison
    from vision.result.measurement import Measurement

INSTEAD = {
    "--part N": "--original-part N or --replacement-part N",
    "with --all-parts": "with 'flankwise measure --all-parts'",
    "say --starts": "measure it with 'flankwise measure --starts'",
}
"""Options of other commands that messages speak of, and what this one says."""

NUMBER = "which part, from the left, where several are in view"


def compare(
    original: Annotated[str, typer.Argument(metavar="ORIGINAL", help="The picture of the old part.")],
    replacement: Annotated[str, typer.Argument(metavar="REPLACEMENT", help="The picture of the new one.")],
    calibration: options.CalibrationFile = None,
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
    figure: Annotated[str | None, typer.Option("-o", "--figure", metavar="FILE", help=HELP)] = None,
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
        one = measured(original, calibration, um_per_px, part=original_part)
        two = measured(replacement, replacement_calibration or calibration, um_per_px, part=replacement_part)
    from flankwise.judging import compare as compare_parts

    compared = compare_parts(one, two)
    found, said = compared.found, compared.advice(inches=inches)
    both = one.measurement, two.measurement
    write_figure(target, lambda pages: pages.comparison_page(*both, found, said, inches=inches))
    if as_json:
        write_json(compared.to_dict(inches=inches))
        return
    _show(*both, found, said, inches=inches)


def _show(one: Measurement, two: Measurement, found: Comparison, said: tuple[str, ...], *, inches: bool) -> None:
    from cli.tables import Paragraph, indented, plain_table
    from threads.measured.form_errors import in_micrometres
    from threads.shared.formatting import format_quantity, write_quantity

    columns = ("original", "replacement", "difference")
    table = plain_table("", *columns, "significant", whole=columns)
    for name, difference in found.differences.items():
        if name == "lead" and one.thread.starts == 1:
            continue
        shown = difference if inches or difference.unit != "mm" else in_micrometres(difference)
        written = write_quantity(shown, inches=inches)
        if written is None:
            continue
        each = (format_quantity(getattr(thread, name), inches=inches) for thread in (found.original, found.replacement))
        sign = "+" if difference.value > 0 and not written.value.startswith("-") else ""
        differs = "yes" if name in found.significant else ""
        table.add_row(name.replace("_", " "), *each, f"{sign}{written}", differs)
    notes = []
    if found.common_left_out:
        notes.append(
            "Scale, edge offset, temperature and light are those of one bench and fall out of the differences; "
            "what a lens shows otherwise in another place of the picture does not."
        )
    else:
        notes.append("The pictures are from benches calibrated apart: nothing falls out of the differences.")
    if found.turned:
        notes.append("Which way the parts point is not in view: left and right of the replacement are exchanged.")
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
        *(Paragraph(line, "- ") for line in said),
        "",
        *warnings,
        *([""] if warnings else []),
        indented(f"Caution: {CAUTION}", 0),
    )


def _warnings(one: Measurement, two: Measurement) -> list[str]:
    """The warnings of both pictures, those they share once."""
    from cli.refusals import reworded

    messages = [[reworded(warning.message, INSTEAD) for warning in m.quality.warnings] for m in (one, two)]
    lines = [f"warning: both pictures: {text}" for text in messages[0] if text in messages[1]]
    for measurement, own, other in ((one, messages[0], messages[1]), (two, messages[1], messages[0])):
        lines += [f"warning: {measurement.picture.path}: {text}" for text in own if text not in other]
    return lines
