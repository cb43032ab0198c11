"""Parts as a CSV table, a row a part, for spreadsheets: written with everything, read for what a person fills in.

Written: the columns of ``COLUMNS`` in this order, UTF-8, commas, a decimal point; lengths mm, angles degrees, U95
beside each value. Cells that a spreadsheet would run as formulas have an apostrophe before them.

Read: ``instrument``, ``maker``, ``model``, ``serial``, ``made_from``, ``made_to``, ``country``, ``position``, ``job``,
``name``, ``note``, ``uid``, in any order and with any separator; other columns are left aside. So the strips of an
instrument can be planned in a spreadsheet. Measured values are never taken from a table: nothing stands behind them.
"""

from __future__ import annotations

import re
import sqlite3
import uuid
from collections.abc import Iterable, Mapping
from dataclasses import dataclass

from records import filing
from records.cells import csv_line, number_cell, text_cell, text_of_cell
from records.connection import rows
from records.exchange.arrived import Arrived
from records.from_memory import IS_FROM_MEMORY, marked
from records.lookup import instrument_called, job_called, position_called
from records.register import Register, Writing
from records.schema import QUANTITIES
from threads.shared.refusal import Given, RefusalError
from threads.shared.spreadsheet import SpreadsheetError, read_sheet

_WORDS = (
    "uid", "name", "instrument", "maker", "model", "serial", "made_from", "made_to", "country", "position", "place",
    "job", "withdrawn", "says", "identity", "designation", "probability", "from_memory", "measured", "by", "version",
    "calibration",
)  # fmt: skip
_UNITS = {name: "deg" if "angle" in name else "mm" for name in QUANTITIES}
_NUMBERS = tuple(text for name, unit in _UNITS.items() for text in (f"{name}_{unit}", f"{name}_u95_{unit}"))
COLUMNS = ("part", *_WORDS, *_NUMBERS, "notes")
"""``part`` is the number in the register that it comes from; ``uid`` is good everywhere; ``from_memory`` says whether
the limits behind ``says``, which then carries a mark, are from memory and unverified."""

READ = ("instrument", "maker", "model", "serial", "made_from", "made_to", "country", "position", "job", "name", "note",
        "uid")  # fmt: skip
MOST_TEXT = 1000
_UUID = re.compile(r"[0-9a-f]{8}(-[0-9a-f]{4}){3}-[0-9a-f]{12}")
_SQL = f"""
SELECT p.id AS part, p.uid, p.name, p.withdrawn, i.name AS instrument, i.maker, i.model, i.serial, i.made_from,
    i.made_to, i.country, o.name AS position, o.place, j.name AS job, d.says, d.status AS identity, d.designation,
    d.probability, CASE {IS_FROM_MEMORY} WHEN 1 THEN 'yes' WHEN 0 THEN 'no' END AS from_memory, m.measured,
    m.who AS "by", m.version, c.calibration,
    {", ".join(f"m.{name}, m.{name}_u95" for name in QUANTITIES)},
    (SELECT group_concat(n.text, ' / ') FROM notes n WHERE n.part_id = p.id AND n.withdrawn = 0) AS notes
FROM parts p
LEFT JOIN instruments i ON i.id = p.instrument_id
LEFT JOIN positions o ON o.id = p.position_id
LEFT JOIN jobs j ON j.id = p.job_id
LEFT JOIN current u ON u.part_id = p.id
LEFT JOIN measurements m ON m.id = u.measurement_id
LEFT JOIN identifications d ON d.id = u.identification_id
LEFT JOIN calibrations c ON c.id = m.calibration_id
"""


@dataclass(frozen=True)
class Line:
    """A row that was read: its number in the file, and its cells by column; empty ones are left out."""

    number: int
    cells: Mapping[str, str]


def table_of(connection: sqlite3.Connection, parts: Iterable[int]) -> bytes:
    """The table of ``parts`` (ids)."""
    chosen = ",".join(str(int(part)) for part in parts)
    lines = [csv_line(COLUMNS)]
    for row in rows(connection, f"{_SQL} WHERE p.id IN ({chosen}) ORDER BY i.name, o.place IS NULL, o.place, p.id"):
        cells = [str(row["part"])]
        for name in _WORDS:
            value = row[name]
            if name == "says" and value:
                value = marked(value, from_memory=row["from_memory"] == "yes")
            cells.append(
                number_cell(value) if isinstance(value, float) else text_cell("" if value is None else str(value))
            )
        for name in QUANTITIES:
            cells += [number_cell(row[name]), number_cell(row[f"{name}_u95"])]
        lines.append(csv_line([*cells, text_cell(row["notes"] or "")]))
    return b"".join(lines)


