"""The part in the picture: which pixels are part, and the light beside and inside its outline.

The picture is either bright round a dark part (light pad behind it) or dark round a bright one; what the border of the
picture mostly shows is the background. The level halfway between background and part is taken from both plateaus near
by, since light pads are uneven and lenses flare.
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from threads.shared.normal import ndtri, quick_ndtr
from threads.shared.refusal import RefusalError
from vision.outline.light_field import local_field
from vision.outline.limits import LIMITS
from vision.outline.shades import Shades, classify_shades
from vision.pictures.picture import Picture
from vision.shared.opencv import cv2
from vision.shared.robust import robust_scale

F32 = npt.NDArray[np.float32]
Mask = npt.NDArray[np.uint8]

_REDUCE = 4  # regions are told apart on a picture reduced by this factor
_COARSE = 8  # light fields are smooth: computed on blocks of 8 x 8 pixels
_KERNEL = 4  # standard deviations that OpenCV's Gaussian of floats reaches
_TILE = 48  # pixels, a side of the squares that are smoothed where they, or the two next to them, have an edge
_NEXT = 2
_ROWS = 32  # reduced rows at a time where every pixel is compared: the whole at once takes 400 MB of 100 megapixels
_THIN = 5  # reduced pixels: what is thinner and sticks out of the part is hair
_LEAST_AREA = 150  # reduced pixels: three threads of the fewest pixels a thread, on the slenderest screw
_BURNT = 0.03  # of the pixels round a block at full white: the brightest end of its noise
_CLEAR = 9  # pixels between the outline and what counts as plateau: four sigma of the blurriest usable picture


@dataclass(frozen=True)
class Silhouette:
    """One part and the light round it.

    Attributes:
        smooth: (height, width) picture, linear light, smoothed by ``presmooth_px``; 0 more than ``_NEXT`` times
            ``_TILE`` pixels from the part's edges, where nobody looks.
        presmooth_px: standard deviation of that smoothing.
        outline: (n, 2) pixels of the part's outer outline, in order.
        region: 1 on the blocks of ``_REDUCE`` pixels that are the part, else 0.
        outer, inner: light of the background and of the part at the outline, on blocks of ``_COARSE`` pixels.
        bright_background: True for a dark part before a light pad.
        contrast: (background - part) / full scale, signless.
        noise: standard deviation of the background light, one pixel.
        grain: the same in ``smooth``: of white noise little is left, of what JPEG leaves of it nearly all.
        parts: how many parts were seen.
        clipped: fraction of background pixels at full scale.
        cut_noise: standard deviation of the noise that is cut off at black and at white, one pixel; 0 where none is.
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
    grain: float
    parts: int
    clipped: float
    cut_noise: tuple[float, float]

    def level(self, x: npt.NDArray[np.float64], y: npt.NDArray[np.float64]) -> tuple[F32, F32]:
        """Light of background and part at the pixel positions ``x``, ``y`` (n,)."""
        mx = ((x + 0.5) / _COARSE - 0.5).astype(np.float32)
        my = ((y + 0.5) / _COARSE - 0.5).astype(np.float32)
        return sample(self.outer, mx, my, cv2.INTER_LINEAR), sample(self.inner, mx, my, cv2.INTER_LINEAR)

    def uncut(self, smooth: F32, low: F32, high: F32) -> F32:
        """What ``smooth`` light (n,) between the levels ``low`` and ``high`` would be if no noise were cut off."""
        level = smooth
        for _ in range(3):  # each with what the one before has shown of the level
            level = np.clip(level, low, high)
            shift = np.zeros(smooth.shape)
            for sigma, sign, depth in zip(self.cut_noise, (1, -1), (level, 1 - level), strict=True):
                if sigma > 0:
                    a = depth.astype(np.float64) / sigma
                    shift += sign * sigma * (np.exp(-0.5 * a * a) / math.sqrt(2 * math.pi) - a * (1 - quick_ndtr(a)))
            level = (smooth - shift).astype(np.float32)
        return level


