"""What one screw says of the pitch diameter h of a hole, whatever its bench does.

With v the screw's virtual pitch diameter over the engagement and c = h - v the clearance, a trial has the probability

    went in     P(c + feel > 0)
    stopped     P(c + feel < 0)
    moved by y  density of y about ``movement.travel(c)``, times that of having gone in

with a feel of ``FEEL``. Each is mixed with the small share of trials that come out as they do for another reason. What
of v's error is the screw's own is the same in all trials of one screw: their product is taken before it is smoothed by
that error. What is common to a bench stays an argument (``shifts``).
"""

from __future__ import annotations

from collections.abc import Hashable, Sequence
from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from threads.hole.classes import HoleThread
from threads.hole.movement import spread_of_travel, travel_of
from threads.hole.trial import MOVED, STOPPED, WENT_IN, Trial, TriedScrew
from threads.identify.screw_evidence import CommonErrors
from threads.measured.virtual_pitch_diameter import VirtualPitchDiameter, virtual_pitch_diameter
from threads.shared.normal import ndtr

Array = npt.NDArray[np.float64]

FEEL = 0.002
"""Standard uncertainty of where a screw just goes in by hand, mm of pitch diameter."""
WRONG = {WENT_IN: 0.01, STOPPED: 0.03, MOVED: 0.03}
"""Share of trials that come out so for another reason: screws or holes mixed up; a burr, dirt, a bruised first thread;
a head that touches, a reading gone wrong. Workshop assumption, no source."""
STARTS = 2.0
"""Turns that a screw may make in the mouth of a hole, countersunk or worn, without being in the thread."""
FORCED, FORCED_U = 0.010, 0.005
"""A screw that went in by more turns than ``STARTS`` was at most so much too large as far as it went, mm: holes taper,
and people push."""
FORM = 0.0012
"""Standard uncertainty of a virtual pitch diameter for what no picture from one side shows: a screw or a hole that is
not round, ridges out of view, mm. Workshop assumption, no source."""

_TAIL = 4.5  # standard deviations of a screw's own error
_RIGHT = 1e-12  # no factor is 0: its logarithm is taken


@dataclass(frozen=True)
class Sized:
    """A tried screw with its virtual pitch diameter: ``size``, ``own_u`` (its own part), ``one_sided``, mm."""

    screw: TriedScrew
    virtual: VirtualPitchDiameter
    size: float
    own_u: float
    one_sided: float


@dataclass(frozen=True)
class Axis:
    """Evenly spaced pitch diameters of the hole: ``sizes`` (m,), and clearances (n,) with the same ``step``, mm."""

    sizes: Array
    clearances: Array
    step: float


def sized(thread: HoleThread, screw: TriedScrew, engagement: float) -> Sized:
    """The virtual pitch diameter of a screw, and what of its uncertainty is its own."""
    virtual = virtual_pitch_diameter(screw.thread, form=thread.form, pitch_mm=thread.pitch, engagement_mm=engagement)
    size = virtual.quantity
    common = screw.common or CommonErrors(None)
    shared = (common.scale * size.value) ** 2 + common.offset**2 + common.light**2
    own = max(size.standard_uncertainty**2 - shared, (0.1 * size.standard_uncertainty) ** 2) + FORM**2
    return Sized(screw, virtual, size.value, float(np.sqrt(own)), size.one_sided)


def shifts(screws: Sequence[Sized], draws: int, rng: np.random.Generator) -> Array:
    """(n, draws) by how much each screw is larger than measured, by errors that it shares with others of its bench."""
    of_bench: dict[Hashable, Array] = {}
    rows = []
    for one in screws:
        common = one.screw.common
        if common is None:
            rows.append(one.one_sided * rng.random(draws))
            continue
        if common.bench not in of_bench:
            normal = rng.standard_normal((3, draws))
            normal = (normal - normal.mean(axis=1, keepdims=True)) / normal.std(axis=1, keepdims=True)
            of_bench[common.bench] = np.vstack([normal, rng.random(draws)])
        scale, offset, light, side = of_bench[common.bench]
        error = common.scale * one.size * scale + common.offset * offset + common.light * light
        rows.append(error + one.one_sided * side)
    return np.array(rows)


