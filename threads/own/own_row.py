"""One row of a workshop's own table: a size and class, with its limits."""

from __future__ import annotations

import re
from dataclasses import dataclass, replace

from threads.rules import workshop_band
from threads.rules.forms import FORMS, Form, addendum
from threads.rules.series_tables import MM_PER_INCH
from threads.rules.zone import Edge, Zone
from threads.shared.refusal import Given, Reason
from threads.shared.spreadsheet import number_of

NUT, SCREW = "nut", "screw"
LIMITS = ("major", "pitch_diameter", "minor")

_SIZE = re.compile(r"[A-Za-z0-9][A-Za-z0-9./x -]{0,23}", re.ASCII)
_CLASS = re.compile(r"[A-Za-z][A-Za-z0-9]{0,11}", re.ASCII)
_MAJOR_MM = (0.1, 500.0)
_STEEPEST = 0.6  # pitch over major diameter; the coarsest of the tables have 0.35
_PLACES = {"mm": 4, "in": 5}  # to which basic diameters are reckoned
_SHALLOW_NUTS = ("UN", "UNR", "ISO metric", "American National")
_SHALLOW_NUT = 1.08253175  # D - 5/4 H: least minor diameter of these nuts (ISO 68-1, ASME B1.1)
_FARTHEST = 0.5  # limits lie less than this many pitches from basic


@dataclass(frozen=True)
class Fault:
    """What is wrong in one place: row number in the file and name of the column, None where it is the whole file."""

    what: Reason
    row: int | None = None
    column: str | None = None

    @property
    def reason(self) -> Reason:
        """What is wrong, with its place before it."""
        if self.row is None:
            return Reason("fault.whole", what=self.what) if self.column is None else self._in(self.column)
        if self.column is None:
            return Reason("fault.row", row=self.row, what=self.what)
        return Reason("fault.cell", row=self.row, column=self.column, what=self.what)

    def _in(self, column: str) -> Reason:
        return Reason("fault.column", column=column, what=self.what)


@dataclass
class Cells:
    """The cells of a row by column, and the faults found in them so far."""

    number: int
    by_column: dict[str, str]
    separator: str
    faults: list[Fault]

    def text(self, column: str) -> str:
        """The cell, empty if there is no such column."""
        return self.by_column.get(column, "")

    def fault(self, column: str | None, case: str, **values: Given) -> None:
        """Note that something is wrong in a column of this row: a case of ``own_table``."""
        self.faults.append(Fault(Reason(f"own_table.{case}", **values), self.number, column))

    def length(self, column: str) -> float | None:
        """The length in a cell, None if it is empty or (with a fault noted) not a number above zero."""
        text = self.text(column)
        if not text:
            return None
        value = number_of(text, self.separator)
        if value is None:
            self.fault(column, "comma" if re.fullmatch(r"\d*,\d+", text) else "no_number", text=text[:20])
        elif value <= 0:
            self.fault(column, "not_positive")
            return None
        return value

    def needed(self, column: str) -> float | None:
        """As ``length``; an empty cell is a fault."""
        if not self.text(column):
            self.fault(column, "empty")
        return self.length(column)


@dataclass(frozen=True)
class Row:
    """A row as read: the number in the file, the size, its class, and the limits of the class.

    Lengths are in ``zone.unit``; ``threads_per_inch`` is None where the pitch was given.
    """

    number: int
    size: str
    major: float
    pitch: float
    threads_per_inch: float | None
    thread_class: str
    internal: bool
    zone: Zone
    source: str


def read_row(cells: Cells, form_name: str) -> Row | None:
    """Read a row of a series of the form ``form_name``; None with faults noted in ``cells`` if it cannot be."""
    before = len(cells.faults)
    size, thread_class, internal = _names(cells)
    unit = cells.text("unit").lower()
    if unit not in ("mm", "in"):
        cells.fault("unit", "unit", text=cells.text("unit")[:20])
    threads_per_inch, pitch = _pitch(cells, unit)
    major = cells.needed("major")
    if not cells.text("source"):
        cells.fault("source", "no_source")
    if len(cells.faults) > before or major is None or pitch is None:
        return None
    _check_size(cells, major, pitch, unit)
    zone = None if len(cells.faults) > before else _zone(cells, form_name, major, pitch, unit, internal=internal)
    if zone is None or len(cells.faults) > before:
        return None
    return Row(cells.number, size, major, pitch, threads_per_inch, thread_class, internal, zone, cells.text("source"))


def workshop_zone(major: float, pitch: float, form_name: str, unit: str, *, internal: bool) -> Zone:
    """The workshop band; nuts of today's 60 degree forms begin at the depth of their own basic crest."""
    zone = workshop_band.zone(major, pitch, form_name, unit, internal=internal)
    low, high = zone.minor
    if not internal or form_name not in _SHALLOW_NUTS or low is None or high is None:
        return zone
    shallow = _nut_minor(FORMS[form_name], major, pitch, unit)
    return replace(zone, minor=(shallow, round(shallow + high - low, 6)))


def _nut_minor(form: Form, major: float, pitch: float, unit: str) -> float:
    depth = _SHALLOW_NUT if form.name in _SHALLOW_NUTS else 2 * form.basic_depth
    return round(major - depth * pitch, _PLACES[unit])