def read_table(content: bytes, name: str) -> tuple[Line, ...]:
    """The rows of a table that a person filled in. Raises RefusalError (table_unreadable, table_invalid)."""
    try:
        sheet = read_sheet(content)
    except SpreadsheetError as error:
        raise RefusalError("table_unreadable.sheet", name=name, why=error.reasons[0]) from error
    head = [cell.casefold().replace(" ", "_") for cell in sheet.head]
    known = [column for column in head if column in READ]
    if not {"instrument", "job", "name"} & set(known) or len(set(known)) != len(known):
        raise RefusalError("table_invalid.columns", name=name, columns=tuple(READ))
    lines = []
    for number, cells in sheet.rows:
        found = {
            column: text_of_cell(cell) for column, cell in zip(head, cells, strict=False) if column in READ and cell
        }
        if found:
            lines.append(Line(number, _checked(found, number, name)))
    if not lines:
        raise RefusalError("table_invalid.empty", name=name)
    return tuple(lines)


def file_table(register: Register, lines: Iterable[Line], *, who: str | None = None) -> Arrived:
    """File the parts of a table in one transaction; a row whose uid is on file is left out.

    Raises RefusalError (table_invalid and what ``Register.writing`` raises); then nothing was filed.
    """
    arrived = Arrived()
    with register.writing(who) as writing:
        for line in lines:
            uid = line.cells.get("uid") or str(uuid.uuid4())
            if writing.connection.execute("SELECT 1 FROM parts WHERE uid = ?", (uid,)).fetchone():
                arrived.known["parts"] += 1
                continue
            _file(writing, line.cells, uid, arrived)
    return arrived


def _file(writing: Writing, cells: Mapping[str, str], uid: str, arrived: Arrived) -> None:
    instrument = job = position = None
    if "instrument" in cells:
        instrument = instrument_called(writing.connection, cells["instrument"])
        if instrument is None:
            words = {name: cells.get(name) for name in ("maker", "model", "serial", "country")}
            instrument = filing.add_instrument(writing, cells["instrument"], made=_made(cells), **words)
            arrived.filed["instruments"] += 1
    if "job" in cells:
        job = job_called(writing.connection, cells["job"])
        if job is None:
            job = filing.add_job(writing, cells["job"], instrument=instrument)
            arrived.filed["jobs"] += 1
    if "position" in cells and instrument is not None:
        position = position_called(writing.connection, instrument, cells["position"])
        if position is None:
            position = filing.add_position(writing, instrument, cells["position"])
            arrived.filed["positions"] += 1
    part = filing.add_part(writing, name=cells.get("name"), instrument=instrument, position=position, job=job, uid=uid)
    arrived.filed["parts"] += 1
    if "note" in cells:
        filing.add_note(writing, cells["note"], part=part)
        arrived.filed["notes"] += 1


def _made(cells: Mapping[str, str]) -> tuple[int, int] | None:
    if "made_from" not in cells:
        return None
    return int(cells["made_from"]), int(cells.get("made_to", cells["made_from"]))


def _checked(cells: dict[str, str], number: int, name: str) -> dict[str, str]:
    def refuse(case: str, **values: Given) -> RefusalError:
        return RefusalError(f"table_invalid.{case}", name=name, row=number, **values)

    for column, text in cells.items():
        if len(text) > MOST_TEXT or not text.isprintable():
            raise refuse("long", column=column, most=MOST_TEXT)
    if "position" in cells and "instrument" not in cells:
        raise refuse("position")
    years = [cells[column] for column in ("made_from", "made_to") if column in cells]
    if any(not re.fullmatch(r"[0-9]{4}", year) for year in years) or ("made_to" in cells and "made_from" not in cells):
        raise refuse("years")
    if years != sorted(years):
        raise refuse("order")
    if not re.fullmatch(r"[A-Z]{2}", cells.get("country", "US")):
        raise refuse("country")
    if not _UUID.fullmatch(cells.get("uid", str(uuid.UUID(int=0)))):
        raise refuse("uid")
    return cells
