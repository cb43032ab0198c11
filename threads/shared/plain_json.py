"""Results in the types that JSON has, and JSON from outside."""

from __future__ import annotations

import json
import math
from collections.abc import Callable, Mapping, Sequence
from typing import Any

from threads.shared.refusal import Reason

MOST_DEPTH = 40
"""A measurement within the rows of a bundle is nine deep."""

_MOST_DIGITS = 18
"""Of a whole number: it fits into 64 bits."""


def plain(content: Any, words: Callable[[Reason], str] = str) -> Any:
    """``content`` in JSON's own types: NaN and infinity become None, numpy's numbers and arrays plain ones.

    ``words`` makes a sentence of a reason (``flankwise.reasons.sentence``).

    Raises TypeError for anything else that JSON cannot hold.
    """
    if hasattr(content, "tolist"):  # numpy arrays and scalars
        content = content.tolist()
    if isinstance(content, Reason):
        return words(content)
    if content is None or isinstance(content, str | bool | int):
        return content
    if isinstance(content, float):
        return content if math.isfinite(content) else None
    if isinstance(content, Mapping):
        return {str(key): plain(value, words) for key, value in content.items()}
    if isinstance(content, Sequence):
        return [plain(value, words) for value in content]
    raise TypeError(f"not a JSON value: {type(content).__name__}")


def strictly_parsed(content: bytes) -> Any:
    """UTF-8 ``content`` as JSON, with or without a byte order mark.

    Raises ValueError or RecursionError for anything else, what Python would take included: a key twice, NaN, numbers
    beyond 64 bits, and more than ``MOST_DEPTH`` lists or objects in each other, which no document of ours has.
    """
    found = json.loads(
        content.decode("utf-8-sig"),
        object_pairs_hook=_no_key_twice,
        parse_constant=_no_constant,
        parse_float=_finite,
        parse_int=_short,
    )
    level, depth = [found], 0
    while (
        level := [
            inner
            for outer in level
            for inner in (outer.values() if isinstance(outer, dict) else outer)
            if isinstance(inner, (dict, list))
        ]
        if isinstance(found, (dict, list))
        else []
    ):
        depth += 1
        if depth > MOST_DEPTH:
            raise ValueError(f"nested more than {MOST_DEPTH} deep")
    return found


def _no_key_twice(pairs: list[tuple[str, Any]]) -> dict[str, Any]:
    found = dict(pairs)
    if len(found) != len(pairs):
        raise ValueError("a key twice")
    return found


def _finite(text: str) -> float:
    number = float(text)
    if not math.isfinite(number):
        raise ValueError(f"{text[:20]} is no number")
    return number


def _short(text: str) -> int:
    if len(text) > _MOST_DIGITS:
        raise ValueError("a number that is too large")
    return int(text)


def _no_constant(text: str) -> float:
    raise ValueError(f"{text} is no number")
