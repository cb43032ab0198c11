"""Does a measurement hold with cameras as people own them? Their processing, refocusing and files, drawn and measured.

    python -m benchmarks.camera [--scenes 10] [--seed 1] [--jobs 2] [--only SET]

Random screws and the two pins of their bench (``scenes``) go through the processing of a camera: lateral colour, the
mosaic of its colour filters, noise and its removal, a tone curve, sharpening of 60 to 150 %, JPEG of quality 75 to 90
with 4:2:0. The focus is not said to be locked. The sets:

    owned        all pictures alike, the part refocused by up to 0.1 %
    refocused    the part refocused by 0.3 %, up or down: U95 cannot cover it, so that the standing warning must name
                 how much it is
    pin beside   the same with a pin beside the part
    adaptive     the part sharpened otherwise than the pins, and otherwise from place to place
    files        pins as grey PNG, the part as JPEG, RGB, palette and CMYK of the same values, against its own grey PNG
    exposed      pins as grey PNG, the part as JPEG with the tone curve, brighter or darker by up to a sixth

A quantity is right where U95 covers the truth or a warning says what was different; ``focus_not_locked``, which stands
at every such measurement, is none. Exit code 1 when a promise was not kept.
"""

from __future__ import annotations

import argparse
import sys
import tempfile
from collections.abc import Sequence
from dataclasses import dataclass, replace
from pathlib import Path

import numpy as np
import numpy.typing as npt
from PIL import Image

import flankwise
from benchmarks.accuracy import count, seed_number
from benchmarks.outcome import UNITS, Compared, compare
from benchmarks.pool import run_all
from benchmarks.scenes import PIN_U95_MM, BenchScene, bench_scene
from flankwise.bench import Bench
from flankwise.part import Part
from sample_images.files import srgb_code, write_picture
from sample_images.render import pad_light, render, shadow
from sample_images.scene import Scene
from threads.shared.refusal import RefusalError
from vision.shared.opencv import cv2

Light = npt.NDArray[np.float32]

WIDTH, HEIGHT, WITH_PIN_HEIGHT = 1100, 820, 1240
SETS = ("owned", "refocused", "pin beside", "adaptive", "files", "exposed")
JUDGED = tuple(name for name in UNITS if name not in ("taper", "axis_tilt", "lead_angle"))
SAID = ("tone_differs", "camera_differs", "focus_changed", "sharpness_differs", "light_differs")
SAME_UM = 0.5  # between files of the same values
LENGTHS = ("pitch_diameter", "major_diameter", "minor_diameter")
_FULL = 65535


@dataclass(frozen=True)
class Processing:
    """Of one camera: by how much red and blue are larger and smaller than green, width (px) and amount of sharpening,
    how far its noise is smoothed (0: not at all), strength of the tone curve beyond sRGB, quality of its JPEG.
    """

    lateral: float
    sharpen_px: float
    sharpen: float
    denoise: float
    contrast: float
    quality: int


def processing(rng: np.random.Generator) -> Processing:
    """One drawn at random."""
    return Processing(
        lateral=float(rng.uniform(-3e-4, 3e-4)),
        sharpen_px=float(rng.uniform(0.8, 1.6)),
        sharpen=float(rng.uniform(0.6, 1.5)),
        denoise=float(rng.choice([0.0, 0.02, 0.05])),
        contrast=float(rng.uniform(0, 0.6)),
        quality=int(rng.integers(75, 91)),
    )


