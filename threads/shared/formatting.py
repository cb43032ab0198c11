"""How a quantity is written for a person: the one formatter of numbers in the house.

U95 is given to two significant digits and the value to the same decimal place (JCGM 100:2008, 7.2.6), always with the
unit. Inches are given to at least 0.0001 in. What is stored never passes through here: files and JSON keep all digits
in millimetres and degrees.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from decimal import ROUND_HALF_EVEN, Context, Decimal

from threads.shared.quantity import Quantity

MM_PER_INCH = 25.4
SIGNIFICANT_DIGITS = 2
MOST_DECIMALS = 9
LEAST_INCH_DECIMALS = 4
NOT_DETERMINED = "not determined"
_NEEDS_EXPONENT = 1e15
"""From here on a number has more digits than are known of it."""
_ANY_SIZE = Context(prec=700)
"""Room for every decimal of every number that a computer has, so that no number is refused."""

UNIT_SIGNS = {"mm": "mm", "in": "in", "deg": "°", "1/in": "/in", "um/mm": "µm/mm", "um": "µm", "px": "px", "%": "%"}
_ROUNDING = 1e-6
"""By so much a probability may leave 0 to 1 in a sum of many."""


@dataclass(frozen=True, slots=True)
class Written:
    """A quantity as written: value and U95 with the same number of decimals, and the sign of the unit.

    ``u95`` is empty where the quantity is exact.
    """

    value: str
    u95: str
    unit: str

    def __str__(self) -> str:
        gap = "" if self.unit in {"°", "/in", "%"} else " "
        return f"{self.value} ± {self.u95}{gap}{self.unit}" if self.u95 else f"{self.value}{gap}{self.unit}"


def write_quantity(quantity: Quantity, *, inches: bool = False) -> Written | None:
    """``quantity`` as it is written for a person, or None where the value or its U95 is not a finite number.

    With ``inches`` a length in mm is written in inches; other units stay. An uncertainty of 0 means: exact.

    >>> str(write_quantity(Quantity(2.36713, 0.00094, "mm")))
    '2.3671 ± 0.0019 mm'
    >>> str(write_quantity(Quantity(2.36713, 0.00094, "mm"), inches=True))
    '0.093194 ± 0.000074 in'
    >>> str(write_quantity(Quantity(59.9, 0.4, "deg")))
    '59.90 ± 0.80°'
    """
    value, u95, unit = float(quantity.value), float(quantity.u95), quantity.unit
    if not (math.isfinite(value) and math.isfinite(u95)):
        return None
    if inches and unit == "mm":
        value, u95, unit = value / MM_PER_INCH, u95 / MM_PER_INCH, "in"
    sign = UNIT_SIGNS.get(unit, unit)
    if u95 <= 0:
        return Written(_plain(value, LEAST_INCH_DECIMALS), "", sign)
    decimals = _decimals_of(u95)
    if unit == "in":
        decimals = max(decimals, LEAST_INCH_DECIMALS)
    return Written(_plain(value, decimals), _plain(u95, decimals), sign)


def format_quantity(quantity: Quantity | None, *, inches: bool = False) -> str:
    """``quantity`` in one line, "value ± U95 unit", or "not determined" for None or a number that is not finite."""
    written = None if quantity is None else write_quantity(quantity, inches=inches)
    return NOT_DETERMINED if written is None else str(written)


def format_length(length_mm: float | None, *, inches: bool = False) -> str:
    """An exact length, such as a limit of size, with its unit; "none" for None: the standard sets no such limit.

    Millimetres to 0.001 and inches to 0.0001, one place more where the length does not end there.

    >>> format_length(2.824), format_length(2.82448), format_length(2.82448, inches=True)
    ('2.824 mm', '2.8245 mm', '0.1112 in')
    """
    return format_lengths([length_mm], inches=inches)[0]


def format_lengths(lengths_mm: Sequence[float | None], *, inches: bool = False) -> list[str]:
    """As format_length, with the same number of decimals for all, so that they stand well under each other."""
    scale, unit, decimals = (1 / MM_PER_INCH, "in", 4) if inches else (1.0, "mm", 3)
    known = [length * scale for length in lengths_mm if length is not None and math.isfinite(length)]
    if any(abs(round(length, decimals) - length) > 1e-9 for length in known):
        decimals += 1

    def written(length_mm: float | None) -> str:
        if length_mm is None:
            return "none"
        return f"{_plain(length_mm * scale, decimals)} {unit}" if math.isfinite(length_mm) else NOT_DETERMINED

    return [written(length) for length in lengths_mm]


def format_difference(difference: float, unit: str, *, inches: bool = False) -> str:
    """A small difference of two lengths (mm) or angles (deg), as one says it: whole micrometres from ten on.

    With ``inches`` a length is given to 0.0001 in, below 0.001 in to 0.00001 in.

    >>> format_difference(0.0123, "mm"), format_difference(-0.0042, "mm"), format_difference(0.0123, "mm", inches=True)
    ('12 µm', '-4.2 µm', '0.00048 in')
    >>> format_difference(0.127, "deg")
    '0.13°'
    """
    if unit != "mm":
        gap = "" if unit == "deg" else " "
        return f"{_plain(difference, 2)}{gap}{UNIT_SIGNS.get(unit, unit)}"
    if inches:
        length = difference / MM_PER_INCH
        return f"{_plain(length, LEAST_INCH_DECIMALS if abs(length) >= 0.001 else LEAST_INCH_DECIMALS + 1)} in"
    length = 1000 * difference
    if abs(length) >= 1000:
        return f"{_plain(difference, 3)} mm"
    return f"{_plain(length, 0 if abs(length) >= 9.95 else 1)} µm"


def format_probability(probability: float) -> str:
    """A probability in per cent, never rounded to a certainty that it is not.

    >>> format_probability(0.7234), format_probability(0.0002), format_probability(0.9999), format_probability(1.0)
    ('72 %', 'under 1 %', 'over 99 %', '100 %')
    """
    if not -_ROUNDING <= probability <= 1 + _ROUNDING:
        return NOT_DETERMINED
    if 0 < probability < 0.01:
        return "under 1 %"
    if 0.99 < probability < 1:
        return "over 99 %"
    return f"{100 * probability:.0f} %"


def _decimals_of(u95: float) -> int:
    """The number of decimals that leaves two significant digits of ``u95`` > 0 (negative: tens, hundreds)."""
    exact = Decimal(u95)
    decimals = SIGNIFICANT_DIGITS - 1 - exact.adjusted()
    if _rounded(exact, decimals).adjusted() > exact.adjusted():  # 0.0997 becomes 0.10, not 0.100
        decimals -= 1
    return min(decimals, MOST_DECIMALS)


def _rounded(number: Decimal, decimals: int) -> Decimal:
    return number.quantize(Decimal(1).scaleb(-decimals), rounding=ROUND_HALF_EVEN, context=_ANY_SIZE)


def _plain(number: float, decimals: int) -> str:
    """``number`` with ``decimals`` decimals, without exponent and without a negative zero.

    What no screw has, is written short all the same: NaN and infinity as not determined, very large numbers with an
    exponent.
    """
    if not math.isfinite(number):
        return NOT_DETERMINED
    if abs(number) >= _NEEDS_EXPONENT:
        return f"{number:.3g}"
    rounded = _rounded(Decimal(number), decimals)
    return f"{abs(rounded) if rounded == 0 else rounded:f}"
