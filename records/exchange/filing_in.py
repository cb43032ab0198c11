"""Filing the rows of a checked document: what is on file already stays as it is, what is new keeps its uid."""

from __future__ import annotations

import json
from collections.abc import Callable, Mapping
from dataclasses import dataclass, field
from typing import Any

from records import filing
from records.connection import insert, value
from records.exchange.arrived import Arrived, Ready
from records.register import Writing

Written = Callable[[Mapping[str, Any]], Writing]
"""The action under way, in the name and at the time of a row."""

_PICTURES, _CALIBRATIONS = "pictures", "calibrations"


@dataclass
class _Way:
    """The import under way; ``ids`` leads from the uids of the document to the ids here, by kind."""

    written: Written
    document: Mapping[str, Any]
    ready: Mapping[str, Ready]
    arrived: Arrived
    ids: dict[str, dict[str, int]] = field(default_factory=dict)

    def here(self, table: str, uid: str | None) -> int | None:
        return None if uid is None else self.ids[table].get(uid)

    def must(self, table: str, uid: str) -> int:
        return self.ids[table][uid]


def file_rows(written: Written, document: Mapping[str, Any], ready: Mapping[str, Ready], arrived: Arrived) -> None:
    """File the rows that are not on file. ``ready``: the pictures that came along, by their hash.

    Raises sqlite3.Error, KeyError, ValueError: then the action is to be undone.
    """
    way = _Way(written, document, ready, arrived)
    for table, file_one in _FILE.items():
        known = way.ids.setdefault(table, {})
        for row in document[table]:
            writing = written(row)
            there = value(writing.connection, f"SELECT id FROM {table} WHERE uid = ?", (row["uid"],))
            if there is None and table in (_PICTURES, _CALIBRATIONS):
                there = value(writing.connection, f"SELECT id FROM {table} WHERE sha256 = ?", (row["sha256"],))
            if there is not None:
                known[row["uid"]] = int(there)
                arrived.known[table] += 1
                continue
            added = file_one(way, writing, row)
            if added is not None:
                known[row["uid"]] = added
                arrived.filed[table] += 1


def _instrument(way: _Way, writing: Writing, row: Mapping[str, Any]) -> int:
    made = None if row["made_from"] is None else (row["made_from"], row["made_to"])
    words = {name: row[name] for name in ("maker", "model", "serial", "country", "owner_note")}
    name = _free_name(way, writing, "instruments", row["name"])
    return filing.add_instrument(writing, name, made=made, uid=row["uid"], **words)


def _job(way: _Way, writing: Writing, row: Mapping[str, Any]) -> int:
    name = _free_name(way, writing, "jobs", row["name"])
    instrument = way.here("instruments", row["instrument"])
    return filing.add_job(
        writing, name, instrument=instrument, about=row["about"], owner=row.get("owner"), uid=row["uid"]
    )


def _position(way: _Way, writing: Writing, row: Mapping[str, Any]) -> int:
    instrument = way.must("instruments", row["instrument"])
    name = _free_name(way, writing, "positions", row["name"], instrument)
    return filing.add_position(writing, instrument, name, place=row["place"], uid=row["uid"])


def _part(way: _Way, writing: Writing, row: Mapping[str, Any]) -> int:
    added = filing.add_part(
        writing,
        name=row["name"],
        instrument=way.here("instruments", row["instrument"]),
        position=way.here("positions", row["position"]),
        job=way.here("jobs", row["job"]),
        uid=row["uid"],
    )
    _withdraw(writing, "parts", added, row)
    return added


def _picture(way: _Way, writing: Writing, row: Mapping[str, Any]) -> int | None:
    """None where the picture itself did not come along: rows that show it stay out, measurements go without it."""
    picture = way.ready.get(row["sha256"])
    if picture is None:
        return None
    return filing.add_picture(
        writing,
        picture.path,
        sha256=row["sha256"],
        width_px=picture.width_px,
        height_px=picture.height_px,
        thumbnail=picture.small.read_bytes(),
        file_name=row["file_name"],
        uid=row["uid"],
    )


def _part_picture(way: _Way, writing: Writing, row: Mapping[str, Any]) -> int | None:
    part, picture = way.must("parts", row["part"]), way.here(_PICTURES, row["picture"])
    if picture is None:
        return None
    filing.show_part(writing, part, picture, shows=row["shows"], uid=row["uid"])
    query = "SELECT id FROM part_pictures WHERE part_id = ? AND picture_id = ?"
    return int(value(writing.connection, query, (part, picture)))


def _calibration(_: _Way, writing: Writing, row: Mapping[str, Any]) -> int:
    return filing.add_calibration(writing, row["document"], uid=row["uid"])


def _measurement(way: _Way, writing: Writing, row: Mapping[str, Any]) -> int:
    added = filing.add_measurement(
        writing,
        way.must("parts", row["part"]),
        row["document"],
        picture=way.here(_PICTURES, row["picture"]),
        calibration=way.here(_CALIBRATIONS, row["calibration"]),
        measured=row["measured"],
        version=row["version"],
        uid=row["uid"],
    )
    _withdraw(writing, "measurements", added, row)
    return added


