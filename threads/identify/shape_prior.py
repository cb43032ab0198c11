"""Flat or rounded: how crest and root of a thread form come out of the workshop, and how deep its root is.

The shape is weak evidence and is treated as such. Every standard lets tools stray: worn dies round off flats, turned
blanks leave the round crest of a Whitworth thread flat because the die never reached it, rolled Unified screws have
round roots where a flat one is allowed. Where a picture resolves the shape (``MeasuredThread.flat_crest``,
``flat_root``) a form that asks for it gains on one that does not, by the ratio of the shares below; where it does not,
nothing is gained or lost. Width and radius themselves add nothing: they follow from the diameters, the pitch and the
flank angles, which are judged already.

All shares are workshop assumptions without a published source.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from threads.shared.normal import ndtr

Array = npt.NDArray[np.float64]
Truths = npt.NDArray[np.bool_]

ROUND_CREST = {True: 0.70, False: 0.10}
"""Share of screws that show a round crest, for forms that ask for one and for forms with a flat crest."""
WORN_ROUND = 0.35
"""Of the crests that would be flat, the share that wear has rounded (``zone_prior.STATES``, "worn")."""
ROUND_ROOT = {True: 0.85, False: 0.40}
"""The same for the root. A flat root is at most allowed, and tools wear first at their crests, which cut the root."""
ROUND_ANY = (0.30, 0.60)
"""Share of round crests and of round roots among threads of which no form is known."""

LEAST_ROOT_DEPTH = 0.55
"""(pitch diameter - minor diameter) / pitch that tools tend to leave: that of the basic form, but at least this. The
basic root of the Unified and ISO forms (0.433) is a limit that tools stay clear of; rounded roots come to 0.54 to
0.62."""
ROOT_DEPTH_ANY = 0.60
ROOT_SPREAD = 0.10
ROOT_SPREAD_ANY = 0.20
TOO_SHALLOW = 0.05
"""A root shallower than the standard's greatest minor diameter is so many times as rare as tools alone would make it: a
GO gauge does not take it."""
ROOT_SHARE = 0.3
"""Share of the tools whose root follows their form, spread by ``ROOT_SPREAD``; the others leave any root."""


@dataclass(frozen=True)
class Shape:
    """Crest and root as seen in a picture.

    Attributes:
        flat_crest, flat_root: True flat, False round, None not resolved.
        root_depth, root_depth_u: (pitch diameter - minor diameter) / pitch, and its standard uncertainty.
    """

    flat_crest: bool | None
    flat_root: bool | None
    root_depth: float
    root_depth_u: float


def log_shape(shape: Shape, rounded_crest: Truths, rounded_root: Truths, root_depth: Array) -> Array:
    """Log density of crest, root and root depth, (n, 3), in the order of ``zone_prior.STATES``: as made, worn, plated.

    Args:
        shape: as measured.
        rounded_crest: (n,) whether the form asks for a rounded crest.
        rounded_root: (n,) the same of the root.
        root_depth: (n,) what tools of that form tend to leave, in pitches.
    """
    round_crest = np.where(rounded_crest, ROUND_CREST[True], ROUND_CREST[False])
    round_root = np.where(rounded_root, ROUND_ROOT[True], ROUND_ROOT[False])
    root = _log_seen(shape.flat_root, round_root) + log_root_depth(shape, root_depth)
    worn = round_crest + (1.0 - round_crest) * WORN_ROUND
    crest = np.stack([_log_seen(shape.flat_crest, share) for share in (round_crest, worn, round_crest)], axis=1)
    return np.asarray(crest + root[:, None])


def log_shape_any(shape: Shape) -> float:
    """The same when nothing is known of the form."""
    crest, root = (np.array(share) for share in ROUND_ANY)
    seen = _log_seen(shape.flat_crest, crest) + _log_seen(shape.flat_root, root)
    return float(seen) + _log_root_depth_any(shape)


def log_root_depth(shape: Shape, usual: Array) -> Array:
    """Log density of the root depth for tools that usually leave the depths ``usual`` (n,)."""
    own = log_normal(shape.root_depth, usual, ROOT_SPREAD, shape.root_depth_u)
    return np.logaddexp(math.log(ROOT_SHARE) + own, math.log(1 - ROOT_SHARE) + _log_root_depth_any(shape))


def log_not_too_shallow(minor: float, minor_u: float, greatest: Array) -> Array:
    """Log likelihood factor of a measured minor diameter (mm) under limits ``greatest`` (n,), inf for none.

    0 for a minor diameter clearly below its limit, log ``TOO_SHALLOW`` for one clearly above it.
    """
    above = ndtr((minor - greatest) / max(minor_u, 1e-6))
    return np.asarray(np.log1p(-(1.0 - TOO_SHALLOW) * above))


def log_normal(value: Array | float, mean: Array | float, *spreads: Array | float) -> Array:
    """Log of the normal density with independent spreads added in quadrature."""
    variance = sum((np.square(s) for s in spreads), np.float64(0.0))
    return np.asarray(-0.5 * (np.square(np.subtract(value, mean)) / variance + np.log(2 * np.pi * variance)))


def _log_root_depth_any(shape: Shape) -> float:
    return float(log_normal(shape.root_depth, ROOT_DEPTH_ANY, ROOT_SPREAD_ANY, shape.root_depth_u))


def _log_seen(flat: bool | None, round_share: Array) -> Array:
    """Log of the probability of what was seen; 0 where the picture did not resolve it, whatever the form."""
    if flat is None:
        return np.zeros_like(round_share)
    return np.log(1.0 - round_share if flat else round_share)
