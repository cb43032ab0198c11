"""Bright and dark: which of two shades each pixel of a reduced picture has, on a pad that may be lit unevenly."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

import numpy as np
import numpy.typing as npt

from threads.shared.refusal import RefusalError
from vision.outline.light_field import surface
from vision.outline.limits import LIMITS
from vision.shared.opencv import cv2
from vision.shared.robust import robust_scale

F32 = npt.NDArray[np.float32]
Bool = npt.NDArray[np.bool_]

_LEAST_CONTRAST = 0.045  # of the bright shade; what an uneven pad keeps when its surface is taken out is under 3 %
_UNEVEN = 0.15  # of the light: a pad that varies by less is taken as even, one threshold serves all of it
_DARKEST = 0.02  # of full scale: a pad that is darker drowns in noise
_BEYOND = 2.0  # times darker or brighter that the pad may be in a corner than where it is plainly pad
_MOST_SAMPLES = 40_000  # pixels: a median of so many is known to 0.6 per cent of their scatter


@dataclass(frozen=True)
class Shades:
    """The two shades of a picture.

    Attributes:
        bright: (rows, columns) whether a pixel of the reduced picture is of the bright shade.
        threshold: light between the shades: one number, or (rows, columns) where the light is uneven.
        bright_background: whether the bright shade is the background: it takes most of the picture's border.
        contrast: light of the bright shade minus that of the dark one.
    """

    bright: Bool
    threshold: float | F32
    bright_background: bool
    contrast: float


def classify_shades(small: F32, *, burnt: float) -> Shades:
    """Classify the pixels into two shades.

    Args:
        small: (rows, columns) reduced picture, linear light.
        burnt: fraction of the picture's pixels at full scale.

    Raises RefusalError: black, saturated, no_part, textured, cut_off.
    """
    top = float(np.quantile(_few(small), 0.98))
    if top < _DARKEST:
        raise RefusalError("black")
    even, ground = small, np.ones_like(small)
    level = _otsu(even)
    some = _ground(_few(small), _few(even) > level, top)
    uneven = float(np.ptp(some)) > _UNEVEN * float(some.max())
    if uneven:
        lit = _ground(small, even > level, top)
        for _ in range(3):
            even = small / lit
            level = _otsu(even)
            lit = _ground(small, even > level, top)
        ground = lit
        even = small / ground
        level = _otsu(even)
    bright = np.asarray(even > level)
    high, low = _few(even)[_few(bright)], _few(even)[~_few(bright)]
    over, under = (float(np.median(high)), float(np.median(low))) if high.size and low.size else (1.0, 1.0)
    light = float(np.median(_few(small)[_few(bright)])) if high.size else top
    if over - under < _LEAST_CONTRAST * over or (over - under) / over * light < _DARKEST:
        if burnt > LIMITS.all_white:
            raise RefusalError("saturated.white")
        raise RefusalError("no_part.background")
    background = float(np.mean(np.concatenate([bright[0], bright[-1], bright[:, 0], bright[:, -1]]))) >= 0.5
    _check_plain(high, over, under, _few(even), background)
    if not background and _is_pad(bright):
        raise RefusalError("cut_off.pad")
    threshold = np.asarray(level * ground, np.float32) if uneven else level
    return Shades(bright, threshold, background, (over - under) / over * light)


def _check_plain(high: F32, over: float, under: float, every: F32, bright_background: bool) -> None:
    """Refuse a ground that has grain, lines or knots: a shadow has two shades and little between them."""
    rough = robust_scale(high - over) / (over - under)
    place = (every - under) / (over - under)
    between = float(np.mean((place > LIMITS.between_shades[0]) & (place < LIMITS.between_shades[1])))
    if rough > (LIMITS.most_grain if bright_background else LIMITS.most_grain_part) or between > LIMITS.most_between:
        raise RefusalError("textured")


def _is_pad(bright: Bool) -> bool:
    """Whether what is bright before a dark ground is a light pad that ends inside the picture, the part before it.

    Then it stretches over much of the picture, with a dark part in its middle.
    """
    points = np.argwhere(bright[::4, ::4]).astype(np.int32) * 4
    if not points.size:
        return False
    hull = cv2.convexHull(points)
    if cv2.contourArea(hull) < LIMITS.pad_size * bright.size:
        return False
    moments = cv2.moments(hull)
    row, column = int(moments["m10"] / moments["m00"]), int(moments["m01"] / moments["m00"])
    reach = max(bright.shape) // 16
    middle = bright[max(row - reach, 0) : row + reach, max(column - reach, 0) : column + reach]
    return float(middle.mean()) < LIMITS.dark_middle


def _few(values: npt.NDArray[Any]) -> npt.NDArray[Any]:
    """Some of the pixels: enough to know their distribution."""
    step = max(1, int(np.ceil(np.sqrt(values.size / _MOST_SAMPLES))))
    return values[::step, ::step]


def _ground(small: F32, bright: Bool, top: float) -> F32:
    """Light of the bright shade as it would be everywhere: a surface through the pixels that have it.

    Far from them noise bends it anywhere: there it keeps within ``_BEYOND`` of what it is where they are.
    """
    lit = surface(small, bright.astype(np.float32))
    there = lit[bright] if bright.any() else lit
    low, high = float(there.min()) / _BEYOND, float(there.max()) * _BEYOND
    return np.clip(lit, np.float32(max(low, 0.1 * top)), np.float32(max(high, 0.1 * top)))


def _otsu(values: F32) -> float:
    """Threshold between the two classes of light (Otsu, IEEE Trans. SMC 9, 62-66, 1979), on 256 steps."""
    values = _few(values)
    top = float(values.max())
    scaled = np.clip(values * (255.0 / max(top, 1e-6)), 0, 255).astype(np.uint8)
    step, _ = cv2.threshold(scaled, 0, 255, cv2.THRESH_BINARY | cv2.THRESH_OTSU)
    # the levels themselves sit inside the classes: take the middle between their medians
    value = (float(step) + 0.5) * top / 255.0
    low, high = values[values <= value], values[values > value]
    if not low.size or not high.size:
        return value
    return float(np.median(low) + np.median(high)) / 2
