"""Lists of parts: one line a part, with the measurement and the identification that count; paged, and searched."""

from __future__ import annotations

import json
import sqlite3
from collections.abc import Sequence
from dataclasses import dataclass, field
from typing import Any

from records.connection import rows
from records.derived import match_query
from records.from_memory import IS_FROM_MEMORY
from records.identity_on_file import words_on_file
from records.label_code import part_of_code
from threads.shared.refusal import Reason

SEARCHED = ("pitch", "major_diameter", "pitch_diameter", "minor_diameter", "virtual_pitch_diameter", "included_angle")
"""Quantities that a search may ask for."""

_PLACES = (
    "FROM parts p LEFT JOIN instruments i ON i.id = p.instrument_id LEFT JOIN positions o ON o.id = p.position_id "
    "LEFT JOIN jobs j ON j.id = p.job_id "
)
_MEASURED = "LEFT JOIN current c ON c.part_id = p.id LEFT JOIN measurements m ON m.id = c.measurement_id "
_IDENTIFIED = "LEFT JOIN identifications d ON d.id = c.identification_id "


@dataclass(frozen=True)
class PartLine:
    """A part in a list. Lengths in mm with their U95; None where nothing was measured.

    ``says``: what it was identified as, in a few words, and ``words`` the same as data; ``from_memory``: by unverified
    limits; ``internal``: it is a hole, measured from a cast; ``hole``: the thread of one in which screws are tried.
    ``position_id``: the number of its position, whose name only tells it apart on one instrument.
    """

    id: int
    uid: str
    name: str | None
    instrument: str | None
    position: str | None
    position_id: int | None
    job: str | None
    made: tuple[int, int] | None
    designation: str | None
    status: str | None
    says: str | None
    words: Reason | None
    probability: float | None
    from_memory: bool
    measured: str | None
    pitch: tuple[float, float] | None
    major_diameter: tuple[float, float] | None
    pitch_diameter: tuple[float, float] | None
    internal: bool
    withdrawn: bool
    hole: str | None = None


@dataclass(frozen=True)
class Conditions:
    """Which parts are meant; every condition must hold.

    Attributes:
        text: words that must all occur in what is on file about the part; the code of a label means that part and
            nothing else matters, a withdrawn one included. ``typing``: the last of them is still being
            typed, so that a number may go on, too.
        between: least and greatest measured value (mm, deg) of quantities out of ``SEARCHED``.
        made_before, made_after: years; the instrument was surely made before, or after.
        country: of the instrument, ISO 3166 alpha-2.
        designation: beginning of what the part was identified as, such as ``4-40 NC``; ``series``: its series.
        instrument, position, job: ids.
        with_withdrawn: parts that were withdrawn as well.
    """

    text: str | None = None
    typing: bool = False
    between: dict[str, tuple[float, float]] = field(default_factory=dict)
    made_before: int | None = None
    made_after: int | None = None
    country: str | None = None
    designation: str | None = None
    series: str | None = None
    instrument: int | None = None
    position: int | None = None
    job: int | None = None
    with_withdrawn: bool = False


@dataclass(frozen=True)
class Page:
    """Some of the parts that were asked for; ``total`` is how many there are."""

    lines: tuple[PartLine, ...]
    total: int
    first: int


def page_of_parts(connection: sqlite3.Connection, conditions: Conditions, *, first: int = 0, most: int = 30) -> Page:
    """The parts that fulfil ``conditions`` from number ``first`` (0 is the first) on, at most ``most``.

    Those of one instrument or job come in the order of the positions, all others the latest first.
    """
    where, parameters, needs = _where(conditions)
    joins = _PLACES + (_MEASURED if needs else "") + (_IDENTIFIED if "d" in needs else "")
    by_place = conditions.instrument is not None or conditions.job is not None
    order = "i.name, o.place IS NULL, o.place, p.id" if by_place else "p.id DESC"
    every = [part for (part,) in connection.execute(f"SELECT p.id {joins} {where} ORDER BY {order}", parameters)]
    shown = every[first : first + most]
    return Page(tuple(_lines(connection, shown, order)), len(every), first)


