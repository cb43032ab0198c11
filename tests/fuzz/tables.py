"""Tables that a person filled in: of parts, and of thread series of their own; as spreadsheets write them, or not."""

from __future__ import annotations

from flankwise.reasons import message
from records.exchange.table import read_table as read_parts
from tests.fuzz.recipe import Recipe, spoilt
from tests.fuzz.refused import assert_plain
from threads.own import own_table
from threads.shared.refusal import RefusalError
from threads.shared.spreadsheet import SpreadsheetError

_CELLS = (
    "", "0", "-1", "1e400", "nan", "2,5", "=1+1", "1/0", "UNC", "M3", "é", "\x00", '"', '"a\nb"', "metric", "60", "ISO",
    "0.5", "9" * 400, "GB", "1938", "none", "0.0001", "1000000", "inch", "mm", "\u2028", ";", "1.8x0.35",
)  # fmt: skip


_PARTS = (
    b"instrument,maker,position,job,name,made_from,made_to,country,note\n"
    b"marine sextant,Quayside Workshop,index arm 1,overhaul,index arm screw,1938,1938,US,slot worn\n"
    b"field theodolite,,clamp,overhaul,clamp screw,1950,1954,DE,\n"
)


def table_of(seed: bytes, recipe: Recipe) -> bytes:
    """Cells changed, in one of the ways that spreadsheets write them; or bytes changed."""
    if recipe.number(4) == 0:
        return spoilt(seed, recipe)
    rows = [line.split(",") for line in seed.decode().splitlines()]
    for _ in range(1 + recipe.number(5)):
        row = rows[recipe.number(len(rows))]
        if not row:
            continue
        i = recipe.number(len(row))
        way = recipe.number(8)
        if way == 0:
            del row[i]
        elif way == 1:
            row.insert(i, recipe.choice(_CELLS))
        elif way == 2:
            rows.insert(recipe.number(len(rows) + 1), list(row))
        elif way == 3:
            row[i] = spoilt(row[i].encode(), recipe).decode("utf-8", "replace")
        else:
            row[i] = recipe.choice(_CELLS)
    separator = recipe.choice((",", ";", "\t", ","))
    text = recipe.choice(("\n", "\r\n", "\r", "\n")).join(separator.join(row) for row in rows)
    return text.encode(recipe.choice(("utf-8", "utf-8-sig", "utf-16", "latin-1", "utf-8")), "replace")


def one(data: bytes) -> None:
    recipe = Recipe(data)
    if recipe.number(2):
        try:
            lines = read_parts(table_of(_PARTS, recipe), "parts.csv")
        except RefusalError as refusal:
            assert_plain(refusal)
        else:
            assert all(line.cells for line in lines)
        return
    try:
        series = own_table.read_table(table_of(own_table.EXAMPLE.encode(), recipe))
    except (own_table.OwnTableError, SpreadsheetError) as error:
        assert message(error)
        return
    for entry in series.entries:
        assert 0 < entry.pitch_mm < 100
        assert 0 < entry.major_mm < 1000
