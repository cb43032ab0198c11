"""What lies in the slots of Fit, and the answers that follow: the same calls that the command line makes."""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import TYPE_CHECKING, Any

from flankwise.judging import Checked, Compared, check, compare
from flankwise.playing import play
from flankwise.reference import Reference
from gui.fit.trials import Tried, TriedNow, read_tried
from threads.judge.check import CheckError
from threads.judge.compare import CompareError
from threads.judge.wires import WireError
from threads.measured.thread import MeasuredThread
from threads.shared.quantity import Quantity
from threads.shared.refusal import Reason, RefusalError
from threads.shared.typed import TypedError, apart_from_u95
from threads.standards.designation import UnknownDesignationError, parse
from threads.standards.limits import Limits, limits_of
from threads.workshop.drawn_thread import NoZoneError, TriedHole
from threads.workshop.mating_class import mating_screw
from threads.workshop.play import PlayError
from threads.workshop.predicted_play import Play
from vision.several.impression import as_hole, typed_shrinkage

if TYPE_CHECKING:
    from gui.levels import Bytes
    from gui.piece import Piece
    from records.register import Register
    from vision.result.folded import Folded
    from vision.result.measurement import Measurement

DRAWS, DRAWS_MEANWHILE = 10_000, 1_500
"""Draws for an answer, and while a slider is being dragged."""
SEED = 1


@dataclass(frozen=True, eq=False)
class Held:
    """A part in a slot: from a picture (``measurement``, ``folded``) or from the register (``like`` its class too).

    ``seen``: its picture for the slot, as levels of grey or as the bytes of a JPEG.
    ``filed``: its number, where it is on file.
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
    filed: int | None = None

    @property
    def tried_now(self) -> TriedNow:
        """As it is tried in a hole."""
        return TriedNow(self.name, self.thread, self.filed, self.measurement)

    @property
    def reference(self) -> Reference:
        """As others are held against it."""
        return Reference(self.name, self.thread, self.end_seen, self.like, self.measurement)


@dataclass(frozen=True)
class OfClass:
    """A hole that is known by its class only."""

    text: str
    limits: Limits


Hole = Held | OfClass | Tried


def held_piece(piece: Piece | None) -> Held | None:
    """``piece`` as a slot holds it; None where it was not measured."""
    if piece is None or piece.measurement is None:
        return None
    seen = piece.measurement.part.free_end != "not in view"
    return Held(
        piece.name,
        piece.measurement.thread,
        seen,
        piece.measurement,
        piece.folded,
        path=piece.path,
        seen=piece.small,
        filed=piece.filed,
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
        raise RefusalError(*error.reasons) from error
    hole = as_hole(cast, known)
    return replace(held, thread=hole.thread, measurement=hole, folded=None, cast=(cast, shrinkage))


def read_filed(register: Register, number: int, *, hole: bool) -> Held | Tried:
    """A part on file with its picture, measured once more from it; ``hole``: it must be a hole. Raises RefusalError.

    A hole in which screws are tried, and of which there is no cast, comes with what its trials say.

    What is on file holds the numbers only: without the measurement there is no curve, and what two pictures of one
    bench have in common does not fall out of their difference.
    """
    from records.filed_part import filed_again, filed_hole, filed_part
    from records.overview import thumbnails
    from records.reading import read_part
    from vision.result.folded import fold

    with register.reading() as connection:
        there = read_part(connection, number)
    if there.hole is not None and there.measurement is None:
        return read_tried(str(register.path), number)
    part = (filed_hole if hole else filed_part)(register, number)
    seen = thumbnails(register, [number]).get(number)
    held = Held(part.name, part.thread, part.end_seen, like=part.like, seen=seen, filed=number)
    found = filed_again(register, number)
    if found is None:
        return held
    return replace(held, thread=found.thread, measurement=found, folded=fold(found))


def class_limits(text: str, *, internal: bool = False) -> Limits:
    """The limits of the class that was typed. Raises RefusalError for none that is known."""
    try:
        return limits_of(parse(text, internal=internal))
    except UnknownDesignationError as error:
        raise RefusalError(*error.reasons) from error


def hole_of_class(text: str) -> OfClass:
    """The hole of the class that was typed. Raises RefusalError."""
    limits = class_limits(text, internal=True)
    return OfClass(limits.designation, limits)


def checked(held: Held, against: str | Held, wires: tuple[Quantity, Quantity] | None = None) -> Checked:
    """Hold a part against a class that was typed, or against another part.

    ``wires``: the reading over three wires and their diameter. Raises RefusalError for what cannot be held together.
    """
    given = {} if wires is None else _as_given(*wires)
    try:
        if isinstance(against, str):
            return check(held.reference, class_limits(against, internal=held.thread.internal), **given)
        return check(held.reference, against.reference, **given)
    except (CheckError, CompareError, WireError) as error:
        raise RefusalError(*error.reasons) from error


def _as_given(reading: Quantity, wire: Quantity) -> dict[str, Any]:
    each = {"over_wires": reading, "wire": wire}
    return {name: q.value for name, q in each.items()} | {f"{name}_u95": q.u95 for name, q in each.items()}


def compared(original: Held, replacement: Held) -> Compared:
    """Compare two parts. Raises RefusalError for a screw and a hole."""
    try:
        return compare(original.reference, replacement.reference)
    except CompareError as error:
        raise RefusalError(*error.reasons) from error


def played(
    screw: Held,
    hole: Hole,
    original: Held | None,
    engagement_mm: float,
    overhang_mm: float,
    draws: int = DRAWS,
) -> Play:
    """Put a screw into a hole, that of a class, a measured or a tried one, the original beside it.

    Raises RefusalError for what cannot be put together.
    """
    try:
        return play(
            screw.reference,
            _as_hole(hole),
            engagement_mm,
            overhang=overhang_mm or None,
            original=None if original is None else original.reference,
            draws=draws,
            seed=SEED,
        ).found
    except (PlayError, NoZoneError) as error:
        raise RefusalError(*error.reasons) from error


def _as_hole(hole: Hole) -> Limits | Reference | TriedHole:
    if isinstance(hole, OfClass):
        return hole.limits
    if isinstance(hole, Held):
        return hole.reference
    if hole.answer is None:
        raise RefusalError("hole_without_trials", part=hole.number)
    return replace(hole.answer.as_tried, name=hole.text)


@dataclass(frozen=True)
class Felt:
    """How a screw will feel in a hole, and what to do at the die."""

    found: Play
    advice: tuple[Reason, ...]


def felt(
    screw: Held,
    hole: Hole,
    original: Held | None,
    engagement_mm: float,
    overhang_mm: float,
    draws: int = DRAWS,
) -> Felt:
    """As ``played``, with the advice towards the original, or else towards the class that goes with the hole."""
    found = played(screw, hole, original, engagement_mm, overhang_mm, draws)
    try:
        if original is not None:
            return Felt(found, compared(original, screw).advised)
        mate = mating_screw(parse(hole.text, internal=True)) if isinstance(hole, OfClass) else None
        name = None if mate is None else mate.text
        if isinstance(hole, Tried) and hole.answer is not None:
            name = hole.answer.found.to_make.mate
        return Felt(found, () if name is None else checked(screw, name).advised)
    except RefusalError:
        return Felt(found, ())  # another size altogether: no setting of this die helps
