"""Where on the part the thread is: axis, pitch and threaded length from the outline alone.

Both ways that a part can lie are tried; the one along which the outline repeats more strongly is its axis.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from threads.shared.refusal import RefusalError
from vision.locate.frame import Frame
from vision.locate.limits import LIMITS
from vision.locate.periodicity import Wave, in_step, mean_amplitude, strongest_wave, wave_of_period
from vision.shared.opencv import cv2
from vision.shared.robust import GEMAN_MCCLURE, fit_linear, median

Array = npt.NDArray[np.float64]
Lines = tuple[Array, Array, Array]
"""What ``edges_along`` gives: u, upper and lower outline."""

MIN_THREADS = 2.0  # whole ones in view: fewer tell neither pitch nor axis
_MIN_SEEN = 1.5  # of which the outline's wave, before any fit, may show so many
MIN_PITCH_PX = 14.0  # of a thread: a finer one has no flank between the blurs of its corners
_STEEPEST_UP = np.radians(80.0)  # u of a part that stands runs down, not up
_STRAIGHT_PX = 0.05  # for each pitch: a frame that turns by less is near the axis; the fit turns the rest


@dataclass(frozen=True)
class ThreadedLength:
    """The threaded length as estimated from the outline, before any fit (all lengths in px).

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
class _Outline:
    """Points of the outline with the direction they face: (n, 2) each; ``normal`` is None if unknown."""

    points: Array
    normal: Array | None

    def edges(self, frame: Frame) -> Lines:
        return edges_along(self.points, frame, self.normal)


def find_threaded_length(points: Array, mask_angle: float, normal: Array | None = None) -> ThreadedLength:
    """Axis, pitch and threaded length from outline points.

    Args:
        points: (n, 2) edge points in px, lens distortion taken out.
        mask_angle: direction of the long axis of the mask, radians.
        normal: (n, 2) outward normals of the edge; they tell the two edges apart, else the middle between them does.

    Raises RefusalError: no_thread, not_a_thread, cut_off, too_few_threads, too_coarse.
    """
    outline = _Outline(points, normal)
    best: tuple[Frame, Lines, Wave] | None = None
    # a short screw with a large head is longest across its axis
    for direction in (mask_angle, mask_angle + np.pi / 2, *([] if normal is None else [_along_edges(normal)])):
        # u runs to the right or, on a part that stands, down: clear of where one turns into the other
        angle = (direction + np.pi / 3) % np.pi - np.pi / 3
        found = _along(outline, angle)
        if found is not None and (best is None or found[-1].score > best[-1].score):
            best = found
        if best is not None and best[-1].is_clear:
            break
    if best is None:
        raise RefusalError("no_thread.plain")
    frame, lines, wave = best
    for _ in range(3):
        straight = _straighten(lines, frame, wave)
        if straight == frame:
            break
        straight_lines = outline.edges(straight)
        again = wave_of_period(*straight_lines, wave.pitch)
        if again is None:
            break
        turned = abs(straight.angle - frame.angle) * wave.pitch
        frame, lines, wave = straight, straight_lines, again
        if turned < _STRAIGHT_PX:
            break
    return _describe(lines, frame, wave)


def _along_edges(normal: Array) -> float:
    """Direction along which most of the outline runs, radians: of a short part cut by the border the mask says less."""
    x, y = normal[:, 0], normal[:, 1]
    return float(0.5 * np.arctan2(np.sum(2 * x * y), np.sum(x * x - y * y)) + np.pi / 2)


def mask_direction(mask: npt.NDArray[np.uint8]) -> float:
    """Direction of the long axis of the mask, radians."""
    moments = cv2.moments(mask, binaryImage=True)
    return float(0.5 * np.arctan2(2 * moments["mu11"], moments["mu20"] - moments["mu02"]))


def edges_along(points: Array, frame: Frame, normal: Array | None = None) -> tuple[Array, Array, Array]:
    """Upper and lower outline as functions of u, one sample a px: u, upper w, lower w, each (m,), NaN
    where missing.

    The outermost point counts where the outline folds back. ``normal`` (n, 2) as in find_threaded_length.
    """
    uw = frame.to_frame(points)
    u0 = float(np.floor(uw[:, 0].min()))
    m = int(np.ceil(uw[:, 0].max()) - u0) + 1
    cell = np.clip(np.rint(uw[:, 0] - u0).astype(int), 0, m - 1)
    upper = np.full(m, -np.inf)
    lower = np.full(m, np.inf)
    if normal is None:
        high = uw[:, 1] > float(np.quantile(uw[:, 1], (LIMITS.edge_quantile, 1 - LIMITS.edge_quantile)).mean())
    else:
        high = np.sin(frame.angle) * normal[:, 0] - np.cos(frame.angle) * normal[:, 1] > 0
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


def _along(outline: _Outline, angle: float) -> tuple[Frame, Lines, Wave] | None:
    origin = outline.points.mean(axis=0)
    # u points to the right or, on an upright part, down
    angle = (angle + _STEEPEST_UP) % np.pi - _STEEPEST_UP
    frame = Frame((float(origin[0]), float(origin[1])), angle)
    lines = outline.edges(frame)
    wave = strongest_wave(*lines)
    return None if wave is None else (frame, lines, wave)


