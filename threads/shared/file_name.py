"""The name of a file in a message."""

from __future__ import annotations

import os
from pathlib import Path


def plain_name(path: str | os.PathLike[str]) -> str:
    """The name of a file for a message of one line: without folders, characters that do not print, or excess length."""
    name = Path(path).name or str(path) or "(no name)"
    name = "".join(c if c.isprintable() else "?" for c in name)
    return name if len(name) <= 100 else name[:97] + "..."
