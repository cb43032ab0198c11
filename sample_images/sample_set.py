"""The sample set: screws of an American marine sextant and of a field theodolite, gauge pins of two benches.

Instruments, benches and the Quayside Workshop are invented. The threads are drawn within the limits of the standards
that ``drawn_as`` names, with shop-made departures of angle, corner and pitch diameter.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace
from math import radians, tan
from pathlib import Path
from typing import Any

from sample_images.files import write_picture, write_truth
from sample_images.render import render
from sample_images.scene import Camera, Cylinder, Light, Scene, Thread, pin_scene

FOLDER = Path(__file__).resolve().parent
TRUTH_FILE = "truth.json"
SEXTANT, THEODOLITE = "marine sextant, 1938", "field theodolite, 1952"


@dataclass(frozen=True)
class Bench:
    """A camera with its light; its gauge pins and its screws share scale, lens and edge offset."""

    name: str
    camera: Camera
    light: Light
    edge_offset_px: float


@dataclass(frozen=True)
class Sample:
    """One picture of the set: its file, what it shows in a few words, the scene, and what the thread was drawn as."""

    file: str
    what: str
    instrument: str | None
    bench: Bench
    scene: Scene
    drawn_as: str | None = None


BENCH_A = Bench(
    "a",
    Camera(1280, 960, um_per_px=4.0, blur_sigma_px=1.0, noise=0.005),
    Light(exposure=0.76, gradient_x=0.03, gradient_y=-0.02, vignette=0.04, flare=0.02),
    edge_offset_px=-0.25,
)
BENCH_B = Bench(
    "b",
    Camera(1280, 960, um_per_px=6.4, working_distance_mm=100.0, blur_sigma_px=1.3, noise=0.006),
    Light(exposure=0.70, gradient_x=-0.04, gradient_y=0.02, vignette=0.06, flare=0.035),
    edge_offset_px=0.0,
)


def cut(
    major_mm: float,
    pitch_diameter_mm: float,
    pitch_mm: float,
    root_in_pitches: float,
    left_deg: float = 30.0,
    right_deg: float = 30.0,
    *,
    rounded: bool = False,
    corner_mm: float = 0.006,
    hand: str = "right",
) -> Thread:
    """A thread with its root flat (or the line that its rounded root touches) a given number of pitches wide."""
    run = tan(radians(left_deg)) + tan(radians(right_deg))
    return Thread(
        major_mm=major_mm,
        pitch_diameter_mm=pitch_diameter_mm,
        minor_mm=round(pitch_diameter_mm - 2 * (0.5 - root_in_pitches) * pitch_mm / run, 5),
        pitch_mm=pitch_mm,
        half_angle_left_deg=left_deg,
        half_angle_right_deg=right_deg,
        root="radius" if rounded else "flat",
        root_corner_radius_mm=0.0 if rounded else 0.004,
        crest_corner_radius_mm=corner_mm,
        hand=hand,
    )


def samples() -> Iterator[Sample]:
    """Every picture of the set, screws first."""
    yield from _sextant()
    yield from _theodolite()
    for bench, turns in ((BENCH_A, (1.2, -0.8)), (BENCH_B, (-1.7, 0.6))):
        for diameter, turn, seed in ((1.0, turns[0], 71), (2.5, turns[1], 72)):
            scene = pin_scene(
                diameter,
                rotation_deg=turn,
                offset_px=14.3 - 9 * diameter,
                edge_offset_px=bench.edge_offset_px,
                seed=seed + ord(bench.name),
                camera=bench.camera,
                light=bench.light,
            )
            what = f"gauge pin {diameter:.3f} mm on bench {bench.name.upper()}"
            yield Sample(f"pin_{diameter * 1000:.0f}_bench_{bench.name}.png", what, None, bench, scene)


def _on(bench: Bench, scene: Scene) -> Scene:
    return replace(scene, camera=bench.camera, light=bench.light, edge_offset_px=bench.edge_offset_px)


def _inch(value: float) -> float:
    return round(value * 25.4, 5)


def _sextant() -> Iterator[Sample]:
    """American National screws of 1938, and a Unified one that was cut today in place of the first."""
    thread = cut(_inch(0.1107), _inch(0.0956), 25.4 / 40, 0.128, 30.2, 29.9)
    scene = Scene(
        thread, 9.0, chamfer_end_mm=1.86, phase=0.21, rotation_deg=2.6, view_mm=2.1, offset_px=11, tilt_deg=0.3, seed=11
    )
    what = "index arm screw, free end to the right"
    yield Sample("sextant_index_arm_screw_4-40_bench_a.png", what, SEXTANT, BENCH_A, _on(BENCH_A, scene), "4-40 NC-2")

    thread = cut(_inch(0.0848), _inch(0.0748), 25.4 / 64, 0.135, 29.8, 30.3)
    shank = (Cylinder(2.14, 3.0),)
    scene = Scene(
        thread,
        4.1,
        1.40,
        40.0,
        0.45,
        0.63,
        shank,
        tilt_deg=-0.5,
        rotation_deg=187.5,
        view_mm=2.2,
        offset_px=-25,
        seed=12,
    )
    what = "horizon mirror screw, free end to the left, shank in view"
    yield Sample(
        "sextant_horizon_mirror_screw_2-64_bench_a.png", what, SEXTANT, BENCH_A, _on(BENCH_A, scene), "2-64 NF-2"
    )

    thread = cut(_inch(0.0590), _inch(0.0517), 25.4 / 80, 0.13, 30.1, 30.1, corner_mm=0.004)
    scene = Scene(
        thread, 8.0, 0.92, 45.0, phase=0.4, tilt_deg=0.2, rotation_deg=268.2, view_mm=1.45, offset_px=60, seed=13
    )
    what = "shade frame screw, free end up"
    yield Sample("sextant_shade_frame_screw_0-80_bench_a.png", what, SEXTANT, BENCH_A, _on(BENCH_A, scene), "0-80 NF-2")

    thread = cut(_inch(0.1106), _inch(0.0951), 25.4 / 40, 0.14, 30.0, 29.7)
    body = (Cylinder(3.30, 1.55), Cylinder(5.10, 2.2))
    scene = Scene(
        thread, 4.15, 1.86, 45.0, 0.3, 0.85, body, tilt_deg=0.4, rotation_deg=338.0, view_mm=3.6, offset_px=-18, seed=14
    )
    what = "shade pivot screw with shoulder and head"
    yield Sample("sextant_shade_pivot_screw_4-40_bench_b.png", what, SEXTANT, BENCH_B, _on(BENCH_B, scene), "4-40 NC-3")

    thread = cut(_inch(0.1236), _inch(0.1086), 25.4 / 40, 0.13, 29.9, 30.2)
    scene = Scene(
        thread, 20.0, 2.1, 45.0, phase=0.1, tilt_deg=1.6, rotation_deg=41.0, view_mm=2.7, offset_px=8, seed=15
    )
    what = "telescope collar screw, axis tilted 1.6 degrees toward the camera"
    yield Sample(
        "sextant_telescope_collar_screw_5-40_bench_b.png", what, SEXTANT, BENCH_B, _on(BENCH_B, scene), "5-40 NC-2"
    )

    thread = cut(_inch(0.1622), _inch(0.1434), 25.4 / 32, 0.125, 30.3, 30.0)
    scene = Scene(thread, 40.0, phase=0.55, tilt_deg=-0.3, rotation_deg=174.0, view_mm=20.0, offset_px=-12, seed=16)
    what = "handle screw, thread crosses both borders"
    yield Sample("sextant_handle_screw_8-32_bench_b.png", what, SEXTANT, BENCH_B, _on(BENCH_B, scene), "8-32 NC-2")

    thread = cut(_inch(0.1876), _inch(0.1693), 25.4 / 32, 0.15, 30.0, 30.4)
    scene = Scene(
        thread, 40.0, 3.4, 40.0, phase=0.3, rotation_deg=9.0, view_mm=3.3, offset_px=20, dust=9, hairs=3, seed=17
    )
    what = "leg screw with dust and hairs on the outline"
    yield Sample("sextant_leg_screw_10-32_dusty_bench_b.png", what, SEXTANT, BENCH_B, _on(BENCH_B, scene), "10-32 NF-3")

    thread = cut(_inch(0.1093), _inch(0.0940), 25.4 / 40, 0.165, 30.0, 30.1, rounded=True)
    scene = Scene(
        thread, 9.0, 1.80, 45.0, phase=0.72, tilt_deg=-0.6, rotation_deg=181.5, view_mm=2.0, offset_px=-20, seed=21
    )
    what = "index arm screw cut today, rounded root"
    yield Sample(
        "sextant_index_arm_replacement_4-40_bench_a.png", what, SEXTANT, BENCH_A, _on(BENCH_A, scene), "4-40 UNC-2A"
    )


def _theodolite() -> Iterator[Sample]:
    """ISO metric screws; the instrument of 1952 got them in a later repair."""
    thread = cut(1.950, 1.695, 0.4, 0.19, 29.9, 29.9, rounded=True, corner_mm=0.005)
    scene = Scene(
        thread, 9.0, 1.25, 45.0, phase=0.05, tilt_deg=0.4, rotation_deg=128.0, view_mm=1.5, offset_px=15, seed=22
    )
    bench = replace(BENCH_A, camera=replace(BENCH_A.camera, bits=16))
    what = "reticle screw, 16-bit TIFF"
    yield Sample("theodolite_reticle_screw_M2_bench_a.tif", what, THEODOLITE, BENCH_A, _on(bench, scene), "M2-6g")

    thread = cut(2.440, 2.160, 0.45, 0.18, 30.2, 30.2, rounded=True, corner_mm=0.005)
    scene = Scene(thread, 30.0, phase=0.9, tilt_deg=-0.2, rotation_deg=24.0, view_mm=15.0, offset_px=-6, seed=23)
    what = "cover screw, JPEG with the sRGB curve, thread crosses both borders"
    yield Sample("theodolite_cover_screw_M2.5_bench_a.jpg", what, THEODOLITE, BENCH_A, _on(bench, scene), "M2.5-6g")

    thread = cut(2.940, 2.625, 0.5, 0.18, 29.8, 30.0, rounded=True)
    scene = Scene(
        thread, 25.0, 2.2, 45.0, phase=0.33, tilt_deg=0.9, rotation_deg=312.0, view_mm=2.4, offset_px=10, seed=24
    )
    bench = replace(BENCH_B, light=replace(BENCH_B.light, background="dark", exposure=0.62))
    what = "level screw, lit from the front before a dark background"
    yield Sample("theodolite_level_screw_M3_bench_b.png", what, THEODOLITE, BENCH_B, _on(bench, scene), "M3-6g")

    thread = cut(3.925, 3.482, 0.7, 0.17, 30.1, 29.8, rounded=True, hand="left")
    body = (Cylinder(3.9, 8.0),)
    scene = Scene(
        thread, 7.2, 2.9, 45.0, 0.6, 0.48, body, tilt_deg=-0.8, rotation_deg=176.0, view_mm=3.5, offset_px=16, seed=25
    )
    what = "tangent screw with left-hand thread"
    yield Sample(
        "theodolite_tangent_screw_M4_left_bench_b.png", what, THEODOLITE, BENCH_B, _on(BENCH_B, scene), "M4-6g"
    )


def entry(sample: Sample, truth: dict[str, Any]) -> dict[str, Any]:
    """The sample's entry in the truth file."""
    jpeg = sample.file.endswith(".jpg")
    pins = [f"pin_{size}_bench_{sample.bench.name}.png" for size in ("1000", "2500")]
    about = {
        "file": sample.file,
        "what": sample.what,
        "instrument": sample.instrument,
        "drawn_as": sample.drawn_as,
        "bench": sample.bench.name,
        "pins": pins,
        "encoding": "sRGB" if jpeg else "linear",
    }
    return about | truth | ({"bits": 8} if jpeg else {})


def rebuild(folder: Path = FOLDER) -> list[Path]:
    """Draw the whole set into ``folder`` (made if missing), truth file included; the same every time.

    Returns:
        The files written, the truth file last.

    Raises:
        OSError: a file cannot be written.
    """
    folder.mkdir(parents=True, exist_ok=True)
    entries, written = [], []
    for sample in samples():
        picture, truth = render(sample.scene)
        write_picture(folder / sample.file, picture)
        entries.append(entry(sample, truth))
        written.append(folder / sample.file)
    write_truth(folder / TRUTH_FILE, entries)
    return [*written, folder / TRUTH_FILE]
