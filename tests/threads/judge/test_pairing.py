"""Two hundred screws and holes: what is said of each pair against sampled profiles slid along each other."""

from __future__ import annotations

import math
from dataclasses import dataclass, replace

import numpy as np
import numpy.typing as npt
import pytest

from flankwise.reasons import sentence
from tests.threads.measured_factory import measured_thread
from threads.judge.pairing import DROPS_THROUGH, MESHES, OTHER_HAND, OTHER_PITCH, Profile, pair_of
from threads.measured.thread import Covariance
from threads.shared.quantity import Quantity
from threads.standards.designation import parse
from threads.standards.limits import limits_of
from threads.workshop.drawn_thread import SizesOfHole
from threads.workshop.play import Reading, play
from threads.workshop.play_words import is_held_off, sentences
from threads.workshop.predicted_play import Play

Array = npt.NDArray[np.float64]

# Name, major diameter and pitch in mm, half angle in degrees, pitch diameter below major in pitches; the basic sizes of
# ASME B1.1, ISO 724, BS 93 and BS 84.
THREADS = [
    *((f"{n}-{tpi}", (0.06 + 0.013 * n) * 25.4, 25.4 / tpi, 30.0, 0.64952) for n, tpi in (
        (2, 56), (2, 64), (3, 48), (3, 56), (4, 40), (4, 48), (4, 36), (5, 40), (5, 44), (6, 32), (6, 40), (8, 32),
        (8, 36), (10, 24), (10, 32), (12, 24), (12, 28))),
    *((f"M{d}", d, p, 30.0, 0.64952) for d, p in (
        (2.0, 0.4), (2.5, 0.45), (3.0, 0.5), (3.0, 0.6), (3.5, 0.6), (4.0, 0.7), (4.0, 0.75), (5.0, 0.8), (6.0, 1.0))),
    *((f"{n} BA", d, p, 23.75, 0.6) for n, d, p in (
        (0, 6.0, 1.0), (2, 4.7, 0.81), (3, 4.1, 0.73), (4, 3.6, 0.66), (5, 3.2, 0.59), (6, 2.8, 0.53), (8, 2.2, 0.43))),
    *((f"{d} BSW", d * 25.4, 25.4 / tpi, 27.5, 0.64033) for d, tpi in (
        (0.125, 40), (0.15625, 32), (0.1875, 24), (0.25, 20))),
]  # fmt: skip
BELONG, APART = 50, 150
SURE = 0.004
"""mm: pairs that miss or fit by less are drawn anew; the sampled offsets stand 0.5 um apart."""


@dataclass(frozen=True)
class Section:
    """A trapezoid profile: radii of the flats, radius of the pitch line, pitch, tangents of both flanks."""

    low: float
    middle: float
    high: float
    pitch: float
    tan: tuple[float, float]

    def corners(self, length: float) -> Array:
        """Where the profile bends, from before 0 to beyond ``length``."""
        at = [side * (self.pitch / 4 - (r - self.middle) * self.tan[side > 0]) for side in (-1, 1)
              for r in (self.low, self.high)]  # fmt: skip
        turns = np.arange(-2, math.ceil(length / self.pitch) + 3) * self.pitch
        return np.add.outer(turns, np.array(at)).ravel()

    def radius(self, z: Array) -> Array:
        """The edge of the material over z, or of a hole's: a ridge of the screw, a groove of the hole, at each turn."""
        off = np.mod(z + self.pitch / 2, self.pitch) - self.pitch / 2
        tan = np.where(off > 0, self.tan[1], self.tan[0])
        return np.clip(self.middle + (self.pitch / 4 - np.abs(off)) / tan, self.low, self.high)


def slid(screw: Section, hole: Section, length: float) -> tuple[float, float]:
    """The best clearance over all places along the axis, mm across it, and the greatest overlap, from sampled radii."""

    def clear(offset: float) -> float:
        z = np.concatenate([hole.corners(length), screw.corners(length) + offset, [0.0, length]])
        z = z[(z >= 0) & (z <= length)]
        return float(np.min(hole.radius(z) - screw.radius(z - offset)))

    coarse = np.arange(0, hole.pitch, 0.005)
    seen = [clear(offset) for offset in coarse]
    finer = coarse[int(np.argmax(seen))] + np.arange(-0.005, 0.005, 0.0005)
    return max(clear(offset) for offset in finer), -min(seen)


def made(thread: tuple[str, float, float, float, float], rng: np.random.Generator, *, internal: bool) -> Section:
    """A thread as a tool may cut it."""
    _, major, pitch, half, depth = thread
    pitch_diameter = major - depth * pitch
    if internal:
        wide = pitch * rng.uniform(0.015, 0.06)
        low = major - rng.uniform(0.7, 1.05) * 1.0825 * pitch
        radii = (low, pitch_diameter + wide, major + wide + 0.05 * pitch)
        tan = math.tan(math.radians(half))
        return Section(radii[0] / 2, radii[1] / 2, radii[2] / 2, pitch, (tan, tan))
    thin = pitch * rng.uniform(0.01, 0.06)
    angles = half + rng.uniform(-0.3, 0.3, 2)
    radii = (pitch_diameter - thin - 0.62 * pitch, pitch_diameter - thin, major - pitch * rng.uniform(0.02, 0.15))
    left, right = (math.tan(math.radians(angle)) for angle in angles)
    return Section(radii[0] / 2, radii[1] / 2, radii[2] / 2, pitch * (1 + rng.uniform(-5e-4, 5e-4)), (left, right))


