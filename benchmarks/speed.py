"""How long does a measurement take, against the least that any program must do with the picture?

    python -m benchmarks.speed [--runs 20] [--picture FILE]

A picture of 5 megapixels is rendered once and written as PNG and as JPEG. Each is measured ``--runs`` times in process,
on one thread, alternating with the floor: OpenCV reads the file, blurs it once, takes its gradient and the contours of
its threshold. The medians of processor time are compared, stage by stage. Last the whole command ``flankwise
identify`` is timed, start of the interpreter included, as a person would run it. Exit code 1: a promise was not kept.
"""

from __future__ import annotations

import argparse
import os
import subprocess
import sys
import tempfile
import time
from collections.abc import Callable, Sequence
from contextlib import ExitStack
from pathlib import Path
from statistics import median
from typing import Any
from unittest import mock

import numpy as np

from benchmarks.textbook import read_thread
from sample_images.render import render
from sample_images.scene import Camera, Light, Scene, Thread
from threads.shared.refusal import RefusalError
from vision.locate import detection
from vision.pictures.picture import read_picture
from vision.result import measure
from vision.shared.opencv import cv2
from vision.shared.plane import FixedScale

_ONE_THREAD = ("OMP_NUM_THREADS", "OPENBLAS_NUM_THREADS", "MKL_NUM_THREADS", "VECLIB_MAXIMUM_THREADS")
_MARK = "FLANKWISE_BENCHMARK_ONE_THREAD"
LONGEST_S = 0.5
LONGEST_OF_FLOOR = {".png": 2.0, ".jpg": 2.6}
LONGEST_COMMAND_S = 1.5
UM_PER_PX = 2.5
_COMMAND_RUNS = 5
_STAGES = {
    "silhouette": (detection, "find_silhouette"),
    "edges": (detection, "find_edges"),
    "threaded length": (measure, "find_threaded_length"),
    "fit": (measure, "solve"),
    "wear": (measure, "find_wear"),
    "errors of form": (measure, "fit_form"),
    "budget": (measure, "make_budget"),
}
"""What the table calls the steps of a measurement, and the functions that take them."""

Times = dict[str, list[float]]


def five_megapixels() -> Scene:
    """A 4-40 screw before a camera of 2592 x 1944 pixels, its free end in view."""
    return Scene(
        thread=Thread(
            major_mm=2.82,
            pitch_diameter_mm=2.42,
            minor_mm=2.08,
            pitch_mm=0.635,
            root_corner_radius_mm=0.01,
            crest_corner_radius_mm=0.01,
        ),
        length_mm=20.0,
        chamfer_end_mm=1.9,
        phase=0.3,
        tilt_deg=0.6,
        rotation_deg=8.0,
        view_mm=2.2,
        offset_px=40.0,
        seed=5,
        camera=Camera(width=2592, height=1944, um_per_px=UM_PER_PX, blur_sigma_px=1.2, noise=0.008),
        light=Light(exposure=0.75, gradient_x=0.05, vignette=0.05),
    )


def write_pictures(folder: Path) -> list[Path]:
    """The scene as a grey PNG of linear values and as a JPEG with the tone that JPEG readers expect (sRGB)."""
    levels, _ = render(five_megapixels())
    linear = np.arange(256) / 255
    tone = np.where(linear <= 0.0031308, 12.92 * linear, 1.055 * linear ** (1 / 2.4) - 0.055)  # IEC 61966-2-1
    toned = np.rint(255 * tone).astype(np.uint8)[levels]
    paths = []
    for name, kind, picture in (("speed.png", ".png", levels), ("speed.jpg", ".jpg", toned)):
        paths.append(folder / name)
        options = [cv2.IMWRITE_JPEG_QUALITY, 92] if kind == ".jpg" else []
        paths[-1].write_bytes(cv2.imencode(kind, picture, options)[1].tobytes())
    return paths


def floor(path: Path) -> int:
    """What nobody can leave out: read, blur, gradient, contours. Returns the number of contour points."""
    picture = cv2.imread(str(path), cv2.IMREAD_GRAYSCALE)
    assert picture is not None
    smooth = cv2.GaussianBlur(picture, (0, 0), 1.0)
    cv2.magnitude(cv2.Sobel(smooth, cv2.CV_32F, 1, 0), cv2.Sobel(smooth, cv2.CV_32F, 0, 1))
    _, mask = cv2.threshold(smooth, 0, 255, cv2.THRESH_BINARY | cv2.THRESH_OTSU)
    contours, _ = cv2.findContours(mask, cv2.RETR_LIST, cv2.CHAIN_APPROX_NONE)
    return sum(len(contour) for contour in contours)


