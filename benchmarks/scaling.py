"""How does the time of one measurement grow with the pixels and with the threads in view?

    python -m benchmarks.scaling [--runs 3] [--most-megapixels 50] [--most-threads 200]

The same screw is rendered at 1 to 50 megapixels, and a rod of ever more threads at one scale. Each is measured on one
thread, decoding of the file not counted. How the time grows is the exponent of a power law:
1 is linear. Exit code 1 where it is steeper than linear (exponent over 1.1: timings waver).
"""

from __future__ import annotations

import argparse
import math
import sys
import time
from collections.abc import Sequence
from dataclasses import dataclass, replace
from pathlib import Path
from statistics import median
from tempfile import TemporaryDirectory

from benchmarks.speed import five_megapixels
from sample_images.render import render
from sample_images.scene import Scene
from vision.pictures.picture import Picture, read_picture
from vision.result.measure import measure_picture
from vision.shared.opencv import cv2
from vision.shared.plane import FixedScale

MEGAPIXELS = (1, 2, 5, 12, 24, 50)
THREADS = (4, 8, 16, 32, 64, 100, 200)
STEEPEST = 1.1
THREAD_PX = 48.0  # pixels a pitch in the pictures of ever more threads


@dataclass(frozen=True)
class Row:
    """One picture: its size, threads in view as measured, seconds of the measurement."""

    megapixels: float
    threads: int
    seconds: float


def of_size(megapixels: float) -> Scene:
    """The screw of ``benchmarks.speed`` before a camera with so many pixels."""
    scene = five_megapixels()
    finer = math.sqrt(megapixels / 5.04)
    camera = scene.camera
    size = round(camera.width * finer), round(camera.height * finer)
    return replace(
        scene,
        offset_px=scene.offset_px * finer,
        camera=replace(camera, width=size[0], height=size[1], um_per_px=camera.um_per_px / finer),
    )


def of_threads(count: int) -> Scene:
    """A rod with ``count`` threads in view up to its free end, each of THREAD_PX pixels."""
    scene = five_megapixels()
    assert scene.thread is not None
    um_per_px = 1000 * scene.thread.pitch_mm / THREAD_PX
    width = round((count + 4) * THREAD_PX)  # two pitches of chamfer and incomplete thread, two of light
    return replace(
        scene,
        length_mm=3.0 * scene.thread.pitch_mm * (count + 4),
        view_mm=scene.thread.pitch_mm * count / 2,
        rotation_deg=0.3,
        offset_px=0.0,
        camera=replace(scene.camera, width=width, height=480, um_per_px=um_per_px),
    )


def time_scene(scene: Scene, runs: int, folder: Path) -> Row:
    """Render ``scene`` and measure it ``runs`` times."""
    path = folder / "scaling.png"
    levels, _ = render(scene)
    path.write_bytes(cv2.imencode(".png", levels)[1].tobytes())
    picture = read_picture(path)
    plane = FixedScale(scene.camera.um_per_px)
    times = []
    threads = 0
    for _ in range(runs + 1):
        start = time.perf_counter()
        threads = _measured(picture, plane)
        times.append(time.perf_counter() - start)
    return Row(picture.width_px * picture.height_px / 1e6, threads, median(times[1:]))


def _measured(picture: Picture, plane: FixedScale) -> int:
    return measure_picture(picture, plane).thread.threads_in_view


def exponent(sizes: Sequence[float], seconds: Sequence[float]) -> float:
    """How steeply the time grows from the first to the last: 1 is linear."""
    return math.log(seconds[-1] / seconds[0]) / math.log(sizes[-1] / sizes[0])


def main(arguments: Sequence[str] | None = None) -> int:
    """The command."""
    parser = argparse.ArgumentParser(prog="python -m benchmarks.scaling", description="Time against size.")
    parser.add_argument("--runs", type=int, default=3)
    parser.add_argument("--most-megapixels", type=float, default=MEGAPIXELS[-1])
    parser.add_argument("--most-threads", type=int, default=THREADS[-1])
    told = parser.parse_args(arguments)
    cv2.setNumThreads(1)
    steep = []
    with TemporaryDirectory() as own:
        print("pixels")
        rows = [time_scene(of_size(n), told.runs, Path(own)) for n in MEGAPIXELS if n <= told.most_megapixels]
        steep.append(_told(rows, [row.megapixels for row in rows]))
        print("threads in view")
        rows = [time_scene(of_threads(n), told.runs, Path(own)) for n in THREADS if n <= told.most_threads]
        steep.append(_told(rows, [float(row.threads) for row in rows]))
    return 0 if max(steep) <= STEEPEST else 1


def _told(rows: Sequence[Row], sizes: Sequence[float]) -> float:
    for row in rows:
        print(f"  {row.megapixels:6.2f} MP  {row.threads:4d} threads  {row.seconds:7.3f} s")
    steep = exponent(sizes, [row.seconds for row in rows])
    print(f"  grows with the power {steep:.2f} (at most {STEEPEST:g})")
    return steep


if __name__ == "__main__":
    sys.exit(main())
