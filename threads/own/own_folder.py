"""Where the workshop's own series are: CSV files in the user's data folder, one file a series, never in the package."""

from __future__ import annotations

import os
from pathlib import Path

from threads.shared.data_folder import data_folder
from threads.shared.file_name import file_name_for
from threads.shared.refusal import Given, Reason, ReasonedError

FOLDER = "series"

Edition = tuple[tuple[str, int, int, int], ...]
"""State of the own series on disk: path, time, size and number of each file."""


class BrokenOwnSeriesError(ReasonedError, ValueError):
    """A file of an own series that cannot be read; ``case`` is one of ``own_series_broken``."""

    def __init__(self, path: Path, case: str = "", **values: Given) -> None:
        self.path = path
        key = f"own_series_broken.{case}" if case else "own_series_broken"
        super().__init__(Reason(key, path=path, name=path.stem, **values))


def folder() -> Path:
    """Where the files are; it need not exist yet."""
    return data_folder() / FOLDER


def path_of(name: str) -> Path:
    """The file of the own series called ``name``."""
    return folder() / file_name_for(name.lower(), ".csv")


def edition() -> Edition:
    """State of the own series: a key for caches of what is made from all series, equal while nothing has changed."""
    try:
        with os.scandir(folder()) as found:
            files = [(file.path, file.stat(follow_symlinks=False)) for file in found if file.name.endswith(".csv")]
    except (FileNotFoundError, NotADirectoryError):  # no folder, no own series
        return ()
    except OSError as error:
        raise BrokenOwnSeriesError(folder(), why=error.strerror or "it cannot be opened") from error
    return tuple(sorted((path, stat.st_mtime_ns, stat.st_size, stat.st_ino) for path, stat in files))
