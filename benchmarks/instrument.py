"""Does judging all screws of an instrument together name the right system, as surely as it says?

    python -m benchmarks.instrument [--instruments 200] [--seed 1] [--ignore-common]

Draws invented instruments of 3 to 30 screws: the system, the sizes a small instrument has, class by common practice,
dimensions from the tolerance zones with wear and plating (``simulated_parts``), 0 to 30 % of the screws replaced by
those of another system. All are measured on one bench whose scale and edge offset are off by what their uncertainties
say, the same for all its screws, with a U95 of 5 um in all. Nothing is said of origin or year. Counted are how often
the right system has over 0.9, how often a wrong one has, how often what is stated comes true, and which replacements
are found and which originals accused. ``--ignore-common`` takes the errors of the bench as each screw's own, and shows
how much too sure that would be. Exit code 1 when a promise was not kept.
"""

from __future__ import annotations

import argparse
import sys
import time
from collections.abc import Sequence
from dataclasses import dataclass, field

import numpy as np

from benchmarks.identify import RELIABLE_WITHIN, reliability
from benchmarks.simulated_parts import Part, bench_errors, draw_of, measure
from threads.identify.field import class_shares
from threads.identify.instrument import ODD_FROM, InstrumentFound, judge_together
from threads.identify.screw_evidence import CommonErrors, Screw
from threads.identify.systems import system_of
from threads.standards.limits import Limits, candidates

SIZES = {
    "American National": (("NC", "2-56 4-40 5-40 6-32 8-32 10-24 1/4-20"), ("NF", "0-80 2-64 4-48 6-40 8-36 10-32")),
    "Unified": (("UNC", "2-56 4-40 5-40 6-32 8-32 10-24 1/4-20"), ("UNF", "0-80 2-64 4-48 6-40 8-36 10-32")),
    "ISO metric": (("M", "M1.6x0.35 M2x0.4 M2.5x0.45 M3x0.5 M4x0.7 M5x0.8"),),
    "British Association": (("BA", "0 1 2 3 4 5 6 7 8 9 10"),),
    "metric before ISO": (("DIN", "2x0.4 2.6x0.45 3x0.5 4x0.7 5x0.8"), ("SI", "3x0.5 4x0.7 5x0.8")),
}
"""What a maker of small instruments would have used (invented for this benchmark)."""
AMERICAN = ("American National", "Unified")
SURE, RIGHT_SHARE, WRONG_SHARE = 0.9, 0.85, 0.01
FOUND_SHARE, ACCUSED_SHARE = 0.90, 0.02
LONGEST_S = 0.5


@dataclass
class Tally:
    """What came of a series of instruments."""

    eight: list[tuple[bool, bool]] = field(default_factory=list)  # right and sure, wrong and sure
    claims: list[tuple[float, bool]] = field(default_factory=list)
    odd: list[tuple[bool, bool]] = field(default_factory=list)  # tells by its thread, found
    accused: list[bool] = field(default_factory=list)
    odd_claims: list[tuple[float, bool]] = field(default_factory=list)
    seconds: list[tuple[int, float]] = field(default_factory=list)


def run(instruments: int, seed: int, *, common: bool = True) -> Tally:
    """Draw and judge ``instruments`` of eight screws of class 2 by either American system, and as many of all kinds."""
    rng = np.random.default_rng(seed)
    sizes = {name: _sizes(name) for name in SIZES}
    _judge(_drawn(sizes["Unified"], 3, rng), rng, common=common)  # tables are read when first needed
    tally = Tally()
    for number in range(instruments):
        system = AMERICAN[number % 2]
        of_class_2 = [[one for one in size if one.thread_class in ("2", "2A")] for size in sizes[system]]
        found, _ = _judge(_drawn(of_class_2, 8, rng), rng, common=common)
        best = found.systems[0]
        sure = best.probability >= SURE
        tally.eight.append((sure and best.system == system, sure and best.system != system))
        tally.claims += [(one.probability, one.system == system) for one in found.systems]
    for _ in range(instruments):
        _mixed(tally, sizes, rng, common=common)
    return tally


def _mixed(tally: Tally, sizes: dict[str, list[list[Limits]]], rng: np.random.Generator, *, common: bool) -> None:
    system, other = rng.choice(list(sizes), 2, replace=False)
    count = int(rng.integers(3, 31))
    replaced = rng.permutation(count) < int(count * rng.uniform(0.0, 0.3) + 0.5)
    parts = [_drawn(sizes[other if odd else system], 1, rng)[0] for odd in replaced]
    found, seconds = _judge(parts, rng, common=common)
    tally.seconds.append((count, seconds))
    tally.claims += [(one.probability, one.system == system) for one in found.systems]
    for odd, part, p in zip(replaced, parts, found.odd_probability, strict=True):
        tally.odd_claims.append((p, bool(odd)))
        if not odd:
            tally.accused.append(p >= ODD_FROM)
        elif part.limits is not None:
            tally.odd.append((_tells(part.limits, sizes[system]), p >= ODD_FROM))


