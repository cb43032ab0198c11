"""The name of a file in a message, and the name of a new file."""

from __future__ import annotations

import os
import unicodedata
from pathlib import Path

_FORBIDDEN = '<>:"/\\|?*'
_MOST_BYTES = 120
_DEVICES = {"con", "prn", "aux", "nul", "conin$", "conout$"} | {
    f"{port}{number}" for port in ("com", "lpt") for number in "0123456789¹²³"
}


def plain_name(path: str | os.PathLike[str]) -> str:
    """The name of a file for a message of one line: without folders, characters that do not print, or excess length."""
    name = Path(path).name or str(path) or "(no name)"
    name = "".join(c if c.isprintable() else "?" for c in name)
    return name if len(name) <= 100 else name[:97] + "..."


def file_name_for(text: str, ending: str = "") -> str:
    r"""A name for a new file about ``text``, such as the name of a job, that every system takes. ``ending``: ".pdf".

    Windows takes none of ``<>:"/\|?*``, no dot or space at the end, and no name of a device, whatever follows its
    first dot and in large or small letters (Microsoft, "Naming Files, Paths, and Namespaces"). Most systems take 255
    bytes.

    >>> file_name_for("index arm: 3/4", ".pdf"), file_name_for("con", ".pdf")
    ('index arm- 3-4.pdf', 'con_.pdf')
    """
    name = unicodedata.normalize("NFC", text)
    name = "".join("-" if c in _FORBIDDEN or not c.isprintable() else c for c in name)
    while len(name.encode("utf-8", "replace")) > _MOST_BYTES:
        name = name[:-1]
    name = name.strip(" .") or "file"
    stem, dot, rest = name.partition(".")
    if stem.rstrip().casefold() in _DEVICES:
        name = f"{stem.rstrip()}_{dot}{rest}"
    return name + ending
