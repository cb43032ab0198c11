"""What a window on the register shows at a glance: instruments, jobs and positions with their parts, and thumbnails.

Each function reads one moment of the register on a connection of its own, so that it can be called from any thread;
a ``Register`` may be shared between threads.
"""

from __future__ import annotations

import contextlib
from collections.abc import Sequence
from dataclasses import dataclass

from records import reading
from records.connection import rows
from records.entries import Instrument, Job, Position
from records.register import Register

_SHOWN = """
SELECT p.id AS part, k.sha256 FROM parts p
LEFT JOIN current c ON c.part_id = p.id
LEFT JOIN measurements m ON m.id = c.measurement_id
JOIN pictures k ON k.id = ifnull(m.picture_id, (SELECT picture_id FROM part_pictures WHERE part_id = p.id
                                                ORDER BY id DESC LIMIT 1))
WHERE p.id IN ({marks})
"""
"""The picture that stands for a part, as ``entries.Part.picture``: of the measurement that counts, or the latest."""


@dataclass(frozen=True)
class Overview:
    """What there is. Instruments in the order of their names, jobs the latest first.

    ``parts_on`` and ``parts_in``: how many parts that were not withdrawn an instrument, a job has, by id; none if not
    in it. ``parts``: of all.
    """

    instruments: tuple[Instrument, ...]
    jobs: tuple[Job, ...]
    parts_on: dict[int, int]
    parts_in: dict[int, int]
    parts: int


def overview(register: Register) -> Overview:
    """The instruments and jobs on file. Raises RefusalError."""
    with register.reading() as connection:
        return Overview(
            instruments=tuple(reading.instruments(connection)),
            jobs=tuple(reading.jobs(connection)),
            parts_on=reading.part_counts(connection, "instruments"),
            parts_in=reading.part_counts(connection, "jobs"),
            parts=int(connection.execute("SELECT count(*) FROM parts WHERE withdrawn = 0").fetchone()[0]),
        )


def position_counts(register: Register, instrument: int) -> tuple[tuple[Position, int], ...]:
    """The positions on the instrument with this id in their order, each with how many parts are on file for it.

    Raises RefusalError.
    """
    query = "SELECT position_id, count(*) FROM parts WHERE instrument_id = ? AND withdrawn = 0 GROUP BY position_id"
    with register.reading() as connection:
        counts = dict(connection.execute(query, (instrument,)).fetchall())
        return tuple((one, int(counts.get(one.id, 0))) for one in reading.positions(connection, instrument))


def thumbnails(register: Register, parts: Sequence[int]) -> dict[int, bytes]:
    """The thumbnails (JPEG) of these parts by id; without those that have no picture, or none that can be read.

    Raises RefusalError.
    """
    with register.reading() as connection:
        shown = rows(connection, _SHOWN.format(marks=",".join("?" * len(parts))), parts)
    found = {}
    for row in shown:
        with contextlib.suppress(OSError):
            found[int(row["part"])] = register.store.thumbnail(row["sha256"]).read_bytes()
    return found