def time_picture(path: Path, runs: int) -> Times:
    """Seconds of the processor of each run: "whole" (read and measure), its stages, "floor", "textbook".

    "textbook" reads too. There is one thread.

    Raises RefusalError when the picture cannot be measured.
    """
    plane = FixedScale(UM_PER_PX)
    times: Times = {}

    def timed(name: str, work: Callable[..., Any]) -> Callable[..., Any]:
        def run(*args: Any, **kwargs: Any) -> Any:
            start = time.process_time()
            result = work(*args, **kwargs)
            times.setdefault(name, []).append(time.process_time() - start)
            return result

        return run

    def whole() -> None:
        measure.measure_picture(timed("read", read_picture)(path), plane)

    with ExitStack() as stack:
        for stage, (module, name) in _STAGES.items():
            stack.enter_context(mock.patch.object(module, name, timed(stage, getattr(module, name))))
        whole()  # imports and caches
        floor(path)
        times.clear()
        for _ in range(runs):
            timed("whole", whole)()
            timed("floor", floor)(path)
    for _ in range(min(runs, 5)):
        try:
            timed("textbook", lambda: read_thread(read_picture(path).light, UM_PER_PX))()
        except ValueError:
            break  # the picture is too much for it: no time to compare with
    return times


def time_command(path: Path) -> list[float]:
    """Seconds of ``flankwise identify``, run as a program of its own with the environment that we were started with.

    Raises RuntimeError with its words when it does not succeed.
    """
    script = Path(sys.executable).with_name("flankwise")
    start_of = [str(script)] if script.exists() else [sys.executable, "-c", "from cli.main import run; run()"]
    environment = {k: v for k, v in os.environ.items() if k not in (*_ONE_THREAD, _MARK)}
    times = []
    for _ in range(_COMMAND_RUNS):
        start = time.perf_counter()
        command = [*start_of, "identify", str(path), "--scale", f"{UM_PER_PX:.2f}um", "--json"]
        done = subprocess.run(command, env=environment, capture_output=True, text=True, check=False)  # noqa: S603
        times.append(time.perf_counter() - start)
        if done.returncode != 0:
            raise RuntimeError(f"flankwise identify ended with {done.returncode}: {done.stderr.strip()}")
    return times


def report(name: str, times: Times) -> tuple[str, bool]:
    """The table of one picture, and whether the promises were kept."""
    whole, least = median(times["whole"]), median(times["floor"])
    parts = {stage: median(times[stage]) for stage in ("read", *_STAGES) if stage in times}
    parts["rest"] = max(whole - sum(parts.values()), 0.0)
    most = LONGEST_OF_FLOOR.get(Path(name).suffix, max(LONGEST_OF_FLOOR.values()))
    kept = whole <= LONGEST_S and whole <= most * least
    lines = [f"{name}: median of {len(times['whole'])} runs on one thread"]
    lines += [f"  {stage:<18}{1000 * seconds:8.0f} ms" for stage, seconds in parts.items()]
    lines.append(f"  {'read and measure':<18}{1000 * whole:8.0f} ms   (at most {1000 * LONGEST_S:.0f} ms)")
    lines.append(f"  {'floor':<18}{1000 * least:8.0f} ms")
    lines.append(f"  {'ratio':<18}{whole / least:8.1f}      (at most {most:g})")
    if "textbook" in times:
        lines.append(f"  {'textbook pipeline':<18}{1000 * median(times['textbook']):8.0f} ms")
    lines.append(f"  promises {'kept' if kept else 'BROKEN'}")
    return "\n".join(lines), kept


def main(argv: Sequence[str] | None = None) -> int:
    """The command."""
    parser = argparse.ArgumentParser(prog="python -m benchmarks.speed", description=__doc__.split("\n", 1)[0])
    parser.add_argument("--runs", type=int, default=20, help="runs of which the median is taken (default 20)")
    parser.add_argument("--picture", type=Path, metavar="FILE", help="time this picture instead of a rendered one")
    options = parser.parse_args(argv)
    if options.runs < 1:
        parser.error("--runs: at least 1")
    cv2.setNumThreads(1)
    all_kept = True
    with tempfile.TemporaryDirectory(prefix="flankwise-benchmark-") as folder:
        paths = [options.picture] if options.picture else write_pictures(Path(folder))
        try:
            for path in paths:
                text, kept = report(path.name, time_picture(path, options.runs))
                print(text + "\n", flush=True)
                all_kept = all_kept and kept
            command = median(time_command(paths[0]))
        except RefusalError as refusal:
            print(f"{refusal}", file=sys.stderr)
            return 3
        except RuntimeError as error:
            print(f"{error}", file=sys.stderr)
            return 1
    kept = command <= LONGEST_COMMAND_S
    print(
        f"flankwise identify, the whole command: {command:.2f} s (median of {_COMMAND_RUNS}; at most "
        f"{LONGEST_COMMAND_S:g} s): {'kept' if kept else 'BROKEN'}"
    )
    return 0 if all_kept and kept else 1


if __name__ == "__main__":
    if _MARK not in os.environ:
        # The numeric libraries read these when they are loaded: start anew with them.
        os.environ.update(dict.fromkeys(_ONE_THREAD, "1"), **{_MARK: "1"})
        os.execv(sys.executable, [sys.executable, "-m", "benchmarks.speed", *sys.argv[1:]])  # noqa: S606 - ourselves
    sys.exit(main())
