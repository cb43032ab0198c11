"""Does identification name the right series, do its probabilities come true, and how long does it take?

    python -m benchmarks.identify [--parts 4000] [--seed 1] [--series NAME] [--classes-alike]

Draws screws over all sizes and classes, each measured with a U95 of 3 um on its diameters (``simulated_parts``), and
identifies every one without a word on origin and year; once with all series drawn alike and taken as alike, once drawn
and taken as they are common (``threads.commonness``). Counted are how often the true series is in the first group, how
often the true thread comes first, and, in ten bins, how often what is stated comes true: of each candidate, of each
series and size, of each group. Screws that belong to no series are tried as well, one for four of the others, as many
as ``no_standard.PRIOR`` expects. Exit code 1 when a promise was not kept.
"""

from __future__ import annotations

import argparse
import sys
import time
from collections.abc import Sequence
from dataclasses import dataclass, field
from statistics import median

import numpy as np

from benchmarks.simulated_parts import Part, draw_foreign, draw_part, measure
from threads.identify import no_standard
from threads.identify.commonness import shares
from threads.identify.field import competitors_of, field_of
from threads.identify.identification import AMBIGUOUS, IDENTIFIED, NO_MATCH, Identification, identify
from threads.identify.thread_share import same_thread
from threads.measured.thread import MeasuredThread
from threads.standards.limits import Limits, candidates
from threads.standards.series import UnknownSeriesError, entries

BINS = 10
FIRST_GROUP_PERCENT = 95.0
RELIABLE_WITHIN = 0.07
LONGEST_MS = 20.0
ONE_SIDED_MM = 0.005
THREAD_FIRST_PERCENT, IDENTIFIED_PERCENT, WRONG_PERCENT, COMMON_PERCENT = 98.0, 90.0, 1.0, 95.0
"""Of the draw by commonness: true thread first; identified; identified wrongly, at most; first series among the two
most common that fit."""
KINDS = ("candidate", "series and size", "group")
"""What carries a stated probability."""


@dataclass
class Tally:
    """What was claimed and what came true, and what else there is to say."""

    parts: int = 0
    in_first_group: int = 0
    series_in_first_group: list[int] = field(default_factory=list)
    by_commonness: bool = False
    thread_first: int = 0
    wrong: int = 0
    common_first: int = 0
    statuses: dict[str, int] = field(default_factory=dict)
    by_series: dict[str, list[bool]] = field(default_factory=dict)
    claims: dict[str, list[tuple[float, bool]]] = field(default_factory=lambda: {kind: [] for kind in KINDS})
    foreign: int = 0
    no_match_of_foreign: int = 0
    seconds: list[float] = field(default_factory=list)
    seconds_one_sided: list[float] = field(default_factory=list)


@dataclass(frozen=True)
class Bin:
    """One row of a reliability table: mean stated probability, share that came true, and how sure that share is."""

    low: float
    n: int
    stated: float
    came_true: float
    standard_error: float

    @property
    def verdict(self) -> str:
        """``kept``, ``BROKEN``, or ``too few`` where the luck of the draw alone reaches beyond what is promised."""
        off = abs(self.stated - self.came_true)
        if off <= RELIABLE_WITHIN or self.n == 0:
            return "kept"
        return "BROKEN" if off > 3 * self.standard_error else "too few"


