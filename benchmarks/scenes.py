"""One scene of the accuracy benchmark: a screw and two gauge pins before the same camera, as picture files."""

from __future__ import annotations

from dataclasses import dataclass, replace
from math import ceil
from pathlib import Path
from statistics import NormalDist

import numpy as np

from sample_images.files import write_picture
from sample_images.random_scene import random_scene
from sample_images.render import render
from sample_images.scene import Scene, pin_scene
from vision.pictures.picture import Picture, read_picture
from vision.shared.opencv import cv2

PIN_U95_MM = 0.001
"""How well the pins are known: their true diameters lie 0.5 um (one standard deviation) about the nominal ones."""


@dataclass(frozen=True)
class BenchScene:
    """What is rendered: the screw, and the two pins with their nominal diameters in mm.

    ``jpeg_quality`` None writes PNG. ``stated_distance_mm`` is what somebody has measured of the working distance.
    """

    seed: int
    screw: Scene
    pins: tuple[tuple[Scene, float], ...]
    jpeg_quality: int | None = None
    stated_distance_mm: float | None = None


@dataclass(frozen=True)
class BenchPictures:
    """The pictures of a BenchScene as the program reads them; pins with their nominal diameters in mm."""

    screw: Picture
    pins: tuple[tuple[Picture, float], ...]


def bench_scene(
    seed: int, um_per_px: tuple[float, float] = (2.0, 8.0), *, width: int = 1600, height: int = 1200
) -> BenchScene:
    """The scene of this seed: a good picture as ``random_scene`` makes them, and a bench to measure it on.

    One pin is a little thicker than the screw, the other about a third of it, as a careful person would choose. Both
    are seen by the screw's camera (scale, blur, noise, edge offset) in the screw's light, laid along the picture.

    Raises:
        ValueError: no thread fits the given limits.
    """
    rng = np.random.default_rng(seed)
    screw = random_scene(rng, um_per_px=um_per_px, width=width, height=height)
    return BenchScene(seed, screw, pins_for(screw, seed, rng))


def pins_for(screw: Scene, seed: int, rng: np.random.Generator) -> tuple[tuple[Scene, float], ...]:
    """The two pins of a screw's bench, thin and thick, with their nominal diameters in mm.

    ``rng`` says how they lie, ``seed`` how much they differ from what they are called (``pin_errors_mm``).
    """
    assert screw.thread is not None
    thick = ceil(screw.thread.major_mm * 10) / 10
    thin = max(0.4, round(thick * 3.5) / 10)
    pins = []
    for nominal, error in zip((thin, thick), pin_errors_mm(seed), strict=True):
        true = nominal + error
        pin = pin_scene(
            true,
            rotation_deg=float(rng.uniform(-15, 15)),
            offset_px=float(rng.uniform(-0.05, 0.05) * screw.camera.height),
            tilt_deg=float(rng.uniform(-0.5, 0.5)),
            edge_offset_px=screw.edge_offset_px,
            seed=int(rng.integers(2**31)),
            camera=screw.camera,
            light=screw.light,
        )
        pins.append((pin, nominal))
    return tuple(pins)


def pin_errors_mm(seed: int) -> tuple[float, float]:
    """By how much the thin and the thick pin of scene ``seed`` are larger than they are called, mm.

    Normally distributed with PIN_U95_MM / 2, independent of each other. Drawn from an evenly spread sequence (Halton,
    Numer. Math. 2, 84-90, 1960; bases 2 and 3) so that any 200 scenes in a row show the distribution as it is: with
    independent draws the luck of the pins alone would move the share of scenes within U95 by 1.5 percent points (one
    standard deviation).
    """
    return PIN_U95_MM / 2 * even_normal(seed, 2), PIN_U95_MM / 2 * even_normal(seed, 3)


def even_normal(seed: int, base: int) -> float:
    """A standard normal number that is evenly spread over the seeds; independent of one with another prime ``base``."""
    return NormalDist().inv_cdf(_halton(seed, base))


def _halton(index: int, base: int) -> float:
    """Between 0 and 1, neither included: the digits of ``index`` mirrored at the point, and half a step at the end."""
    value, step = 0.0, 1.0
    while index > 0 or step > 1e-3:
        step /= base
        value += step * (index % base)
        index //= base
    return value + step / 2


def draw(bench: BenchScene, folder: Path) -> BenchPictures:
    """Render the three pictures into ``folder``, 8-bit grey PNG or sRGB JPEG, and read them back."""
    suffix = ".png" if bench.jpeg_quality is None else ".jpg"
    screw = _file(bench.screw, folder / f"scene{bench.seed}_screw{suffix}", bench.jpeg_quality)
    pins = []
    for pin, nominal in bench.pins:
        path = folder / f"scene{bench.seed}_pin{round(nominal * 1000):05d}um{suffix}"
        pins.append((_file(pin, path, bench.jpeg_quality), nominal))
    return BenchPictures(read_picture(screw), tuple((read_picture(path), nominal) for path, nominal in pins))


def _file(scene: Scene, path: Path, jpeg_quality: int | None) -> Path:
    if jpeg_quality is not None:
        levels, _ = render(replace(scene, camera=replace(scene.camera, bits=16)))
        write_picture(path, levels, jpeg_quality)
        return path
    levels, _ = render(scene)
    path.write_bytes(cv2.imencode(".png", levels, [cv2.IMWRITE_PNG_COMPRESSION, 1])[1].tobytes())
    return path
