"""How large a tapped hole is, from the screws that go in, stop, or shake in it."""

from __future__ import annotations

import math
import os
import re
from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING, Any

from flankwise.amounts import Amount, in_mm
from flankwise.part import Part
from flankwise.reasons import sentence
from flankwise.words import CAUTION
from threads.shared.plain_json import plain

if TYPE_CHECKING:
    from threads.hole.classes import HoleThread
    from threads.hole.found_hole import FoundHole
    from threads.hole.movement import MovementFound
    from threads.hole.trial import Trial, TriedScrew
    from threads.shared.quantity import Quantity
    from threads.workshop.drawn_thread import TriedHole


_NOTHING = re.compile(r"0+(?:[.,]0*)?\s*(?:mm|um|µm|in|inch|\")")
_TENTH = 0.1
"""A movement that is a multiple of this many mm is taken as read from a ruler, any other as read with a feeler."""


@dataclass(frozen=True, eq=False, repr=False)
class HoleAnswer:
    """A hole by its trials: ``found.pitch_diameter``, ``found.classes``, ``found.to_make``, ``found.next_trial``."""

    found: FoundHole

    @property
    def as_tried(self) -> TriedHole:
        """The hole, to put screws into: ``flankwise.play(part, answer.as_tried, ...)``."""
        from threads.hole.hole_document import as_tried

        return as_tried(self.found)

    def sentences(self, *, inches: bool = False) -> tuple[str, ...]:
        """What was found, in words."""
        from threads.hole.hole_words import sentences

        return tuple(sentence(one, inches=inches) for one in sentences(self.found))

    def to_dict(self) -> dict[str, Any]:
        """The object of ``flankwise hole --json``."""
        from threads.hole.hole_document import document_of

        return dict(plain({**document_of(self.found), "caution": CAUTION}, sentence))

    def save(self, path: str | os.PathLike[str]) -> None:
        """Write the file that ``flankwise play --hole-tried`` takes. Raises OSError."""
        import json

        from threads.shared.whole_file import write_whole

        write_whole(path, (json.dumps(self.to_dict(), indent=1, ensure_ascii=False, allow_nan=False) + "\n").encode())

    def __str__(self) -> str:
        return "\n".join(self.sentences())

    __repr__ = __str__


@dataclass(frozen=True, eq=False, repr=False)
class ClearanceAnswer:
    """A movement solved for the clearance: ``found.clearance``, ``found.hole``."""

    thread: str
    screw: str
    found: MovementFound

    def to_dict(self) -> dict[str, Any]:
        """The object of ``flankwise play --movement --json``."""
        from threads.hole.hole_document import movement_document
        from threads.hole.hole_words import movement_words

        words = {"sentence": sentence(movement_words(self.found)), "caution": CAUTION}
        return dict(plain({**movement_document(self.found, self.thread, self.screw), **words}, sentence))

    def __str__(self) -> str:
        from threads.hole.hole_words import movement_words

        return sentence(movement_words(self.found))

    __repr__ = __str__


def hole(
    thread: str | HoleThread,
    engagement: Amount,
    *,
    went_in: Sequence[Part | TriedScrew] = (),
    stopped: Sequence[Part | TriedScrew | tuple[Part | TriedScrew, float]] = (),
    moved: Sequence[tuple[Any, ...]] = (),
    depth: Amount | None = None,
    at_hand: Sequence[Part | TriedScrew] = (),
) -> HoleAnswer:
    """How large a tapped hole is.

    Args:
        thread: of the hole, ``"4-40"`` or ``"M2.5"``; a class in it does not matter.
        engagement: over which length full threads engage.
        went_in: screws that went all the way in by hand.
        stopped: screws that did not; each may be a pair with the turns after which it stopped.
        moved: screws that went in and shook: (part, movement, overhang) or (part, movement, overhang, U95), the
            movement from side to side, the overhang from the mouth of the hole to where it was read. Without a U95 the
            movement is taken as read with a ruler (tenths of a millimetre) or a feeler (hundredths).
        depth: of the hole, to be checked against the engagement.
        at_hand: measured screws that could be tried next.

    Raises:
        UnknownDesignationError: a thread that is not known (a ValueError).
        HoleError: what cannot be a trial in this hole (a ValueError).
    """
    from threads.hole.trial import MOVED, STOPPED, WENT_IN, Trial

    trials = [Trial(tried_screw(one), WENT_IN) for one in went_in]
    for stop in stopped:
        screw, turns = stop if isinstance(stop, tuple) else (stop, None)
        trials.append(Trial(tried_screw(screw), STOPPED, None if turns is None else float(turns)))
    for part, movement, overhang, *u95 in moved:
        read, out = movement_of(movement, *u95), length_or_zero(overhang, "overhang")
        trials.append(Trial(tried_screw(part), MOVED, movement=read, overhang=out))
    return judged_hole(
        thread,
        trials,
        engagement=in_mm(engagement, "engagement"),
        depth=None if depth is None else in_mm(depth, "depth"),
        at_hand=[tried_screw(one) for one in at_hand],
    )


