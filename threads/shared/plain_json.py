"""Results in the types that JSON has, and JSON from outside."""

from __future__ import annotations

import json
import math
from collections.abc import Callable, Mapping, Sequence
from typing import Any

from threads.shared.refusal import Reason


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

    Raises ValueError or RecursionError for anything else: a key twice and NaN, which Python would take, included.
    """
    return json.loads(content.decode("utf-8-sig"), object_pairs_hook=_no_key_twice, parse_constant=_no_constant)


def _no_key_twice(pairs: list[tuple[str, Any]]) -> dict[str, Any]:
    found = dict(pairs)
    if len(found) != len(pairs):
        raise ValueError("a key twice")
    return found


def _no_constant(text: str) -> float:
    raise ValueError(f"{text} is no number")
