"""What does the backlight that polished flanks mirror leave of the pitch diameter, put right or not?

    python -m benchmarks.mirrored_light [--mixed] [--quick] [--jobs 2]

Threads of 2 to 3 mm and two pins are drawn in backlights of half cones of 2, 3 and 4 degrees, the mirrored light by
tracing rays (``sample_images.mirrored``), with reflectivities of 0.55, 0.70 and 0.85; with ``--mixed`` polished, lapped
and rough metal through lenses of three openings. Each thread is measured with a
scale from a flat gauge and from the pins, with cone and surface given, with the cone alone, and with nothing said. The
error is that against
the same picture without mirrored light, so that it is the error from this cause alone. Exit code 1 when a promise was
not kept.
"""

from __future__ import annotations

import argparse
import sys
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from typing import Any

import numpy as np

from benchmarks.pool import run_all
from calib.bench import calibrate_bench
from sample_images.render import render
from sample_images.scene import Camera, Light, Scene, Thread, pin_scene
from threads.shared.quantity import Quantity
from vision.pictures.picture import Picture
from vision.result.measure import measure_picture
from vision.shared.plane import FixedScale, PlaneMap

WITHIN_UM = 2.0
"""What may be left of the pitch diameter of a thread of 60 degrees when the cone is known and the surface bright, which
stands for anything from a shine to a perfect mirror."""
RMS_UM = {"cone and surface given": 0.6, "cone given": 1.0, "nothing said": 1.5}
"""Root mean square error that may be left of the pitch diameter of threads of 60 degrees, the scale from pins."""
MIXED_RMS_UM = RMS_UM | {"cone and surface given": 0.8}
"""The same where bright metal mirrors anything from a third of the light (rough) to two thirds: one word says both."""
CONES_DEG = (2.0, 3.0, 4.0)
REFLECTIVITIES = (0.55, 0.7, 0.85)
MIXED = ((0.7, 0.0, 0.01), (0.85, 0.02, 0.02), (0.85, 0.04, 0.035))
"""Reflectivity, roughness and opening of the lens."""
PINS_MM = (1.0, 2.5)
GAUGES = ("flat", "pins")
CAMERA = Camera(920, 760, um_per_px=4.0, blur_sigma_px=1.0, noise=0.003, bits=16)
THREADS = {
    "M2": Thread(1.97, 1.72, 1.52, 0.4, crest_corner_radius_mm=0.008),
    "M2.5": Thread(2.48, 2.19, 1.97, 0.45, crest_corner_radius_mm=0.008),
    "4-40": Thread(2.82, 2.42, 2.08, 0.635, crest_corner_radius_mm=0.01),
    "6 BA": Thread(2.8, 2.48, 2.16, 0.53, 23.75, 23.75, root="radius", crest="radius"),
}
"""Each near the middle of its tolerance zone."""


@dataclass(frozen=True)
class Case:
    """One thread in one light."""

    thread: str
    cone_deg: float
    reflectivity: float
    roughness: float = 0.0
    opening: float = 0.0


@dataclass(frozen=True)
class Found:
    """Pitch diameters by kind of gauge, with cone and surface given, with the cone alone, and with nothing said."""

    known: dict[str, Quantity]
    cone: dict[str, Quantity]
    unknown: dict[str, Quantity]


@dataclass(frozen=True)
class Row:
    """What one case shows with one kind of gauge, micrometres.

    Attributes:
        left: error that is left with cone and surface given.
        by_cone: error with the cone given alone.
        known_u95, unknown_u95: U95 with cone and surface given and with nothing said.
        raw: error with nothing said.
        known_covered, cone_covered, unknown_covered: whether the true pitch diameter lies within U95.
        promised: whether ``left`` has to keep to ``WITHIN_UM``.
    """

    case: Case
    gauge: str
    left: float
    by_cone: float
    known_u95: float
    raw: float
    unknown_u95: float
    known_covered: bool
    cone_covered: bool
    unknown_covered: bool
    promised: bool

    @property
    def kept(self) -> bool:
        return (
            self.known_covered
            and self.cone_covered
            and self.unknown_covered
            and (not self.promised or abs(self.left) < WITHIN_UM)
        )


def photograph(scene: Scene) -> Picture:
    """The picture of a scene, as if read from a file."""
    levels, _ = render(scene)
    light = (levels / np.iinfo(levels.dtype).max).astype(np.float32)
    size = {"width_px": levels.shape[1], "height_px": levels.shape[0]}
    name = f"{scene.thread}{scene.body}{scene.light}"
    return Picture("scene.png", f"{abs(hash(name)):x}", light=light, bit_depth=16, clipped_bright=0.0,
                   step=2e-5, notes=(), **size)  # fmt: skip


def try_case(case: Case, camera: Camera = CAMERA, pins_mm: Sequence[float] = PINS_MM) -> Found:
    """Draw thread and pins, calibrate, and measure with every gauge, with the cone and without."""
    light = Light(cone_deg=case.cone_deg, reflectivity=case.reflectivity, roughness=case.roughness)
    camera = replace(camera, opening=case.opening)
    scene = Scene(THREADS[case.thread], 40.0, view_mm=20.0, phase=0.3, rotation_deg=4.0, seed=7, camera=camera,
                  light=light)  # fmt: skip
    picture = photograph(scene)
    pins = [(photograph(pin_scene(d, rotation_deg=3.0, seed=1, camera=camera, light=light)), d) for d in pins_mm]
    flat = FixedScale(camera.um_per_px, 1e-6, 1e-3, light_cone_deg=case.cone_deg, lens_opening=case.opening)

    def pitch_diameter(plane: PlaneMap, surface: str | None = None) -> Quantity:
        return measure_picture(picture, plane, surface=surface).thread.pitch_diameter

    gauges: dict[str, Any] = {"pins": pins, "pin_u95_mm": 1e-5, "focus_locked": True}
    stated = calibrate_bench(**gauges, light_cone_deg=case.cone_deg, lens_opening=case.opening)
    known = {"flat": pitch_diameter(flat, "bright"), "pins": pitch_diameter(stated, "bright")}
    by_cone = {"flat": pitch_diameter(flat), "pins": pitch_diameter(stated)}
    unknown = {
        "flat": pitch_diameter(replace(flat, light_cone_deg=None, lens_opening=None)),
        "pins": pitch_diameter(calibrate_bench(**gauges)),
    }
    return Found(known, by_cone, unknown)


