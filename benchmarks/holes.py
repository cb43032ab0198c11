"""Is a tapped hole as large as its trials say, as surely as they say, and is the advised next trial worth it?

    python -m benchmarks.holes [--holes 300] [--seed 1]

Invented holes: of a class of their thread, anywhere in its zone, or worn, or cut too narrow (in the shares that
``threads.hole.classes`` assumes). Invented screws with errors of pitch and flanks, measured on a bench whose scale and
edge offset are off by what their uncertainties say, with a U95 of 3 to 7 um. Whether a screw goes in is decided by the
true profiles, flank against flank, and the feel of a hand; one trial in fifty goes wrong for another reason. How far a
screw shakes is the first-order geometry of the tilted screw, with an engagement that is half a pitch more or less than
stated.

Counted are: how often the 95 % of the pitch diameter holds the true one, and how wide it is, after five trials with
screws spread over 60 um of which one was moved, its movement measured to 10 %; whether the probabilities of classes
come true; how much narrower the range is after the advised trial than after a random one; and the time that ten trials
take. Exit code 1 when a promise was not kept.
"""

from __future__ import annotations

import argparse
import math
import sys
import time
from collections.abc import Sequence
from dataclasses import dataclass, field

import numpy as np

from benchmarks.identify import RELIABLE_WITHIN, reliability
from benchmarks.simulated_parts import BenchErrors, Part, measure
from threads.hole import classes
from threads.hole.classes import HoleThread, hole_thread
from threads.hole.found_hole import FoundHole, NextTrial
from threads.hole.from_trials import hole_from_trials
from threads.hole.trial import MOVED, STOPPED, WENT_IN, Trial, TriedScrew
from threads.identify.screw_evidence import CommonErrors
from threads.rules.forms import FORMS
from threads.shared.quantity import Quantity

THREADS = ("2-56", "4-40", "6-32", "10-32", "M2.5", "M3", "4 BA")
SPREAD = 0.060
FEEL, WRONG = 0.002, 0.02
PITCH_ERROR, FLANK_ERROR = 0.0006, 0.4  # relative, degrees: dies that were set and looked after
OVERHANG, TO = 20.0, 0.10
CUT = 0.004  # scatter of a screw that is cut for a trial
COVERED, HALF_WIDTH, NARROWER, SECONDS = (0.93, 0.99), 0.012, 2 / 3, 0.3


@dataclass(frozen=True)
class Hole:
    """An invented hole: its thread and true pitch diameter, what it was made as (None: of no class), and the bench."""

    thread: HoleThread
    size: float
    made_as: str | None
    engagement: float
    bench: BenchErrors


@dataclass
class Tally:
    """What came of a series of holes; half widths in mm."""

    covered: list[bool] = field(default_factory=list)
    half_width: list[float] = field(default_factory=list)
    claims: list[tuple[float, bool]] = field(default_factory=list)
    told: list[float] = field(default_factory=list)
    advised: list[float] = field(default_factory=list)
    random: list[float] = field(default_factory=list)
    before: list[float] = field(default_factory=list)
    seconds: list[float] = field(default_factory=list)


def draw_hole(rng: np.random.Generator) -> Hole:
    """A hole of one of ``THREADS``, and the bench on which screws for it are measured."""
    thread = hole_thread(str(rng.choice(THREADS)))
    limits = thread.limits[int(rng.choice(len(thread.limits), p=thread.share))]
    assert limits.pitch_diameter.low is not None
    assert limits.pitch_diameter.high is not None
    size, made_as = rng.uniform(limits.pitch_diameter.low, limits.pitch_diameter.high), limits.designation
    if rng.random() < classes.NO_CLASS:
        made_as = ""
        kind = rng.choice(3, p=[classes.WORN, classes.TIGHT, classes.ANY])
        low, high = thread.reach
        size = (
            size + rng.exponential(classes.WEAR),
            size - rng.exponential(classes.TAP_WEAR),
            rng.uniform(low, high),
        )[kind]
    scale_u, offset_u, own_u = rng.uniform(1e-4, 3e-4), rng.uniform(0.0008, 0.0016), rng.uniform(0.0010, 0.0028)
    bench = BenchErrors(rng.normal(0, scale_u), rng.normal(0, offset_u), scale_u, offset_u, own_u)
    engagement = rng.uniform(1.0, 1.5) * limits.basic_major
    return Hole(thread, float(size), made_as or None, float(engagement), bench)


