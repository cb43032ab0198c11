"""What lies in the slots of Fit, and the answers that follow: the same calls that the command line makes."""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

from threads.judge.check import Check, CheckError, check
from threads.judge.check_part import check_against_part
from threads.judge.compare import Common, CompareError, Comparison, compare
from threads.judge.die_advice import advice as advice_on_check
from threads.judge.micrometer import Joined, join_over_wires
from threads.judge.wires import WireError
from threads.measured.thread import MeasuredThread
from threads.shared.quantity import Quantity
from threads.shared.refusal import RefusalError
from threads.shared.typed import TypedError, apart_from_u95
from threads.standards.designation import UnknownDesignationError, parse
from threads.standards.limits import Limits, limits_of
from threads.workshop.closer_die import advice as advice_on_die
from threads.workshop.drawn_thread import NoZoneError
from threads.workshop.mating_class import mating_screw
from threads.workshop.play import Play, PlayError, Reading, play
from vision.several.impression import as_hole, typed_shrinkage
from vision.several.together import common_part, readings

if TYPE_CHECKING:
    from gui.levels import Bytes
    from gui.piece import Piece
    from records.filed_part import FiledPart
    from records.register import Register
    from vision.result.folded import Folded
    from vision.result.measurement import Measurement

DRAWS, DRAWS_MEANWHILE = 10_000, 1_500
"""Draws for an answer, and while a slider is being dragged."""
SEED = 1


@dataclass(frozen=True, eq=False)
class Held:
    """A part in a slot: from a picture (``measurement``, ``folded``) or from the register (``like`` its class).

    ``seen``: its picture for the slot, as levels of grey or as the bytes of a JPEG.
    ``cast``: the picture that ``measurement``, of a hole, was made from, and the shrinkage as it was typed.
    """

    name: str
    thread: MeasuredThread
    end_seen: bool
    measurement: Measurement | None = None
    folded: Folded | None = None
    like: Limits | None = None
    path: str = ""
    seen: Bytes | bytes | None = None
    cast: tuple[Measurement, str] | None = None


@dataclass(frozen=True)
class OfClass:
    """A hole that is known by its class only."""

    text: str
    limits: Limits


Hole = Held | OfClass


def held_piece(piece: Piece | None) -> Held | None:
    """``piece`` as a slot holds it; None where it was not measured."""
    if piece is None or piece.measurement is None:
        return None
    seen = piece.measurement.part.free_end != "not in view"
    return Held(
        piece.name, piece.measurement.thread, seen, piece.measurement, piece.folded, path=piece.path, seen=piece.small
    )


def held_cast(piece: Piece | None, shrinkage: str = "") -> Held | None:
    """The hole that ``piece`` is a cast of; ``shrinkage`` as it was typed, "" where nobody knows it."""
    held = held_piece(piece)
    return None if held is None or held.measurement is None else _hole_of(held, held.measurement, shrinkage)


def shrunk(held: Held, shrinkage: str) -> Held:
    """The same cast with another shrinkage. Raises RefusalError for what is none."""
    return held if held.cast is None else _hole_of(held, held.cast[0], shrinkage)


def _hole_of(held: Held, cast: Measurement, shrinkage: str) -> Held:
    try:
        known = typed_shrinkage(*apart_from_u95(shrinkage)) if shrinkage else None
    except TypedError as error:
        raise RefusalError("no_shrinkage", str(error)) from error
    hole = as_hole(cast, known)
    return replace(held, thread=hole.thread, measurement=hole, folded=None, cast=(cast, shrinkage))


def held_filed(part: FiledPart, seen: bytes | None = None) -> Held:
    """A part on file as a slot holds it."""
    return Held(part.name, part.thread, part.end_seen, like=part.like, seen=seen)


def read_filed(register: Register, number: int, *, hole: bool) -> Held:
    """A part on file with its picture; ``hole``: it must be a hole. Raises RefusalError."""
    from records.filed_part import filed_hole, filed_part
    from records.overview import thumbnails

    part = (filed_hole if hole else filed_part)(register, number)
    return held_filed(part, thumbnails(register, [number]).get(number))


def class_limits(text: str, *, internal: bool = False) -> Limits:
    """The limits of the class that was typed. Raises RefusalError for none that is known."""
    try:
        return limits_of(parse(text, internal=internal))
    except UnknownDesignationError as error:
        raise RefusalError("unknown_designation", str(error)) from error


def hole_of_class(text: str) -> OfClass:
    """The hole of the class that was typed. Raises RefusalError."""
    limits = class_limits(text, internal=True)
    return OfClass(limits.designation, limits)


