"""One instrument, one answer: all its screws judged together, which thread system its maker used, and which are odd.

With p(x|S) the evidence that a screw x of the system S gives and p(x|any) that of any screw on a bench, the posterior
over systems is

    P(S | all) ~ prior(S) * product over screws of [(1 - r) p(x|S) + r p(x|any)]

r being the share of screws that are no longer the maker's (``REPLACED``). A size counts alike in every system, so that
a long table does not weigh against its system. Errors common to the screws of one bench (scale, edge offset, light) are
drawn once for all of them: for each draw the product is taken, then the mean over draws; several benches are several
draws. Without that the answer is far too sure (``common=False`` shows by how much).

Whether a screw is the maker's is the weight of the second term in the same sum. All spreads and shares are workshop
assumptions without a published source.
"""

from __future__ import annotations

import math
from collections.abc import Hashable, Mapping, Sequence
from dataclasses import dataclass, replace
from functools import cache

import numpy as np
import numpy.typing as npt

from threads.identify import no_standard
from threads.identify.commonness import commonness_of
from threads.identify.field import Competitors, Field, competitors_of, field_of, sizes_within_reach
from threads.identify.provenance import weigh, weigh_taken_over
from threads.identify.shape_prior import log_not_too_shallow, log_shape
from threads.identify.systems import system_of
from threads.identify.thread_share import same_thread, thread_name
from threads.identify.zone_prior import (
    DIAMETERS,
    REST,
    STATES,
    Observation,
    apart_densities,
    condition,
    log_taper,
    observation_of,
)
from threads.measured.thread import Covariance, MeasuredThread
from threads.own.own_folder import Edition, edition
from threads.standards.limits import Limits
from threads.standards.series import entries, series_names

Array = npt.NDArray[np.float64]

REPLACED = 0.1
"""Share of screws in an old instrument that are no longer the maker's (workshop assumption; may be changed)."""

DRAWS = 200
"""Draws of the errors common to a bench: the mean over them is good to a few per cent of a probability."""

SIZES_IN_USE = 25.0
"""A system counts as if it had so many sizes, whatever its tables list."""

LEAST_SCREWS = 3
"""With fewer measured screws there is an answer, and a note that it is one of few."""

ODD_FROM = 0.8
"""A screw is called an odd one out from this probability on."""

NONE = "no system"


@dataclass(frozen=True)
class CommonErrors:
    """What a screw's errors have in common with all others of its bench; standard uncertainties.

    Attributes:
        bench: whatever is equal for pictures of one bench and time.
        scale: relative, of all lengths. offset: of every diameter, mm. light: of the pitch diameter, mm.
    """

    bench: Hashable
    scale: float = 0.0
    offset: float = 0.0
    light: float = 0.0

    def covariance(self, thread: MeasuredThread) -> Array:
        """(5, 5) of the diameters, the pitch and the flank angles (``zone_prior``), as far as it is common."""
        lengths = np.array([thread.major_diameter.value, thread.pitch_diameter.value, thread.pitch.value, 0.0, 0.0])
        along = np.stack([lengths * self.scale, np.array([1.0, 1, 0, 0, 0]) * self.offset])
        light = np.array([0.25, 1.0, 0, 0, 0]) * self.light
        return np.asarray(along.T @ along + np.outer(light, light))


@dataclass(frozen=True)
class Screw:
    """A measured screw of the instrument. ``part``: what it is called by; ``common``: None where nothing is known.

    ``stated``: the weight of each series by what a document or a person says (``stated``); one where nothing is stated.
    """

    part: Hashable
    thread: MeasuredThread
    common: CommonErrors | None = None
    stated: Mapping[str, float] | None = None


@dataclass(frozen=True)
class SystemShare:
    """A system with its probability, with origin and year and ``measurement_only`` without; ``series``: found in it."""

    system: str
    series: tuple[str, ...]
    probability: float
    measurement_only: float


@dataclass(frozen=True)
class OddOne:
    """A screw that does not go with the others: how probably, and what it is by itself.

    ``likely``: its best class by itself, None where it fits none; ``condition``: as made, worn or plated in it.
    ``other_bench``: it is the only one of its bench.
    """

    part: Hashable
    probability: float
    likely: Limits | None
    condition: str
    other_bench: bool


@dataclass(frozen=True)
class Placed:
    """Where a screw belongs within the system found: its most probable class, and all with their probabilities."""

    part: Hashable
    limits: Limits | None
    classes: tuple[tuple[str, float], ...]


