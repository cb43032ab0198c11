"""Does a picture show of itself whether its part mirrors the light?

    python -m benchmarks.softness [--folder DIR ...]

Of every traced screw, under both masks (``benchmarks.traced``): by how much flanks are softer than crests (variance)
beyond what the lens explains, lens and cone stated. Metal that shines mirrors light into the flanks' edges, dull and
black metal does not. The report gives mean and scatter of both kinds for narrow and wide lights, and how often the
softer one of two such pictures is the one that shines: half the time where the picture tells nothing.
"""

from __future__ import annotations

import argparse
import sys
from collections.abc import Sequence
from itertools import pairwise
from pathlib import Path

import numpy as np

from benchmarks.traced import FOLDER, bench, kept, picture
from vision.fit.soft_flanks import flank_excess
from vision.locate.detection import NOTHING_BY_HAND, detect, unmasked
from vision.result.measure import measure_detected

SHINES = ("polished", "bright")
BETWEEN_DEG = (0.0, 4.5, 6.0, 12.0)
"""Half cones between which pictures are put together."""


def excess(name: str, folder: Path) -> float | None:
    """By how much the flanks of a picture are softer than crests and lens explain, um^2; None where it is not seen."""
    true = kept(folder)[name]
    cone = true["light"]["half_cone_deg"]
    detected = detect(picture(name, folder))
    solution = measure_detected(detected, bench(true["set_up"], cone, cone, folder)).solution
    edges, light = unmasked(detected, NOTHING_BY_HAND)
    found = flank_excess(edges.select(~light.burnt).select(solution.chosen), solution)
    if found is None:
        return None
    p = solution.parameters
    depth = solution.seen.starts * p.pitch / (2 * np.pi) / np.tan((p.flank_left + p.flank_right) / 2)
    return float(1e6 * (found[0] - (true["camera"]["lens_opening"] * depth / 2) ** 2))


def report(folders: Sequence[Path]) -> str:
    """The table."""
    seen = [
        (t["light"]["half_cone_deg"], t["surface"] in SHINES, more)
        for folder in folders
        for name, t in kept(folder).items()
        if t["kind"] == "screw" and (more := excess(name, folder)) is not None
    ]
    lines = ["half cone           shines, um^2        does not, um^2      told apart"]
    for low, high in pairwise(BETWEEN_DEG):
        both = [
            np.array([more for cone, shines, more in seen if low < cone <= high and shines is s]) for s in (True, False)
        ]
        if not all(each.size for each in both):
            continue
        told = 100 * float(np.mean(both[0][:, None] > both[1][None, :]))
        words = (f"{each.mean():+.2f} +- {each.std():.2f} ({each.size})" for each in both)
        lines.append(
            f"{low:4g} to {high:g} deg".ljust(20) + "".join(each.ljust(20) for each in words) + f"{told:.0f} %"
        )
    return "\n".join(lines)


def main(argv: Sequence[str] | None = None) -> int:
    """The command."""
    parser = argparse.ArgumentParser(prog="python -m benchmarks.softness", description=__doc__.split("\n", 1)[0])
    parser.add_argument(
        "--folder", metavar="DIR", type=Path, action="append", help="these pictures (default: the kept)"
    )
    told = parser.parse_args(argv)
    print(report(told.folder or [FOLDER]))
    return 0


if __name__ == "__main__":
    sys.exit(main())