def rows_of(case: Case, found: Found, without: Found) -> list[Row]:
    """The figures of one case; ``without`` is the same thread in light that is not mirrored, measured as such."""
    thread = THREADS[case.thread]
    rows = []
    for gauge in GAUGES:
        known, cone, unknown = found.known[gauge], found.cone[gauge], found.unknown[gauge]
        true = thread.pitch_diameter_mm
        plain = without.known[gauge].value
        rows.append(
            Row(
                case,
                gauge,
                left=1e3 * (known.value - plain),
                by_cone=1e3 * (cone.value - plain),
                known_u95=1e3 * known.u95,
                raw=1e3 * (unknown.value - plain),
                unknown_u95=1e3 * unknown.u95,
                known_covered=abs(known.value - true) <= known.u95,
                cone_covered=abs(cone.value - true) <= cone.u95,
                unknown_covered=abs(unknown.value - true) <= unknown.u95,
                promised=thread.half_angle_left_deg >= 30,
            )
        )
    return rows


def report(rows: Sequence[Row], promise: Mapping[str, float] = RMS_UM) -> tuple[str, bool]:
    """The table, and whether every promise was kept; ``promise`` is the root mean square error that may be left."""
    lines = [
        "Pitch diameter in mirrored light, um: error from this cause and U95",
        "",
        "                                                     all given           nothing said",
        "thread   cone  reflectivity  rough  opening  gauge   error    U95        error    U95",
    ]
    for row in rows:
        case = row.case
        set_up = (
            f"{case.thread:7s}{case.cone_deg:4.0f}°{case.reflectivity:12.2f}{case.roughness:9.2f}{case.opening:9.3f}"
        )
        lines.append(
            f"{set_up}   {row.gauge:6s}{row.left:+7.2f}"
            f"{row.known_u95:8.2f}     {row.raw:+8.2f}{row.unknown_u95:8.2f}{'' if row.kept else '   BROKEN'}"
        )
    promised = [abs(row.left) for row in rows if row.promised]
    others = [abs(row.left) for row in rows if not row.promised]
    inside = all(left < WITHIN_UM for left in promised)
    most = max(promised, default=0.0)
    lines.append("")
    lines.append(
        f"cone and surface given, 60°: at most {most:.2f} um left (promised: under {WITHIN_UM:g} um: {_words(inside)})"
    )
    if others:
        lines.append(
            f"cone and surface given, 47.5°: at most {max(others):.2f} um left (steeper flanks mirror more: no promise)"
        )
    held = all(row.kept for row in rows)
    for words, error, covered in (
        ("cone and surface given", "left", [row.known_covered for row in rows]),
        ("cone given", "by_cone", [row.cone_covered for row in rows]),
        ("nothing said", "raw", [row.unknown_covered for row in rows]),
    ):
        rms, flat = (
            float(np.sqrt(np.mean([getattr(row, error) ** 2 for row in rows if row.promised and row.gauge == gauge])))
            for gauge in ("pins", "flat")
        )
        held = held and rms <= promise[words]
        lines.append(
            f"{words}: {sum(covered)} of {len(covered)} within U95 (promised: all: {_words(all(covered))}),"
            f" RMS at 60° {rms:.2f} um with pins (promised: {promise[words]:g}: {_words(rms <= promise[words])}),"
            f" {flat:.2f} um with a flat gauge"
        )
    return "\n".join(lines), held


def _words(kept: bool) -> str:
    return "kept" if kept else "BROKEN"


def main(argv: Sequence[str] | None = None) -> int:
    """The command."""
    parser = argparse.ArgumentParser(prog="python -m benchmarks.mirrored_light", description=__doc__.split("\n", 1)[0])
    parser.add_argument("--mixed", action="store_true", help="rough metal and open lenses, too")
    parser.add_argument("--quick", action="store_true", help="one thread, the widest cone")
    parser.add_argument("--jobs", type=int, default=2, help="processes (default 2)")
    options = parser.parse_args(argv)
    if options.jobs < 1:
        parser.error("--jobs: at least 1")
    names = list(THREADS)[1:2] if options.quick else list(THREADS)
    cones = CONES_DEG[-1:] if options.quick else CONES_DEG
    cases = [Case(name, 0.0, 0.0) for name in names]
    surfaces = MIXED if options.mixed else tuple((f, 0.0, 0.0) for f in REFLECTIVITIES)
    cases += [Case(name, cone, *surface) for name in names for cone in cones for surface in surfaces]
    found = dict(run_all(try_case, cases, options.jobs))
    rows = [
        row for case in cases if case.cone_deg > 0 for row in rows_of(case, found[case], found[Case(case.thread, 0, 0)])
    ]
    text, kept = report(rows, MIXED_RMS_UM if options.mixed else RMS_UM)
    print(text)
    return 0 if kept else 1


if __name__ == "__main__":
    sys.exit(main())
