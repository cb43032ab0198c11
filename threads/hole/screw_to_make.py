"""The screw to make for a hole that was tried: which pitch diameter, by which die, and how it will feel."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np
import numpy.typing as npt

from threads.hole.classes import HoleThread
from threads.hole.found_hole import ToMake, quantiles
from threads.hole.likelihood import FEEL
from threads.hole.movement import travel
from threads.hole.next_trial import OVERHANG
from threads.hole.trial import MOVED, Trial
from threads.shared.refusal import Reason
from threads.standards.designation import designation_of, parse
from threads.standards.limits import Limits, limits_of
from threads.workshop.mating_class import mating_screw
from threads.workshop.predicted_play import Spread
from threads.workshop.tools import tools_of

Array = npt.NDArray[np.float64]

ENTERS = 0.95
"""Probability with which the largest screw of the range enters."""
WIDTH = (0.010, 0.025)
"""The range to cut within is half the tolerance of the class that goes with the hole, but at least and at most so
wide, mm: what a set die keeps to, and what is still felt (common practice, no source)."""


def screw_to_make(
    thread: HoleThread, sizes: Array, density: Array, trials: Sequence[Trial], engagement: float
) -> ToMake:
    """What to make, for a hole with this distribution, (m,) each, of its pitch diameter."""
    mate = _mate(thread)
    surely = float(quantiles(sizes, density, 1 - ENTERS))
    high = surely - FEEL
    zone = mate.pitch_diameter
    tolerance = 0.0 if zone.low is None or zone.high is None else zone.high - zone.low
    low = high - float(np.clip(tolerance / 2, *WIDTH))
    moved = [one.overhang for one in trials if one.outcome == MOVED and one.overhang > 0]
    overhang = moved[-1] if moved else OVERHANG
    middle = (low + high) / 2
    clearance = quantiles(sizes, density, (np.arange(200) + 0.5) / 200) - middle
    crest = mate.major
    major = mate.basic_major if crest.low is None or crest.high is None else (crest.low + crest.high) / 2
    moves = travel(thread, major, middle, np.maximum(clearance, 0.0), engagement, overhang).ravel()
    tools = tools_of(mate)
    return ToMake(
        low=low,
        high=high,
        clearance=_spread(clearance),
        movement=_spread(moves),
        overhang=overhang,
        die=tools.ask_for + (" LH" if thread.left_hand else ""),
        sold=tools.gives is not None,
        mate=mate.designation,
        why=Reason("hole_to_make", surely=surely, share=ENTERS, least=FEEL),
    )


def _mate(thread: HoleThread) -> Limits:
    """The class of screw that goes with the most common class of the hole."""
    hole = parse(thread.limits[0].designation, internal=True)
    found = mating_screw(hole)
    if found is None:
        found = designation_of(hole.entry, hole.entry.classes[0], internal=False)
    return limits_of(found)


def _spread(drawn: Array) -> Spread:
    low, median, high = np.quantile(drawn, (0.025, 0.5, 0.975))
    return Spread(float(median), float(low), float(high), "mm")
