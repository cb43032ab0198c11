"""``flankwise record letterhead``: what papers begin with."""

from __future__ import annotations

from typing import Annotated

import typer

from cli import options
from cli.errors import CommandLineError
from cli.output import show, write_json
from cli.register import RegisterFile, opened


def letterhead(
    lines: Annotated[
        list[str] | None, typer.Argument(metavar="[LINE]...", help="The workshop's name, then address and telephone.")
    ] = None,
    clear: Annotated[bool, typer.Option("--clear", help="Papers have no head from now on.")] = False,
    register: RegisterFile = None,
    as_json: options.Json = False,
) -> None:
    """Show or set what the papers of the workshop begin with: name, address, telephone; a line each."""
    if lines and clear:
        raise CommandLineError("--clear goes without lines")
    from cli.refusals import refusals_reported
    from records.letterhead import MOST_LINES, keep_letterhead
    from records.letterhead import letterhead as kept

    if lines and len(lines) > MOST_LINES:
        raise CommandLineError(f"a letterhead has at most {MOST_LINES} lines, not {len(lines)}")
    with refusals_reported(as_json=as_json):
        file = opened(register, create=bool(lines))
        found = keep_letterhead(file, "\n".join(lines or ())) if lines or clear else kept(file)
    if as_json:
        write_json({"schema": "flankwise/letterhead/1", "lines": list(found)})
    else:
        show(*(found or ("no letterhead: papers begin with their title",)))
