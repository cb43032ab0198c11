"""When an instrument was made, as typed: ``--made 1936`` or ``--made 1930-1940``."""

from __future__ import annotations

import re

from cli.errors import CommandLineError


def parse_made(text: str) -> tuple[int, int]:
    """First and last year typed as ``text``.

    Raises CommandLineError for anything but a year of four digits or two of them in order.
    """
    found = re.fullmatch(r"(\d{4})(?:\s*[-\u2013]\s*(\d{4}))?", text.strip(), re.ASCII)
    if found is None:
        raise CommandLineError(f"--made {text!r} is not a year such as 1936 or a span such as 1930-1940")
    first, last = int(found[1]), int(found[2] or found[1])
    if first > last:
        raise CommandLineError(f"--made {text!r}: the first year is after the last; write {last}-{first}")
    return first, last
