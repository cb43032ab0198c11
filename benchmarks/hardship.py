"""How right is a measurement of a picture taken in bad light, of a dirty, damaged or worn part?

    python -m benchmarks.hardship [--scenes 100] [--seed 1] [--jobs 2] [--json FILE]
    python -m benchmarks.hardship --only SEED --set worn [--keep FOLDER]

Three sets of random scenes (``hard_scenes``), each calibrated with two pins in the same light. *stated*: the conditions
under which the pitch diameter is promised. *harder*: half as many, with one hardship more to each. *worn*: as many,
a third with worn crests, a third with a worn flank, a third sound. The tables go to stdout, the progress to stderr.
Exit code 1 when a promise was not kept.
"""

from __future__ import annotations

import argparse
import json
import sys
import tempfile
from collections.abc import Sequence
from dataclasses import asdict
from math import nan
from pathlib import Path

import numpy as np

from benchmarks.accuracy import count, finite, scene_report, seed_number
from benchmarks.hard_scenes import harder_scene, lost_um, stated_scene, worn_scene
from benchmarks.outcome import Outcome, try_scene
from benchmarks.pool import run_all
from benchmarks.scenes import BenchScene
from benchmarks.statistics import Summary, Verdict, summarise

SETS = ("stated", "harder", "worn")

Task = tuple[str, int]
Tried = tuple[BenchScene, str, Outcome]
"""The scene, what is hard or worn in it, and what came of it."""


def run_task(task: Task, keep: Path | None = None) -> Tried:
    """Make and try the scene of one set with this seed. The pictures stay in ``keep``, if given."""
    kind, seed = task
    bench, what = (stated_scene(seed), "stated") if kind == "stated" else MAKERS[kind](seed)
    if keep is not None:
        keep.mkdir(parents=True, exist_ok=True)
        return bench, what, try_scene(bench, keep)
    with tempfile.TemporaryDirectory(prefix="flankwise-hardship-") as folder:
        return bench, what, try_scene(bench, Path(folder))


MAKERS = {"harder": harder_scene, "worn": worn_scene}


