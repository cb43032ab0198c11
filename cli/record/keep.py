"""``flankwise record backup``, ``restore``, ``verify`` and ``repair``: keeping the register safe."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path
from typing import Annotated

import typer

from cli import options
from cli.errors import CommandLineError, CommandRefusedError, say
from cli.output import show, write_json
from cli.register import RegisterFile, opened
from flankwise.reasons import sentence
from threads.shared.refusal import Reason


def left_out(missing: Sequence[Reason]) -> None:
    """Say what is not in a file or folder that was written all the same. Raises CommandRefusedError if anything is."""
    for one in missing:
        say(f"flankwise: left out: {sentence(one)}")
    if missing:
        raise CommandRefusedError


Folder = Annotated[str, typer.Argument(metavar="FOLDER", help="The folder of the backup.")]


def backup(folder: Folder, register: RegisterFile = None, as_json: options.Json = False) -> None:
    """Copy the register and its pictures into a folder, new or that of an earlier backup, while it is in use."""
    from cli.refusals import refusals_reported

    with refusals_reported(as_json=as_json):
        file = opened(register)
        from records.backup import back_up

        made = back_up(file, Path(folder))
    missing = list(made.missing.values())
    if as_json:
        counts = {"parts": made.parts, "pictures": made.pictures, "copied": made.copied}
        write_json({"schema": "flankwise/backup-made/1", "status": "incomplete" if missing else "backed_up",
                    "folder": folder, "when": made.when, **counts,
                    "missing": [one.to_dict() for one in missing]})  # fmt: skip
    else:
        new = f", {made.copied} of them new" if made.copied != made.pictures else ""
        show(f"backed up to {folder}: {made.parts} parts, {made.pictures} pictures{new}")
    left_out(missing)


def restore(folder: Folder, register: RegisterFile = None, as_json: options.Json = False) -> None:
    """Bring the register back as it was when the backup was made. The present one is kept beside it."""
    from cli.refusals import refusals_reported
    from records.backup import restore as bring_back

    with refusals_reported(as_json=as_json):
        found, before = bring_back(Path(folder), register)
        file = opened(register)
    if as_json:
        write_json({
            "schema": "flankwise/restored/1", "status": "restored", "register": str(file.path), "when": found.when,
            "parts": found.parts, "pictures": found.pictures, "kept": None if before is None else str(before),
        })  # fmt: skip
    else:
        kept = [] if before is None else [f"the register of before is kept in {before}"]
        show(f"{file.path} is as it was at {found.when}: {found.parts} parts, {found.pictures} pictures", *kept)


def verify(register: RegisterFile = None, as_json: options.Json = False) -> None:
    """Look whether everything on file is there and whole: database, references, documents, pictures by their hash."""
    from cli.refusals import refusals_reported

    with refusals_reported(as_json=as_json):
        file = opened(register)
        from records.verification import refuse_faults
        from records.verification import verify as look_through

        found = look_through(file)
        refuse_faults(found)
    if as_json:
        remarks = [remark.to_dict() for remark in found.remarks]
        write_json({"schema": "flankwise/verification/1", "status": "sound", "register": str(file.path),
                    "counts": found.counts, "cleared": file.cleared, "remarks": remarks})  # fmt: skip
        return
    counts = ", ".join(f"{n} {what.removesuffix('s') if n == 1 else what}" for what, n in found.counts.items())
    cleared = [f"{file.cleared} files that a stopped program had left were cleared away"] if file.cleared else []
    show(f"{file.path} is sound: {counts}", *cleared, *(f"remark: {sentence(remark)}" for remark in found.remarks))


def repair(
    source: Annotated[
        list[str] | None,
        typer.Option(
            "--from", metavar="FOLDER",
            help="A backup, or a folder with the pictures under any name; may be given several times.",
        ),
    ] = None,
    register: RegisterFile = None,
    as_json: options.Json = False,
) -> None:  # fmt: skip
    """Set right what can be: lost pictures and altered rows from where they are still whole, and what follows."""
    folders = [Path(one) for one in source or ()]
    for folder in folders:
        if not folder.is_dir():
            raise CommandLineError(f"--from {folder}: there is no such folder")
    from cli.refusals import refusals_reported

    with refusals_reported(as_json=as_json):
        file = opened(register)
        from records.repair import repair as set_right
        from records.verification import refuse_faults

        done, found = set_right(file, folders)
        if not as_json:
            show(*(sentence(one) for one in done))
        refuse_faults(found)
    if as_json:
        write_json({"schema": "flankwise/repair/1", "status": "sound", "register": str(file.path),
                    "done": [one.to_dict() for one in done]})  # fmt: skip
    else:
        show(f"{file.path} is sound")
