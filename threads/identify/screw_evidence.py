"""How well one screw of an instrument agrees with every thread system, for many draws of what its bench does.

``zone_prior`` integrates exactly over one reading; here the errors common to a bench are drawn (scale, edge offset,
light), and for each draw what is left of the errors is the screw's own and taken as independent on both diameters.
"""

from __future__ import annotations

import math
from collections.abc import Hashable, Mapping
from dataclasses import dataclass, replace
from functools import cache

import numpy as np
import numpy.typing as npt

from threads.identify import no_standard
from threads.identify.commonness import weights_of
from threads.identify.field import Competitors, Field, competitors_of, field_now, provenance_of, sizes_within_reach
from threads.identify.provenance import weigh
from threads.identify.systems import system_of
from threads.identify.zone_prior import (
    DIAMETERS,
    REST,
    STATES,
    Observation,
    apart_densities,
    log_but_diameters,
    observation_of,
)
from threads.measured.thread import MeasuredThread
from threads.own.own_folder import Edition, edition
from threads.standards.series import series_names

Array = npt.NDArray[np.float64]

SIZES_IN_USE = 25.0
"""A system counts as if it had so many sizes, whatever its tables list."""


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
class ScrewEvidence:
    """One screw against everything: log densities (m systems + any, k draws), and its candidates.

    ``log_density_alone``: the same without origin and year.
    """

    log_density: Array
    log_density_alone: Array
    able: Competitors
    log_classes: Array  # (n,) of each candidate within its system, for the mean of the common errors
    conditions: tuple[str, ...]
    log_none: float


@cache
def systems_now(_edition: Edition) -> tuple[str, ...]:
    """The systems that compete, the workshop's own series included where there are any."""
    return tuple(dict.fromkeys(system_of(name) for name in series_names()))


def series_of(system: str) -> tuple[str, ...]:
    """The series of a system, in the order in which series are printed."""
    return _by_system(edition()).get(system, ())


@cache
def _by_system(_edition: Edition) -> dict[str, tuple[str, ...]]:
    found: dict[str, list[str]] = {}
    for name in series_names():
        found.setdefault(system_of(name), []).append(name)
    return {system: tuple(several) for system, several in found.items()}


def evidence_of_screw(
    screw: Screw,
    draws: Array,
    names: tuple[str, ...],
    log_prior: Array,
    *,
    common: bool,
    origin: str | None,
    made: tuple[int, int] | None,
) -> ScrewEvidence:
    """One screw against all systems, ``names``, in every draw of the errors common to its bench.

    Args:
        screw: as measured.
        draws: (k, 4) scale, offset and light in standard deviations, and the share of a one-sided effect, 0 to 1.
        names: of the systems.
        log_prior: of the systems, as common as they are on a bench.
        common: take errors common to the bench as such; else they count as the screw's own.
        origin: country of the instrument.
        made: first and last year in which it can have been made.
    """
    thread, field = screw.thread, field_now((), edition())
    shared = screw.common if common else None
    reading = _own_reading(thread, shared)
    log_none = math.log(no_standard.PRIOR) + no_standard.log_density(observation_of(thread))
    able = competitors_of(field, sizes_within_reach(field, observation_of(thread), log_none))
    if not able.limits:
        nothing = np.full((len(names) + 1, draws.shape[0]), -math.inf)
        nothing[-1] = log_none
        return ScrewEvidence(nothing, nothing, able, np.zeros(0), (), log_none)
    log_other, centre, covariance = log_but_diameters(able.zones, reading)
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
    of = [system_of(one.series) for one in able.limits]
    rows = [np.flatnonzero([own == name for own in of]) for name in names]
    log_share = log_prior[:, None] + math.log(1.0 - no_standard.PRIOR)

    def of_systems(log_in: Array) -> Array:
        each = log_class + log_in[:, None]
        system = np.array([np.logaddexp.reduce(each[own], axis=0) for own in rows])  # of none: -inf
        anything = np.logaddexp(np.logaddexp.reduce(system + log_share, axis=0), log_none)
        return np.vstack([system, anything])

    mean = np.logaddexp.reduce(log_class, axis=1) - math.log(draws.shape[0])
    states = np.logaddexp.reduce(log_states, axis=1)
    return ScrewEvidence(
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
    system = {name: system_of(name) for name in names}
    members = {one: series_of(one) for one in set(system.values())}
    weights = weights_of(dict.fromkeys(s for several in members.values() for s in several))
    whole = {one: sum(weights[s].in_use for s in several) for one, several in members.items()}
    of_series = weigh(names, origin, made)
    best = {one: max(of_series[s].weight for s in names if system[s] == one) for one in members}
    out = []
    columns = able.size.tolist(), able.limits, able.log_prior, provenance_of(field, able, origin, made)
    for size, limits, log_prior, one in zip(*columns, strict=True):
        own = system[limits.series]
        log_class = float(log_prior - field.log_prior[size])
        use = weights[limits.series].in_use / whole[own] / SIZES_IN_USE
        out.append(math.log(use) + log_class + math.log(one.weight / best[own]))
    return np.array(out)


def log_prior_of_systems(names: tuple[str, ...], origin: str | None, made: tuple[int, int] | None) -> Array:
    """Log prior of the systems: how common on a bench, or where and when they were in use."""
    dated = origin is not None or made is not None
    weight = []
    for name in names:
        series = series_of(name)
        weights = weights_of(series)
        if dated:
            known = weigh(series, origin, made)
            weight.append(max(known[one].weight * weights[one].in_use for one in series))
        else:
            weight.append(max(weights[one].on_bench for one in series))
    return np.log(np.array(weight) / sum(weight))
