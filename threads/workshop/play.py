"""How a screw will feel in a tapped hole: radial clearance, axial backlash, tilt, and the way of the free end.

Screw and hole are drawn many times as they may truly be (``drawn_thread``): the measured screw within its covariance,
the hole anywhere in its tolerance zone, or within its own covariance where it was measured. For each pair the errors of
pitch over the engagement and of the flank angles are taken off (``virtual_pitch_diameter``), and the perfect threads
that are left are put into each other (``contact``). Median and 95 % range are those of the draws (JCGM 101:2008). The
same hole is drawn for every screw beside it, so that "looser than the original" is a difference within pairs.
"""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from threads.judge.pairing import Pair, Profile, pair_of
from threads.measured.thread import Covariance, MeasuredThread
from threads.measured.virtual_pitch_diameter import Flanks, flanks_of, tabulated_pitch
from threads.rules.forms import FORMS
from threads.shared.quantity import COVERAGE_FACTOR
from threads.shared.refusal import Reason, ReasonedError
from threads.standards.limits import Limits
from threads.workshop import contact
from threads.workshop.drawn_thread import (
    NAMES,
    DrawnThread,
    SizesOfHole,
    TriedHole,
    bench_errors,
    drawn_hole,
    drawn_measured,
    drawn_screw,
    drawn_sizes,
    drawn_tried,
    loss_of,
)
from threads.workshop.predicted_play import CRESTS, FLANKS, ROOTS, Beside, Feel, Play, Spread

Array = npt.NDArray[np.float64]

DRAWS = 10_000
SEED = 1
LEAST_DRAWS = 100


class PlayError(ReasonedError, ValueError):
    """What cannot be put together. The message is one line."""


@dataclass(frozen=True)
class Reading:
    """A measured thread, and the part of its covariance that other readings from the same bench share."""

    thread: MeasuredThread
    common: Covariance | None = None


Hole = Limits | Reading | SizesOfHole | TriedHole
"""A tolerance zone, a measured hole (``MeasuredThread.internal``), known sizes, or a hole that screws were tried in."""


@dataclass(frozen=True)
class _Nominal:
    """What screw and hole have in common by name: pitch, rounding of the crests and height of thread (mm), flanks."""

    pitch: float
    flanks: Flanks
    half_angle_deg: float
    rounding: float
    height: float


def play(
    screw: Reading,
    hole: Hole,
    *,
    engagement_mm: float,
    overhang_mm: float = 0.0,
    original: Reading | None = None,
    original_class: Limits | None = None,
    yardstick: Limits | None = None,
    draws: int = DRAWS,
    seed: int = SEED,
) -> Play:
    """Put a measured screw into a hole.

    Args:
        screw: the screw.
        hole: the hole: limits of an internal thread, a measured one, sizes, or one that was tried.
        engagement_mm: length over which full threads engage.
        overhang_mm: from the mouth of the hole to the end that is felt or seen.
        original: the screw that was there before, as measured.
        original_class: what it was when new.
        yardstick: a class to show beside, for want of an original.
        draws: number of draws.
        seed: the same seed gives the same result; the same hole is drawn for every screw with it.

    Readings with a ``common`` covariance are taken to come from one bench, whose errors move them alike, and a hole
    that was tried with screws of that bench (``TriedHole.follows``).

    Raises:
        PlayError: screw and hole exchanged, less than one turn engaged, an overhang below zero, or too few draws.
        NoZoneError: a class without limits to draw from.
    """
    _check(screw, hole, original, original_class, yardstick)
    nominal = _nominal(hole)
    if not math.isfinite(engagement_mm) or engagement_mm < nominal.pitch:
        raise PlayError("engagement_short", engagement_mm=engagement_mm, pitch_mm=nominal.pitch)
    if not math.isfinite(overhang_mm) or overhang_mm < 0:
        raise PlayError("overhang_negative", overhang_mm=overhang_mm)
    if draws < LEAST_DRAWS:
        raise PlayError("few_draws", draws=draws, least=LEAST_DRAWS)

    def rng(stream: int) -> np.random.Generator:
        return np.random.default_rng([seed, stream])

    bench = bench_errors(screw.common, draws, rng(0))
    light = rng(1).random(draws)
    in_hole = _holes(hole, screw, bench, light, rng(2))

    def feel(one: DrawnThread) -> Feel:
        return _feel(one, in_hole, nominal, engagement_mm, overhang_mm)

    of_screw = feel(drawn_measured(screw.thread, bench, screw.common, light, rng(3)))

    def beside(what: Reason, other: DrawnThread) -> Beside:
        return _beside(what, feel(other), of_screw)

    def new(limits: Limits | None) -> Beside | None:
        return (
            None
            if limits is None
            else beside(Reason("new_screw", designation=limits.designation), drawn_screw(limits, draws, rng(5)))
        )

    before = None if original is None else drawn_measured(original.thread, bench, original.common, light, rng(4))
    return Play(
        hole=_name(hole),
        by_class=isinstance(hole, Limits),
        tried=isinstance(hole, TriedHole),
        engagement=engagement_mm,
        overhang=overhang_mm,
        screw=of_screw,
        original=None if before is None else beside(Reason("the_original"), before),
        original_class=new(original_class),
        yardstick=new(yardstick),
        draws=draws,
        seed=seed,
    )


