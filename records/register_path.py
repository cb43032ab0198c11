"""Where the parts register is; apart from what opens it, so that asking whether there is one costs nothing."""

from __future__ import annotations

import os
from pathlib import Path

from threads.shared.data_folder import data_folder

REGISTER_VARIABLE = "FLANKWISE_REGISTER"
"""Names the register in place of the one in the data folder."""


def register_path(given: str | os.PathLike[str] | None = None) -> Path:
    """The file meant: ``given``, or the one that ``FLANKWISE_REGISTER`` names, or that of the data folder."""
    named = given or os.environ.get(REGISTER_VARIABLE)
    path = Path(named).expanduser() if named else data_folder() / "register.sqlite"
    return Path(os.path.realpath(path)) if path.is_symlink() else path  # its pictures lie beside the file itself
