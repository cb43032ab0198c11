"""Does what is said of a workshop's dies come true, and does the loop of cutting to fit get there?

    python -m benchmarks.dies [--workshops 300] [--dies 600] [--seed 1]

*What dies cut.* Invented workshops of six dies, each with one to ten cuts: they scatter by 5 um (some dies less, some
more), wear a little, and are set anew now and then by a screw that moves them by 150 to 300 um a turn. The cuts are
measured with a U95 of 3 to 7 um on one of two benches; most of that is the bench's own error, shared by all its
pictures. Asked is the next cut, and its difference to an original measured on the first bench; counted is how often
both lie within the U95 that was stated.

*Cutting to fit.* Invented dies again, set some 50 um off at first, with a screw of 150 to 300 um a turn that is set to
2 degrees, bent a little, with up to 6 um of lost motion and spring-back between opening and closing, and 4 um of
scatter from cut to cut. The second setting is the person's own: an eighth or a quarter of a turn the right way. From
the third on the loop's advice is followed: its setting, approached from the open side. Counted is how many dies stand
within 6 um of the target (what they cut on average) where the loop sets them after four attempts; and, as a person
works who stops where the program says so, how many "good: stop" were right. Exit code 1 when a promise was not kept.
"""

from __future__ import annotations

import argparse
import math
import sys
from collections.abc import Hashable, Sequence
from dataclasses import dataclass, field

import numpy as np

from threads.cutting.learnt import Cut, Observed, learn
from threads.cutting.setting import TURN, Setting
from threads.cutting.to_fit import Fitting, fitted, like_original
from threads.identify.screw_evidence import CommonErrors
from threads.shared.quantity import Quantity

TARGET_MM, WITHIN_MM = 2.42, 0.006
U95_MM = (0.003, 0.007)
OWN_SHARE, SCALE_SHARE, OFFSET_SHARE = 0.6, 0.4, 0.69
"""Of u: the picture's own, that of the bench's scale and of its edge offset; squared they make 1."""
PER_TURN_MM = (0.15, 0.30)
SCATTER_MM, LOOP_SCATTER_MM = 0.005, 0.004
LOST_MOTION_MM, BEND_MM, SET_TO_TURNS = 0.006, 0.02, 2 / 360
FIRST_OFF_MM = 0.05
ATTEMPTS = 4
COVERED, PLACED_SHARE = (0.93, 0.99), 0.90


class Bench:
    """A bench whose scale and edge offset are off as their uncertainties say."""

    def __init__(self, name: str, rng: np.random.Generator) -> None:
        self.u = rng.uniform(*U95_MM) / 2
        self.common = CommonErrors(name, SCALE_SHARE * self.u / TARGET_MM, OFFSET_SHARE * self.u)
        self._scale, self._offset = rng.normal(0.0, self.common.scale), rng.normal(0.0, self.common.offset)
        self._rng = rng

    def measured(self, true: float) -> Observed:
        """A thread of this pitch diameter, as measured."""
        value = true * (1 + self._scale) + self._offset + self._rng.normal(0.0, OWN_SHARE * self.u)
        return Observed(Quantity(value, self.u, "mm"), self.common)


@dataclass
class Tally:
    """What came of it: ``next_cut``, ``difference`` were within U95; ``placed``; ``stopped``, and ``right`` to."""

    next_cut: list[bool] = field(default_factory=list)
    difference: list[bool] = field(default_factory=list)
    u95: list[float] = field(default_factory=list)
    placed: list[bool] = field(default_factory=list)
    stopped: list[int] = field(default_factory=list)
    right: list[bool] = field(default_factory=list)


def run(workshops: int, dies: int, seed: int) -> Tally:
    """Draw and judge ``workshops``, and ``dies`` for the loop."""
    rng = np.random.default_rng(seed)
    tally = Tally()
    for _ in range(workshops):
        _workshop(tally, rng)
    for _ in range(dies):
        _loop(tally, rng)
    return tally


def _workshop(tally: Tally, rng: np.random.Generator) -> None:
    benches = Bench("first", rng), Bench("second", rng)
    original_true = TARGET_MM + rng.normal(0.0, 0.02)
    original = benches[0].measured(original_true)
    cuts: dict[Hashable, list[Cut]] = {}
    following: dict[Hashable, float] = {}
    for number in range(6):
        scatter = SCATTER_MM * math.exp(rng.normal(0.0, 0.35))
        wear, per_turn, level, setting = rng.normal(0.0, 0.0003), rng.uniform(*PER_TURN_MM), rng.normal(2.42, 0.03), 0.0
        cuts[number] = []
        count = int(rng.integers(1, 11))
        for k in range(count + 1):
            true = level + per_turn * setting + wear * k + rng.normal(0.0, scatter)
            if k == count:  # the next one, at the last setting
                following[number] = true
                break
            bench = benches[int(rng.random() < 0.3)]
            cuts[number].append(Cut(bench.measured(true), Setting(setting, TURN)))
            if k + 1 < count and rng.random() < 0.2:
                setting += float(rng.choice([-1, 1])) * rng.uniform(0.05, 0.3)
    for name, die in learn(cuts).items():
        one, two = die.next_cut(), die.next_cut(None, original)
        tally.next_cut.append(abs(one.mean - following[name]) <= one.quantity().u95)
        tally.difference.append(abs(two.mean - (following[name] - original_true)) <= two.quantity().u95)
        tally.u95.append(two.quantity().u95)