def probability_of(trial: Trial, one: Sized, thread: HoleThread, engagement: float, clearances: Array) -> Array:
    """(n,) what the trial's outcome is due at each clearance, if nothing else is the matter: probability or density."""
    if trial.outcome == STOPPED:
        return ndtr(-clearances / FEEL) * _so_far(trial, one, thread, engagement, clearances)
    if trial.outcome == WENT_IN:
        return ndtr(clearances / FEEL)
    assert trial.movement is not None
    expected = travel_of(thread, one.screw, np.maximum(clearances, 0.0), engagement, trial.overhang)
    u = spread_of_travel(expected, trial.movement.standard_uncertainty, trial.overhang)
    density = np.exp(-0.5 * ((trial.movement.value - expected) / u) ** 2) / (u * np.sqrt(2 * np.pi))
    return np.asarray(density.mean(axis=0) * ndtr(clearances / FEEL))


def below(trial: Trial, one: Sized, thread: HoleThread, engagement: float, clearances: Array) -> Array:
    """(n,) probability of a movement below that of the trial, at each clearance."""
    assert trial.movement is not None
    expected = travel_of(thread, one.screw, np.maximum(clearances, 0.0), engagement, trial.overhang)
    u = spread_of_travel(expected, trial.movement.standard_uncertainty, trial.overhang)
    return np.asarray(ndtr((trial.movement.value - expected) / u).mean(axis=0))


def mixed(trial: Trial, due: Array, thread: HoleThread) -> Array:
    """``due`` with the share of trials that come out so for another reason."""
    wrong = WRONG[trial.outcome]
    return (1 - wrong) * due + wrong * anyhow(trial, thread)


def anyhow(trial: Trial, thread: HoleThread) -> float:
    """What the outcome is due when something else is the matter: as likely as not, a movement anywhere in reach."""
    if trial.outcome != MOVED:
        return 0.5
    return 1 / (thread.height * (1 + 2 * trial.overhang / max(thread.height, 2 * thread.pitch)))


def of_screw(factors: Sequence[Array], one: Sized, axis: Axis) -> Array:
    """(n,) the product of ``factors`` (n,), smoothed by the screw's own error; above 0."""
    product = np.prod(np.array(factors), axis=0) if factors else np.ones_like(axis.clearances)
    reach = max(int(np.ceil(_TAIL * one.own_u / axis.step)), 1)
    kernel = np.exp(-0.5 * (np.arange(-reach, reach + 1) * axis.step / one.own_u) ** 2)
    padded = np.pad(product, reach, mode="edge")
    return np.asarray(np.convolve(padded, kernel / kernel.sum(), mode="valid") + _RIGHT)


def at_sizes(factor: Array, screws: Array, axis: Axis) -> Array:
    """(draws, m) ``factor``, given at the clearances, at every size of the hole, for screws of these sizes."""
    place = (axis.sizes[0] - screws - axis.clearances[0]) / axis.step
    first = np.floor(place).astype(np.intp)
    part = (place - first)[:, None]
    windows = np.lib.stride_tricks.sliding_window_view(factor, axis.sizes.size)
    return np.asarray((1 - part) * windows[first] + part * windows[first + 1])


def _so_far(trial: Trial, one: Sized, thread: HoleThread, engagement: float, clearances: Array) -> Array:
    """(n,) probability that it went in as far as it did."""
    if trial.turns is None or trial.turns <= STARTS:
        return np.ones_like(clearances)
    length = min(max(trial.turns, 1.0) * thread.pitch, engagement)
    so_far = virtual_pitch_diameter(
        one.screw.thread, form=thread.form, pitch_mm=thread.pitch, engagement_mm=length
    ).quantity.value
    return ndtr((clearances + max(one.size - so_far, 0.0) + FORCED) / FORCED_U)