def photograph(scenes: Sequence[Scene], camera: Processing, path: Path, *, adaptive: float = 0.0) -> Path:
    """The picture of ``scenes``, in one view, as the camera writes it.

    ``adaptive`` is by how much the sharpening follows what lies around: 1 doubles it where there is most contrast and
    takes it away where there is none.
    """
    first = scenes[0]
    light = pad_light(first.light, first.camera)
    stray = first.light.flare
    rng = np.random.default_rng([first.seed, 0])
    colours = []
    for grow in (1 + camera.lateral, 1.0, 1 - camera.lateral):
        as_seen = [replace(s, camera=replace(s.camera, um_per_px=s.camera.um_per_px / grow)) for s in scenes]
        dark = shadow(*as_seen)
        seen = dark if first.light.background == "dark" else 1 - dark
        noise = first.camera.noise * rng.standard_normal(dark.shape, dtype=np.float32)
        colours.append(light * (stray + (1 - stray) * seen) + noise)
    mosaic = colours[1].copy()
    mosaic[0::2, 0::2], mosaic[1::2, 1::2] = colours[0][0::2, 0::2], colours[2][1::2, 1::2]
    raw = np.clip(np.rint(mosaic * _FULL), 0, _FULL).astype(np.uint16)
    colour = cv2.cvtColor(raw, cv2.COLOR_BayerBG2RGB).astype(np.float32) / _FULL
    code: Light = np.asarray(srgb_of(np.clip(colour, 0, 1)), np.float32)
    if camera.denoise > 0:
        code = np.asarray(cv2.bilateralFilter(code, 5, camera.denoise, 1.5), np.float32)
    code = code + camera.contrast * (code - 0.5) * code * (1 - code) * 2
    level = code @ np.array([0.299, 0.587, 0.114], np.float32)
    detail = level - cv2.GaussianBlur(level, (0, 0), camera.sharpen_px)
    amount = np.full(level.shape, camera.sharpen, np.float32)
    if adaptive:
        mean = cv2.boxFilter(level, -1, (31, 31))
        spread = np.sqrt(np.maximum(cv2.boxFilter(level * level, -1, (31, 31)) - mean * mean, 0))
        amount *= 1 + adaptive * (2 * spread / max(float(spread.max()), 1e-6) - 1)
    code = code + (amount * detail)[:, :, None]
    eight = np.clip(np.rint(code * 255), 0, 255).astype(np.uint8)
    Image.fromarray(eight).save(path, quality=camera.quality, subsampling=2)
    return path


def srgb_of(light: npt.NDArray[np.floating]) -> npt.NDArray[np.floating]:
    """The curve of IEC 61966-2-1, not rounded."""
    return np.where(light <= 0.0031308, 12.92 * light, 1.055 * np.maximum(light, 1e-9) ** (1 / 2.4) - 0.055)


@dataclass(frozen=True)
class Seen:
    """One scene of one set: what was compared or why not, the warnings by code, the largest difference (um) of the
    diameters from those of the grey file, and by how much (um) the standing warning says the pitch diameter may be off.
    """

    refused: tuple[str, ...] = ()
    warnings: tuple[str, ...] = ()
    compared: dict[str, Compared] | None = None
    apart_um: float = 0.0
    named_um: float = 0.0


def run_scene(task: tuple[str, int]) -> list[Seen]:
    """Draw, calibrate, measure and compare one scene of one set."""
    name, seed = task
    bench = bench_scene(seed, (3.0, 8.0), width=WIDTH, height=HEIGHT)
    rng = np.random.default_rng([seed, 11])
    with tempfile.TemporaryDirectory(prefix="flankwise-camera-") as folder:
        try:
            if name in ("files", "exposed"):
                return _of_files(bench, rng, Path(folder), exposed=name == "exposed")
            return [_of_a_camera(name, bench, rng, Path(folder))]
        except RefusalError as refusal:
            return [Seen(tuple(reason.code for reason in refusal.reasons))]


def _calibrated(bench: BenchScene, pins: Sequence[Path]) -> Bench:
    gauges = [(path, nominal) for path, (_, nominal) in zip(pins, bench.pins, strict=True)]
    return flankwise.calibrate(pins=gauges, pin_u95=PIN_U95_MM, light_cone=0.0, working_distance="telecentric")


