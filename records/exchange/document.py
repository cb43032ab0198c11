"""Parts as one JSON document, schema ``flankwise/parts/1`` (``parts_1.schema.json`` beside this module).

The document holds rows, one list a kind: ``instruments``, ``jobs``, ``positions``, ``parts``, ``pictures``,
``part_pictures``, ``calibrations``, ``measurements``, ``identifications``, ``checks``, ``dies``, ``replacements``,
``notes``, ``holes``, ``trials``, ``map_marks``, ``corrections``. Every row has a ``uid`` (UUID) of its own, ``added``
(UTC, ISO 8601) and ``who``; it refers to others by their uid (``part``, ``picture`` ...). Lengths are mm, angles
degrees. ``document`` of a measurement, identification or check is the object that ``measure``, ``identify`` and
``check`` print with ``--json``, that of a trial the measurement of a screw that is no part, ``document`` of a
calibration the text of its file. What follows from a document (its quantities, its designation) is not said twice.
"""

from __future__ import annotations

import json
import sqlite3
from collections.abc import Iterable
from dataclasses import dataclass
from typing import Any

from records.connection import rows
from records.filing import program_version
from records.register import utc_now

SCHEMA = "flankwise/parts/1"

SIGNED = ("uid", "added", "who")


@dataclass(frozen=True)
class Kind:
    """One kind of row: its columns besides ``SIGNED``, and which of them refer to other kinds."""

    table: str
    plain: tuple[str, ...]
    to: tuple[tuple[str, str], ...] = ()
    document: str | None = None


KINDS = (
    Kind("instruments", ("name", "maker", "model", "serial", "made_from", "made_to", "country", "owner_note")),
    Kind("jobs", ("name", "about", "owner"), (("instrument", "instruments"),)),
    Kind("positions", ("name", "place"), (("instrument", "instruments"),)),
    Kind(
        "parts",
        ("name", "withdrawn"),
        (("instrument", "instruments"), ("position", "positions"), ("job", "jobs")),
    ),
    Kind("pictures", ("sha256", "suffix", "file_name", "bytes", "width_px", "height_px")),
    Kind("part_pictures", ("shows",), (("part", "parts"), ("picture", "pictures"))),
    Kind("calibrations", ("calibration", "sha256", "document")),
    Kind(
        "measurements",
        ("measured", "version", "withdrawn"),
        (("part", "parts"), ("picture", "pictures"), ("calibration", "calibrations")),
        "measurement_documents",
    ),
    Kind("identifications", (), (("measurement", "measurements"),), "identifications"),
    Kind("checks", (), (("measurement", "measurements"),), "checks"),
    Kind("dies", ("name", "kind", "cuts", "remark", "withdrawn")),
    Kind(
        "replacements",
        ("made", "die", "setting", "stock", "remark", "withdrawn"),
        (("part", "parts"), ("made_part", "parts"), ("cut_by", "dies")),
    ),
    Kind("notes", ("text", "withdrawn"), (("part", "parts"), ("instrument", "instruments"), ("job", "jobs"))),
    Kind("holes", ("thread", "engagement", "depth"), (("part", "parts"),)),
    Kind(
        "trials",
        ("name", "tried", "outcome", "turns", "movement", "movement_u95", "overhang", "remark", "withdrawn"),
        (("hole", "holes"), ("screw", "parts")),
        "trials",
    ),
    Kind("map_marks", ("across", "down", "withdrawn"), (("position", "positions"), ("picture", "pictures"))),
    Kind("corrections", ("table_name", "row_uid", "column_name", "before", "after", "why")),
)
"""In the order in which they are filed: none refers to a later one."""


_LEADS_TO = {"made_part_id": "parts", "screw_id": "parts", "cut_by_id": "dies"}
"""Columns that are not named after the table they refer to."""


def document_of(connection: sqlite3.Connection, parts: Iterable[int]) -> dict[str, Any]:
    """Everything on file about ``parts`` (ids), the screws made for them, and those tried in them, as the document."""
    chosen = _with_screws(connection, set(parts))
    content: dict[str, Any] = {"schema": SCHEMA, "written": utc_now(), "version": program_version()}
    keys = _keys(connection, chosen)
    for kind in KINDS[:-1]:
        content[kind.table] = [_row(row, kind) for row in _rows_of(connection, kind, keys[kind.table])]
    uids = {row["uid"] for kind in KINDS[:-1] for row in content[kind.table]}
    content["corrections"] = [
        _correction(connection, row)
        for row in rows(connection, "SELECT * FROM corrections ORDER BY added, id")
        if row["row_uid"] in uids
    ]
    return content


def _with_screws(connection: sqlite3.Connection, parts: set[int]) -> set[int]:
    """``parts`` and the screws on file that were made for them or tried in them, and those of these."""
    while True:
        found = {
            screw
            for (screw,) in connection.execute(
                f"SELECT made_part_id FROM replacements WHERE made_part_id IS NOT NULL AND part_id IN ({_list(parts)}) "
                "UNION SELECT t.screw_id FROM trials t JOIN holes h ON h.id = t.hole_id "
                f"WHERE t.screw_id IS NOT NULL AND h.part_id IN ({_list(parts)})"
            )
        }
        if found <= parts:
            return parts
        parts = parts | found