def _names(cells: Cells) -> tuple[str, str, bool]:
    size, thread_class, kind = cells.text("size"), cells.text("class"), cells.text("for").lower()
    if _SIZE.fullmatch(size) is None:
        cells.fault("size", "size", text=size[:30])
    if kind not in ("", SCREW, NUT):
        cells.fault("for", "screw_or_nut", text=kind[:20])
    if thread_class and (_CLASS.fullmatch(thread_class) is None or thread_class.lower() == NUT):
        cells.fault("class", "class", text=thread_class[:20])
    return size, thread_class or workshop_band.CLASS, kind == NUT


def _pitch(cells: Cells, unit: str) -> tuple[float | None, float | None]:
    """Threads per inch, if given so, and the pitch in ``unit``."""
    if bool(cells.text("pitch")) == bool(cells.text("threads_per_inch")):
        cells.fault("pitch", "one_pitch")
        return None, None
    if cells.text("pitch"):
        return None, cells.length("pitch")
    threads_per_inch = cells.length("threads_per_inch")
    if threads_per_inch is None:
        return None, None
    return threads_per_inch, (1.0 if unit == "in" else MM_PER_INCH) / threads_per_inch


def _check_size(cells: Cells, major: float, pitch: float, unit: str) -> None:
    scale = MM_PER_INCH if unit == "in" else 1.0
    if not _MAJOR_MM[0] <= major * scale <= _MAJOR_MM[1]:
        cells.fault("major", "major", major=major, unit=unit, least=_MAJOR_MM[0], most=_MAJOR_MM[1])
    elif not 0.01 <= pitch / major <= _STEEPEST:
        cells.fault("pitch", "pitch", pitch=pitch, unit=unit, major=major)


def _zone(cells: Cells, form_name: str, major: float, pitch: float, unit: str, *, internal: bool) -> Zone | None:
    """The limits that the row gives: its own, a band, or neither, which means the workshop band."""
    form = FORMS[form_name]
    pitch_diameter, minor = _basic(cells, form, major, pitch, unit)
    edges = {name: (cells.length(f"{name}_min"), cells.length(f"{name}_max")) for name in LIMITS}
    given = [edge for edge in edges.values() if edge != (None, None)]
    band = cells.length("band")
    if band is not None and given:
        cells.fault("band", "band_or_limits")
        return None
    if not given and band is None:
        if cells.text("pitch_diameter") or cells.text("minor_diameter"):
            cells.fault("band", "needs_band")
            return None
        return workshop_zone(major, pitch, form_name, unit, internal=internal)
    if band is not None:
        if band > _FARTHEST * pitch:
            cells.fault("band", "wide_band", band=band, unit=unit)
        least = minor if cells.text("minor_diameter") else _nut_minor(form, major, pitch, unit)
        edges = _band_edges(major, pitch_diameter, least if internal else minor, band, internal=internal)
    else:
        _check_edges(cells, edges, (major, pitch_diameter, minor), pitch, internal=internal)
    top, low = edges["pitch_diameter"][1], edges["pitch_diameter"][0]
    if internal:
        allowance = 0.0 if low is None else max(0.0, low - pitch_diameter)
    else:
        allowance = 0.0 if top is None else max(0.0, pitch_diameter - top)
    return Zone(
        unit=unit,
        basic_major=major,
        basic_pitch_diameter=pitch_diameter,
        basic_minor=minor,
        allowance=round(allowance, 9),
        major=edges["major"],
        pitch_diameter=edges["pitch_diameter"],
        minor=edges["minor"],
        source="limits: the workshop's own table",
    )


def _basic(cells: Cells, form: Form, major: float, pitch: float, unit: str) -> tuple[float, float]:
    """Basic pitch and minor diameter: as given, else those of the form."""
    pitch_diameter = cells.length("pitch_diameter") or round(major - 2 * addendum(form) * pitch, _PLACES[unit])
    minor = cells.length("minor_diameter") or round(major - 2 * form.basic_depth * pitch, _PLACES[unit])
    if not 0 < minor < pitch_diameter < major:
        cells.fault(None, "order", major=major, pitch_diameter=pitch_diameter, minor=minor)
    return pitch_diameter, minor


def _band_edges(major: float, pitch_diameter: float, minor: float, band: float, *, internal: bool) -> dict[str, Edge]:
    if internal:
        return {
            "major": (major, None),
            "pitch_diameter": (pitch_diameter, round(pitch_diameter + band, 9)),
            "minor": (minor, None),
        }
    return {
        "major": (round(major - band, 9), major),
        "pitch_diameter": (round(pitch_diameter - band, 9), pitch_diameter),
        "minor": (None, minor),
    }


def _check_edges(
    cells: Cells, edges: dict[str, Edge], basics: tuple[float, float, float], pitch: float, *, internal: bool
) -> None:
    needed = ("pitch_diameter",) if internal else ("major", "pitch_diameter")
    for name, basic in zip(LIMITS, basics, strict=True):
        low, high = edges[name]
        for end, limit in (("min", low), ("max", high)):
            if limit is None:
                if name in needed:
                    cells.fault(f"{name}_{end}", "nut_limit" if internal else "screw_limit")
            elif abs(limit - basic) > _FARTHEST * pitch:
                cells.fault(f"{name}_{end}", "far", limit=limit, basic=basic)
        if low is not None and high is not None and low >= high:
            cells.fault(f"{name}_min", "not_below", low=low, name=name, high=high)
