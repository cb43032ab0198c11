"""``flankwise record report``: a job on paper, or as one HTML file."""

from __future__ import annotations

from pathlib import Path
from typing import Annotated

import typer

from cli import options
from cli.errors import CommandLineError, say
from cli.output import show, write_json
from cli.register import RegisterFile, opened
from cli.target import file_to_write
from cli.trial_options import part_of

PAPERS = ("a4", "letter")
SUFFIXES = (".pdf", ".html")
LANGUAGES = ("en", "de")


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
    language: Annotated[str, typer.Option("--language", metavar="en|de", help="Of the paper.")] = "en",
    paper: Annotated[str, typer.Option("--paper", metavar="a4|letter", help="The size of the paper.")] = "a4",
    force: Annotated[bool, typer.Option("--force", help="Replace a file that is there and is no report.")] = False,
    register: RegisterFile = None,
    unit: options.Unit = "mm",
    as_json: options.Json = False,
) -> None:
    """Write a job: a line and a picture a part, then a data sheet a part. Or the sheet of an instrument."""
    inches = options.reads_inches(unit)
    if paper not in PAPERS:
        raise CommandLineError(f"--paper {paper!r} is not one of {', '.join(PAPERS)}")
    if (job is None) == (instrument is None):
        raise CommandLineError("name a JOB, or an instrument with --instrument NAME")
    if language not in LANGUAGES:
        raise CommandLineError(f"--language {language!r} is not one of {', '.join(LANGUAGES)}")
    target = _target(output, force=force)
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

            printed = print_job(
                file, key, target.suffix.lower()[1:], paper=paper, inches=inches, part=part, language=language
            )
        else:
            from records.report.instrument_sheet import print_instrument

            printed = print_instrument(file, key, paper=paper, inches=inches, language=language)
    _write(target, printed.content)
    if printed.missing:
        say(
            f"flankwise: no type on this machine has the letters {printed.missing[:20]}: they are printed as codes. "
            "Install a TrueType one that has them, on Debian and Ubuntu the package fonts-droid-fallback"
        )
    if as_json:
        write_json({
            "schema": "flankwise/report/1", "status": "written", "file": str(target), "job": printed.job,
            "parts": printed.parts, "measured": printed.measured, "bytes": len(printed.content),
        })  # fmt: skip
    else:
        of = "" if part is not None else f", {printed.parts} parts, {printed.measured} of them measured"
        show(f"{target}: {printed.job}{of}")


def _target(output: str, *, force: bool) -> Path:
    """Raises CommandLineError for a name with another ending, and for a file that is there and is no report."""
    target = file_to_write("-o", output, SUFFIXES)
    if target.exists() and not force:
        from records.report.gather import is_report

        if not is_report(target):
            raise CommandLineError(f"-o {output} exists and is no report of this program: choose another, or --force")
    return target


def _write(target: Path, content: bytes) -> None:
    """Raises CommandLineError where it cannot be written."""
    from threads.shared.whole_file import write_whole

    try:
        write_whole(target, content)
    except OSError as error:
        raise CommandLineError(f"-o {target}: {error.strerror or 'it cannot be written'}") from error
