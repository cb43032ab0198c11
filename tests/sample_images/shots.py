"""Overlapping pictures of one long part, as taken by moving it along under the camera."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from sample_images.scene import Scene


def overlapping_shots(
    scene: Scene, views_mm: Sequence[float], turns_deg: Sequence[float] = (), offsets_px: Sequence[float] = ()
) -> list[Scene]:
    """The scene seen at several places along its axis, each with noise of its own.

    Args:
        scene: the part, its camera and its light.
        views_mm: for each picture the distance from the free end of the axis point nearest the picture's centre.
        turns_deg: by how much the part was turned in the picture at each shot; none when left out.
        offsets_px: how far the axis passes from the picture's centre at each shot; as in ``scene`` when left out.
    """
    return [
        replace(
            scene,
            view_mm=view,
            rotation_deg=scene.rotation_deg + (turns_deg[i] if turns_deg else 0.0),
            offset_px=offsets_px[i] if offsets_px else scene.offset_px,
            seed=scene.seed + 101 * i,
        )
        for i, view in enumerate(views_mm)
    ]
