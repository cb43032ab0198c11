"""``flankwise record report``: a job on paper, or as one HTML file."""

from __future__ import annotations

from typing import Annotated

import typer

from cli import options
from cli.errors import CommandLineError
from cli.output import show, write_json
from cli.record.paper import Language, PaperSize, paper_file, read_language, read_paper, share_told, write_paper
from cli.register import RegisterFile, opened
from cli.trial_options import part_of

SUFFIXES = (".pdf", ".html")


def report(
    output: Annotated[
        str, typer.Option("--output", "-o", metavar="FILE", help="The file to write, ending in .pdf or .html.")
    ],
    job: Annotated[
        str | None, typer.Argument(metavar="[JOB]", help="The job: its name or number; or 'part N'.")
    ] = None,
    instrument: Annotated[
        str | None, typer.Option("--instrument", metavar="NAME", help="Instead of a job the sheet of this instrument.")
    ] = None,
    language: Language = "en",
    paper: PaperSize = "a4",
    force: Annotated[bool, typer.Option("--force", help="Replace a file that is there and is no report.")] = False,
    register: RegisterFile = None,
    unit: options.Unit = "mm",
    as_json: options.Json = False,
) -> None:
    """Write a job: a line and a picture a part, then a data sheet a part. Or the sheet of an instrument."""
    spoken, paper = read_language(language, unit), read_paper(paper)
    if (job is None) == (instrument is None):
        raise CommandLineError("name a JOB, or an instrument with --instrument NAME")
    target = paper_file(output, SUFFIXES, force=force)
    if instrument is not None and target.suffix.lower() != ".pdf":
        raise CommandLineError(f"-o {output}: the sheet of an instrument is a .pdf")
    from cli.refusals import refusals_reported

    with refusals_reported(as_json=as_json):
        file = opened(register)
        from records.lookup import known_instrument, known_job

        part = None if job is None else part_of(job)
        key = 0
        with file.reading() as connection:
            if instrument is not None:
                key = known_instrument(connection, instrument)
            elif job is not None and part is None:
                key = known_job(connection, job)
        if job is not None:
            from records.report.printed import print_job

            kind = target.suffix.lower()[1:]
            with share_told("making the report") as reached:
                printed = print_job(
                    file, key, kind, paper=paper, inches=spoken.inches, language=spoken.language, part=part,
                    reached=reached,
                )  # fmt: skip
        else:
            from records.report.instrument_sheet import print_instrument

            printed = print_instrument(file, key, paper=paper, inches=spoken.inches, language=spoken.language)
    write_paper(target, printed.content, printed.missing)
    if as_json:
        write_json({
            "schema": "flankwise/report/1", "status": "written", "file": str(target), "job": printed.job,
            "parts": printed.parts, "measured": printed.measured, "bytes": len(printed.content),
        })  # fmt: skip
    else:
        of = "" if part is not None else f", {printed.parts} parts, {printed.measured} of them measured"
        show(f"{target}: {printed.job}{of}")
