"""Dust specks and hairs that lie on the outline of the part."""

from __future__ import annotations

import numpy as np

from sample_images.geometry import Array


def dirt_polygons(outline: Array, count_specks: int, count_hairs: int, size: tuple[int, int], seed: int) -> list[Array]:
    """Polygons in pixels of specks and hairs, each one touching the outline somewhere in the picture.

    Args:
        outline: (n, 2) corners of the part's shadow in pixels.
        count_specks: how many specks, blobs 3 to 9 pixels in radius.
        count_hairs: how many hairs, 2 to 4 pixels thick and 80 to 250 pixels long.
        size: (width, height) of the picture.
        seed: of their places and shapes.
    """
    rng = np.random.default_rng([seed, 1])
    width, height = size
    seen = (outline > 10).all(axis=1) & (outline[:, 0] < width - 11) & (outline[:, 1] < height - 11)
    places = outline[seen]
    if len(places) == 0:
        return []
    shapes = []
    for _ in range(count_specks):
        radius = rng.uniform(3, 9)
        angle = np.linspace(0, 2 * np.pi, 60, endpoint=False)
        wobble = 1 + sum(rng.normal(0, 0.12) * np.cos(n * angle + rng.uniform(0, 2 * np.pi)) for n in (2, 3, 5))
        centre = places[rng.integers(len(places))] + rng.uniform(-0.7, 0.7, 2) * radius
        ring = radius * np.maximum(wobble, 0.3)
        shapes.append(centre + np.column_stack([ring * np.cos(angle), ring * np.sin(angle)]))
    for _ in range(count_hairs):
        length, thick = rng.uniform(80, 250), rng.uniform(2, 4)
        along = np.linspace(0, 1, 120)
        bend = rng.uniform(-1.5, 1.5)
        heading = rng.uniform(0, 2 * np.pi) + bend * along
        spine = np.cumsum(np.column_stack([np.cos(heading), np.sin(heading)]), axis=0) * (length / len(along))
        spine += places[rng.integers(len(places))] - spine[len(along) // 3]
        normal = np.column_stack([-np.sin(heading), np.cos(heading)]) * thick / 2
        shapes.append(np.concatenate([spine + normal, (spine - normal)[::-1]]))
    return shapes
