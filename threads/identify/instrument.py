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
from collections.abc import Hashable, Sequence
from dataclasses import dataclass, replace

import numpy as np
import numpy.typing as npt

from threads.identify.commonness import commonness_of
from threads.identify.screw_evidence import (
    Screw,
    ScrewEvidence,
    evidence_of_screw,
    log_prior_of_systems,
    series_of,
    systems_now,
)
from threads.identify.stated import Stated
from threads.identify.systems import system_of
from threads.identify.thread_share import same_thread, thread_name
from threads.own.own_folder import edition
from threads.standards.limits import Limits

Array = npt.NDArray[np.float64]

REPLACED = 0.1
"""Share of screws in an old instrument that are no longer the maker's (workshop assumption; may be changed)."""

DRAWS = 200
"""Draws of the errors common to a bench: the mean over them is good to a few per cent of a probability."""

LEAST_SCREWS = 3
"""With fewer measured screws there is an answer, and a note that it is one of few."""

ODD_FROM = 0.8
"""A screw is called an odd one out from this probability on."""

NONE = "no system"
_NOT_KEPT = np.empty(0)


@dataclass(frozen=True)
class SystemShare:
    """A system with its probability, with origin and year and ``measurement_only`` without.

    ``series``: found in it. ``beforehand``: its share by origin and year alone, or as common as it is on a bench.
    """

    system: str
    series: tuple[str, ...]
    probability: float
    measurement_only: float
    beforehand: float = 0.0


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
        few: fewer than ``LEAST_SCREWS``. replaced: the share of screws no longer the maker's that was assumed.
        stated: what a document or a person says of the instrument. dated: its country or year was given.
    """

    systems: tuple[SystemShare, ...]
    odd: tuple[OddOne, ...]
    odd_probability: tuple[float, ...]
    placed: tuple[Placed, ...]
    grown: Array
    few: bool
    replaced: float = REPLACED
    stated: Stated | None = None
    dated: bool = False


def judge_together(
    screws: Sequence[Screw],
    *,
    origin: str | None = None,
    made: tuple[int, int] | None = None,
    replaced: float = REPLACED,
    common: bool = True,
    seed: int = 1949,
    stated: Stated | None = None,
) -> InstrumentFound:
    """Judge all screws of one instrument together.

    Args:
        screws: each part once; none of them a hole.
        origin: country where the instrument was made.
        made: first and last year in which it can have been made.
        replaced: share of screws that are no longer the maker's, more than 0 and less than 1.
        common: take errors common to a bench as common.
        seed: of the draws.
        stated: what a document or a person says of the instrument's threads; its series' system gains by its weight.

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
    plain_prior = log_prior_of_systems(names, None, None)
    plainly: list[tuple[Hashable, Array]] = []
    judged = []
    for screw in screws:
        bench = screw.common.bench if screw.common is not None and common else ("alone", screw.part)
        if bench not in draws:
            draws[bench] = _draws(rng)
        of_screw = evidence_of_screw(screw, draws[bench], names, plain_prior, common=common, origin=origin, made=made)
        plainly = list(_by_bench([*plainly, (bench, _mixed(of_screw.log_density_alone, replaced))]).items())
        judged.append((bench, replace(of_screw, log_density_alone=_NOT_KEPT)))  # of hundreds of screws it is much
    dated = origin is not None or made is not None
    prior = log_prior_of_systems(names, origin, made) if dated else plain_prior
    beforehand = np.exp(prior)
    if stated is not None:
        gain = np.array([math.log(stated.weight) if name == system_of(stated.series) else 0.0 for name in names])
        prior = prior + gain - np.logaddexp.reduce(prior + gain)
    mixed = [(bench, _mixed(one.log_density, replaced)) for bench, one in judged]
    grown = _grown(prior, mixed)
    posterior = grown[-1]
    alone = _grown(plain_prior, plainly)[-1] if dated or stated is not None else posterior
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
                tuple(sorted(s for s in series_of(names[i]) if i != order[0] or s in used)),
                float(posterior[i]),
                float(alone[i]),
                float(beforehand[i]),
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
        replaced=replaced,
        stated=stated,
        dated=dated,
    )


def _draws(rng: np.random.Generator) -> Array:
    """(k, 4): scale, offset, light in standard deviations, and how much of a one-sided effect, even over 0 to 1."""
    return np.column_stack([rng.standard_normal((DRAWS, 3)), rng.random(DRAWS)])


def _mixed(log_density: Array, replaced: float) -> Array:
    """(m, k): a screw of the system's maker, or any other."""
    return np.asarray(np.logaddexp(math.log1p(-replaced) + log_density[:-1], math.log(replaced) + log_density[-1:]))


def _grown(log_prior: Array, mixed: Sequence[tuple[Hashable, Array]]) -> Array:
    """(n + 1, m) posterior over systems after 0, 1, ... n screws."""
    product: dict[Hashable, Array] = {}
    log_mean: dict[Hashable, Array] = {}
    log_posterior = [np.array(log_prior)]
    for bench, one in mixed:
        product[bench] = product[bench] + one if bench in product else one
        log_mean[bench] = np.logaddexp.reduce(product[bench], axis=1) - math.log(one.shape[1])
        log_posterior.append(log_prior + np.sum(list(log_mean.values()), axis=0))
    grown = np.array(log_posterior)
    return np.exp(grown - np.logaddexp.reduce(grown, axis=1, keepdims=True))


def _by_bench(mixed: Sequence[tuple[Hashable, Array]]) -> dict[Hashable, Array]:
    """Of each bench the log of the product over its screws, (m, k)."""
    product: dict[Hashable, Array] = {}
    for bench, one in mixed:
        product[bench] = product[bench] + one if bench in product else one
    return product


def _odd_probabilities(
    judged: Sequence[tuple[Hashable, ScrewEvidence]],
    mixed: Sequence[tuple[Hashable, Array]],
    posterior: Array,
    replaced: float,
) -> list[float]:
    product = _by_bench(mixed)
    found = []
    for (bench, one), (_, both) in zip(judged, mixed, strict=True):
        log_draw = product[bench] - np.logaddexp.reduce(product[bench], axis=1, keepdims=True)
        log_odd = math.log(replaced) + one.log_density[-1:] - both
        found.append(float(posterior @ np.sum(np.exp(log_draw + log_odd), axis=1)))
    return found


def _placed(screw: Screw, one: ScrewEvidence, system: str) -> Placed:
    own = [i for i, limits in enumerate(one.able.limits) if system_of(limits.series) == system]
    if not own:
        return Placed(screw.part, None, ())
    log_share = one.log_classes[own]
    share = np.exp(log_share - np.logaddexp.reduce(log_share))
    ranked = sorted(zip(own, share.tolist(), strict=True), key=lambda pair: -pair[1])
    limits = one.able.limits
    return Placed(screw.part, limits[ranked[0][0]], tuple((limits[i].designation, p) for i, p in ranked))


def _odd_one(screw: Screw, one: ScrewEvidence, probability: float, *, other: bool) -> OddOne:
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
