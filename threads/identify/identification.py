"""Which series, size and class a measured thread belongs to: every candidate with its probability.

Every candidate's tolerance zone is the prior of the part's dimensions (``zone_prior``), the measurement with its
covariance the likelihood. All candidates compete with the hypothesis that the thread belongs to no series in the
tables (``no_standard``). Beforehand a series counts as it is common on a repairer's bench (``commonness``), within it
every size alike, and the classes of a size as common practice has them (``field``). Origin and year of the instrument
come in last, as a factor per series (``provenance``) in place of how common it is today, so that the probability can be
shown with and without them.

A *thread* is what one diameter, pitch and flank angle share: what one tap and die would cut, whichever table names it.
The answer is judged on threads first (``thread_share``), on series and classes after.
"""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Any

import numpy as np
import numpy.typing as npt

from threads.identify import no_standard
from threads.identify.candidate import DOES_NOT_FIT, SPEAKS, Candidate
from threads.identify.commonness import commonness_of, shares
from threads.identify.evidence import ABOVE, BELOW, evidence_of
from threads.identify.field import (
    Competitors,
    Field,
    competitors_of,
    field_now,
    provenance_of,
    sizes_by_distance,
    sizes_within_reach,
)
from threads.identify.grouping import Group, groups_of
from threads.identify.of_instrument import OfInstrument
from threads.identify.provenance import weigh
from threads.identify.stated import CONTRADICTED, Stated
from threads.identify.thread_share import ThreadShare, threads_of
from threads.identify.zone_prior import STATES, TAPER_SPREAD, log_evidence, observation_of
from threads.measured.thread import MeasuredThread
from threads.own.own_folder import edition
from threads.shared.refusal import Reason, Value
from threads.standards.limits import Limits

Array = npt.NDArray[np.float64]

IDENTIFIED, AMBIGUOUS, NO_MATCH = "identified", "ambiguous", "no_match"

SURE = 0.95
"""A thread is identified from this probability on: wrong at most as often as a U95."""

NO_MATCH_FROM = 0.5
"""From this probability of "no series in the tables" on nothing is named as the answer."""

NEGLIGIBLE, NEAREST = 1e-4, 5
"""Candidates below ``NEGLIGIBLE`` are left out; the nearest sizes are shown all the same, to make ``NEAREST``."""

WORTH_SAYING = 0.01
"""From this probability of "no series in the tables" on a note says so."""


@dataclass(frozen=True)
class Identification:
    """The answer.

    Attributes:
        status: ``identified``: one thread has a probability of at least ``SURE`` (its series and class may be open).
            ``no_match``: the probability that it belongs to no series in the tables is at least
            ``NO_MATCH_FROM``. ``ambiguous``: everything else.
        candidates: by thread, within it by series, within that by class, each most probable first. Their
            probabilities and ``no_standard_probability`` sum to 1, less what was
            left out as negligible.
        groups: candidates that the measurement cannot tell apart, most probable first.
        no_standard_probability: that the thread belongs to no series in the tables.
        notes: what a person should know besides.
        threads: the threads that the candidates are of, most probable first.
        stated: what was stated of the thread, and how probable it is with everything together.
        as_part_of: the instrument whose other screws counted, too.
    """

    status: str
    candidates: tuple[Candidate, ...]
    groups: tuple[Group, ...]
    no_standard_probability: float
    notes: tuple[Reason, ...]
    threads: tuple[ThreadShare, ...] = ()
    stated: Stated | None = None
    stated_probability: float = 0.0
    as_part_of: OfInstrument | None = None

    def to_dict(self, measurement: dict[str, Any]) -> dict[str, Any]:
        """The JSON form, schema ``flankwise/identification/1``, around the JSON form of the measurement."""
        return {
            "schema": "flankwise/identification/1",
            "status": self.status,
            "measurement": measurement,
            "candidates": [c.to_dict() for c in self.candidates],
            "groups": [g.to_dict() for g in self.groups],
            "no_standard_probability": self.no_standard_probability,
            "notes": list(self.notes),
            "stated": None
            if self.stated is None
            else {
                "says": self.stated.text,
                "by": self.stated.by,
                "weight": self.stated.weight,
                "probability": self.stated_probability,
            },
            "as_part_of": None if self.as_part_of is None else self.as_part_of.to_dict(),
        }


