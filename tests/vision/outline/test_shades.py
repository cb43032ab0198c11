"""Bright and dark where the light falls off."""

from __future__ import annotations

import numpy as np

from vision.outline.shades import classify_shades


def test_a_narrow_bright_part_says_nothing_of_the_light_far_from_it() -> None:
    """Its edges are half bright, which bends the surface through it: far away it would be darker than the ground."""
    rng = np.random.default_rng(0)
    y, x = np.mgrid[-150:150, -200:200]
    half_width = 25 + 6 * np.abs((y % 12) / 6 - 1)
    part = np.clip(0.5 + (half_width - np.abs(x - 0.06 * y)) / 2, 0, 1)
    lit = 0.6 * (1 - 0.05 * ((x / 200) ** 2 + (y / 150) ** 2) / 2)
    light = (0.03 + lit * part + 0.012 * rng.standard_normal(part.shape)).astype(np.float32)
    found = classify_shades(light, burnt=0.0)
    assert not found.bright_background
    assert np.mean(found.bright != (part > 0.5)) < 0.001
