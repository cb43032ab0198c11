"""Everything about an instrument on one page: what its maker used, its positions in their order, what is missing.

The window shows it and the instrument sheet prints it; what is said stands in reasons, put into words by either.
"""

from __future__ import annotations

import sqlite3
from dataclasses import dataclass
from typing import TYPE_CHECKING

from flankwise.judging_instrument import InstrumentAnswer
from records.connection import rows
from records.instrument import FiledInstrument, filed_instrument, judge_filed
from records.reading import positions
from threads.shared.quantity import Quantity
from threads.shared.refusal import Reason

if TYPE_CHECKING:
    from records.register import Register

SURE = 0.9
"""From this probability on the system is named without "probably"."""

MEASURED, ODD, HOLE, NO_MEASUREMENT, NO_PICTURE, EMPTY = (
    "measured", "odd one out", "hole", "not measured", "no picture", "empty",
)  # fmt: skip
MISSING = {EMPTY: "empty", NO_PICTURE: "no_picture", NO_MEASUREMENT: "no_measurement"}


@dataclass(frozen=True)
class PlannedPlace:
    """A position, or a part without one, where it stands in the order of the positions.

    Attributes:
        number: in that order, from 1. name: of the position, or of the part.
        part: its number, None where there is none. state: one of those above.
        thread: its most probable class, "" where not measured. diameter: its pitch diameter.
        sha256: of the picture that stands for it, "" for none. why: why it is odd. position: the number of that.
    """

    number: int
    name: str
    part: int | None
    state: str
    thread: str = ""
    diameter: Quantity | None = None
    sha256: str = ""
    why: Reason | None = None
    position: int | None = None


@dataclass(frozen=True)
class InstrumentPage:
    """An instrument: what is on file, what it is (None: no measured screw), its plan, the verdict, what is missing."""

    filed: FiledInstrument
    answer: InstrumentAnswer | None
    places: tuple[PlannedPlace, ...]
    verdict: Reason
    missing: tuple[Reason, ...]

    @property
    def by_part(self) -> dict[int, PlannedPlace]:
        """The places that have a part, by its number."""
        return {one.part: one for one in self.places if one.part is not None}


def instrument_page(register: Register, instrument: int) -> InstrumentPage:
    """Read and judge the instrument with this id. Raises RefusalError."""
    with register.reading() as connection:
        filed = filed_instrument(connection, instrument)
        on_file = _parts(connection, instrument)
        order = positions(connection, instrument)
    answer = judge_filed(filed) if filed.screws else None
    places = tuple(_places(filed, answer, on_file, [(one.id, one.name) for one in order]))
    missing = tuple(
        Reason(f"instrument_page.{MISSING[one.state]}", name=one.name) for one in places if one.state in MISSING
    )
    twice = tuple(Reason("instrument_page.twice", name=name, first=first) for name, first in filed.twice)
    return InstrumentPage(filed, answer, places, _verdict(answer), (*missing, *twice))


def _verdict(answer: InstrumentAnswer | None) -> Reason:
    """Which system its maker used, in a sentence."""
    if answer is None:
        return Reason("instrument_page.nothing")
    first, second = answer.sheet.found.systems[:2]
    return Reason(
        "instrument_page.sure" if first.probability >= SURE else "instrument_page.likely",
        system=first.system,
        probability=first.probability,
        count=len(answer.sheet.screws),
        other=second.system,
        share=second.probability,
    )


def _parts(connection: sqlite3.Connection, instrument: int) -> list[sqlite3.Row]:
    """The parts that were not withdrawn: id, position, name, whether a hole, and the hash of the picture shown."""
    return rows(
        connection,
        "SELECT p.id, p.position_id, p.name, m.id AS measured, m.internal, k.sha256 FROM parts p "
        "LEFT JOIN current c ON c.part_id = p.id LEFT JOIN measurements m ON m.id = c.measurement_id "
        "LEFT JOIN pictures k ON k.id = ifnull(m.picture_id, (SELECT s.picture_id FROM part_pictures s "
        "WHERE s.part_id = p.id ORDER BY s.id DESC LIMIT 1)) "
        "WHERE p.instrument_id = ? AND p.withdrawn = 0 ORDER BY p.id",
        (instrument,),
    )


def _places(
    filed: FiledInstrument,
    answer: InstrumentAnswer | None,
    on_file: list[sqlite3.Row],
    order: list[tuple[int, str]],
) -> list[PlannedPlace]:
    screws = {one.part: one.screw for one in filed.screws}
    why = {} if answer is None else {one.part: reason for one, reason in answer.sheet.odd}
    likely = {} if answer is None else {one.part: one.likely for one, _ in answer.sheet.odd}
    placed = {} if answer is None else {one.part: one.limits for one in answer.sheet.found.placed}
    at: dict[int | None, list[sqlite3.Row]] = {}
    for row in on_file:
        at.setdefault(row["position_id"], []).append(row)
    found: list[PlannedPlace] = []
    for position, name in (*order, (None, "")):
        for row in at.get(position, []):
            part = int(row["id"])
            screw = screws.get(part)
            limits = likely[part] if part in why else placed.get(part)
            found.append(
                PlannedPlace(
                    number=len(found) + 1,
                    name=name or row["name"] or f"part {part}",
                    part=part,
                    state=_state(row, odd=part in why),
                    thread="" if limits is None else limits.designation,
                    diameter=None if screw is None else screw.thread.pitch_diameter,
                    sha256=row["sha256"] or "",
                    why=why.get(part),
                    position=position,
                )
            )
        if position is not None and position not in at:
            found.append(PlannedPlace(len(found) + 1, name, None, EMPTY, position=position))
    return found


def _state(row: sqlite3.Row, *, odd: bool) -> str:
    if row["measured"] is None:
        return NO_MEASUREMENT if row["sha256"] else NO_PICTURE
    if row["internal"]:
        return HOLE
    return ODD if odd else MEASURED
