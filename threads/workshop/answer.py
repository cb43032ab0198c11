"""The answer first: what the thread is, how sure that is, what would settle the rest, and what to make it with."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

from threads.identify.identification import IDENTIFIED, NO_MATCH, Identification
from threads.identify.systems import system_of
from threads.identify.thread_share import OPEN, ThreadShare, open_series
from threads.measured.thread import MeasuredThread
from threads.rules.forms import FORMS
from threads.shared.refusal import Reason, Value
from threads.workshop.making import Making, for_hand, making_of, making_of_its_own

ANGLES_ALIKE_DEG = 1.0
"""Threads whose included angles differ by more may be told apart by their flanks."""


@dataclass(frozen=True)
class Answer:
    """What a person wants to read first.

    Attributes:
        sentence: in one sentence. sure: one thread has at least ``SURE``.
        thread: the most probable thread; None where none fits.
        settles: what would settle what is open, the most useful first.
        make_with: None for the thread of a hole.
    """

    sentence: Reason
    sure: bool
    thread: ThreadShare | None
    settles: tuple[Reason, ...]
    make_with: Making | None

    def to_dict(self) -> dict[str, Any]:
        """The JSON form: ``answer`` of ``flankwise/identification/1``; reasons are worded by whoever writes it."""
        return {
            "sentence": self.sentence,
            "sure": self.sure,
            "thread": None if self.thread is None else self.thread.to_dict(),
            "settles": list(self.settles),
            "make_with": None if self.make_with is None else self.make_with.to_dict(),
        }


def answer_of(found: Identification, thread: MeasuredThread, *, untold: str) -> Answer:
    """The answer to what was found for ``thread``.

    ``untold``: what was not said of the instrument: ``"origin"``, ``"year"``, ``"origin_and_year"`` or nothing.
    """
    when = (Reason(f"settles.{untold}"),) if untold else ()
    if found.status == NO_MATCH or not found.threads:
        own = Reason("answer.none", major=thread.major_diameter, pitch=thread.pitch, angle=thread.included_angle)
        return Answer(
            own, False, None, (Reason("settles.more_screws"),), for_hand(making_of_its_own(thread), thread.hand)
        )
    first = found.threads[0]
    making = for_hand(making_of(first.members[0].limits), thread.hand)
    if found.status != IDENTIFIED:
        others = [one for one in found.threads[1:] if one.probability >= OPEN]
        return Answer(_between(found, first, others), False, first, _settling_threads(first, others, when), making)
    sentence, settles = _one_thread(first, when)
    return Answer(sentence, True, first, settles, making)


def _one_thread(thread: ThreadShare, when: tuple[Reason, ...]) -> tuple[Reason, tuple[Reason, ...]]:
    series = open_series(thread)
    values: dict[str, Value] = {"name": thread.name}
    first = thread.series[0]
    sized = "-" in thread.name or "x" in thread.name
    full = f"{thread.name} {first}" if sized and not thread.name.startswith("M") else thread.name
    if len(series) > 1:
        tables = tuple(Reason("answer_table", series=name, system=system_of(name)) for name in series)
        return Reason("answer.series_open", **values, tables=tables), (*when, Reason("settles.more_screws"))
    members = [one for one in thread.members if one.limits.series == series[0]]
    whole = sum(one.probability for one in members)
    classes = tuple(one.limits.thread_class for one in members if one.probability >= OPEN * whole)
    told: dict[str, Value] = {"full": full, "system": system_of(series[0])}
    if members[0].limits.thread_class in ("workshop", "") or not classes:
        return Reason("answer.thread", **told), ()
    settle = (Reason("settles.class"),) if len(classes) > 1 else ()
    return Reason("answer.classes", **told, classes=classes), settle


def _between(found: Identification, first: ThreadShare, others: list[ThreadShare]) -> Reason:
    named = tuple(Reason("answer_share", name=one.name, share=one.probability) for one in (first, *others))
    if found.no_standard_probability >= OPEN:
        return Reason("answer.threads_or_none", threads=named, none=found.no_standard_probability)
    return Reason("answer.threads", threads=named)


def _settling_threads(first: ThreadShare, others: list[ThreadShare], when: tuple[Reason, ...]) -> tuple[Reason, ...]:
    angle = FORMS[first.members[0].limits.form].included_angle_deg
    facts = []
    for one in others:
        other = one.members[0].limits
        if abs(FORMS[other.form].included_angle_deg - angle) > ANGLES_ALIKE_DEG:
            facts.append(Reason("settles.angle"))
        elif abs(other.pitch / first.members[0].limits.pitch - 1) > 0:
            facts.append(Reason("settles.scale"))
        else:
            facts.append(Reason("settles.major_diameter"))
    return (*dict.fromkeys(facts), *when, Reason("settles.more_screws"))
