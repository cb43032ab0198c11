"""How well a measured thread agrees with the tolerance zones of many candidates at once.

For a candidate (series, size, class) the part's true dimensions are drawn as follows; the measurement then adds its
errors, with their full covariance:

* major and pitch diameter: uniform over the zone of the class. A share ``STATES["worn"]`` of the parts has lost an
  exponentially distributed amount since, a share ``STATES["plated"]`` has gained one.
* pitch: normal about the standard's with ``PITCH_SPREAD``; flank angles: normal about the form's, each flank by itself,
  with ``FLANK_SPREAD``. No standard limits either: taps and dies are that far off.
* depth of the root below the pitch line, in pitches: standards set at most a greatest minor diameter, and tools vary,
  so most of the density is common to all forms and a form gains no more than a factor of about 1.5 on another.

Written ``x`` for the diameters and ``z`` for pitch and flank angles, the evidence of a candidate is

    N(z measured - z nominal; 0, S_zz + T) * integral over x of  prior(x) N(x; c, C)

with c and C mean and covariance of x given z. The integral over the major diameter is closed (a uniform density, with
or without an exponential added, against a normal one); the one over the pitch diameter is by Gauss-Legendre points
between the corners of the prior. An effect that is known in direction only (``Quantity.one_sided``) is integrated
over 0 to its bound; it is one and the same effect on both diameters.

The zone of the pitch diameter is taken as that of the simple pitch diameter. All spreads here are workshop assumptions
without a published source, except where one is named.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np
import numpy.typing as npt
from scipy.special import log_ndtr, ndtr

from threads.forms import FORMS
from threads.limits import Limits
from threads.measured import MeasuredThread

Array = npt.NDArray[np.float64]

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

LEAST_ROOT_DEPTH = 0.55
"""(pitch diameter - minor diameter) / pitch that tools tend to leave: that of the basic form, but at least this. The
basic root of the Unified and ISO forms (0.433) is a limit that tools stay clear of; rounded roots come to 0.54 to
0.62."""
ROOT_DEPTH_ANY = 0.60
ROOT_SPREAD = 0.10
ROOT_SPREAD_ANY = 0.20
ROOT_SHARE = 0.3
"""Share of the tools whose root follows their form, spread by ``ROOT_SPREAD``; the others leave any root."""

TAPER_SPREAD = 3.0
"""Standard deviation of the taper of a thread that is meant to be parallel, um/mm."""

REST = ("pitch", "flank_angle_left", "flank_angle_right")
DIAMETERS = ("major_diameter", "pitch_diameter")

_TAIL = 15.0  # exponential tails are cut where they have fallen to e^-15
_REACH = 8.0  # and the normal density of the measurement at 8 standard deviations
_NEGLIGIBLE = 40.0  # candidates e^-40 below the best are not integrated: only their order matters
_POINTS = 16
_SHIFT_POINTS = 16


@dataclass(frozen=True)
class Zones:
    """The candidates as arrays, n long.

    Attributes:
        low, high: (n, 2) least and greatest major and pitch diameter, mm.
        pitch: mm. flank: half angle, degrees. root: the usual root depth, in pitches.
    """

    low: Array
    high: Array
    pitch: Array
    flank: Array
    root: Array


@dataclass(frozen=True)
class Reading:
    """What identification uses of a measured thread.

    Attributes:
        diameters: (2,) major and pitch diameter, mm; ``shift``: (2,) by how much more the truth may be, mm.
        rest: (3,) pitch (mm) and both flank angles (degrees).
        covariance: (5, 5) of diameters and rest, in this order.
        root_depth, root_depth_u: (pitch diameter - minor diameter) / pitch, and its standard uncertainty.
        taper, taper_u: um/mm.
    """

    diameters: Array
    shift: Array
    rest: Array
    covariance: Array
    root_depth: float
    root_depth_u: float
    taper: float
    taper_u: float


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
    return Zones(
        low=table[:, :2],
        high=table[:, 2:],
        pitch=np.array([c.pitch for c in candidates]),
        flank=np.array([FORMS[c.form].flank_angle_deg for c in candidates]),
        root=np.array([max((c.basic_pitch_diameter - c.basic_minor) / c.pitch, LEAST_ROOT_DEPTH) for c in candidates]),
    )


def reading_of(thread: MeasuredThread) -> Reading:
    """Pick what identification needs. Raises ValueError if the covariance lacks one of the quantities."""
    both = thread.major_diameter, thread.pitch_diameter
    pitch = thread.pitch.value
    depth = (thread.pitch_diameter.value - thread.minor_diameter.value) / pitch
    slope = np.array([1.0, -1.0, -depth]) / pitch
    depth_covariance = thread.covariance.of(("pitch_diameter", "minor_diameter", "pitch"))
    return Reading(
        diameters=np.array([q.value for q in both]),
        shift=np.array([q.one_sided for q in both]),
        rest=np.array([pitch, thread.flank_angle_left.value, thread.flank_angle_right.value]),
        covariance=thread.covariance.of(DIAMETERS + REST),
        root_depth=depth,
        root_depth_u=math.sqrt(max(0.0, float(slope @ depth_covariance @ slope))),
        taper=thread.taper.value,
        taper_u=thread.taper.standard_uncertainty,
    )


def log_evidence(zones: Zones, reading: Reading) -> Array:
    """Log density of the measurement under each candidate and state, (n, 3) in the order of ``STATES``.

    The density is in the measured quantities: major, pitch diameter and pitch in mm, flank angles in degrees, root
    depth in pitches, taper in um/mm. It includes the state's share. Candidates far from the best one get an estimate
    that keeps their order (it is below e^-40 of the best).
    """
    log_rest, centre, covariance = _condition(zones, reading)
    log_rest = log_rest + log_root(reading, zones.root) + log_normal(reading.taper, 0.0, TAPER_SPREAD, reading.taper_u)
    rough = log_rest + _rough_fit(zones, centre, covariance, reading.shift)
    result = rough[:, None] + np.log([*STATES.values()])
    near = np.flatnonzero(rough > rough.max(initial=-np.inf) - _NEGLIGIBLE)
    if near.size:
        low, high = zones.low[near], zones.high[near]
        density = _integral(low, high, centre[near], covariance[near], reading.shift)
        exact = log_rest[near, None] + np.log(np.maximum(density, 1e-280)) + np.log([*STATES.values()])
        result[near] = np.where(density > 1e-280, exact, np.minimum(result[near], exact))
    return result


def log_root(reading: Reading, usual: Array) -> Array:
    """Log density of the root depth for tools that usually leave the depths ``usual`` (n,)."""
    u = reading.root_depth_u
    own = log_normal(reading.root_depth, usual, ROOT_SPREAD, u)
    return np.logaddexp(math.log(ROOT_SHARE) + own, math.log(1 - ROOT_SHARE) + log_root_any(reading))


def log_root_any(reading: Reading) -> float:
    """Log density of the root depth when nothing is known of the form."""
    return float(log_normal(reading.root_depth, ROOT_DEPTH_ANY, ROOT_SPREAD_ANY, reading.root_depth_u))


def log_normal(value: Array | float, mean: Array | float, *spreads: Array | float) -> Array:
    """Log of the normal density with independent spreads added in quadrature."""
    variance = sum((np.square(s) for s in spreads), np.float64(0.0))
    return np.asarray(-0.5 * (np.square(np.subtract(value, mean)) / variance + np.log(2 * np.pi * variance)))


def _condition(zones: Zones, reading: Reading) -> tuple[Array, Array, Array]:
    """Log density of pitch and flank angles (n,); mean (n, 2) and covariance (n, 2, 2) of the diameters given these."""
    n = zones.pitch.size
    nominal = np.column_stack([zones.pitch, zones.flank, zones.flank])
    offset = reading.rest - nominal
    spread = np.zeros((n, 3, 3))
    spread[:, 0, 0] = np.square(PITCH_SPREAD * zones.pitch)
    spread[:, 1, 1] = spread[:, 2, 2] = FLANK_SPREAD**2
    total = reading.covariance[2:, 2:] + spread
    cross = reading.covariance[:2, 2:]
    weights = np.linalg.solve(total, offset[:, :, None])[:, :, 0]
    log_density = -0.5 * (
        np.einsum("ni,ni->n", offset, weights) + np.linalg.slogdet(total)[1] + 3 * math.log(2 * math.pi)
    )
    centre = reading.diameters - weights @ cross.T
    gain = np.linalg.solve(total, np.broadcast_to(cross.T, (n, 3, 2)))
    covariance = reading.covariance[:2, :2] - cross @ gain
    # A measurement whose errors are nearly all common leaves a nearly singular matrix: keep it positive by 1 nm.
    return log_density, centre, covariance + 1e-12 * np.eye(2)


def _rough_fit(zones: Zones, centre: Array, covariance: Array, shift: Array) -> Array:
    """Log of the diameters' evidence, roughly: -log(area) and a penalty that grows with the distance from the zone."""
    slack = 5.0 * np.sqrt(np.diagonal(covariance, axis1=1, axis2=2))
    below = np.maximum(zones.low - (centre + np.maximum(shift, 0.0) + slack), 0.0) / np.array(WEAR)
    above = np.maximum(centre + np.minimum(shift, 0.0) - slack - zones.high, 0.0) / np.array(PLATING)
    return np.asarray(-np.sum(np.log(zones.high - zones.low) + below + above, axis=1))


