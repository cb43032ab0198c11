"""The hypothesis that a thread belongs to none of the known series, as a broad density of its own.

Such threads are not arbitrary: most have a usual pitch (so many threads to the inch, or a round number of
millimetres), one of the historic flank angles and a depth of some 0.6 pitches. Only their diameters are anyone's
choice. Leaving that out would make the known series look better than they are wherever a foreign thread has the pitch
of a known one (a 1/4-20 Whitworth screw is not a 1/4-20 UNC one). The shares are workshop assumptions without a
published source.
"""

from __future__ import annotations

import math

import numpy as np
import numpy.typing as npt

from threads.identify.shape_prior import log_normal, log_shape_any
from threads.identify.zone_prior import FLANK_SPREAD, PITCH_SPREAD, Observation, log_taper

Array = npt.NDArray[np.float64]

PRIOR = 0.2
"""Probability, before anything is measured, that a screw belongs to no series in the tables."""

MAJOR_RANGE = (0.2, 100.0)
"""Major diameters, mm, equally likely on a logarithmic scale."""

PITCH_TO_MAJOR = (0.19, 0.30)
"""Median of pitch / major diameter, and the standard deviation of its natural logarithm."""

USUAL_PITCH = 0.5
"""Share of threads outside the series that have a usual pitch all the same."""

_TPI = (
    10, 11, 12, 13, 14, 16, 18, 19, 20, 22, 24, 25, 26, 27, 28, 30, 32, 34, 36, 38, 40, 42, 44, 48, 50, 54, 56, 60, 64,
    72, 80,
)  # fmt: skip
_MM = (
    0.2, 0.25, 0.3, 0.35, 0.4, 0.45, 0.5, 0.55, 0.6, 0.65, 0.7, 0.75, 0.8, 0.85, 0.9, 1.0, 1.1, 1.2, 1.25, 1.3, 1.4,
    1.5, 1.6, 1.75, 2.0,
)  # fmt: skip
PITCHES = np.array(sorted([25.4 / n for n in _TPI] + list(_MM)))
"""Usual pitches, mm."""

DEPTH = (0.64, 0.10)
"""(major - pitch diameter) / pitch of the common forms (0.60 to 0.65; sharp V 0.87): mean and standard deviation of
one half of the density; the other half is even over ``DEPTH_RANGE``."""
DEPTH_RANGE = (0.2, 1.2)

HALF_ANGLES = {30.0: 0.25, 27.5: 0.25, 23.75: 0.15, 26.565: 0.10}
"""Half angles of historic forms, degrees, and their shares: 60 degrees, Whitworth 55, British Association 47.5,
Loewenherz 53.13. The rest is a symmetric thread of any half angle, or (``ODD``) any two flanks."""
ODD = 0.05
HALF_ANGLE_RANGE = (0.0, 60.0)

TAPERED = (0.10, 40.0)
"""Share of tapered threads outside the series, and the standard deviation of that taper, um/mm (pipe: 62.5)."""


def log_density(reading: Observation) -> float:
    """Log density of the measurement, in the quantities of ``zone_prior.log_evidence``, if no series has the thread.

    The measurement's uncertainty widens the narrow parts (pitch, angles, root, taper); next to the broad density of the
    diameters it is nothing.
    """
    major, pitch_diameter = (float(d) for d in reading.diameters)
    pitch, left, right = (float(q) for q in reading.rest)
    u_pitch, u_left, u_right = np.sqrt(np.diag(reading.covariance)[2:])
    share, spread = TAPERED
    taper = np.logaddexp(
        math.log(1 - share) + log_taper(reading),
        math.log(share) + log_normal(reading.taper, 0.0, spread, reading.taper_u),
    )
    return float(
        -math.log(max(major, 1e-3) * math.log(MAJOR_RANGE[1] / MAJOR_RANGE[0]))
        + _log_pitch(pitch, u_pitch, major)
        + _log_depth((major - pitch_diameter) / pitch)
        - math.log(pitch)
        + _log_flanks(left, right, u_left, u_right)
        + log_shape_any(reading.shape)
        + taper
    )


def _log_pitch(pitch: float, u: float, major: float) -> float:
    median, spread = math.log(PITCH_TO_MAJOR[0] * max(major, 1e-3)), PITCH_TO_MAJOR[1]
    any_pitch = float(log_normal(math.log(pitch), median, spread)) - math.log(pitch)
    likely = log_normal(np.log(PITCHES), median, spread)
    near = log_normal(pitch, PITCHES, PITCH_SPREAD * PITCHES, u)
    usual = float(np.logaddexp.reduce(likely + near) - np.logaddexp.reduce(likely))
    return float(np.logaddexp(math.log(1 - USUAL_PITCH) + any_pitch, math.log(USUAL_PITCH) + usual))


def _log_depth(depth: float) -> float:
    inside = DEPTH_RANGE[0] <= depth <= DEPTH_RANGE[1]
    even = -math.log(DEPTH_RANGE[1] - DEPTH_RANGE[0]) if inside else -math.inf
    return float(np.logaddexp(even, log_normal(depth, *DEPTH))) - math.log(2.0)


def _log_flanks(left: float, right: float, u_left: float, u_right: float) -> float:
    width = HALF_ANGLE_RANGE[1] - HALF_ANGLE_RANGE[0]
    terms = [
        math.log(share)
        + float(log_normal(left, half, FLANK_SPREAD, u_left) + log_normal(right, half, FLANK_SPREAD, u_right))
        for half, share in HALF_ANGLES.items()
    ]
    symmetric = 1.0 - sum(HALF_ANGLES.values()) - ODD
    skew = float(log_normal(left, right, FLANK_SPREAD, FLANK_SPREAD, u_left, u_right))
    terms.append(math.log(symmetric / width) + skew)
    terms.append(math.log(ODD / width**2))
    return float(np.logaddexp.reduce(terms))
