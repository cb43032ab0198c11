"""Tapped holes on file: a hole is a part, its trials are screws on file or measured ones that are not."""

from __future__ import annotations

import json
import sqlite3
from collections.abc import Mapping
from typing import TYPE_CHECKING, Any

from flankwise.holes import HoleAnswer, judged_hole
from records import filing
from records.connection import rows
from records.documenting import Place, part_at_place
from records.entries import FiledHole, FiledTrial, Part
from records.filed_part import filed_hole, part_words
from records.measured_common import with_common
from records.reading import measurement_of, read_part
from records.register import Register, Writing
from threads.hole.classes import HoleThread, hole_thread
from threads.hole.trial import MOVED, Trial, TriedScrew, check_hole, check_trial
from threads.shared.quantity import COVERAGE_FACTOR, Quantity
from threads.shared.refusal import RefusalError

if TYPE_CHECKING:
    from flankwise.reference import Reference
    from threads.workshop.drawn_thread import TriedHole

MOST_AT_HAND = 40
"""So many screws on file are looked at when the next trial is advised."""
_NEAR_PITCH = 0.004


def file_hole(
    register: Register,
    place: Place,
    thread: str,
    *,
    engagement: float,
    depth: float | None = None,
    who: str | None = None,
) -> tuple[int, tuple[str, ...]]:
    """File a hole where ``place`` says, as a new part or as that part; its number, and the names that are new.

    Raises as ``add_hole`` and ``documenting.document_measured``; nothing is filed then.
    """
    with register.writing(who) as writing:
        part, _, made = part_at_place(writing, place)
        add_hole(writing, part, thread, engagement=engagement, depth=depth)
    return part, made


def add_hole(writing: Writing, part: int, thread: str, *, engagement: float, depth: float | None = None) -> HoleThread:
    """Say that ``part`` is a tapped hole of ``thread``; lengths in mm.

    Raises UnknownDesignationError, HoleError (lengths that no hole has), RefusalError: a part that is one already, or a
    measured screw.
    """
    of = hole_thread(thread)
    check_hole(of, engagement, depth)
    there = read_part(writing.connection, part)
    if there.hole is not None:
        raise RefusalError("hole_on_file_already", part=part)
    if there.measurement is not None and not there.measurement.thread.internal:
        raise RefusalError("part_is_a_screw", part=part)
    filing.add_hole(writing, part, of.name, engagement=engagement, depth=depth)
    return of


def add_trial(
    writing: Writing,
    number: int,
    trial: Trial,
    *,
    screw: int | None = None,
    document: Mapping[str, Any] | None = None,
    remark: str | None = None,
    tried: str | None = None,
) -> int:
    """File a trial in the hole ``number``: of the part ``screw``, or of a measured screw by its ``document``.

    Raises RefusalError (not_a_tried_hole, no_part_on_file), HoleError: what cannot be a trial in this hole.
    """
    hole = hole_of(read_part(writing.connection, number))
    check_trial(hole_thread(hole.thread), trial, hole.engagement)
    movement = trial.movement
    return filing.add_trial(
        writing,
        hole.id,
        outcome=trial.outcome,
        screw=screw,
        name=None if screw is not None else trial.screw.name,
        document=None if screw is not None else document,
        turns=trial.turns,
        movement=None if movement is None else movement.value,
        movement_u95=None if movement is None else movement.u95,
        overhang=None if movement is None else trial.overhang,
        remark=remark,
        tried=tried,
    )


def hole_of(part: Part) -> FiledHole:
    """What makes a part a hole. Raises RefusalError (not_a_tried_hole)."""
    if part.hole is None:
        raise RefusalError("not_a_tried_hole", part=part.id)
    return part.hole