def sample(image: F32, x: npt.ArrayLike, y: npt.ArrayLike, method: int) -> F32:
    """Values of ``image`` at positions of any shape, borders repeated. cv2.remap takes at most 32766 rows."""
    xs, ys = np.asarray(x, np.float32), np.asarray(y, np.float32)
    shape = xs.shape
    if not xs.size:
        return np.empty(shape, np.float32)
    xs, ys = xs.reshape(-1), ys.reshape(-1)
    rows = 1024
    pad = -xs.size % rows
    grid_x = np.pad(xs, (0, pad)).reshape(-1, rows)
    grid_y = np.pad(ys, (0, pad)).reshape(-1, rows)
    out = cv2.remap(image, grid_x, grid_y, method, borderMode=cv2.BORDER_REPLICATE)
    return np.asarray(out, np.float32).reshape(-1)[: xs.size].reshape(shape)


def own_blur(blur: float, presmooth: float) -> float:
    """The blur of the picture itself, from that of edges found after smoothing (standard deviations, same unit)."""
    return float(np.sqrt(max(blur**2 - presmooth**2, 0.0)))


def find_silhouette(picture: Picture, *, part: int | None = None, presmooth_px: float = 1.0) -> Silhouette:
    """Find the part. Parts are numbered from 1, from left to right, row by row from the top (see ``find_parts``).

    Hair and other things thinner than about 20 px that stick out of the part are cut off near it.

    Raises RefusalError: black, saturated, no_part, cut_off, several_parts, no_such_part, textured.
    """
    light = picture.light
    small, shades, coarse = _reduced(picture)
    own, keep, count = _pick(coarse, part, shades.bright_background)
    background, part_light = _samples(light, coarse, own)
    clipped = float((background >= LIMITS.full_scale).mean()) if background.size else 0.0
    if shades.bright_background and clipped > LIMITS.burnt_pad:
        raise RefusalError("saturated.pad", percent=100 * clipped)
    burnt = float((part_light >= LIMITS.full_scale).mean()) if part_light.size else 0.0
    if not shades.bright_background and burnt > LIMITS.burnt_pad:
        raise RefusalError("saturated.part")
    near = _near_edges(own, light.shape)
    smooth = _smoothed(light, presmooth_px, near)
    outline = _outline(smooth, near, shades, own, keep)
    outside, inside = _clear_of_edges(coarse, own)
    unburnt = _unburnt(light, outside)
    outer, inner = _plateaus(small, coarse, own, unburnt, inside, light.shape)
    background, part_light = _samples(light, 1 - unburnt, inside)
    cuts = [clipped_noise(background), clipped_noise(part_light)]
    outer, inner = (field - np.float32(bias) for field, (bias, _) in zip((outer, inner), cuts, strict=True))
    black, white = (max(sigmas) for sigmas in zip(*(cut for _, cut in cuts), strict=True))
    return Silhouette(
        smooth,
        presmooth_px,
        outline,
        own,
        outer,
        inner,
        shades.bright_background,
        shades.contrast,
        _noise(light, coarse),
        _grain(smooth, np.minimum(outside, _blocks(near, outside.shape))),
        count,
        clipped,
        (black, white),
    )


def find_parts(picture: Picture) -> tuple[tuple[int, int, int, int], ...]:
    """Where the parts are: left, top, width and height of each, px, in the order of their numbers.

    Parts stand in a row where their middles lie beside the first of them; rows count from the top.

    Raises RefusalError as ``find_silhouette`` does for a picture without any part.
    """
    _, shades, coarse = _reduced(picture)
    big, _, stats = _regions(coarse, shades.bright_background)
    left, top, width, height = (stats[:, i] for i in range(4))
    return tuple(
        (int(left[i]) * _REDUCE, int(top[i]) * _REDUCE, int(width[i]) * _REDUCE, int(height[i]) * _REDUCE) for i in big
    )


