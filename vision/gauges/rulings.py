"""Reading a stage micrometer: the centres of its rulings, numbered, wherever they lie and however they are turned.

The centre of a ruling is where a row of pixels that crosses it is darkest: a blur or an edge level that moves both its
edges apart leaves it where it is, so that rulings give a scale free of the edge offset. The rows are taken in strips
along the rulings; in each strip the centres are found, and numbered by walking from one to its neighbour, so that
missing rulings, dust and slowly changing spacing do no harm.

Long, middle and short rulings show as strips of different spacing. Where the finest divisions are too fine to be told
apart they are a grey band; their number between two rulings is then read off the spectrum of the band, or taken from
the way rulers are divided (every tenth line long, every fifth of middle length: common practice, no source).
"""

from __future__ import annotations

from dataclasses import dataclass
from itertools import pairwise

import numpy as np
import numpy.typing as npt

from threads.shared.refusal import RefusalError
from vision.gauges.limits import LIMITS
from vision.outline.light_field import surface
from vision.pictures.picture import Picture
from vision.shared.opencv import cv2
from vision.shared.robust import inliers

Array = npt.NDArray[np.float64]
Ints = npt.NDArray[np.int64]

_SMOOTH_PX = 1.0  # less noise, and the middle of a ruling stays where it is
_STRIP_PX = 8  # along the rulings: the centres in it are taken together
_GROUND_PX = 25  # across the gaps between rulings
_GROUND_CUT = 3.0  # scales: between bands and ground lies a gap, and a surface takes each block or leaves it
_FILLED = 0.6  # part of a strip's rows in which a ruling must be seen
_LEAST_LINES = 5  # fewer tell no spacing
_LEAST_SPACING_PX = 3.0  # finer ones melt into a band
_SEARCHED = (np.radians(np.arange(-30, 30.1, 0.25)), np.radians(np.arange(-0.5, 0.51, 0.05)))  # coarse, then fine
_CLEAR_SPECTRUM = 2.0  # how far a spectral line must stand above its neighbours
_SUBDIVISIONS = (2, 4, 5, 10)  # of the divisions that are told apart: common practice, no source
_FARTHEST_BAND_PX = 400  # how far beside the rulings that are told apart finer ones are looked for


@dataclass(frozen=True)
class RulingsReading:
    """The rulings as read from a picture.

    Attributes:
        points: (n, 2) centres of rulings as seen, px, one a strip of 8 px.
        line: (n,) number of the ruling that each point is on, counted in divisions.
        spacing_px: mean distance of neighbouring divisions, px.
        angle_deg: direction across the rulings, from picture x toward picture y.
        lines: how many rulings were found.
        told_by: how the divisions were counted: "lines" one by one, "spectrum" of a grey band, or "custom" of rulers.
        width_px, height_px: size of the picture.
    """

    points: Array
    line: Ints
    spacing_px: float
    angle_deg: float
    lines: int
    told_by: str
    width_px: int
    height_px: int


@dataclass(frozen=True)
class _Strip:
    """Centres in one strip: across (n,) and along, px, and their numbers once known; spacing is NaN where irregular."""

    across: Array
    along: float
    spacing: float
    number: Ints


def read_rulings(picture: Picture) -> RulingsReading:
    """Find and number the rulings of the stage micrometer in ``picture``.

    Raises RefusalError: no_rulings, rulings_too_fine.
    """
    dark = _darkness(picture.light)
    direction = _across(dark)
    try:
        return _read(picture, dark, direction)
    except RefusalError as first:
        if first.reasons[0].code != "no_rulings":
            raise
    # the long sides of a grey band may be stronger than the few rulings that stand out of it
    return _read(picture, dark, direction + np.pi / 2)


def _read(picture: Picture, dark: Array, direction: float) -> RulingsReading:
    """The rulings that are crossed about along ``direction``, radians."""
    upright = abs(np.cos(direction)) >= abs(np.sin(direction))
    if not upright:  # rows of pixels must cross the rulings
        dark, direction = np.ascontiguousarray(dark.T), np.pi / 2 - direction
    direction = (direction + np.pi / 2) % np.pi - np.pi / 2
    points = _darkest(dark)
    if points.shape[0] < _LEAST_LINES * _STRIP_PX:
        raise _none()
    direction = _sharpest(points, direction)
    numbered, spacing = _number(_strips(points, direction))
    across = np.concatenate([s.across for s in numbered])
    along = np.concatenate([np.full(s.across.size, s.along) for s in numbered])
    number = np.concatenate([s.number for s in numbered])
    count, told_by = _divisions(dark, direction, numbered, spacing)
    found = _unturned(across, along, direction)
    angle = direction if upright else np.pi / 2 - direction
    return RulingsReading(
        points=found if upright else np.ascontiguousarray(found[:, ::-1]),
        line=number * count,
        spacing_px=spacing / count,
        angle_deg=float(np.degrees(angle)),
        lines=int(np.unique(number).size),
        told_by=told_by,
        width_px=picture.width_px,
        height_px=picture.height_px,
    )


