"""Drawn stage micrometers and grids, small, for the tests; each is written and read as a file would be."""

from __future__ import annotations

from dataclasses import replace
from functools import cache
from pathlib import Path
from tempfile import TemporaryDirectory
from typing import Any

from sample_images.files import write_picture
from sample_images.flat_gauges import FlatGauge, draw
from sample_images.scene import Camera
from vision.pictures.picture import Picture, read_picture

CAMERA = Camera(width=800, height=600, um_per_px=4.0)
NEAR = replace(CAMERA, working_distance_mm=60.0)
RULINGS = FlatGauge(
    "rulings", 0.05, columns=40, width_mm=0.012, lengths_mm=(0.5, 0.65, 0.8), turn_deg=3.0, camera=CAMERA
)
CHESSBOARD = FlatGauge("chessboard", 0.2, columns=13, rows=9, turn_deg=2.0, camera=CAMERA)
DOTS = FlatGauge("dots", 0.2, columns=13, rows=9, width_mm=0.1, turn_deg=2.0, camera=CAMERA)


@cache
def picture_of(gauge: FlatGauge) -> Picture:
    with TemporaryDirectory() as folder:
        path = Path(folder) / f"{gauge.kind}.png"
        write_picture(path, draw(gauge))
        return read_picture(path)


def seen(gauge: FlatGauge, **changes: Any) -> Picture:
    """The picture of ``gauge`` with some of it changed."""
    return picture_of(replace(gauge, **changes))
