"""What competes for a measured thread: every size of the series, and those of them that can matter.

The limits of a size are computed only when its pitch and flank angle come near those of a measured thread. A size is
left out where even the most favourable zone could not lift it to e^-26 of the hypothesis "no series in the tables"
(``sizes_within_reach``), so that nothing with a noticeable probability is lost.

Here every series counts alike, and within a series every size: a series with hundreds of special sizes makes none of
them as likely as one of the few sizes of another. How common the series are comes in on top (``commonness``). The
shares of the classes within a size follow common practice (``CLASS_SHARE``).
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from functools import cache

import numpy as np
import numpy.typing as npt

from threads.identify import no_standard
from threads.identify.provenance import TAKEN_OVER, Provenance, weigh, weigh_taken_over
from threads.identify.shape_prior import log_root_depth
from threads.identify.zone_prior import Observation, Zones, condition, log_taper, zones_of
from threads.own.own_folder import Edition
from threads.rules.forms import FORMS
from threads.rules.series_tables import Entry
from threads.standards.designation import designation_of
from threads.standards.limits import Limits, limits_of
from threads.standards.series import entries, series_info, series_names

Array = npt.NDArray[np.float64]
Indices = npt.NDArray[np.intp]

CLASS_SHARE = {
    "1A": 0.05, "2A": 0.80, "3A": 0.15,
    "1": 0.15, "2": 0.55, "3": 0.30,
    "4h": 0.08, "6e": 0.07, "6g": 0.70, "6h": 0.15,
    "normal": 0.70, "close": 0.30, "medium": 0.60, "free": 0.20,
}  # fmt: skip
"""How common the classes of one size are (common practice, no source); a class not named here counts ``OTHER_CLASS``.
They are scaled to sum to 1 over the classes that a size has."""
OTHER_CLASS = 0.05
SMALL_METRIC, USUAL_WHEN_SMALL = 1.5, {"6g": "6h", "6h": "6g"}
"""Below M1.6 the usual class of ISO metric screws is 6h (ISO 965-1): there 6g and 6h change places."""

_HOPELESS = 26.0  # a size that cannot come to e^-26 of "no series" is left out; commonness lifts by e^3.5 at most


@dataclass(frozen=True)
class Field:
    """The sizes that compete, m long.

    Attributes:
        entries: the sizes.
        pitch, major: basic sizes, mm. flank: half angle, degrees. log_prior: log of each size's prior probability.
        taken_over: name of the later series that took the size over unchanged (``provenance.TAKEN_OVER``), or None.
    """

    entries: tuple[Entry, ...]
    pitch: Array
    major: Array
    flank: Array
    log_prior: Array
    taken_over: tuple[str | None, ...]


@dataclass(frozen=True)
class Competitors:
    """Candidates, n long: their limits, the same as arrays, log of the prior probability, index of the size of each."""

    limits: tuple[Limits, ...]
    zones: Zones
    log_prior: Array
    size: Indices


def field_of(entries: tuple[Entry, ...]) -> Field:
    """The sizes ``entries`` as competitors, less those that have no external class.

    Each series counts alike, and within it each size.
    """
    entries = tuple(entry for entry in entries if entry.classes)
    sizes: dict[str, int] = {}
    for entry in entries:
        sizes[entry.series] = sizes.get(entry.series, 0) + 1
    share = [1.0 / (len(sizes) * sizes[entry.series]) for entry in entries]
    of_nominal: dict[tuple[float, float], set[str]] = {}
    for entry in entries:
        of_nominal.setdefault(_nominal(entry), set()).add(entry.series)
    return Field(
        entries=entries,
        pitch=np.array([entry.pitch_mm for entry in entries]),
        major=np.array([entry.major_mm for entry in entries]),
        flank=np.array([FORMS[entry.form].flank_angle_deg for entry in entries]),
        log_prior=np.log((1.0 - no_standard.PRIOR) * np.array(share)),
        taken_over=tuple(
            next((name for name in TAKEN_OVER.get(entry.series, ()) if name in of_nominal[_nominal(entry)]), None)
            for entry in entries
        ),
    )


@cache
def field_now(series: tuple[str, ...], _edition: Edition) -> Field:
    """The sizes of these series, prepared once for each state of the workshop's own series. No names: all series."""
    names = dict.fromkeys(series_info(name).name for name in series or series_names())
    return field_of(tuple(entry for name in names for entry in entries(name)))


