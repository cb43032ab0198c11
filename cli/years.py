"""When an instrument was made, as typed: ``--made 1936`` or ``--made 1930-1940``."""

from __future__ import annotations

from cli.errors import CommandLineError
from threads.typed import TypedError, parse_years


def parse_made(text: str) -> tuple[int, int]:
    """First and last year typed as ``text``.

    Raises CommandLineError for anything but a year of four digits or two of them in order.
    """
    try:
        return parse_years(text, "--made")
    except TypedError as error:
        raise CommandLineError(str(error)) from error