def _loop(tally: Tally, rng: np.random.Generator) -> None:
    bench = Bench("bench", rng)
    target = like_original(bench.measured(TARGET_MM), "the original")
    per_turn, bend = rng.uniform(*PER_TURN_MM), rng.uniform(-BEND_MM, BEND_MM)
    lost, start = rng.uniform(0.0, LOST_MOTION_MM), TARGET_MM + rng.normal(0.0, FIRST_OFF_MM)
    setting = way = 0.0
    closed_to = None
    cuts: list[Cut] = []
    stopped = False

    def cuts_at(at: float, by: float) -> float:
        """What the die cuts on average at a setting, approached by opening (+1) or closing (-1)."""
        return start + per_turn * at + bend * at**2 + by * lost / 2

    for number in range(1, ATTEMPTS + 1):
        true = cuts_at(setting, way) + rng.normal(0.0, LOOP_SCATTER_MM)
        cuts.append(Cut(bench.measured(true), Setting(setting, TURN), closed_to))
        found = fitted(target, learn({0: cuts})[0])
        if found.good and not stopped:
            stopped = True
            tally.stopped.append(number)
            tally.right.append(abs(true - TARGET_MM) <= WITHIN_MM)
        following = _next_setting(found, setting) + rng.normal(0.0, SET_TO_TURNS)
        closed_to = None if found.setting is None else True
        way = -1.0 if closed_to else math.copysign(1.0, following - setting)
        setting = following
    tally.placed.append(abs(cuts_at(setting, way) - TARGET_MM) <= WITHIN_MM)


def _next_setting(found: Fitting, setting: float) -> float:
    """Where the loop says, or where a person tries who was told the direction only."""
    if found.setting is not None:
        return found.setting
    assert found.off is not None
    return setting - math.copysign(0.125 if abs(found.off.value) < 0.04 else 0.25, found.off.value)


def report(tally: Tally) -> tuple[str, bool]:
    """Everything as text, and whether the promises were kept."""
    placed = float(np.mean(tally.placed))
    kept = placed >= PLACED_SHARE
    lines = []
    for words, covered in (("next cut", tally.next_cut), ("difference to the original", tally.difference)):
        share = float(np.mean(covered))
        met = COVERED[0] <= share <= COVERED[1]
        kept = kept and met
        lines.append(f"  {words + ' within its U95':<52}{100 * share:6.1f} %   (93 to 99 %: {_word(met)})")
    placed_word = f"(at least 90 %: {_word(placed >= PLACED_SHARE)})"
    lines += [
        f"  {'U95 of the difference, median':<52}{1000 * float(np.median(tally.u95)):6.1f} um",
        f"  {'dies within 6 um of the target after four attempts':<52}{100 * placed:6.1f} %   {placed_word}",
        f"  {'loops told to stop within four attempts':<52}{100 * len(tally.stopped) / len(tally.placed):6.1f} %",
        f"  {'of these, screws truly within 6 um':<52}{100 * float(np.mean(tally.right)):6.1f} %",
        f"  {'attempts until then, mean':<52}{float(np.mean(tally.stopped)):6.1f}",
    ]
    return "\n".join(lines), kept


def _word(kept: bool) -> str:
    return "kept" if kept else "BROKEN"


def main(argv: Sequence[str] | None = None) -> int:
    """The command."""
    parser = argparse.ArgumentParser(prog="python -m benchmarks.dies", description=__doc__.split("\n", 1)[0])
    parser.add_argument("--workshops", type=int, default=300, help="of six dies each (default 300)")
    parser.add_argument("--dies", type=int, default=600, help="that are cut to fit (default 600)")
    parser.add_argument("--seed", type=int, default=1, help="of the draw (default 1)")
    options = parser.parse_args(argv)
    if min(options.workshops, options.dies) < 2:
        parser.error("--workshops, --dies: at least 2")
    text, kept = report(run(options.workshops, options.dies, options.seed))
    print(text)
    return 0 if kept else 1


if __name__ == "__main__":
    sys.exit(main())
