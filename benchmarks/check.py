"""Wrong verdicts of ``check`` on parts that stand exactly at a limit: ``python -m benchmarks.check``.

Each part is drawn within the limits of a class of the tables; then one dimension is set to one of its limits, the worst
place there is: major, pitch, minor or virtual pitch diameter, or all three greatest limits at once; errors of pitch and
flank angles as tools leave them included. Just outside, "conforms" is wrong; just inside, "does not conform" is. What a
picture would say of the part is drawn from its covariance (``simulated_parts``); for half of the parts polished flanks
take something off the pitch diameter, known in direction and bound only. Then the same of pictures from a path tracer
(``benchmarks.traced``), gauges and part in lights of 6 to 12 deg half cone of which 3 are stated. Exit code 1 when
either verdict is wrong in more than 2.5 % of cases.
"""

from __future__ import annotations

import argparse
import sys
from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass, field, replace
from functools import cache
from pathlib import Path

import numpy as np

from benchmarks.simulated_parts import Part, measure
from benchmarks.traced import FOLDER, kept, screws, widest, wrong_cone_stated
from threads.identify import shape_prior, zone_prior
from threads.judge.check import ROUND_ROOT, check
from threads.judge.judgement import CANNOT_TELL, CONFORMS, DOES_NOT_CONFORM
from threads.measured.thread import MeasuredThread
from threads.measured.virtual_pitch_diameter import angle_allowance, flanks_of, pitch_allowance
from threads.rules.forms import FORMS
from threads.shared.quantity import Quantity
from threads.standards.limits import Band, Limits, candidates

WRONG_PERCENT = 2.5
ONE_SIDED_MM = 0.005
HAIR_MM = 1e-7
THREADS_IN_VIEW = 10
WIDE_DEG = 6.0
TRACED_FORMS = ("UN", "Whitworth", "BA")
PLACES = ("major low", "major high", "pitch low", "virtual high", "minor low", "minor high", "all high")


@dataclass
class Tally:
    """Verdicts by the place that the part stood at, for parts just inside and just outside."""

    inside: dict[str, Counter[str]] = field(default_factory=dict)
    outside: dict[str, Counter[str]] = field(default_factory=dict)

    def share(self, *, inside: bool, verdict: str) -> float:
        """Part of all parts on that side with that verdict."""
        counts = list((self.inside if inside else self.outside).values())
        return sum(c[verdict] for c in counts) / max(sum(sum(c.values()) for c in counts), 1)


def run(parts: int, seed: int) -> Tally:
    """Draw, measure and check ``parts`` parts just inside a limit, and as many just outside."""
    rng = np.random.default_rng(seed)
    classes = [one for one in candidates() if one.pitch_diameter.low is not None]
    tally = Tally()
    for side, counts in ((1.0, tally.inside), (-1.0, tally.outside)):
        done = 0
        while done < parts:
            limits = classes[rng.integers(len(classes))]
            place = PLACES[rng.integers(len(PLACES))]
            part = part_at(limits, place, side, rng)
            if part is None:
                continue
            counts.setdefault(place, Counter())[check(photographed(part, rng), limits).verdict] += 1
            done += 1
    return tally


def part_at(limits: Limits, place: str, side: float, rng: np.random.Generator) -> Part | None:
    """A part whose dimension at ``place`` is a hair inside (``side`` +1) or outside (-1) that limit, the rest inside.

    None where the class has no such limit, or no such part can be.
    """
    half = FORMS[limits.form].flank_angle_deg
    pitch = limits.pitch * rng.normal(1.0, zone_prior.PITCH_SPREAD)
    left, right = rng.normal(half, zone_prior.FLANK_SPREAD, 2)
    low, high = limits.pitch_diameter.low, limits.pitch_diameter.high
    assert low is not None
    assert high is not None
    major = _within(limits.major, limits.basic_major, rng)
    flanks = flanks_of(limits.form, half)
    length = min(THREADS_IN_VIEW * pitch, major)
    added = pitch_allowance((pitch / limits.pitch - 1) * length, flanks.half_angle_deg)
    added += angle_allowance(left - flanks.half_angle_deg, right - flanks.half_angle_deg, limits.pitch, flanks)
    if high - added <= low:
        return None
    sizes = {
        "major": major,
        "pitch": rng.uniform(low, high - added),
        "minor": _within(limits.minor, min(limits.basic_minor, low - 0.3 * limits.pitch), rng),
    }
    name, end = place.split()
    if name in ("virtual", "all"):
        sizes["pitch"] = high - added - side * HAIR_MM
    if name == "all":
        if limits.major.high is None:
            return None
        sizes["major"] = limits.major.high - side * HAIR_MM
        if limits.minor.high is not None:
            sizes["minor"] = limits.minor.high - side * HAIR_MM
    elif name != "virtual":
        band = {"major": limits.major, "pitch": limits.pitch_diameter, "minor": limits.minor}[name]
        limit = band.low if end == "low" else band.high
        if limit is None:
            return None
        sizes[name] = limit + (side if end == "low" else -side) * HAIR_MM
    if not sizes["minor"] < sizes["pitch"] - 0.1 * pitch < sizes["major"] - 0.2 * pitch:
        return None
    rounded = limits.form in ROUND_ROOT or rng.random() < shape_prior.ROUND_ROOT[FORMS[limits.form].rounded_root]
    return Part(
        limits, "as made", sizes["major"], sizes["pitch"], sizes["minor"], pitch, left, right, 0.0, False, rounded
    )