@dataclass(frozen=True)
class InstrumentFound:
    """The answer.

    Attributes:
        systems: most probable first. odd: screws from ``ODD_FROM`` on; odd_probability: of every screw, in order.
        placed: every screw within the most probable system.
        grown: (n + 1, m) probability of the systems, in their order, after 0, 1, ... n screws.
        few: fewer than ``LEAST_SCREWS``.
    """

    systems: tuple[SystemShare, ...]
    odd: tuple[OddOne, ...]
    odd_probability: tuple[float, ...]
    placed: tuple[Placed, ...]
    grown: Array
    few: bool


@dataclass(frozen=True)
class _Judged:
    """One screw against everything: log densities (m systems + any, k draws), and its candidates.

    ``log_density_alone``: the same without origin and year.
    """

    log_density: Array
    log_density_alone: Array
    able: Competitors
    log_classes: Array  # (n,) of each candidate within its system, for the mean of the common errors
    conditions: tuple[str, ...]
    log_none: float


def judge_together(
    screws: Sequence[Screw],
    *,
    origin: str | None = None,
    made: tuple[int, int] | None = None,
    replaced: float = REPLACED,
    common: bool = True,
    seed: int = 1949,
) -> InstrumentFound:
    """Judge all screws of one instrument together.

    Args:
        screws: each part once; none of them a hole.
        origin: country where the instrument was made.
        made: first and last year in which it can have been made.
        replaced: share of screws that are no longer the maker's, more than 0 and less than 1.
        common: take errors common to a bench as common.
        seed: of the draws.

    Raises:
        ValueError: no screw, one part twice, a hole, a share that cannot be; provenance.UnknownOriginError,
            provenance.BadYearsError.
    """
    parts = [one.part for one in screws]
    if not screws or len(set(parts)) < len(parts):
        raise ValueError("give at least one screw, and each part once")
    if not 0.0 < replaced < 1.0:
        raise ValueError("the share of replaced screws lies between 0 and 1")
    names = systems_now(edition())
    rng = np.random.default_rng(seed)
    draws: dict[Hashable, Array] = {}
    judged = []
    for screw in screws:
        bench = screw.common.bench if screw.common is not None and common else ("alone", screw.part)
        if bench not in draws:
            draws[bench] = _draws(rng)
        judged.append((bench, _judged(screw, draws[bench], names, common=common, origin=origin, made=made)))
    plain_prior = _log_prior(names, None, None)
    dated = origin is not None or made is not None
    prior = _log_prior(names, origin, made) if dated else plain_prior
    mixed = [(bench, _mixed(one.log_density, replaced)) for bench, one in judged]
    grown = np.array([_posterior(prior, mixed[:count], len(names)) for count in range(len(screws) + 1)])
    posterior = grown[-1]
    plainly = [(bench, _mixed(one.log_density_alone, replaced)) for bench, one in judged]
    alone = _posterior(plain_prior, plainly, len(names)) if dated else posterior
    odd = _odd_probabilities(judged, mixed, posterior, replaced)
    order = [int(i) for i in np.argsort(-posterior, kind="stable")]
    best = names[order[0]]
    placed = tuple(_placed(screw, one, best) for screw, (_, one) in zip(screws, judged, strict=True))
    used = {limits.series for one in placed if (limits := one.limits) is not None}
    benches = [bench for bench, _ in judged]
    return InstrumentFound(
        systems=tuple(
            SystemShare(
                names[i],
                tuple(sorted(s for s in _series_of(names[i]) if i != order[0] or s in used)),
                float(posterior[i]),
                float(alone[i]),
            )
            for i in order
        ),
        odd=tuple(
            _odd_one(screw, one, float(p), other=benches.count(bench) == 1 < len(set(benches)))
            for screw, (bench, one), p in zip(screws, judged, odd, strict=True)
            if p >= ODD_FROM
        ),
        odd_probability=tuple(float(p) for p in odd),
        placed=placed,
        grown=grown[:, order],
        few=len(screws) < LEAST_SCREWS,
    )


@cache
def systems_now(_edition: Edition) -> tuple[str, ...]:
    """The systems that compete, the workshop's own series included where there are any."""
    return tuple(dict.fromkeys(system_of(name) for name in series_names()))


def _series_of(system: str) -> tuple[str, ...]:
    return tuple(name for name in series_names() if system_of(name) == system)


def _draws(rng: np.random.Generator) -> Array:
    """(k, 4): scale, offset, light in standard deviations, and how much of a one-sided effect, even over 0 to 1."""
    return np.column_stack([rng.standard_normal((DRAWS, 3)), rng.random(DRAWS)])


@cache
def _field(_edition: Edition) -> Field:
    return field_of(tuple(entry for name in series_names() for entry in entries(name)))


