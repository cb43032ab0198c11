"""``flankwise record drawing``: a part drawn to make it again."""

from __future__ import annotations

from typing import Annotated

import typer

from cli import options
from cli.errors import CommandLineError
from cli.output import show, write_json
from cli.record.paper import Language, PaperSize, paper_file, read_language, read_paper, write_paper
from cli.register import PartNumber, RegisterFile, opened, part_number

KINDS = (".pdf", ".dxf")


def drawing(
    part: PartNumber,
    output: Annotated[
        str, typer.Option("--output", "-o", metavar="FILE", help="The file to write, ending in .pdf or .dxf.")
    ],
    designation: Annotated[
        str | None,
        typer.Option("--as", metavar="DESIGNATION", help="The class to make it by, if not the most probable one."),
    ] = None,
    hole_part: Annotated[
        str | None, typer.Option("--hole-part", metavar="PART", help="The tried hole on file that it has to fit.")
    ] = None,
    paper: PaperSize = "a4",
    language: Language = "en",
    force: Annotated[bool, typer.Option("--force", help="Replace a file that is there.")] = False,
    register: RegisterFile = None,
    unit: options.Unit = "mm",
    as_json: options.Json = False,
) -> None:
    """Draw a part to make it again: dimensions, limits of its thread, true to scale, with a bar to check it by."""
    spoken, paper = read_language(language, unit), read_paper(paper)
    number = part_number(part)
    hole = None if hole_part is None else part_number(hole_part)
    target = paper_file(output, KINDS, force=force)
    limits = None
    if designation is not None:
        from cli.check import limits_against

        limits = limits_against(designation)
        if limits.internal:
            raise CommandLineError(f"--as {designation}: a screw is drawn, and this is the class of a nut")
    from cli.refusals import refusals_reported
    from records.workshop_drawing.filed import print_drawing

    with refusals_reported(as_json=as_json):
        kind = target.suffix.lower()[1:]
        made = print_drawing(opened(register), number, kind, spoken, paper=paper, limits=limits, hole=hole)
    write_paper(target, made.content, made.missing)
    if as_json:
        write_json({"schema": "flankwise/drawing/1", "status": "written", "part": number, "file": str(target)})
    else:
        show(f"{target}: part {number}, {made.job}")
