"""Results in the types that JSON has, and JSON from outside."""

from __future__ import annotations

import json
import math
from collections.abc import Mapping, Sequence
from typing import Any


def plain(content: Any) -> Any:
    """``content`` in JSON's own types: NaN and infinity become None, numpy's numbers and arrays plain ones.

    Raises TypeError for anything else that JSON cannot hold.
    """
    if hasattr(content, "tolist"):  # numpy arrays and scalars
        content = content.tolist()
    if content is None or isinstance(content, str | bool | int):
        return content
    if isinstance(content, float):
        return content if math.isfinite(content) else None
    if isinstance(content, Mapping):
        return {str(key): plain(value) for key, value in content.items()}
    if isinstance(content, Sequence):
        return [plain(value) for value in content]
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
