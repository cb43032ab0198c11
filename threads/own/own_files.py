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
from threads.shared.refusal import Reason

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
        raise BrokenOwnSeriesError(path, why=error.strerror or "it cannot be opened") from error
    except OwnTableError as error:
        first, *more = error.reasons
        if more:
            raise BrokenOwnSeriesError(path, "more", why=first, more=len(more)) from error
        raise BrokenOwnSeriesError(path, why=first) from error
    clash = name_clash(own.info.name)
    if clash:
        raise BrokenOwnSeriesError(path, why=clash)
    if path_of(own.info.name).name != path.name:
        raise BrokenOwnSeriesError(path, "name", series=own.info.name)
    return own


def name_clash(name: str) -> Reason | None:
    """Why a series cannot be called so."""
    folded = name.lower()
    taken = {"".join(known.split()).lower() for known in (*builtin_names(), *ALIASES)}
    if folded in taken:
        return Reason("own_name.built_in", name=name)
    return Reason("own_name.reserved", name=name) if folded in RESERVED else None
