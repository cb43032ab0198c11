"""The thread series: which sizes each has, when and where it was in use, and where the tool knows it from."""

from __future__ import annotations

import difflib
from dataclasses import dataclass
from functools import cache

from threads.table import is_unverified, rows

MM_PER_INCH = 25.4


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


def series_names() -> tuple[str, ...]:
    """The names of all series, in the order in which they are printed."""
    return tuple(_infos())


def series_info(name: str) -> SeriesInfo:
    """The series called ``name`` (case does not matter). Raises UnknownSeriesError."""
    return _infos()[_known(name)]


@cache
def entries(series: str | None = None) -> tuple[Entry, ...]:
    """The sizes of one series (case of the name does not matter), or of all. Raises UnknownSeriesError."""
    if series is None:
        return tuple(entry for name in series_names() for entry in entries(name))
    name = _known(series)
    table = next(row["table"] for row in rows("series.csv") if row["name"] == name)
    info = series_info(name)
    return tuple(_entry(row, info) for row in rows(table) if row["series"] == name)


def _known(name: str) -> str:
    folded = " ".join(name.split()).lower()
    for known in series_names():
        if known.lower() == folded:
            return known
    raise UnknownSeriesError(name)


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