def _of_a_camera(name: str, bench: BenchScene, rng: np.random.Generator, folder: Path) -> Seen:
    camera = processing(rng)
    beside = name == "pin beside"
    if beside:
        bench = _with_room(bench, rng)
    by = float(rng.choice([-0.003, 0.003])) if name in ("refocused", "pin beside") else float(rng.uniform(-1e-3, 1e-3))
    if name == "adaptive":
        by = 0.0
        camera = replace(camera, sharpen=float(rng.uniform(0.6, 0.8)))
    used = _calibrated(bench, [photograph([p], camera, folder / f"pin{i}.jpg") for i, (p, _) in enumerate(bench.pins)])
    refocused = replace(bench.screw.camera, um_per_px=bench.screw.camera.um_per_px * (1 + by))
    parts = [replace(bench.screw, camera=refocused)]
    own_pin = None
    if beside:
        pin, own_pin = bench.pins[0]
        parts.append(replace(pin, camera=refocused, light=bench.screw.light, offset_px=0.33 * WITH_PIN_HEIGHT))
    of_part, adaptive = camera, 0.0
    if name == "adaptive":
        of_part, adaptive = replace(camera, sharpen=float(rng.uniform(1.2, 1.5))), float(rng.uniform(0.3, 0.8))
    path = photograph(parts, of_part, folder / "screw.jpg", adaptive=adaptive)
    found = flankwise.measure(path, used, pin_beside=own_pin, pin_u95=PIN_U95_MM)
    return _compared(bench.screw, found)


def _with_room(bench: BenchScene, rng: np.random.Generator) -> BenchScene:
    """The same in a picture with room for a pin below the part, both lying along it."""
    camera = replace(bench.screw.camera, height=WITH_PIN_HEIGHT)
    light = replace(bench.screw.light, background="bright")  # two bright bands across a dark picture could be two pads
    turned = float(rng.uniform(-5, 5)) + 180 * float(rng.integers(2))
    # a scene that is turned round has its offset turned as well
    up = -0.14 * WITH_PIN_HEIGHT
    screw = replace(
        bench.screw, camera=camera, light=light, rotation_deg=turned, offset_px=up if abs(turned) < 90 else -up
    )
    pins = tuple(
        (replace(pin, camera=camera, light=light, rotation_deg=float(rng.uniform(-2, 2))), d) for pin, d in bench.pins
    )
    return replace(bench, screw=screw, pins=pins)


def _of_files(bench: BenchScene, rng: np.random.Generator, folder: Path, *, exposed: bool) -> list[Seen]:
    def grey_of(scene: Scene) -> npt.NDArray[np.uint8]:
        levels = render(scene)[0]
        assert levels.dtype == np.uint8
        return np.asarray(levels, np.uint8)

    paths = []
    for i, (pin, _) in enumerate(bench.pins):
        paths.append(folder / f"pin{i}.png")
        write_picture(paths[-1], grey_of(pin))
    used = _calibrated(bench, paths)
    grey = grey_of(bench.screw)
    if exposed:
        factor = 1 + float(rng.uniform(0.05, 0.16)) * float(rng.choice([-1, 1]))
        Image.fromarray(srgb_code(np.clip(factor * grey / 255.0, 0, 1))).save(folder / "part.jpg", quality=92)
        return [_compared(bench.screw, flankwise.measure(folder / "part.jpg", used))]
    write_picture(folder / "part.png", grey)
    plain = flankwise.measure(folder / "part.png", used)
    picture = Image.fromarray(grey)
    ways = {
        "grey.jpg": picture,
        "rgb.png": picture.convert("RGB"),
        "palette.png": picture.convert("P"),
        "cmyk.jpg": picture.convert("CMYK"),
    }
    seen = []
    for name, image in ways.items():
        image.save(folder / name, quality=92)
        found = flankwise.measure(folder / name, used)
        apart = max(abs(getattr(found.thread, n).value - getattr(plain.thread, n).value) for n in LENGTHS)
        seen.append(replace(_compared(bench.screw, found), apart_um=1000 * apart))
    return seen


