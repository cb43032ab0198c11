"""Live numbers of a sample picture, for pictures of the window: there is no camera where those are made."""

from __future__ import annotations

import math
import time
from dataclasses import replace

import numpy as np
from PySide6.QtCore import QCoreApplication

from gui.bench.live import LiveNumbers
from gui.camera.source import LIVE, Source
from gui.samples import SAMPLES, SCREW
from threads.shared.data_folder import data_folder
from threads.shared.quantity import Quantity
from vision.pictures.picture import read_picture
from vision.result.picture_share import Turn
from vision.several.turning import Side, all_round
from vision.shared.opencv import cv2

_FRAMES, _RATE = 60, 2  # of the video: so many, and so many a second, so that it lasts
_LONGEST_S = 20.0
_ON_ITS_WAY_S = 0.4  # a frame that came before the pause is still measured
_OVALITY, _RUN_OUT, _U = 0.012, 0.006, 0.0004  # mm, of a screw that is a little oval
_STEP_DEG = 15


def show_sample_live(source: Source, live: LiveNumbers) -> None:
    """A video in which the sample screw lies still; the numbers of a mean of several frames."""
    path = data_folder() / "sextant screw.avi"
    if not path.exists():
        path.parent.mkdir(parents=True, exist_ok=True)
        light = read_picture(SAMPLES / SCREW).light
        high = 1.055 * np.maximum(light, 1e-9) ** (1 / 2.4) - 0.055  # sRGB (IEC 61966-2-1), as cameras give it
        levels = np.rint(255 * np.where(light <= 0.0031308, 12.92 * light, high)).astype(np.uint8)
        frame = np.repeat(levels[:, :, None], 3, axis=2)
        writer = cv2.VideoWriter(str(path), cv2.VideoWriter.fourcc(*"MJPG"), _RATE, levels.shape[::-1])
        for _ in range(_FRAMES):
            writer.write(frame)
        writer.release()
    source.use_video(str(path))
    until = time.monotonic() + _LONGEST_S
    while time.monotonic() < until and (live.reading is None or live.reading.frames < 2):
        QCoreApplication.processEvents()
        time.sleep(0.01)
    if source.state == LIVE:
        source.pause()
    until = time.monotonic() + _ON_ITS_WAY_S
    while time.monotonic() < until:
        QCoreApplication.processEvents()
        time.sleep(0.01)


def show_sample_turning(live: LiveNumbers) -> None:
    """The same screw as if it had been turned: the sides are computed from its ovality and run-out."""
    reading = live.reading
    if reading is None or reading.part is None:
        return
    thread, sides = reading.part.thread, []
    for angle in range(0, 360, _STEP_DEG):
        turn = math.radians(angle)
        size = thread.pitch_diameter.value + _OVALITY / 2 * math.cos(2 * turn)
        axis = _RUN_OUT / 2 * math.sin(turn)
        sides.append(
            Side(
                Turn(Quantity(angle, 1.0, "deg"), stated=False), Quantity(size, _U, "mm"),
                thread.major_diameter, Quantity(axis, _U / 2, "mm"),
            )
        )  # fmt: skip
    live.show_reading(replace(reading, sides=tuple(sides), all_round=all_round(sides)))
