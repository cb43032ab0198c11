"""Are threads of two to three whole turns measured, and does their U95 hold?

    python -m benchmarks.short_threads [--scenes 40] [--seed 1] [--jobs 2]

Random screws with so few turns between chamfer and shank, the scale known. Exit code 1 when a promise was not kept.
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
_LEAST = 93.0  # per cent covered


def run_scene(seed: int) -> dict[str, Compared] | str:
    """Draw, measure and compare the scene of this seed; the code where it is refused."""
    scene = short_scene(np.random.default_rng([seed, 17]), width=SIZE[0], height=SIZE[1])
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
    seen = dict(run_all(run_scene, [options.seed + i for i in range(options.scenes)], options.jobs))
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
    print("\n".join(f"BROKEN {what}" for what in broken) or "all kept")
    return 1 if broken else 0


if __name__ == "__main__":
    sys.exit(main())