def _none() -> RefusalError:
    return RefusalError("no_rulings")


def _darkness(light: npt.NDArray[np.float32]) -> Array:
    """How much darker than the ground each pixel is (fraction of it), smoothed; bright rulings are turned dark."""
    smooth = np.asarray(cv2.GaussianBlur(light, (0, 0), _SMOOTH_PX), np.float32)
    fine = smooth - cv2.GaussianBlur(smooth, (0, 0), 10.0)
    if float(np.mean(fine.astype(np.float64) ** 3)) > 0:  # lines are narrow: they are the rarer shade
        smooth = 1 - smooth
    # the ground is what is brightest near by, or a smooth surface where a grey band is wider than that
    brightest = cv2.dilate(smooth, np.ones((_GROUND_PX, _GROUND_PX), np.uint8))
    small = np.asarray(cv2.resize(brightest, None, fx=0.125, fy=0.125, interpolation=cv2.INTER_AREA), np.float32)
    weight = np.ones(small.shape, np.float32)
    for _ in range(4):
        ground = surface(small, weight)
        weight = inliers(small - ground, _GROUND_CUT, 1e-4).astype(np.float32)
    full = cv2.resize(ground, (light.shape[1], light.shape[0]), interpolation=cv2.INTER_LINEAR)
    return np.asarray(1 - smooth / np.maximum(full, 0.02), np.float64)


def _across(dark: Array) -> float:
    """Direction across the rulings, radians, from the gradients that are strong."""
    gx, gy = cv2.Sobel(dark, cv2.CV_64F, 1, 0), cv2.Sobel(dark, cv2.CV_64F, 0, 1)
    xx, yy, xy = float(np.sum(gx * gx)), float(np.sum(gy * gy)), float(np.sum(gx * gy))
    return 0.5 * float(np.arctan2(2 * xy, xx - yy))


def _darkest(dark: Array) -> Array:
    """(n, 2) positions where rows of pixels are darkest, sub-pixel along the row, the faint ones left out."""
    middle = dark[:, 3:-3]
    peak = (middle > dark[:, 2:-4]) & (middle >= dark[:, 4:-2])
    curve = 2 * middle - dark[:, 2:-4] - dark[:, 4:-2]
    if not peak.any():
        return np.zeros((0, 2))
    peak &= curve > max(LIMITS.curved[0] * float(np.median(curve[peak])), LIMITS.curved[1])
    rows, columns = np.nonzero(peak)
    samples = np.stack([dark[rows, columns + 3 + j] for j in range(-3, 4)], axis=1)
    return np.stack([columns + 3 + _top(samples), rows.astype(np.float64)], axis=1)


def _sextic_slopes() -> Array:
    """(7, 6) that turn samples at -3..3 into the slope's coefficients, lowest power first."""
    powers = np.linalg.inv(np.vander(np.arange(-3.0, 4.0), 7, increasing=True))
    return np.asarray((powers[1:] * np.arange(1.0, 7.0)[:, None]).T)


_SLOPES = _sextic_slopes()


def _top(samples: Array) -> Array:
    """Where (-0.6..0.6) the polynomial through seven samples at -3..3 has its top: a zero of its slope."""
    c = samples @ _SLOPES
    x = np.zeros(c.shape[0])
    for _ in range(6):
        value, rate = c[:, 5], np.zeros(x.size)
        for power in range(4, -1, -1):
            rate = rate * x + value
            value = value * x + c[:, power]
        x = np.clip(x - value / np.where(rate > -1e-9, -1e-9, rate), -0.6, 0.6)
    return np.asarray(x)


def _turned(points: Array, direction: float) -> tuple[Array, Array]:
    """Coordinates across and along the rulings of (n, 2) points."""
    c, s = np.cos(direction), np.sin(direction)
    return c * points[:, 0] + s * points[:, 1], c * points[:, 1] - s * points[:, 0]


def _unturned(across: Array, along: Array, direction: float) -> Array:
    c, s = np.cos(direction), np.sin(direction)
    return np.stack([c * across - s * along, s * across + c * along], axis=1)


def _sharpest(points: Array, direction: float) -> float:
    """The direction near ``direction`` across which the points lie on the narrowest lines."""
    for turns, cells_a_px in zip(_SEARCHED, (1, 2), strict=True):
        best = (-1.0, direction)
        for turn in turns:
            across, _ = _turned(points, direction + turn)
            cells = np.bincount(np.rint(cells_a_px * (across - across.min())).astype(np.int64)).astype(np.float64)
            best = max(best, (float(np.sum(cells**2)), float(direction + turn)))
        direction = best[1]
    return direction