def answer(screw: Section, hole: Section, half_angle: float, length: float) -> Play:
    """What ``play`` says, everything being known to a nanometre."""
    tiny = 1e-6
    left, right = (math.degrees(math.atan(tan)) for tan in screw.tan)
    thread = measured_thread(2 * screw.high, 2 * screw.middle, screw.pitch, minor=2 * screw.low, flank_left=left,
                             flank_right=right)  # fmt: skip
    order = thread.covariance.order
    known = {name: replace(getattr(thread, name), standard_uncertainty=tiny) for name in order}
    thread = replace(thread, covariance=Covariance(order, np.eye(len(order)) * tiny**2), **known)
    sizes = (Quantity(2 * r, tiny, "mm") for r in (hole.middle, hole.high, hole.low))
    return play(
        Reading(thread), SizesOfHole("the hole", hole.pitch, half_angle, *sizes), engagement_mm=length, draws=100
    )


def pairs(*, belong: bool, count: int) -> list[tuple[str, str, Section, Section, float, float]]:
    """Pairs of which the sampled profiles say that they mesh, or that they do not."""
    rng = np.random.default_rng(14 + belong)
    found: list[tuple[str, str, Section, Section, float, float]] = []
    while len(found) < count:
        one, two = THREADS[rng.integers(len(THREADS))], THREADS[rng.integers(len(THREADS))]
        if (one is two) != belong or not 0.7 < one[1] / two[1] < 1.3:
            continue
        screw, hole = made(one, rng, internal=False), made(two, rng, internal=True)
        length = 1.5 * two[1]
        clear, overlap = slid(screw, hole, length)
        share = overlap / (0.5413 * hole.pitch)
        if belong and clear > SURE and share > 0.15:
            found.append((one[0], two[0], screw, hole, two[3], length))
        if not belong and (clear < -SURE or share < 0.05):
            found.append((one[0], two[0], screw, hole, two[3], length))
    return found


@pytest.mark.slow
def test_no_looseness_for_a_pair_that_does_not_mesh() -> None:
    said = []
    for one, two, screw, hole, half, length in pairs(belong=False, count=APART):
        found = answer(screw, hole, half, length)
        if not is_held_off(found.screw):
            said.append((one, two, found.screw.pair, found.screw.enters))
    assert said == []


def test_no_refusal_for_a_pair_that_meshes() -> None:
    said = []
    for one, two, screw, hole, half, length in pairs(belong=True, count=BELONG):
        found = answer(screw, hole, half, length)
        if is_held_off(found.screw) or not found.screw.pair.meshes:
            said.append((one, two, found.screw.pair, found.screw.enters))
    assert said == []


def screw_of(text: str) -> Profile:
    """A screw of the basic sizes."""
    limits = limits_of(parse(text))
    return Profile(limits.basic_major, limits.basic_pitch_diameter, limits.basic_minor, limits.pitch, 30, 30)


def hole_of(text: str) -> Profile:
    """A hole in the middle of its limits."""
    limits = limits_of(parse(text, internal=True))
    assert limits.minor.low is not None
    assert limits.tap_drill is not None
    return replace(screw_of(text), minor=limits.tap_drill, hand="right")


def test_a_small_screw_drops_through_and_other_pitches_bind() -> None:
    height = 0.5413 * 25.4 / 40
    small = pair_of(screw_of("2-56 UNC"), hole_of("4-40 UNC"), height=height, engagement=3.0)
    assert small.verdict == DROPS_THROUGH
    assert small.other_pitch
    bound = pair_of(screw_of("10-24 UNC"), hole_of("10-32 UNF"), height=0.43, engagement=5.0)
    assert bound.verdict == OTHER_PITCH
    assert bound.turns_to_bind == 0  # the coarser ridges are too thick for the finer grooves
    own = pair_of(screw_of("4-40 UNC"), hole_of("4-40 UNC"), height=height, engagement=3.0)
    assert own.verdict == MESHES
    assert own.turns_to_bind is None
    # (0.112 - (0.0849 + 0.0939) / 2) / 2 in of ASME B1.1 over 0.5413 p
    assert own.overlap_share == pytest.approx((0.112 - 0.0894) / 2 / (0.5413 / 40), abs=0.01)


def test_the_hand_is_judged_where_it_is_known() -> None:
    screw, hole = screw_of("4-40 UNC"), hole_of("4-40 UNC")
    hands = {hand: pair_of(replace(screw, hand=hand), hole, height=0.34, engagement=3.0).verdict
             for hand in ("left", "right", "not determined")}  # fmt: skip
    assert hands == {"left": OTHER_HAND, "right": MESHES, "not determined": MESHES}


def test_what_is_said_names_the_reason() -> None:
    thread = measured_thread(2.18, 1.89, 25.4 / 56)
    hole = limits_of(parse("4-40 NC-2", internal=True))
    found = play(Reading(thread), hole, engagement_mm=3.0, draws=200)
    text = sentence(sentences(found)[0])
    assert "drops through a 4-40 NC-2 hole" in text
    assert "Its pitch is another, too" in text
    content = found.to_dict("")
    assert content["radial_clearance"] is None
    assert content["pair"]["verdict"] == DROPS_THROUGH
