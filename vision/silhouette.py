"""The part in the picture: which pixels are part, and the light beside and inside its outline.

The picture is either bright round a dark part (light pad behind it) or dark round a bright one; what the border of the
picture mostly shows is the background. The level halfway between background and part is taken from both plateaus near by,
since light pads are uneven and lenses flare.
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

_COARSE = 8  # light fields are smooth: computed on blocks of 8 x 8 pixels
_CLEAR = 9  # pixels between the outline and what counts as plateau: four sigma of the blurriest usable picture


@dataclass(frozen=True)
class Silhouette:
    """One part and the light round it.

    Attributes:
        smooth: (height, width) picture, linear light, smoothed by ``presmooth_px``.
        presmooth_px: standard deviation of that smoothing.
        mask: (height, width) 255 on the part.
        outer, inner: light of the background and of the part at the outline, on blocks of ``_COARSE`` pixels.
        bright_background: True for a dark part before a light pad.
        contrast: (background - part) / full scale, signless.
        noise: standard deviation of the background light, one pixel.
        parts: how many parts were seen.
        touches: names of the picture borders the part runs into.
        clipped: fraction of background pixels at full scale.
    """

    smooth: F32
    presmooth_px: float
    mask: Mask
    outer: F32
    inner: F32
    bright_background: bool
    contrast: float
    noise: float
    parts: int
    touches: tuple[str, ...]
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
    small = np.asarray(cv2.resize(light, None, fx=0.25, fy=0.25, interpolation=cv2.INTER_AREA), np.float32)
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
    raw = (smooth < threshold) if bright_background else (smooth > threshold)
    mask = raw.astype(np.uint8)
    label_count, labels, stats, centres = cv2.connectedComponentsWithStats(mask, connectivity=4)
    areas = stats[1:, cv2.CC_STAT_AREA]
    if label_count < 2 or areas.max() < 400:
        raise RefusalError("no_part", "No part in view: lay it on the light pad, in focus, inside the picture.")
    largest = float(areas.max())
    big = [i + 1 for i, area in enumerate(areas) if area > 0.15 * largest]
    if len(big) > 12 or np.count_nonzero(areas > 30) > 1500:
        raise RefusalError("textured", "The ground is not plain: lay the part on an evenly lit light pad.")
    chosen = _choose(big, np.asarray(centres, np.float64), part)
    if float(stats[chosen, cv2.CC_STAT_AREA]) > 0.92 * mask.size:
        raise RefusalError(
            "no_part", "The part fills the whole picture: step back until the pad shows on both sides of it."
        )
    own = (labels == chosen).astype(np.uint8)
    box = stats[chosen]
    x0, y0, w, h = (int(v) for v in box[:4])
    touches = tuple(
        name
        for name, hit in (
            ("left", x0 == 0),
            ("top", y0 == 0),
            ("right", x0 + w == picture.width_px),
            ("bottom", y0 + h == picture.height_px),
        )
        if hit
    )
    outer, inner = _plateaus(light, mask, own)
    outside = mask[::4, ::4] == 0
    clipped = float((light[::4, ::4][outside] >= 0.997).mean()) if outside.any() else 0.0
    if bright_background and clipped > 0.25:
        raise RefusalError(
            "saturated",
            f"The light pad is burnt out ({100 * clipped:.0f} % of it at full white): expose shorter, a saturated pad moves every edge.",
        )
    if not bright_background:
        on_part = light[::4, ::4][own[::4, ::4] > 0]
        if on_part.size and float((on_part >= 0.997).mean()) > 0.25:
            raise RefusalError(
                "saturated", "The part is burnt out to white: expose shorter, a saturated part moves every edge."
            )
    flat = light[: picture.height_px // 2 * 2, : picture.width_px // 2 * 2]
    pairs = (flat[::2, ::2] - flat[::2, 1::2])[mask[: flat.shape[0] : 2, : flat.shape[1] : 2] == 0]
    noise = float(1.4826 * np.median(np.abs(pairs)) / np.sqrt(2)) if pairs.size else 0.0
    return Silhouette(
        smooth,
        presmooth_px,
        own * np.uint8(255),
        outer,
        inner,
        bright_background,
        spread,
        noise,
        len(big),
        touches,
        clipped,
    )


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
            f"{len(order)} parts in view: name one with --part N (1 to {len(order)}, from left to right) or take the others away.",
        )
    return order[0]


def _plateaus(light: F32, mask: Mask, own: Mask) -> tuple[F32, F32]:
    """Light of background and part near the outline, each a smooth field over blocks."""
    size = (-(-light.shape[1] // _COARSE), -(-light.shape[0] // _COARSE))
    kernel = np.ones((2 * _CLEAR + 1, 2 * _CLEAR + 1), np.uint8)
    outside = (cv2.dilate(mask, kernel) == 0).astype(np.float32)
    inside = cv2.erode(own, kernel, borderType=cv2.BORDER_REPLICATE).astype(np.float32)
    return _field(light, outside, mask == 0, size), _field(light, inside, own > 0, size)


def _field(light: F32, clear: F32, fallback: npt.NDArray[np.bool_], size: tuple[int, int]) -> F32:
    """Mean of ``light`` over the ``clear`` pixels within a few blocks, widened where there are none near by."""
    if clear.sum() < 200:
        clear = fallback.astype(np.float32)
    full = (size[0] * _COARSE, size[1] * _COARSE)
    pad = (0, full[1] - light.shape[0], 0, full[0] - light.shape[1])
    weight = cv2.copyMakeBorder(clear, *pad, cv2.BORDER_CONSTANT, value=0)
    value = cv2.copyMakeBorder(light * clear, *pad, cv2.BORDER_CONSTANT, value=0)
    weight = cv2.resize(weight, size, interpolation=cv2.INTER_AREA)
    value = cv2.resize(value, size, interpolation=cv2.INTER_AREA)
    mean = float(value.sum() / weight.sum())
    field = np.full(weight.shape, mean, np.float32)
    # from coarse to fine: a finer look counts where it has enough clear pixels behind it
    for sigma in (24.0, 10.0, 4.0):
        w = cv2.GaussianBlur(weight, (0, 0), sigma)
        v = cv2.GaussianBlur(value, (0, 0), sigma)
        trust = w / (w + 0.02)
        field = (trust * v / np.maximum(w, 1e-9) + (1 - trust) * field).astype(np.float32)
    return np.asarray(field, np.float32)
