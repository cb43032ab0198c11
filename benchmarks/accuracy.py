"""How right is a measurement? Random scenes, rendered, calibrated, measured and compared with their truth.

    python -m benchmarks.accuracy [--scenes 200] [--seed 1] [--jobs 2] [--um-per-px 4] [--json FILE]
    python -m benchmarks.accuracy --only SEED [--um-per-px 4] [--keep FOLDER]

Each scene is a screw and two gauge pins before one camera (``scenes``), measured by the program and by the textbook
pipeline. Scenes are numbered by their seeds: seed, seed + 1, ... A quarter as many again are made at 4 um/px, where the
limits in micrometres hold; with ``--um-per-px`` every scene has that scale and there are no others. The tables go to
stdout, the progress to stderr. Exit code 1 when a promise was not kept.
"""

from __future__ import annotations

import argparse
import json
import math
import sys
import tempfile
from collections.abc import Sequence
from pathlib import Path
from typing import Any

from benchmarks.outcome import UNITS, Outcome, try_scene
from benchmarks.pool import run_all
from benchmarks.scenes import bench_scene
from benchmarks.statistics import Errors, Summary, pitch_relative, summarise, to_json, verdicts

ANY_SCALE = (2.0, 8.0)
AT_FOUR = (4.0, 4.0)

Task = tuple[int, tuple[float, float]]


def run_scene(task: Task, keep: Path | None = None) -> Outcome:
    """Make and try one scene: its seed and the range of its scale. The pictures stay in ``keep``, if given."""
    seed, um_per_px = task
    bench = bench_scene(seed, um_per_px)
    if keep is not None:
        keep.mkdir(parents=True, exist_ok=True)
        return try_scene(bench, keep)
    with tempfile.TemporaryDirectory(prefix="flankwise-benchmark-") as folder:
        return try_scene(bench, Path(folder))