def _check(
    screw: Reading, hole: Hole, original: Reading | None, original_class: Limits | None, yardstick: Limits | None
) -> None:
    if screw.thread.internal or (original is not None and original.thread.internal):
        raise PlayError("hole_for_screw")
    if isinstance(hole, Reading) and not hole.thread.internal:
        raise PlayError("screw_for_hole")
    if isinstance(hole, Limits) and not hole.internal:
        raise PlayError("class_of_screw", designation=hole.designation)
    for limits in (original_class, yardstick):
        if limits is not None and limits.internal:
            raise PlayError("class_of_hole", designation=limits.designation)


def _name(hole: Hole) -> str:
    if isinstance(hole, Limits):
        return hole.designation
    return "the hole as measured" if isinstance(hole, Reading) else hole.name


def _nominal(hole: Hole) -> _Nominal:
    if isinstance(hole, TriedHole):
        return _nominal(hole.limits)
    if isinstance(hole, Limits):
        form = FORMS[hole.form]
        angle = form.flank_angle_deg
        rounding = (form.crest_radius or 0.0) * hole.pitch * (1 - math.sin(math.radians(angle)))
        height = (hole.basic_major - hole.basic_minor) / 2
        return _Nominal(hole.pitch, flanks_of(hole.form, angle), angle, rounding, height)
    if isinstance(hole, SizesOfHole):
        flanks = flanks_of(None, hole.half_angle_deg)
        return _Nominal(hole.pitch, flanks, hole.half_angle_deg, 0.0, flanks.engaged_depth * hole.pitch)
    thread = hole.thread
    flanks = flanks_of(None, (thread.flank_angle_left.value + thread.flank_angle_right.value) / 2)
    pitch = tabulated_pitch(thread.pitch.value, flanks) or thread.pitch.value
    return _Nominal(pitch, flanks, flanks.half_angle_deg, 0.0, flanks.engaged_depth * pitch)


def _holes(hole: Hole, screw: Reading, bench: Array, light: Array, rng: np.random.Generator) -> DrawnThread:
    draws = light.size
    if isinstance(hole, Limits):
        return drawn_hole(hole, draws, rng)
    if isinstance(hole, SizesOfHole):
        return drawn_sizes(hole, draws, rng)
    if isinstance(hole, TriedHole):
        size = screw.thread.pitch_diameter
        common = 0.0 if screw.common is None else math.sqrt(screw.common.of(("pitch_diameter",))[0, 0])
        return drawn_tried(hole, bench[:, NAMES.index("pitch_diameter")] * common + light * size.one_sided, rng)
    # a cast does not mirror the light as the screw does: its one-sided effects go their own way
    return drawn_measured(hole.thread, bench, hole.common, rng.random(draws), rng)


