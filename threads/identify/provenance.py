"""Origin and year of an instrument as evidence for a thread series, kept apart from the measurement.

A series is weighed by how well its years and countries of use agree with where and when the instrument was made::

    weight = (1 - REPLACED) * in_use_then * in_use_there + REPLACED

``REPLACED`` is the share of screws that are not the instrument's own, so that no series is ever ruled out: a screw of
1960 may sit in an instrument of 1936. The numbers in this module are workshop assumptions without a published source;
years and countries come from the series table, which says how well it knows them.
"""

from __future__ import annotations

import difflib
import math
from collections.abc import Sequence
from dataclasses import dataclass, replace
from functools import lru_cache

from threads.rules.series_tables import SeriesInfo
from threads.shared.refusal import Reason, ReasonedError
from threads.standards.series import series_info, series_names

REPLACED = 0.03
"""Share of screws found in an old instrument that came in with a later repair (workshop assumption)."""

OLD_TOOLS_YEARS = 15.0
"""A shop keeps its taps and dies after its country has changed over: use decays as exp(-years/15) (workshop
assumption).

The early edge is hard: nobody cuts a thread before its standard exists."""

FOREIGN = 0.1
"""Weight of a series outside the countries of its common use: bought-in screws and tools (workshop assumption)."""

TAKEN_OVER = {"ASME": ("NC", "NF", "NS"), "ASME special": ("NC", "NF", "NS")}
"""Series whose sizes later ones took over unchanged: same diameters, pitch and form, the same greatest screw. Such a
size goes by the later name from that series' first year on; only sizes that were not taken over lived on as before."""

YEARS = (1700, 2100)
"""Years of make that are taken for years; anything else is a slip of the pen."""

_NAMES: dict[str, tuple[str, ...]] = {
    "AT": ("Austria",),
    "AU": ("Australia",),
    "BE": ("Belgium",),
    "BG": ("Bulgaria",),
    "BR": ("Brazil",),
    "CA": ("Canada",),
    "CH": ("Switzerland",),
    "CN": ("China",),
    "CZ": ("Czechia", "Czech Republic", "Czechoslovakia"),
    "DE": ("Germany",),
    "DK": ("Denmark",),
    "ES": ("Spain",),
    "FI": ("Finland",),
    "FR": ("France",),
    "GB": ("United Kingdom", "Great Britain", "Britain", "England", "Scotland", "Wales", "UK"),
    "HU": ("Hungary",),
    "IE": ("Ireland",),
    "IN": ("India",),
    "IT": ("Italy",),
    "JP": ("Japan",),
    "KR": ("South Korea", "Korea"),
    "LU": ("Luxembourg",),
    "NL": ("Netherlands", "Holland"),
    "NO": ("Norway",),
    "NZ": ("New Zealand",),
    "PL": ("Poland",),
    "PT": ("Portugal",),
    "RO": ("Romania",),
    "RU": ("Russia", "Soviet Union", "USSR"),
    "SE": ("Sweden",),
    "SK": ("Slovakia",),
    "US": ("United States", "United States of America", "USA", "America"),
    "YU": ("Yugoslavia",),
    "ZA": ("South Africa",),
}


class UnknownOriginError(ReasonedError, ValueError):
    """A country that the series tables do not know, by code or name. The message is one line and names those known."""

    def __init__(self, origin: str) -> None:
        names = {name.casefold(): code for code, several in _NAMES.items() for name in several}
        close = difflib.get_close_matches(_folded(origin), names, n=2, cutoff=0.75)
        nearest, known = (
            " ".join(codes) for codes in (dict.fromkeys(names[match] for match in close), known_countries())
        )
        if nearest:
            super().__init__("unknown_origin.near", origin=origin.strip(), nearest=nearest, known=known)
        else:
            super().__init__("unknown_origin", origin=origin.strip(), known=known)


class BadYearsError(ReasonedError, ValueError):
    """Years of make that cannot be meant."""

    def __init__(self, made: tuple[int, int]) -> None:
        super().__init__("bad_years", first=made[0], last=made[1], least=YEARS[0], most=YEARS[1])


@dataclass(frozen=True)
class Provenance:
    """The evidence of origin and year for one series.

    Attributes:
        weight: 0 to 1, the factor on the probability of every thread of the series.
        says: the same as reasons; none where neither was given.
    """

    series: str
    first_year: int
    last_year: int | None
    countries: tuple[str, ...]
    weight: float
    says: tuple[Reason, ...]
    unverified: bool

    def to_dict(self) -> dict[str, object]:
        """The plain form used in JSON."""
        return {
            "first_year": self.first_year,
            "last_year": self.last_year,
            "countries": list(self.countries),
            "weight": self.weight,
            "says": Reason("facts", each=self.says or (Reason("provenance.not_given"),)),
            "unverified": self.unverified,
        }


