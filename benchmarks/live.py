"""Does the window keep its memory while it is left live?

    python -m benchmarks.live [--minutes 30] [--video FILE]

The window shows a video, over and over, through the code that a camera uses: a screw of the sample pictures with noise,
moving a little, 640 x 480, 50 frames a second. Its memory is looked at every two seconds. Exit code 1 where that of the
last third is more than a twentieth above that of the middle one, or where the picture no longer goes on.
"""

from __future__ import annotations

import argparse
import os
import sys
import tempfile
import time
from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path
from statistics import median

import numpy as np
from PySide6.QtCore import QTimer

from benchmarks.batch import memory_of
from gui.app import create_application, create_window
from gui.camera.source import LOST
from gui.settings import Settings
from vision.shared.opencv import cv2

SCREW = Path(__file__).resolve().parents[1] / "sample_images" / "sextant_shade_frame_screw_0-80_bench_a.png"
MOST_GROWTH = 1.05
LOOK_EVERY_S = 2.0
FRAMES = 300


@dataclass(frozen=True)
class Left:
    """What was seen: seconds since the start and MiB, how many frames came, how often the video began anew."""

    memory: tuple[tuple[float, float], ...]
    frames: int
    rounds: int

    @property
    def growth(self) -> float:
        """Memory of the last third over that of the middle one; in the first third caches fill."""
        mib = [m for _, m in self.memory]
        third = max(len(mib) // 3, 1)
        return median(mib[2 * third :] or mib) / median(mib[third : 2 * third] or mib)


def write_video(path: Path, frames: int = FRAMES) -> Path:
    """The screw with noise, in sRGB, moving to and fro by a few pixels."""
    light = cv2.imread(str(SCREW), cv2.IMREAD_GRAYSCALE)
    assert light is not None
    small = np.asarray(cv2.resize(light, (640, 480), interpolation=cv2.INTER_AREA)) / 255
    coded = 255 * np.where(small <= 0.0031308, 12.92 * small, 1.055 * np.maximum(small, 1e-9) ** (1 / 2.4) - 0.055)
    noise = np.random.default_rng(5)
    writer = cv2.VideoWriter(str(path), cv2.VideoWriter.fourcc(*"MJPG"), 50, (640, 480))
    for number in range(frames):
        shift = 4 * np.sin(2 * np.pi * number / frames)
        matrix = np.array([[1, 0, shift], [0, 1, shift / 2]], np.float32)
        moved = cv2.warpAffine(coded.astype(np.float32), matrix, (640, 480), borderMode=cv2.BORDER_REPLICATE)
        noisy = np.clip(moved + noise.normal(0, 2, (480, 640)), 0, 255).astype(np.uint8)
        writer.write(cv2.cvtColor(noisy, cv2.COLOR_GRAY2BGR))
    writer.release()
    return path


def leave_live(video: Path, seconds: float, folder: Path) -> Left:
    """Show ``video`` for so long; settings and register of the window are in ``folder``."""
    application = create_application()
    window = create_window(Settings(folder / "window.ini"))
    window.desk.register_file = str(folder / "parts.sqlite")
    window.resize(1280, 800)
    window.show()
    window.go("bench")
    source = window.bench.source
    source.use_video(str(video))
    began = time.monotonic()
    memory: list[tuple[float, float]] = []
    seen = [0, 0, 0]  # frames, rounds of the video, number of the last frame

    def look() -> None:
        newest = source.newest(seen[2])
        if newest is not None:
            seen[0], seen[2] = seen[0] + 1, newest[0]
        if source.state == LOST:
            seen[1], seen[2] = seen[1] + 1, 0
            source.again()
        passed = time.monotonic() - began
        if passed > LOOK_EVERY_S * (len(memory) + 1):
            memory.append((passed, memory_of(os.getpid())))
        if passed > seconds:
            application.quit()

    timer = QTimer()
    timer.timeout.connect(look)
    timer.start(15)
    application.exec()  # not by hand: what is to be deleted later goes in a loop of its own only
    timer.stop()
    window.close()
    window.desk.work.close()
    return Left(tuple(memory), seen[0], seen[1])


def report(left: Left) -> str:
    """Memory as time went on, and the judgement."""
    lines = [f"{left.frames} frames seen, the video began anew {left.rounds} times"]
    lines += [f"  {at / 60:6.1f} min {mib:8.1f} MiB" for at, mib in left.memory[:: max(len(left.memory) // 12, 1)]]
    lines.append(f"  growth      {left.growth:6.3f}     (at most {MOST_GROWTH})")
    return "\n".join(lines)


def main(argv: Sequence[str] | None = None) -> int:
    """The command."""
    parser = argparse.ArgumentParser(prog="python -m benchmarks.live", description=__doc__.split("\n", 1)[0])
    parser.add_argument("--minutes", type=float, default=30.0)
    parser.add_argument("--video", type=Path, metavar="FILE", help="show this video instead")
    options = parser.parse_args(argv)
    os.environ.setdefault("QT_QPA_PLATFORM", "offscreen")
    with tempfile.TemporaryDirectory(prefix="flankwise-live-") as place:
        folder = Path(place)
        video = options.video or write_video(folder / "screw.avi")
        left = leave_live(video, 60 * options.minutes, folder)
    print(report(left))
    goes_on = left.frames > 60 * options.minutes
    return 0 if left.growth <= MOST_GROWTH and goes_on else 1


if __name__ == "__main__":
    sys.exit(main())
