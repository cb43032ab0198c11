"""Rounding of decimal numbers as the thread standards round them: halves away from zero, in decimals, not in binary."""

from __future__ import annotations


def round_to(value: float, places: int) -> float:
    """``value`` to ``places`` decimals, halves away from zero.

    Works on the ninth decimal of ``value``, so that a sum such as 0.1 + 0.00005, which binary arithmetic makes
    slightly less than 0.10005, still counts as a half. Use it only for numbers of the size of a thread (below 1e5).

    >>> round_to(0.10005, 4), round_to(-2.5, 0), round_to(0.00275004, 4)
    (0.1001, -3.0, 0.0028)
    """
    ninth = round(abs(value) * 1e9)  # whole numbers from here on: exact
    unit = 10 ** (9 - places)
    rounded = (ninth + unit // 2) // unit / 10**places
    return -rounded if value < 0 else rounded
