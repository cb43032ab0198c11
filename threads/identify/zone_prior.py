"""How well a measured thread agrees with the tolerance zones of many candidates at once.

For a candidate (series, size, class) the part's true dimensions are drawn as follows; the measurement then adds its
errors, with their full covariance:

* major and pitch diameter: uniform over the zone of the class. A share ``STATES["worn"]`` of the parts has lost an
  exponentially distributed amount since, a share ``STATES["plated"]`` has gained one.
* pitch: normal about the standard's with ``PITCH_SPREAD``; flank angles: normal about the form's, each flank by itself,
  with ``FLANK_SPREAD``. No standard limits either: taps and dies are that far off.
* crest, root, and depth of the root below the pitch line: ``shape_prior``. Standards set at most a greatest minor
  diameter, and tools vary, so that a form gains little on another; a root too shallow for that limit is rare.

Written ``x`` for the diameters and ``z`` for pitch and flank angles, the evidence of a candidate is

    N(z measured - z nominal; 0, S_zz + T) * integral over x of  prior(x) N(x; c, C)

with c and C mean and covariance of x given z, times the factors of shape and taper. The integral over the major
diameter is closed (a uniform density, with or without an exponential added, against a normal one); the one over the
pitch diameter is by Gauss-Legendre points between the corners of the prior. Only candidates that can matter are
integrated: an upper bound of the integral, closed as well, tells which (``log_evidence``). An effect that is known in
direction only (``Quantity.one_sided``) is integrated over 0 to its bound; it is one and the same effect on both
diameters.

The zone of the pitch diameter is taken as that of the simple pitch diameter. All spreads here are workshop assumptions
without a published source, except where one is named.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from functools import cache

import numpy as np
import numpy.typing as npt

from threads.identify.shape_prior import LEAST_ROOT_DEPTH, Shape, log_normal, log_not_too_shallow, log_shape
from threads.measured.thread import MeasuredThread
from threads.rules import workshop_band
from threads.rules.forms import FORMS
from threads.shared.normal import ndtr, over_density
from threads.standards.limits import Limits

Array = npt.NDArray[np.float64]
Truths = npt.NDArray[np.bool_]

STATES = {"as made": 0.84, "worn": 0.12, "plated": 0.04}
"""Share of screws that are as made, worn below what they were, or grown by plating (or cut too large)."""

WEAR = (0.030, 0.020)
"""Mean loss of a worn screw, mm: major diameter (crests suffer most), pitch diameter."""

PLATING = (0.008, 0.016)
"""Mean growth of a plated screw, mm: a coat of 4 um adds 2 coats to the major diameter and, on 60 degree flanks, 4
coats to the pitch diameter."""

PITCH_SPREAD = 0.0015
"""Relative standard deviation of the pitch of screws. Commercial taps are allowed 0.003 in. per inch (Machinery's
Handbook, 31st ed., p. 1001), taken as two standard deviations."""

FLANK_SPREAD = 0.75
"""Standard deviation of a flank angle of screws, degrees: +-1.5 degrees for 95 %. Commercial taps of 30 and more
threads per inch are allowed +-1 degree (Machinery's Handbook, 31st ed., p. 1001); dies are not better."""

TAPER_SPREAD = 3.0
"""Standard deviation of the taper of a thread that is meant to be parallel, um/mm."""

LEAST_WIDTH = 0.001
"""A zone narrower than this, mm, counts as that wide: no die keeps to less, whatever an own series says."""

REST = ("pitch", "flank_angle_left", "flank_angle_right")
DIAMETERS = ("major_diameter", "pitch_diameter")

_TAIL = 15.0  # exponential tails are cut where they have fallen to e^-15
_REACH = 8.0  # and the normal density of the measurement at 8 standard deviations
_NEGLIGIBLE = 20.0  # candidates that cannot come to e^-20 of the best are not integrated: only their order matters
_FIRST = 6  # as many candidates, those with the greatest bounds, tell how good the best is
_POINTS = 16
_SHIFT_POINTS = 16


@dataclass(frozen=True)
class Zones:
    """The candidates as arrays, n long.

    Attributes:
        low, high: (n, 2) least and greatest major and pitch diameter, mm.
        pitch: mm. flank: half angle, degrees. root: the usual root depth, in pitches.
        rounded_crest, rounded_root: whether the form asks for a rounding.
        minor_high: greatest minor diameter, mm, inf where there is none.
    """

    low: Array
    high: Array
    pitch: Array
    flank: Array
    root: Array
    rounded_crest: Truths
    rounded_root: Truths
    minor_high: Array

    def take(self, which: npt.NDArray[np.intp]) -> Zones:
        """Those candidates alone."""
        return Zones(*(array[which] for array in vars(self).values()))


@dataclass(frozen=True)
class Observation:
    """What identification uses of a measured thread.

    Attributes:
        diameters: (2,) major and pitch diameter, mm; ``shift``: (2,) by how much more the truth may be, mm.
        rest: (3,) pitch (mm) and both flank angles (degrees).
        covariance: (5, 5) of diameters and rest, in this order.
        shape: crest, root, and depth of the root.
        taper, taper_u: um/mm.
        minor, minor_u: minor diameter and its standard uncertainty, mm.
    """

    diameters: Array
    shift: Array
    rest: Array
    covariance: Array
    shape: Shape
    taper: float
    taper_u: float
    minor: float
    minor_u: float


def zones_of(candidates: tuple[Limits, ...]) -> Zones:
    """The candidates' limits as arrays, in the same order.

    Raises:
        ValueError: a candidate has no limits of major or pitch diameter.
    """
    edges = [(c.major.low, c.pitch_diameter.low, c.major.high, c.pitch_diameter.high) for c in candidates]
    known = [edge for edge in edges if None not in edge]
    if len(known) < len(edges):
        missing = next(c.designation for c, edge in zip(candidates, edges, strict=True) if None in edge)
        raise ValueError(f"{missing} has no limits of major or pitch diameter: it cannot be a candidate")
    table = np.array(known, dtype=float).reshape(-1, 4)
    narrow = np.maximum(LEAST_WIDTH - (table[:, 2:] - table[:, :2]), 0.0) / 2
    forms = [FORMS[c.form] for c in candidates]
    return Zones(
        low=table[:, :2] - narrow,
        high=table[:, 2:] + narrow,
        pitch=np.array([c.pitch for c in candidates]),
        flank=np.array([form.flank_angle_deg for form in forms]),
        root=np.array([max((c.basic_pitch_diameter - c.basic_minor) / c.pitch, LEAST_ROOT_DEPTH) for c in candidates]),
        rounded_crest=np.array([form.rounded_crest for form in forms], dtype=bool),
        rounded_root=np.array([form.rounded_root for form in forms], dtype=bool),
        minor_high=np.array([math.inf if (high := greatest_minor(c)) is None else high for c in candidates]),
    )


def greatest_minor(limits: Limits) -> float | None:
    """The greatest minor diameter that a standard allows, mm; None where only the workshop's own band limits it."""
    return None if limits.thread_class == workshop_band.CLASS else limits.minor.high


def observation_of(thread: MeasuredThread) -> Observation:
    """Pick what identification needs.

    Raises:
        ValueError: the covariance lacks one of the quantities, or the thread is that of a hole: the zones here are
            those of screws.
    """
    if thread.internal:
        raise ValueError("only screws are compared with the series, not the threads of holes")
    both = thread.major_diameter, thread.pitch_diameter
    pitch = thread.pitch.value
    depth = (thread.pitch_diameter.value - thread.minor_diameter.value) / pitch
    slope = np.array([1.0, -1.0, -depth]) / pitch
    depth_covariance = thread.covariance.of(("pitch_diameter", "minor_diameter", "pitch"))
    return Observation(
        diameters=np.array([q.value for q in both]),
        shift=np.array([q.one_sided for q in both]),
        rest=np.array([pitch, thread.flank_angle_left.value, thread.flank_angle_right.value]),
        covariance=thread.covariance.of(DIAMETERS + REST),
        shape=Shape(
            flat_crest=thread.flat_crest,
            flat_root=thread.flat_root,
            root_depth=depth,
            root_depth_u=math.sqrt(max(0.0, float(slope @ depth_covariance @ slope))),
        ),
        taper=thread.taper.value,
        taper_u=thread.taper.standard_uncertainty,
        minor=thread.minor_diameter.value,
        minor_u=thread.minor_diameter.standard_uncertainty,
    )


def log_evidence(
    zones: Zones, reading: Observation, log_prior: Array | None = None, log_floor: float = -math.inf
) -> Array:
    """Log density of the measurement under each candidate and state, (n, 3) in the order of ``STATES``.

    The density is in the measured quantities: major, pitch diameter and pitch in mm, flank angles in degrees, root
    depth in pitches, taper in um/mm, and the probability of the shapes seen. It includes the state's share.

    Args:
        zones: the candidates.
        reading: the measurement.
        log_prior: (n,) log of their prior probabilities, all alike if None; it decides with the density which of them
            can matter, but is not in the result.
        log_floor: log of prior times density of something else that competes with them.

    A candidate whose prior times density lies below e^-20 of the best (or of the floor) gets an upper bound of its
    density instead. Bound and density differ by little where it lies outside its zone on one diameter.
    """
    weight = np.zeros(zones.pitch.size) if log_prior is None else log_prior
    log_other, centre, covariance = log_but_diameters(zones, reading)
    result = log_other + log_most(zones, centre, covariance, reading.shift)[:, None]
    most = weight + np.logaddexp.reduce(result, axis=1)
    order = np.argsort(-most, kind="stable")
    floor = log_floor
    for batch in (order[:_FIRST], order[_FIRST:]):
        near = batch[most[batch] > floor - _NEGLIGIBLE]
        if near.size:
            density = _integral(zones.low[near], zones.high[near], centre[near], covariance[near], reading.shift)
            exact = log_other[near] + np.log(np.maximum(density, 1e-280))
            result[near] = np.where(density > 1e-280, exact, np.minimum(result[near], exact))
            floor = max(floor, float(np.max(weight[near] + np.logaddexp.reduce(result[near], axis=1))))
    return result


def log_but_diameters(zones: Zones, reading: Observation) -> tuple[Array, Array, Array]:
    """Log density of all but the diameters, (n, 3) with the states' shares; mean and covariance as ``condition``."""
    log_rest, centre, covariance = condition(zones.pitch, zones.flank, reading)
    log_other = log_shape(reading.shape, zones.rounded_crest, zones.rounded_root, zones.root) + log_taper(reading)
    log_other += log_not_too_shallow(reading.minor, reading.minor_u, zones.minor_high)[:, None]
    return log_other + (log_rest[:, None] + np.log([*STATES.values()])), centre, covariance


def log_taper(reading: Observation) -> float:
    """Log density of the taper of a thread that is meant to be parallel."""
    return float(log_normal(reading.taper, 0.0, TAPER_SPREAD, reading.taper_u))


def condition(pitch: Array, flank: Array, reading: Observation) -> tuple[Array, Array, Array]:
    """The measured pitch and flank angles as evidence on n candidates of nominal ``pitch`` (mm) and ``flank`` (deg).

    Returns:
        Log density of pitch and angles, (n,); mean (n, 2) and covariance (n, 2, 2) of the true diameters given these.
    """
    offset = reading.rest - np.column_stack([pitch, flank, flank])
    cross = reading.covariance[:2, 2:]
    # The candidates' covariances differ in the variance of the pitch alone: one inverse, and for each what it has more
    # than the least (Sherman and Morrison).
    variance = np.square(PITCH_SPREAD * pitch)
    least = variance.min(initial=math.inf) if variance.size else 0.0
    common = reading.covariance[2:, 2:] + np.diag([least, FLANK_SPREAD**2, FLANK_SPREAD**2])
    inverse = np.linalg.inv(common)
    more = 1.0 + (variance - least) * inverse[0, 0]
    taken = (variance - least) / more
    weights = offset @ inverse - (taken * (offset @ inverse[0]))[:, None] * inverse[0]
    log_density = -0.5 * (
        np.einsum("ni,ni->n", offset, weights) + np.log(more) + np.linalg.slogdet(common)[1] + 3 * math.log(2 * math.pi)
    )
    of_pitch = cross @ inverse[0]
    gained = cross @ inverse @ cross.T - taken[:, None, None] * np.outer(of_pitch, of_pitch)
    centre = reading.diameters - weights @ cross.T
    covariance = reading.covariance[:2, :2] - gained
    # A measurement whose errors are nearly all common leaves a nearly singular matrix: keep it positive by 1 nm.
    return log_density, centre, covariance + 1e-12 * np.eye(2)


def log_most(zones: Zones, centre: Array, covariance: Array, shift: Array) -> Array:
    """Log of an upper bound, (n,), of the density of the diameters in every state.

    No state has a density above 1 / width on either diameter. So the integral is at most 1 / width of the one times the
    density of the other alone; and that is at most 1 / width times the probability that wear (or plating) and the error
    of measurement together reach from the zone to the measured value. The lesser of the two ways is the bound.
    """
    u = np.sqrt(np.diagonal(covariance, axis1=1, axis2=2))
    largest, least = centre + np.maximum(shift, 0.0), centre + np.minimum(shift, 0.0)
    reached = [
        np.minimum(
            _lost_more_than(zones.low[:, k] - largest[:, k], WEAR[k], u[:, k]),
            _lost_more_than(least[:, k] - zones.high[:, k], PLATING[k], u[:, k]),
        )
        for k in range(2)
    ]
    return np.asarray(np.log(np.maximum(np.minimum(*reached), 1e-300) / np.prod(zones.high - zones.low, axis=1)))


def _integral(low: Array, high: Array, centre: Array, covariance: Array, shift: Array) -> Array:
    """Density of the measured diameters under each state, (n, 3), without the state's share."""
    u_pitch_diameter = np.sqrt(covariance[:, 1, 1])
    slope = covariance[:, 0, 1] / covariance[:, 1, 1]
    u_major = np.sqrt(np.maximum(covariance[:, 0, 0] - slope * covariance[:, 0, 1], 1e-12))
    points, weights = _gauss(_POINTS)
    if np.any(shift):
        share, share_weights = _gauss(_SHIFT_POINTS)
    else:
        share, share_weights = np.zeros(1), np.ones(1)
    middle = centre[:, None, :] + share[None, :, None] * shift
    corners = np.stack([low[:, 1] - _TAIL * WEAR[1], low[:, 1], high[:, 1], high[:, 1] + _TAIL * PLATING[1]], axis=1)
    reach = _REACH * u_pitch_diameter[:, None, None]
    edges = np.clip(corners[:, None, :], middle[..., 1:] - reach, middle[..., 1:] + reach)
    # One row for each candidate, share of the one-sided effect and segment of the prior that the measurement reaches.
    which, share_of, segment = np.nonzero(np.diff(edges, axis=2) > 0.0)
    start, length = (array[which, share_of, segment][:, None] for array in (edges[..., :-1], np.diff(edges, axis=2)))
    x = start + length * points
    at = middle[which, share_of]
    measured = np.exp(log_normal(x, at[:, 1:], u_pitch_diameter[which, None])) * length * weights
    measured *= share_weights[share_of, None]
    major = at[:, :1] + slope[which, None] * (x - at[:, 1:])
    density = np.zeros((low.shape[0], len(STATES)))
    for state, (prior, blurred, reached) in enumerate(_PRIORS):
        rows = np.flatnonzero((segment >= reached[0]) & (segment <= reached[1]))
        i = which[rows]
        edge = low[i, :, None], high[i, :, None]
        value = prior(x[rows], edge[0][:, 1], edge[1][:, 1]) * blurred(
            major[rows], edge[0][:, 0], edge[1][:, 0], u_major[i, None]
        )
        density[:, state] = np.bincount(i, np.sum(measured[rows] * value, axis=1), minlength=low.shape[0])
    return density


def apart_densities(diameters: Array, low: Array, high: Array, u: Array) -> Array:
    """Density of both diameters in each state, their errors taken as independent of each other.

    For many shifted readings of one screw at once, where ``log_evidence`` is exact for one. Errors of one bench, which
    join the diameters most, are not in it: they are in the shifts.

    Args:
        diameters: (k, 2) major and pitch diameter of each of k readings, mm.
        low: (n, 2) least diameters of n candidates.
        high: (n, 2) greatest diameters.
        u: (n, 2) standard uncertainties.

    Returns:
        (n, k, 3) in the order of ``STATES``, without the state's share.
    """
    x = diameters[None, :, :]
    low, high, u = low[:, None, :], high[:, None, :], u[:, None, :]
    states = []
    for blurred, means in ((_made_blurred, None), (_worn_blurred, WEAR), (_plated_blurred, PLATING)):
        both = [
            blurred(x[..., i], low[..., i], high[..., i], u[..., i], *(() if means is None else (means[i],)))
            for i in range(2)
        ]
        states.append(both[0] * both[1])
    return np.stack(states, axis=2)


@cache
def _gauss(points: int) -> tuple[Array, Array]:
    """Gauss-Legendre points and weights of the interval 0 to 1."""
    x, weights = np.polynomial.legendre.leggauss(points)
    return (x + 1) / 2, weights / 2


def _made(x: Array, low: Array, high: Array) -> Array:
    return np.where((x >= low) & (x <= high), 1.0 / (high - low), 0.0)


def _worn(x: Array, low: Array, high: Array) -> Array:
    """Density of (uniform - exponential) pitch diameters."""
    s = WEAR[1]
    inside = np.exp(-np.maximum(low - x, 0.0) / s) - np.exp(-np.maximum(high - x, 0.0) / s)
    return np.where(x <= high, inside, 0.0) / (high - low)


def _plated(x: Array, low: Array, high: Array) -> Array:
    """Density of (uniform + exponential) pitch diameters."""
    s = PLATING[1]
    inside = np.exp(-np.maximum(x - high, 0.0) / s) - np.exp(-np.maximum(x - low, 0.0) / s)
    return np.where(x >= low, inside, 0.0) / (high - low)


def _made_blurred(m: Array, low: Array, high: Array, u: Array) -> Array:
    """Density of a uniform major diameter measured with standard uncertainty u."""
    # Both tails are small numbers: subtract the small ones, not numbers next to one.
    sign = np.where(2 * m > low + high, -1.0, 1.0)
    near, far = np.where(sign > 0, low, high), np.where(sign > 0, high, low)
    return (ndtr(sign * (far - m) / u) - ndtr(sign * (near - m) / u)) / (high - low)


def _worn_blurred(m: Array, low: Array, high: Array, u: Array, s: float = WEAR[0]) -> Array:
    """The same, worn: survival function of (exponential + normal) between the two edges; ``s``: mean loss."""
    return np.maximum(_lost_more_than(low - m, s, u) - _lost_more_than(high - m, s, u), 0.0) / (high - low)


def _plated_blurred(m: Array, low: Array, high: Array, u: Array, s: float = PLATING[0]) -> Array:
    """The same, plated: the mirror image of worn; ``s``: mean growth."""
    return np.maximum(_lost_more_than(m - high, s, u) - _lost_more_than(m - low, s, u), 0.0) / (high - low)


def _lost_more_than(w: Array, s: float, u: Array) -> Array:
    """P(exponential of mean s + normal of standard deviation u > w); exact, derived here by parts."""
    # The second part is exp(-w/s + (u/s)^2/2) * ndtr(z): below z = 0 the squares are joined, for each alone is large.
    a = w / u
    z = a - u / s
    tail = np.exp(-0.5 * a * a)
    normal = tail * over_density(np.abs(a))
    second = tail * over_density(np.abs(z))
    whole = np.exp(np.minimum(0.5 * np.square(u / s) - w / s, 0.0))
    return np.where(a > 0, normal, 1 - normal) + np.where(z > 0, whole - second, second)


_PRIORS = ((_made, _made_blurred, (1, 1)), (_worn, _worn_blurred, (0, 1)), (_plated, _plated_blurred, (1, 2)))
"""For each state the density of the pitch diameter, that of the measured major diameter, and the first and the last
segment of the pitch diameter (below, in and above the zone) where it is not zero."""
