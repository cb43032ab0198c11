"""``compare`` on two pictures of one part: ``python -m benchmarks.compare``.

Each pair shows the same random screw twice: laid down at another angle and turned about its axis, tilted otherwise, at
another place in the picture, with other noise. The bench is the same, its scale and edge offset off by what calibration
leaves (drawn once a pair). Nothing differs, so that any significant difference is wrong; at most 5 % of the pairs may
show one. Exit code 1 when more do.
"""

from __future__ import annotations

import argparse
import os
import sys
import tempfile
from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass, replace
from pathlib import Path

import numpy as np

from benchmarks.pool import run_all
from sample_images.files import write_picture
from sample_images.random_scene import random_scene
from sample_images.render import render
from sample_images.scene import Scene
from threads.judge.compare import compare
from threads.shared.refusal import RefusalError
from vision.pictures.picture import read_picture
from vision.result.measure import measure_picture
from vision.result.measurement import Measurement
from vision.shared.plane import FixedScale

WRONG_PERCENT = 5.0
SCALE_RELATIVE_U = 5e-4
OFFSET_U_PX = 0.05
SIZE = (1280, 960)


@dataclass(frozen=True)
class Outcome:
    """One pair: names of what was found to differ, None where a picture was refused; the pitch diameter's difference.

    ``off_u`` is that difference over its standard uncertainty, ``u_um`` this uncertainty, ``alone_u_um`` that of one
    picture.
    """

    significant: tuple[str, ...] | None
    off_u: float = 0.0
    u_um: float = 0.0
    alone_u_um: float = 0.0


def pair_of(seed: int) -> tuple[Scene, Scene, FixedScale]:
    """The two scenes of a seed and what the bench believes of itself."""
    rng = np.random.default_rng(seed)
    first = random_scene(rng, width=SIZE[0], height=SIZE[1], least_pitch_px=60.0, dark_share=0.0)
    second = replace(
        first,
        phase=float(rng.random()),
        rotation_deg=float(rng.uniform(0, 360)),
        tilt_deg=float(rng.uniform(-2, 2)),
        offset_px=float(rng.uniform(-0.05, 0.05) * SIZE[1]),
        seed=int(rng.integers(2**31)),
    )
    believed = FixedScale(
        um_per_px=first.camera.um_per_px * (1 + rng.normal(0, SCALE_RELATIVE_U)),
        relative_u=SCALE_RELATIVE_U,
        edge_offset_px=first.edge_offset_px + float(rng.normal(0, OFFSET_U_PX)),
        edge_offset_u_px=OFFSET_U_PX,
        light_cone_deg=0.0,
    )
    return first, second, believed


def run_pair(seed: int) -> Outcome:
    """Draw, measure and compare one pair."""
    first, second, plane = pair_of(seed)
    try:
        one, two = _measured(first, plane), _measured(second, plane)
    except RefusalError:
        return Outcome(None)
    known = all(m.part.free_end != "not in view" for m in (one, two))
    found = compare(one.thread, two.thread, common=(one.common_covariance, two.common_covariance), ends_known=known)
    q = found.differences["pitch_diameter"]
    alone = 1000 * one.thread.pitch_diameter.standard_uncertainty
    return Outcome(found.significant, q.value / q.standard_uncertainty, 1000 * q.standard_uncertainty, alone)


def _measured(scene: Scene, plane: FixedScale) -> Measurement:
    levels, _ = render(scene)
    with tempfile.TemporaryDirectory() as folder:
        path = Path(folder) / "screw.png"
        write_picture(path, levels)
        return measure_picture(read_picture(path), plane)


def report(outcomes: Sequence[Outcome]) -> tuple[str, bool]:
    """Everything as text, and whether the promise was kept."""
    measured = [one for one in outcomes if one.significant is not None]
    if not measured:
        return "no pair could be measured", False
    wrong = sum(bool(one.significant) for one in measured)
    percent = 100 * wrong / len(measured)
    names = Counter(name for one in measured for name in one.significant or ())
    off = np.array([one.off_u for one in measured])
    kept = percent <= WRONG_PERCENT
    words = "kept" if kept else "BROKEN"
    lines = [
        f"{len(measured)} pairs of pictures of one part ({len(outcomes) - len(measured)} refused)",
        f"  with a significant difference   {percent:5.1f} %   (at most {WRONG_PERCENT:g} %: {words})",
        "  of what: " + (", ".join(f"{name} {count}" for name, count in names.most_common()) or "nothing"),
        f"  pitch diameter: difference over its u, root mean square {float(np.sqrt(np.mean(off**2))):.2f}",
        f"  u of that difference, median {float(np.median([one.u_um for one in measured])):.2f} um",
        f"  u of one picture by itself, median {float(np.median([one.alone_u_um for one in measured])):.2f} um",
    ]
    return "\n".join(lines), kept


def main(argv: Sequence[str] | None = None) -> int:
    """The command."""
    parser = argparse.ArgumentParser(prog="python -m benchmarks.compare", description=__doc__.split("\n", 1)[0])
    parser.add_argument("--pairs", type=int, default=200, help="pairs of pictures (default 200)")
    parser.add_argument("--seed", type=int, default=1, help="of the first pair (default 1)")
    parser.add_argument("--jobs", type=int, default=os.cpu_count() or 1, help="processes (default: one a core)")
    options = parser.parse_args(argv)
    if options.pairs < 1 or options.jobs < 1:
        parser.error("--pairs and --jobs: at least 1")
    seeds = range(options.seed, options.seed + options.pairs)
    text, kept = report([outcome for _, outcome in run_all(run_pair, seeds, options.jobs)])
    print(text)
    return 0 if kept else 1


if __name__ == "__main__":
    sys.exit(main())
