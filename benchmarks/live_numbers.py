"""How many readings a second the live picture gives, and does the window stay free meanwhile?

    python -m benchmarks.live_numbers [--seconds 10]

The window is live on a video of 2 megapixels, 25 frames a second, colours, with noise: a screw of the sample pictures
that lies still, then one that moves along by a pixel a frame. Exit code 1 under 4 readings a second, or where the
interface serves no event for more than 50 ms of its own processor time.
"""

from __future__ import annotations

import argparse
import os
import sys
import tempfile
import time
from collections.abc import Sequence
from pathlib import Path

import numpy as np
from PySide6.QtCore import QTimer
from PySide6.QtWidgets import QApplication

from benchmarks.live import SCREW
from benchmarks.waiting import UNNOTICED_SECONDS, watched
from flankwise.bench import Bench
from gui.app import create_application, create_window
from gui.camera.source import LOST
from gui.settings import Settings
from gui.window import Window
from vision.pictures.tone import srgb_code
from vision.shared.opencv import cv2
from vision.shared.plane import FixedScale

SIZE = (1632, 1224)
LEAST_READINGS = 4.0
_FRAMES, _RATE = 100, 25
_SAMPLE_WIDE_PX, _SAMPLE_UM_PER_PX = 1280, 4.0
_FIRST_S = 2.0
"""Not counted: what is loaded when the first frame is measured."""


def write_video(path: Path, step_px: float) -> Path:
    """The screw with noise, moving along by ``step_px`` a frame and back again."""
    sample = cv2.imread(str(SCREW), cv2.IMREAD_GRAYSCALE)
    assert sample is not None
    coded = 255 * np.asarray(srgb_code(np.asarray(cv2.resize(sample, SIZE), np.float64) / 255), np.float32)
    noise = np.random.default_rng(5)
    writer = cv2.VideoWriter(str(path), cv2.VideoWriter.fourcc(*"MJPG"), _RATE, SIZE)
    for number in range(_FRAMES):
        shift = step_px * (_FRAMES / 4 - abs(number - _FRAMES / 2))
        matrix = np.array([[1, 0, shift], [0, 1, 0]], np.float32)
        moved = cv2.warpAffine(coded, matrix, SIZE, borderMode=cv2.BORDER_REPLICATE)
        noisy = np.clip(moved + noise.normal(0, 2, moved.shape), 0, 255).astype(np.uint8)
        writer.write(cv2.cvtColor(noisy, cv2.COLOR_GRAY2BGR))
    writer.release()
    return path


def readings_of(application: QApplication, window: Window, video: Path, seconds: float) -> float:
    """Readings a second."""
    bench = window.bench
    began, count = time.monotonic(), 0

    def counted(_: object) -> None:
        nonlocal count
        count += time.monotonic() > began + _FIRST_S

    def look() -> None:
        if bench.source.state == LOST:  # play it again without losing what was read
            bench.source.again()
        if time.monotonic() > began + _FIRST_S + seconds:
            application.exit()

    bench.measuring.read.connect(counted)
    bench.source.use_video(str(video))
    timer = QTimer()
    timer.timeout.connect(look)
    timer.start(50)
    application.exec()
    timer.stop()
    bench.measuring.read.disconnect(counted)
    return count / seconds


def main(argv: Sequence[str] | None = None) -> int:
    """The command."""
    parser = argparse.ArgumentParser(
        prog="python -m benchmarks.live_numbers", description=(__doc__ or "").split("\n", 1)[0]
    )
    parser.add_argument("--seconds", type=float, default=10.0)
    seconds = parser.parse_args(argv).seconds
    os.environ.setdefault("QT_QPA_PLATFORM", "offscreen")
    application = create_application()
    good = True
    with tempfile.TemporaryDirectory(prefix="flankwise-live-") as place:
        folder = Path(place)
        window = create_window(Settings(folder / "window.ini"))
        window.desk.register_file = str(folder / "parts.sqlite")
        scale = _SAMPLE_UM_PER_PX * _SAMPLE_WIDE_PX / SIZE[0]
        window.desk.set_bench(Bench(FixedScale(scale)))
        window.resize(1280, 800)
        window.show()
        window.go("bench")
        for name, step in (("lies still", 0.0), ("moves", 1.0)):
            video = write_video(folder / f"{step:g}.avi", step)
            rate = readings_of(application, window, video, seconds)
            with watched(0.2 * UNNOTICED_SECONDS) as blocked:  # it takes a processor: apart
                readings_of(application, window, video, seconds)
            longest = blocked.longest
            print(f"  {name:12} {rate:5.1f} readings a second (at least {LEAST_READINGS:g}), "
                  f"no event for {1000 * longest:3.0f} ms (at most {1000 * UNNOTICED_SECONDS:.0f})")  # fmt: skip
            good = good and rate >= LEAST_READINGS and longest <= UNNOTICED_SECONDS
        window.close()
        window.desk.work.close()
    return 0 if good else 1


if __name__ == "__main__":
    sys.exit(main())
