"""Setting right what was written down wrong: the value before is kept, with who changed it, when and why."""

from __future__ import annotations

import json
import uuid
from collections.abc import Mapping, Sequence

from records import schema
from records.connection import insert, rows
from records.filing import refuse_long
from records.register import Writing
from threads.shared.refusal import RefusalError

_PARTS_OF = {
    "instruments": "SELECT id FROM parts WHERE instrument_id = ?",
    "jobs": "SELECT id FROM parts WHERE job_id = ?",
    "positions": "SELECT id FROM parts WHERE position_id = ?",
    "parts": "SELECT id FROM parts WHERE id = ?",
    "measurements": "SELECT part_id FROM measurements WHERE id = ?",
    "dies": "SELECT part_id FROM replacements WHERE cut_by_id = ?",
    "replacements": "SELECT part_id FROM replacements WHERE id = ?",
    "notes": "SELECT part_id FROM notes WHERE id = ? AND part_id IS NOT NULL",
    "holes": "SELECT part_id FROM holes WHERE id = ?",
    "trials": "SELECT h.part_id FROM trials t JOIN holes h ON h.id = t.hole_id WHERE t.id = ?",
    "map_marks": "SELECT id FROM parts WHERE 0 AND id = ?",
}
"""For which parts something derived changes with a row."""


def correct(
    writing: Writing, table: str, row: int, changes: Mapping[str, str | float | None], *, why: str | None = None
) -> list[int]:
    """Give columns of one row other values, and return the ids of the corrections; none for what is so already.

    Raises:
        RefusalError: no_such_row.
        KeyError: a column that cannot be corrected (``schema.CORRECTABLE``): a measurement is withdrawn, not changed.
    """
    wrong = set(changes) - set(schema.CORRECTABLE[table])
    if wrong:
        raise KeyError(", ".join(sorted(wrong)))
    found = rows(writing.connection, f"SELECT * FROM {table} WHERE id = ?", (row,))
    if not found:
        raise RefusalError("no_such_row", what=table.removesuffix("s"), row=row)
    now = found[0]
    real = {column: value for column, value in changes.items() if now[column] != value}
    if not real:
        return []
    refuse_long({**real, "why": why})
    columns = ", ".join(f"{column} = ?" for column in real)
    writing.connection.execute(f"UPDATE {table} SET {columns} WHERE id = ?", (*real.values(), row))
    added = []
    for column, value in real.items():
        kept = {
            "uid": str(uuid.uuid4()),
            "added": writing.now,
            "who": writing.who,
            "table_name": table,
            "row_uid": now["uid"],
            "column_name": column,
            "before": json.dumps(now[column], ensure_ascii=False),
            "after": json.dumps(value, ensure_ascii=False),
            "why": why,
        }
        added.append(insert(writing.connection, "corrections", kept))
    writing.parts.update(part for (part,) in writing.connection.execute(_PARTS_OF[table], (row,)))
    return added


def withdraw(writing: Writing, table: str, row: int, *, why: str | None = None) -> list[int]:
    """Let a part, measurement, replacement or note count no longer; it stays on file. As ``correct``."""
    return correct(writing, table, row, {"withdrawn": 1}, why=why)


def bring_back(writing: Writing, table: str, row: int, *, why: str | None = None) -> list[int]:
    """Let what was withdrawn count again. As ``correct``."""
    return correct(writing, table, row, {"withdrawn": 0}, why=why)


def take_back(writing: Writing, corrections: Sequence[int], *, why: str | None = None) -> list[int]:
    """Give back the values that were there before these corrections (ids, as ``correct`` returns them).

    Nothing is struck out: this corrects once more. The ids returned are those of the new corrections; taking these
    back does it again.

    Raises:
        RefusalError: no_such_row; corrected_since, where a value is no longer what the correction made of it.
    """
    marks = ",".join("?" * len(corrections))
    wanted = rows(writing.connection, f"SELECT * FROM corrections WHERE id IN ({marks}) ORDER BY id DESC", corrections)
    if len(wanted) != len(set(corrections)):
        raise RefusalError("no_such_row.correction")
    before: dict[tuple[str, int], dict[str, str | float | None]] = {}
    for one in wanted:
        table, column = one["table_name"], one["column_name"]
        row = rows(writing.connection, f"SELECT * FROM {table} WHERE uid = ?", (one["row_uid"],))[0]
        values = before.setdefault((table, int(row["id"])), {})
        if values.get(column, row[column]) != json.loads(one["after"]):
            raise RefusalError(
                "corrected_since", column=column.replace("_", " "), what=table.removesuffix("s"), row=row["id"]
            )
        values[column] = json.loads(one["before"])
    return [new for (table, row), values in before.items() for new in correct(writing, table, row, values, why=why)]
