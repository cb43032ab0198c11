"""What an import did, and where it takes its pictures from."""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable
from dataclasses import dataclass, field
from pathlib import Path

Fetch = Callable[[str, Path], bool]
"""Writes the picture with this hash to a new file; False where it is not there."""


@dataclass(frozen=True)
class Ready:
    """A picture that came along and can be read: its file, that of its thumbnail, and its size."""

    path: Path
    small: Path
    width_px: int
    height_px: int


@dataclass
class Arrived:
    """What an import did: rows filed, by kind; rows that were on file before; names that had to be changed."""

    filed: Counter[str] = field(default_factory=Counter)
    known: Counter[str] = field(default_factory=Counter)
    renamed: list[str] = field(default_factory=list)
    without_picture: int = 0