def _judged(
    screw: Screw,
    draws: Array,
    names: tuple[str, ...],
    *,
    common: bool,
    origin: str | None,
    made: tuple[int, int] | None,
) -> _Judged:
    thread, field = screw.thread, _field(edition())
    shared = screw.common if common else None
    reading = _own_reading(thread, shared)
    log_none = math.log(no_standard.PRIOR) + no_standard.log_density(observation_of(thread))
    able = competitors_of(field, sizes_within_reach(field, observation_of(thread), log_none))
    if not able.limits:
        nothing = np.full((len(names) + 1, draws.shape[0]), -math.inf)
        nothing[-1] = log_none
        return _Judged(nothing, nothing, able, np.zeros(0), (), log_none)
    log_rest, centre, covariance = condition(able.zones.pitch, able.zones.flank, reading)
    log_other = log_shape(reading.shape, able.zones.rounded_crest, able.zones.rounded_root, able.zones.root)
    log_other = log_other + (log_rest + log_taper(reading))[:, None] + np.log([*STATES.values()])
    log_other += log_not_too_shallow(reading.minor, reading.minor_u, able.zones.minor_high)[:, None]
    u = np.sqrt(np.diagonal(covariance, axis1=1, axis2=2))
    shifted = reading.diameters + _shifts(thread, shared, draws)
    moved = centre - reading.diameters  # what pitch and angles say of the diameters, small and the candidate's own
    zones = able.zones
    density = apart_densities(shifted, zones.low - moved, zones.high - moved, u)
    with np.errstate(divide="ignore"):
        log_states = log_other[:, None, :] + np.log(density)
    log_class = np.logaddexp.reduce(log_states, axis=2)  # (n, k)
    stated = screw.stated or {}
    by_series = np.array([math.log(stated.get(one.series, 1.0)) for one in able.limits])
    in_system, alone = (_log_in_system(field, able, *when) + by_series for when in ((origin, made), (None, None)))
    rows = np.array([[system_of(one.series) == name for one in able.limits] for name in names])
    log_share = _log_prior(names, None, None)[:, None] + math.log(1.0 - no_standard.PRIOR)

    def of_systems(log_in: Array) -> Array:
        each = np.where(rows[:, :, None], (log_class + log_in[:, None])[None], -math.inf)
        system = np.logaddexp.reduce(each, axis=1)
        anything = np.logaddexp(np.logaddexp.reduce(system + log_share, axis=0), log_none)
        return np.vstack([system, anything])

    mean = np.logaddexp.reduce(log_class, axis=1) - math.log(draws.shape[0])
    states = np.logaddexp.reduce(log_states, axis=1)
    return _Judged(
        of_systems(in_system),
        of_systems(alone),
        able,
        mean + in_system,
        tuple(tuple(STATES)[int(i)] for i in np.argmax(states, axis=1)),
        log_none,
    )


def _own_reading(thread: MeasuredThread, shared: CommonErrors | None) -> Observation:
    """The reading without the errors common to the bench, and without the effect that acts to one side."""
    reading = replace(observation_of(thread), shift=np.zeros(2))
    if shared is None:
        return reading
    own = thread.covariance.of(DIAMETERS + REST) - shared.covariance(thread)
    floor = (0.1 * np.sqrt(np.diag(reading.covariance))) ** 2  # never less than a tenth: budgets are rounded
    own[np.diag_indices(5)] = np.maximum(np.diag(own), floor)
    values, vectors = np.linalg.eigh(_scaled(own))
    spread = np.sqrt(np.diag(own))
    whole = (vectors * np.maximum(values, 1e-3)) @ vectors.T
    return replace(reading, covariance=np.asarray(whole * np.outer(spread, spread)))


def _scaled(covariance: Array) -> Array:
    spread = np.sqrt(np.diag(covariance))
    return np.asarray(covariance / np.outer(spread, spread))


def _shifts(thread: MeasuredThread, shared: CommonErrors | None, draws: Array) -> Array:
    """(k, 2) what is added to major and pitch diameter in each draw, mm."""
    both = thread.major_diameter, thread.pitch_diameter
    shift = draws[:, 3:] * np.array([q.one_sided for q in both])
    if shared is None:
        return np.asarray(shift)
    shift = shift - draws[:, :1] * shared.scale * np.array([q.value for q in both]) - draws[:, 1:2] * shared.offset
    return np.asarray(shift - draws[:, 2:3] * shared.light * np.array([0.25, 1.0]))


