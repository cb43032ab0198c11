"""Where on the part the thread is: axis, pitch and threaded length from the outline alone.

The slope of an outline along the axis, cut off at what a flank can have, is a strong wave of one period a pitch on a
thread, nothing on a shank and a spike on a shoulder. Its spectrum gives the pitch without any hint; its local amplitude
(complex demodulation at that frequency) gives the threaded length.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from vision.frame import Frame
from vision.refusal import RefusalError

Array = npt.NDArray[np.float64]

MIN_THREADS = 3.0
MIN_PITCH_PX = 14.0
_SLOPE_LIMIT = 2.5  # a flank at 22 deg from the normal of the axis; anything steeper is a shoulder or dirt


@dataclass(frozen=True)
class ThreadedLength:
    """What the outline says before any fit (all lengths in px).

    Attributes:
        frame: origin on the axis in the middle of the threaded length, u along the axis.
        start, end: threaded length along u.
        pitch: period along u.
        phase: u of a ridge centre on the upper edge.
        offset: w of the axis.
        crest, pitch_radius, root: heights above the axis.
        slope_up, slope_down: steepness of the rising and the falling flanks.
        regularity: 0..1, how well the wave keeps its phase.
        lower_shift: phase of the lower edge against the upper one, in pitches (0.5 for a single start).
    """

    frame: Frame
    start: float
    end: float
    pitch: float
    phase: float
    offset: float
    crest: float
    pitch_radius: float
    root: float
    slope_up: float
    slope_down: float
    regularity: float
    lower_shift: float

    @property
    def threads(self) -> float:
        """Threads in view."""
        return (self.end - self.start) / self.pitch


@dataclass(frozen=True)
class _Wave:
    pitch: float
    score: float
    start: float
    end: float
    local: Array  # complex local amplitude, upper
    local_low: Array
    u0: float


def find_threaded_length(points: Array, mask_angle: float) -> ThreadedLength:
    """Axis, pitch and threaded length from outline points.

    Args:
        points: (n, 2) edge points in px, lens distortion taken out, in order along the outline.
        mask_angle: direction of the long axis of the mask, radians.

    Raises RefusalError: no_thread, too_few_threads, too_coarse.
    """
    best: tuple[float, Frame, _Wave] | None = None
    for angle in (mask_angle, mask_angle + np.pi / 2):
        found = _along(points, angle)
        if found is not None and (best is None or found[1].score > best[0]):
            best = (found[1].score, found[0], found[1])
    if best is None:
        raise RefusalError("no_thread", "No thread in view: a plain outline, nothing in it repeats along the axis.")
    _, frame, wave = best
    for _ in range(3):
        frame = _straighten(points, frame, wave)
        again = _wave(points, frame)
        if again is None:
            break
        wave = again
    return _describe(points, frame, wave)


def mask_direction(mask: npt.NDArray[np.uint8]) -> float:
    """Direction of the long axis of the mask, radians."""
    ys, xs = np.nonzero(mask)
    x, y = xs - xs.mean(), ys - ys.mean()
    return float(0.5 * np.arctan2(2 * (x * y).mean(), (x * x).mean() - (y * y).mean()))


def edges_along(points: Array, frame: Frame) -> tuple[Array, Array, Array]:
    """Upper and lower outline along u, one sample a px: u (m,), upper w (m,), lower w (m,); NaN where missing.

    The outermost point counts where the outline folds back.
    """
    uw = frame.to_frame(points)
    middle = (np.quantile(uw[:, 1], 0.02) + np.quantile(uw[:, 1], 0.98)) / 2
    u0 = float(np.floor(uw[:, 0].min()))
    m = int(np.ceil(uw[:, 0].max()) - u0) + 1
    cell = np.clip(np.rint(uw[:, 0] - u0).astype(int), 0, m - 1)
    upper = np.full(m, -np.inf)
    lower = np.full(m, np.inf)
    high = uw[:, 1] > middle
    np.maximum.at(upper, cell[high], uw[high, 1])
    np.minimum.at(lower, cell[~high], uw[~high, 1])
    upper[~np.isfinite(upper)] = np.nan
    lower[~np.isfinite(lower)] = np.nan
    return np.asarray(u0 + np.arange(m), np.float64), _bridge(upper), _bridge(lower)


def _bridge(y: Array, longest: int = 6) -> Array:
    """Fill gaps of a few samples (steep flanks leave some columns empty)."""
    ok = np.isfinite(y)
    if ok.sum() < 2:
        return y
    i = np.arange(y.size)
    filled = np.interp(i, i[ok], y[ok], left=np.nan, right=np.nan)
    # how far is the next known sample on either side
    last = np.maximum.accumulate(np.where(ok, i, -(10**9)))
    following = np.minimum.accumulate(np.where(ok, i, 10**9)[::-1])[::-1]
    filled[(following - last) > longest + 1] = np.nan
    filled[ok] = y[ok]
    return np.asarray(filled)


def _slope(y: Array) -> Array:
    """Slope over +-2 px, cut off at the steepest flank there is; 0 where the outline is missing."""
    s = np.zeros(y.size)
    s[2:-2] = (y[4:] - y[:-4]) / 4
    s = np.where(np.isfinite(s), s, 0.0)
    # a step (shoulder, end) is no flank: what is far too steep counts as nothing
    return np.where(np.abs(s) > 2 * _SLOPE_LIMIT, 0.0, np.clip(s, -_SLOPE_LIMIT, _SLOPE_LIMIT))


def _along(points: Array, angle: float) -> tuple[Frame, _Wave] | None:
    origin = points.mean(axis=0)
    frame = Frame((float(origin[0]), float(origin[1])), angle)
    wave = _wave(points, frame)
    return None if wave is None else (frame, wave)


def _wave(points: Array, frame: Frame) -> _Wave | None:
    """The strongest period of the outline along u, and where it holds."""
    u, upper, lower = edges_along(points, frame)
    if u.size < 60:
        return None
    up, low = _slope(upper), -_slope(lower)
    size = 1 << int(np.ceil(np.log2(4 * u.size)))
    power = np.abs(np.fft.rfft(up, size)) ** 2 + np.abs(np.fft.rfft(low, size)) ** 2
    freq = np.fft.rfftfreq(size)
    longest = u.size / 2.2
    allowed = (freq > 1 / longest) & (freq < 1 / 6.0)
    if not allowed.any() or power[allowed].max() <= 0:
        return None
    best: _Wave | None = None
    spectrum = np.where(allowed, power, 0.0)
    width = max(int(np.ceil(size / u.size)), 1)
    for _ in range(3):
        peak = int(np.argmax(spectrum))
        if spectrum[peak] <= 0:
            break
        candidate = _zone(u, up, low, 1 / freq[peak])
        if candidate is not None and (best is None or candidate.score > best.score):
            best = candidate
        spectrum[max(peak - 2 * width, 0) : peak + 2 * width + 1] = 0.0
    return best


def _demodulate(u: Array, s: Array, pitch: float) -> Array:
    """Complex amplitude of the wave of period ``pitch`` in a Gaussian window of 0.6 pitch."""
    sigma = 0.6 * pitch
    reach = int(np.ceil(3 * sigma))
    window = np.exp(-0.5 * (np.arange(-reach, reach + 1) / sigma) ** 2)
    window /= window.sum()
    carrier = s * np.exp(-2j * np.pi * u / pitch)
    n = carrier.size + window.size - 1
    size = 1 << int(np.ceil(np.log2(n)))
    full = np.fft.ifft(np.fft.fft(carrier, size) * np.fft.fft(window, size))
    return np.asarray(full[reach : reach + carrier.size])


def _zone(u: Array, up: Array, low: Array, pitch: float) -> _Wave | None:
    for _ in range(2):
        a, b = _demodulate(u, up, pitch), _demodulate(u, low, pitch)
        strength = np.sqrt((np.abs(a) ** 2 + np.abs(b) ** 2) / 2)
        strongest = float(np.quantile(strength, 0.98))
        if strongest < 0.12:
            return None
        run = _longest_run(strength > 0.6 * strongest)
        i, j = run
        if j - i < 1.5 * pitch:
            return None
        # refine the pitch by how the phase runs on
        turn = np.unwrap(np.angle(a[i:j])), np.unwrap(np.angle(b[i:j]))
        x = u[i:j]
        rate = sum(float(np.polyfit(x, t, 1)[0]) for t in turn) / 2
        new = 1 / (1 / pitch + rate / (2 * np.pi))
        if not 0.5 * pitch < new < 2 * pitch:
            return None
        pitch = new
    a, b = _demodulate(u, up, pitch), _demodulate(u, low, pitch)
    coherent = (abs(a[i:j].sum()) + abs(b[i:j].sum())) / (np.abs(a[i:j]).sum() + np.abs(b[i:j]).sum())
    # how much of all slope in the run belongs to the wave and its third harmonic
    within = float((up[i:j] ** 2).mean() + (low[i:j] ** 2).mean())
    explained = 2 * float((np.abs(a[i:j]) ** 2).mean() + (np.abs(b[i:j]) ** 2).mean()) / max(within, 1e-9)
    score = strongest * coherent * min(explained, 1.0) * (j - i)
    return _Wave(float(pitch), float(score), float(u[i]), float(u[j - 1]), a, b, float(u[0]))


def _longest_run(on: npt.NDArray[np.bool_]) -> tuple[int, int]:
    edge = np.diff(np.concatenate([[0], on.astype(np.int8), [0]]))
    starts, ends = np.flatnonzero(edge == 1), np.flatnonzero(edge == -1)
    if not starts.size:
        return 0, 0
    i = int(np.argmax(ends - starts))
    return int(starts[i]), int(ends[i])


def _straighten(points: Array, frame: Frame, wave: _Wave) -> Frame:
    """Turn and shift the frame onto the axis: the midline of both edges, averaged over whole pitches."""
    u, upper, lower = edges_along(points, frame)
    inside = (u >= wave.start) & (u <= wave.end)
    middle = (upper + lower) / 2
    ok = inside & np.isfinite(middle)
    if ok.sum() < 10:
        return frame
    x, y = u[ok], middle[ok]
    # the midline of a thread repeats with the pitch: fit line and wave together so that the ends do not lean on it
    c, s = np.cos(2 * np.pi * x / wave.pitch), np.sin(2 * np.pi * x / wave.pitch)
    design = np.stack([np.ones_like(x), x, c, s, c * c - s * s, 2 * s * c], axis=1)
    weight = np.ones_like(x)
    for _ in range(4):
        coef, *_ = np.linalg.lstsq(design * weight[:, None], y * weight, rcond=None)
        miss = y - design @ coef
        scale = 1.4826 * np.median(np.abs(miss)) + 1e-3
        weight = np.sqrt(1 / (1 + (miss / (2.5 * scale)) ** 2))
    centre = (wave.start + wave.end) / 2
    origin = frame.to_picture(np.array([[centre, coef[0] + coef[1] * centre]]))[0]
    # w points up while angles turn clockwise on the screen
    return Frame((float(origin[0]), float(origin[1])), frame.angle - float(np.arctan(coef[1])))


def _describe(points: Array, frame: Frame, wave: _Wave) -> ThreadedLength:
    u, upper, lower = edges_along(points, frame)
    inside = (u >= wave.start) & (u <= wave.end)
    pitch = wave.pitch
    i, j = int(np.flatnonzero(inside)[0]), int(np.flatnonzero(inside)[-1]) + 1
    mean_up, mean_low = wave.local[i:j].sum(), wave.local_low[i:j].sum()
    coherent = (abs(mean_up) + abs(mean_low)) / (np.abs(wave.local[i:j]).sum() + np.abs(wave.local_low[i:j]).sum())
    shift = float(np.angle(mean_low / mean_up) / (-2 * np.pi) % 1.0)
    if pitch < MIN_PITCH_PX:
        raise RefusalError(
            "too_coarse",
            f"A thread spans only {pitch:.0f} pixels: come closer, at least {MIN_PITCH_PX:.0f} and better 60 "
            "pixels a thread are needed.",
        )
    threads = (wave.end - wave.start) / pitch
    if threads < MIN_THREADS:
        raise RefusalError(
            "too_few_threads",
            f"Only {threads:.1f} threads in view: at least {MIN_THREADS:.0f} and better 6 are needed; show more "
            "of the thread.",
        )
    if coherent < 0.8:
        raise RefusalError(
            "no_thread", "No thread in view: the outline is rough but does not repeat evenly along an axis."
        )
    # the slope wave of a ridge is +,0,-,0 round its centre: its fundamental has the phase of -sin
    phase = float((np.angle(mean_up) - np.pi / 2) / (-2 * np.pi) * pitch)
    whole = np.floor((wave.end - wave.start) / pitch) * pitch
    middle = (wave.start + wave.end) / 2
    level = (u > middle - whole / 2) & (u < middle + whole / 2)
    top, bottom = upper[level], lower[level]
    top, bottom = top[np.isfinite(top)], bottom[np.isfinite(bottom)]
    mid_top, mid_low = float(np.median(top)), float(np.median(bottom))
    offset = (mid_top + mid_low) / 2
    heights = np.concatenate([top - offset, offset - bottom])
    pitch_radius = float(np.median(heights))
    crest, root = float(np.quantile(heights, 0.95)), float(np.quantile(heights, 0.05))
    if crest - root < 0.15 * pitch or crest - root < 4:
        raise RefusalError(
            "no_thread", "No thread in view: what repeats along the outline is too shallow for a thread."
        )
    slope_top = (upper[4:] - upper[:-4]) / 4
    slope_low = -(lower[4:] - lower[:-4]) / 4
    h = np.concatenate([upper[2:-2] - offset, offset - lower[2:-2]])
    s = np.concatenate([slope_top, slope_low])
    near = np.concatenate([level[2:-2], level[2:-2]]) & np.isfinite(s) & np.isfinite(h)
    near &= np.abs(h - pitch_radius) < 0.3 * (crest - root)
    rising, falling = s[near & (s > 0.3)], -s[near & (s < -0.3)]
    slope_up = float(np.median(rising)) if rising.size else 1.7
    slope_down = float(np.median(falling)) if falling.size else 1.7
    return ThreadedLength(
        frame,
        wave.start,
        wave.end,
        pitch,
        phase,
        offset,
        crest,
        pitch_radius,
        root,
        slope_up,
        slope_down,
        float(coherent),
        shift,
    )
