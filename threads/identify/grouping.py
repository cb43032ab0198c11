"""Groups of candidates that a measurement cannot separate, with what would separate them."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from threads.identify.candidate import HELD, SPEAKS, Candidate
from threads.identify.evidence import ABOVE, BELOW, CANNOT_TELL
from threads.measured.thread import MeasuredThread
from threads.rules.forms import FORMS
from threads.shared.refusal import Reason, Value

WORTH_NAMING = 0.002
"""Candidates below this probability, with and without origin and year, are in no group."""

_NAMED = 4
_FEW_COUNTRIES = 6
"""So many designations and countries are named: more would not be read."""


@dataclass(frozen=True)
class Group:
    """Candidates that this measurement cannot tell apart.

    Attributes:
        members: most probable first. ``probability``: of all members together.
        told_apart_by: which further measurement or fact would decide between them or, for a group whose limits do not
            hold the measured sizes, between it and the others.
    """

    members: tuple[Candidate, ...]
    probability: float
    told_apart_by: tuple[Reason, ...]

    @property
    def holds(self) -> bool:
        """True if the limits of the members hold the measured sizes, within U95."""
        return self.members[0].holds

    def to_dict(self) -> dict[str, object]:
        """The plain form used in JSON."""
        return {
            "members": [c.designation for c in self.members],
            "probability": self.probability,
            "told_apart_by": Reason("facts", each=self.told_apart_by),
        }


def groups_of(candidates: Sequence[Candidate], thread: MeasuredThread) -> tuple[Group, ...]:
    """The groups, most probable first.

    All candidates whose limits hold every deciding quantity (nothing outside by more than U95) are one group. Those
    that fail are joined if they are of one nominal diameter and pitch and fail alike: a worn class 2 and a worn class
    3 look the same.
    """
    grouped: dict[tuple[object, ...], list[Candidate]] = {}
    for candidate in candidates:
        if max(candidate.probability, candidate.probability_measurement_only) >= WORTH_NAMING:
            grouped.setdefault(_key(candidate), []).append(candidate)
    groups = [
        Group(tuple(members), sum(c.probability for c in members), told_apart_by(members, thread))
        for members in grouped.values()
    ]
    return tuple(sorted(groups, key=lambda group: -group.probability))


def told_apart_by(members: Sequence[Candidate], thread: MeasuredThread) -> tuple[Reason, ...]:
    """What would decide between the members of a group: one fact each."""
    if not members[0].holds:
        return (_told_by_condition(members[0]),)
    facts = (
        *_by_scale(members, thread),
        *_by_year(members),
        *_by_shape(members, thread),
        *_by_angle(members, thread),
        *_by_size(members, thread),
        *_by_class(members),
    )
    return facts or (Reason("told_apart.nothing"),)


def years_of(candidate: Candidate) -> Reason:
    """Years and countries of use of a candidate's series."""
    use = candidate.provenance
    values: dict[str, Value] = {"series": use.series, "year": use.first_year}
    case = "since"
    if use.last_year is not None:
        case, values["last"] = "until", use.last_year
    if 0 < len(use.countries) <= _FEW_COUNTRIES:
        case, values["countries"] = f"{case}_in", use.countries
    return Reason(f"period.{case}", **values)


def _key(candidate: Candidate) -> tuple[object, ...]:
    if candidate.holds:
        return ()
    return (*_nominal_size(candidate), *candidate.signature)


def _nominal_size(candidate: Candidate) -> tuple[float, float]:
    return round(candidate.limits.basic_major, 4), round(candidate.limits.pitch, 5)


def _by_year(members: Sequence[Candidate]) -> list[Reason]:
    periods = tuple(dict.fromkeys(years_of(c) for c in members))
    return [Reason("told_apart.years", periods=periods)] if len(periods) > 1 else []


def _by_shape(members: Sequence[Candidate], thread: MeasuredThread) -> list[Reason]:
    """Crest and root, where the members' forms differ in them: a hint, or something to look for."""
    facts = []
    for end, flat in (("crest", thread.flat_crest), ("root", thread.flat_root)):
        asks = {c.limits.form: getattr(FORMS[c.limits.form], f"rounded_{end}") for c in members}
        if len(set(asks.values())) < 2:
            continue
        flats, rounds = (tuple(name for name, ask in asks.items() if ask is want) for want in (False, True))
        if flat is None:
            facts.append(Reason("told_apart.shape_unseen", end=end, flats=flats, rounds=rounds))
        else:
            seen = "flat" if flat else "round"
            facts.append(Reason("told_apart.shape", end=end, flats=flats, rounds=rounds, seen=seen))
    forms = {c.limits.form for c in members}
    if forms >= {"American National", "UN"} and not any(fact.values["end"] == "root" for fact in facts):
        facts.append(Reason("told_apart.root"))
    return facts


def _by_angle(members: Sequence[Candidate], thread: MeasuredThread) -> list[Reason]:
    angles = sorted({FORMS[c.limits.form].included_angle_deg for c in members})
    if len(angles) < 2:
        return []
    return [Reason("told_apart.angle", angles=tuple(f"{angle:.4g}" for angle in angles), here=thread.included_angle)]


def _by_scale(members: Sequence[Candidate], thread: MeasuredThread) -> list[Reason]:
    if len({_nominal_size(c) for c in members}) < 2:
        return []
    return [Reason("told_apart.scale", percent=100 * thread.pitch.u95 / thread.pitch.value)]


def _by_size(members: Sequence[Candidate], thread: MeasuredThread) -> list[Reason]:
    facts = []
    for name in ("pitch_diameter", "major_diameter"):
        near = [c for c in members if c.verdict(name) == CANNOT_TELL]
        if near and len(members) > 1:
            facts.append(Reason(f"told_apart.{name}", here=getattr(thread, name), names=_names(near)))
    stopped = [c for c in members if c.verdict("virtual_pitch_diameter") == ABOVE]
    if stopped and len(stopped) < len(members):
        facts.append(Reason("told_apart.go_gauge", names=_names(stopped)))
    return facts


def _by_class(members: Sequence[Candidate]) -> list[Reason]:
    classes: dict[tuple[str, str], list[Candidate]] = {}
    for candidate in members:
        classes.setdefault(candidate.nominal, []).append(candidate)
    return [Reason("told_apart.class")] if any(len(several) > 1 for several in classes.values()) else []


def _told_by_condition(candidate: Candidate) -> Reason:
    failing = tuple(
        name.replace("_", " ") for name, how in zip(SPEAKS, candidate.signature, strict=True) if how != HELD
    )
    case = "cut"
    if candidate.verdict("pitch") not in (ABOVE, BELOW) and not any("flank" in name for name in failing):
        if BELOW in candidate.signature and ABOVE not in candidate.signature:
            case = "wear"
        elif ABOVE in candidate.signature and BELOW not in candidate.signature:
            case = "plating"
    return Reason(f"told_apart.{case}", what=failing)


def _names(candidates: Iterable[Candidate]) -> tuple[str, ...]:
    names = tuple(c.designation for c in candidates)
    return names if len(names) <= _NAMED else (*names[:_NAMED], "others")
