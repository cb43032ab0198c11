"""Where the parts of an instrument sit in pictures of it: one mark a position, of which the latest counts."""

from __future__ import annotations

import sqlite3
from dataclasses import dataclass
from pathlib import Path

from records import filing
from records.connection import rows
from records.lookup import known_position
from records.register import Register
from threads.shared.refusal import RefusalError
from vision.pictures.picture import read_picture


@dataclass(frozen=True)
class MapMark:
    """A mark. ``picture``: its id; ``sha256``, ``suffix``: of its file; ``across``, ``down``: shares of its size."""

    id: int
    position: int
    picture: int
    sha256: str
    suffix: str
    across: float
    down: float


def map_marks(connection: sqlite3.Connection, instrument: int) -> list[MapMark]:
    """The marks that count, picture by picture in the order in which these were first used."""
    found = rows(
        connection,
        "SELECT m.id, m.position_id, m.picture_id, k.sha256, k.suffix, m.across, m.down, max(m.id) FROM map_marks m "
        "JOIN positions o ON o.id = m.position_id JOIN pictures k ON k.id = m.picture_id "
        "WHERE o.instrument_id = ? AND m.withdrawn = 0 GROUP BY m.position_id ORDER BY m.picture_id, o.place",
        (instrument,),
    )
    return [MapMark(*tuple(row)[:7]) for row in found]


def map_pictures(connection: sqlite3.Connection, instrument: int) -> list[int]:
    """The pictures that have a mark of this instrument, the latest mark's last."""
    found = connection.execute(
        "SELECT m.picture_id FROM map_marks m JOIN positions o ON o.id = m.position_id WHERE o.instrument_id = ? "
        "AND m.withdrawn = 0 GROUP BY m.picture_id ORDER BY max(m.id)",
        (instrument,),
    )
    return [picture for (picture,) in found]


def mark_positions(
    register: Register,
    instrument: int,
    marks: list[tuple[str, float, float]],
    *,
    picture: Path | None = None,
    who: str | None = None,
) -> int:
    """Mark positions (by name) at pixels of ``picture``, of the picture used last if None; how many there are.

    Raises RefusalError: no_map_picture, no_such_name, map_mark_outside, and what reading the picture raises.
    """
    read = None if picture is None else read_picture(picture)
    with register.writing(who) as writing:
        if read is not None:
            key = filing.add_read_picture(writing, read)
        else:
            known = map_pictures(writing.connection, instrument)
            if not known:
                raise RefusalError("no_map_picture")
            key = known[-1]
        ((wide, high),) = writing.connection.execute("SELECT width_px, height_px FROM pictures WHERE id = ?", (key,))
        for name, x, y in marks:
            position = known_position(writing.connection, instrument, name)
            if not (0 <= x < wide and 0 <= y < high):
                raise RefusalError("map_mark_outside", name=name, wide=wide, high=high)
            filing.add_map_mark(writing, position, key, (x + 0.5) / wide, (y + 0.5) / high)
    return len(marks)