@cache
def in_a_wrong_light(folder: Path = FOLDER) -> Tally:
    """Verdicts on the traced screws whose light is wider than what is stated of it."""
    base = next(one for one in candidates() if one.pitch_diameter.low is not None)
    tally = Tally()
    truth = kept(folder)
    for name in screws(None, folder):
        if truth[widest(name, folder)]["light"]["half_cone_deg"] < WIDE_DEG:
            continue
        thread, true = wrong_cone_stated(name, folder).thread, truth[name]["section"]
        form = min(TRACED_FORMS, key=lambda form: abs(FORMS[form].flank_angle_deg - true["included_angle"] / 2))
        flanks = flanks_of(form, FORMS[form].flank_angle_deg)
        left, right = (true[f"flank_angle_{side}"] - flanks.half_angle_deg for side in ("left", "right"))
        virtual = true["pitch_diameter"] + angle_allowance(left, right, true["pitch"], flanks)
        open_band = Band(None, None)
        wide = replace(
            base, form=form, pitch=true["pitch"], basic_major=true["major_diameter"], major=open_band,
            basic_pitch_diameter=true["pitch_diameter"], pitch_diameter=open_band, minor=open_band,
        )  # fmt: skip
        for place in ("major low", "major high", "pitch low", "virtual high", "minor low", "minor high"):
            what, end = place.split()
            size = virtual if what == "virtual" else true[f"{what}_diameter"]
            band_of = "pitch_diameter" if what in ("pitch", "virtual") else what
            for side, counts in ((1.0, tally.inside), (-1.0, tally.outside)):
                limit = size - side * HAIR_MM if end == "low" else size + side * HAIR_MM
                band = Band(limit, None) if end == "low" else Band(None, limit)
                limits = replace(wide, **{band_of: band})  # type: ignore[arg-type]
                verdict = check(thread, limits).of(f"{what}_diameter".replace("virtual", "virtual_pitch")).verdict
                counts.setdefault(place, Counter())[verdict] += 1
    return tally


def _within(band: Band, nominal: float, rng: np.random.Generator) -> float:
    low, high = band.low, band.high
    if low is None and high is None:
        return nominal
    if low is None or high is None:
        return (high - 0.02) if high is not None else (nominal if low is None else low + 0.02)
    return float(rng.uniform(low, high))


def photographed(part: Part, rng: np.random.Generator) -> MeasuredThread:
    """What a picture says of the part, for half of them in light that takes something off the flanks."""
    thread = measure(part, rng)
    if rng.random() < 0.5:
        return thread
    q = thread.pitch_diameter
    lost = rng.uniform(0.0, ONE_SIDED_MM)
    return replace(thread, pitch_diameter=Quantity(q.value - lost, q.standard_uncertainty, "mm", ONE_SIDED_MM))


def report(tally: Tally) -> tuple[str, bool]:
    """Everything as text, and whether the promises were kept."""
    wrong = {
        "conforms": 100 * tally.share(inside=False, verdict=CONFORMS),
        "does not conform": 100 * tally.share(inside=True, verdict=DOES_NOT_CONFORM),
    }
    lines = ["parts exactly at a limit          parts   conforms   cannot tell   does not conform"]
    for words, counts in (("just outside", tally.outside), ("just inside", tally.inside)):
        for place in PLACES:
            c = counts.get(place, Counter())
            n = max(sum(c.values()), 1)
            shares = (100 * c[verdict] / n for verdict in (CONFORMS, CANNOT_TELL, DOES_NOT_CONFORM))
            lines.append(
                "{:<13}{:<19}{:6d}{:9.1f} %{:12.1f} %{:17.1f} %".format(words, place, sum(c.values()), *shares)
            )
    lines.append("")
    lines += [
        f'wrong "{verdict}": {percent:.2f} %   (at most {WRONG_PERCENT:g} %: {_words(percent <= WRONG_PERCENT)})'
        for verdict, percent in wrong.items()
    ]
    return "\n".join(lines), all(percent <= WRONG_PERCENT for percent in wrong.values())


def _words(kept: bool) -> str:
    return "kept" if kept else "BROKEN"


def main(argv: Sequence[str] | None = None) -> int:
    """The command."""
    parser = argparse.ArgumentParser(prog="python -m benchmarks.check", description=__doc__.split("\n", 1)[0])
    parser.add_argument("--parts", type=int, default=2000, help="parts on either side of a limit (default 2000)")
    parser.add_argument("--seed", type=int, default=1, help="of the draw (default 1)")
    parser.add_argument("--traced", metavar="DIR", type=Path, default=FOLDER, help="other pictures than the kept ones")
    options = parser.parse_args(argv)
    if options.parts < 1:
        parser.error("--parts: at least 1")
    text, held = report(run(options.parts, options.seed))
    print(text)
    lit, held_in_light = report(in_a_wrong_light(options.traced))
    print("\nTraced in lights of 6 to 12 deg half cone where 3 deg are stated:\n\n" + lit)
    return 0 if held and held_in_light else 1


if __name__ == "__main__":
    sys.exit(main())