def _keys(connection: sqlite3.Connection, parts: set[int]) -> dict[str, set[int]]:
    """The ids of the rows of each kind that belong to ``parts``."""

    def ids(sql: str) -> set[int]:
        return {key for (key,) in connection.execute(sql) if key is not None}

    of = f"IN ({_list(parts)})"
    keys: dict[str, set[int]] = {"parts": parts}
    keys["jobs"] = ids(f"SELECT job_id FROM parts WHERE id {of}")
    keys["positions"] = ids(f"SELECT position_id FROM parts WHERE id {of}")
    keys["instruments"] = ids(f"SELECT instrument_id FROM parts WHERE id {of}")
    keys["instruments"] |= ids(f"SELECT instrument_id FROM jobs WHERE id IN ({_list(keys['jobs'])})")
    keys["part_pictures"] = ids(f"SELECT id FROM part_pictures WHERE part_id {of}")
    keys["measurements"] = ids(f"SELECT id FROM measurements WHERE part_id {of}")
    keys["pictures"] = ids(f"SELECT picture_id FROM part_pictures WHERE part_id {of}")
    keys["pictures"] |= ids(f"SELECT picture_id FROM measurements WHERE part_id {of}")
    keys["map_marks"] = ids(f"SELECT id FROM map_marks WHERE position_id IN ({_list(keys['positions'])})")
    keys["pictures"] |= ids(f"SELECT picture_id FROM map_marks WHERE id IN ({_list(keys['map_marks'])})")
    keys["calibrations"] = ids(f"SELECT calibration_id FROM measurements WHERE part_id {of}")
    measured = _list(keys["measurements"])
    keys["identifications"] = ids(f"SELECT id FROM identifications WHERE measurement_id IN ({measured})")
    keys["checks"] = ids(f"SELECT id FROM checks WHERE measurement_id IN ({measured})")
    keys["replacements"] = ids(f"SELECT id FROM replacements WHERE part_id {of}")
    keys["dies"] = ids(f"SELECT cut_by_id FROM replacements WHERE part_id {of}")
    if parts >= ids("SELECT id FROM parts"):
        keys["dies"] = ids("SELECT id FROM dies")  # those that have cut nothing yet go along with everything
    keys["holes"] = ids(f"SELECT id FROM holes WHERE part_id {of}")
    keys["trials"] = ids(f"SELECT id FROM trials WHERE hole_id IN ({_list(keys['holes'])})")
    keys["notes"] = ids(
        f"SELECT id FROM notes WHERE part_id {of} OR instrument_id IN ({_list(keys['instruments'])}) "
        f"OR job_id IN ({_list(keys['jobs'])})"
    )
    return keys


def _rows_of(connection: sqlite3.Connection, kind: Kind, keys: set[int]) -> list[sqlite3.Row]:
    columns = [f"t.{name}" for name in (*SIGNED, *kind.plain)]
    joins = []
    for number, (name, table) in enumerate(kind.to):
        columns.append(f"r{number}.uid AS {name}")
        joins.append(f"LEFT JOIN {table} r{number} ON r{number}.id = t.{name}_id")
    if kind.document == "measurement_documents":
        columns.append("d.document AS document")
        joins.append("JOIN measurement_documents d ON d.measurement_id = t.id")
    elif kind.document is not None:
        columns.append("t.document")
    sql = (
        f"SELECT {', '.join(columns)} FROM {kind.table} t {' '.join(joins)} WHERE t.id IN ({_list(keys)}) ORDER BY t.id"
    )
    return rows(connection, sql)


def _row(row: sqlite3.Row, kind: Kind) -> dict[str, Any]:
    found: dict[str, Any] = {name: row[name] for name in (*SIGNED, *kind.plain, *(name for name, _ in kind.to))}
    if "withdrawn" in found:
        found["withdrawn"] = bool(found["withdrawn"])
    if kind.document is not None:
        found["document"] = json.loads(row["document"] or "null")
    return found


def _correction(connection: sqlite3.Connection, row: sqlite3.Row) -> dict[str, Any]:
    """A correction; where it changed a reference, the uids that it led to."""
    found = {name: row[name] for name in (*SIGNED, *KINDS[-1].plain)}
    found["before"], found["after"] = (json.loads(row[name] or "null") for name in ("before", "after"))
    column = str(row["column_name"])
    if column.endswith("_id"):
        table = _LEADS_TO.get(column, f"{column.removesuffix('_id')}s")
        for name in ("before", "after"):
            if found[name] is not None:
                uid = connection.execute(f"SELECT uid FROM {table} WHERE id = ?", (found[name],)).fetchone()
                found[name] = None if uid is None else uid[0]
    return found


def _list(keys: Iterable[int]) -> str:
    """Ids as they stand in SQL; they come from the register itself, and are more than SQLite takes as parameters."""
    return ",".join(str(int(key)) for key in sorted(keys))
