"""Pictures from a path tracer, which shares none of our assumptions on light, measured with less or more said of it.

    python -m benchmarks.traced [--set-up NAME] [--each]
    python -m benchmarks.traced --render
    python -m benchmarks.traced --fresh SEED [--set-ups N] --folder DIR

scores the pictures kept in ``benchmarks/traced`` against the sizes of their meshes: root mean square error, how often
U95 covers the truth and the median U95 of every quantity, with nothing said of the light, with the cone (and with it
the bench: distance of the camera, opening of the lens) stated, with the surface stated as well, and from two lights.
Each bench is calibrated with the two pins that were traced in the same set-up. Then one blackened screw under four
openings of the lens, its scale exact: how far the opening moves its pitch diameter. ``--render`` traces what is missing
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
from math import inf, radians, sqrt, tan
from pathlib import Path
from typing import Any

import numpy as np

from benchmarks.traced_fresh import fresh_shots
from benchmarks.traced_scenes import (
    ORDINARY_DEG,
    REDRAWN,
    REDRAWN_CONE_DEG,
    SET_UPS,
    Shot,
    keep,
    redraws,
    shots,
    truth_of,
)
from calib.bench import FAST_OPENING, calibrate_bench
from calib.calibration import Calibration
from flankwise.bench import Bench
from flankwise.under_lights import measure_under
from threads.shared.quantity import Quantity
from threads.shared.refusal import RefusalError
from vision.pictures.picture import Picture, read_picture
from vision.result.measure import measure_picture
from vision.result.measurement import Measurement
from vision.shared.plane import FixedScale

FOLDER = Path(__file__).parent / "traced"
TRUTH = "truth.json"
NOISE = 0.004
"""Of full scale, added when a kept picture is read: without it the files are ten times smaller."""
PIN_U95_MM = 0.0002
SIDED = ("flank_angle_left", "flank_angle_right", "axis_tilt")
"""What is said of the other flank, or end, where a warning says that the free end was not seen."""
WRONG_DEG = 3.0
"""Half cone that is stated of lights up to four times as wide."""
SHIFT_UM = 0.15
"""By which the pitch diameter of a blackened part may move with the opening, up to one that is warned of as fast."""
Truth = dict[str, dict[str, Any]]


@dataclass(frozen=True)
class Promise:
    """What the pitch diameter must reach in ordinary set-ups: RMS error and median U95, um, and coverage, %."""

    rms: float
    median_u95: float
    coverage: float = 95.0


MISSTATED = Promise(inf, inf, 83.0)
"""Where something false is said of the bench. A U95 that covers 95 % misses three or more of twelve in 2 % of draws."""


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


@cache
def kept(folder: Path = FOLDER) -> Truth:
    """What is true of each picture of a folder."""
    path = folder / TRUTH
    return json.loads(path.read_text(encoding="utf-8")) if path.exists() else {}


def picture(name: str, folder: Path = FOLDER) -> Picture:
    """A kept picture, with the noise of a camera; the same each time."""
    read = read_picture(folder / name)
    noise = np.random.default_rng(zlib.crc32(name.encode())).standard_normal(read.light.shape)
    light = np.clip(read.light + NOISE * noise, 0, 1).astype(np.float32)
    return replace(read, light=light)


@cache
def bench(set_up: str, cone_deg: float, said_deg: float | None, folder: Path = FOLDER) -> Calibration:
    """The calibration with the pins of a set-up under one mask, a half cone said of it or none (and nothing else)."""
    truth = kept(folder)
    pins = [
        (name, t)
        for name, t in truth.items()
        if t["kind"] == "pin" and t["set_up"] == set_up and t["light"]["half_cone_deg"] == cone_deg
    ]
    said: dict[str, Any] = {}
    if said_deg is not None:
        camera, light = pins[0][1]["camera"], pins[0][1]["light"]
        said = {
            "light_cone_deg": said_deg,
            "light_patch_mm": 2 * light["distance_mm"] * tan(radians(said_deg)),
            "light_distance_mm": light["distance_mm"],
            "focus_locked": True,
        }
        said |= {what: camera[what] for what in ("working_distance_mm", "lens_opening")}
    taken = [(picture(n, folder), t["diameter_mm"]) for n, t in pins]
    return calibrate_bench(pins=taken, pin_u95_mm=PIN_U95_MM, **said)


def nothing_stated(name: str, folder: Path = FOLDER) -> Measurement:
    """Pins and picture, and not a word."""
    set_up, cone = _under(name, folder)
    return measure_picture(picture(name, folder), bench(set_up, cone, None, folder))


def cone_stated(name: str, folder: Path = FOLDER) -> Measurement:
    """The half cone of the light, and what else a person reads off the bench."""
    set_up, cone = _under(name, folder)
    return measure_picture(picture(name, folder), bench(set_up, cone, cone, folder))


def surface_stated(name: str, folder: Path = FOLDER) -> Measurement:
    """The cone, the bench, and what the surface looks like."""
    set_up, cone = _under(name, folder)
    surface = kept(folder)[name]["surface"]
    said = {"polished": "bright"}.get(surface, surface)
    return measure_picture(picture(name, folder), bench(set_up, cone, cone, folder), surface=said)


def two_lights(name: str, folder: Path = FOLDER) -> Measurement:
    """The same part, unmoved, under the other mask as well, pins under the first one alone."""
    set_up, cone = _under(name, folder)
    taken = [name, *kept(folder)[name]["other_light"]]
    lights = [(_under(one, folder)[1], picture(one, folder)) for one in taken]
    return measure_under(lights, Bench(bench(set_up, cone, cone, folder))).measurement


def wrong_cone_stated(name: str, folder: Path = FOLDER) -> Measurement:
    """Pins and part under the wider mask, while a half cone of ``WRONG_DEG`` is stated."""
    wide = widest(name, folder)
    set_up, cone = _under(wide, folder)
    return measure_picture(picture(wide, folder), bench(set_up, cone, WRONG_DEG, folder))


def other_light(name: str, folder: Path = FOLDER) -> Measurement:
    """Pins under the first mask, the half cone of which is stated; the part under the other one."""
    (other,) = kept(folder)[name]["other_light"]
    set_up, cone = _under(name, folder)
    return measure_picture(picture(other, folder), bench(set_up, cone, cone, folder))


def widest(name: str, folder: Path = FOLDER) -> str:
    """The picture of the same screw under the widest mask."""
    return max((name, *kept(folder)[name]["other_light"]), key=lambda one: _under(one, folder)[1])


def _under(name: str, folder: Path) -> tuple[str, float]:
    truth = kept(folder)[name]
    return truth["set_up"], truth["light"]["half_cone_deg"]


WAYS: dict[str, tuple[Callable[[str, Path], Measurement], Promise]] = {
    "nothing stated": (nothing_stated, Promise(4.0, 8.0)),
    "cone stated": (cone_stated, Promise(3.0, 6.0)),
    "surface stated": (surface_stated, Promise(1.2, 3.0)),
    "two lights": (two_lights, Promise(1.2, 3.0)),
    "wrong cone stated": (wrong_cone_stated, MISSTATED),
    "other light": (other_light, MISSTATED),
}


def rows_of(name: str, truth: dict[str, Any], measured: Measurement) -> list[Row]:
    """Each quantity of the truth that the measurement gives."""
    found = []
    unsided = any(warning.code == "free_end_unseen" for warning in measured.quality.warnings)
    for quantity, true in truth["section"].items():
        got: Quantity | None = getattr(measured.thread, quantity)
        if got is None or (unsided and quantity in SIDED):
            continue
        factor = 1e3 if got.unit == "mm" else 1.0
        found.append(Row(name, quantity, factor * (got.value - true), factor * got.u95))
    return found


def score(way: str, names: Sequence[str], folder: Path = FOLDER) -> tuple[list[Row], dict[str, str]]:
    """Measure these pictures in one way: all quantities, and by name what was refused."""
    truth, run = kept(folder), WAYS[way][0]
    rows, refused = [], {}
    for name in names:
        try:
            rows += rows_of(name, truth[name], run(name, folder))
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


def screws(set_up: str | None = None, folder: Path = FOLDER, *, ordinary: bool = False) -> list[str]:
    """The kept pictures of screws under the first mask of their set-up."""
    low, high = ORDINARY_DEG if ordinary else (0.0, 90.0)
    return [
        name
        for name, t in kept(folder).items()
        if t["kind"] == "screw"
        and t["first_light"]
        and set_up in {None, t["set_up"]}
        and low <= t["light"]["half_cone_deg"] <= high
    ]


def report(way: str, names: Sequence[str], folder: Path = FOLDER, *, each: bool) -> tuple[str, bool]:
    """The table of one way, and whether its promise was kept."""
    rows, refused = score(way, names, folder)
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
    within = set(screws(None, folder, ordinary=True))
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


def shifts(folder: Path = FOLDER, widest: float = inf) -> dict[float, Row]:
    """By the opening of the lens, up to ``widest``: the pitch diameter of a blackened screw drawn under several."""
    found = {}
    truth = kept(folder)
    for shot in (Shot(SET_UPS[REDRAWN.set_up], REDRAWN_CONE_DEG, REDRAWN), *redraws()):
        opening = shot.lens.opening
        if opening > widest:
            continue
        plane = FixedScale(shot.lens.um_per_px, 1e-6, 1e-3, light_cone_deg=shot.cone_deg, lens_opening=opening,
                           working_distance_mm=shot.lens.distance)  # fmt: skip
        measured = measure_picture(picture(shot.name, folder), plane, surface="black")
        (found[opening],) = (
            r for r in rows_of(shot.name, truth[shot.name], measured) if r.quantity == "pitch_diameter"
        )
    return dict(sorted(found.items()))


def report_shifts(found: dict[float, Row]) -> tuple[str, bool]:
    """The pitch diameters by opening, and whether they move by no more than promised."""
    lines = ["blackened, drawn under other openings of the lens:"]
    lines += [f"  {opening:<8g}{row.error:>+9.2f} ± {row.u95:.2f}" for opening, row in found.items()]
    first = next(iter(found.values())).error
    most = max(abs(row.error - first) for opening, row in found.items() if opening <= FAST_OPENING)
    met = most <= SHIFT_UM and all(row.covered for row in found.values())
    words = "kept" if met else "BROKEN"
    return "\n".join([*lines, f"  moved by {most:.2f} um up to {FAST_OPENING:g} (<= {SHIFT_UM:g}): {words}"]), met


def render(wanted: Sequence[Shot], folder: Path) -> None:
    """Trace the pictures that are not there, and write their truth beside them."""
    folder.mkdir(parents=True, exist_ok=True)
    truth = dict(kept(folder))
    for number, shot in enumerate(wanted):
        if (folder / shot.name).exists():
            continue
        print(f"{number + 1} of {len(wanted)}: {shot.name}", file=sys.stderr, flush=True)
        keep(shot, folder, 1000 * number)
        truth[shot.name] = truth_of(shot)
        ordered = {shot.name: truth[shot.name] for shot in wanted if shot.name in truth}
        (folder / TRUTH).write_text(json.dumps(ordered, indent=1) + "\n", encoding="utf-8")
    kept.cache_clear()


def main(argv: Sequence[str] | None = None) -> int:
    """The command."""
    parser = argparse.ArgumentParser(prog="python -m benchmarks.traced", description=__doc__.split("\n", 1)[0])
    parser.add_argument("--render", action="store_true", help="trace the kept pictures that are missing")
    parser.add_argument(
        "--fresh", metavar="SEED", type=int, help="trace pictures of this seed into --folder, and score them"
    )
    parser.add_argument("--set-ups", metavar="N", type=int, default=4, help="with --fresh: how many (default 4)")
    parser.add_argument("--folder", metavar="DIR", type=Path, default=FOLDER, help="other pictures than the kept ones")
    parser.add_argument("--set-up", metavar="NAME", help="only this set-up")
    parser.add_argument("--way", choices=list(WAYS), help="only this way")
    parser.add_argument("--each", action="store_true", help="the pitch diameter of every picture")
    told = parser.parse_args(argv)
    if told.render:
        render([*shots(), *redraws()], FOLDER)
        return 0
    if told.fresh is not None:
        if told.folder == FOLDER:
            parser.error("--fresh: name another --folder")
        render(fresh_shots(told.fresh, told.set_ups), told.folder)
    names = screws(told.set_up, told.folder)
    if not names:
        parser.error("no picture")
    tables = [report(way, names, told.folder, each=told.each) for way in WAYS if told.way in {None, way}]
    if told.folder == FOLDER and told.set_up is None and told.way is None:
        tables.append(report_shifts(shifts()))
    print("Lengths in um, angles in degrees.\n\n" + "\n\n".join(text for text, _ in tables))
    return 0 if all(met for _, met in tables) else 1


if __name__ == "__main__":
    sys.exit(main())
