"""How loose a screw will feel in a tapped hole."""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import TYPE_CHECKING, Any

from flankwise.amounts import Amount, in_mm
from flankwise.judging import limits_named
from flankwise.part import Part
from flankwise.reasons import sentence
from flankwise.reference import Reference, reference_of
from flankwise.words import CAUTION
from threads.shared.plain_json import plain

if TYPE_CHECKING:
    from flankwise.holes import HoleAnswer
    from threads.standards.limits import Limits
    from threads.workshop.drawn_thread import TriedHole
    from threads.workshop.play import Hole, Reading
    from threads.workshop.predicted_play import Play


@dataclass(frozen=True, eq=False, repr=False)
class Played:
    """The predicted play: ``found.screw.radial_clearance``, ``found.screw.enters``.

    ``hole`` is the part where it was measured, or the hole that was tried; ``limits`` are those of the classes that
    were named; ``original`` is the screw that was there before.
    """

    screw: Part | Reference
    found: Play
    hole: Part | Reference | TriedHole | None = None
    original: Part | Reference | None = None
    limits: tuple[Limits, ...] = ()

    def to_dict(self) -> dict[str, Any]:
        """The object of ``flankwise play --json``."""
        from threads.workshop.play_words import sentences, verdict

        document = {
            **self.found.to_dict(CAUTION),
            "verdict": verdict(self.found.screw).replace(" ", "_"),
            "sentences": sentences(self.found),
            "measurement": _document(self.screw),
            "original_measurement": _document(self.original),
            "hole_part": None if self.hole is None or isinstance(self.hole, Part) else self.hole.name,
            "hole_measurement": _document(self.hole),
        }
        return dict(plain(document, sentence))

    def __str__(self) -> str:
        from threads.workshop.play_words import sentences

        return "\n".join((*map(sentence, sentences(self.found)), CAUTION))

    __repr__ = __str__


def play(
    part: Part | Reference,
    hole: str | Limits | Part | Reference | TriedHole | HoleAnswer,
    engagement: Amount,
    *,
    overhang: Amount | None = None,
    original: Part | Reference | None = None,
    original_class: str | Limits | None = None,
    draws: int = 10_000,
    seed: int = 1,
) -> Played:
    """Predict the play of a screw in a tapped hole.

    Args:
        part: the screw, as measured.
        hole: its class, such as ``"4-40 NC-2"``, the hole as measured from a cast, or as found from trials
            (``flankwise.hole``, ``load_hole``).
        engagement: over which length full threads engage.
        overhang: from the mouth of the hole to the end that is felt.
        original: the screw that was there before.
        original_class: what it was when it was new.
        draws: how many pairs are drawn.
        seed: of the draws; the same seed gives the same result.

    Returns:
        The play. Where neither original nor its class was said, a screw of the class that goes with the hole stands
        beside it.

    Raises ValueError for what cannot be put together.
    """
    from threads.standards.designation import parse
    from threads.standards.limits import Limits, limits_of
    from threads.workshop.drawn_thread import TriedHole
    from threads.workshop.mating_class import mating_screw
    from threads.workshop.play import play as played

    zone = limits_named(hole, internal=True) if isinstance(hole, str) else hole
    if not isinstance(zone, Limits | Part | Reference | TriedHole):
        zone = zone.as_tried
    known = zone.limits if isinstance(zone, TriedHole) else zone
    when_new = limits_named(original_class, internal=False) if isinstance(original_class, str) else original_class
    yardstick = None
    if isinstance(known, Limits) and original is None and when_new is None:
        mate = mating_screw(parse(known.designation, internal=True))
        yardstick = None if mate is None else limits_of(mate)
    measured = None if isinstance(zone, Limits) else zone
    of_screw, before, in_hole = _readings(part, original, None if isinstance(measured, TriedHole) else measured)
    held: Hole | None = zone if isinstance(zone, Limits) else in_hole
    if isinstance(zone, TriedHole):
        held, of_screw = _beside_its_trials(zone, part, of_screw)
    assert held is not None
    found = played(
        of_screw,
        held,
        engagement_mm=in_mm(engagement, "engagement"),
        overhang_mm=in_mm(overhang, "overhang") if overhang else 0.0,
        original=before,
        original_class=when_new,
        yardstick=yardstick,
        draws=draws,
        seed=seed,
    )
    named = (zone if isinstance(zone, Limits) else None, when_new, yardstick)
    return Played(part, found, measured, original, tuple(limits for limits in named if limits))


def _readings(
    screw: Part | Reference, *others: Part | Reference | None
) -> tuple[Reading, Reading | None, Reading | None]:
    """The screw, the original and the hole, each with what pictures of one bench have in common."""
    from threads.workshop.play import Reading
    from vision.several.together import readings

    there = [None if other is None else reference_of(other) for other in others]
    of, at_hand = reference_of(screw), [one.measurement for one in there if one and one.measurement]
    of_screw, *shared = (Reading(of.thread),) if of.measurement is None else readings(of.measurement, *at_hand)
    left = iter(shared)
    original, hole = (
        None if one is None else next(left) if one.measurement and shared else Reading(one.thread) for one in there
    )
    return of_screw, original, hole


def _beside_its_trials(hole: TriedHole, part: Part | Reference, screw: Reading) -> tuple[TriedHole, Reading]:
    """The hole and the screw: of one bench, errors of that bench move both alike."""
    from threads.workshop.play import Reading

    measurement = reference_of(part).measurement
    if measurement is None or measurement.plane.id != hole.bench:
        return replace(hole, follows=0.0), screw
    return hole, Reading(screw.thread, measurement.common_covariance)


def _document(part: Part | Reference | TriedHole | None) -> dict[str, Any] | None:
    return part.to_dict() if isinstance(part, Part) else None
