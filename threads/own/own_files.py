"""The workshop's own series, read from their files.

A file that cannot be read stops whatever needs the series with one line that names the file and the fault: to leave a
series out silently would be to answer without a thread that the person counts on.
"""

from __future__ import annotations

from functools import cache
from pathlib import Path

from threads.own.own_folder import BrokenOwnSeriesError, Edition, edition, path_of
from threads.own.own_table import OwnSeries, OwnTableError, read_table
from threads.rules.series_tables import ALIASES, builtin_names

RESERVED = ("add", "remove", "show", "all")
"""Words of the command line that cannot be names."""


def own_series() -> tuple[OwnSeries, ...]:
    """All own series, by name. Raises BrokenOwnSeriesError."""
    return _loaded(edition())


@cache
def _loaded(files: Edition) -> tuple[OwnSeries, ...]:
    return tuple(_read(Path(name)) for name, *_ in files)


def _read(path: Path) -> OwnSeries:
    try:
        own = read_table(path.read_bytes())
    except OSError as error:
        raise BrokenOwnSeriesError(path, error.strerror or "it cannot be opened") from error
    except OwnTableError as error:
        more = f" (and {len(error.faults) - 1} more)" if len(error.faults) > 1 else ""
        raise BrokenOwnSeriesError(path, f"{error.faults[0]}{more}") from error
    clash = name_clash(own.info.name)
    if clash:
        raise BrokenOwnSeriesError(path, f"its name {own.info.name!r} {clash}")
    if path_of(own.info.name).name != path.name:
        raise BrokenOwnSeriesError(path, f"its series is called {own.info.name!r}, but its file is not")
    return own


def name_clash(name: str) -> str | None:
    """Why a series cannot be called so."""
    folded = name.lower()
    taken = {"".join(known.split()).lower() for known in (*builtin_names(), *ALIASES)}
    if folded in taken:
        return "is the name of a built-in series: choose another"
    return "is a word of the command line: choose another" if folded in RESERVED else None