def _strips(points: Array, direction: float) -> list[_Strip]:
    """The points gathered into strips along the rulings and, in each, into centres."""
    across, along = _turned(points, direction)
    cell = np.floor((along - along.min()) / _STRIP_PX).astype(np.int64)
    strips = []
    for i in range(int(cell.max()) + 1):
        on = np.flatnonzero(cell == i)
        if on.size < _LEAST_LINES * _FILLED * _STRIP_PX:
            continue
        a = np.sort(across[on])
        first = np.concatenate([[0], np.flatnonzero(np.diff(a) > LIMITS.same_ruling) + 1, [a.size]])
        groups = [a[i:j] for i, j in pairwise(first)]
        # a row crosses a ruling once, whatever its slant: the rows per strip are fewer the more it is turned
        rows = _STRIP_PX * np.cos(direction)
        kept = [g for g in groups if g.size >= _FILLED * rows and np.ptp(g) < LIMITS.straight_ruling]
        centres = np.array([np.median(g) if g.size < LIMITS.least_rows else _middle(g) for g in kept])
        if centres.size >= _LEAST_LINES:
            level = float(along.min()) + (i + 0.5) * _STRIP_PX
            strips.append(_Strip(centres, level, _regular(centres), np.zeros(centres.size, np.int64)))
    return strips


def _middle(values: Array) -> float:
    """Mean without the farthest quarter."""
    off = np.abs(values - np.median(values))
    return float(values[off <= np.quantile(off, LIMITS.spacing_share)].mean())


def _regular(centres: Array) -> float:
    """The spacing of centres of which most follow each other at one distance, NaN where they do not."""
    steps = np.diff(centres)
    spacing = float(np.median(steps))
    even = np.abs(steps - spacing) < LIMITS.even_spacing[0] * spacing
    return spacing if even.mean() > LIMITS.even_spacing[1] and spacing >= _LEAST_SPACING_PX else float("nan")


def _number(strips: list[_Strip]) -> tuple[list[_Strip], float]:
    """The regular strips with their rulings numbered alike, and the spacing that one step of the number stands for."""
    regular = [s for s in strips if np.isfinite(s.spacing)]
    if not regular:
        raise _none()
    finest = min(s.spacing for s in regular)
    fine = [s for s in regular if s.spacing < LIMITS.finest * finest]
    start = max(fine, key=lambda s: s.across.size)
    spacing = start.spacing
    done = [_walked(start)]
    if done[0].across.size < _LEAST_LINES:
        raise _none()
    rest = sorted((s for s in regular if s is not start), key=lambda s: abs(s.along - start.along))
    for strip in rest:
        nearest = min(done, key=lambda s: abs(s.along - strip.along))
        joined = _joined(strip, nearest, spacing)
        if joined is not None:
            done.append(joined)
    done = _seen_twice(sorted(done, key=lambda s: s.along))
    ends = [(s.across[-1] - s.across[0]) / (s.number[-1] - s.number[0]) for s in done if s.number[-1] > s.number[0]]
    return done, float(np.median(ends))


def _seen_twice(strips: list[_Strip]) -> list[_Strip]:
    """Without what is seen in one strip only, and is dust, where there are several strips."""
    numbers, seen = np.unique(np.concatenate([s.number for s in strips]), return_counts=True)
    lines = numbers[seen >= min(2, len(strips))]
    kept = [(s, np.isin(s.number, lines)) for s in strips]
    if lines.size < _LEAST_LINES:
        raise _none()
    return [_Strip(s.across[on], s.along, s.spacing, s.number[on]) for s, on in kept if on.any()]


def _walked(strip: _Strip) -> _Strip:
    """Number the centres of one strip from its middle outward, each step predicted from the few before it."""
    centres = strip.across
    middle = int(np.argmin(np.abs(centres - np.median(centres))))
    kept, number = [middle], [0]
    for way in (1, -1):
        spacing, at, k = strip.spacing, float(centres[middle]), 0
        recent = [(0, at)]
        i = middle + way
        while 0 <= i < centres.size:
            step = way * (centres[i] - at) / spacing
            whole = int(np.rint(step))
            most, none, each = LIMITS.whole_steps
            if whole >= 1 and abs(step - whole) < min(most, none + each * whole):
                k += way * whole
                at = float(centres[i])
                kept.append(i)
                number.append(k)
                recent = [*recent[-11:], (k, at)]
                if len(recent) >= LIMITS.recent_steps:
                    ks, xs = np.array([r[0] for r in recent], float), np.array([r[1] for r in recent])
                    spacing = float(np.clip(np.polyfit(ks, xs, 1)[0], 0.9 * strip.spacing, 1.1 * strip.spacing))
            i += way
    order = np.argsort(kept)
    return _Strip(centres[np.array(kept)[order]], strip.along, strip.spacing, np.array(number, np.int64)[order])


