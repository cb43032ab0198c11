"""A length typed without its unit: it is meant in the unit that the window is set to."""

from __future__ import annotations

import re

_BARE = re.compile(r"[\d.,/\s-]*\d[.,]?\s*")


def with_unit(text: str, *, inches: bool) -> str:
    """``text`` with "mm" or "in" behind it, and a point for a comma, where it is a bare number; else as it is."""
    return f"{text.strip().replace(',', '.')} {'in' if inches else 'mm'}" if _BARE.fullmatch(text) else text
