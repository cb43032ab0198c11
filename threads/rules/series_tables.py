"""The built-in thread series as the tables of the package have them: what each is, and its sizes."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache

from threads.rules.table import is_unverified, rows
from threads.rules.zone import Zone

MM_PER_INCH = 25.4

SAME_DIAMETER, SAME_PITCH = 0.013, 0.0005
"""Two threads take the same tool if their basic major diameters agree to 0.013 mm (0.0005 in) and their pitches to
0.05 %; ours."""

ALIASES = {
    "whitworth": "BSW", "whit": "BSW", "brass": "BSB", "cei": "BSC", "cycle": "BSC",
    "löwenherz": "Lowenherz", "loewenherz": "Lowenherz", "w": "BSW", "bspp": "G", "sewing": "SM", "lamp": "IP",
    "watch": "WP", "sharpv": "V", "french": "FR",
}  # fmt: skip
"""Other names of a series, as people write them."""


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
def builtin_series() -> dict[str, SeriesInfo]:
    """The built-in series by name, in the order in which they are printed. Shared: do not change it."""
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
    return tuple(builtin_series())


@cache
def builtin_entries(name: str) -> tuple[Entry, ...]:
    """The sizes of the built-in series of exactly this name."""
    table = next(row["table"] for row in rows("series.csv") if row["name"] == name)
    info = builtin_series()[name]
    return tuple(_entry(row, info) for row in rows(table) if row["series"] == name)


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