def judged_hole(
    thread: str | HoleThread,
    trials: Sequence[Trial],
    *,
    engagement: float,
    depth: float | None = None,
    at_hand: Sequence[TriedScrew] = (),
) -> HoleAnswer:
    """As ``hole``, of trials as they are; lengths in mm."""
    from threads.hole.classes import hole_thread
    from threads.hole.from_trials import hole_from_trials

    of = hole_thread(thread) if isinstance(thread, str) else thread
    return HoleAnswer(hole_from_trials(of, trials, engagement=engagement, depth=depth, at_hand=at_hand))


def clearance(
    part: Part | TriedScrew,
    thread: str | HoleThread,
    movement: Amount,
    overhang: Amount,
    engagement: Amount,
    *,
    movement_u95: Amount | None = None,
) -> ClearanceAnswer:
    """The clearance of a screw in its hole, from how far it moves: ``play`` solved backwards.

    Args:
        part: the screw, as measured.
        thread: of the hole.
        movement: whole travel from side to side.
        overhang: from the mouth of the hole to where it was read.
        engagement: over which length full threads engage.
        movement_u95: of the movement; see ``hole``.

    Raises HoleError, UnknownDesignationError (ValueErrors).
    """
    from threads.hole.classes import hole_thread
    from threads.hole.movement import clearance_of

    of, screw = hole_thread(thread) if isinstance(thread, str) else thread, tried_screw(part)
    read = movement_of(movement, *([] if movement_u95 is None else [movement_u95]))
    over = in_mm(engagement, "engagement")
    return ClearanceAnswer(
        of.name, screw.name, clearance_of(of, screw, read, length_or_zero(overhang, "overhang"), over)
    )


def load_hole(path: str | os.PathLike[str]) -> TriedHole:
    """A hole as ``HoleAnswer.save`` wrote it. Raises Refused (hole_file_unreadable, not_a_hole_file)."""
    from threads.hole.hole_document import tried_hole
    from threads.shared.file_name import plain_name
    from threads.shared.plain_json import strictly_parsed
    from threads.shared.refusal import RefusalError

    name = plain_name(path)
    try:
        content = Path(path).read_bytes()
    except OSError as error:
        raise RefusalError("hole_file_unreadable", name=name, why=error.strerror) from error
    try:
        return tried_hole(strictly_parsed(content), name)
    except (ValueError, RecursionError) as error:
        raise RefusalError("not_a_hole_file", name=name) from error


def tried_screw(part: Part | TriedScrew) -> TriedScrew:
    """A measured screw as one that is tried, with what it shares with others of its bench."""
    if not isinstance(part, Part):
        return part
    from flankwise.judging_instrument import common_errors
    from threads.hole.trial import TriedScrew
    from threads.shared.file_name import plain_name

    measurement = part.measurement
    terms = {quantity: [(t.source, t.u) for t in lines] for quantity, lines in measurement.budget.items()}
    common = common_errors(terms, part.thread, measurement.plane.id)
    key = (part.path, round(part.thread.pitch_diameter.value, 6))
    return TriedScrew(key, plain_name(measurement.picture.path), part.thread, common)


def movement_of(movement: Amount, u95: Amount | None = None) -> Quantity:
    """A movement from side to side with its U95, mm; see ``hole`` for what is taken where none is given."""
    from threads.hole.trial import FEELER, READ_WITH, RULER
    from threads.shared.quantity import COVERAGE_FACTOR, Quantity

    read = length_or_zero(movement, "movement")
    if u95 is None:
        tenths = math.isclose(read / _TENTH, round(read / _TENTH), abs_tol=1e-6)
        return Quantity(read, READ_WITH[RULER if tenths else FEELER] / COVERAGE_FACTOR, "mm")
    return Quantity(read, in_mm(u95, "U95 of the movement") / COVERAGE_FACTOR, "mm")


def length_or_zero(length: Amount, what: str) -> float:
    """``length`` in mm, which may be none: an overhang at the mouth of the hole, a screw that does not shake."""
    return (
        0.0 if length == 0 or (isinstance(length, str) and _NOTHING.fullmatch(length.strip())) else in_mm(length, what)
    )
