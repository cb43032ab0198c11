"""The thread series: which sizes each has, when and where it was in use, and where the tool knows it from.

Built-in ones come from the tables of the package, the workshop's own (``own_series``) from the user's data folder.
"""

from __future__ import annotations

import difflib
import os
from collections.abc import Iterable
from dataclasses import dataclass
from functools import cache

from threads.rules.table import is_unverified, rows
from threads.rules.zone import Zone
from threads.shared.data_folder import data_folder

MM_PER_INCH = 25.4

Edition = tuple[tuple[str, int, int, int], ...]
"""State of the own series on disk: path, time, size and number of each file."""


class UnknownSeriesError(ValueError):
    """A series name that the tables do not have. ``nearest`` holds known names that look like it."""

    def __init__(self, name: str) -> None:
        lower = {known.lower(): known for known in series_names()}
        close = difflib.get_close_matches(name.strip().lower(), lower, n=3, cutoff=0.3)
        self.nearest: tuple[str, ...] = tuple(lower[match] for match in close)
        hint = f"nearest: {', '.join(self.nearest)}" if self.nearest else f"known: {', '.join(series_names())}"
        super().__init__(f"no thread series is called {name.strip()!r}; {hint}")


@dataclass(frozen=True)
class SeriesInfo:
    """A series as a whole. ``last_year`` is None while it is in use; ``countries`` are ISO 3166 alpha-2 codes.

    Years and countries are those of common use, not of a legal force; ``source`` says how well they are known.
    ``own``: a series of the workshop, not a built-in one.
    """

    name: str
    title: str
    standard: str
    form: str
    first_year: int
    last_year: int | None
    countries: tuple[str, ...]
    source: str
    unverified: bool
    own: bool = False


@dataclass(frozen=True)
class OwnLimits:
    """Limits of size that a workshop's own table gives for one class of a size."""

    thread_class: str
    internal: bool
    zone: Zone


@dataclass(frozen=True)
class Entry:
    """One size of a series.

    Attributes:
        series: name of the series, as ``series_names`` has it.
        size: as the standard writes it, without a class: ``4-40``, ``1/4-20``, ``M2.5x0.45``.
        major_mm, pitch_mm: basic major diameter and pitch, mm.
        threads_per_inch, major_in: the same as an inch standard has them, exact; None for a metric series.
        form: key of ``forms.FORMS``.
        classes, internal_classes: the classes tabulated for this size, external and internal.
        standard, source: the standard, and where the row was read. ``unverified``: the row is from memory.
        first_year, last_year, countries: as in ``SeriesInfo``.
        own: of a size of the workshop's own: the limits of each class; empty for a built-in one.
    """

    series: str
    size: str
    major_mm: float
    pitch_mm: float
    threads_per_inch: float | None
    major_in: float | None
    form: str
    classes: tuple[str, ...]
    internal_classes: tuple[str, ...]
    standard: str
    source: str
    unverified: bool
    first_year: int
    last_year: int | None
    countries: tuple[str, ...]
    own: tuple[OwnLimits, ...] = ()


@cache
def _infos() -> dict[str, SeriesInfo]:
    return {
        row["name"]: SeriesInfo(
            name=row["name"],
            title=row["title"],
            standard=row["standard"],
            form=row["form"],
            first_year=int(row["first_year"]),
            last_year=int(row["last_year"]) if row["last_year"] else None,
            countries=tuple(row["countries"].split()),
            source=row["source"],
            unverified=is_unverified(row["source"]),
        )
        for row in rows("series.csv")
    }


def builtin_names() -> tuple[str, ...]:
    """The names of the built-in series, in the order in which they are printed."""
    return tuple(_infos())


def series_names() -> tuple[str, ...]:
    """The names of all series, in the order in which they are printed: built-in ones, then the workshop's own.

    Raises threads.standards.own_series.BrokenOwnSeriesError where a file of an own one is damaged, as does all that
    asks for all series or for one that is not built in.
    """
    return (*_infos(), *_own_infos(edition()))


def series_info(name: str) -> SeriesInfo:
    """The series called ``name`` (case does not matter). Raises UnknownSeriesError."""
    known = _known(name)
    return _infos()[known] if known in _infos() else _own_infos(edition())[known]


def entries(series: str | None = None) -> tuple[Entry, ...]:
    """The sizes of one series (case of the name does not matter), or of all. Raises UnknownSeriesError."""
    name = None if series is None else _known(series)
    return _entries(name, () if name in _infos() else edition())


def edition() -> Edition:
    """State of the own series: a key for caches of what is made from all series, equal while nothing has changed."""
    try:
        with os.scandir(data_folder() / "series") as found:
            files = [(file.path, file.stat(follow_symlinks=False)) for file in found if file.name.endswith(".csv")]
    except (FileNotFoundError, NotADirectoryError):  # no folder, no own series
        return ()
    except OSError as error:
        from threads.standards.own_series import BrokenOwnSeriesError

        raise BrokenOwnSeriesError(data_folder() / "series", error.strerror or "it cannot be opened") from error
    return tuple(sorted((path, stat.st_mtime_ns, stat.st_size, stat.st_ino) for path, stat in files))


@cache
def _own_infos(files: Edition) -> dict[str, SeriesInfo]:
    if not files:
        return {}
    from threads.standards.own_series import own_series

    return {own.info.name: own.info for own in own_series()}


@cache
def _entries(name: str | None, files: Edition) -> tuple[Entry, ...]:
    if name is None:
        return tuple(entry for known in series_names() for entry in _entries(known, files))
    if name not in _infos():
        from threads.standards.own_series import own_series

        return next(own.entries for own in own_series() if own.info.name == name)
    table = next(row["table"] for row in rows("series.csv") if row["name"] == name)
    info = _infos()[name]
    return tuple(_entry(row, info) for row in rows(table) if row["series"] == name)


def _known(name: str) -> str:
    folded = " ".join(name.split()).lower()
    # the own ones are looked at only if need be
    found = _same(folded, _infos()) or _same(folded, _own_infos(edition()))
    if found is None:
        raise UnknownSeriesError(name)
    return found


def _same(folded: str, names: Iterable[str]) -> str | None:
    return next((name for name in names if name.lower() == folded), None)


def _entry(row: dict[str, str], info: SeriesInfo) -> Entry:
    inch = "major_in" in row
    tpi = float(row["threads_per_inch"]) if inch else None
    return Entry(
        series=info.name,
        size=row["size"],
        major_mm=float(row["major_in"]) * MM_PER_INCH if inch else float(row["major_mm"]),
        pitch_mm=MM_PER_INCH / tpi if tpi else float(row["pitch_mm"]),
        threads_per_inch=tpi,
        major_in=float(row["major_in"]) if inch else None,
        form=info.form,
        classes=tuple(row["classes"].split()),
        internal_classes=tuple(row["internal_classes"].split()),
        standard=info.standard,
        source=row["source"],
        unverified=is_unverified(row["source"]),
        first_year=info.first_year,
        last_year=info.last_year,
        countries=info.countries,
    )
