"""Does a measurement hold behind lenses that do not blur like a Gaussian? Eight kinds of blur, drawn and measured.

    python -m benchmarks.blur [--scenes 12] [--seed 1] [--jobs 2] [--only KIND]

Random screws and the two pins of their bench (``scenes``) are drawn without blur and seen through one lens: diffraction
of a round aperture, defocus, astigmatism and coma (each in a direction of its own), spherical aberration, a halo of
scattered light, tails that fall off slowly, and light that is partly coherent. The first five are the power spectrum of
the aperture with the phase of the aberration (Zernike's forms up to fourth order), the last is a sum over the points of
the light (Abbe). Errors are with the calibration from the two pins, whose diameters are known to PIN_U95_MM: what is
left is the lens. Exit code 1 when a promise was not kept.
"""

from __future__ import annotations

import argparse
import sys
import tempfile
from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace
from functools import partial
from pathlib import Path

import numpy as np
import numpy.typing as npt

from benchmarks.accuracy import count, seed_number
from benchmarks.outcome import Compared, compare
from benchmarks.pool import run_all
from benchmarks.scenes import bench_scene, pin_errors_mm
from calib.bench import calibrate_bench
from sample_images.files import write_picture
from sample_images.render import pad_light, shadow
from sample_images.scene import Scene
from threads.shared.refusal import RefusalError
from vision.pictures.picture import Picture, read_picture
from vision.result.measure import measure_picture
from vision.shared.opencv import cv2

Array = npt.NDArray[np.float64]

SIZE = (1100, 820)
CUTOFF = 0.22  # cycles a pixel that the aperture lets through in amplitude, twice that in intensity
COHERENCE = 0.5  # aperture of the light over that of the lens
PIN_U95_MM = 1e-5  # pins off by 0.5 um, as on other benches, would be 0.1 px off by themselves
DRAWN_PX = 0.6  # the little blur that the shadow is drawn with, so that pixels do not alias
_GRID, _HALF = 256, 40  # of the aperture's transform; half the kernel, px
LENGTHS = ("pitch_diameter", "major_diameter", "minor_diameter", "pitch", "crest_width", "root_width")
ANGLES = ("flank_angle_left", "flank_angle_right", "included_angle", "root_radius")
FALSE_DOUBTS = ("dirty_outline", "glare", "flank_mostly_hidden")


def _aperture(waves: Callable[[Array, Array], Array | float]) -> Array:
    """Kernel (2 _HALF + 1)^2 of a round aperture with the phase ``waves`` of (radius, angle), in wavelengths."""
    f = np.fft.fftfreq(_GRID)
    fx, fy = np.meshgrid(f, f)
    radius, angle = np.hypot(fx, fy) / CUTOFF, np.arctan2(fy, fx)
    amplitude = np.where(radius <= 1, np.exp(2j * np.pi * waves(np.minimum(radius, 1), angle)), 0)
    return _cut(np.fft.fftshift(np.abs(np.fft.ifft2(amplitude)) ** 2)[1:, 1:])


def _round(profile: Callable[[Array], Array]) -> Array:
    y, x = np.mgrid[-_HALF : _HALF + 1, -_HALF : _HALF + 1]
    return _cut(profile(np.hypot(x, y)))


def _cut(kernel: Array) -> Array:
    middle = kernel.shape[0] // 2
    inner = kernel[middle - _HALF : middle + _HALF + 1, middle - _HALF : middle + _HALF + 1]
    return np.asarray(inner / inner.sum())


def _gaussian(r: Array, sigma: float) -> Array:
    return np.exp(-0.5 * (r / sigma) ** 2) / sigma**2


