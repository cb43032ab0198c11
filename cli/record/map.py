"""``flankwise record map``: where the parts of an instrument sit, on a picture of it."""

from __future__ import annotations

from pathlib import Path
from typing import Annotated

import typer

from cli import options
from cli.errors import CommandLineError
from cli.output import show, write_json
from cli.record.paper import Language, PaperSize, paper_file, read_language, read_paper, write_paper
from cli.register import RegisterFile, Who, opened


def draw_map(
    instrument: Annotated[str, typer.Argument(metavar="INSTRUMENT", help="The instrument: its name, or its number.")],
    picture: Annotated[
        str | None,
        typer.Option("--picture", metavar="FILE", help="A picture of it for these marks; else the last one."),
    ] = None,
    mark: Annotated[
        list[str] | None,
        typer.Option("--mark", metavar="POSITION=X,Y", help="Where a position is, in pixels from the upper left."),
    ] = None,
    output: Annotated[
        str | None, typer.Option("-o", "--output", metavar="FILE", help="Print the map: a file that ends in .pdf.")
    ] = None,
    paper: PaperSize = "a4",
    language: Language = "en",
    force: Annotated[bool, typer.Option("--force", help="Replace a file that is there.")] = False,
    register: RegisterFile = None,
    who: Who = None,
    unit: options.Unit = "mm",
    as_json: options.Json = False,
) -> None:
    """Mark where the positions of an instrument are in pictures of it, and print the map with its numbers."""
    spoken, paper = read_language(language, unit), read_paper(paper)
    target = None if output is None else paper_file(output, (".pdf",), force=force)
    marks = [_mark(text) for text in mark or ()]
    if not marks and picture is not None:
        raise CommandLineError("--picture shows where --mark POSITION=X,Y is: mark at least one position")
    if not marks and target is None:
        raise CommandLineError("mark a position with --mark, or print the map with -o FILE.pdf")
    from cli.refusals import refusals_reported

    with refusals_reported(as_json=as_json):
        file = opened(register)
        from records.instrument_map import mark_positions
        from records.lookup import known_instrument
        from records.report.map_sheet import print_map

        with file.reading() as connection:
            key = known_instrument(connection, instrument)
        if marks:
            mark_positions(file, key, marks, picture=None if picture is None else Path(picture), who=who)
        made = None if target is None else print_map(file, key, spoken, paper=paper)
    if target is not None and made is not None:
        write_paper(target, made.content, made.missing)
    if as_json:
        written = None if target is None else str(target)
        write_json({"schema": "flankwise/map/1", "instrument": key, "marked": len(marks), "file": written})
        return
    count = "1 position" if len(marks) == 1 else f"{len(marks)} positions"
    show(*([f"{count} marked"] if marks else []), *([f"{target}: {made.job}"] if made is not None else []))


def _mark(text: str) -> tuple[str, float, float]:
    """Position and pixels of one mark. Raises CommandLineError."""
    name, _, place = text.rpartition("=")
    x, _, y = place.partition(",")
    try:
        across, down = float(x), float(y)
    except ValueError as error:
        raise CommandLineError(
            f"--mark {text!r}: write position, then pixels across and down: 'index arm 3=812,440'"
        ) from error
    return name.strip(), across, down
