"""What the dies and taps on file have cut, which comes nearest to a part, and the attempts at its replacement."""

from __future__ import annotations

import json
import sqlite3
from collections.abc import Sequence
from typing import TYPE_CHECKING

from flankwise.cutting import CuttingError, CutToFit, DiesAnswer, cut_of, dies_for, fit, measured_cut
from records import correction, filing
from records.connection import rows
from records.lookup import check_new_name, die_called
from records.measured_common import with_budget
from records.reading import dies, measurement_of, read_part
from threads.cutting.die_choice import DieState, KnownDie, MeasuredCut, states_of
from threads.cutting.tried_cut import tried_cut
from threads.hole.trial import HoleError
from threads.shared.refusal import RefusalError
from threads.standards.designation import UnknownDesignationError
from threads.workshop.drawn_thread import TriedHole

if TYPE_CHECKING:
    from flankwise.reference import Reference
    from records.entries import FiledDie
    from records.register import Register, Writing
    from threads.standards.limits import Limits

_CUTS = (
    "SELECT r.id, r.cut_by_id, r.part_id, r.setting, r.made_part_id, d.document FROM replacements r "
    "JOIN parts p ON p.id = r.made_part_id LEFT JOIN current c ON c.part_id = p.id "
    "LEFT JOIN measurement_documents d ON d.measurement_id = c.measurement_id LEFT JOIN holes h ON h.part_id = p.id "
    "WHERE r.cut_by_id IS NOT NULL AND r.withdrawn = 0 AND p.withdrawn = 0 "
    "AND (d.document IS NOT NULL OR h.id IS NOT NULL) {more} ORDER BY r.made, r.id"
)
"""Threads that dies and taps cut, oldest first: the measurement that counts of each, or a hole with its trials."""


def known_dies(connection: sqlite3.Connection) -> tuple[KnownDie, ...]:
    """The dies and taps that were not withdrawn, with the measured threads that they cut."""
    cuts: dict[int, list[MeasuredCut]] = {}
    for row in rows(connection, _CUTS.format(more="")):
        cut = _cut(connection, row)
        if cut is not None:
            cuts.setdefault(row["cut_by_id"], []).append(cut)
    return tuple(
        KnownDie(one.id, one.name, one.kind, one.cuts, tuple(_of_its_kind(one, cuts.get(one.id, []))))
        for one in dies(connection)
    )


def states_on_file(connection: sqlite3.Connection) -> tuple[DieState, ...]:
    """What each die and tap on file cuts."""
    return states_of(known_dies(connection))


def state_of(connection: sqlite3.Connection, die: int) -> DieState:
    """What the die with this id cuts. Raises RefusalError (die_withdrawn) where it was withdrawn."""
    for one in states_on_file(connection):
        if one.die.number == die:
            return one
    raise RefusalError("die_withdrawn", row=die)


def dies_for_part(
    connection: sqlite3.Connection,
    part: int,
    *,
    hole: Limits | Reference | TriedHole | None = None,
    engagement_mm: float | None = None,
) -> DiesAnswer:
    """The dies on file held against a part: nearest first; ``hole``, ``engagement_mm`` as in ``flankwise.dies_for``.

    Raises RefusalError: no_part_on_file, not_measured; hole_without_trials, HoleError of a hole that was only tried.
    """
    from records.filed_part import limits_on_file

    there = read_part(connection, part)
    if there.measurement is None and there.hole is not None:
        tried = _tried(connection, part)
        if tried is None:
            raise RefusalError("hole_without_trials", part=part)
        return dies_for(tried_cut(tried), known_dies(connection), like=tried.limits)
    measurement = measurement_of(connection, part)
    found = measurement.identification
    like = None if found is None or found.status == "no_match" else limits_on_file(found.designation)
    original = cut_of(*with_budget(measurement.document))
    like = None if like is not None and like.internal != original.thread.internal else like
    return dies_for(original, known_dies(connection), hole=hole, like=like, engagement=engagement_mm)


def attempts_of(connection: sqlite3.Connection, part: int, die: int) -> tuple[MeasuredCut, ...]:
    """The measured replacements for a part that one die cut, oldest first."""
    found = rows(connection, _CUTS.format(more="AND r.part_id = ? AND r.cut_by_id = ?"), (part, die))
    return tuple(cut for row in found if (cut := _cut(connection, row)) is not None)


def hole_to_fit(register: Register, part: int) -> MeasuredCut | TriedHole:
    """A hole on file that a screw is cut for. Raises RefusalError: no_part_on_file, not_a_hole, hole_without_trials."""
    found = into_hole(register, part)
    return found if isinstance(found, TriedHole) else measured_cut(found)


def into_hole(register: Register, part: int) -> Reference | TriedHole:
    """A hole on file that screws go into. Raises RefusalError as ``hole_to_fit``."""
    from records.holes import hole_on_file

    try:
        return hole_on_file(register, part)
    except (HoleError, UnknownDesignationError) as error:
        raise RefusalError(*error.reasons) from error


def fit_on_file(
    connection: sqlite3.Connection, part: int, die: int, target: MeasuredCut | Limits | TriedHole | None = None
) -> CutToFit | None:
    """Where the attempts stand that a die made at the replacement of a part, against it or against ``target``.

    None where the part was not measured or is a hole, and where an attempt is another thread.
    """
    part_measured = read_part(connection, part).measurement
    if part_measured is None:
        return None
    original = cut_of(*with_budget(part_measured.document))
    if original.thread.internal:
        return None
    try:
        return fit(target or original, attempts_of(connection, part, die), name=f"part {part}")
    except CuttingError:
        return None


def file_die(
    writing: Writing, name: str, *, kind: str, cuts: str | None, remark: str | None, create: bool = False
) -> tuple[int, int]:
    """File a die or tap; replacements on file whose words name it become its cuts. Returns its id and how many.

    Raises RefusalError: name_taken; name_alike, unless ``create``.
    """
    name = name.strip()
    if die_called(writing.connection, name) is not None:
        raise RefusalError("die_on_file", name=name)
    if not create:
        check_new_name(writing.connection, "dies", name)
    die = filing.add_die(writing, name, kind=kind, cuts=cuts, remark=remark)
    named = rows(
        writing.connection,
        "SELECT id FROM replacements WHERE cut_by_id IS NULL AND trim(die) = ? COLLATE NOCASE",
        (name,),
    )
    for row in named:
        correction.correct(writing, "replacements", row["id"], {"cut_by_id": die}, why="it names this die")
    return die, len(named)


def _cut(connection: sqlite3.Connection, row: sqlite3.Row) -> MeasuredCut | None:
    """A measured thread, or a hole that screws were tried in; None where neither says how large it is."""
    if row["document"] is not None:
        return cut_of(*with_budget(json.loads(row["document"])), row["setting"])
    tried = _tried(connection, row["made_part_id"])
    return None if tried is None else tried_cut(tried)


def _tried(connection: sqlite3.Connection, part: int) -> TriedHole | None:
    """A hole on file by its trials; None where no screw went in yet, and where they cannot be."""
    from records.holes import judge_filed_hole

    try:
        found = judge_filed_hole(connection, part)
    except (HoleError, UnknownDesignationError):
        return None
    return None if found is None else found.as_tried


def _of_its_kind(die: FiledDie, cuts: Sequence[MeasuredCut]) -> list[MeasuredCut]:
    """Screws that a die cut, holes that a tap cut."""
    return [one for one in cuts if one.thread.internal == (die.kind == "tap")]