def kernel_of(kind: str, turn: float) -> Array:
    """The blur of ``kind``, turned by ``turn`` (radians) where it has a direction."""
    forms: dict[str, Callable[[], Array]] = {
        "diffraction": lambda: _aperture(lambda _r, _a: 0.0),
        "defocus": lambda: _aperture(lambda r, _a: 0.5 * r**2),
        "astigmatism": lambda: _aperture(lambda r, a: 0.3 * r**2 * np.cos(2 * (a - turn)) + 0.2 * r**2),
        "coma": lambda: _aperture(lambda r, a: 0.4 * (3 * r**3 - 2 * r) * np.cos(a - turn)),
        "spherical": lambda: _aperture(lambda r, _a: 0.25 * (6 * r**4 - 6 * r**2 + 1)),
        "halo": lambda: _round(lambda r: 0.9 * _gaussian(r, 1.1) + 0.1 * _gaussian(r, 6.0)),
        "tails": lambda: _round(lambda r: (1 + (r / 1.8) ** 2) ** -2.0),
    }
    return forms[kind]()


KINDS = ("diffraction", "defocus", "astigmatism", "coma", "spherical", "halo", "tails", "partly coherent")


def seen_through(kind: str, turn: float, dark: npt.NDArray[np.float32]) -> npt.NDArray[np.float32]:
    """``dark`` (height, width), 1 in the part, as a lens of ``kind`` shows it."""
    if kind != "partly coherent":
        return np.asarray(cv2.filter2D(dark, cv2.CV_32F, kernel_of(kind, turn)[::-1, ::-1].copy()), np.float32)
    padded = np.pad(dark, 64, mode="edge")
    spectrum = np.fft.fft2(1 - padded)
    fy, fx = (np.fft.fftfreq(n) for n in padded.shape)
    light = np.zeros(padded.shape)
    rings = [(0.0, 0.0), *((r, a) for r in (0.5, 0.9) for a in np.arange(6) * np.pi / 3 + r)]
    for radius, angle in rings:
        shift = COHERENCE * CUTOFF * radius
        distance = np.hypot(fx[None, :] - shift * np.cos(angle), fy[:, None] - shift * np.sin(angle))
        light += np.abs(np.fft.ifft2(np.where(distance <= CUTOFF, spectrum, 0))) ** 2
    return np.asarray(1 - light[64:-64, 64:-64] / len(rings), np.float32)


def draw(scene: Scene, kind: str, turn: float, path: Path) -> Picture:
    """The picture of ``scene`` through that lens, 8 bits, as a file and read back."""
    dark = seen_through(kind, turn, shadow(replace(scene, camera=replace(scene.camera, blur_sigma_px=DRAWN_PX))))
    stray = scene.light.flare
    seen = dark if scene.light.background == "dark" else 1 - dark
    light = pad_light(scene.light, scene.camera) * (stray + (1 - stray) * seen)
    light += scene.camera.noise * np.random.default_rng([scene.seed, 0]).standard_normal(light.shape)
    write_picture(path, np.clip(np.rint(light * 255), 0, 255).astype(np.uint8))
    return read_picture(path)


@dataclass(frozen=True)
class Seen:
    """One scene behind one lens: what was compared, or why not; ``warnings`` by code."""

    kind: str
    um_per_px: float
    refused: tuple[str, ...] = ()
    warnings: tuple[str, ...] = ()
    compared: dict[str, Compared] | None = None


def run_scene(task: tuple[str, int]) -> Seen:
    """Draw, calibrate, measure and compare one scene."""
    kind, seed = task
    bench = bench_scene(seed, (3.0, 8.0), width=SIZE[0], height=SIZE[1])
    turn = float(np.random.default_rng([seed, 7]).uniform(0, 2 * np.pi))
    scale = bench.screw.camera.um_per_px
    with tempfile.TemporaryDirectory(prefix="flankwise-blur-") as folder:
        of_lens = partial(draw, kind=kind, turn=turn)
        pins = [
            (of_lens(pin, path=Path(folder) / f"pin{i}.png"), d + error)
            for i, ((pin, d), error) in enumerate(zip(bench.pins, pin_errors_mm(seed), strict=True))
        ]
        screw = of_lens(bench.screw, path=Path(folder) / "screw.png")
        try:
            plane = calibrate_bench(pins=pins, pin_u95_mm=PIN_U95_MM, light_cone_deg=0.0, focus_locked=True)
            found = measure_picture(screw, plane)
        except RefusalError as refusal:
            return Seen(kind, scale, tuple(reason.code for reason in refusal.reasons))
    codes = tuple(warning.code for warning in found.quality.warnings)
    return Seen(kind, scale, (), codes, compare(bench.screw, found, found, None))


