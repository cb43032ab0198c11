"""Drawn pictures of one small bench: pins, a screw with a pin beside it, a screw with a shank."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from functools import cache
from pathlib import Path
from tempfile import TemporaryDirectory

from sample_images.files import write_picture
from sample_images.render import render_together
from sample_images.scene import Camera, Cylinder, Scene, Thread, pin_scene
from vision.pictures.picture import Picture, read_picture

UM_PER_PX = 5.0
EDGE_OFFSET_PX = 0.2
CAMERA = Camera(width=900, height=700, um_per_px=UM_PER_PX, blur_sigma_px=1.0, noise=0.005)
MAJOR_MM = 1.50
SHANK_MM = 1.40
SCREW = Scene(
    thread=Thread(major_mm=MAJOR_MM, pitch_diameter_mm=1.30, minor_mm=1.12, pitch_mm=0.3175),
    length_mm=200.0,
    view_mm=100.0,
    phase=0.3,
    edge_offset_px=EDGE_OFFSET_PX,
    camera=CAMERA,
)
SHANKED = replace(SCREW, length_mm=3.2, view_mm=2.9, chamfer_end_mm=1.0, body=(Cylinder(SHANK_MM, 9.0),))


def pin(diameter_mm: float, offset_px: float = 0.0, um_per_px: float = UM_PER_PX) -> Scene:
    camera = replace(CAMERA, um_per_px=um_per_px)
    return pin_scene(
        diameter_mm, rotation_deg=1.0, offset_px=offset_px, edge_offset_px=EDGE_OFFSET_PX, seed=3, camera=camera
    )


BESIDE = (replace(SCREW, offset_px=-150.0), pin(0.8, 180.0))


def write_scenes(path: Path, scenes: Sequence[Scene]) -> Path:
    write_picture(path, render_together(scenes)[0])
    return path


@cache
def picture_of(*scenes: Scene) -> Picture:
    with TemporaryDirectory() as folder:
        return read_picture(write_scenes(Path(folder) / "part.png", scenes))
