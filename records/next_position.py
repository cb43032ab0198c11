"""Counting positions on: after index arm 3 comes index arm 4."""

from __future__ import annotations

import re

_TRAILING_NUMBER = re.compile(r"^(.*?)(\d+)(\D*)$")


def next_position(position: str, taken: frozenset[str] = frozenset()) -> str:
    """The position after ``position``: its last number goes up by one, and past those that are ``taken``.

    >>> next_position("index arm 3"), next_position("handle"), next_position("shade 9b")
    ('index arm 4', '', 'shade 10b')
    >>> next_position("index arm 3", frozenset({"index arm 4"}))
    'index arm 5'
    """
    found = _TRAILING_NUMBER.match(position.strip())
    if found is None:
        return ""
    head, number, tail = found.groups()
    following = int(number) + 1
    while (name := f"{head}{following:0{len(number)}d}{tail}") in taken:
        following += 1
    return name
