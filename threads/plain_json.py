"""Results in the types that JSON has."""

from __future__ import annotations

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