@dataclass(frozen=True)
class Checked:
    """The outcome of a check with what to do; ``joined`` where a micrometer reading went in."""

    found: Check
    advice: tuple[str, ...]
    joined: Joined | None = None


def checked(
    held: Held, against: str | Held, wires: tuple[Quantity, Quantity] | None = None, *, inches: bool = False
) -> Checked:
    """Hold a part against a class that was typed, or against another part.

    ``wires``: the reading over three wires and their diameter. Raises RefusalError for what cannot be held together.
    """
    try:
        joined = None if wires is None else join_over_wires(held.thread, *wires)
        thread = held.thread if joined is None else joined.thread
        if isinstance(against, str):
            found = check(thread, class_limits(against, internal=thread.internal))
        else:
            found = check_against_part(
                thread,
                against.thread,
                name=against.name,
                like=against.like,
                ends_known=held.end_seen and against.end_seen,
            )
    except (CheckError, CompareError, WireError) as error:
        raise RefusalError("cannot_be_held_together", str(error)) from error
    return Checked(found, advice_on_check(found, inches=inches), joined)


@dataclass(frozen=True)
class Compared:
    """The differences, replacement less original, with what to do at the die."""

    found: Comparison
    advice: tuple[str, ...]


def compared(original: Held, replacement: Held, *, inches: bool = False) -> Compared:
    """Compare two parts. Raises RefusalError for a screw and a hole."""
    try:
        found = compare(
            original.thread,
            replacement.thread,
            common=_common(original, replacement),
            ends_known=original.end_seen and replacement.end_seen,
        )
    except CompareError as error:
        raise RefusalError("cannot_be_compared", str(error)) from error
    return Compared(found, advice_on_die(found, inches=inches))


def played(
    screw: Held,
    hole: Hole,
    original: Held | None,
    engagement_mm: float,
    overhang_mm: float,
    draws: int = DRAWS,
) -> Play:
    """Put a screw into a hole, that of a class or a measured one, the original beside it.

    Raises RefusalError for what cannot be put together.
    """
    yardstick = None
    if isinstance(hole, OfClass) and original is None:
        mate = mating_screw(parse(hole.text, internal=True))
        yardstick = None if mate is None else limits_of(mate)
    of_screw, before, in_hole = _readings(screw, original, hole if isinstance(hole, Held) else None)
    held_by = hole.limits if isinstance(hole, OfClass) else in_hole
    assert held_by is not None
    try:
        return play(
            of_screw,
            held_by,
            engagement_mm=engagement_mm,
            overhang_mm=overhang_mm,
            original=before,
            yardstick=yardstick,
            draws=draws,
            seed=SEED,
        )
    except (PlayError, NoZoneError) as error:
        raise RefusalError("cannot_be_put_together", str(error)) from error


@dataclass(frozen=True)
class Felt:
    """How a screw will feel in a hole, and what to do at the die."""

    found: Play
    advice: tuple[str, ...]


def felt(
    screw: Held,
    hole: Hole,
    original: Held | None,
    engagement_mm: float,
    overhang_mm: float,
    draws: int = DRAWS,
    *,
    inches: bool = False,
) -> Felt:
    """As ``played``, with the advice towards the original, or else towards the class that goes with the hole."""
    found = played(screw, hole, original, engagement_mm, overhang_mm, draws)
    try:
        if original is not None:
            return Felt(found, compared(original, screw, inches=inches).advice)
        mate = mating_screw(parse(hole.text, internal=True)) if isinstance(hole, OfClass) else None
        return Felt(found, () if mate is None else checked(screw, mate.text, inches=inches).advice)
    except RefusalError:
        return Felt(found, ())  # another size altogether: no setting of this die helps


def _common(one: Held, two: Held) -> Common | None:
    if one.measurement is None or two.measurement is None:
        return None
    return common_part(one.measurement, two.measurement)


def _readings(screw: Held, *others: Held | None) -> tuple[Reading, Reading | None, Reading | None]:
    """The screw, the original and the hole as readings, with what pictures of one bench have in common."""
    pictured = [other.measurement for other in others if other is not None and other.measurement is not None]
    of_screw, *shared = (
        (Reading(screw.thread),) if screw.measurement is None else readings(screw.measurement, *pictured)
    )
    there = iter(shared)
    found: list[Reading | None] = []
    for other in others:
        if other is None:
            found.append(None)
        elif other.measurement is None or screw.measurement is None:
            found.append(Reading(other.thread))
        else:
            found.append(next(there))
    return of_screw, found[0], found[1]
