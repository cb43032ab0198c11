"""Where the program keeps what belongs to the person and to no one file, such as the workshop's own series.

Never in the package, which an update replaces.
"""

from __future__ import annotations

import os
from pathlib import Path

FOLDER_VARIABLE = "FLANKWISE_DATA"
"""Names the data folder in place of the system's usual one."""


def data_folder() -> Path:
    """The data folder; it need not exist yet."""
    named = os.environ.get(FOLDER_VARIABLE)
    if named:
        return Path(named).expanduser()
    import platformdirs

    return platformdirs.user_data_path("flankwise", appauthor=False)


def log_folder() -> Path:
    """Where logs of failures go; it need not exist yet."""
    import platformdirs

    return platformdirs.user_log_path("flankwise", appauthor=False)
