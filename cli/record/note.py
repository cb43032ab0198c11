"""``flankwise record note``: what was said."""

from __future__ import annotations

import datetime as dt
from typing import Annotated

import typer

from cli import options
from cli.errors import CommandLineError
from cli.output import show, write_json
from cli.register import RegisterFile, Who, opened, part_number


def note(
    words: Annotated[list[str], typer.Argument(metavar="[PART] TEXT", help="The number of the part, then the note.")],
    instrument: Annotated[
        str | None, typer.Option("--instrument", metavar="NAME", help="A note on this instrument instead.")
    ] = None,
    job: Annotated[str | None, typer.Option("--job", metavar="NAME", help="A note on this job instead.")] = None,
    register: RegisterFile = None,
    who: Who = None,
    as_json: options.Json = False,
) -> None:
    """Write a note on a part, an instrument or a job."""
    if instrument is not None and job is not None:
        raise CommandLineError("a note is on one thing: give --instrument or --job, not both")
    number = None
    if instrument is None and job is None:
        number, words = part_number(words[0]), words[1:]
    text = " ".join(words).strip()
    if not text:
        raise CommandLineError("the note has no text: flankwise record note PART TEXT")
    from cli.refusals import refusals_reported
    from records import filing, lookup

    with refusals_reported(as_json=as_json):
        file = opened(register)
        with file.writing(who) as writing:
            if number is not None:
                lookup.known_part(writing.connection, number)
            added = filing.add_note(
                writing,
                text,
                part=number,
                instrument=None if instrument is None else lookup.known_instrument(writing.connection, instrument),
                job=None if job is None else lookup.known_job(writing.connection, job),
            )
    if as_json:
        write_json({"schema": "flankwise/note/1", "status": "filed", "note": added})
    else:
        show(f"note {added} filed")


def parse_day(text: str, what: str) -> str:
    """A day as typed, 2026-11-25. Raises CommandLineError."""
    try:
        return dt.date.fromisoformat(text.strip()).isoformat()
    except ValueError as error:
        raise CommandLineError(f"{what} {text!r} is not a day such as 2026-11-25") from error
