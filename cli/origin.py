"""Where and when an instrument was made, as typed: ``--origin US``, ``--made 1936``, ``--made 1930-1940``."""

from __future__ import annotations

import re

from cli.errors import CommandLineError

FIRST_YEAR = 1500
LAST_YEAR = 2200
_OFTEN_MEANT = {"UK": "GB", "EN": "GB"}


def parse_origin(text: str) -> str:
    """The country typed as ``text`` in capitals, two letters as in ISO 3166-1.

    Raises CommandLineError for anything that is not two letters.
    """
    code = text.strip().upper()
    if re.fullmatch(r"[A-Z]{2}", code) is None:
        raise CommandLineError(f"--origin {text!r} is not a country code of two letters, such as US, GB or DE")
    if code in _OFTEN_MEANT:
        raise CommandLineError(f"--origin {text!r} is not a country code: write {_OFTEN_MEANT[code]}")
    return code


def parse_made(text: str) -> tuple[int, int]:
    """First and last year typed as ``text``: ``1936`` or ``1930-1940``.

    Raises CommandLineError for anything else, a year out of 1500 to 2200, and years in the wrong order.
    """
    found = re.fullmatch(r"(\d{4})(?:\s*[-\u2013]\s*(\d{4}))?", text.strip(), re.ASCII)
    if found is None:
        raise CommandLineError(f"--made {text!r} is not a year such as 1936 or a span such as 1930-1940")
    first, last = int(found[1]), int(found[2] or found[1])
    if first > last:
        raise CommandLineError(f"--made {text!r}: the first year is after the last; write {last}-{first}")
    if first < FIRST_YEAR or last > LAST_YEAR:
        raise CommandLineError(f"--made {text!r}: years from {FIRST_YEAR} to {LAST_YEAR} are known here")
    return first, last