def draw_screw(hole: Hole, virtual: float, rng: np.random.Generator) -> tuple[TriedScrew, float]:
    """A screw of this virtual pitch diameter, as measured, and the same again as it truly is, mm."""
    limits = hole.thread.limits[0]
    half = FORMS[limits.form].flank_angle_deg
    pitch = limits.pitch * rng.normal(1.0, PITCH_ERROR)
    left, right = rng.normal(half, FLANK_ERROR, 2)
    grows = _grown(limits.pitch, pitch, half, (left, right), hole.engagement)
    simple = virtual - grows
    part = Part(
        limits=limits, state="as made", major=simple + (limits.basic_major - limits.basic_pitch_diameter) - 0.03,
        pitch_diameter=simple, minor=simple - (limits.basic_pitch_diameter - limits.basic_minor) - 0.05, pitch=pitch,
        flank_left=left, flank_right=right, taper=0.0, round_crest=False, round_root=True,
    )  # fmt: skip
    name = f"screw {rng.integers(10**9)}"
    common = CommonErrors("bench", hole.bench.scale_u, hole.bench.offset_u)
    return TriedScrew(name, name, measure(part, rng, bench=hole.bench), common), virtual


def _grown(nominal: float, pitch: float, half: float, flanks: tuple[float, float], engagement: float) -> float:
    """By how much a perfect nut has to be larger than the screw's pitch diameter to pass over it, mm.

    Every ridge's flanks are held against the groove's, at the ends of the depth over which they bear, with the nut
    where it fits best along the axis; derived here.
    """
    depth = 5 / 8 * math.sqrt(3) / 2 * nominal if half == 30 else 0.5 * nominal
    levels = np.array([-depth / 2, depth / 2])
    tan = math.tan(math.radians(half))
    ridges = np.linspace(0.0, engagement, 200) * (pitch / nominal - 1)  # by how much each stands out of its groove
    sides = [np.max(levels * (tan - math.tan(math.radians(flank)))) for flank in flanks]
    return float((sum(sides) + np.ptp(ridges)) / tan)


def try_screw(hole: Hole, screw: tuple[TriedScrew, float], rng: np.random.Generator) -> Trial:
    """Whether it goes in."""
    measured, virtual = screw
    enters = virtual < hole.size + rng.normal(0.0, FEEL)
    if rng.random() < WRONG and enters:
        enters = False  # a burr, dirt
    return Trial(measured, WENT_IN if enters else STOPPED)


def move_screw(hole: Hole, screw: tuple[TriedScrew, float], rng: np.random.Generator) -> Trial:
    """How far it shakes, read to ``TO``."""
    measured, virtual = screw
    limits = hole.thread.limits[0]
    clearance = max(hole.size - virtual, 0.0005) / 2
    engaged = hole.engagement + (rng.random() - 0.5) * limits.pitch
    outer = measured.thread.major_diameter.value / 2
    tilt = clearance / (engaged / 2 + outer / math.tan(math.radians(FORMS[limits.form].flank_angle_deg)))
    travel = 2 * (clearance + OVERHANG * tilt)
    read = travel * rng.normal(1.0, TO / 2)
    return Trial(measured, MOVED, movement=Quantity(read, travel * TO / 2, "mm"), overhang=OVERHANG)


def run(holes: int, seed: int) -> Tally:
    """Draw and judge ``holes``."""
    rng = np.random.default_rng(seed)
    tally = Tally()
    for name in THREADS:
        hole_thread(name)  # tables are read when first needed
    for _ in range(holes):
        hole = draw_hole(rng)
        _five(tally, hole, rng)
        _next(tally, hole, rng)
    for _ in range(min(holes, 10)):
        hole = draw_hole(rng)
        screws = _stock(hole, 10, rng)
        trials = [try_screw(hole, one, rng) for one in screws[1:]] + [move_screw(hole, screws[0], rng)]
        start = time.perf_counter()
        _judge(hole, trials)
        tally.seconds.append(time.perf_counter() - start)
    return tally


def _stock(hole: Hole, count: int, rng: np.random.Generator) -> list[tuple[TriedScrew, float]]:
    """Screws spread evenly over ``SPREAD`` about the hole; the smallest goes in."""
    middle = min(hole.size, hole.thread.span[1]) + rng.uniform(-0.3, 0.3) * SPREAD
    places = middle + SPREAD * (np.arange(count) / (count - 1) - 0.5)
    return [draw_screw(hole, float(place), rng) for place in places]


def _judge(hole: Hole, trials: Sequence[Trial], at_hand: Sequence[TriedScrew] = ()) -> FoundHole:
    return hole_from_trials(hole.thread, trials, engagement=hole.engagement, at_hand=at_hand)