def _compared(screw: Scene, part: Part) -> Seen:
    found = part.measurement
    named = [float(str(warning.values["change"])) for warning in part.warnings if warning.code == "focus_not_locked"]
    codes = tuple(warning.code for warning in part.warnings)
    return Seen((), codes, compare(screw, found, found, None), named_um=1000 * max(named, default=0.0))


def report(name: str, seen: Sequence[Seen]) -> list[str]:
    """Print a set; what of the promises was broken."""
    measured = [s for s in seen if s.compared is not None]
    refused = sorted(code for s in seen for code in s.refused)
    said = [s for s in measured if set(s.warnings) & set(SAID)]
    codes = sorted({code for s in said for code in s.warnings if code in SAID})
    print(f"{name}: {len(measured)} of {len(seen)} measured, {len(said)} warned {' '.join(codes + refused)}")
    broken = [f"{name}: refused, {code}" for code in refused]
    shares = []
    for quantity in JUDGED:
        each = [(s.compared[quantity], s in said) for s in measured if s.compared and quantity in s.compared]
        if not each:
            continue
        covered = 100 * float(np.mean([abs(c.error) <= c.u95 for c, _ in each]))
        right = 100 * float(np.mean([abs(c.error) <= c.u95 or warned for c, warned in each]))
        rms, u95 = float(np.sqrt(np.mean([c.error**2 for c, _ in each]))), float(np.median([c.u95 for c, _ in each]))
        print(f"  {quantity:<24}RMS{rms:>8.3f}  U95{u95:>8.3f} {UNITS[quantity]:<6}{covered:>5.0f} %{right:>5.0f} %")
        shares.append((quantity, right, len(each)))
    least = 95.0
    if name != "refocused":
        broken += [
            f"{name}: {quantity} covered or warned {right:.0f} %"
            for quantity, right, n in shares
            if right < least - 200 * float(np.sqrt(0.95 * 0.05 / n))
        ]
    if name == "refocused":
        silent = sum(
            s.named_um < abs(s.compared["pitch_diameter"].error) - s.compared["pitch_diameter"].u95
            for s in measured
            if s.compared
        )
        print(f"  beyond U95 and what the warning names: {silent}")
        broken += [f"{name}: more than U95 and the warning say, {silent}"] if silent else []
    if name == "files":
        far = [s for s in measured if s.apart_um > SAME_UM and "tone_differs" not in s.warnings]
        print(f"  diameters from those of the grey file: at most {max(s.apart_um for s in measured):.2f} um")
        broken += [f"{name}: {s.apart_um:.2f} um from the grey file" for s in far]
    return broken


def main(argv: Sequence[str] | None = None) -> int:
    """The command."""
    parser = argparse.ArgumentParser(prog="python -m benchmarks.camera", description=__doc__.split("\n", 1)[0])
    parser.add_argument("--scenes", type=count, default=10, help="how many scenes for each set (default 10)")
    parser.add_argument("--seed", type=seed_number, default=1, help="seed of the first scene (default 1)")
    parser.add_argument("--jobs", type=count, default=2, help="processes at a time (default 2)")
    parser.add_argument("--only", choices=SETS, metavar="SET", help=f"one of {', '.join(SETS)}")
    options = parser.parse_args(argv)
    names = [options.only] if options.only else list(SETS)
    tasks = [(name, options.seed + i) for name in names for i in range(options.scenes)]
    found = dict(run_all(run_scene, tasks, options.jobs))
    broken: list[str] = []
    for name in names:
        broken += report(name, [s for task in tasks if task[0] == name for s in found[task]])
    print("\n".join(f"BROKEN {what}" for what in broken) or "all kept")
    return 1 if broken else 0


if __name__ == "__main__":
    sys.exit(main())