def _joined(strip: _Strip, known: _Strip, spacing: float) -> _Strip | None:
    """Number the centres of ``strip`` by those of a strip that is ``known``; None where they do not match."""
    place = np.interp(strip.across, known.across, known.number.astype(np.float64))
    outside = (strip.across < known.across[0]) | (strip.across > known.across[-1])
    ahead = np.where(strip.across < known.across[0], strip.across - known.across[0], strip.across - known.across[-1])
    place = np.where(outside, place + ahead / spacing, place)
    number = np.rint(place).astype(np.int64)
    fits = np.abs(place - number) < LIMITS.on_number[0]
    if fits.sum() < _LEAST_LINES or fits.mean() < LIMITS.on_number[1]:
        return None
    return _Strip(strip.across[fits], strip.along, strip.spacing, number[fits])


def _divisions(dark: Array, direction: float, strips: list[_Strip], spacing: float) -> tuple[int, str]:
    """How many divisions one step of the number stands for, and how that was found.

    Raises RefusalError rulings_too_fine where there are finer divisions that cannot be counted.
    """
    band = _grey_band(dark, direction, strips, spacing)
    if band is None:
        return 1, "lines"
    place, value = band
    strength = np.array([abs(np.mean(value * np.exp(2j * np.pi * n * place))) for n in range(25)])
    noise = float(np.median(strength[15:]))
    # the rulings that stand out of the band give all harmonics, ever weaker; the divisions one that exceeds its sides
    clear = [(strength[n] / max(strength[n - 1], strength[n + 1], 5 * noise, 1e-9), n) for n in _SUBDIVISIONS]
    ratio, count = max(clear)
    if ratio > _CLEAR_SPECTRUM:
        return count, "spectrum"
    coarse = [s.spacing for s in strips if s.spacing > LIMITS.coarse * spacing]
    if coarse and abs(float(np.median(coarse)) / spacing - 2) < LIMITS.twice:
        return 5, "custom"
    raise RefusalError("rulings_too_fine", spacing_px=spacing)


def _grey_band(dark: Array, direction: float, strips: list[_Strip], spacing: float) -> tuple[Array, Array] | None:
    """Pixels where it is grey between the numbered rulings: their place in steps, and their darkness.

    None where there is no such band: then nothing finer than the numbered rulings was engraved.
    """
    fine = [s for s in strips if s.spacing < LIMITS.finest * spacing]
    best = max(fine, key=lambda s: s.across.size)
    level = np.array([s.along for s in fine])
    reference, lines = _gap_darkness(dark, direction, best, level)
    first, last = strips[0].along - _FARTHEST_BAND_PX, strips[-1].along + _FARTHEST_BAND_PX
    grey = []
    for at in np.arange(first, last, _STRIP_PX / 2):
        if np.min(np.abs(level - at)) > _STRIP_PX:
            between, _ = _gap_darkness(dark, direction, best, np.array([at]))
            if between - reference > max(LIMITS.grey_band[0] * lines, LIMITS.grey_band[1]):
                grey.append(at)
    if len(grey) < LIMITS.least_grey:
        return None
    across = np.arange(best.across[0], best.across[-1], 0.31)
    place = np.interp(across, best.across, best.number.astype(np.float64))
    rows = [_sampled(dark, _unturned(across, np.full(across.size, at), direction)) for at in grey[:40]]
    values = np.concatenate([row - np.nanmean(row) for row in rows])
    inside = np.isfinite(values)
    return np.tile(place, len(rows))[inside], values[inside]


def _gap_darkness(dark: Array, direction: float, strip: _Strip, levels: Array) -> tuple[float, float]:
    """Median darkness midway between neighbouring rulings of ``strip``, and on them, at some levels along them.

    NaN where most of that is outside the picture.
    """
    gaps = ((strip.across[1:] + strip.across[:-1]) / 2)[np.diff(strip.number) == 1]
    middle = []
    for across in (gaps, strip.across):
        points = _unturned(np.tile(across, levels.size), np.repeat(levels, across.size), direction)
        seen = _sampled(dark, points)
        inside = np.isfinite(seen)
        middle.append(float(np.median(seen[inside])) if inside.mean() > 0.5 else float("nan"))
    return middle[0], middle[1]


def _sampled(dark: Array, points: Array) -> Array:
    from scipy.ndimage import map_coordinates

    at = [points[:, 1], points[:, 0]]
    return np.asarray(map_coordinates(dark, at, order=1, mode="constant", cval=np.nan), np.float64)