def _five(tally: Tally, hole: Hole, rng: np.random.Generator) -> None:
    screws = _stock(hole, 5, rng)
    entering = [k for k, (_, virtual) in enumerate(screws) if virtual < hole.size - FEEL]
    moved = int(rng.choice(entering))
    trials = [move_screw(hole, one, rng) if k == moved else try_screw(hole, one, rng) for k, one in enumerate(screws)]
    found = _judge(hole, trials)
    size = found.pitch_diameter
    tally.covered.append(size.low95 <= hole.size <= size.high95)
    tally.half_width.append(found.half_width)
    tally.claims += [(one.probability, one.designation == hole.made_as) for one in found.classes]
    tally.claims.append((found.no_class, hole.made_as is None))
    tally.told.append(found.classes[0].probability)


def _next(tally: Tally, hole: Hole, rng: np.random.Generator) -> None:
    """After three trials, one more: the advised one, and one of the other screws at random."""
    screws = _stock(hole, 9, rng)
    chosen = [0, *map(int, rng.choice(np.arange(1, 9), 2, replace=False))]
    trials = [try_screw(hole, screws[k], rng) for k in chosen]
    if not any(one.outcome == WENT_IN for one in trials):
        return
    left = [one for k, one in enumerate(screws) if k not in chosen]
    found = _judge(hole, trials, [one for one, _ in left])
    tally.before.append(found.half_width)
    advised = _made(hole, found.next_trial, screws, rng)
    tally.advised.append(_judge(hole, [*trials, *advised]).half_width)
    other = left[int(rng.integers(len(left)))]
    tally.random.append(_judge(hole, [*trials, try_screw(hole, other, rng)]).half_width)


def _made(
    hole: Hole, advice: NextTrial | None, screws: Sequence[tuple[TriedScrew, float]], rng: np.random.Generator
) -> list[Trial]:
    if advice is None:
        return []
    known = next((one for one in screws if one[0].name == advice.screw), None)
    if advice.move:
        assert known is not None
        return [move_screw(hole, known, rng)]
    cut = known or draw_screw(hole, advice.pitch_diameter + rng.normal(0.0, CUT), rng)
    return [try_screw(hole, cut, rng)]


def report(tally: Tally) -> tuple[str, bool]:
    """Everything as text, and whether the promises were kept."""
    covered, half = float(np.mean(tally.covered)), 1000 * float(np.median(tally.half_width))
    times = float(np.mean(tally.advised) / np.mean(tally.random))
    seconds = float(np.median(tally.seconds))
    promises = [
        ("true pitch diameter within the 95 %", f"{100 * covered:.1f} %", "93 to 99 %",
         COVERED[0] <= covered <= COVERED[1]),
        ("half width in half the cases", f"{half:.1f} um", "at most 12 um", half <= 1000 * HALF_WIDTH),
        ("range after the advised trial against a random one", f"{times:.2f}", "at most 0.67", times <= NARROWER),
        ("ten trials, in half the cases", f"{seconds:.2f} s", "under 0.3 s on a quiet machine", seconds < SECONDS),
    ]  # fmt: skip
    kept = all(met for *_, met in promises)
    lines = [f"{len(tally.covered)} holes"]
    lines += [
        f"  {words:<52}{value:>9}   ({goal}: {'kept' if met else 'BROKEN'})" for words, value, goal, met in promises
    ]
    widths = (1000 * float(np.mean(each)) for each in (tally.before, tally.advised, tally.random))
    lines.append(
        "  mean half width before, after the advised, after a random trial: {:.1f}, {:.1f}, {:.1f} um".format(*widths)
    )
    lines.append(f"  most probable class has over 0.9: {100 * float(np.mean(np.array(tally.told) > 0.9)):.0f} %")
    lines += ["", f"Stated probability of a class: how often it came true (within {RELIABLE_WITHIN:g})"]
    for row in reliability(tally.claims):
        kept = kept and row.verdict != "BROKEN"
        lines.append(
            f"  {row.low:.1f} to {row.low + 0.1:.1f}{row.n:8d}{row.stated:9.3f}{row.came_true:9.3f}"
            f"{row.standard_error:9.3f}   {row.verdict}"
        )
    return "\n".join(lines), kept


def main(argv: Sequence[str] | None = None) -> int:
    """The command."""
    parser = argparse.ArgumentParser(prog="python -m benchmarks.holes", description=__doc__.split("\n", 1)[0])
    parser.add_argument("--holes", type=int, default=300, help="(default 300)")
    parser.add_argument("--seed", type=int, default=1, help="of the draw (default 1)")
    options = parser.parse_args(argv)
    if options.holes < 2:
        parser.error("--holes: at least 2")
    text, kept = report(run(options.holes, options.seed))
    print(text)
    return 0 if kept else 1


if __name__ == "__main__":
    sys.exit(main())