def run(
    parts: int,
    seed: int,
    series: Sequence[str] | None = None,
    *,
    classes_alike: bool = False,
    by_commonness: bool = False,
) -> Tally:
    """Draw, measure and identify ``parts`` screws of the series (all if None), and the foreign ones that go with them.

    Raises:
        threads.standards.series.UnknownSeriesError: a series that is not known.
    """
    rng = np.random.default_rng(seed)
    sizes: dict[tuple[str, str], list[Limits]] = {}
    for limits in candidates(series):
        sizes.setdefault((limits.series, limits.size), []).append(limits)
    of = list(sizes.values())
    tally = Tally(by_commonness=by_commonness)
    names = sorted({size[0].series for size in of})
    share = shares(names, known_origin=False) if by_commonness else None
    # Limits are computed when they are first needed: that belongs to the command, not to one identification.
    everything = field_of(tuple(entry for name in {size[0].series for size in of} for entry in entries(name)))
    competitors_of(everything, np.arange(len(everything.entries)))
    identify(measure(draw_part(of, rng), rng), series=series)
    for _ in range(parts):
        part = draw_part(of, rng, classes_alike=classes_alike, share=share)
        tally_part(tally, part, _timed(tally, measure(part, rng), series))
    for _ in range(round(parts * no_standard.PRIOR / (1 - no_standard.PRIOR))):
        found = _timed(tally, measure(draw_foreign(rng), rng), series)
        tally.foreign += 1
        tally.no_match_of_foreign += found.status == NO_MATCH
        _claim(tally, found, None)
    for _ in range(min(parts, 50)):
        thread = measure(draw_part(of, rng), rng, one_sided=ONE_SIDED_MM)
        _timed(tally, thread, series, tally.seconds_one_sided)
    return tally


def tally_part(tally: Tally, part: Part, found: Identification) -> None:
    """Count one screw of the tables."""
    assert part.limits is not None
    first = found.groups[0].members if found.groups and found.status != NO_MATCH else ()
    hit = any(candidate.limits.series == part.limits.series for candidate in first)
    tally.parts += 1
    tally.in_first_group += hit
    tally.by_series.setdefault(part.limits.series, []).append(hit)
    right = bool(found.threads) and any(same_thread(one.limits, part.limits) for one in found.threads[0].members)
    tally.thread_first += right
    tally.wrong += found.status == IDENTIFIED and not right
    fitting = sorted({(-c.commonness, c.limits.series) for c in found.candidates if c.holds})[:2]
    tally.common_first += not fitting or found.candidates[0].limits.series in {name for _, name in fitting}
    tally.series_in_first_group.append(len({candidate.limits.series for candidate in first}))
    tally.statuses[found.status] = tally.statuses.get(found.status, 0) + 1
    _claim(tally, found, part)


def reliability(claims: Sequence[tuple[float, bool]], bins: int = BINS) -> list[Bin]:
    """Claims (stated probability, whether it came true) sorted into ``bins`` of equal width."""
    stated = np.array([claim[0] for claim in claims])
    true = np.array([claim[1] for claim in claims], dtype=float)
    which = np.minimum((stated * bins).astype(int), bins - 1)
    rows = []
    for k in range(bins):
        p, hits = stated[which == k], true[which == k]
        n = p.size
        error = float(np.sqrt(np.sum(p * (1 - p)))) / n if n else 0.0
        rows.append(Bin(k / bins, n, float(p.mean()) if n else 0.0, float(hits.mean()) if n else 0.0, error))
    return rows


def _claim(tally: Tally, found: Identification, part: Part | None) -> None:
    true = None if part is None else part.limits
    sizes: dict[tuple[str, str], float] = {}
    for candidate in found.candidates:
        sizes[candidate.nominal] = sizes.get(candidate.nominal, 0.0) + candidate.probability
        tally.claims["candidate"].append(
            (candidate.probability, true is not None and candidate.designation == true.designation)
        )
    nominal = None if true is None else (true.series, true.size)
    tally.claims["series and size"] += [(p, size == nominal) for size, p in sizes.items()]
    tally.claims["group"] += [
        (group.probability, true is not None and true.designation in {c.designation for c in group.members})
        for group in found.groups
    ]


def _timed(
    tally: Tally, thread: MeasuredThread, series: Sequence[str] | None, seconds: list[float] | None = None
) -> Identification:
    start = time.perf_counter()
    found = identify(thread, series=series, series_alike=not tally.by_commonness)
    (tally.seconds if seconds is None else seconds).append(time.perf_counter() - start)
    return found