def _tells(limits: Limits, of: list[list[Limits]]) -> bool:
    """Whether a replacement's thread is none of the system's, so that more than the allowance tells it."""
    return all(
        abs(size[0].basic_major - limits.basic_major) > 0.03 or abs(size[0].pitch / limits.pitch - 1) > 0.01
        for size in of
    )


def _sizes(system: str) -> list[list[Limits]]:
    found = []
    for series, names in SIZES[system]:
        assert system_of(series) == system
        of_series = candidates((series,))
        sizes = [[one for one in of_series if one.size == size] for size in names.split()]
        found += [size for size in sizes if size]
    return found


def _drawn(sizes: list[list[Limits]], count: int, rng: np.random.Generator) -> list[Part]:
    parts = []
    for _ in range(count):
        classes = sizes[rng.integers(len(sizes))]
        parts.append(draw_of(classes[int(rng.choice(len(classes), p=class_shares(classes)))], rng))
    return parts


def _judge(parts: Sequence[Part], rng: np.random.Generator, *, common: bool) -> tuple[InstrumentFound, float]:
    """What is found, and the processor time that judging takes, s."""
    errors = bench_errors(rng)
    of_bench = CommonErrors("bench", errors.scale_u, errors.offset_u)
    threads = [measure(part, rng, bench=errors) for part in parts]
    start = time.process_time()
    found = judge_together([Screw(i, thread, of_bench) for i, thread in enumerate(threads)], common=common)
    return found, time.process_time() - start


def report(tally: Tally) -> tuple[str, bool]:
    """Everything as text, and whether the promises were kept."""
    right, wrong = (float(np.mean([one[k] for one in tally.eight])) for k in (0, 1))
    told = [found for tells, found in tally.odd if tells]
    untold = [found for tells, found in tally.odd if not tells]
    accused = float(np.mean(tally.accused))
    slow = max((s * 30 / max(n, 30) for n, s in tally.seconds), default=0.0)
    promises = [
        (f"right system over {SURE:g}, eight American screws", right, RIGHT_SHARE, False),
        (f"wrong system over {SURE:g}", wrong, WRONG_SHARE, True),
        ("replacements found whose thread tells", float(np.mean(told)) if told else 1.0, FOUND_SHARE, False),
        ("originals accused", accused, ACCUSED_SHARE, True),
    ]
    lines, kept = [], True
    for words, share, limit, most in promises:
        met = share <= limit if most else share >= limit
        kept = kept and met
        lines.append(
            f"  {words:<48}{100 * share:6.1f} %   (at {'most' if most else 'least'} {100 * limit:g} %: "
            f"{'kept' if met else 'BROKEN'})"
        )
    if untold:
        lines.append(
            f"  {'replacements found that only the allowance tells':<48}{100 * float(np.mean(untold)):6.1f} %   "
            f"(of {len(untold)})"
        )
    for words, claims in (("system", tally.claims), ("odd one out", tally.odd_claims)):
        lines += ["", f"Stated probability of a {words}: how often it came true (within {RELIABLE_WITHIN:g})"]
        for row in reliability(claims):
            kept = kept and row.verdict != "BROKEN"
            lines.append(
                f"  {row.low:.1f} to {row.low + 0.1:.1f}{row.n:8d}{row.stated:9.3f}{row.came_true:9.3f}"
                f"{row.standard_error:9.3f}   {row.verdict}"
            )
    lines += ["", f"Slowest instrument, as of 30 screws: {slow:.2f} s of processor time (at most {LONGEST_S:g} s)"]
    return "\n".join(lines), kept


def main(argv: Sequence[str] | None = None) -> int:
    """The command."""
    parser = argparse.ArgumentParser(prog="python -m benchmarks.instrument", description=__doc__.split("\n", 1)[0])
    parser.add_argument("--instruments", type=int, default=200, help="of each kind (default 200)")
    parser.add_argument("--seed", type=int, default=1, help="of the draw (default 1)")
    parser.add_argument("--ignore-common", action="store_true", help="take the errors of the bench as each screw's own")
    options = parser.parse_args(argv)
    if options.instruments < 2:
        parser.error("--instruments: at least 2")
    text, kept = report(run(options.instruments, options.seed, common=not options.ignore_common))
    print(text)
    return 0 if kept else 1


if __name__ == "__main__":
    sys.exit(main())
