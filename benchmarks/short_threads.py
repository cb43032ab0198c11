"""Are threads of two to three whole turns measured, and does their U95 hold?

    python -m benchmarks.short_threads [--scenes 40] [--seed 1] [--jobs 2]

Random screws with so few turns between chamfer and shank, the scale known; beside each the same with six turns, which
says how much wider U95 is. Exit code 1 when a promise was not kept.
"""

from __future__ import annotations

import argparse
import sys
import tempfile
from collections.abc import Sequence
from pathlib import Path

import numpy as np

from benchmarks.accuracy import count, seed_number
from benchmarks.outcome import Compared, compare, known_bench
from benchmarks.pool import run_all
from sample_images.files import write_picture
from sample_images.random_scene import short_scene
from sample_images.render import render
from threads.shared.refusal import RefusalError
from vision.pictures.picture import read_picture
from vision.result.measure import measure_picture

SIZE = (1000, 800)
SHOWN = ("pitch_diameter", "major_diameter", "minor_diameter", "pitch", "included_angle")
TURNS, SIX = (2.0, 3.0), 6.0
_JUDGED = "pitch_diameter"
_LEAST = 93.0  # per cent covered
_WIDEST = 2.0  # times the U95 of the pitch diameter with six turns


def run_scene(task: tuple[int, bool]) -> dict[str, Compared] | str:
    """Draw, measure and compare the scene of this seed, short or with six turns; the code where it is refused."""
    seed, short = task
    turns = TURNS if short else (SIX, SIX)
    scene = short_scene(np.random.default_rng([seed, 17]), turns, width=SIZE[0], height=SIZE[1])
    plane = known_bench(scene)
    with tempfile.TemporaryDirectory(prefix="flankwise-short-") as folder:
        path = Path(folder) / "screw.png"
        write_picture(path, render(scene)[0])
        try:
            found = measure_picture(read_picture(path), plane)
        except RefusalError as refusal:
            return refusal.code
    return compare(scene, found, found, None)


def main(argv: Sequence[str] | None = None) -> int:
    """The command."""
    parser = argparse.ArgumentParser(prog="python -m benchmarks.short_threads", description=__doc__.split("\n", 1)[0])
    parser.add_argument("--scenes", type=count, default=40, help="how many scenes (default 40)")
    parser.add_argument("--seed", type=seed_number, default=1, help="seed of the first scene (default 1)")
    parser.add_argument("--jobs", type=count, default=2, help="processes at a time (default 2)")
    options = parser.parse_args(argv)
    seeds = range(options.seed, options.seed + options.scenes)
    both = dict(run_all(run_scene, [(seed, short) for seed in seeds for short in (True, False)], options.jobs))
    seen = {seed: both[seed, True] for seed in seeds}
    refused = {seed: code for seed, code in seen.items() if isinstance(code, str)}
    measured = [compared for compared in seen.values() if not isinstance(compared, str)]
    print(f"{len(measured)} of {len(seen)} measured")
    broken = [f"scene {seed}: refused, {code}" for seed, code in sorted(refused.items())]
    print(f"{'':<16}{'RMS':>9}{'U95':>9}  covered")
    for name in SHOWN:
        each = [compared[name] for compared in measured if name in compared]
        rms = float(np.sqrt(np.mean([one.error**2 for one in each])))
        covered = 100 * float(np.mean([abs(one.error) <= one.u95 for one in each]))
        print(f"{name:<16}{rms:>9.3f}{float(np.median([one.u95 for one in each])):>9.3f}{covered:>7.1f} %")
        chance = 200 * float(np.sqrt(0.93 * 0.07 / len(each)))  # two standard deviations of so few
        broken += [f"{name}: covered"] if covered < _LEAST - chance else []
    wider = np.array(
        [
            short[_JUDGED].u95 / long[_JUDGED].u95
            for seed, short in seen.items()
            if not isinstance(short, str) and not isinstance(long := both[seed, False], str)
        ]
    )
    print(f"U95 of the pitch diameter over that with six turns: median {np.median(wider):.2f}, worst {wider.max():.2f}")
    broken += ["pitch_diameter: U95 over that with six turns"] if np.median(wider) > _WIDEST else []
    print("\n".join(f"BROKEN {what}" for what in broken) or "all kept")
    return 1 if broken else 0


if __name__ == "__main__":
    sys.exit(main())