def _straighten(lines: Lines, frame: Frame, wave: Wave) -> Frame:
    """Turn and shift the frame onto the axis: the midline of both edges, averaged over whole pitches."""
    u, upper, lower = lines
    inside = (u >= wave.start) & (u <= wave.end)
    middle = (upper + lower) / 2
    ok = inside & np.isfinite(middle)
    if ok.sum() < LIMITS.axis_points:
        return frame
    centre = (wave.start + wave.end) / 2
    x, y = u[ok], middle[ok]
    along = (x - centre) / (wave.end - wave.start)
    # the midline of a thread repeats with the pitch: fit line and wave together so that the ends do not lean on it
    c, s = np.cos(2 * np.pi * x / wave.pitch), np.sin(2 * np.pi * x / wave.pitch)
    design = np.stack([np.ones_like(x), along, c, s, c * c - s * s, 2 * s * c], axis=1)
    coef = fit_linear(design, y, least=1e-3, loss=GEMAN_MCCLURE, steps=4).coefficients
    origin = frame.to_picture(np.array([[centre, coef[0]]]))[0]
    # w points up while angles turn clockwise on the screen
    return Frame(
        (float(origin[0]), float(origin[1])), frame.angle - float(np.arctan(coef[1] / (wave.end - wave.start)))
    )


def _describe(lines: Lines, frame: Frame, wave: Wave) -> ThreadedLength:
    u, upper, lower = lines
    inside = (u >= wave.start) & (u <= wave.end)
    pitch = wave.pitch
    i, j = int(np.flatnonzero(inside)[0]), int(np.flatnonzero(inside)[-1]) + 1
    _check_edges(wave, i, j, upper[i:j], lower[i:j])
    mean_up, mean_low = mean_amplitude(wave.local[i:j]), mean_amplitude(wave.local_low[i:j])
    regularity = (in_step(wave.local[i:j], mean_up) + in_step(wave.local_low[i:j], mean_low)) / 2
    if regularity < LIMITS.least_regular:
        raise RefusalError("no_thread.uneven")
    shift = float(np.angle(mean_low / mean_up) / (-2 * np.pi) % 1.0)
    # the slope wave of a ridge is +,0,-,0 round its centre: its fundamental has the phase of -sin
    phase = float((np.angle(mean_up) - np.pi / 2) / (-2 * np.pi) * pitch)
    whole = np.floor((wave.end - wave.start) / pitch) * pitch
    middle = (wave.start + wave.end) / 2
    level = (u > middle - whole / 2) & (u < middle + whole / 2)
    up = _fold(u[level], upper[level], pitch, phase)
    low = _fold(u[level], -lower[level], pitch, phase + shift * pitch)
    offset = (median(up) - median(low)) / 2
    heights = np.concatenate([up - offset, low + offset])
    pitch_radius = median(heights)
    crest, root = float(np.quantile(heights, 0.95)), float(np.quantile(heights, 0.05))
    if crest - root < max(LIMITS.least_depth[0] * pitch, LIMITS.least_depth[1]):
        raise RefusalError("no_thread.shallow")
    if root < LIMITS.least_core * crest:
        raise RefusalError("not_a_thread.axis")
    slope_top = (upper[4:] - upper[:-4]) / 4
    slope_low = -(lower[4:] - lower[:-4]) / 4
    h = np.concatenate([upper[2:-2] - offset, offset - lower[2:-2]])
    s = np.concatenate([slope_top, slope_low])
    near = np.concatenate([level[2:-2], level[2:-2]]) & np.isfinite(s) & np.isfinite(h)
    near &= np.abs(h - pitch_radius) < LIMITS.flank_band * (crest - root)
    rising, falling = s[near & (s > LIMITS.least_slope)], -s[near & (s < -LIMITS.least_slope)]
    slope_up = median(rising) if rising.size else 1.7
    slope_down = median(falling) if falling.size else 1.7
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
        float(regularity),
        shift,
    )


def _check_edges(wave: Wave, i: int, j: int, upper: Array, lower: Array) -> None:
    """Refuse what is too small, too short, or a thread on one edge only."""
    if wave.pitch < MIN_PITCH_PX:
        raise RefusalError("too_coarse", pitch_px=wave.pitch, least_px=MIN_PITCH_PX)
    threads = (wave.end - wave.start) / wave.pitch
    if threads < 1:
        raise RefusalError("no_thread", least_threads=MIN_THREADS)
    if threads < _MIN_SEEN:
        raise RefusalError("too_few_threads", threads=threads, least_threads=MIN_THREADS)
    strength = median(np.abs(wave.local[i:j])), median(np.abs(wave.local_low[i:j]))
    seen = min(float(np.isfinite(upper).mean()), float(np.isfinite(lower).mean()))
    if seen < 0.5:
        if threads < MIN_THREADS:
            raise RefusalError("no_thread", least_threads=MIN_THREADS)
        raise RefusalError("cut_off.edge")
    if min(strength) < LIMITS.both_edges * max(strength):
        raise RefusalError("no_thread.one_edge")


def _fold(u: Array, height: Array, pitch: float, phase: float) -> Array:
    """One period of an edge, (32,): the median height of all its threads at each place from ridge to ridge."""
    ok = np.isfinite(height)
    cell = (((u[ok] - phase) / pitch % 1.0) * 32).astype(int) % 32
    order = np.argsort(cell, kind="stable")
    groups = np.split(height[ok][order], np.searchsorted(cell[order], np.arange(1, 32)))
    return np.array([median(g) for g in groups if g.size])
