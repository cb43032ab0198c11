"""``flankwise gui``: the desktop program."""

from __future__ import annotations

from typing import Annotated

import typer


def gui(
    pictures: Annotated[
        list[str] | None, typer.Argument(metavar="[PICTURE]...", help="Pictures of parts to open.")
    ] = None,
) -> None:
    """Open the desktop program."""
    from gui.app import main

    code = main(pictures or ())
    if code:
        raise typer.Exit(code)
