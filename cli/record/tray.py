"""``flankwise record tray``: several parts in one picture, filed in one go and printed with their numbers."""

from __future__ import annotations

from typing import TYPE_CHECKING, Annotated

import typer

from cli import options
from cli.errors import CommandLineError
from cli.output import show, write_json
from cli.record.paper import Language, PaperSize, paper_file, read_language, read_paper, write_paper
from cli.register import RegisterFile, Who, opened, part_number
from cli.years import Made, Origin, parse_made

if TYPE_CHECKING:
    from records.tray import TrayPart


def tray(
    picture: Annotated[
        str | None, typer.Argument(metavar="[PICTURE]", help="A backlit picture of several parts, to be filed.")
    ] = None,
    calibration: options.CalibrationFile = None,
    scale: options.Scale = None,
    instrument: Annotated[
        str | None, typer.Option("--instrument", metavar="NAME", help="The instrument they are of.")
    ] = None,
    job: Annotated[str | None, typer.Option("--job", metavar="NAME", help="The job.")] = None,
    position: Annotated[
        list[str] | None,
        typer.Option("--position", metavar="NAME", help="Of each part in turn; the last one is counted on."),
    ] = None,
    name: Annotated[str | None, typer.Option("--name", metavar="WORDS", help="What they are: 'shade screw'.")] = None,
    origin: Origin = None,
    made: Made = None,
    create: Annotated[
        bool, typer.Option("--create", help="Make new names even if they are nearly those of others.")
    ] = False,
    part: Annotated[
        str | None, typer.Option("--part-id", metavar="PART", help="Print again the tray that this part lies on.")
    ] = None,
    output: Annotated[
        str | None, typer.Option("-o", "--output", metavar="FILE", help="Print the sheet: a file that ends in .pdf.")
    ] = None,
    paper: PaperSize = "a4",
    language: Language = "en",
    force: Annotated[bool, typer.Option("--force", help="Replace a file that is there.")] = False,
    register: RegisterFile = None,
    who: Who = None,
    unit: options.Unit = "mm",
    as_json: options.Json = False,
) -> None:
    """Measure and file every part in one picture, all or none, and print the picture with their numbers."""
    spoken, paper = read_language(language, unit), read_paper(paper)
    if (picture is None) == (part is None):
        raise CommandLineError("give a PICTURE to file, or --part-id PART to print its tray again")
    target = None if output is None else paper_file(output, (".pdf",), force=force)
    if part is not None and target is None:
        raise CommandLineError("print the tray with -o FILE.pdf")
    years = None if made is None else parse_made(made)
    from cli.bench import bench_of, scale_of
    from cli.refusals import refusals_reported

    um_per_px = None if picture is None else scale_of(calibration, scale)
    filed: tuple[TrayPart, ...] = ()
    with refusals_reported(as_json=as_json):
        from records.report.tray_sheet import print_tray

        file = opened(register, create=picture is not None)
        if picture is not None:
            from flankwise.measuring import measure_all
            from records.documenting import Place
            from records.tray import file_tray

            bench = bench_of(calibration, um_per_px)
            assert bench is not None
            place = Place(
                instrument=instrument, job=job, name=name, made=years, country=origin, create=create
            )  # fmt: skip
            filed = file_tray(file, measure_all(picture, bench), place, position or (), who=who)
            number = next(one.filed.part for one in filed if one.filed is not None)
        else:
            number = part_number(part or "")
        made_sheet = None if target is None else print_tray(file, number, spoken, paper=paper)
    if target is not None and made_sheet is not None:
        write_paper(target, made_sheet.content, made_sheet.missing)
    _report(filed, None if target is None else str(target), as_json=as_json)


def _report(filed: tuple[TrayPart, ...], written: str | None, *, as_json: bool) -> None:
    from flankwise.reasons import sentence

    if as_json:
        each = [
            {"number": one.number, "position": one.position or None, "part": one.filed and one.filed.part,
             "reasons": [{"code": reason.code, "message": sentence(reason)} for reason in one.reasons]}
            for one in filed
        ]  # fmt: skip
        write_json({"schema": "flankwise/tray/1", "parts": each, "file": written})
        return
    lines = []
    for one in filed:
        what = "not filed: no thread" if one.filed is None else f"filed as part {one.filed.part}"
        why = "; ".join(map(sentence, one.reasons))
        place = f", {one.position}" if one.position else ""
        lines.append(f"{one.number}: {'not filed: ' + why if why else what}{place}")
    show(*lines, *([f"{written}: the tray"] if written else []))