def known_countries() -> tuple[str, ...]:
    """ISO 3166 alpha-2 codes that an origin may have: those with a name here and those of the series tables."""
    listed = {code for name in series_names() for code in series_info(name).countries}
    return tuple(sorted(listed | set(_NAMES)))


def country_code(origin: str) -> str:
    """The ISO 3166 alpha-2 code of a country given by code or by name (case does not matter).

    Raises:
        UnknownOriginError: the country is not known.
    """
    folded = _folded(origin)
    if folded.upper() in _NAMES or folded.upper() in known_countries():
        return folded.upper()
    for code, names in _NAMES.items():
        if folded in (name.casefold() for name in names):
            return code
    raise UnknownOriginError(origin)


def in_use_then(info: SeriesInfo, made: tuple[int, int], taken_over: int | None = None) -> float:
    """How likely threads of the series were cut in the years ``made`` (first, last), 0 to 1; every year counts alike.

    From the year ``taken_over`` on they count under another name.

    Raises:
        BadYearsError: the years run backwards or lie outside ``YEARS``.
    """
    first, last = made
    if not YEARS[0] <= first <= last <= YEARS[1]:
        raise BadYearsError(made)
    years = range(first, last + 1)
    return sum(_use(info, year) for year in years if taken_over is None or year < taken_over) / len(years)


def weigh(series: Sequence[str], origin: str | None, made: tuple[int, int] | None) -> dict[str, Provenance]:
    """The weight of each series for an instrument of that origin and those years; None means not given.

    Raises:
        UnknownOriginError: the country is not known.
        BadYearsError: the years run backwards or lie outside ``YEARS``.
        threads.standards.series.UnknownSeriesError: a series name that is not known.
    """
    code = None if origin is None else country_code(origin)
    return {name: _weigh_one(series_info(name), code, made) for name in series}


def weigh_taken_over(series: str, by: str, origin: str | None, made: tuple[int, int] | None) -> Provenance:
    """The weight of those sizes of ``series`` that the series ``by`` took over (``TAKEN_OVER``).

    Raises: as ``weigh``.
    """
    code = None if origin is None else country_code(origin)
    return _weigh_one(series_info(series), code, made, series_info(by))


@lru_cache(maxsize=1024)
def _weigh_one(
    info: SeriesInfo, code: str | None, made: tuple[int, int] | None, by: SeriesInfo | None = None
) -> Provenance:
    then = 1.0 if made is None else in_use_then(info, made, None if by is None else by.first_year)
    if by is not None:
        info = replace(info, last_year=by.first_year)
    there = 1.0 if code is None or code in info.countries else FOREIGN
    says = []
    if made is not None:
        late = by is not None and made[0] >= by.first_year
        taken = Reason("provenance.taken_over", series=by.name, year=by.first_year) if by and late else None
        says.append(taken or _use_in_years(info, made))
    if code is not None:
        says.append(Reason("provenance.common" if code in info.countries else "provenance.not_common", country=code))
    return Provenance(
        series=info.name,
        first_year=info.first_year,
        last_year=info.last_year,
        countries=info.countries,
        weight=(1.0 - REPLACED) * then * there + REPLACED,
        says=tuple(says),
        unverified=info.unverified,
    )


def _use_in_years(info: SeriesInfo, made: tuple[int, int]) -> Reason:
    first, last = made
    if last < info.first_year:
        return Reason("provenance.not_before", year=info.first_year)
    if info.last_year is not None and first > info.last_year:
        return Reason("provenance.went_out", year=info.last_year)
    part = "_in_part" if first < info.first_year or (info.last_year is not None and last > info.last_year) else ""
    if info.last_year is None:
        return Reason(f"provenance.since{part}", year=info.first_year)
    return Reason(f"provenance.until{part}", year=info.first_year, last=info.last_year)


def _use(info: SeriesInfo, year: int) -> float:
    if year < info.first_year:
        return 0.0
    if info.last_year is None or year <= info.last_year:
        return 1.0
    return math.exp(-(year - info.last_year) / OLD_TOOLS_YEARS)


def _folded(text: str) -> str:
    return " ".join(text.split()).casefold()
