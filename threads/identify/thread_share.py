"""Candidates that are one thread: one diameter, pitch and flank angle, whichever tables name it."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from threads.identify.candidate import Candidate
from threads.rules.forms import FORMS
from threads.rules.series_tables import SAME_DIAMETER, SAME_PITCH
from threads.standards.limits import Limits

SAME_ANGLE_DEG = 0.2
"""Forms whose flank angles differ by less are cut by one die (ours; Thury's and BA's differ by 0.25 degrees)."""


OPEN = 0.05
"""A series, class or thread with a smaller share is not named in an answer: as seldom right as a U95 is wrong."""
SURE = 1 - OPEN


@dataclass(frozen=True)
class ThreadShare:
    """One thread among the candidates.

    Attributes:
        name: as its commonest series writes the size: ``4-40``, ``M3x0.5``, ``4 BA``.
        series: most probable first. probability: of all its candidates together.
        members: its candidates, by series, then by class, each most probable first.
    """

    name: str
    series: tuple[str, ...]
    probability: float
    members: tuple[Candidate, ...]

    def of_series(self, series: str) -> float:
        """The probability of one series of this thread."""
        return sum(one.probability for one in self.members if one.limits.series == series)

    def to_dict(self) -> dict[str, object]:
        """The plain form used in JSON."""
        return {"name": self.name, "series": list(self.series), "probability": self.probability}


def threads_of(candidates: Sequence[Candidate]) -> tuple[ThreadShare, ...]:
    """The threads of ``candidates``, most probable first; candidates come most probable first."""
    found: list[list[Candidate]] = []
    for candidate in candidates:
        of = next((one for one in found if same_thread(one[0].limits, candidate.limits)), None)
        if of is None:
            found.append([candidate])
        else:
            of.append(candidate)
    threads = [_thread(members) for members in found]
    return tuple(sorted(threads, key=lambda one: -one.probability))


def open_series(thread: ThreadShare) -> tuple[str, ...]:
    """The series of a thread that are still possible, most probable first; one where it has ``SURE`` of the thread."""
    shares = {name: thread.of_series(name) / max(thread.probability, 1e-12) for name in thread.series}
    best = thread.series[0]
    return (best,) if shares[best] >= SURE else tuple(name for name in thread.series if shares[name] >= OPEN)


def same_thread(one: Limits, other: Limits) -> bool:
    """Whether one tap and one die would cut both."""
    return (
        abs(one.basic_major - other.basic_major) <= SAME_DIAMETER
        and abs(one.pitch / other.pitch - 1) <= SAME_PITCH
        and abs(FORMS[one.form].included_angle_deg - FORMS[other.form].included_angle_deg) <= SAME_ANGLE_DEG
    )


def thread_name(limits: Limits) -> str:
    """The size as people say it: with its series where the size alone does not tell the pitch (``4 BA``)."""
    size = limits.size
    return size if "-" in size or "x" in size or size.startswith("M") else f"{size} {limits.series}"


def _thread(members: Sequence[Candidate]) -> ThreadShare:
    share: dict[str, float] = {}
    for one in members:
        share[one.limits.series] = share.get(one.limits.series, 0.0) + one.probability
    series = tuple(sorted(share, key=lambda name: -share[name]))
    ordered = tuple(one for name in series for one in members if one.limits.series == name)
    common = max(members, key=lambda one: one.commonness)
    return ThreadShare(thread_name(common.limits), series, sum(share.values()), ordered)
