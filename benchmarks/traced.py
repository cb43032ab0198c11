"""Pictures from a path tracer, which shares none of our assumptions on light, measured with less or more said of it.

    python -m benchmarks.traced [--set-up NAME] [--each]
    python -m benchmarks.traced --render [--set-up NAME]

scores the pictures kept in ``benchmarks/traced`` against the sizes of their meshes: root mean square error, how often
U95 covers the truth and the median U95 of every quantity, with nothing said of the light, with the cone (and with it
the bench: distance of the camera, opening of the lens) stated, with the surface stated as well, and from two lights.
Each bench is calibrated with the two pins that were traced in the same set-up. ``--render`` traces what is missing
anew, for which the tracer must be installed (``pip install -e '.[trace]'``). Exit code 1 when a promise was not kept.
"""

from __future__ import annotations

import argparse
import json
import sys
import zlib
from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace
from functools import cache
from math import sqrt
from pathlib import Path
from typing import Any

import numpy as np

from calib.bench import calibrate_bench
from calib.calibration import Calibration
from flankwise.bench import Bench
from flankwise.under_lights import measure_under
from threads.shared.quantity import Quantity
from threads.shared.refusal import RefusalError
from vision.pictures.picture import Picture, read_picture
from vision.result.measure import measure_picture
from vision.result.measurement import Measurement

FOLDER = Path(__file__).parent / "traced"
TRUTH = FOLDER / "truth.json"
NOISE = 0.004
"""Of full scale, added when a kept picture is read: without it the files are ten times smaller."""
PIN_U95_MM = 0.0002
ORDINARY_DEG = (3.0, 5.0)
"""Half cones of the set-ups that the promises are about."""
Truth = dict[str, dict[str, Any]]


@dataclass(frozen=True)
class Promise:
    """What the pitch diameter must reach in ordinary set-ups: RMS error and median U95, um, and coverage, %."""

    rms: float
    median_u95: float
    coverage: float = 95.0


@dataclass(frozen=True)
class Row:
    """One quantity of one picture, measured in one way; ``error`` and ``u95`` in um or degrees."""

    picture: str
    quantity: str
    error: float
    u95: float

    @property
    def covered(self) -> bool:
        return abs(self.error) <= self.u95


def kept() -> Truth:
    """What is true of each kept picture."""
    return json.loads(TRUTH.read_text(encoding="utf-8")) if TRUTH.exists() else {}


def picture(name: str) -> Picture:
    """A kept picture, with the noise of a camera; the same each time."""
    read = read_picture(FOLDER / name)
    noise = np.random.default_rng(zlib.crc32(name.encode())).standard_normal(read.light.shape)
    light = np.clip(read.light + NOISE * noise, 0, 1).astype(np.float32)
    return replace(read, light=light)


@cache
def bench(set_up: str, cone_deg: float, *, stated: bool) -> Calibration:
    """The calibration with the pins of a set-up under one mask."""
    truth = kept()
    pins = [
        (name, t)
        for name, t in truth.items()
        if t["kind"] == "pin" and t["set_up"] == set_up and t["light"]["half_cone_deg"] == cone_deg
    ]
    said: dict[str, Any] = {}
    if stated:
        camera, light = pins[0][1]["camera"], pins[0][1]["light"]
        said = {
            "light_cone_deg": cone_deg,
            "light_patch_mm": light["patch_mm"],
            "light_distance_mm": light["distance_mm"],
            "focus_locked": True,
        }
        said |= {what: camera[what] for what in ("working_distance_mm", "lens_opening")}
    return calibrate_bench(pins=[(picture(n), t["diameter_mm"]) for n, t in pins], pin_u95_mm=PIN_U95_MM, **said)


def nothing_stated(name: str, truth: dict[str, Any]) -> Measurement:
    """Pins and picture, and not a word."""
    return measure_picture(picture(name), bench(truth["set_up"], truth["light"]["half_cone_deg"], stated=False))


def cone_stated(name: str, truth: dict[str, Any]) -> Measurement:
    """The half cone of the light, and what else a person reads off the bench."""
    return measure_picture(picture(name), bench(truth["set_up"], truth["light"]["half_cone_deg"], stated=True))


def surface_stated(name: str, truth: dict[str, Any]) -> Measurement:
    """The cone, the bench, and what the surface looks like."""
    plane = bench(truth["set_up"], truth["light"]["half_cone_deg"], stated=True)
    said = {"polished": "bright"}.get(truth["surface"], truth["surface"])
    return measure_picture(picture(name), plane, surface=said)


def two_lights(name: str, truth: dict[str, Any]) -> Measurement:
    """The same part, unmoved, under the other mask as well, pins under the first one alone."""
    plane = bench(truth["set_up"], truth["light"]["half_cone_deg"], stated=True)
    taken = [name, *truth["other_light"]]
    lights = [(kept()[one]["light"]["half_cone_deg"], picture(one)) for one in taken]
    return measure_under(lights, Bench(plane)).measurement


WAYS: dict[str, tuple[Callable[[str, dict[str, Any]], Measurement], Promise]] = {
    "nothing stated": (nothing_stated, Promise(4.0, 8.0)),
    "cone stated": (cone_stated, Promise(3.0, 6.0)),
    "surface stated": (surface_stated, Promise(1.2, 3.0)),
    "two lights": (two_lights, Promise(1.2, 3.0)),
}