def _reduced(picture: Picture) -> tuple[F32, Shades, Mask]:
    """The reduced picture, its two shades, and 1 where it is of the parts' shade.

    Which regions there are is decided on the reduced picture; only the outline itself needs every pixel.
    """
    light = picture.light
    size = (light.shape[1] // _REDUCE, light.shape[0] // _REDUCE)
    whole = light[: size[1] * _REDUCE, : size[0] * _REDUCE]
    small = np.asarray(cv2.resize(whole, size, interpolation=cv2.INTER_AREA), np.float32)
    shades = classify_shades(small, burnt=picture.clipped_bright)
    return small, shades, np.asarray(~shades.bright if shades.bright_background else shades.bright).astype(np.uint8)


def clipped_noise(pixels: F32) -> tuple[float, tuple[float, float]]:
    """Bias of the mean of noisy pixels from clipping at black and white, and the noise that is clipped at each.

    Noise about a level near the end of the range is cut on one side, so that the mean of what is left is drawn inward;
    the half level between background and part would move with it. For a normal distribution with the fraction f cut
    at c: a = N^-1(1 - f), and the mean m of what is left and the level mu = c + a sigma obey
    m = mu N(a) + sigma n(a), which gives sigma and mu (moments of a censored normal distribution).

    Args:
        pixels: (n,) light of single pixels of one plateau, 0..1.

    Returns:
        mean minus level, and the standard deviation of the noise at black and at white; 0.0 when less than 0.2 % or
        more than 95 % of the pixels are cut.
    """
    bias, sigmas = 0.0, [0.0, 0.0]
    for end, (values, sign) in enumerate(((pixels, 1.0), (1 - pixels, -1.0))):
        if values.size < LIMITS.least_plateau:
            continue
        cut = values <= 1e-6
        fraction = float(cut.mean())
        if not LIMITS.censored[0] < fraction < LIMITS.censored[1]:
            continue
        half_step = float(values[~cut].min()) / 2
        share = 1 - fraction
        a = ndtri(share)
        density = math.exp(-a * a / 2) / math.sqrt(2 * math.pi)
        mean = float(values.mean(dtype=np.float64))
        sigma = (mean - half_step * share) / max(a * share + density, 1e-9)
        bias += sign * (mean - (half_step + a * sigma))
        sigmas[end] = sigma
    return bias, (sigmas[0], sigmas[1])


def _pick(coarse: Mask, part: int | None, bright_background: bool) -> tuple[Mask, Mask, int]:
    """The chosen part without hair, the part and what is close to it, and how many parts there are."""
    big, labels, stats = _regions(coarse, bright_background)
    chosen = _choose(big, part, bright_background)
    if float(stats[chosen, cv2.CC_STAT_AREA]) > LIMITS.fills_picture * coarse.size:
        raise RefusalError("cut_off.whole")
    own = (labels == chosen).astype(np.uint8)
    core = cv2.morphologyEx(own, cv2.MORPH_OPEN, np.ones((_THIN, _THIN), np.uint8))
    if not core.any():
        raise RefusalError("no_part.thin", thin_px=_THIN * _REDUCE)
    keep = np.asarray(cv2.dilate(core, np.ones((2 * _THIN + 1, 2 * _THIN + 1), np.uint8)), np.uint8)
    return np.minimum(own, keep), keep, len(big)


def _regions(coarse: Mask, bright_background: bool) -> tuple[list[int], npt.NDArray[np.int32], npt.NDArray[np.int32]]:
    """Labels of the parts in the order of their numbers; which label each pixel has; the box and area of each label."""
    label_count, labels, stats, centres = cv2.connectedComponentsWithStats(coarse, connectivity=4)
    areas = stats[1:, cv2.CC_STAT_AREA]
    if label_count < 2 or areas.max() < _LEAST_AREA:
        raise RefusalError("no_part")
    big = [int(i) + 1 for i in np.flatnonzero(areas > LIMITS.part_size * areas.max())]
    if not bright_background and _are_gaps(np.asarray(stats[big], np.int32), coarse):
        raise RefusalError("cut_off.ends")
    if len(big) > LIMITS.most_parts or np.count_nonzero(areas > 2) > LIMITS.most_specks:
        raise RefusalError("textured")
    rows: list[list[int]] = []
    for label in sorted(big, key=lambda i: float(centres[i][1])):
        bottom = stats[rows[-1][0], cv2.CC_STAT_TOP] + stats[rows[-1][0], cv2.CC_STAT_HEIGHT] if rows else 0
        if rows and float(centres[label][1]) < bottom:
            rows[-1].append(label)
        else:
            rows.append([label])
    order = [label for row in rows for label in sorted(row, key=lambda i: float(centres[i][0]))]
    return order, np.asarray(labels, np.int32), np.asarray(stats, np.int32)


def _are_gaps(stats: npt.NDArray[np.int32], coarse: Mask) -> bool:
    """Whether what is bright are the gaps that a part filling the picture leaves at the picture's border."""
    left, top, width, height = (stats[:, i] for i in range(4))
    rows, columns = coarse.shape
    at_border = (left == 0) | (top == 0) | (left + width == columns) | (top + height == rows)
    return bool(len(stats) > 3 and at_border.all() and coarse.mean() < LIMITS.most_gaps)


def _samples(light: F32, coarse: Mask, own: Mask) -> tuple[F32, F32]:
    """Light of single pixels, one a block of the reduced picture: on the background and on the part."""
    every = np.ascontiguousarray(light[_REDUCE // 2 :: _REDUCE, _REDUCE // 2 :: _REDUCE])
    every = every[: coarse.shape[0], : coarse.shape[1]]
    return every[coarse == 0], every[own > 0]


def _noise(light: F32, coarse: Mask) -> float:
    """Standard deviation of a background pixel, from differences of neighbours in every eighth row."""
    h, w = coarse.shape
    rows = light[: h * _REDUCE : 2 * _REDUCE]
    pairs = (rows[:, : w * _REDUCE : _REDUCE] - rows[:, 1 : w * _REDUCE : _REDUCE])[coarse[::2] == 0]
    return robust_scale(pairs) / float(np.sqrt(2)) if pairs.size else 0.0


def _grain(smooth: F32, outside: Mask) -> float:
    """Standard deviation of a smoothed background pixel, from differences between pixels 8 px apart.

    They are independent: beyond the reach of the smoothing, in other blocks of a JPEG; and near enough for the light to
    be the same.
    """
    every = smooth[_REDUCE // 2 :: _REDUCE, _REDUCE // 2 :: _REDUCE][: outside.shape[0], : outside.shape[1]]
    clear = outside > 0
    # every fourth row or column is enough to know it to half a per cent
    across = (every[::4, :-2] - every[::4, 2:])[clear[::4, :-2] & clear[::4, 2:]]
    down = (every[:-2, ::4] - every[2:, ::4])[clear[:-2, ::4] & clear[2:, ::4]]
    pairs = np.concatenate([across, down])
    return robust_scale(pairs) / float(np.sqrt(2)) if pairs.size else 0.0


def _near_edges(own: Mask, shape: tuple[int, ...]) -> Mask:
    """1 for the tiles of a picture of ``shape`` that lie near the edges of ``own``, which stands on reduced pixels."""
    edges = cv2.morphologyEx(own, cv2.MORPH_GRADIENT, np.ones((3, 3), np.uint8))
    blocks = _TILE // _REDUCE
    rows, columns = -(-shape[0] // _TILE), -(-shape[1] // _TILE)
    padded = np.zeros((rows * blocks, columns * blocks), np.uint8)
    padded[: own.shape[0], : own.shape[1]] = edges
    tiles = padded.reshape(rows, blocks, columns, blocks).max(axis=(1, 3))
    return np.asarray(cv2.dilate(tiles, np.ones((2 * _NEXT + 1, 2 * _NEXT + 1), np.uint8)), np.uint8)


def _blocks(tiles: Mask, shape: tuple[int, ...]) -> Mask:
    """``tiles`` on reduced pixels of ``shape``."""
    blocks = _TILE // _REDUCE
    return np.repeat(np.repeat(tiles, blocks, axis=0), blocks, axis=1)[: shape[0], : shape[1]]


def _runs(tiles: Mask, shape: tuple[int, ...]) -> Iterator[tuple[int, int, int, int]]:
    """Rectangles, px, that cover the marked ``tiles`` of a picture of ``shape``: top, end, left, right."""
    for row, marks in enumerate(tiles):
        turns = np.flatnonzero(np.diff(marks, prepend=0, append=0)) * _TILE
        for left, right in zip(turns[::2].tolist(), turns[1::2].tolist(), strict=True):
            yield row * _TILE, min((row + 1) * _TILE, shape[0]), left, min(right, shape[1])


def _smoothed(light: F32, sigma: float, near: Mask) -> F32:
    """The picture smoothed in the tiles ``near`` the edges, 0 elsewhere; memory that is not written takes none."""
    reach = int(np.ceil(_KERNEL * sigma)) + 2
    smooth = np.zeros(light.shape, np.float32)
    for top, end, left, right in _runs(near, light.shape):
        above, before = max(top - reach, 0), max(left - reach, 0)
        some = light[above : min(end + reach, light.shape[0]), before : min(right + reach, light.shape[1])]
        done = cv2.GaussianBlur(some, (0, 0), sigma, borderType=cv2.BORDER_REFLECT_101)
        smooth[top:end, left:right] = done[top - above : end - above, left - before : right - before]
    return smooth


def _outline(smooth: F32, near: Mask, shades: Shades, own: Mask, keep: Mask) -> npt.NDArray[np.int32]:
    """Outer outline of the chosen part on the full picture, (n, 2) pixel positions in order."""
    left, top, width, height = cv2.boundingRect(keep)
    corner = (left * _REDUCE, top * _REDUCE)
    size = (width * _REDUCE, height * _REDUCE)
    # far from the edges what is kept is the part
    kept = keep[top : top + height, left : left + width] * np.uint8(255)
    full = np.asarray(cv2.resize(kept, size, interpolation=cv2.INTER_NEAREST), np.uint8)
    for top, end, left, right in _runs(near, smooth.shape):
        y0, y1 = max(top, corner[1]), min(end, corner[1] + size[1])
        x0, x1 = max(left, corner[0]), min(right, corner[0] + size[0])
        if y0 < y1 and x0 < x1:
            here = _beyond(smooth[y0:y1, x0:x1], shades, x0, y0, smooth.shape)
            full[y0 - corner[1] : y1 - corner[1], x0 - corner[0] : x1 - corner[0]] &= here
    contours, _ = cv2.findContours(full, cv2.RETR_EXTERNAL, cv2.CHAIN_APPROX_NONE, offset=corner)
    reach = cv2.dilate(own, np.ones((3, 3), np.uint8))
    for contour in sorted(contours, key=len, reverse=True)[:40]:
        points = np.asarray(contour, np.int32).reshape(-1, 2)
        y = np.clip(points[:, 1] // _REDUCE, 0, own.shape[0] - 1)
        x = np.clip(points[:, 0] // _REDUCE, 0, own.shape[1] - 1)
        if reach[y, x].mean() > LIMITS.on_region:
            return points
    raise RefusalError("no_part.nothing")


def _beyond(smooth: F32, shades: Shades, left: int, top: int, whole: tuple[int, ...]) -> Mask:
    """1 where ``smooth``, from ``top`` and ``left`` on of the ``whole``, is on the part's side of the threshold."""
    here = (slice(top, top + smooth.shape[0]), slice(left, left + smooth.shape[1]))
    level: F32 | np.float32
    if isinstance(shades.threshold, float):
        level = np.float32(shades.threshold)
    else:
        level = _enlarged(shades.threshold, whole, *here)
    compare = np.less if shades.bright_background else np.greater
    return np.asarray(compare(smooth, level)).view(np.uint8)


def _enlarged(small: F32, shape: tuple[int, ...], rows: slice, columns: slice) -> F32:
    """These rows and columns of ``small`` brought to ``shape`` linearly, as cv2.resize does with all of it."""
    last = small.shape[0] - 1
    at = np.clip((np.arange(rows.start, rows.stop) + 0.5) * (small.shape[0] / shape[0]) - 0.5, 0.0, last)
    above = np.minimum(at.astype(np.intp), last - 1)
    part = (at - above).astype(np.float32)[:, None]
    needed = np.ascontiguousarray(small[above[0] : above[-1] + 2])
    wide = np.asarray(cv2.resize(needed, (shape[1], len(needed)), interpolation=cv2.INTER_LINEAR), np.float32)
    wide = wide[:, columns]
    level = wide[above - above[0]] * (1 - part)
    level += wide[above - above[0] + 1] * part
    return level


def _choose(order: list[int], part: int | None, bright_background: bool) -> int:
    if part is not None:
        if not 1 <= part <= len(order):
            raise RefusalError("no_such_part", part=part, parts=len(order))
        return order[part - 1]
    if len(order) > 1:
        raise RefusalError("several_parts.dark" if bright_background else "several_parts.bright", parts=len(order))
    return order[0]


def _clear_of_edges(coarse: Mask, own: Mask) -> tuple[Mask, Mask]:
    """Blocks that are background, and blocks that are the part, at least ``_CLEAR`` pixels from any outline: 1 or 0."""
    reach = 2 * (_CLEAR // _REDUCE + 1) + 1
    kernel = np.ones((reach, reach), np.uint8)
    outside = np.asarray(1 - cv2.dilate(coarse, kernel), np.uint8)
    return outside, np.asarray(cv2.erode(own, kernel, borderType=cv2.BORDER_REPLICATE), np.uint8)


def _unburnt(light: F32, outside: Mask) -> Mask:
    """The blocks of ``outside`` that are not burnt out: what they lack in light would be missing from the level of all.

    All of them where hardly any is left.
    """
    if light.max() < LIMITS.full_scale:
        return outside
    size = (outside.shape[1], outside.shape[0])
    burnt = np.empty(outside.shape, np.uint8)
    for row in range(0, size[1], _ROWS):
        rows = light[row * _REDUCE : min(row + _ROWS, size[1]) * _REDUCE, : size[0] * _REDUCE]
        part_rows = burnt[row : row + _ROWS]
        cv2.resize(
            cv2.inRange(rows, LIMITS.full_scale, 2.0), part_rows.shape[::-1], part_rows, interpolation=cv2.INTER_AREA
        )
    if not cv2.countNonZero(burnt):
        return outside
    share = cv2.blur(burnt.astype(np.float32), (9, 9))
    left = np.where(share > 255 * _BURNT, 0, outside).astype(np.uint8)
    return left if left.sum() > LIMITS.least_unburnt * outside.sum() else outside


def _plateaus(
    small: F32, coarse: Mask, own: Mask, outside: Mask, inside: Mask, full: tuple[int, ...]
) -> tuple[F32, F32]:
    """Light of background and part near the outline, each a smooth field over blocks."""
    size = (-(-full[1] // _COARSE), -(-full[0] // _COARSE))
    return (
        _field(small, outside, coarse == 0, size),
        _field(small, inside, own > 0, size),
    )


def _field(small: F32, where: Mask, fallback: npt.NDArray[np.bool_], size: tuple[int, int]) -> F32:
    """Light of the pixels ``where`` it is 1 on blocks of ``_COARSE`` pixels, carried on over the others."""
    counts = fallback if where.sum() < LIMITS.least_blocks else where
    step = _COARSE // _REDUCE
    share, total = np.empty(size[::-1], np.float32), np.empty(size[::-1], np.float32)
    for row in range(0, size[1], _ROWS):
        rows = min(_ROWS, size[1] - row)
        here = slice(row * step, (row + rows) * step)
        clear = counts[here].astype(np.float32)
        pad = (0, rows * step - clear.shape[0], 0, size[0] * step - clear.shape[1])
        for values, out in ((clear, share), (small[here] * clear, total)):
            padded = cv2.copyMakeBorder(values, *pad, cv2.BORDER_CONSTANT, value=0) if any(pad) else values
            cv2.resize(padded, (size[0], rows), out[row : row + rows], interpolation=cv2.INTER_AREA)
    return local_field(np.asarray(total / np.maximum(share, 1e-6), np.float32), share)
