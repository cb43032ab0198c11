"""Lengths, angles, years and statements as a caller may give them: as text, or as plain numbers."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

from threads.shared.typed import above_zero, parse_angle, parse_length, parse_years

if TYPE_CHECKING:
    from threads.identify.stated import Stated

Amount = str | float
"""A text with its unit, or a number in mm (lengths) or degrees (angles)."""

Years = int | str | tuple[int, int]
"""1936, "1936", "1930-1940" or (1930, 1940)."""


def in_mm(length: Amount, what: str) -> float:
    """``length`` in mm. Raises TypedError for what is no length above zero.

    >>> in_mm("0.1in", "pin"), in_mm(2.5, "pin")
    (2.54, 2.5)
    """
    return parse_length(length, what) if isinstance(length, str) else _number(length, what)


def in_degrees(angle: Amount, what: str) -> float:
    """``angle`` in degrees. Raises TypedError for what is no angle of zero or more."""
    return parse_angle(angle, what) if isinstance(angle, str) else 0.0 if angle == 0 else _number(angle, what)


def from_to(years: Years | None) -> tuple[int, int] | None:
    """First and last year. Raises TypedError for what is none.

    >>> from_to(1936), from_to("1930-1940")
    ((1936, 1936), (1930, 1940))
    """
    if years is None or isinstance(years, tuple):
        return years
    return parse_years(str(years), "made")


def stated_of(given: str | tuple[str, str] | Stated | None) -> Stated | None:
    """A statement as it may be given. Raises StatedError, a ValueError."""
    from threads.identify.stated import Stated, stated

    if given is None or isinstance(given, Stated):
        return given
    return stated(given) if isinstance(given, str) else stated(*given)


def _number(number: float, what: str) -> float:
    try:
        found = float(number)
    except OverflowError:  # a whole number of hundreds of digits
        found = math.inf
    return above_zero(found, f"{found:g}", what)