def identify(
    thread: MeasuredThread,
    *,
    origin: str | None = None,
    made: tuple[int, int] | None = None,
    series: Sequence[str] | None = None,
    on_file: Mapping[str, int] | None = None,
    series_alike: bool = False,
    stated: Stated | None = None,
    as_part_of: OfInstrument | None = None,
) -> Identification:
    """Rank all known external threads by how well they explain ``thread``.

    Args:
        thread: the measured thread; its covariance has the diameters, the pitch and both flank angles.
        origin: country where the instrument was made, as ISO 3166 alpha-2 code or name.
        made: first and last year in which it can have been made.
        series: names of the series that may compete; all if None or empty.
        on_file: how many parts of each series the workshop's register holds; sharpens how common a series is.
        series_alike: let every series count alike, however common it is.
        stated: what a document or a person says of the thread.
        as_part_of: what the other screws of its instrument say; they replace how common a series is.

    Raises:
        threads.identify.provenance.UnknownOriginError, threads.identify.provenance.BadYearsError,
            threads.standards.series.UnknownSeriesError: a country, years or a series that are not known (all are
            ValueErrors whose message is one line).
        ValueError: the covariance lacks one of the quantities, or the thread is that of a hole.
    """
    field = field_now(tuple(series or ()), edition())
    return identify_among(
        field,
        thread,
        origin=origin,
        made=made,
        on_file=on_file,
        series_alike=series_alike,
        stated=stated,
        as_part_of=as_part_of,
    )


def identify_among(
    field: Field,
    thread: MeasuredThread,
    *,
    origin: str | None = None,
    made: tuple[int, int] | None = None,
    on_file: Mapping[str, int] | None = None,
    series_alike: bool = False,
    stated: Stated | None = None,
    as_part_of: OfInstrument | None = None,
) -> Identification:
    """As ``identify``, among the sizes of ``field``."""
    reading = observation_of(thread)
    log_none = math.log(no_standard.PRIOR) + no_standard.log_density(reading)
    nearest_sizes = sizes_by_distance(field, reading)[:NEAREST]
    able = competitors_of(field, np.union1d(sizes_within_reach(field, reading, log_none), nearest_sizes))
    log_states = able.log_prior[:, None] + log_evidence(able.zones, reading, able.log_prior, log_none)
    provenance = provenance_of(field, able, origin, made)
    log_weight = np.log([one.weight for one in provenance])
    log_joint = np.logaddexp.reduce(log_states, axis=1)
    common, common_there = (
        _log_common(field, able, alike=series_alike, known_origin=known, on_file=on_file)
        for known in (False, origin is not None or made is not None)
    )
    measured_only, _ = _shares(log_joint + common, log_none)
    named = np.array([stated is not None and stated.names(limits) for limits in able.limits], dtype=bool)
    log_all = log_joint + common_there + log_weight + np.where(named, math.log(stated.weight if stated else 1.0), 0.0)
    if as_part_of is not None:
        names = tuple(dict.fromkeys(entry.series for entry in field.entries))
        share = shares(names, known_origin=origin is not None or made is not None, on_file=on_file)
        there = weigh(names, origin, made)
        factors = as_part_of.log_factors({name: share[name] * there[name].weight for name in names})
        log_all = log_all + np.array([factors[limits.series] for limits in able.limits])
    probability, none = _shares(log_all, log_none)
    likely = np.maximum(probability, measured_only) >= NEGLIGIBLE
    nearest = [_likeliest_class(able, size, log_joint) for size in nearest_sizes]
    shown = set(np.flatnonzero(likely).tolist())
    shown |= set([i for i in nearest if i not in shown][: max(0, NEAREST - len(shown))])
    states = tuple(STATES)
    kept = tuple(
        Candidate(
            limits=able.limits[i],
            probability=float(probability[i]),
            probability_measurement_only=float(measured_only[i]),
            condition=states[int(np.argmax(log_states[i]))] if likely[i] else DOES_NOT_FIT,
            evidence=evidence_of(thread, able.limits[i]),
            provenance=provenance[i],
            commonness=commonness_of(able.limits[i].series).on_bench,
        )
        for i in np.argsort(-log_all, kind="stable").tolist()
        if i in shown
    )
    of_threads = threads_of(kept)
    kept = tuple(candidate for one in of_threads for candidate in one.members)
    groups = groups_of(kept, thread)
    status = _status(of_threads, none)
    notes: list[Reason] = []
    if status == NO_MATCH:
        notes.extend(_own_dimensions(thread, able.limits[nearest[0]] if nearest else None))
    else:
        if none >= WORTH_SAYING:
            notes.append(Reason("no_standard", probability=none))
        notes.extend(_conditions(groups))
    named_share = float(probability[named].sum())
    if stated is not None and named_share < CONTRADICTED:
        notes.append(Reason("stated_contradicted", text=stated.text, by=stated.by, probability=named_share))
    if as_part_of is not None:
        notes.append(as_part_of.said())
    notes.extend(_cautions(thread, kept))
    return Identification(status, kept, groups, none, tuple(notes), of_threads, stated, named_share, as_part_of)