def rows_of(name: str, truth: dict[str, Any], measured: Measurement) -> list[Row]:
    """Each quantity of the truth that the measurement gives."""
    found = []
    for quantity, true in truth["section"].items():
        got: Quantity | None = getattr(measured.thread, quantity)
        if got is None:
            continue
        factor = 1e3 if got.unit == "mm" else 1.0
        found.append(Row(name, quantity, factor * (got.value - true), factor * got.u95))
    return found


def score(way: str, names: Sequence[str]) -> tuple[list[Row], dict[str, str]]:
    """Measure these pictures in one way: all quantities, and by name what was refused."""
    truth, run = kept(), WAYS[way][0]
    rows, refused = [], {}
    for name in names:
        try:
            rows += rows_of(name, truth[name], run(name, truth[name]))
        except RefusalError as refusal:
            refused[name] = refusal.reasons[0].code
    return rows, refused


@dataclass(frozen=True)
class Line:
    """One quantity over some pictures: number, RMS error, worst error, coverage in per cent, median U95."""

    n: int
    rms: float
    worst: float
    coverage: float
    median_u95: float


def line_of(rows: Sequence[Row]) -> Line:
    """The statistics of some rows, at least one."""
    errors = np.array([row.error for row in rows])
    return Line(
        len(rows),
        sqrt(float(np.mean(errors**2))),
        float(errors[np.argmax(np.abs(errors))]),
        100 * float(np.mean([row.covered for row in rows])),
        float(np.median([row.u95 for row in rows])),
    )


def screws(set_up: str | None = None, *, ordinary: bool = False) -> list[str]:
    """The kept pictures of screws under the first mask of their set-up."""
    low, high = ORDINARY_DEG if ordinary else (0.0, 90.0)
    return [
        name
        for name, t in kept().items()
        if t["kind"] == "screw"
        and t["first_light"]
        and set_up in {None, t["set_up"]}
        and low <= t["light"]["half_cone_deg"] <= high
    ]


def report(way: str, names: Sequence[str], *, each: bool) -> tuple[str, bool]:
    """The table of one way, and whether its promise was kept."""
    rows, refused = score(way, names)
    lines = [
        f"{way}: {len(names)} pictures",
        f"  {'quantity':<20}{'n':>4}{'RMS':>9}{'worst':>9}{'covered':>9}{'U95':>9}",
    ]
    for quantity in dict.fromkeys(row.quantity for row in rows):
        line = line_of([row for row in rows if row.quantity == quantity])
        numbers = f"{line.n:>4}{line.rms:>9.3f}{line.worst:>+9.3f}{line.coverage:>7.0f} %{line.median_u95:>9.3f}"
        lines.append(f"  {quantity:<20}{numbers}")
    lines += [f"  {name}: refused, {code}" for name, code in refused.items()]
    if each:
        lines += [
            f"    {row.picture:<36}{row.error:>+9.2f} ± {row.u95:.2f}{'' if row.covered else '   outside'}"
            for row in rows
            if row.quantity == "pitch_diameter"
        ]
    promise = WAYS[way][1]
    within = set(screws(ordinary=True))
    judged = [row for row in rows if row.quantity == "pitch_diameter" and row.picture in within]
    if not judged:
        return "\n".join(lines), not refused
    line = line_of(judged)
    met = line.rms <= promise.rms and line.coverage >= promise.coverage and line.median_u95 <= promise.median_u95
    lines.append(
        f"  pitch diameter, half cones {ORDINARY_DEG[0]:g}-{ORDINARY_DEG[1]:g} deg: RMS {line.rms:.2f} um"
        f" (<= {promise.rms:g}), covered {line.coverage:.0f} % (>= {promise.coverage:g}), U95 {line.median_u95:.1f} um"
        f" (<= {promise.median_u95:g}): {'kept' if met else 'BROKEN'}"
    )
    return "\n".join(lines), met and not refused


def render(set_up: str | None) -> None:
    """Trace the pictures that are not there, and write their truth beside them."""
    from benchmarks.traced_scenes import keep, shots, truth_of  # noqa: PLC0415

    FOLDER.mkdir(exist_ok=True)
    truth, wanted = kept(), list(shots())
    for number, shot in enumerate(wanted):
        if set_up not in {None, shot.set_up.name} or (FOLDER / shot.name).exists():
            continue
        print(f"{number + 1} of {len(wanted)}: {shot.name}", file=sys.stderr, flush=True)
        keep(shot, FOLDER, 1000 * number)
        truth[shot.name] = truth_of(shot)
        ordered = {shot.name: truth[shot.name] for shot in wanted if shot.name in truth}
        TRUTH.write_text(json.dumps(ordered, indent=1) + "\n", encoding="utf-8")


def main(argv: Sequence[str] | None = None) -> int:
    """The command."""
    parser = argparse.ArgumentParser(prog="python -m benchmarks.traced", description=__doc__.split("\n", 1)[0])
    parser.add_argument("--render", action="store_true", help="trace the pictures that are missing")
    parser.add_argument("--set-up", metavar="NAME", help="only this set-up")
    parser.add_argument("--way", choices=list(WAYS), help="only this way")
    parser.add_argument("--each", action="store_true", help="the pitch diameter of every picture")
    told = parser.parse_args(argv)
    if told.render:
        render(told.set_up)
        return 0
    names = screws(told.set_up)
    if not names:
        parser.error("no kept picture")
    tables = [report(way, names, each=told.each) for way in WAYS if told.way in {None, way}]
    print("Lengths in um, angles in degrees.\n\n" + "\n\n".join(text for text, _ in tables))
    return 0 if all(met for _, met in tables) else 1


if __name__ == "__main__":
    sys.exit(main())
