"""Which of the workshop's dies comes nearest to an original, by what each has cut.

The next cut of each die is predicted (``learnt``) and held against the original: by its pitch diameter, by the limits
of a class, and in a hole, where ``play`` draws both screws and puts them in. A tap is known by the holes it cut, and
held against a hole.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from typing import Any

import numpy as np

from threads.cutting.learnt import Cut, Estimate, LearntDie, Observed, learn
from threads.cutting.setting import Setting, setting_of, way_in_words
from threads.cutting.to_fit import GOOD_WITHIN_MM, way_to
from threads.identify.screw_evidence import CommonErrors
from threads.judge.pairing import SAME_ANGLE_DEG, SAME_PITCH
from threads.measured.thread import Covariance, MeasuredThread
from threads.measured.virtual_pitch_diameter import usual_engagement
from threads.shared.normal import ndtr
from threads.shared.quantity import Quantity
from threads.shared.refusal import Reason
from threads.standards.limits import Limits
from threads.workshop.drawn_thread import NAMES, NoZoneError, drawn_screw
from threads.workshop.play import Hole, PlayError, Reading, play

DIE, TAP = "die", "tap"
DRAWS = 3_000
FEELS_ALIKE, FEELS_ALIKE_MM = 0.25, 0.003
"""Two screws feel alike whose radial clearances differ by less than that part of the original's, or by less than that
(common practice, no source: half as loose again is felt, a quarter is not)."""
OUT_OF_REACH_MM = 0.15
"""A difference of pitch diameter beyond which it is a die for another size (as in ``workshop.closer_die``)."""


@dataclass(frozen=True)
class MeasuredCut:
    """A thread that was cut, or an original.

    ``setting``: of the die, as somebody wrote it; ``surface`` as in ``Observed``.
    """

    thread: MeasuredThread
    common: CommonErrors | None = None
    setting: str | None = None
    surface: float = 0.0

    @property
    def observed(self) -> Observed:
        return Observed(self.thread.pitch_diameter, self.common, self.surface)

    @property
    def added(self) -> float:
        """What errors of pitch and flank angle add to its pitch diameter (take from that of a hole), mm."""
        return abs(self.thread.virtual_pitch_diameter.value - self.thread.pitch_diameter.value)

    @property
    def cut(self) -> Cut:
        return Cut(self.observed, setting_of(self.setting))


@dataclass(frozen=True)
class KnownDie:
    """A die or tap (``kind``) of the workshop with what it cut, oldest first. ``number``: whatever tells it apart."""

    number: int
    name: str
    kind: str
    says: str | None
    cuts: tuple[MeasuredCut, ...]


@dataclass(frozen=True)
class DieState:
    """What a die cuts; ``learnt`` None and ``next_cut`` None before it has cut a measured thread."""

    die: KnownDie
    learnt: LearntDie | None

    @property
    def next_cut(self) -> Quantity | None:
        """The pitch diameter of its next thread as it is set, mm."""
        if self.learnt is None:
            return None
        return self.learnt.next_cut().quantity(self.die.cuts[-1].thread.pitch_diameter.one_sided)

    @property
    def last_setting(self) -> Setting | None:
        """As of its latest cut where it is a number."""
        known = self.learnt
        return None if known is None or known.last_setting is None else Setting(known.last_setting, known.unit)

    def to_dict(self) -> dict[str, Any]:
        """The plain form used in JSON."""
        known = self.learnt
        numbers: dict[str, Quantity | None] = {"pitch_diameter": self.next_cut}
        numbers["spread"] = None if known is None else known.scatter.quantity()
        numbers["trend"] = None if known is None else known.wear.quantity()
        numbers["per_turn"] = known.per_setting.quantity() if known is not None and turned_surely(known) else None
        return {
            "die": self.die.name,
            "kind": self.die.kind,
            "cuts": self.die.says,
            "cut": len(self.die.cuts),
            **{name: None if one is None else one.to_dict() for name, one in numbers.items()},
            "setting": self.die.cuts[-1].setting if self.die.cuts else None,
        }


@dataclass(frozen=True)
class DieChoice:
    """A die held against an original.

    Attributes:
        state: what it cuts.
        difference: of its next cut to the original, mm; None where it cuts another thread, or nothing yet.
        enters: probability that its next screw enters the hole; ``conforms``: to the class; ``feels``: that it is in
            the hole as the original is. None where there is no hole, no class.
        note: what to know, or to do at the die.
    """

    state: DieState
    difference: Quantity | None
    enters: float | None
    conforms: float | None
    feels: float | None
    note: Reason

    def to_dict(self) -> dict[str, Any]:
        """The plain form used in JSON; ``note`` is worded by whoever writes it."""
        difference = None if self.difference is None else self.difference.to_dict()
        shares = {"enters": self.enters, "conforms": self.conforms, "feels_as_the_original": self.feels}
        return {**self.state.to_dict(), "difference": difference, **shares, "note": self.note}


def turned_surely(die: LearntDie) -> bool:
    """Whether its settings tell how far a turn moves it."""
    return die.tried > 1 and abs(die.per_setting.mean) > 2 * die.per_setting.u


def states_of(dies: Sequence[KnownDie]) -> tuple[DieState, ...]:
    """What each die cuts, in the same order; the usual spread is learned from all of them."""
    learnt = learn({one.number: [cut.cut for cut in one.cuts] for one in dies})
    return tuple(DieState(one, learnt.get(one.number)) for one in dies)


def nearest_dies(
    original: MeasuredCut,
    dies: Sequence[KnownDie],
    *,
    hole: Hole | None = None,
    limits: Limits | None = None,
    mate: Limits | None = None,
    engagement_mm: float | None = None,
) -> tuple[DieChoice, ...]:
    """The dies for a screw, or the taps for a hole, nearest first; those of another thread, or without a cut, last.

    Args:
        original: what is to be made again.
        dies: of the workshop; those of the other kind are left out.
        hole: where its screw goes; for a screw only.
        limits: of the class that it shall keep to.
        mate: of the screws that shall enter; for a hole only.
        engagement_mm: over which screw and hole engage; the usual one if None.
    """
    kind = TAP if original.thread.internal else DIE
    states = [one for one in states_of(dies) if one.die.kind == kind]
    choices = [_choice(original, one, hole, limits, mate, engagement_mm) for one in states]
    return tuple(sorted(choices, key=_off))


def _off(one: DieChoice) -> tuple[int, float]:
    """Expected distance from the original, what is not known of it included."""
    if one.difference is None:
        return (2 if one.state.learnt is None else 1), 0.0
    return 0, one.difference.value**2 + one.difference.standard_uncertainty**2


def _choice(
    original: MeasuredCut,
    state: DieState,
    hole: Hole | None,
    limits: Limits | None,
    mate: Limits | None,
    engagement_mm: float | None,
) -> DieChoice:
    if state.learnt is None:
        return DieChoice(state, None, None, None, None, Reason("die_note.none"))
    last, thread = state.die.cuts[-1], original.thread
    other = other_thread(thread, last.thread)
    sides = last.thread.pitch_diameter.one_sided, thread.pitch_diameter.one_sided
    difference = state.learnt.next_cut(None, original.observed).with_light(*sides).quantity()
    if other is None and abs(difference.value) > OUT_OF_REACH_MM:
        other = Reason("die_note.other_size", by=difference.value)
    if other is not None:
        return DieChoice(state, None, None, None, None, other)
    absolute = state.learnt.next_cut()
    enters, feels = None, None
    if thread.internal:
        enters = None if mate is None else _lets_in(absolute, last, mate)
    elif hole is not None:
        enters, feels = _in_hole(original, last, absolute, hole, engagement_mm)
    conforms = None if limits is None else _conforms(absolute, last, limits)
    return DieChoice(state, difference, enters, conforms, feels, _note(state, difference, original))


def other_thread(original: MeasuredThread, cut: MeasuredThread) -> Reason | None:
    """Why what was cut is no thread as the original, whatever its size; None where it is."""
    hands = {original.hand, cut.hand} - {"not determined"}
    if len(hands) > 1 or original.starts != cut.starts:
        return Reason("die_note.other_hand")
    pitch = other_pitch(original.pitch.value, cut)
    if pitch is not None:
        return pitch
    lean = (cut.included_angle.value - original.included_angle.value) / 2
    return Reason("die_note.other_angle", angle=cut.included_angle.value) if abs(lean) > 2 * SAME_ANGLE_DEG else None


def other_pitch(pitch: float, cut: MeasuredThread) -> Reason | None:
    """Why what was cut has not that pitch, mm; None where it has."""
    return (
        Reason("die_note.other_pitch", pitch=cut.pitch.value) if abs(cut.pitch.value / pitch - 1) > SAME_PITCH else None
    )


def _note(state: DieState, difference: Quantity, original: MeasuredCut) -> Reason:
    known = state.learnt
    assert known is not None
    larger = difference.value > 0
    if abs(difference.value) <= GOOD_WITHIN_MM:
        return Reason("die_note.keep")
    if original.thread.internal:
        return Reason("die_note.tap_wider" if larger else "die_note.tap_narrower", by=difference)
    way = way_to(known, original.observed, 0.0) if turned_surely(known) else None
    side = "close" if larger else "open"
    if way is None:
        return Reason(f"die_note.{side}", by=difference)
    return Reason(f"die_turn.{side}", by=difference, way=way_in_words(way, known.unit))


def _conforms(found: Estimate, cut: MeasuredCut, limits: Limits) -> float | None:
    """Probability that the simple diameter keeps its one limit and the virtual one the other."""
    low, high = limits.pitch_diameter.low, limits.pitch_diameter.high
    if low is None or high is None:
        return None
    found = found.with_light(cut.thread.pitch_diameter.one_sided)
    low, high = (low + cut.added, high) if cut.thread.internal else (low, high - cut.added)
    return found.between(low, high) if high > low else 0.0


def _lets_in(found: Estimate, cut: MeasuredCut, mate: Limits) -> float | None:
    """Probability that a hole of the next cut takes a screw drawn from ``mate``."""
    try:
        screws = drawn_screw(mate, DRAWS, np.random.default_rng(1)).pitch_diameter
    except NoZoneError:
        return None
    room = (found.means[:, None] - cut.added - screws[None, :]) / found.sds[:, None]
    return float(found.shares @ ndtr(room).mean(axis=1))


def _in_hole(
    original: MeasuredCut, last: MeasuredCut, found: Estimate, hole: Hole, engagement_mm: float | None
) -> tuple[float | None, float | None]:
    """Probability that the next screw enters, and that it feels as the original; None where neither can be told."""
    length = usual_engagement(original.thread) if engagement_mm is None else engagement_mm
    shared = last.common is not None and original.common is not None and last.common.bench == original.common.bench
    screw = Reading(_next_thread(last.thread, found), _common(last) if shared else None)
    before = Reading(original.thread, _common(original) if shared else None)
    try:
        felt = play(screw, hole, engagement_mm=length, original=before, draws=DRAWS)
    except (PlayError, NoZoneError):
        return None, None
    assert felt.original is not None
    one, two = felt.screw.clearance, felt.original.feel.clearance
    alike = np.abs(one - two) <= np.maximum(FEELS_ALIKE * two, FEELS_ALIKE_MM)
    return felt.screw.enters, float(np.mean(alike & (one >= 0))) if felt.screw.pair.meshes else 0.0


def _next_thread(thread: MeasuredThread, found: Estimate) -> MeasuredThread:
    """``thread`` with the pitch diameter that comes next; the minor diameter moves with it."""
    step = found.mean - thread.pitch_diameter.value
    matrix = thread.covariance.of(NAMES).copy()
    place = [NAMES.index("pitch_diameter"), NAMES.index("minor_diameter")]
    matrix[np.ix_(place, place)] += max(found.u**2 - matrix[place[0], place[0]], 0.0)
    one, two = thread.pitch_diameter, thread.minor_diameter
    return replace(
        thread,
        pitch_diameter=replace(one, value=one.value + step, standard_uncertainty=found.u),
        minor_diameter=replace(
            two, value=two.value + step, standard_uncertainty=float(np.sqrt(matrix[place[1], place[1]]))
        ),
        virtual_pitch_diameter=replace(thread.virtual_pitch_diameter, value=thread.virtual_pitch_diameter.value + step),
        covariance=Covariance(NAMES, matrix),
    )


def _common(of: MeasuredCut) -> Covariance:
    """The part of its covariance that it shares with its bench, in the order of ``NAMES``."""
    common, thread = of.common, of.thread
    assert common is not None
    lengths = np.array([getattr(thread, name).value if "angle" not in name else 0.0 for name in NAMES])
    across = np.array([1.0 if name.endswith("diameter") else 0.0 for name in NAMES])
    light = np.array(
        [{"pitch_diameter": 1.0, "minor_diameter": 1.0, "major_diameter": 0.25}.get(n, 0.0) for n in NAMES]
    )
    each = (common.scale * lengths, common.offset * across, common.light * light)
    return Covariance(NAMES, np.asarray(sum(np.outer(one, one) for one in each)))