def _log_in_system(field: Field, able: Competitors, origin: str | None, made: tuple[int, int] | None) -> Array:
    """Log of what each candidate counts within its system: use of its series there and then, size, class."""
    names = tuple(dict.fromkeys(one.series for one in able.limits))
    use = {name: commonness_of(name).in_use for name in names}
    whole = {name: sum(commonness_of(s).in_use for s in _series_of(system_of(name))) for name in names}
    of_series = weigh(names, origin, made)
    out = []
    for size, limits, log_prior in zip(able.size.tolist(), able.limits, able.log_prior, strict=True):
        by = field.taken_over[size]
        one = of_series[limits.series] if by is None else weigh_taken_over(limits.series, by, origin, made)
        best = max(of_series[s].weight for s in names if system_of(s) == system_of(limits.series))
        log_class = float(log_prior - field.log_prior[size])
        out.append(
            math.log(use[limits.series] / whole[limits.series] / SIZES_IN_USE) + log_class + math.log(one.weight / best)
        )
    return np.array(out)


def _log_prior(names: tuple[str, ...], origin: str | None, made: tuple[int, int] | None) -> Array:
    """Log prior of the systems: how common on a bench, or where and when they were in use."""
    dated = origin is not None or made is not None
    weight = []
    for name in names:
        series = _series_of(name)
        if dated:
            known = weigh(series, origin, made)
            weight.append(max(known[one].weight * commonness_of(one).in_use for one in series))
        else:
            weight.append(max(commonness_of(one).on_bench for one in series))
    return np.log(np.array(weight) / sum(weight))


def _mixed(log_density: Array, replaced: float) -> Array:
    """(m, k): a screw of the system's maker, or any other."""
    return np.asarray(np.logaddexp(math.log1p(-replaced) + log_density[:-1], math.log(replaced) + log_density[-1:]))


def _posterior(log_prior: Array, mixed: Sequence[tuple[Hashable, Array]], count: int) -> Array:
    total = np.array(log_prior)
    for log_mean in _by_bench(mixed, count).values():
        total = total + np.logaddexp.reduce(log_mean, axis=1) - math.log(log_mean.shape[1])
    total -= np.logaddexp.reduce(total)
    return np.exp(total)


def _by_bench(mixed: Sequence[tuple[Hashable, Array]], count: int) -> dict[Hashable, Array]:
    """Of each bench the log of the product over its screws, (m, k)."""
    product: dict[Hashable, Array] = {}
    for bench, one in mixed:
        product[bench] = product.get(bench, np.zeros((count, one.shape[1]))) + one
    return product


def _odd_probabilities(
    judged: Sequence[tuple[Hashable, _Judged]],
    mixed: Sequence[tuple[Hashable, Array]],
    posterior: Array,
    replaced: float,
) -> list[float]:
    product = _by_bench(mixed, posterior.size)
    found = []
    for (bench, one), (_, both) in zip(judged, mixed, strict=True):
        log_draw = product[bench] - np.logaddexp.reduce(product[bench], axis=1, keepdims=True)
        log_odd = math.log(replaced) + one.log_density[-1:] - both
        found.append(float(posterior @ np.sum(np.exp(log_draw + log_odd), axis=1)))
    return found


def _placed(screw: Screw, one: _Judged, system: str) -> Placed:
    own = [i for i, limits in enumerate(one.able.limits) if system_of(limits.series) == system]
    if not own:
        return Placed(screw.part, None, ())
    log_share = one.log_classes[own]
    share = np.exp(log_share - np.logaddexp.reduce(log_share))
    ranked = sorted(zip(own, share.tolist(), strict=True), key=lambda pair: -pair[1])
    limits = one.able.limits
    return Placed(screw.part, limits[ranked[0][0]], tuple((limits[i].designation, p) for i, p in ranked))


def _odd_one(screw: Screw, one: _Judged, probability: float, *, other: bool) -> OddOne:
    if not one.log_classes.size:
        return OddOne(screw.part, probability, None, "", other)
    shares = {name: commonness_of(name).on_bench for name in dict.fromkeys(c.series for c in one.able.limits)}
    log_all = one.log_classes + np.log([shares[limits.series] for limits in one.able.limits])
    best = int(np.argmax(log_all))
    fits = float(np.logaddexp.reduce(one.log_density[:-1, 0])) > one.log_none
    return OddOne(screw.part, probability, one.able.limits[best] if fits else None, one.conditions[best], other)


def one_thread_each(placed: Sequence[Placed]) -> dict[str, list[int]]:
    """Indices of the screws of each thread, by its name, in the order in which they come."""
    first: dict[str, Limits] = {}
    found: dict[str, list[int]] = {}
    for index, one in enumerate(placed):
        if one.limits is None:
            continue
        name = next((n for n, limits in first.items() if same_thread(limits, one.limits)), thread_name(one.limits))
        first.setdefault(name, one.limits)
        found.setdefault(name, []).append(index)
    return found


__all__ = [
    "CommonErrors", "Covariance", "InstrumentFound", "OddOne", "Placed", "Screw", "SystemShare", "judge_together",
    "one_thread_each", "systems_now",
]  # fmt: skip
