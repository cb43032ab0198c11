"""``flankwise record export`` and ``import``: parts for spreadsheets, drawing programs and other workshops."""

from __future__ import annotations

from pathlib import Path
from typing import Annotated

import typer

from cli import options
from cli.errors import CommandLineError, say
from cli.output import show, write_json
from cli.record.keep import left_out
from cli.register import RegisterFile, Who, opened, part_number
from cli.target import file_to_write

KINDS = (".csv", ".json", ".flankwise", ".zip", ".dxf")


def export(
    output: Annotated[
        str,
        typer.Option(
            "--output", "-o", metavar="FILE",
            help="The file to write: .csv a table, .json the rows, .flankwise (or .zip) a bundle with the pictures, "
            ".dxf one part.",
        ),
    ],
    job: Annotated[str | None, typer.Option("--job", metavar="JOB", help="Only the parts of this job.")] = None,
    instrument: Annotated[
        str | None, typer.Option("--instrument", metavar="NAME", help="Only the parts of this instrument.")
    ] = None,
    part: Annotated[
        list[str] | None, typer.Option("--part", metavar="N", help="Only this part; may be given several times.")
    ] = None,
    force: Annotated[bool, typer.Option("--force", help="Replace the file if there is one.")] = False,
    register: RegisterFile = None,
    as_json: options.Json = False,
) -> None:  # fmt: skip
    """Write parts as a table, a document, a bundle for another workshop, or a drawing."""
    target = _target(output, force=force)
    numbers = [part_number(text) for text in part or ()]
    if numbers and (job is not None or instrument is not None):
        raise CommandLineError("--part says which parts already: leave --job and --instrument out")
    if target.suffix.lower() == ".dxf" and len(numbers) != 1:
        raise CommandLineError("a drawing is of one part: give --part N once with -o FILE.dxf")
    from cli.refusals import refusals_reported

    with refusals_reported(as_json=as_json):
        file = opened(register)
        from records.exchange.outgoing import chosen_parts, files_for, write_parts
        from records.lookup import known_instrument, known_job

        with file.reading() as connection:
            parts = chosen_parts(
                connection,
                job=None if job is None else known_job(connection, job),
                instrument=None if instrument is None else known_instrument(connection, instrument),
                parts=numbers,
            )
        files = list(files_for(file, parts, target))
        if len(files) > 1:
            for one in files:
                _target(str(one), force=force)
            say(f"flankwise: {len(parts)} parts are too many for one file to be taken in again: they go into "
                f"{len(files)}, {files[0]} to {files[-1]}; each can be taken in alone")  # fmt: skip
        try:
            written = write_parts(file, parts, target)
        except OSError as error:
            raise CommandLineError(f"-o {output}: {error.strerror or 'it cannot be written'}") from error
    if as_json:
        write_json({"schema": "flankwise/exported/1", "status": "incomplete" if written.missing else "written",
                    "file": str(files[0]), "files": list(map(str, files)), **written.counts,
                    "missing": [one.to_dict() for one in written.missing]})  # fmt: skip
    else:
        name = str(files[0]) if len(files) == 1 else f"{files[0]} to {files[-1]}"
        show(f"{name}: {_words(dict(written.counts))}")
    left_out(written.missing)


def import_parts(
    source: Annotated[
        str,
        typer.Argument(metavar="FILE", help="A bundle (.flankwise, .zip), a document (.json), a table (.csv)."),
    ],
    who: Who = None,
    register: RegisterFile = None,
    as_json: options.Json = False,
) -> None:
    """File parts from another workshop or a table: all of them, or none."""
    path = Path(source)
    kind = path.suffix.lower()
    from records.exchange.incoming import READ, take_in
    from records.register_path import register_path

    if kind not in READ:
        raise CommandLineError(f"{source}: a file that ends in .flankwise, .zip, .json or .csv can be read")
    if not path.is_file():
        raise CommandLineError(f"{source}: there is no such file")
    from cli.refusals import refusals_reported

    with refusals_reported(as_json=as_json):
        arrived = take_in(path, lambda: opened(register, create=True), who)
    if as_json:
        write_json({
            "schema": "flankwise/imported/1", "status": "imported", "register": str(register_path(register)),
            "filed": dict(arrived.filed), "on_file": dict(arrived.known), "renamed": arrived.renamed,
            "without_picture": arrived.without_picture,
        })  # fmt: skip
        return
    before = f"; on file before: {_words(dict(arrived.known))}" if arrived.known else ""
    show(f"filed: {_words(dict(arrived.filed)) or 'nothing'}{before}", *arrived.renamed)
    if arrived.without_picture:
        say(f"flankwise: {arrived.without_picture} pictures did not come along: only a bundle (.flankwise) has them")


def _target(output: str, *, force: bool) -> Path:
    target = file_to_write("-o", output, KINDS)
    if target.exists() and not force:
        raise CommandLineError(f"-o {output} exists already: choose another name, or say --force")
    return target


def _words(counts: dict[str, int]) -> str:
    return ", ".join(
        f"{count} {(kind.removesuffix('s') if count == 1 else kind).replace('_', ' ')}"
        for kind, count in counts.items()
        if count and kind != "part_pictures"
    )