def _integral(low: Array, high: Array, centre: Array, covariance: Array, shift: Array) -> Array:
    """Density of the measured diameters under each state, (n, 3), without the state's share."""
    u_pitch_diameter = np.sqrt(covariance[:, 1, 1])
    slope = covariance[:, 0, 1] / covariance[:, 1, 1]
    u_major = np.sqrt(np.maximum(covariance[:, 0, 0] - slope * covariance[:, 0, 1], 1e-12))
    points, weights = np.polynomial.legendre.leggauss(_POINTS)
    if np.any(shift):
        share, share_weights = np.polynomial.legendre.leggauss(_SHIFT_POINTS)
        share, share_weights = (share + 1) / 2, share_weights / 2
    else:
        share, share_weights = np.zeros(1), np.ones(1)
    # Axes from here on: candidate, share of the one-sided effect, segment of the prior, point.
    middle = (centre[:, None, :] + share[None, :, None] * shift)[:, :, None, None, :]
    corners = np.stack([low[:, 1] - _TAIL * WEAR[1], low[:, 1], high[:, 1], high[:, 1] + _TAIL * PLATING[1]], axis=1)
    corners = corners[:, None, :, None]
    wide = _column(u_pitch_diameter)
    start = np.clip(corners[:, :, :-1], middle[..., 1] - _REACH * wide, middle[..., 1] + _REACH * wide)
    end = np.clip(corners[:, :, 1:], middle[..., 1] - _REACH * wide, middle[..., 1] + _REACH * wide)
    x = start + (end - start) * (points + 1) / 2
    measured = np.exp(log_normal(x, middle[..., 1], wide)) * (end - start) * weights / 2
    major = middle[..., 0] + _column(slope) * (x - middle[..., 1])
    per_state = [
        prior(x, _column(low[:, 1]), _column(high[:, 1]))
        * blurred(major, _column(low[:, 0]), _column(high[:, 0]), _column(u_major))
        for prior, blurred in ((_made, _made_blurred), (_worn, _worn_blurred), (_plated, _plated_blurred))
    ]
    return np.stack([np.einsum("ntsp,ntsp,t->n", measured, density, share_weights) for density in per_state], axis=1)


def _column(values: Array) -> Array:
    return values[:, None, None, None]


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


def _worn_blurred(m: Array, low: Array, high: Array, u: Array) -> Array:
    """The same, worn: survival function of (exponential + normal) between the two edges."""
    s = WEAR[0]
    return np.maximum(_lost_more_than(low - m, s, u) - _lost_more_than(high - m, s, u), 0.0) / (high - low)


def _plated_blurred(m: Array, low: Array, high: Array, u: Array) -> Array:
    """The same, plated: the mirror image of worn."""
    s = PLATING[0]
    return np.maximum(_lost_more_than(m - high, s, u) - _lost_more_than(m - low, s, u), 0.0) / (high - low)


def _lost_more_than(w: Array, s: float, u: Array) -> Array:
    """P(exponential of mean s + normal of standard deviation u > w); exact, derived here by parts."""
    # The exponent and log_ndtr are each large where w is far below 0; only their sum, never above 0, is raised.
    return ndtr(-w / u) + np.exp(-w / s + np.square(u / s) / 2 + log_ndtr(w / u - u / s))
