"""``flankwise gui``: the desktop program."""

from __future__ import annotations

from typing import Annotated

import typer

from cli.errors import CommandLineError

PLACES = ("bench", "part", "fit", "register")


def gui(
    files: Annotated[
        list[str] | None, typer.Argument(metavar="[FILE]...", help="Pictures, a calibration, a bundle to open.")
    ] = None,
    place: Annotated[
        str, typer.Option("--place", metavar="|".join(PLACES), help="The place that comes to the front.")
    ] = "",
) -> None:
    """Open the desktop program."""
    if place and place not in PLACES:
        raise CommandLineError(f"--place {place!r} is not one of {', '.join(PLACES)}")
    from gui.app import main

    code = main(files or (), place)
    if code:
        raise typer.Exit(code)