def _shares(log_joint: Array, log_none: float) -> tuple[Array, float]:
    total = np.logaddexp(np.logaddexp.reduce(log_joint), log_none)
    return np.exp(log_joint - total), float(np.exp(log_none - total))


def _status(threads: tuple[ThreadShare, ...], none: float) -> str:
    if none >= NO_MATCH_FROM:
        return NO_MATCH
    return IDENTIFIED if threads and threads[0].probability >= SURE else AMBIGUOUS


def _log_common(
    field: Field, able: Competitors, *, alike: bool, known_origin: bool, on_file: Mapping[str, int] | None
) -> Array:
    """Log of how much more common the series of each candidate is than if every series counted alike."""
    if alike:
        return np.zeros(len(able.limits))
    names = tuple(dict.fromkeys(entry.series for entry in field.entries))
    share = shares(names, known_origin=known_origin, on_file=on_file)
    return np.log([share[limits.series] * len(names) for limits in able.limits])


def _likeliest_class(able: Competitors, size: int, log_joint: Array) -> int:
    """Index of the candidate that is the likeliest class of the size with index ``size``."""
    of_size = np.flatnonzero(able.size == size)
    return int(of_size[np.argmax(log_joint[of_size])])


def _cautions(thread: MeasuredThread, kept: tuple[Candidate, ...]) -> tuple[Reason, ...]:
    notes = []
    if thread.starts != 1:
        notes.append(Reason("several_starts.identify", starts=thread.starts))
    if thread.hand == "left":
        notes.append(Reason("left_hand"))
    unverified = tuple(dict.fromkeys(c.limits.series for c in kept if c.limits.unverified))
    if unverified:
        notes.append(Reason("limits_unverified", series=unverified))
    if any(c.probability != c.probability_measurement_only and c.provenance.unverified for c in kept):
        notes.append(Reason("years_unverified"))
    return tuple(notes)


def _own_dimensions(thread: MeasuredThread, nearest: Limits | None) -> list[Reason]:
    own: dict[str, Value] = {
        "major": thread.major_diameter,
        "pitch_diameter": thread.pitch_diameter,
        "pitch": thread.pitch,
        "angle": thread.included_angle,
    }
    if abs(thread.taper.value) > 2 * TAPER_SPREAD + thread.taper.u95:
        notes = [Reason("fits_no_series.tapered", **own, taper=thread.taper)]
    else:
        notes = [Reason("fits_no_series", **own)]
    if nearest is None:
        return notes
    outside = tuple(
        Reason(
            "outside_limits.above" if e.verdict == ABOVE else "outside_limits.below", what=e.quantity.replace("_", " ")
        )
        for e in evidence_of(thread, nearest)
        if e.quantity in SPEAKS and e.verdict in (ABOVE, BELOW)
    )
    if outside:
        return [*notes, Reason("nearest_thread.outside", designation=nearest.designation, outside=outside)]
    return [*notes, Reason("nearest_thread", designation=nearest.designation)]


def _conditions(groups: tuple[Group, ...]) -> list[Reason]:
    """Of candidates of one nominal size, some fit as made and others only worn or plated: name both."""
    held = next((group for group in groups if group.holds), None)
    if held is None:
        return []
    sizes = {(c.limits.basic_major, c.limits.pitch) for c in held.members}
    notes = []
    for group in groups:
        first, condition = group.members[0].limits, group.members[0].condition
        same = (first.basic_major, first.pitch) in sizes
        if not group.holds and condition in ("worn", "plated") and same:
            names, others = (tuple(c.designation for c in g.members) for g in (held, group))
            notes.append(Reason(f"as_made_or.{condition}", names=names, others=others))
    return notes