def main(argv: Sequence[str] | None = None) -> int:
    """The command."""
    options = _parser().parse_args(argv)
    fixed = None if options.um_per_px is None else (options.um_per_px, options.um_per_px)
    if options.only is not None:
        try:
            outcome = run_scene((options.only, fixed or ANY_SCALE), options.keep)
        except ValueError as error:
            print(f"This scene cannot be made: {error}", file=sys.stderr)
            return 2
        print(scene_report(outcome))
        return 0 if outcome.status == "measured" else 1
    tasks: list[Task] = [(options.seed + i, fixed or ANY_SCALE) for i in range(options.scenes)]
    if fixed is None:
        tasks += [(options.seed + i, AT_FOUR) for i in range(max(options.scenes // 4, 4))]
    try:
        found = dict(run_all(run_scene, tasks, options.jobs))
    except ValueError as error:
        print(f"A scene cannot be made: {error}", file=sys.stderr)
        return 2
    outcomes = [found[task] for task in tasks[: options.scenes]]
    at_four = [found[task] for task in tasks if task[1] == AT_FOUR]
    print(report(outcomes, at_four))
    if options.json is not None:
        options.json.write_text(json.dumps(finite(to_json(outcomes, at_four)), indent=1) + "\n", encoding="utf-8")
    return 0 if all(verdict.met is not False for verdict in verdicts(outcomes, at_four)) else 1


def _parser() -> argparse.ArgumentParser:
    parser = argparse.ArgumentParser(prog="python -m benchmarks.accuracy", description=__doc__.split("\n", 1)[0])
    parser.add_argument("--scenes", type=count, default=200, help="how many random scenes (default 200)")
    parser.add_argument("--seed", type=seed_number, default=1, help="seed of the first scene (default 1)")
    parser.add_argument("--jobs", type=count, default=2, help="processes at a time (default 2)")
    parser.add_argument("--um-per-px", type=_scale, help="scale of every scene; else 2 to 8 and a set at 4")
    parser.add_argument("--json", type=Path, help="write everything, each scene included, to this file")
    parser.add_argument("--only", type=seed_number, metavar="SEED", help="try this scene alone and show it in full")
    parser.add_argument("--keep", type=Path, metavar="FOLDER", help="with --only: leave the pictures here")
    return parser


def count(text: str) -> int:
    """An option that counts something: a whole number from 1."""
    value = int(text)
    if value < 1:
        raise argparse.ArgumentTypeError("at least 1")
    return value


def seed_number(text: str) -> int:
    """An option that is a seed: a whole number from 0."""
    value = int(text)
    if value < 0:
        raise argparse.ArgumentTypeError("at least 0")
    return value


def _scale(text: str) -> float:
    value = float(text)
    if not 0 < value < 1000:
        raise argparse.ArgumentTypeError("above 0 um per pixel")
    return value


def report(outcomes: Sequence[Outcome], at_four: Sequence[Outcome]) -> str:
    """All tables as plain text."""
    parts = [_counts("scenes of any scale", outcomes)]
    parts.append(_table(summarise(outcomes)))
    relative = pitch_relative(outcomes)
    if relative.n:
        parts.append(
            f"pitch, scale known, relative to itself: RMS {100 * relative.rms:.4f} %, "
            f"worst {100 * relative.worst:+.4f} % in scene {relative.worst_seed}"
        )
    if at_four:
        parts += [_counts("scenes at 4 um/px", at_four), _table(summarise(at_four))]
    parts += [_failures(outcomes, at_four), _verdicts(outcomes, at_four)]
    return "\n\n".join(part for part in parts if part)


def _counts(title: str, outcomes: Sequence[Outcome]) -> str:
    def having(status: str) -> int:
        return sum(outcome.status == status for outcome in outcomes)

    seconds = sorted(outcome.seconds for outcome in outcomes if outcome.status == "measured")
    lines = [
        f"{len(outcomes)} {title}: " + ", ".join(f"{having(s)} {s}" for s in ("measured", "refused", "failed")),
    ]
    codes: dict[str, int] = {}
    for outcome in outcomes:
        if outcome.status == "refused":
            code = " ".join(outcome.reasons[0].split(":", 2)[:2])
            codes[code] = codes.get(code, 0) + 1
    if codes:
        lines.append("refused: " + ", ".join(f"{code} {n}" for code, n in sorted(codes.items())))
    unread = [outcome.seed for outcome in outcomes if outcome.textbook_reason]
    if unread:
        lines.append(f"the textbook pipeline gave nothing for {len(unread)}: scenes {_list(unread)}")
    invented = [o.seed for o in outcomes if o.free_end in {"left", "right"} and not o.scene["free_end_in_view"]]
    if invented:
        lines.append(f"a free end was named where none is in view in {len(invented)}: scenes {_list(invented)}")
    if seconds:
        lines.append(f"measuring took {seconds[len(seconds) // 2]:.2f} s (median), {seconds[-1]:.2f} s at most")
    return "\n".join(lines)


def _list(seeds: Sequence[int]) -> str:
    return ", ".join(str(seed) for seed in seeds)


def _table(summaries: dict[str, Summary]) -> str:
    """Errors are measured less true; "bench known" is with scale and edge offset known, not from the pins.

    "bound" is the median of the Cramer-Rao bounds, "times" the RMS error in units of its scene's bound.
    """
    if not summaries:
        return ""
    head = (
        f"{'quantity':<23}{'unit':<6}{'n':>4} |"
        f"{'RMS':>8}{'worst':>9}{'scene':>7}{'bias':>8}{'RMS px':>8}{'worst px':>9}{'covered':>9}{'U95':>8} |"
        f"{'RMS':>8}{'worst':>9}{'RMS px':>8}{'covered':>9}{'U95':>8}{'bound':>8}{'times':>7} |"
        f"{'RMS':>8}{'worst':>9}{'RMS px':>8}"
    )
    groups = f"{'':<33} |{'with the calibration from two pins':^66} |{'bench known':^57} |{'textbook':^25}"
    lines = [groups, head, "-" * len(head)]
    for s in summaries.values():
        length = s.unit == "um"
        lines.append(
            f"{s.quantity:<23}{s.unit:<6}{s.errors.n:>4} |"
            f"{s.errors.rms:>8.3f}{s.errors.worst:>+9.3f}{_seed(s.errors):>7}{s.errors.bias:>+8.3f}"
            f"{_px(s.px.rms, length, 8)}{_px(s.px.worst, length, 9)}"
            f"{100 * s.coverage:>7.1f} %{s.median_u95:>8.3f} |"
            f"{s.known.rms:>8.3f}{s.known.worst:>+9.3f}{_px(s.known_px.rms, length, 8)}"
            f"{100 * s.known_coverage:>7.1f} %{s.known_median_u95:>8.3f}"
            f"{_number(s.bound, 8)}{_number(s.times_bound, 7)} |"
            f"{_number(s.textbook.rms, 8)}{_number(s.textbook.worst, 9)}{_px(s.textbook_px.rms, length, 8)}"
        )
    return "\n".join(lines)


def _seed(errors: Errors) -> str:
    return "-" if errors.worst_seed is None else str(errors.worst_seed)


def _number(value: float, width: int) -> str:
    return f"{'-':>{width}}" if math.isnan(value) else f"{value:>{width}.3f}"


def _px(value: float, length: bool, width: int) -> str:
    return _number(value if length else math.nan, width)


def _failures(outcomes: Sequence[Outcome], at_four: Sequence[Outcome]) -> str:
    lines = []
    for group, more in ((outcomes, ""), (at_four, " --um-per-px 4")):
        for outcome in group:
            if outcome.status != "measured":
                lines.append(f"scene {outcome.seed} {outcome.status}: {'; '.join(outcome.reasons)}")
                lines.append(f"    {_facts(outcome)}")
                lines.append(f"    again: python -m benchmarks.accuracy --only {outcome.seed}{more}")
    return "\n".join(lines)


def _facts(outcome: Outcome) -> str:
    return f"um_per_px {outcome.um_per_px:.3f}, " + ", ".join(f"{key} {value}" for key, value in outcome.scene.items())


def _verdicts(outcomes: Sequence[Outcome], at_four: Sequence[Outcome]) -> str:
    lines = [f"{'promise':<56}{'limit':>14}{'result':>10}", "-" * 88]
    for verdict in verdicts(outcomes, at_four):
        word = "not tried" if verdict.met is None else "kept" if verdict.met else "BROKEN"
        lines.append(f"{verdict.what:<56}{verdict.limit:>14}{_number(verdict.value, 10)}  {word}")
    return "\n".join(lines)


def scene_report(outcome: Outcome) -> str:
    """One scene in full."""
    lines = [f"scene {outcome.seed}: {outcome.status}", _facts(outcome), *outcome.reasons]
    if outcome.status != "measured":
        return "\n".join(lines)
    lines.append(
        f"residual {outcome.residual_rms_px:.4f} px RMS, {100 * outcome.rejected:.1f} % rejected, "
        f"{outcome.seconds:.2f} s, free end {outcome.free_end}, warnings: {', '.join(outcome.warnings) or 'none'}"
    )
    lines.append("")
    lines.append(
        f"{'quantity':<23}{'unit':<7}{'true':>11}{'error':>9}{'U95':>8}   {'bench known':>11}{'U95':>8}{'textbook':>11}"
    )
    for name, c in outcome.compared.items():
        mark = " " if abs(c.error) <= c.u95 else "*"
        known = math.nan if c.known_error is None else c.known_error
        known_u95 = math.nan if c.known_u95 is None else c.known_u95
        mark_known = " " if not abs(known) > known_u95 else "*"
        plain = math.nan if c.textbook_error is None else c.textbook_error
        lines.append(
            f"{name:<23}{UNITS[name]:<7}{c.true:>11.3f}{c.error:>+9.3f}{c.u95:>8.3f} {mark} "
            f"{known:>+11.3f}{known_u95:>8.3f} {mark_known}{_number(plain, 9)}"
        )
    lines.append("* outside of U95")
    return "\n".join(lines)


def finite(value: Any) -> Any:
    """``value`` with None for every number that JSON does not know (NaN, infinity)."""
    if isinstance(value, dict):
        return {key: finite(item) for key, item in value.items()}
    if isinstance(value, (list, tuple)):
        return [finite(item) for item in value]
    return None if isinstance(value, float) and not math.isfinite(value) else value


if __name__ == "__main__":
    sys.exit(main())
