"""Where and when an instrument was made, as typed: ``--origin US``, ``--made 1938`` or ``--made 1930-1940``."""

from __future__ import annotations

from typing import Annotated

import typer

from cli.errors import CommandLineError
from flankwise.reasons import message
from threads.shared.typed import TypedError, parse_years

Origin = Annotated[
    str | None, typer.Option("--origin", metavar="CC", help="Country of the instrument, such as US, GB or DE.")
]
Made = Annotated[str | None, typer.Option("--made", metavar="YEAR", help="When it was made: 1938, or 1930-1940.")]


def parse_made(text: str) -> tuple[int, int]:
    """First and last year typed as ``text``.

    Raises CommandLineError for anything but a year of four digits or two of them in order.
    """
    try:
        return parse_years(text, "--made")
    except TypedError as error:
        raise CommandLineError(message(error)) from error