def report(kind: str, seen: Sequence[Seen]) -> tuple[str, list[str]]:
    """A row of the table and what of the promises was broken."""
    measured = [s for s in seen if s.compared is not None]
    refused = [code for s in seen for code in s.refused]
    doubts = sorted({code for s in measured for code in s.warnings if code in FALSE_DOUBTS})

    def rows(names: Sequence[str]) -> list[tuple[Compared, float]]:
        return [(s.compared[n], s.um_per_px) for s in measured for n in names if s.compared and n in s.compared]

    def covered(names: Sequence[str]) -> float:
        inside = [abs(c.error) <= c.u95 for c, _ in rows(names)]
        return 100 * float(np.mean(inside)) if inside else float("nan")

    px = {n: float(np.sqrt(np.mean([(c.error / scale) ** 2 for c, scale in rows([n])] or [np.nan]))) for n in LENGTHS}
    angle = [c for c, _ in rows(ANGLES[:2])]
    rms = float(np.sqrt(np.mean([c.error**2 for c in angle]))) if angle else float("nan")
    u95 = float(np.median([c.u95 for c in angle])) if angle else float("nan")
    line = (
        f"{kind:<16}{len(measured):>4}/{len(seen):<4}"
        + "".join(f"{px[n]:>8.3f}" for n in LENGTHS)
        + f"{covered(LENGTHS):>8.0f} %{covered(ANGLES[:3]):>7.0f} %{covered(ANGLES[3:]):>7.0f} %{rms:>9.4f}{u95:>8.4f}"
        + f"  {' '.join(sorted(set(refused)) + doubts)}"
    )
    broken = [f"{kind}: {n} {px[n]:.3f} px" for n in LENGTHS[:4] if px[n] > 0.1]
    broken += [f"{kind}: refused, {code}" for code in set(refused) - {"out_of_focus"}]
    broken += [f"{kind}: warned of {code}" for code in doubts]
    return line, broken


def main(argv: Sequence[str] | None = None) -> int:
    """The command."""
    parser = argparse.ArgumentParser(prog="python -m benchmarks.blur", description=__doc__.split("\n", 1)[0])
    parser.add_argument("--scenes", type=count, default=12, help="how many scenes for each kind (default 12)")
    parser.add_argument("--seed", type=seed_number, default=1, help="seed of the first scene (default 1)")
    parser.add_argument("--jobs", type=count, default=2, help="processes at a time (default 2)")
    parser.add_argument("--only", choices=KINDS, metavar="KIND", help=f"one of {', '.join(KINDS)}")
    options = parser.parse_args(argv)
    kinds = [options.only] if options.only else list(KINDS)
    tasks = [(kind, options.seed + i) for kind in kinds for i in range(options.scenes)]
    found = dict(run_all(run_scene, tasks, options.jobs))
    heads = ("pd px", "major", "minor", "pitch", "crest", "root")
    print(
        f"{'blur':<16}{'measured':>9}" + "".join(f"{h:>8}" for h in heads) + "  lengths  angles  radii   deg RMS   U95"
    )
    broken: list[str] = []
    for kind in kinds:
        line, more = report(kind, [found[task] for task in tasks if task[0] == kind])
        print(line)
        broken += more
    everything = list(found.values())
    for what, names in (("lengths", LENGTHS), ("angles", ANGLES[:3]), ("radii", ANGLES[3:])):
        inside = [abs(c.error) <= c.u95 for s in everything if s.compared for n, c in s.compared.items() if n in names]
        share, least = 100 * float(np.mean(inside)), 93 - 200 * np.sqrt(0.93 * 0.07 / len(inside))
        print(f"{what}: {share:.1f} % of {len(inside)} covered")
        broken += [f"{what} covered"] if share < least else []
    print("\n".join(f"BROKEN {what}" for what in broken) or "all kept")
    return 1 if broken else 0


if __name__ == "__main__":
    sys.exit(main())
