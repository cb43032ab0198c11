"""Groups of candidates that a measurement cannot separate, with what would separate them."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from threads.identify.candidate import HELD, SPEAKS, Candidate
from threads.identify.evidence import ABOVE, BELOW, CANNOT_TELL
from threads.measured.thread import MeasuredThread
from threads.rules.forms import FORMS
from threads.shared.formatting import format_quantity

WORTH_NAMING = 0.002
"""Candidates below this probability, with and without origin and year, are in no group."""


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
    told_apart_by: str

    @property
    def holds(self) -> bool:
        """True if the limits of the members hold the measured sizes, within U95."""
        return self.members[0].holds

    def to_dict(self) -> dict[str, object]:
        """The plain form used in JSON."""
        return {
            "members": [c.designation for c in self.members],
            "probability": self.probability,
            "told_apart_by": self.told_apart_by,
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


def told_apart_by(members: Sequence[Candidate], thread: MeasuredThread) -> str:
    """What would decide between the members of a group, in words."""
    if not members[0].holds:
        return _told_by_condition(members[0])
    facts = [
        fact
        for fact in (
            _by_scale(members, thread),
            _by_year(members),
            _by_shape(members, thread),
            _by_angle(members, thread),
            _by_size(members, thread),
            _by_class(members),
        )
        if fact
    ]
    return "; ".join(facts) or "nothing is left to tell apart: no other known thread holds these sizes"


def years_of(candidate: Candidate) -> str:
    """Years and countries of use of a candidate's series, in words."""
    use = candidate.provenance
    until = "" if use.last_year is None else f" to about {use.last_year}"
    few = f" ({', '.join(use.countries)})" if 0 < len(use.countries) <= 6 else ""
    return f"{use.series} from {use.first_year}{until}{few}"


def _key(candidate: Candidate) -> tuple[object, ...]:
    if candidate.holds:
        return ()
    return (*_nominal_size(candidate), *candidate.signature)


def _nominal_size(candidate: Candidate) -> tuple[float, float]:
    return round(candidate.limits.basic_major, 4), round(candidate.limits.pitch, 5)


def _by_year(members: Sequence[Candidate]) -> str:
    periods = list(dict.fromkeys(years_of(c) for c in members))
    if len(periods) < 2:
        return ""
    return f"origin and year: {', '.join(periods)}"


def _by_shape(members: Sequence[Candidate], thread: MeasuredThread) -> str:
    """Crest and root, where the members' forms differ in them: a hint, or something to look for."""
    facts = []
    for end, flat in (("crest", thread.flat_crest), ("root", thread.flat_root)):
        asks = {c.limits.form: getattr(FORMS[c.limits.form], f"rounded_{end}") for c in members}
        if len(set(asks.values())) < 2:
            continue
        flats, rounds = (", ".join(name for name, ask in asks.items() if ask is want) for want in (False, True))
        which = f"flat ({flats}) or round ({rounds})"
        if flat is None:
            facts.append(f"a sharper or larger picture: it would show whether the {end} is {which}, a hint")
        else:
            facts.append(f"the {end} is a hint only: {which}, and here it is {'flat' if flat else 'round'}")
    forms = {c.limits.form for c in members}
    if forms >= {"American National", "UN"} and not any("root" in fact for fact in facts):
        facts.append("the root is a hint only: a flat of p/8 (American National) or a wider or rounded one (Unified)")
    return "; ".join(facts)


def _by_angle(members: Sequence[Candidate], thread: MeasuredThread) -> str:
    angles = sorted({FORMS[c.limits.form].included_angle_deg for c in members})
    if len(angles) < 2:
        return ""
    return (
        f"the flank angles of more screws of the set ({' or '.join(f'{angle:.4g}' for angle in angles)} deg between "
        f"the flanks; here {format_quantity(thread.included_angle)}): taps and dies are off by up to a degree or two"
    )


def _by_scale(members: Sequence[Candidate], thread: MeasuredThread) -> str:
    if len({_nominal_size(c) for c in members}) < 2:
        return ""
    u = thread.pitch.u95 / thread.pitch.value
    return (
        f"a scale from gauge pins: the pitch is known to {100 * u:.2g} % only, which holds more than one nominal size"
    )


def _by_size(members: Sequence[Candidate], thread: MeasuredThread) -> str:
    near = [c for c in members if c.verdict("pitch_diameter") == CANNOT_TELL]
    near_major = [c for c in members if c.verdict("major_diameter") == CANNOT_TELL]
    facts = []
    if near and len(members) > 1:
        facts.append(
            f"a GO and NOT GO gauge, or a measurement over three wires to 1 µm: the pitch diameter "
            f"({format_quantity(thread.pitch_diameter)}) is within its U95 of a limit of {_names(near)}"
        )
    if near_major and len(members) > 1:
        facts.append(
            f"a micrometer over the crests: the major diameter ({format_quantity(thread.major_diameter)}) is within "
            f"its U95 of a limit of {_names(near_major)}"
        )
    stopped = [c for c in members if c.verdict("virtual_pitch_diameter") == ABOVE]
    if stopped and len(stopped) < len(members):
        facts.append(f"a GO gauge: by its pitch and angle errors the thread would not enter that of {_names(stopped)}")
    return "; ".join(facts)


def _by_class(members: Sequence[Candidate]) -> str:
    classes: dict[tuple[str, str], list[Candidate]] = {}
    for candidate in members:
        classes.setdefault(candidate.nominal, []).append(candidate)
    if all(len(several) < 2 for several in classes.values()):
        return ""
    return "the class: more screws of the same set, whose spread shows the zone, or the drawing"


def _told_by_condition(candidate: Candidate) -> str:
    failing = [name.replace("_", " ") for name, how in zip(SPEAKS, candidate.signature, strict=True) if how != HELD]
    what = " and ".join(failing)
    if candidate.verdict("pitch") in (ABOVE, BELOW) or any("flank" in name for name in failing):
        return f"it does not fit unless the {what} came out wrong when it was cut: measure another screw of the set"
    if BELOW in candidate.signature and ABOVE not in candidate.signature:
        return (
            f"wear: it fits only if the {what} has worn below its minimum, or was cut too small; measure a length that "
            "was never screwed in (under the head, or at the run-out), or look for rounded crests"
        )
    if ABOVE in candidate.signature and BELOW not in candidate.signature:
        return (
            f"plating: it fits only if the {what} has grown above its maximum by plating, or was cut too large; look "
            "at a scratch or a worn place for another metal"
        )
    return f"it does not fit unless the {what} came out wrong when it was cut: measure another screw of the set"


def _names(candidates: Iterable[Candidate]) -> str:
    names = [c.designation for c in candidates]
    return ", ".join(names[:4]) + (" and others" if len(names) > 4 else "")
