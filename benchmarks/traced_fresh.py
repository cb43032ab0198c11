"""Scenes for the path tracer drawn at random, so that nothing was tuned to them: ``benchmarks.traced --fresh``.

Cameras, masks, threads, lie and surfaces are drawn evenly from what is usual at a bench. The first half cone of a
set-up is an ordinary one, the second is wider by half to twice and a half: for two lights, and for light that nobody
expects.
"""

from __future__ import annotations

from math import atan, degrees, tan

import numpy as np

from benchmarks.path_tracer import Lens
from benchmarks.traced_mesh import Form
from benchmarks.traced_scenes import ORDINARY_DEG, Part, SetUp, Shot, shots

_ROUGH: dict[str, tuple[float, float]] = {"polished": (0.01, 0.03), "bright": (0.03, 0.055), "dull": (0.08, 0.2)}
_HALF_VIEW_MM = 2.9
_BEHIND_MM = 250.0
_AIRY_UM = 0.217 * 0.55
"""Standard deviation of a diffraction disc times the numerical aperture, green light: the tracer knows no waves."""
_ANGLES_DEG = (30.0, 30.0, 27.5, 23.75)


def fresh_shots(seed: int, count: int) -> list[Shot]:
    """The pictures of ``count`` set-ups, gauges included."""
    rng = np.random.default_rng(seed)
    set_ups, parts = [], []
    for number in range(count):
        name = f"f{seed}-{number}"
        set_ups.append(_set_up(name, rng))
        parts += [_part(name, surface, rng) for surface in (*_ROUGH, "black")]
    return list(shots(set_ups, parts))


def _set_up(name: str, rng: np.random.Generator) -> SetUp:
    low, high = ORDINARY_DEG
    while True:
        opening = round(float(np.exp(rng.uniform(np.log(0.015), np.log(0.05)))), 4)
        um_per_px = round(float(rng.uniform(3.5, 4.5)), 2)
        blur_px = round(float(np.hypot(_AIRY_UM / opening / um_per_px, rng.uniform(0.5, 0.9))), 2)
        lens = Lens(float(round(rng.uniform(130, 280))), opening, um_per_px=um_per_px, blur_px=blur_px)
        least = degrees(atan(_HALF_VIEW_MM * (1 / _BEHIND_MM + 1 / lens.distance) + lens.opening))
        if least > high:
            continue
        first = round(float(rng.uniform(max(low, least), high)), 1)
        return SetUp(name, lens, (first, round(float(first * rng.uniform(1.5, 2.5)), 1)))


def _part(set_up: str, surface: str, rng: np.random.Generator) -> Part:
    pitch = round(float(rng.uniform(0.35, 0.7)), 4)
    half = float(rng.choice(_ANGLES_DEG))
    left, right = (round(float(half + off), 2) for off in rng.normal(0.0, 0.4, 2))
    depth = pitch / tan(np.radians(half)) / 2
    effective = round(float(rng.uniform(1.8, 2.5)), 4)
    # flats of a seventh to a third of the pitch on both sides
    up, down = (round(float(depth * share), 4) for share in rng.uniform(0.6, 0.82, 2))
    corners = [None if rng.random() < share else round(float(rng.uniform(0.004, 0.02)), 4) for share in (0.15, 0.4)]
    form = Form(surface, pitch, effective + up, effective, effective - down, left, right, *corners)
    free_end = 180.0 * (rng.random() < 0.3)
    shift = (0.0, round(float(rng.uniform(-0.25, 0.25)), 2))
    return Part(
        set_up,
        form,
        surface,
        free_end + round(float(rng.uniform(-4, 4)), 1),
        round(float(rng.uniform(-0.9, 0.9)), 2),
        round(float(rng.uniform(0, 360)), 0),
        shift,
        roughness=round(float(rng.uniform(*_ROUGH[surface])), 4) if surface in _ROUGH else None,
    )