def judge_filed_hole(connection: sqlite3.Connection, number: int) -> HoleAnswer | None:
    """The hole on file by its trials that were not withdrawn; None where no screw has gone in yet.

    Raises RefusalError: no_part_on_file, not_a_tried_hole; HoleError: trials that cannot be (another thread since).
    """
    hole = hole_of(read_part(connection, number))
    trials = trials_of(connection, hole)
    thread = hole_thread(hole.thread)
    if not any(one.outcome in ("went_in", MOVED) for one in trials):
        return None
    return judged_hole(
        thread,
        trials,
        engagement=hole.engagement,
        depth=hole.depth,
        at_hand=screws_at_hand(connection, thread),
    )


def filed_tried_hole(register: Register, number: int) -> TriedHole:
    """A hole on file to put screws into. Raises RefusalError (hole_without_trials) too, where no screw went in yet."""
    with register.reading() as connection:
        found = judge_filed_hole(connection, number)
        part = read_part(connection, number)
    if found is None:
        raise RefusalError("hole_without_trials", part=number)
    from dataclasses import replace

    return replace(found.as_tried, name=part_words(part))


def hole_on_file(register: Register, number: int) -> Reference | TriedHole:
    """A hole on file: as measured from its cast, else by its trials.

    Raises RefusalError: no_part_on_file, hole_without_trials, and what ``filed_part.filed_hole`` raises.
    """
    with register.reading() as connection:
        part = read_part(connection, number)
    if part.hole is not None and part.measurement is None:
        return filed_tried_hole(register, number)
    return filed_hole(register, number)


def trials_of(connection: sqlite3.Connection, hole: FiledHole) -> list[Trial]:
    """The trials that count, oldest first. A screw that was withdrawn or is not measured is left out."""
    found = []
    for one in hole.trials:
        if one.withdrawn:
            continue
        screw = _screw_of_trial(connection, one)
        if screw is None:
            continue
        movement = None
        if one.movement is not None and one.movement_u95 is not None:
            movement = Quantity(one.movement, one.movement_u95 / COVERAGE_FACTOR, "mm")
        found.append(Trial(screw, one.outcome, one.turns, movement, one.overhang or 0.0))
    return found


def filed_screw(connection: sqlite3.Connection, number: int) -> TriedScrew:
    """A measured screw on file as one that is tried. Raises RefusalError: no_part_on_file, not_measured."""
    measurement = measurement_of(connection, number)
    return screw_of_document(part_words(read_part(connection, number)), measurement.document)


def screw_of_document(name: str, document: Mapping[str, Any]) -> TriedScrew:
    """A screw as its measurement has it, with what it shares with others of its bench.

    It is told from others by its picture and its size: tried before it was filed, it is still the same.
    """
    thread, common = with_common(document)
    key = (document.get("picture", {}).get("sha256"), round(thread.pitch_diameter.value, 6))
    return TriedScrew(key, name, thread, common)


def screws_at_hand(connection: sqlite3.Connection, thread: HoleThread) -> list[TriedScrew]:
    """Measured screws on file of this thread that could be tried, those nearest to the middle of its classes first."""
    low, high = thread.reach
    found = rows(
        connection,
        "SELECT p.id FROM parts p JOIN current c ON c.part_id = p.id JOIN measurements m ON m.id = c.measurement_id "
        "WHERE p.withdrawn = 0 AND m.internal = 0 AND m.pitch BETWEEN ? AND ? AND m.pitch_diameter BETWEEN ? AND ? "
        "ORDER BY abs(m.pitch_diameter - ?) LIMIT ?",
        (
            thread.pitch * (1 - _NEAR_PITCH), thread.pitch * (1 + _NEAR_PITCH), low, high, (low + high) / 2,
            MOST_AT_HAND,
        ),
    )  # fmt: skip
    return [filed_screw(connection, row["id"]) for row in found]


def _screw_of_trial(connection: sqlite3.Connection, trial: FiledTrial) -> TriedScrew | None:
    if trial.screw is None:
        return screw_of_document(trial.name or "a screw", json.loads(trial.text or "{}"))
    part = read_part(connection, trial.screw)
    return None if part.withdrawn or part.measurement is None else filed_screw(connection, trial.screw)
