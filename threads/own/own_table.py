"""A workshop's own thread series as a table: which columns it has, and how it is read.

One file holds one series, one row for each size and class. ``read_table`` returns the series or raises every fault
found, each with its row and column.
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from itertools import pairwise

from threads.own.own_row import Cells, Fault, Row, read_row, workshop_zone
from threads.rules import workshop_band
from threads.rules.forms import FORMS
from threads.rules.series_tables import MM_PER_INCH, Entry, OwnLimits, SeriesInfo
from threads.rules.table import is_unverified
from threads.shared.refusal import Given, Reason, ReasonedError
from threads.shared.spreadsheet import Sheet, SpreadsheetError, read_sheet

COLUMNS = {
    "series": "short name of the series: a letter, then letters, digits or hyphens",
    "title": "what it is, in a few words",
    "size": "as written before the name of the series: 3.2x0.55, 1/8-38, A",
    "unit": "of the lengths in the row: mm or in",
    "major": "basic major diameter",
    "pitch": "pitch, or else:",
    "threads_per_inch": "threads to the inch",
    "form": f"one of: {'; '.join(FORMS)}",
    "class": "name of the class, if there are classes",
    "for": "screw or nut; empty: screw",
    "band": "how far major and pitch diameter may be below basic (of a nut: the pitch diameter above)",
    "major_min, major_max": "limits instead of a band: a screw needs these",
    "pitch_diameter_min, pitch_diameter_max": "and these; of a nut these alone are needed",
    "minor_min, minor_max": "limits of the minor diameter, if there are any",
    "pitch_diameter, minor_diameter": "basic ones, if they are not those of the form",
    "first_year": "first year of use",
    "last_year": "last year of use; empty: still in use",
    "countries": "of use, as two-letter codes with spaces between: GB DE",
    "source": "where the numbers come from",
}
"""The columns, and what stands in each. Their order is free."""

NAMES = tuple(name for names in COLUMNS for name in names.split(", "))
REQUIRED = ("series", "size", "unit", "major", "form", "first_year", "countries", "source")

FOR_ALL = ("series", "title", "form", "first_year", "last_year", "countries")
"""Said once, in the first row; in the others the same or nothing."""

FROM_ABOVE = ("unit", "source")
"""An empty cell takes what stands above it."""

RULES = (
    "One file is one series, one row a size and class. Without band and limits the workshop band holds, which is ours. "
    f"{', '.join(FOR_ALL)} are said in the first row, in the others again or not at all; an empty cell of "
    f"{' or '.join(FROM_ABOVE)} takes what stands above. Columns may be separated by comma, semicolon or tab; with the "
    "last two a decimal comma is understood."
)

EXAMPLE = """\
series,title,size,unit,major,pitch,form,class,for,band,first_year,last_year,countries,source
QW,Quayside Workshop arm screws,1.8x0.35,mm,1.80,0.35,ISO metric,,screw,0.06,1921,1958,GB,mean of 12 screws of 1936
,,1.8x0.35,,1.80,0.35,,,nut,0.08,,,,
,,2.2x0.40,,2.20,0.40,,,screw,,,,,mean of 4 screws of 1936; no band known
"""
"""A file to start from: a band for screw and nut of one size, and a size left to the workshop band."""

STANDARD = "own series"

_NAME = re.compile(r"[A-Za-z][A-Za-z0-9-]{0,15}", re.ASCII)
_YEARS = (1700, 2100)
_MOST_ROWS = 2000


class OwnTableError(ReasonedError, ValueError):
    """A table that cannot be read as a series. ``faults`` has every one found, in the order of the rows."""

    def __init__(self, *faults: Fault) -> None:
        self.faults = faults
        super().__init__(*(fault.reason for fault in faults))


@dataclass(frozen=True)
class OwnSeries:
    """A series of the workshop: the whole, and its sizes."""

    info: SeriesInfo
    entries: tuple[Entry, ...]


def read_table(content: bytes) -> OwnSeries:
    """Read the bytes of a CSV file. Raises OwnTableError."""
    try:
        sheet = read_sheet(content)
    except SpreadsheetError as error:
        raise OwnTableError(Fault(error.reasons[0])) from error
    faults: list[Fault] = []
    head = tuple(name.lower() for name in sheet.head)
    _check_head(head, sheet, faults)
    _raise(faults)
    cells = [_cells(head, number, row, sheet.separator, faults) for number, row in sheet.rows]
    info = _info(cells, faults)
    rows = [row for row in (read_row(one, info.form) for one in cells) if row is not None] if info else []
    _raise(faults)
    _check_agreement(rows, faults)
    _raise(faults)
    assert info is not None
    return OwnSeries(info, _entries(info, rows))


def _raise(faults: list[Fault]) -> None:
    if faults:
        raise OwnTableError(*sorted(faults, key=lambda fault: fault.row or 0))


def _whole(case: str, **values: Given) -> Fault:
    """A fault of the whole table."""
    return Fault(Reason(f"own_table.{case}", **values))


def _check_head(head: tuple[str, ...], sheet: Sheet, faults: list[Fault]) -> None:
    missing = [name for name in REQUIRED if name not in head]
    if not {"pitch", "threads_per_inch"} & set(head):
        missing.append("pitch")
    if missing:
        faults.append(_whole("columns_missing", columns=tuple(missing)))
    unknown = [name for name in head if name and name not in NAMES]
    if unknown:
        faults.append(_whole("columns_unknown", columns=tuple(repr(name[:30]) for name in unknown)))
    twice = sorted({name for name in head if name and head.count(name) > 1})
    if twice:
        faults.append(_whole("columns_twice", columns=tuple(twice)))
    if not sheet.rows:
        faults.append(_whole("no_sizes"))
    if len(sheet.rows) > _MOST_ROWS:
        faults.append(_whole("many_rows", most=_MOST_ROWS))


def _cells(head: tuple[str, ...], number: int, row: tuple[str, ...], separator: str, faults: list[Fault]) -> Cells:
    if any(row[len(head) :]):
        faults.append(Fault(Reason("own_table.many_cells", separator=separator), number))
    by_column = {name: cell for name, cell in zip(head, row, strict=False) if name}
    if any(not name and cell for name, cell in zip(head, row, strict=False)):
        faults.append(Fault(Reason("own_table.nameless"), number))
    unprintable = [name for name, cell in by_column.items() if not cell.isprintable()]
    faults.extend(Fault(Reason("own_table.control"), number, name) for name in unprintable)
    return Cells(number, by_column, separator, faults)


def _info(cells: list[Cells], faults: list[Fault]) -> SeriesInfo | None:
    """The series as a whole, from the first row; fills in what later rows take from above. None with faults noted."""
    first, before = cells[0], len(faults)
    for above, below in pairwise(cells):
        for column in FOR_ALL:
            if below.text(column) and below.text(column) != first.text(column):
                texts = {"text": below.text(column)[:30], "first": first.text(column)[:30]}
                below.fault(column, "differs", row=first.number, **texts)
        for column in FROM_ABOVE:
            below.by_column[column] = below.text(column) or above.text(column)
    name, form = first.text("series"), _form(first)
    if _NAME.fullmatch(name) is None:
        first.fault("series", "name", text=name[:30])
    first_year, last_year = _year(first, "first_year"), _year(first, "last_year")
    if first_year and last_year and last_year < first_year:
        first.fault("last_year", "last_year", last=last_year, first=first_year)
    countries = _countries(first)
    if len(faults) > before or form is None or first_year is None:
        return None
    source = first.text("source")
    return SeriesInfo(
        name=name,
        title=first.text("title") or "own series",
        standard=STANDARD,
        form=form,
        first_year=first_year,
        last_year=last_year,
        countries=countries,
        source=source,
        unverified=is_unverified(source),
        own=True,
    )


def _form(first: Cells) -> str | None:
    written = first.text("form").lower()
    form = next((name for name in FORMS if name.lower() == written), None)
    if form is None:
        first.fault("form", "form", text=first.text("form")[:30], forms=tuple(FORMS))
    return form


def _year(first: Cells, column: str) -> int | None:
    text = first.text(column)
    if not text and column == "last_year":
        return None
    if re.fullmatch(r"\d{4}", text, re.ASCII) and _YEARS[0] <= int(text) <= _YEARS[1]:
        return int(text)
    first.fault(column, "year", text=text[:20], least=_YEARS[0], most=_YEARS[1])
    return None


def _countries(first: Cells) -> tuple[str, ...]:
    codes = tuple(dict.fromkeys(first.text("countries").upper().replace(",", " ").replace("/", " ").split()))
    wrong = next((code for code in codes if re.fullmatch(r"[A-Z]{2}", code, re.ASCII) is None or code == "UK"), None)
    if not codes or wrong:
        first.fault("countries", "country_gb" if wrong == "UK" else "country", text=(wrong or "")[:20])
    return codes


def _check_agreement(rows: list[Row], faults: list[Fault]) -> None:
    """Rows of one size must agree in its dimensions, differ in their class, and have a screw among them."""
    sizes: dict[str, Row] = {}
    classes: dict[tuple[str, str, bool], Row] = {}
    for row in rows:
        key = _compact(row.size)
        same = sizes.setdefault(key, row)
        if (same.size, same.major, same.pitch, same.zone.unit) != (row.size, row.major, row.pitch, row.zone.unit):
            differs = Reason("own_table.sizes_differ", size=row.size, row=same.number)
            faults.append(Fault(differs, row.number, "size"))
        kind = key, row.thread_class.lower(), row.internal
        other = classes.setdefault(kind, row)
        if other is not row:
            key = "own_table.nut_twice" if row.internal else "own_table.screw_twice"
            faults.append(Fault(Reason(key, row=other.number), row.number, "class"))
    screws = {_compact(row.size) for row in rows if not row.internal}
    for key, row in sizes.items():
        if key not in screws:
            faults.append(Fault(Reason("own_table.no_screw", size=row.size), row.number, "for"))


def _compact(size: str) -> str:
    return "".join(size.split()).lower()


def _entries(info: SeriesInfo, rows: list[Row]) -> tuple[Entry, ...]:
    of_size: dict[str, list[Row]] = {}
    for row in rows:
        of_size.setdefault(row.size, []).append(row)
    return tuple(_entry(info, several) for several in of_size.values())


def _entry(info: SeriesInfo, rows: list[Row]) -> Entry:
    first = rows[0]
    limits = [OwnLimits(row.thread_class, row.internal, row.zone) for row in rows]
    if not any(row.internal for row in rows):  # so that the hole of every screw can be drilled
        nut = workshop_zone(first.major, first.pitch, info.form, first.zone.unit, internal=True)
        limits.append(OwnLimits(workshop_band.CLASS, internal=True, zone=nut))
    inch = first.zone.unit == "in"
    scale = MM_PER_INCH if inch else 1.0
    threads_per_inch = first.threads_per_inch or (1 / first.pitch if inch else None)
    sources = list(dict.fromkeys(row.source for row in rows))
    return Entry(
        series=info.name,
        size=first.size,
        major_mm=first.major * scale,
        pitch_mm=MM_PER_INCH / threads_per_inch if threads_per_inch else first.pitch,
        threads_per_inch=threads_per_inch,
        major_in=first.major if inch else None,
        form=info.form,
        classes=tuple(own.thread_class for own in limits if not own.internal),
        internal_classes=tuple(own.thread_class for own in limits if own.internal),
        standard=info.standard,
        source="; ".join(sources),
        unverified=any(is_unverified(source) for source in sources),
        first_year=info.first_year,
        last_year=info.last_year,
        countries=info.countries,
        own=tuple(limits),
    )
