"""Tones: colour profiles and gammas that a picture states, spoilt; a tone runs from dark to bright, or is none."""

from __future__ import annotations

import struct
from functools import cache

import numpy as np

from tests.fuzz.recipe import Recipe, spoilt
from vision.pictures.tone import Tone, gamma_tone, srgb_code, tone_of_icc, tone_of_png_gamma

_ENDS = 0.05
"""So far the ends of a curve may lie from 0 and 1."""


@cache
def seeds() -> tuple[bytes, ...]:
    """Profiles of grey and RGB: by gamma, by a table, and by each kind of parameters (ICC.1:2022, 10.6 and 10.18)."""
    table = np.round(65535 * np.linspace(0, 1, 64) ** 2.2).astype(">u2").tobytes()
    curves = [b"curv" + bytes(4) + struct.pack(">IH", 1, 563) + bytes(2), b"curv" + struct.pack(">II", 0, 64) + table]
    for kind, values in enumerate(([2.2], [2.2, 1, 0], [2.2, 1, 0, 0], [2.4, 0.9479, 0.0521, 0.0774, 0.0404],
                                   [2.4, 0.9479, 0.0521, 0.0774, 0.0404, 0, 0])):  # fmt: skip
        numbers = b"".join(struct.pack(">i", round(65536 * value)) for value in values)
        curves.append(b"para" + bytes(4) + struct.pack(">HH", kind, 0) + numbers)
    return tuple(profile_with(space, curve) for curve in curves for space in (b"GRAY", b"RGB "))


def profile_with(space: bytes, curve: bytes) -> bytes:
    names = {b"GRAY": (b"kTRC",), b"RGB ": (b"rTRC", b"gTRC", b"bTRC")}[space]
    start = 132 + 12 * len(names)
    tags = b"".join(struct.pack(">4sII", name, start, len(curve)) for name in names)
    head = bytes(16) + space + bytes(108)
    return head + struct.pack(">I", len(names)) + tags + curve


def one(data: bytes) -> None:
    recipe = Recipe(data)
    if recipe.number(4):
        tone = tone_of_icc(spoilt(recipe.choice(seeds()), recipe, head=220))
    else:
        tone = tone_of_png_gamma(recipe.number(2**32))
        if recipe.number(2):
            tone = gamma_tone(0.05 + recipe.number(2000) / 100)
    if tone is None:
        return
    assert isinstance(tone, Tone)
    codes = np.append(np.arange(0, 65536, 219), 65535) / 65535
    for curve in tone.curves:
        light = np.asarray(curve(codes))
        assert np.isfinite(light).all()
        assert (np.diff(light) >= -1e-4).all()
        assert abs(light[0]) < _ENDS
        assert abs(light[-1] - 1) < _ENDS
        assert np.isfinite(srgb_code(np.clip(light, 0.0, 1.0))).all()