def sizes_within_reach(field: Field, reading: Observation, log_none: float) -> Indices:
    """Indices of the sizes that can matter, by pitch and flank angles alone.

    However its zone lies, the density of the diameters is at most the peak of the measurement's own density, and that
    of shape and taper at most what they would be if both were as usual as can be.

    Args:
        field: the sizes.
        reading: the measurement.
        log_none: log of prior times density of "no series in the tables".
    """
    log_rest, _, covariance = condition(field.pitch, field.flank, reading)
    determinant = covariance[:, 0, 0] * covariance[:, 1, 1] - np.square(covariance[:, 0, 1])
    log_peak = -math.log(2 * math.pi) - 0.5 * np.log(np.maximum(determinant, 1e-24))  # (1 nm)^4, see condition
    shape = reading.shape
    log_rest += log_taper(reading) + log_root_depth(shape, np.array(shape.root_depth))
    return np.flatnonzero(field.log_prior + log_rest + log_peak > log_none - _HOPELESS)


def sizes_by_distance(field: Field, reading: Observation) -> Indices:
    """Indices of the sizes, nearest first as a person looks for a size.

    5 % of major diameter, 5 % of pitch and 3 degrees of flank angle weigh alike.
    """
    major = np.log(reading.diameters[0] / field.major)
    pitch = np.log(reading.rest[0] / field.pitch)
    flank = reading.rest[1:].mean() - field.flank
    distance = np.square(major / 0.05) + np.square(pitch / 0.05) + np.square(flank / 3.0)
    return np.argsort(distance, kind="stable")


def competitors_of(field: Field, sizes: Indices) -> Competitors:
    """The classes of the sizes with these indices, in that order."""
    found = [_classes_of(field.entries[i]) for i in sizes]
    columns = zip(*(vars(zones).values() for _, zones, _ in found), strict=True)
    log_shares = [field.log_prior[i] + share for i, (_, _, share) in zip(sizes, found, strict=True)]
    return Competitors(
        limits=tuple(one for limits, _, _ in found for one in limits),
        zones=Zones(*(np.concatenate(column) for column in columns)),
        log_prior=np.concatenate(log_shares),
        size=np.repeat(sizes, [len(limits) for limits, _, _ in found]),
    )


def provenance_of(
    field: Field, able: Competitors, origin: str | None, made: tuple[int, int] | None
) -> list[Provenance]:
    """The evidence of origin and year for each candidate."""
    of_series = weigh(tuple(dict.fromkeys(one.series for one in able.limits)), origin, made)
    taken_over: dict[tuple[str, str], Provenance] = {}
    found = []
    for size, limits in zip(able.size.tolist(), able.limits, strict=True):
        by = field.taken_over[size]
        if by is None:
            found.append(of_series[limits.series])
            continue
        key = limits.series, by
        if key not in taken_over:
            taken_over[key] = weigh_taken_over(*key, origin, made)
        found.append(taken_over[key])
    return found


def class_shares(of_size: Sequence[Limits]) -> Array:
    """How common the classes of one size are, (n,); they sum to 1."""
    share = np.array([_class_share(one) for one in of_size])
    return np.asarray(share / share.sum())


@cache
def _classes_of(entry: Entry) -> tuple[tuple[Limits, ...], Zones, Array]:
    """Limits of each class of a size, the same as arrays, and log of the share of each class."""
    limits = tuple(limits_of(designation_of(entry, name, internal=False)) for name in entry.classes)
    return limits, zones_of(limits), np.log(class_shares(limits))


def _nominal(entry: Entry) -> tuple[float, float]:
    return round(entry.major_mm, 4), round(entry.pitch_mm, 5)


def _class_share(limits: Limits) -> float:
    usual = limits.thread_class
    if limits.form == "ISO metric" and limits.basic_major < SMALL_METRIC:
        usual = USUAL_WHEN_SMALL.get(usual, usual)
    return CLASS_SHARE.get(usual, OTHER_CLASS)
