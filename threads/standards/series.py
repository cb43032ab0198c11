"""The thread series: which sizes each has, when and where it was in use, and where the tool knows it from.

Built-in ones come from the tables of the package, the workshop's own (``threads.own``) from the user's data folder.
"""

from __future__ import annotations

import difflib
from functools import cache

from threads.own.own_folder import Edition, edition
from threads.rules.series_tables import Entry, SeriesInfo, builtin_entries, builtin_series
from threads.shared.refusal import ReasonedError


class UnknownSeriesError(ReasonedError, ValueError):
    """A series name that the tables do not have. ``nearest`` holds known names that look like it."""

    def __init__(self, name: str) -> None:
        lower = {known.lower(): known for known in series_names()}
        close = difflib.get_close_matches(name.strip().lower(), lower, n=3, cutoff=0.3)
        self.nearest: tuple[str, ...] = tuple(lower[match] for match in close)
        if self.nearest:
            super().__init__("unknown_series", name=name.strip(), nearest=self.nearest)
        else:
            super().__init__("unknown_series.known", name=name.strip(), known=tuple(series_names()))


def series_names() -> tuple[str, ...]:
    """The names of all series, in the order in which they are printed: built-in ones, then the workshop's own.

    Raises threads.own.own_folder.BrokenOwnSeriesError where a file of an own one is damaged, as does all that
    asks for all series or for one that is not built in.
    """
    return (*builtin_series(), *_own_infos(edition()))


def series_info(name: str) -> SeriesInfo:
    """The series called ``name`` (case does not matter). Raises UnknownSeriesError."""
    known = _known(name)
    return builtin_series()[known] if known in builtin_series() else _own_infos(edition())[known]


def entries(series: str | None = None) -> tuple[Entry, ...]:
    """The sizes of one series (case of the name does not matter), or of all. Raises UnknownSeriesError."""
    name = None if series is None else _known(series)
    return _entries(name, () if name in builtin_series() else edition())


@cache
def _own_infos(files: Edition) -> dict[str, SeriesInfo]:
    if not files:
        return {}
    from threads.own.own_files import own_series

    return {own.info.name: own.info for own in own_series()}


@cache
def _entries(name: str | None, files: Edition) -> tuple[Entry, ...]:
    if name is None:
        return tuple(entry for known in series_names() for entry in _entries(known, files))
    if name not in builtin_series():
        from threads.own.own_files import own_series

        return next(own.entries for own in own_series() if own.info.name == name)
    return builtin_entries(name)


def _known(name: str) -> str:
    folded = " ".join(name.split()).lower()
    found = _builtin_folded().get(folded)
    if found is None:  # the own ones are looked at only if need be
        found = next((own for own in _own_infos(edition()) if own.lower() == folded), None)
    if found is None:
        raise UnknownSeriesError(name)
    return found


@cache
def _builtin_folded() -> dict[str, str]:
    return {name.lower(): name for name in builtin_series()}
