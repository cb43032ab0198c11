"""The part in the picture: which pixels are part, and the light beside and inside its outline.

The picture is either bright round a dark part (light pad behind it) or dark round a bright one; what the border of the
picture mostly shows is the background. The level halfway between background and part is taken from both plateaus near
by, since light pads are uneven and lenses flare.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from vision.opencv import cv2
from vision.picture import Picture
from vision.refusal import RefusalError

F32 = npt.NDArray[np.float32]
Mask = npt.NDArray[np.uint8]

_REDUCE = 4  # regions are told apart on a picture reduced by this factor
_COARSE = 8  # light fields are smooth: computed on blocks of 8 x 8 pixels
_CLEAR = 9  # pixels between the outline and what counts as plateau: four sigma of the blurriest usable picture


@dataclass(frozen=True)
class Silhouette:
    """One part and the light round it.

    Attributes:
        smooth: (height, width) picture, linear light, smoothed by ``presmooth_px``.
        presmooth_px: standard deviation of that smoothing.
        outline: (n, 2) pixels of the part's outer outline, in order.
        region: 1 on the blocks of ``_REDUCE`` pixels that are the part, else 0.
        outer, inner: light of the background and of the part at the outline, on blocks of ``_COARSE`` pixels.
        bright_background: True for a dark part before a light pad.
        contrast: (background - part) / full scale, signless.
        noise: standard deviation of the background light, one pixel.
        parts: how many parts were seen.
        clipped: fraction of background pixels at full scale.
    """

    smooth: F32
    presmooth_px: float
    outline: npt.NDArray[np.int32]
    region: Mask
    outer: F32
    inner: F32
    bright_background: bool
    contrast: float
    noise: float
    parts: int
    clipped: float

    def level(self, x: npt.NDArray[np.float64], y: npt.NDArray[np.float64]) -> tuple[F32, F32]:
        """Light of background and part at the pixel positions ``x``, ``y`` (n,)."""
        mx = ((x + 0.5) / _COARSE - 0.5).astype(np.float32)
        my = ((y + 0.5) / _COARSE - 0.5).astype(np.float32)
        return sample(self.outer, mx, my, cv2.INTER_LINEAR), sample(self.inner, mx, my, cv2.INTER_LINEAR)


def sample(image: F32, x: npt.ArrayLike, y: npt.ArrayLike, method: int) -> F32:
    """Values of ``image`` at positions of any shape, borders repeated. cv2.remap takes at most 32766 rows."""
    xs, ys = np.asarray(x, np.float32), np.asarray(y, np.float32)
    shape = xs.shape
    xs, ys = xs.reshape(-1), ys.reshape(-1)
    rows = 1024
    pad = -xs.size % rows
    grid_x = np.pad(xs, (0, pad)).reshape(-1, rows)
    grid_y = np.pad(ys, (0, pad)).reshape(-1, rows)
    out = cv2.remap(image, grid_x, grid_y, method, borderMode=cv2.BORDER_REPLICATE)
    return np.asarray(out, np.float32).reshape(-1)[: xs.size].reshape(shape)


def find_silhouette(picture: Picture, *, part: int | None = None, presmooth_px: float = 1.0) -> Silhouette:
    """Find the part. Parts are numbered from left to right, from 1.

    Raises RefusalError: black, saturated, no_part, several_parts, no_such_part, textured.
    """
    light = picture.light
    size = (light.shape[1] // _REDUCE, light.shape[0] // _REDUCE)
    whole = light[: size[1] * _REDUCE, : size[0] * _REDUCE]
    small = np.asarray(cv2.resize(whole, size, interpolation=cv2.INTER_AREA), np.float32)
    top = float(np.quantile(small, 0.98))
    if top < 0.02:
        raise RefusalError("black", "The picture is black: switch the light pad on or expose longer.")
    threshold = _otsu(small)
    above = small > threshold
    bright = float(np.median(small[above])) if above.any() else 0.0
    dark = float(np.median(small[~above])) if (~above).any() else bright
    spread = bright - dark
    if spread < max(0.08 * bright, 0.02):
        if picture.clipped_bright > 0.2:
            raise RefusalError(
                "saturated", "The picture is white all over: expose shorter until the pad stays below white."
            )
        raise RefusalError("no_part", "No part stands out from the background: lay it on the light pad, in focus.")
    border = np.concatenate([above[0], above[-1], above[:, 0], above[:, -1]])
    bright_background = bool(border.mean() >= 0.5)

    smooth = np.asarray(cv2.GaussianBlur(light, (0, 0), presmooth_px, borderType=cv2.BORDER_REFLECT_101), np.float32)
    # which regions there are is decided on the reduced picture; only the outline itself needs every pixel
    coarse = np.asarray((~above) if bright_background else above).astype(np.uint8)
    label_count, labels, stats, centres = cv2.connectedComponentsWithStats(coarse, connectivity=4)
    areas = stats[1:, cv2.CC_STAT_AREA]
    if label_count < 2 or areas.max() < 25:
        raise RefusalError("no_part", "No part in view: lay it on the light pad, in focus, inside the picture.")
    largest = float(areas.max())
    big = [i + 1 for i, area in enumerate(areas) if area > 0.15 * largest]
    if len(big) > 12 or np.count_nonzero(areas > 2) > 1500:
        raise RefusalError("textured", "The ground is not plain: lay the part on an evenly lit light pad.")
    chosen = _choose(big, np.asarray(centres, np.float64), part)
    if float(stats[chosen, cv2.CC_STAT_AREA]) > 0.92 * coarse.size:
        raise RefusalError(
            "no_part", "The part fills the whole picture: step back until the pad shows on both sides of it."
        )
    own = (labels == chosen).astype(np.uint8)
    background, part_light = _samples(light, coarse, own)
    clipped = float((background >= 0.997).mean()) if background.size else 0.0
    if bright_background and clipped > 0.25:
        raise RefusalError(
            "saturated",
            f"The light pad is burnt out ({100 * clipped:.0f} % of it at full white): expose shorter, a "
            "saturated pad moves "
            "every edge.",
        )
    if not bright_background and part_light.size and float((part_light >= 0.997).mean()) > 0.25:
        raise RefusalError(
            "saturated", "The part is burnt out to white: expose shorter, a saturated part moves every edge."
        )
    outline = _outline(smooth, threshold, bright_background, own)
    outer, inner = _plateaus(small, coarse, own, light.shape)
    return Silhouette(
        smooth,
        presmooth_px,
        outline,
        own,
        outer,
        inner,
        bright_background,
        spread,
        _noise(light, coarse),
        len(big),
        clipped,
    )


def _samples(light: F32, coarse: Mask, own: Mask) -> tuple[F32, F32]:
    """Light of single pixels, one a block of the reduced picture: on the background and on the part."""
    every = light[_REDUCE // 2 :: _REDUCE, _REDUCE // 2 :: _REDUCE][: coarse.shape[0], : coarse.shape[1]]
    return every[coarse == 0], every[own > 0]


def _noise(light: F32, coarse: Mask) -> float:
    """Standard deviation of a background pixel, from differences of neighbours in every fourth row."""
    h, w = coarse.shape
    rows = light[: h * _REDUCE : _REDUCE]
    pairs = (rows[:, : w * _REDUCE : _REDUCE] - rows[:, 1 : w * _REDUCE : _REDUCE])[coarse == 0]
    return float(1.4826 * np.median(np.abs(pairs)) / np.sqrt(2)) if pairs.size else 0.0


def _outline(smooth: F32, threshold: float, bright_background: bool, own: Mask) -> npt.NDArray[np.int32]:
    """Outer outline of the chosen part on the full picture, (n, 2) pixel positions in order."""
    kind = cv2.THRESH_BINARY_INV if bright_background else cv2.THRESH_BINARY
    _, full = cv2.threshold(smooth, threshold, 255, kind)
    contours, _ = cv2.findContours(full.astype(np.uint8), cv2.RETR_EXTERNAL, cv2.CHAIN_APPROX_NONE)
    reach = cv2.dilate(own, np.ones((3, 3), np.uint8))
    for contour in sorted(contours, key=len, reverse=True)[:40]:
        points = np.asarray(contour, np.int32).reshape(-1, 2)
        rows = np.clip(points[:, 1] // _REDUCE, 0, own.shape[0] - 1)
        cols = np.clip(points[:, 0] // _REDUCE, 0, own.shape[1] - 1)
        if reach[rows, cols].mean() > 0.6:
            return points
    raise RefusalError("no_part", "No part in view: lay it on the light pad, in focus, inside the picture.")


def _otsu(small: F32) -> float:
    """Threshold between the two classes of light (Otsu, IEEE Trans. SMC 9, 62-66, 1979), on 256 steps."""
    top = float(small.max())
    scaled = np.clip(small * (255.0 / max(top, 1e-6)), 0, 255).astype(np.uint8)
    step, _ = cv2.threshold(scaled, 0, 255, cv2.THRESH_BINARY | cv2.THRESH_OTSU)
    # the levels themselves sit inside the classes: take the middle between their medians
    value = (float(step) + 0.5) * top / 255.0
    low, high = small[small <= value], small[small > value]
    if not low.size or not high.size:
        return value
    return float(np.median(low) + np.median(high)) / 2


def _choose(big: list[int], centres: npt.NDArray[np.float64], part: int | None) -> int:
    order = sorted(big, key=lambda label: float(centres[label][0]))
    if part is not None:
        if not 1 <= part <= len(order):
            raise RefusalError(
                "no_such_part", f"There is no part {part}: {len(order)} seen, numbered from left to right."
            )
        return order[part - 1]
    if len(order) > 1:
        raise RefusalError(
            "several_parts",
            f"{len(order)} parts in view: name one with --part N (1 to {len(order)}, from left to right) or "
            "take the others away.",
        )
    return order[0]


def _plateaus(small: F32, coarse: Mask, own: Mask, full: tuple[int, ...]) -> tuple[F32, F32]:
    """Light of background and part near the outline, each a smooth field over blocks."""
    size = (-(-full[1] // _COARSE), -(-full[0] // _COARSE))
    reach = 2 * (_CLEAR // _REDUCE + 1) + 1
    kernel = np.ones((reach, reach), np.uint8)
    outside = (cv2.dilate(coarse, kernel) == 0).astype(np.float32)
    inside = np.asarray(cv2.erode(own, kernel, borderType=cv2.BORDER_REPLICATE), np.float32)
    return _field(small, outside, coarse == 0, size), _field(small, inside, own > 0, size)


def _field(small: F32, clear: F32, fallback: npt.NDArray[np.bool_], size: tuple[int, int]) -> F32:
    """Mean of ``small`` over the ``clear`` pixels within a few blocks, widened where there are none near by."""
    if clear.sum() < 20:
        clear = fallback.astype(np.float32)
    step = _COARSE // _REDUCE
    pad = (0, max(size[1] * step - small.shape[0], 0), 0, max(size[0] * step - small.shape[1], 0))
    weight = cv2.copyMakeBorder(clear, *pad, cv2.BORDER_CONSTANT, value=0)
    value = cv2.copyMakeBorder(small * clear, *pad, cv2.BORDER_CONSTANT, value=0)
    weight = cv2.resize(weight, size, interpolation=cv2.INTER_AREA)
    value = cv2.resize(value, size, interpolation=cv2.INTER_AREA)
    mean = float(value.sum() / max(float(weight.sum()), 1e-9))
    field = np.full(weight.shape, mean, np.float32)
    # from coarse to fine: a finer look counts where it has enough clear pixels behind it
    for sigma in (24.0, 10.0, 4.0):
        w = cv2.GaussianBlur(weight, (0, 0), sigma)
        v = cv2.GaussianBlur(value, (0, 0), sigma)
        trust = w / (w + 0.02)
        field = (trust * v / np.maximum(w, 1e-9) + (1 - trust) * field).astype(np.float32)
    return field