def _feel(screw: DrawnThread, hole: DrawnThread, nominal: _Nominal, engagement: float, overhang: float) -> Feel:
    loss = loss_of(screw, hole, nominal.pitch, nominal.flanks, engagement)
    assert screw.major is not None
    pair = _pair(screw, hole, nominal, engagement)
    fit = contact.MatedThreads(
        screw_major=screw.major,
        screw_pitch_diameter=screw.pitch_diameter + loss.both,
        screw_minor=screw.minor,
        hole_major=hole.major,
        hole_pitch_diameter=hole.pitch_diameter,
        hole_minor=hole.minor,
        half_angle_deg=nominal.half_angle_deg,
        engagement=engagement,
        rounding=nominal.rounding,
    )
    clearance = contact.radial_clearance(fit)
    ways: dict[str, Callable[[contact.MatedThreads], Array]] = {
        FLANKS: contact.flank_clearance,
        CRESTS: contact.crest_clearance,
        ROOTS: contact.root_clearance,
    }
    first = np.argmin(np.stack([clearance_of(fit) for clearance_of in ways.values()]), axis=0)
    return Feel(
        pair=pair,
        radial_clearance=spread_of(clearance, "mm"),
        axial_backlash=spread_of(contact.axial_backlash(fit), "mm"),
        tilt=spread_of(np.degrees(contact.tilt(fit)), "deg"),
        end_movement=spread_of(contact.end_movement(fit, overhang), "mm"),
        enters=float(np.mean(clearance >= 0)) if pair.meshes else 0.0,
        touches_first={name: float(np.mean(first == k)) for k, name in enumerate(ways)},
        pitch_loss=spread_of(loss.pitch, "mm"),
        angle_loss=spread_of(loss.angle, "mm"),
        clearance=clearance,
    )


def _pair(screw: DrawnThread, hole: DrawnThread, nominal: _Nominal, engagement: float) -> Pair:
    """Screw and hole at the median of what was drawn, and how far pitch and angle are from it at 95 %."""
    pitch, angle = screw.pitch - hole.pitch, (screw.flank_left + screw.flank_right - hole.flank_left - hole.flank_right)
    return pair_of(
        _profile(screw, nominal.height),
        _profile(hole, nominal.height),
        height=nominal.height,
        engagement=engagement,
        pitch_u95=COVERAGE_FACTOR * float(np.std(pitch)),
        angle_u95=COVERAGE_FACTOR * float(np.std(angle / 2)),
    )


def _profile(thread: DrawnThread, height: float) -> Profile:
    """The median; a diameter that is not known is half the height of thread from the pitch diameter."""
    middle = float(np.median(thread.pitch_diameter))
    major, minor = (
        middle + side * height if drawn is None else float(np.median(drawn))
        for drawn, side in ((thread.major, 1), (thread.minor, -1))
    )
    pitch, left, right = (float(np.median(x)) for x in (thread.pitch, thread.flank_left, thread.flank_right))
    return Profile(major, middle, minor, pitch, left, right, thread.hand, thread.starts)


def _beside(what: Reason, other: Feel, screw: Feel) -> Beside:
    both = (screw.clearance > 0) & (other.clearance > 0) & screw.pair.meshes & other.pair.meshes
    times = screw.clearance[both] / other.clearance[both]
    return Beside(
        what=what,
        feel=other,
        looser_by=spread_of(screw.clearance - other.clearance, "mm"),
        times=spread_of(times, "1") if 2 * times.size >= both.size else None,
        looser=float(np.mean(screw.clearance > other.clearance)),
        comparable=screw.pair.meshes and other.pair.meshes,
    )


def spread_of(drawn: Array, unit: str) -> Spread:
    """Median and 95 % range of draws (n,), n > 0."""
    low, median, high = np.quantile(drawn, (0.025, 0.5, 0.975))
    return Spread(float(median), float(low), float(high), unit)