def _identification(way: _Way, writing: Writing, row: Mapping[str, Any]) -> int:
    return filing.add_identification(
        writing, way.must("measurements", row["measurement"]), row["document"], uid=row["uid"]
    )


def _check(way: _Way, writing: Writing, row: Mapping[str, Any]) -> int:
    return filing.add_check(writing, way.must("measurements", row["measurement"]), row["document"], uid=row["uid"])


def _die(way: _Way, writing: Writing, row: Mapping[str, Any]) -> int:
    name = _free_name(way, writing, "dies", row["name"])
    words = {what: row[what] for what in ("kind", "cuts", "remark")}
    added = filing.add_die(writing, name, uid=row["uid"], **words)
    _withdraw(writing, "dies", added, row)
    return added


def _replacement(way: _Way, writing: Writing, row: Mapping[str, Any]) -> int:
    words = {name: row[name] for name in ("made", "die", "setting", "stock", "remark")}
    added = filing.add_replacement(
        writing,
        way.must("parts", row["part"]),
        made_part=way.here("parts", row["made_part"]),
        cut_by=way.here("dies", row.get("cut_by")),
        uid=row["uid"],
        **words,
    )
    _withdraw(writing, "replacements", added, row)
    return added


def _note(way: _Way, writing: Writing, row: Mapping[str, Any]) -> int:
    added = filing.add_note(
        writing,
        row["text"],
        part=way.here("parts", row["part"]),
        instrument=way.here("instruments", row["instrument"]),
        job=way.here("jobs", row["job"]),
        uid=row["uid"],
    )
    _withdraw(writing, "notes", added, row)
    return added


def _hole(way: _Way, writing: Writing, row: Mapping[str, Any]) -> int:
    part, thread = way.must("parts", row["part"]), row["thread"]
    there = value(writing.connection, "SELECT id FROM holes WHERE part_id = ?", (part,))
    if there is not None:
        return int(there)
    return filing.add_hole(writing, part, thread, engagement=row["engagement"], depth=row["depth"], uid=row["uid"])


def _trial(way: _Way, writing: Writing, row: Mapping[str, Any]) -> int:
    names = ("outcome", "name", "document", "turns", "movement", "movement_u95", "overhang", "remark", "tried", "uid")
    screw = way.here("parts", row["screw"])
    added = filing.add_trial(
        writing, way.must("holes", row["hole"]), screw=screw, **{name: row[name] for name in names}
    )
    _withdraw(writing, "trials", added, row)
    return added


def _map_mark(way: _Way, writing: Writing, row: Mapping[str, Any]) -> int | None:
    position, picture = way.must("positions", row["position"]), way.here(_PICTURES, row["picture"])
    if picture is None:
        return None
    added = filing.add_map_mark(writing, position, picture, row["across"], row["down"], uid=row["uid"])
    _withdraw(writing, "map_marks", added, row)
    return added


def _correction(_: _Way, writing: Writing, row: Mapping[str, Any]) -> int:
    kept = {name: row[name] for name in ("uid", "added", "who", "table_name", "row_uid", "column_name", "why")}
    kept |= {name: json.dumps(row[name], ensure_ascii=False) for name in ("before", "after")}
    return insert(writing.connection, "corrections", kept)


_FILE: dict[str, Callable[[_Way, Writing, Mapping[str, Any]], int | None]] = {
    "instruments": _instrument,
    "jobs": _job,
    "positions": _position,
    "parts": _part,
    "pictures": _picture,
    "part_pictures": _part_picture,
    "calibrations": _calibration,
    "measurements": _measurement,
    "identifications": _identification,
    "checks": _check,
    "dies": _die,
    "replacements": _replacement,
    "notes": _note,
    "holes": _hole,
    "trials": _trial,
    "map_marks": _map_mark,
    "corrections": _correction,
}


def _withdraw(writing: Writing, table: str, key: int, row: Mapping[str, Any]) -> None:
    if row["withdrawn"]:
        writing.connection.execute(f"UPDATE {table} SET withdrawn = 1 WHERE id = ?", (key,))


def _free_name(way: _Way, writing: Writing, table: str, name: str, instrument: int | None = None) -> str:
    """``name``, or with a number behind it where another row has it: names are unique here."""
    stem, number, found = name.strip(), 1, name.strip()
    taken = f"SELECT id FROM {table} WHERE name = ?" + (" AND instrument_id = ?" if instrument is not None else "")
    more = () if instrument is None else (instrument,)
    while value(writing.connection, taken, (found, *more)) is not None:
        number += 1
        found = f"{stem} ({number})"
    if found != stem:
        way.arrived.renamed.append(f"{table.removesuffix('s')} {stem!r} is filed as {found!r}: the name was taken")
    return found