def report(tally: Tally) -> tuple[str, bool]:
    """Everything as text, and whether the promises were kept."""
    percent = 100 * tally.in_first_group / tally.parts
    kept = percent >= FIRST_GROUP_PERCENT
    named = tally.series_in_first_group
    drawn = "as common as they are" if tally.by_commonness else "all series alike"
    lines = [
        f"{tally.parts} screws of the series in the tables, {drawn}",
        f"  true series in the first group  {percent:6.1f} %   (at least {FIRST_GROUP_PERCENT:g} %: {_words(kept)})",
        f"  series in that group            {np.mean(named):6.1f}     (median {median(named):g}, most {max(named)})",
        *(
            f"  answered with {status:<18}{100 * tally.statuses.get(status, 0) / tally.parts:6.1f} %"
            for status in (IDENTIFIED, AMBIGUOUS, NO_MATCH)
        ),
    ]
    worst = sorted((100 * sum(hits) / len(hits), name, len(hits)) for name, hits in tally.by_series.items())[:5]
    lines.append("  least: " + ", ".join(f"{name} {share:.0f} % of {n}" for share, name, n in worst))
    if tally.by_commonness:
        for words, count, limit, most in (
            ("true thread first", tally.thread_first, THREAD_FIRST_PERCENT, False),
            ("identified", tally.statuses.get(IDENTIFIED, 0), IDENTIFIED_PERCENT, False),
            ("identified wrongly", tally.wrong, WRONG_PERCENT, True),
            ("a common series first", tally.common_first, COMMON_PERCENT, False),
        ):
            share = 100 * count / tally.parts
            met = share <= limit if most else share >= limit
            kept = kept and met
            bound = f"at {'most' if most else 'least'} {limit:g} %"
            lines.append(f"  {words:<30}{share:8.1f} %   ({bound}: {_words(met)})")
    if tally.foreign:
        lines.append(f"{tally.foreign} screws of no series")
        lines.append(f"  answered with no_match          {100 * tally.no_match_of_foreign / tally.foreign:6.1f} %")
    for kind in KINDS:
        lines += ["", f"Stated probability of a {kind}: how often it came true (within {RELIABLE_WITHIN:g})"]
        lines.append("  bin          claims   stated   came true   luck (1 sd)")
        for row in reliability(tally.claims[kind]):
            kept = kept and row.verdict != "BROKEN"
            lines.append(
                f"  {row.low:.1f} to {row.low + 1 / BINS:.1f}{row.n:10d}{row.stated:9.3f}{row.came_true:12.3f}"
                f"{row.standard_error:14.3f}   {row.verdict}"
            )
    lines += ["", "Time of one identification, all candidates"]
    for words, seconds in (("", tally.seconds), (", effect in one direction", tally.seconds_one_sided)):
        if seconds:
            slow = 1000 * float(np.quantile(seconds, 0.99))
            kept = kept and slow <= LONGEST_MS
            lines.append(
                f"  median {1000 * median(seconds):5.1f} ms, 99 % {slow:5.1f} ms, worst {1000 * max(seconds):5.1f} ms"
                f"{words}   (99 %: at most {LONGEST_MS:g} ms: {_words(slow <= LONGEST_MS)})"
            )
    return "\n".join(lines), kept


def _words(kept: bool) -> str:
    return "kept" if kept else "BROKEN"


def main(argv: Sequence[str] | None = None) -> int:
    """The command."""
    parser = argparse.ArgumentParser(prog="python -m benchmarks.identify", description=__doc__.split("\n", 1)[0])
    parser.add_argument("--parts", type=int, default=4000, help="screws to draw (default 4000)")
    parser.add_argument("--seed", type=int, default=1, help="of the draw (default 1)")
    parser.add_argument("--series", action="append", metavar="NAME", help="only these; may be given several times")
    parser.add_argument(
        "--classes-alike",
        action="store_true",
        help="draw every class of a size alike, against what identification supposes: how much hangs on its shares",
    )
    options = parser.parse_args(argv)
    if options.parts < 1:
        parser.error("--parts: at least 1")
    try:
        tallies = [
            run(options.parts, options.seed, options.series, classes_alike=options.classes_alike, by_commonness=common)
            for common in (False, True)
        ]
    except UnknownSeriesError as error:
        parser.error(str(error))
    reports = [report(tally) for tally in tallies]
    print("\n\n".join(text for text, _ in reports))
    return 0 if all(kept for _, kept in reports) else 1


if __name__ == "__main__":
    sys.exit(main())
