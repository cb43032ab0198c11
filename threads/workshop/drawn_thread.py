"""Threads as they may truly be, n times drawn: a measured one within its uncertainty, one of a class within its zone.

The zones are taken as in ``zone_prior``, uniform, with two differences. What is drawn for a class is the *virtual*
pitch diameter, pitch and flanks being perfect: a GO gauge passes or holds back the virtual size, and that is what
decides how a thread assembles. And no thread of a class is worn or plated. The rest, for which standards set limits too
wide to be of use, follows the tools:

* hole, major diameter: one tap cuts it together with the pitch diameter. So it is as far above its least as the pitch
  diameter is, and by as much more as the root's flat may be narrower, uniform: to the standard's greatest major
  diameter, else from a flat of p/8 to p/24 (nothing more where crests are rounded).
* hole, minor diameter: the drill aims at the middle of the limits (as ``tap_drill`` does), triangular between them;
  where there is no greatest, to ``tap_drill.LEAST_PERCENT`` of thread.
* screw, major diameter: uniform over its zone. Minor diameter: the depth that tools leave below the pitch line
  (``shape_prior.LEAST_ROOT_DEPTH``), at most the standard's.

These are workshop assumptions without a published source.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass, replace

import numpy as np
import numpy.typing as npt

from threads.identify.shape_prior import LEAST_ROOT_DEPTH
from threads.measured.thread import Covariance, MeasuredThread, RidgeError
from threads.measured.virtual_pitch_diameter import Flanks, angle_reach, worst_pitch_error
from threads.rules.forms import FORMS
from threads.shared.quantity import Quantity
from threads.shared.refusal import ReasonedError
from threads.standards.limits import Limits
from threads.workshop.tap_drill import LEAST_PERCENT, hole_of_percent

Array = npt.NDArray[np.float64]
Random = np.random.Generator

NAMES = ("major_diameter", "pitch_diameter", "minor_diameter", "pitch", "flank_angle_left", "flank_angle_right")
"""The quantities drawn together, with their covariance."""


class NoZoneError(ReasonedError, ValueError):
    """A class without limits to draw from. The message is one line."""


@dataclass(frozen=True)
class SizesOfHole:
    """A hole of which sizes are known, by gauges or otherwise: mm and degrees. None: not known.

    ``pitch_diameter`` is the virtual one, that of the largest perfect screw that enters.
    """

    name: str
    pitch: float
    half_angle_deg: float
    pitch_diameter: Quantity
    major_diameter: Quantity | None = None
    minor_diameter: Quantity | None = None


@dataclass(frozen=True)
class TriedHole:
    """A hole whose pitch diameter is known by screws that were tried in it (``threads.hole``).

    ``limits``: the commonest class of its thread, which says what the trials do not. ``pitch_diameters``: virtual ones,
    ascending, each as likely to be nearest, mm. ``bench``: where the screws were measured; ``follows``: correlation of
    the hole's size with what screws of that bench are larger than measured: a bench that measures small finds the hole
    too small as well.
    """

    name: str
    limits: Limits
    pitch_diameters: tuple[float, ...]
    bench: str = ""
    follows: float = 0.0


@dataclass(frozen=True)
class DrawnThread:
    """n threads: diameters and pitch in mm, flank angles in degrees, all (n,).

    ``ridges``: k ridges, for their places; ``local``: (n, k) their pitch errors, mm. ``major``, ``minor`` None: not
    known. ``hand``, ``starts``: as ``MeasuredThread`` has them.
    """

    major: Array | None
    pitch_diameter: Array
    minor: Array | None
    pitch: Array
    flank_left: Array
    flank_right: Array
    ridges: Sequence[RidgeError] = ()
    local: Array | None = None
    hand: str = "not determined"
    starts: int = 1


@dataclass(frozen=True)
class Loss:
    """What errors of form take off the difference of the pitch diameters, (n,), mm, not negative."""

    pitch: Array
    angle: Array

    @property
    def both(self) -> Array:
        return self.pitch + self.angle


def stratified(draws: int, rng: Random) -> Array:
    """(n,) uniform from 0 to 1, one in each n-th of it, in random order: medians come out alike for every seed."""
    return (rng.permutation(draws) + rng.random(draws)) / draws


def drawn_measured(
    thread: MeasuredThread, bench: Array, common: Covariance | None, light: Array, rng: Random
) -> DrawnThread:
    """A measured screw or hole.

    Args:
        thread: the thread.
        bench: (n, len(NAMES)) errors of the bench in units of their standard uncertainty (``bench_errors``).
        common: the part of the thread's covariance that these make up; None: nothing.
        light: (n,) share, 0 to 1, of the effects that are known in direction only (``Quantity.one_sided``).
        rng: for everything else.

    Each ridge's pitch error is drawn as a normal distribution of ridges as unequal as those seen, noise taken out,
    allows: an even thread with noisy edges comes out even.
    """
    total = thread.covariance.of(NAMES)
    shared = np.zeros_like(total) if common is None else common.of(NAMES)
    own = rng.multivariate_normal(np.zeros(len(NAMES)), total - shared, light.size, method="eigh", check_valid="ignore")
    error = own + bench * np.sqrt(np.maximum(np.diag(shared), 0.0))
    value: dict[str, Array] = {}
    for column, name in enumerate(NAMES):
        quantity: Quantity = getattr(thread, name)
        value[name] = quantity.value + error[:, column] + light * quantity.one_sided
    return DrawnThread(
        major=value["major_diameter"],
        pitch_diameter=value["pitch_diameter"],
        minor=value["minor_diameter"],
        pitch=value["pitch"],
        flank_left=value["flank_angle_left"],
        flank_right=value["flank_angle_right"],
        ridges=thread.per_thread,
        local=_local_errors(thread.per_thread, light.size, rng),
        hand=thread.hand,
        starts=thread.starts,
    )


def bench_errors(common: Covariance | None, draws: int, rng: Random) -> Array:
    """(n, len(NAMES)) errors that all pictures of one bench share, each in units of its standard uncertainty."""
    if common is None:
        return np.zeros((draws, len(NAMES)))
    matrix = common.of(NAMES)
    u = np.sqrt(np.maximum(np.diag(matrix), 0.0))
    scale = np.where(u > 0, u, 1.0)
    correlation = matrix / np.outer(scale, scale)
    return rng.multivariate_normal(np.zeros(len(NAMES)), correlation, draws, method="eigh", check_valid="ignore")


def drawn_hole(limits: Limits, draws: int, rng: Random) -> DrawnThread:
    """A tapped hole of a class, anywhere in its zone. Raises NoZoneError without two limits of the pitch diameter."""
    above = _width(limits) * stratified(draws, rng)
    low = limits.pitch_diameter.low
    assert low is not None
    form, pitch = FORMS[limits.form], limits.pitch
    least_major = limits.basic_major if limits.major.low is None else limits.major.low
    if limits.major.high is not None:
        sharper = limits.major.high - least_major - _width(limits)
    elif form.crest_radius is None:
        sharper = pitch / 12 / math.tan(math.radians(form.flank_angle_deg))
    else:
        sharper = 0.0
    return _perfect(
        major=least_major + above + max(sharper, 0.0) * rng.random(draws),
        pitch_diameter=low + above,
        minor=_drilled(limits, draws, rng),
        pitch=pitch,
        half_angle_deg=form.flank_angle_deg,
        hand=_hand(limits),
    )


def drawn_screw(limits: Limits, draws: int, rng: Random) -> DrawnThread:
    """A screw of a class, anywhere in its zone.

    Raises NoZoneError without two limits of the pitch diameter or the major diameter.
    """
    width = _width(limits)
    low, (major_low, major_high) = limits.pitch_diameter.low, (limits.major.low, limits.major.high)
    assert low is not None
    if major_low is None or major_high is None:
        raise NoZoneError("no_zone.major", designation=limits.designation)
    pitch_diameter = low + width * stratified(draws, rng)
    depth = max((limits.basic_pitch_diameter - limits.basic_minor) / limits.pitch, LEAST_ROOT_DEPTH) * limits.pitch
    greatest = math.inf if limits.minor.high is None else limits.minor.high
    return _perfect(
        major=major_low + (major_high - major_low) * stratified(draws, rng),
        pitch_diameter=pitch_diameter,
        minor=np.minimum(pitch_diameter - depth, greatest),
        pitch=limits.pitch,
        half_angle_deg=FORMS[limits.form].flank_angle_deg,
        hand=_hand(limits),
    )


def drawn_sizes(hole: SizesOfHole, draws: int, rng: Random) -> DrawnThread:
    """A hole of which sizes are known."""

    def drawn(quantity: Quantity) -> Array:
        return (
            quantity.value
            + quantity.standard_uncertainty * rng.standard_normal(draws)
            + quantity.one_sided * rng.random(draws)
        )

    major, minor = hole.major_diameter, hole.minor_diameter
    return _perfect(
        major=None if major is None else drawn(major),
        pitch_diameter=drawn(hole.pitch_diameter),
        minor=None if minor is None else drawn(minor),
        pitch=hole.pitch,
        half_angle_deg=hole.half_angle_deg,
    )


def drawn_tried(hole: TriedHole, larger: Array, rng: Random) -> DrawnThread:
    """A hole that was tried. One tap cuts major and pitch diameter: the one is as much larger as the other.

    ``larger``: (n,) by how much screws of the bench are larger than measured in each draw, mm; no two draws alike, or
    all. Raises NoZoneError as ``drawn_hole``.
    """
    draws, spread = larger.size, float(np.std(larger))
    of_class = drawn_hole(hole.limits, draws, rng)
    count, follows = len(hole.pitch_diameters), hole.follows if spread > 0 else 0.0
    along = (larger - np.mean(larger)) / spread if follows else np.zeros(draws)
    mixed = follows * along + math.sqrt(1 - follows**2) * rng.standard_normal(draws)
    rank = np.empty(draws)
    rank[np.argsort(mixed)] = np.arange(draws)
    size = np.interp((rank + rng.random(draws)) / draws, (np.arange(count) + 0.5) / count, hole.pitch_diameters)
    assert of_class.major is not None
    major = np.maximum(of_class.major + size - of_class.pitch_diameter, hole.limits.basic_major)
    return replace(of_class, pitch_diameter=size, major=major)


def loss_of(screw: DrawnThread, hole: DrawnThread, pitch: float, flanks: Flanks, engagement: float) -> Loss:
    """What errors of pitch and flank angles take off the room between screw and hole.

    They are those of ``virtual_pitch_diameter``, of the screw against the hole: a pitch or a flank that is wrong in
    both alike does no harm. Uneven ridges of either count in full, as it is unknown which meets which. A screw's left
    flank stands against the right flank of the hole's ridge on its left.

    Args:
        screw: as drawn.
        hole: the same.
        pitch: nominal, mm.
        flanks: nominal.
        engagement: length of engagement, mm.
    """
    drift = (screw.pitch - hole.pitch) / pitch
    uneven = _unevenness(screw, drift, engagement) + _unevenness(hole, np.zeros_like(drift), engagement)
    left, right = screw.flank_left - hole.flank_right, screw.flank_right - hole.flank_left
    return Loss(
        pitch=uneven / math.tan(math.radians(flanks.half_angle_deg)),
        angle=math.radians(angle_reach(pitch, flanks)) * (np.abs(left) + np.abs(right)),
    )


def _unevenness(thread: DrawnThread, drift: Array, engagement: float) -> Array:
    if thread.local is None:
        return np.abs(drift) * engagement
    return worst_pitch_error(thread.ridges, drift, thread.local, engagement)


def _local_errors(ridges: Sequence[RidgeError], draws: int, rng: Random) -> Array | None:
    """(n, k) pitch errors of the ridges: what each may truly be, given what was seen and its noise."""
    if not ridges:
        return None
    seen = np.array([r.pitch_error for r in ridges])
    noise = np.square([r.pitch_error_u for r in ridges])
    spread = max(float(np.mean(np.square(seen)) - np.mean(noise)), 0.0)
    share = np.divide(spread, spread + noise, out=np.zeros_like(noise), where=spread + noise > 0)
    return np.asarray(share * seen + np.sqrt(share * noise) * rng.standard_normal((draws, seen.size)))


def _drilled(limits: Limits, draws: int, rng: Random) -> Array | None:
    low, high = limits.minor.low, limits.minor.high
    if low is None:
        return None
    if high is None:
        high = hole_of_percent(FORMS[limits.form], limits.basic_major, limits.pitch, LEAST_PERCENT)
    if high <= low:
        return np.full(draws, low)
    return rng.triangular(low, (low + high) / 2, high, draws)


def _width(limits: Limits) -> float:
    low, high = limits.pitch_diameter.low, limits.pitch_diameter.high
    if low is None or high is None:
        raise NoZoneError("no_zone.pitch", designation=limits.designation)
    return high - low


def _hand(limits: Limits) -> str:
    return "left" if limits.left_hand else "right"


def _perfect(
    *,
    major: Array | None,
    pitch_diameter: Array,
    minor: Array | None,
    pitch: float,
    half_angle_deg: float,
    hand: str = "not determined",
) -> DrawnThread:
    angle = np.full_like(pitch_diameter, half_angle_deg)
    return DrawnThread(major, pitch_diameter, minor, np.full_like(pitch_diameter, pitch), angle, angle, hand=hand)