def lines_of(connection: sqlite3.Connection, parts: Sequence[int]) -> dict[int, PartLine]:
    """The lines of these parts, by id; without those that are not on file."""
    return {line.id: line for line in _lines(connection, parts, "p.id")}


def _lines(connection: sqlite3.Connection, parts: Sequence[int], order: str) -> list[PartLine]:
    found = rows(
        connection,
        "SELECT p.id, p.uid, p.name, p.withdrawn, p.position_id, i.name AS instrument, i.made_from, i.made_to, "
        "o.name AS position, j.name AS job, m.measured, m.internal, m.pitch, m.pitch_u95, m.major_diameter, "
        "m.major_diameter_u95, m.pitch_diameter, m.pitch_diameter_u95, d.designation, d.status, d.says, d.probability, "
        "json_extract(d.document, '$.words') AS words, "
        f"{IS_FROM_MEMORY} AS from_memory, (SELECT thread FROM holes WHERE part_id = p.id) AS hole "
        f"{_PLACES}{_MEASURED}{_IDENTIFIED} WHERE p.id IN ({','.join('?' * len(parts))}) ORDER BY {order}",
        parts,
    )
    return [_line(row) for row in found]


def _where(conditions: Conditions) -> tuple[str, list[Any], set[str]]:
    """The condition as SQL, its parameters, and which of measurements (m) and identifications (d) it looks at."""
    scanned = part_of_code(conditions.text or "")
    if scanned is not None:
        return "WHERE p.id = ?", [scanned], set()
    parts: list[str] = [] if conditions.with_withdrawn else ["p.withdrawn = 0"]
    parameters: list[Any] = []
    needs: set[str] = set()

    def ask(sql: str, *values: Any) -> None:
        parts.append(sql)
        parameters.extend(values)

    if conditions.text:
        query = match_query(conditions.text, typing=conditions.typing)
        if query is None:
            ask("0")
        else:
            ask("p.id IN (SELECT rowid FROM part_words WHERE part_words MATCH ?)", query)
    for name, (low, high) in conditions.between.items():
        if name not in SEARCHED:
            raise ValueError(f"{name} cannot be searched for")
        # the first narrows it down by an index, the second looks at the measurement that counts
        ask(f"p.id IN (SELECT part_id FROM measurements WHERE {name} BETWEEN ? AND ?)", low, high)
        ask(f"m.{name} BETWEEN ? AND ?", low, high)
        needs.add("m")
    if conditions.designation is not None:
        ask("d.designation LIKE ? ESCAPE '\\'", _like(conditions.designation) + "%")
        needs.add("d")
    if conditions.series is not None:
        ask("d.series = ?", conditions.series)
        needs.add("d")
    for sql, value in (
        ("i.made_to < ?", conditions.made_before),
        ("i.made_from > ?", conditions.made_after),
        ("i.country = ?", conditions.country),
        ("p.instrument_id = ?", conditions.instrument),
        ("p.position_id = ?", conditions.position),
        ("p.job_id = ?", conditions.job),
    ):
        if value is not None:
            ask(sql, value)
    return ("WHERE " + " AND ".join(parts) if parts else ""), parameters, needs


def _like(text: str) -> str:
    return text.replace("\\", "\\\\").replace("%", "\\%").replace("_", "\\_")


def _line(row: sqlite3.Row) -> PartLine:
    def with_u95(name: str) -> tuple[float, float] | None:
        return None if row[name] is None else (row[name], row[f"{name}_u95"])

    return PartLine(
        id=row["id"],
        uid=row["uid"],
        name=row["name"],
        instrument=row["instrument"],
        position=row["position"],
        position_id=row["position_id"],
        job=row["job"],
        made=None if row["made_from"] is None else (row["made_from"], row["made_to"]),
        designation=row["designation"],
        status=row["status"],
        says=row["says"],
        words=None if row["says"] is None else words_on_file(json.loads(row["words"] or "null"), row["says"]),
        probability=row["probability"],
        from_memory=bool(row["from_memory"]),
        measured=row["measured"],
        pitch=with_u95("pitch"),
        major_diameter=with_u95("major_diameter"),
        pitch_diameter=with_u95("pitch_diameter"),
        internal=bool(row["internal"]),
        withdrawn=bool(row["withdrawn"]),
        hole=row["hole"],
    )
