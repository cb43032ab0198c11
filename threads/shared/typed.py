"""Lengths, angles and shares as a person types them: always with their unit."""

from __future__ import annotations

import re

from threads.shared.refusal import ReasonedError

MM_PER_UNIT = {"mm": 1.0, "um": 0.001, "in": 25.4}
_SPELLINGS = {"µm": "um", "μm": "um", "micron": "um", "inch": "in", '"': "in", "″": "in"}
_MOST_SHOWN = 60
_SMALLEST, _LARGEST = 1e-12, 1e9
"""mm, degrees or per cent: far beyond all that is measured, and so near that no square of them overflows."""
_DEGREES = {"deg", "degree", "degrees", "°"}


class TypedError(ReasonedError, ValueError):
    """What was typed is no such quantity. The text is one line that says what to type instead."""


_NUMBER = r"[+-]?(?:\d+(?:\.\d*)?|\.\d+)(?:[eE][+-]?\d{1,3})?"
_FRACTION = r"(?:(?P<whole>\d{1,6})[ -])?(?P<over>\d{1,6})/(?P<under>\d{1,6})"
_QUANTITY = re.compile(rf"(?:(?P<number>{_NUMBER})|{_FRACTION})\s*(?P<unit>[a-zA-Zµμ]*|[\"″°%])", re.ASCII)


def parse_length(text: str, what: str = "a length") -> float:
    """The length typed as ``text``, in mm: ``2.500mm``, ``0.0984in``, ``25um``, ``1/8in``, ``1-1/2in``.

    ``what`` names it in messages. Raises TypedError for a bare number, an unknown unit, a length that is not
    above zero or not finite, and for anything that is not a length.
    """
    number, unit = _split(text, what, "2.500mm, 0.0984in or 25um")
    if unit not in MM_PER_UNIT:
        raise TypedError("typed.unit_of_length", what=what, typed=_shown(text), unit=unit)
    return above_zero(number * MM_PER_UNIT[unit], _shown(text), what)


def parse_angle(text: str, what: str = "an angle") -> float:
    """The angle typed as ``text``, in degrees: ``2deg``, ``2.5°``. Raises TypedError as parse_length does."""
    number, unit = _split(text, what, "2deg")
    if unit not in _DEGREES:
        raise TypedError("typed.unit_of_angle", what=what, typed=_shown(text), unit=unit)
    # a cone of nothing is collimated light
    return 0.0 if number == 0 else above_zero(number, _shown(text), what)


def parse_percent(text: str, what: str = "a share") -> float:
    """The share typed as ``text``, in per cent: ``0.2%``. Raises TypedError as parse_length does."""
    number, unit = _split(text, what, "0.2%")
    if unit != "%":
        raise TypedError("typed.unit_of_share", what=what, typed=_shown(text), unit=unit)
    return 0.0 if number == 0 else above_zero(number, _shown(text), what)


def parse_years(text: str, what: str = "a year") -> tuple[int, int]:
    """First and last year typed as ``text``, 1938 or 1930-1940.

    Raises TypedError for anything but a year of four digits or two of them in order.
    """
    found = re.fullmatch(r"(\d{4})(?:\s*[-\u2013]\s*(\d{4}))?", text.strip(), re.ASCII)
    if found is None:
        raise TypedError("typed.year", what=what, typed=_shown(text))
    first, last = int(found[1]), int(found[2] or found[1])
    if first > last:
        raise TypedError("typed.years_backwards", what=what, typed=_shown(text), last=last, first=first)
    return first, last


def _shown(text: str) -> str:
    """What was typed, in quotes, as much of it as fits in a message."""
    return repr(text if len(text) <= _MOST_SHOWN else f"{text[:_MOST_SHOWN]}...")


def apart_from_u95(text: str) -> tuple[str, str | None]:
    """What was typed before and behind a ``±`` or ``+-``: ``3.021mm ± 4um``; None where no U95 was typed.

    >>> apart_from_u95("0.2% +- 0.1%")
    ('0.2%', '0.1%')
    """
    value, sign, u95 = text.replace("+-", "±").partition("±")
    return value.strip(), u95.strip() if sign else None


def _split(text: str, what: str, example: str) -> tuple[float, str]:
    """The number of ``text`` and its unit in our spelling."""
    cleaned = text.strip()
    if re.fullmatch(r"[+-]?\d+,\d+.*", cleaned, re.DOTALL):
        raise TypedError("typed.comma", what=what, typed=_shown(text), example=example)
    found = _number_and_unit(cleaned)
    if found is None:
        raise TypedError("typed.no_number", what=what, typed=_shown(text), example=example)
    number, unit = found
    if not unit:
        raise TypedError("typed.no_unit", what=what, typed=_shown(text), example=example)
    return number, unit


def _number_and_unit(cleaned: str) -> tuple[float, str] | None:
    found = _QUANTITY.fullmatch(cleaned)
    if found is None:
        return None
    if found["number"] is not None:
        number = float(found["number"])
    elif int(found["under"]) == 0:
        return None
    else:
        number = int(found["whole"] or 0) + int(found["over"]) / int(found["under"])
    unit = found["unit"].lower()
    return number, _SPELLINGS.get(unit, unit)


def above_zero(number: float, shown: str, what: str) -> float:
    """``number``, if it is one that a workshop has to do with. ``shown``: as it was given. Raises TypedError."""
    if not number <= _LARGEST:
        raise TypedError("typed.too_large", what=what, typed=shown)
    if number <= 0:
        raise TypedError("typed.not_positive", what=what, typed=shown)
    if number < _SMALLEST:
        raise TypedError("typed.too_small", what=what, typed=shown)
    return number
