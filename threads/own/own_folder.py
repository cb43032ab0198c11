"""Where the workshop's own series are: CSV files in the user's data folder, one file a series, never in the package."""

from __future__ import annotations

import os
from pathlib import Path

from threads.shared.data_folder import data_folder

FOLDER = "series"

Edition = tuple[tuple[str, int, int, int], ...]
"""State of the own series on disk: path, time, size and number of each file."""


class BrokenOwnSeriesError(ValueError):
    """A file of an own series that cannot be read. The message is one line and says what to do."""

    def __init__(self, path: Path, reason: str) -> None:
        self.path = path
        super().__init__(
            f"the own series in {path} cannot be read: {reason}; mend the file, or take it out with "
            f"'flankwise series remove {path.stem}'"
        )


def folder() -> Path:
    """Where the files are; it need not exist yet."""
    return data_folder() / FOLDER


def path_of(name: str) -> Path:
    """The file of the own series called ``name``."""
    return folder() / f"{name.lower()}.csv"


def edition() -> Edition:
    """State of the own series: a key for caches of what is made from all series, equal while nothing has changed."""
    try:
        with os.scandir(folder()) as found:
            files = [(file.path, file.stat(follow_symlinks=False)) for file in found if file.name.endswith(".csv")]
    except (FileNotFoundError, NotADirectoryError):  # no folder, no own series
        return ()
    except OSError as error:
        raise BrokenOwnSeriesError(folder(), error.strerror or "it cannot be opened") from error
    return tuple(sorted((path, stat.st_mtime_ns, stat.st_size, stat.st_ino) for path, stat in files))