def main(argv: Sequence[str] | None = None) -> int:
    """The command."""
    options = _parser().parse_args(argv)
    if options.only is not None:
        bench, what, outcome = run_task((options.set, options.only), options.keep)
        print(f"{what}; wear drawn: {bench.screw.wear}; wear found: {outcome.wear}")
        print(scene_report(outcome))
        return 0 if outcome.status == "measured" else 1
    seeds = range(options.seed, options.seed + options.scenes)
    tasks: list[Task] = [("stated", seed) for seed in seeds]
    tasks += [("harder", seed) for seed in seeds[: max(options.scenes // 2, 1)]]
    tasks += [("worn", seed) for seed in seeds]
    found = dict(run_all(run_task, tasks, options.jobs))
    sets = {name: [found[task] for task in tasks if task[0] == name] for name in SETS}
    judged = verdicts(sets)
    print(report(sets, judged))
    if options.json is not None:
        everything = {
            "verdicts": [asdict(verdict) for verdict in judged],
            "scenes": {name: [{"what": w, **o.to_dict()} for _, w, o in tried] for name, tried in sets.items()},
        }
        options.json.write_text(json.dumps(finite(everything), indent=1) + "\n", encoding="utf-8")
    return 0 if all(verdict.met is not False for verdict in judged) else 1


def _parser() -> argparse.ArgumentParser:
    parser = argparse.ArgumentParser(prog="python -m benchmarks.hardship", description=__doc__.split("\n", 1)[0])
    parser.add_argument("--scenes", type=count, default=100, help="scenes of the stated conditions (default 100)")
    parser.add_argument("--seed", type=seed_number, default=1, help="seed of the first scene (default 1)")
    parser.add_argument("--jobs", type=count, default=2, help="processes at a time (default 2)")
    parser.add_argument("--json", type=Path, help="write everything, each scene included, to this file")
    parser.add_argument("--only", type=seed_number, metavar="SEED", help="try this scene alone and show it in full")
    parser.add_argument("--set", choices=SETS, default="stated", help="with --only: of which set (default stated)")
    parser.add_argument("--keep", type=Path, metavar="FOLDER", help="with --only: leave the pictures here")
    return parser


def verdicts(sets: dict[str, list[Tried]]) -> list[Verdict]:
    """The promises, one by one. What is in pixels is judged with the scale known, coverage with the pins.

    A share of few scenes wavers: coverage is broken where it is less than scenes with a coverage of 93 % give, to two
    standard deviations of so many, or more than the same of 99 %.
    """
    rows = []
    stated, harder = _measured(sets["stated"]), _measured(sets["harder"])
    summaries = summarise(stated)
    pitch_diameter = summaries.get("pitch_diameter")
    value = pitch_diameter.known_px.rms if pitch_diameter else nan
    rows.append(Verdict("stated: pitch_diameter RMS, scale known", "<= 0.3 px", value, value <= 0.3))
    rows += [_coverage("stated: " + name, s) for name, s in summaries.items()]
    harder_summary = summarise(harder).get("pitch_diameter")
    if harder_summary:
        value = harder_summary.known_px.rms
        rows.append(Verdict("harder: pitch_diameter RMS, scale known", "<= 0.3 px", value, value <= 0.3))
        rows.append(_coverage("harder: pitch_diameter", harder_summary))
    for name in ("stated", "harder"):
        share = 100 * len(_measured(sets[name])) / max(len(sets[name]), 1)
        rows.append(Verdict(f"{name}: measured", ">= 95 %", share, share >= 95 if sets[name] else None))
    failed = sum(o.status == "failed" for tried in sets.values() for _, _, o in tried)
    rows.append(Verdict("scenes on which the program broke", "none", failed, failed == 0))
    return rows + _of_wear(sets)


def _measured(tried: Sequence[Tried]) -> list[Outcome]:
    return [outcome for _, _, outcome in tried if outcome.status == "measured"]


def _coverage(what: str, summary: Summary) -> Verdict:
    share, n = summary.coverage, summary.errors.n
    low = 0.93 - 2 * (0.93 * 0.07 / n) ** 0.5
    high = min(0.99 + 2 * (0.99 * 0.01 / n) ** 0.5, 1.0)
    return Verdict(f"{what}: U95 covers the truth", "93 to 99 %", 100 * share, low <= share <= high)


def _of_wear(sets: dict[str, list[Tried]]) -> list[Verdict]:
    """Wear that was found, missed, invented; and how well its amount is known."""
    sound = [o for name in SETS for b, _, o in sets[name] if b.screw.wear is None and o.status == "measured"]
    invented = 100 * sum(o.wear is not None for o in sound) / max(len(sound), 1)
    rows = [Verdict(f"wear invented on {len(sound)} sound threads", "< 2 %", invented, invented < 2)]
    for kind in ("crest", "flank"):
        errors, covered, seen, worn = [], 0, 0, 0
        for bench, what, outcome in sets["worn"]:
            if what != kind or outcome.status != "measured":
                continue
            worn += 1
            block = outcome.wear[kind] if outcome.wear else None
            if block is None:
                continue
            seen += 1
            drawn = lost_um(bench.screw)
            errors.append((block["lost"]["value"] - drawn) / outcome.um_per_px)
            covered += abs(block["lost"]["value"] - drawn) <= block["lost"]["u95"]
        if worn:
            share = 100 * seen / worn
            rows.append(Verdict(f"worn {kind}: seen in {worn} scenes", ">= 90 %", share, share >= 90))
        if errors:
            rms = float(np.sqrt(np.mean(np.square(errors))))
            rows.append(Verdict(f"worn {kind}: what was lost, RMS", "<= 0.5 px", rms, rms <= 0.5))
            rows.append(Verdict(f"worn {kind}: U95 covers it", ">= 85 %", 100 * covered / seen, covered / seen >= 0.85))
    return rows


def report(sets: dict[str, list[Tried]], judged: Sequence[Verdict]) -> str:
    """All tables as plain text."""
    parts = []
    for name in SETS:
        tried = sets[name]
        states = ", ".join(f"{sum(o.status == s for _, _, o in tried)} {s}" for s in ("measured", "refused", "failed"))
        lines = [f"{name}: {len(tried)} scenes, {states}"]
        lines += [
            f"  scene {o.seed} ({what}) {o.status}: {'; '.join(o.reasons)}"
            for _, what, o in tried
            if o.status != "measured"
        ]
        parts.append("\n".join(lines))
        if name != "worn":
            parts.append(_table(summarise(_measured(tried))))
    parts.append(_judgement(judged))
    return "\n\n".join(parts)


def _table(summaries: dict[str, Summary]) -> str:
    head = (
        f"{'quantity':<23}{'unit':<6}{'n':>4} |"
        f"{'RMS':>9}{'worst':>9}{'scene':>7}{'RMS px':>8}{'covered':>9}{'U95':>8} |"
        f"{'RMS':>9}{'RMS px':>8}{'worst px':>9}{'covered':>9}"
    )
    lines = [f"{'':<33} |{'with the two pins':^50} |{'scale and offset known':^35}", head, "-" * len(head)]
    for s in summaries.values():
        px = s.unit == "um"
        lines.append(
            f"{s.quantity:<23}{s.unit:<6}{s.errors.n:>4} |{s.errors.rms:>9.3f}{s.errors.worst:>+9.3f}"
            f"{s.errors.worst_seed or 0:>7}{_px(s.px.rms, px)}{100 * s.coverage:>7.1f} %{s.median_u95:>8.3f} |"
            f"{s.known.rms:>9.3f}{_px(s.known_px.rms, px)}{_px(s.known_px.worst, px, 9)}"
            f"{100 * s.known_coverage:>7.1f} %"
        )
    return "\n".join(lines)


def _px(value: float, length: bool, width: int = 8) -> str:
    return f"{value:>{width}.3f}" if length else f"{'-':>{width}}"


def _judgement(judged: Sequence[Verdict]) -> str:
    lines = [f"{'promise':<56}{'limit':>14}{'result':>10}", "-" * 88]
    for verdict in judged:
        word = "not tried" if verdict.met is None else "kept" if verdict.met else "BROKEN"
        lines.append(f"{verdict.what:<56}{verdict.limit:>14}{verdict.value:>10.3f}  {word}")
    return "\n".join(lines)


if __name__ == "__main__":
    sys.exit(main())
