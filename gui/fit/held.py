"""What lies in the slots of Fit, and the answers that follow: the same calls that the command line makes."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from threads.check import Check, CheckError, check
from threads.check_part import check_against_part
from threads.closer_die import advice as advice_on_die
from threads.compare import Common, CompareError, Comparison, compare
from threads.designation import UnknownDesignationError, parse
from threads.die_advice import advice as advice_on_check
from threads.drawn_thread import NoZoneError
from threads.limits import Limits, limits_of
from threads.mating_class import mating_screw
from threads.measured import MeasuredThread
from threads.micrometer import Joined, join_over_wires
from threads.play import Play, PlayError, Reading, play
from threads.quantity import Quantity
from threads.wires import WireError
from vision.refusal import RefusalError
from vision.together import common_part

if TYPE_CHECKING:
    from gui.piece import Piece
    from records.filed_part import FiledPart
    from vision.folded import Folded
    from vision.measurement import Measurement

DRAWS, DRAWS_MEANWHILE = 10_000, 1_500
"""Draws for an answer, and while a slider is being dragged."""
SEED = 1


@dataclass(frozen=True, eq=False)
class Held:
    """A part in a slot: from a picture (``measurement``, ``folded``) or from the register (``like`` its class)."""

    name: str
    thread: MeasuredThread
    end_seen: bool
    measurement: Measurement | None = None
    folded: Folded | None = None
    like: Limits | None = None
    path: str = ""


def held_piece(piece: Piece | None) -> Held | None:
    """``piece`` as a slot holds it; None where it was not measured."""
    if piece is None or piece.measurement is None:
        return None
    seen = piece.measurement.part.free_end != "not in view"
    return Held(piece.name, piece.measurement.thread, seen, piece.measurement, piece.folded, path=piece.path)


def held_filed(part: FiledPart) -> Held:
    """A part on file as a slot holds it."""
    return Held(part.name, part.thread, part.end_seen, like=part.like)


def class_limits(text: str, *, internal: bool = False) -> Limits:
    """The limits of the class that was typed. Raises RefusalError for none that is known."""
    try:
        return limits_of(parse(text, internal=internal))
    except UnknownDesignationError as error:
        raise RefusalError("unknown_designation", str(error)) from error


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
    hole: str | Held,
    original: Held | None,
    engagement_mm: float,
    overhang_mm: float,
    draws: int = DRAWS,
) -> Play:
    """Put a screw into a hole, a class that was typed or a measured one, the original beside it.

    Raises RefusalError for what cannot be put together.
    """
    by_class = class_limits(hole, internal=True) if isinstance(hole, str) else None
    yardstick = None
    if by_class is not None and original is None:
        assert isinstance(hole, str)
        mate = mating_screw(parse(hole, internal=True))
        yardstick = None if mate is None else limits_of(mate)
    in_hole = by_class if by_class is not None else _reading(screw, hole if isinstance(hole, Held) else None)[1]
    assert in_hole is not None
    try:
        return play(
            _reading(screw, original)[0],
            in_hole,
            engagement_mm=engagement_mm,
            overhang_mm=overhang_mm,
            original=_reading(screw, original)[1],
            yardstick=yardstick,
            draws=draws,
            seed=SEED,
        )
    except (PlayError, NoZoneError) as error:
        raise RefusalError("cannot_be_put_together", str(error)) from error


def _common(one: Held, two: Held) -> Common | None:
    if one.measurement is None or two.measurement is None:
        return None
    return common_part(one.measurement, two.measurement)


def _reading(screw: Held, other: Held | None) -> tuple[Reading, Reading | None]:
    """Both as readings, with what their pictures have in common."""
    common = None if other is None else _common(screw, other)
    first = Reading(screw.thread, None if common is None else common[0])
    return first, None if other is None else Reading(other.thread, None if common is None else common[1])
