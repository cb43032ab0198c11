"""Tone curves: from the numbers in a picture file to linear light.

A tone is one curve (grey) or three (red, green, blue); a curve maps an array of coded values 0..1 to linear light
0..1. Sources: IEC 61966-2-1 for sRGB; the PNG specification (third edition) for gAMA, sRGB and cICP; ICC.1:2022, 10.6
and 10.18, for ``curv`` and ``para`` curves of a profile.
"""

from __future__ import annotations

import struct
from collections.abc import Callable
from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

Array = npt.NDArray[np.float64]
Curve = Callable[[Array], Array]

REC709_WEIGHTS = (0.2126, 0.7152, 0.0722)
"""Red, green, blue weights of luminance in linear light (ITU-R BT.709)."""


@dataclass(frozen=True)
class Tone:
    """How coded values become light. ``name`` is for the note to the person; ``curves`` has one entry or three."""

    name: str
    curves: tuple[Curve, ...]


def _linear(code: Array) -> Array:
    return code


def _srgb(code: Array) -> Array:
    # IEC 61966-2-1:1999
    return np.where(code <= 0.04045, code / 12.92, ((code + 0.055) / 1.055) ** 2.4)


LINEAR = Tone("linear", (_linear,))
SRGB = Tone("sRGB", (_srgb,))
_GAMA = (20_000, 200_000)  # gAMA values of file gammas from 0.2 to 2: others are a defect of the file
_GAMA_OF_LINEAR = 500  # by which gAMA may differ from 100000, rounding, and the file be linear
_DIP = 1e-4  # of full scale by which it may run back: pieces of a curve meet with rounded parameters
_END = 0.05  # of full scale by which a sound curve may miss black and white at its ends


def srgb_code(light: Array) -> Array:
    """The inverse of the curve of sRGB: coded values of light 0 to 1."""
    return np.where(light <= 0.04045 / 12.92, 12.92 * light, 1.055 * np.maximum(light, 1e-9) ** (1 / 2.4) - 0.055)


def gamma_tone(exponent: float) -> Tone:
    """A pure power curve: light = code ** exponent."""
    return Tone(f"gamma {exponent:.3g}", (lambda code: code**exponent,))


def tone_of_png_gamma(gama: int) -> Tone | None:
    """The tone of a PNG gAMA value (100000 times the file gamma). None when it makes no sense."""
    if not _GAMA[0] <= gama <= _GAMA[1]:
        return None
    return LINEAR if abs(gama - 100_000) < _GAMA_OF_LINEAR else gamma_tone(100_000 / gama)


def tone_of_icc(profile: bytes) -> Tone | None:
    """The tone curves of an ICC profile of a grey or an RGB space.

    Returns None for other spaces, for profiles that work by lookup tables, and for curves that are damaged or do not
    run upwards from dark to bright.
    """
    try:
        space = profile[16:20]
        count = min(struct.unpack_from(">I", profile, 128)[0], 200)
        tags = {}
        for i in range(count):
            signature, offset, size = struct.unpack_from(">4sII", profile, 132 + 12 * i)
            tags[signature] = profile[offset : offset + size]
        wanted = {b"GRAY": (b"kTRC",), b"RGB ": (b"rTRC", b"gTRC", b"bTRC")}.get(space, ())
        curves = tuple(_icc_curve(tags[name]) for name in wanted)
    except (struct.error, KeyError, ValueError, OverflowError):
        return None
    if not curves or not all(_sound(curve) for curve in curves):
        return None
    return Tone("the curve of its colour profile", curves)


def _sound(curve: Curve) -> bool:
    with np.errstate(all="ignore"):
        light = curve(np.linspace(0.0, 1.0, 65536))  # every code of 16 bits, and of 8: a table may dip between few
    return bool(
        np.all(np.isfinite(light))
        and np.all(light >= np.maximum.accumulate(light) - _DIP)
        and abs(light[0]) < _END
        and abs(light[-1] - 1) < _END
    )


def _icc_curve(tag: bytes) -> Curve:
    """One ``curv`` or ``para`` element. Raises ValueError or struct.error for anything else."""
    if tag[:4] == b"curv":
        (count,) = struct.unpack_from(">I", tag, 8)
        if count == 0:
            return _linear
        if count == 1:
            exponent = struct.unpack_from(">H", tag, 12)[0] / 256.0
            return lambda code: code**exponent
        if len(tag) < 12 + 2 * count:
            raise ValueError("short curve")
        table = np.frombuffer(tag, ">u2", count, 12).astype(np.float64) / 65535.0
        knots = np.linspace(0.0, 1.0, count)
        return lambda code: np.interp(code, knots, table)
    if tag[:4] == b"para":
        (kind,) = struct.unpack_from(">H", tag, 8)
        if kind > 4:
            raise ValueError("unknown parametric curve")
        n = (1, 3, 4, 5, 7)[kind]
        p = [value / 65536.0 for value in struct.unpack_from(f">{n}i", tag, 12)]
        return _parametric(kind, p)
    raise ValueError("not a curve")


def _parametric(kind: int, p: list[float]) -> Curve:
    """ICC.1:2022, table 68: above the break (a x + b)^g + e, below it c x + f."""
    g = p[0]
    a, b = (p[1], p[2]) if kind else (1.0, 0.0)
    if a <= 0:
        raise ValueError("a parametric curve that does not rise")
    brk, slope, above, below = (-b / a if kind else 0.0), 0.0, 0.0, 0.0
    if kind == 2:
        above = below = p[3]
    elif kind >= 3:
        slope, brk = p[3], p[4]
        if kind == 4:
            above, below = p[5], p[6]

    def curve(code: Array) -> Array:
        return np.where(code >= brk, np.maximum(a * code + b, 0.0) ** g + above, slope * code + below)

    return curve
