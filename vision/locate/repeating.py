"""Where a picture of a surface repeats in one direction, as that of a thread does along its axis.

A thread moved along its axis by one pitch is the same thread: so is its picture, outline, light and shade alike,
whichever way the ridges lean. The direction in which a picture repeats is therefore that of the axis, and needs no
outline that stands out. Ridges alone do not determine it: moved along themselves they look the same. The ends of
the ridges at the outline and the shading round the part do.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace

import numpy as np
import numpy.typing as npt

from vision.locate.fast_length import fast_length
from vision.locate.limits import LIMITS
from vision.shared.opencv import cv2

Array = npt.NDArray[np.float64]
F32 = npt.NDArray[np.float32]
Bool = npt.NDArray[np.bool_]

SAMPLES = 16
"""A pitch is resampled to so many samples, along and across."""
_ALONG, _ACROSS = 12, 10  # pitches to each side of the middle that are looked at
_WINDOW = 64  # px of the windows in which gratings are looked for
LARGEST_PX = 1000  # of the longer side of the picture that is looked at: more costs time and tells nothing
_SCALE = 0.7  # from one level of the search to the next
_CYCLES = (4.5, 12.0)  # in a window of the search
_LEAST_SHARE = 0.3  # of the contrast of a window that one grating must have
_MOST = 6  # places that are followed up
_LIKE = 0.55  # correlation from which places count as repeating
_FLOOR = 2e-4  # variance (of the square root of light) below which there is nothing to be correlated
_LEAST_NCC = 0.5  # correlation that a shift by whole pitches must reach


@dataclass(frozen=True)
class Grating:
    """Where a grating was seen: position and period in px, direction across its lines in radians, share of contrast."""

    share: float
    x: float
    y: float
    period: float
    angle: float


@dataclass(frozen=True)
class Repeating:
    """A stretch that repeats along an axis.

    Attributes:
        x, y: a place on its middle, px.
        pitch: px.
        angle: direction of the axis in the picture, from x toward y, radians.
        shades: (m, n) shades without their mean over a pitch, rows across and columns along the axis, SAMPLES a pitch.
        first, last: rows of the stretch in ``shades``.
        start, pitches: its first column and its length.
        turns: (k,) by how much single repeats point elsewhere than ``angle``, radians.
        slope: of its two edges against the axis, radians.
        likeness: correlation of the stretch with itself, one pitch on.
    """

    x: float
    y: float
    pitch: float
    angle: float
    shades: F32
    first: int
    last: int
    start: int
    pitches: int
    turns: Array
    slope: float
    likeness: float


def find_repeating(light: F32, largest_px: int = LARGEST_PX) -> Iterator[Repeating]:
    """Stretches of the picture ``light`` (height, width; linear, 0..1) that repeat in one direction, best first.

    Pictures larger than ``largest_px`` are made smaller first.

    Not to be believed as a thread: rulers, knurls and gratings repeat as well.
    """
    scale = min(1.0, largest_px / max(light.shape))
    shades = np.sqrt(np.clip(light, 0, 1)).astype(np.float32)
    if scale < 1:
        size = (round(light.shape[1] * scale), round(light.shape[0] * scale))
        shades = cv2.resize(shades, size, interpolation=cv2.INTER_AREA).astype(np.float32)
    known: list[Repeating] = []
    for place in find_gratings(shades):
        if any(_covers(stretch, place) for stretch in known):
            continue
        found = [
            r for times in (1, 2) if (r := _follow(shades, replace(place, period=times * place.period))) is not None
        ]
        if not found:
            continue
        # alike flanks repeat twice a pitch, but not out to the tips of the ridges
        best = found[0]
        if len(found) > 1 and _width(found[1]) > LIMITS.same_size * _width(best):
            best = found[1]
        known.append(best)
        yield replace(best, x=best.x / scale, y=best.y / scale, pitch=best.pitch / scale)


def find_gratings(shades: F32) -> list[Grating]:
    """Places where one grating makes up much of the contrast, in windows of many sizes, best first."""
    seen: list[Grating] = []
    scale, level = 1.0, shades
    while min(level.shape) >= LIMITS.coarsest * _WINDOW:
        seen += _gratings_of_level(level, scale)
        scale *= _SCALE
        size = (int(shades.shape[1] * scale), int(shades.shape[0] * scale))
        level = cv2.resize(shades, size, interpolation=cv2.INTER_AREA).astype(np.float32)
    kept: list[Grating] = []
    for place in sorted(seen, key=lambda p: -p.share):
        if place.share < _LEAST_SHARE or len(kept) == _MOST:
            break
        if not any(_same(place, other) for other in kept):
            kept.append(place)
    return kept


def _same(a: Grating, b: Grating) -> bool:
    near = np.hypot(a.x - b.x, a.y - b.y) < LIMITS.near_periods * max(a.period, b.period)
    return bool(near and LIMITS.same_period[0] < a.period / b.period < LIMITS.same_period[1])


def _gratings_of_level(level: F32, scale: float) -> list[Grating]:
    step = pad = _WINDOW // 3
    flat = level - cv2.GaussianBlur(level, (0, 0), _WINDOW / 5, borderType=cv2.BORDER_REFLECT)
    padded = np.pad(flat, pad).astype(np.float32)
    hann = np.hanning(_WINDOW)
    window = np.outer(hann, hann).astype(np.float32)
    fy = np.fft.fftfreq(_WINDOW)[:, None] * _WINDOW
    fx = np.arange(_WINDOW // 2 + 1)[None, :].astype(float)
    radius = np.hypot(fy, fx)
    # edges have power that falls with the square of the frequency, noise has none that falls
    weight = np.where((radius >= LIMITS.lowest_wave) & (radius <= _WINDOW / 4), radius, 0).astype(np.float32)
    ring = (radius >= _CYCLES[0]) & (radius <= _CYCLES[1])
    views = np.lib.stride_tricks.sliding_window_view(padded, (_WINDOW, _WINDOW))[::step, ::step]
    out = []
    offset = _WINDOW / 2 - pad - 0.5
    for row, line in enumerate(views):
        power = np.abs(np.fft.rfft2(line * window)) ** 2
        weighted = power * weight
        total = weighted.sum(axis=(1, 2))
        tall = weighted + np.roll(weighted, 1, 1) + np.roll(weighted, -1, 1)
        peak = tall.copy()
        peak[:, :, 1:] += tall[:, :, :-1]
        peak[:, :, :-1] += tall[:, :, 1:]
        best = np.where(ring, peak, 0).reshape(len(line), -1).argmax(axis=1)
        for column in np.flatnonzero(power.sum(axis=(1, 2)) > LIMITS.least_power * _WINDOW):
            iy, ix = np.unravel_index(best[column], radius.shape)
            share = float(peak[column, iy, ix] / total[column])
            if share < _LEAST_SHARE:
                continue
            ys, xs = np.array([iy - 1, iy, iy + 1]) % _WINDOW, np.clip([ix - 1, ix, ix + 1], 0, _WINDOW // 2)
            around = power[column][np.ix_(ys, xs)]
            y = float(fy[iy, 0]) + float((around.sum(axis=1) * [-1, 0, 1]).sum() / around.sum())
            x = float(ix) + float((around.sum(axis=0) * [-1, 0, 1]).sum() / around.sum())
            out.append(
                Grating(
                    share,
                    (column * step + offset) / scale,
                    (row * step + offset) / scale,
                    _WINDOW / float(np.hypot(x, y)) / scale,
                    float(np.arctan2(y, x)),
                )
            )
    return out


def _follow(shades: F32, place: Grating) -> Repeating | None:
    """From a grating to the stretch that repeats: axis, pitch and edges, set right three times; None if it does not."""
    x, y, pitch, angle = place.x, place.y, place.period, place.angle
    middle = _ACROSS * SAMPLES
    for _ in range(3):
        sample, known = _resampled(shades, x, y, pitch, angle)
        alike = _alike(_along(sample, known), known)
        region = _region(alike)
        if region is None:
            return None
        shifts = _shifts(_flattened(sample, known), region)
        if len(shifts) == 0:
            return None
        weight = np.arange(1, len(shifts) + 1) ** 2
        shift = (shifts * weight[:, None]).sum(axis=0) / weight.sum()
        rows, columns = np.flatnonzero(region.any(axis=1)), np.flatnonzero(region.any(axis=0))
        du = (float(columns[0] + columns[-1]) / 2 - _ALONG * SAMPLES) * pitch / SAMPLES
        dw = (float(rows[0] + rows[-1]) / 2 - middle) * pitch / SAMPLES
        x, y = x + du * np.cos(angle) - dw * np.sin(angle), y + du * np.sin(angle) + dw * np.cos(angle)
        angle += float(np.arctan2(shift[1], shift[0]))
        pitch *= float(np.hypot(*shift)) / SAMPLES
        if not LIMITS.least_period < pitch < max(shades.shape):
            return None
    if len(shifts) < LIMITS.least_repeats:
        return None
    sample, known = _resampled(shades, x, y, pitch, angle)
    ripple = _along(sample, known)
    region = _region(_alike(ripple, known))
    if region is None:
        return None
    turns = np.arctan2(shifts[:, 1], shifts[:, 0]) - float(np.arctan2(shift[1], shift[0]))
    return _measured(Repeating(x, y, pitch, angle, ripple, 0, 0, 0, 0, turns, 0.0, 0.0), region)


def _measured(found: Repeating, region: Bool) -> Repeating | None:
    """Rows, columns and edges of the stretch; None if it is shorter than four pitches."""
    width = region.sum(axis=0)
    wide = np.flatnonzero(width > LIMITS.most_repeats_cut * np.percentile(width[width > 0], 80))
    pitches = int((wide[-1] - wide[0]) // SAMPLES)
    if pitches < LIMITS.least_pitches:
        return None
    start = int(wide[0] + wide[-1]) // 2 - pitches * SAMPLES // 2
    ends = start, start + pitches * SAMPLES
    edges = _edges(found.shades, *ends)
    if edges is None:
        return None
    half = pitches // 2 * SAMPLES
    near, far = _edges(found.shades, start, start + half), _edges(found.shades, ends[1] - half, ends[1])
    if near is None or far is None:
        return None
    slope = (far[0] + far[1] - near[0] - near[1]) / 2 / (ends[1] - half - start)
    rows = found.shades[edges[0] : edges[1] + 1]
    a, b = rows[:, ends[0] : ends[1] - SAMPLES], rows[:, ends[0] + SAMPLES : ends[1]]
    likeness = float(2 * (a * b).sum() / ((a * a).sum() + (b * b).sum() + 1e-12))
    return replace(found, first=edges[0], last=edges[1], start=start, pitches=pitches, slope=slope, likeness=likeness)


def _edges(ripple: F32, start: int, stop: int) -> tuple[int, int] | None:
    """First and last row whose shades repeat between two columns."""
    a, b = ripple[:, start : stop - SAMPLES], ripple[:, start + SAMPLES : stop]
    smooth = np.array([0.25, 0.5, 0.25])
    both = np.convolve((a * b).sum(axis=1), smooth, "same")
    each = np.convolve((a * a + b * b).sum(axis=1) / 2, smooth, "same")
    if not (both > 0).any():
        return None
    good = (both > 0.5 * each) & (both > LIMITS.both_known * np.percentile(both[both > 0], 80))
    rows = np.flatnonzero(good)
    if rows.size == 0:
        return None
    stretch = max(np.split(rows, np.flatnonzero(np.diff(rows) > SAMPLES // 2) + 1), key=len)
    return int(stretch[0]), int(stretch[-1])


def _covers(stretch: Repeating, place: Grating) -> bool:
    """Whether a place lies in a stretch that was found before."""
    c, s = np.cos(stretch.angle), np.sin(stretch.angle)
    dx, dy = place.x - stretch.x, place.y - stretch.y
    along, across = abs(dx * c + dy * s), abs(dy * c - dx * s)
    return bool(along < (stretch.pitches / 2 + 2) * stretch.pitch and across < _width(stretch) / 2 + 2 * place.period)


def _width(found: Repeating) -> float:
    return (found.last - found.first + 1) * found.pitch / SAMPLES


def _resampled(shades: F32, x: float, y: float, pitch: float, angle: float) -> tuple[F32, Bool]:
    """Shades round (x, y), rows across and columns along the axis, and which of them lie in the picture."""
    step = pitch / SAMPLES
    smooth = shades if step < LIMITS.smoothed_from else cv2.GaussianBlur(shades, (0, 0), 0.45 * step)
    u = np.arange(-_ALONG * SAMPLES, _ALONG * SAMPLES + 1)[None, :] * step
    w = np.arange(-_ACROSS * SAMPLES, _ACROSS * SAMPLES + 1)[:, None] * step
    c, s = np.cos(angle), np.sin(angle)
    px, py = (x + u * c - w * s).astype(np.float32), (y + u * s + w * c).astype(np.float32)
    sample = cv2.remap(smooth, px, py, cv2.INTER_LINEAR, borderMode=cv2.BORDER_REPLICATE)
    known = (px >= 0) & (px <= shades.shape[1] - 1) & (py >= 0) & (py <= shades.shape[0] - 1)
    return sample.astype(np.float32), known


def _flattened(sample: F32, known: Bool) -> F32:
    """Shades without what changes over more than a pitch, in both directions; the edges of the part stay in."""
    mask = known.astype(np.float32)
    mean = cv2.GaussianBlur(sample * mask, (0, 0), SAMPLES)
    share = np.maximum(cv2.GaussianBlur(mask, (0, 0), SAMPLES), 1e-3)
    return np.asarray((sample - mean / share) * mask, np.float32)


def _along(sample: F32, known: Bool) -> F32:
    """Shades without their mean over the pitch round each place, taken along the axis: what ridges alone make."""
    kernel = np.full((1, SAMPLES + 1), 1 / SAMPLES, np.float32)
    kernel[0, 0] = kernel[0, -1] = 0.5 / SAMPLES
    mask = known.astype(np.float32)
    mean = cv2.filter2D(sample * mask, -1, kernel, borderType=cv2.BORDER_REPLICATE)
    share = np.maximum(cv2.filter2D(mask, -1, kernel, borderType=cv2.BORDER_REPLICATE), 1e-3)
    return np.asarray((sample - mean / share) * mask, np.float32)


def _alike(ripple: F32, known: Bool) -> F32:
    """How like each place is to that one pitch on, -1 to 1."""
    n = ripple.shape[1] - SAMPLES
    both = (known[:, :n] & known[:, SAMPLES:]).astype(np.float32)
    a, b = ripple[:, :n] * both, ripple[:, SAMPLES:] * both

    def local(values: F32) -> F32:
        return np.asarray(cv2.GaussianBlur(values, (0, 0), sigmaX=SAMPLES, sigmaY=0.35 * SAMPLES), np.float32)

    alike = 2 * local(a * b) / (local(a * a) + local(b * b) + _FLOOR)
    out = np.zeros_like(ripple)
    out[:, SAMPLES // 2 : SAMPLES // 2 + n] = alike * both
    return out


def _region(alike: F32) -> Bool | None:
    """The connected places about the middle that repeat."""
    _, label = cv2.connectedComponents((alike > _LIKE).astype(np.uint8))
    middle = label[(_ACROSS - 1) * SAMPLES : (_ACROSS + 1) * SAMPLES, (_ALONG - 1) * SAMPLES : (_ALONG + 1) * SAMPLES]
    counts = np.bincount(middle[middle > 0], minlength=1)
    if counts.max(initial=0) == 0:
        return None
    return np.asarray(label == counts.argmax())


def _shifts(flat: F32, region: Bool) -> Array:
    """(k, 2) shift along and across, in samples, after which the stretch is like itself, from 1 to k pitches on.

    Each is given for one pitch. Peaks of the correlation of the stretch with itself, each part taken with its own
    energy so that the ends of the stretch do not draw them in.
    """
    grown = cv2.dilate(region.astype(np.uint8), np.ones((SAMPLES + 1, 3), np.uint8)).astype(np.float32)
    z = flat * grown
    size = [fast_length(2 * n) for n in z.shape]
    of_z, of_mask, of_energy = (np.fft.rfft2(values, size) for values in (z, grown, z * z))
    product = np.fft.irfft2(of_z * np.conj(of_z), size)
    overlap = np.fft.irfft2(of_mask * np.conj(of_mask), size)
    crossed = np.fft.irfft2(of_energy * np.conj(of_mask), size)
    energy = crossed + np.roll(crossed[::-1, ::-1], (1, 1), (0, 1))
    like = 2 * product / (energy + 1e-3)

    def at(w: npt.NDArray[np.int64], u: npt.NDArray[np.int64]) -> Array:
        return np.asarray(like[w[:, None] % size[0], u[None, :] % size[1]], np.float64)

    found: list[Array] = []
    expected = np.array([float(SAMPLES), 0.0])
    for times in range(1, 7):
        if overlap[0, times * SAMPLES % size[1]] < LIMITS.least_overlap * overlap[0, 0]:
            break
        reach = (SAMPLES // 5, int(0.45 * SAMPLES)) if times == 1 else (2, 3)
        u, w = (round(times * e) + np.arange(-r, r + 1) for e, r in zip(expected, reach, strict=True))
        iw, iu = np.unravel_index(at(w, u).argmax(), (w.size, u.size))
        peak = at(w[iw] + np.arange(-1, 2), u[iu] + np.arange(-1, 2))
        moved = _summit(peak)
        if moved is None or peak[1, 1] < _LEAST_NCC:
            break
        found.append(np.array([u[iu] + moved[0], w[iw] + moved[1]]) / times)
        weight = np.arange(1, times + 1) ** 2
        expected = (np.array(found) * weight[:, None]).sum(axis=0) / weight.sum()
    return np.array(found).reshape(-1, 2)


def _summit(peak: Array) -> tuple[float, float] | None:
    """Where, along and across, the summit of a 3 x 3 neighbourhood lies from its middle; None if it has none."""
    gx, gy = (peak[1, 2] - peak[1, 0]) / 2, (peak[2, 1] - peak[0, 1]) / 2
    xx, yy = peak[1, 2] - 2 * peak[1, 1] + peak[1, 0], peak[2, 1] - 2 * peak[1, 1] + peak[0, 1]
    xy = (peak[2, 2] + peak[0, 0] - peak[2, 0] - peak[0, 2]) / 4
    det = xx * yy - xy * xy
    if det <= 0 or xx >= 0:
        return None
    du, dw = -(yy * gx - xy * gy) / det, -(xx * gy - xy * gx) / det
    return (float(du), float(dw)) if max(abs(du), abs(dw)) <= LIMITS.most_summit else None
