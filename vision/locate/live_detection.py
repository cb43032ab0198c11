"""Light, focus and alignment of one live frame while the part is being laid down. Takes milliseconds, no fit.

The frame is looked at on a reduced copy. The results are good enough to set up a bench; they are no
measurements and have no U95.
"""

from __future__ import annotations

import math
from dataclasses import dataclass, field

import numpy as np
import numpy.typing as npt

from threads.shared.refusal import Reason, RefusalError
from vision.locate.frame import Frame as AxisFrame
from vision.locate.limits import LIMITS
from vision.locate.threaded import ThreadedLength, edges_along, find_threaded_length, mask_direction
from vision.outline.edges import EdgePoints, find_edges
from vision.outline.silhouette import Silhouette, find_silhouette
from vision.pictures.live_frame import F32, Frame, full_scale, quick_light
from vision.pictures.picture import Picture
from vision.shared.opencv import cv2

Array = npt.NDArray[np.float64]

_PIXELS = 450_000  # about so many are looked at
_PAD = 0.5  # of the brightest light: what is brighter is light pad, for a frame in which no part is found
_TOUCH = 3  # px of the reduced frame: an outline so near the border crosses it
_GAP_PX = 3.0  # of the reduced frame: edge points farther apart do not follow each other
_WHOLE_PIXEL = 1 / 12  # variance of a pixel's own width


@dataclass(frozen=True)
class LiveDetection:
    """What one frame shows.

    Attributes:
        width_px, height_px: of the frame.
        light: median light of the ground, 0 to 1 of full scale, linear.
        uneven: by how much the ground's darkest part is darker than its brightest, 0 to 1 (5th and 95th per cent).
        saturated: fraction of the ground's pixels at full scale.
        from_behind: whether the ground is bright and the part dark; None where no part is seen.
        parts: how many parts are seen.
        blur_px: standard deviation of the blur across the part's edges, the pixel's own width taken out.
        angle_deg: direction of the axis, from picture x toward picture y (clockwise on the screen), -90 to 90.
        lean_deg: how far it is from the nearest side of the picture, -45 to 45, the same way round.
        touches: the sides of the picture that the part crosses: "left", "right", "top", "bottom".
        threads: in view; pitch_px: of the thread. None where no thread is seen.
        tilt_deg: how far the axis leans toward or away from the camera, without sign: which way it leans shows only
            with the hand known. Within 0.4 deg for a clean thread of one start before a telecentric lens
            (``tests/vision/locate/test_live_detection.py``), within 1 deg or so before a near one, whose rays are
            oblique themselves; None where it cannot be seen, as on a pin.
        refusal: why no part was found, where none was.
        outline: runs of edge points, (n, 2) px of the frame each, for the screen.
    """

    width_px: int
    height_px: int
    light: float
    uneven: float
    saturated: float
    from_behind: bool | None = None
    parts: int = 0
    blur_px: float | None = None
    angle_deg: float | None = None
    lean_deg: float | None = None
    touches: tuple[str, ...] = ()
    threads: float | None = None
    pitch_px: float | None = None
    tilt_deg: float | None = None
    refusal: Reason | None = None
    outline: tuple[Array, ...] = field(default=(), compare=False, repr=False)


def detect_live(frame: Frame) -> LiveDetection:
    """Look at ``frame``, of a camera or a video, or the linear light of a picture."""
    height, width = frame.shape[:2]
    factor = max(1, round(math.sqrt(height * width / _PIXELS)))
    size = (width // factor, height // factor)
    light = quick_light(frame)
    small = light if factor == 1 else np.asarray(cv2.resize(light, size, interpolation=cv2.INTER_AREA), np.float32)
    burnt = cv2.resize(full_scale(frame), size, interpolation=cv2.INTER_AREA)
    full = (np.asarray(burnt, np.float32) / np.float32(255)).astype(np.float32)
    picture = _as_picture(small, float(full.mean()))
    try:
        silhouette = find_silhouette(picture, part=_largest(picture))
    except RefusalError as refusal:
        pad = small > _PAD * float(np.quantile(small[::4, ::4], LIMITS.brightest))
        level, uneven, saturated = _of_ground(small, full, pad)
        return LiveDetection(width, height, level, uneven, saturated, refusal=refusal.reasons[0])
    level, uneven, saturated = _of_ground(small, full, _ground(silhouette, small))
    edges = find_edges(silhouette)
    thread = _thread(silhouette, edges)
    angle = _direction(edges) if thread is None else thread.frame.angle
    angle_deg = (math.degrees(angle) + 90) % 180 - 90
    return LiveDetection(
        width_px=width,
        height_px=height,
        light=level,
        uneven=uneven,
        saturated=saturated,
        from_behind=silhouette.bright_background,
        parts=silhouette.parts,
        blur_px=_blur(edges, silhouette.presmooth_px, factor),
        angle_deg=angle_deg,
        lean_deg=(angle_deg + 45) % 90 - 45,
        touches=_touches(silhouette, small.shape),
        threads=None if thread is None else thread.threads,
        pitch_px=None if thread is None else thread.pitch * factor,
        tilt_deg=None if thread is None else _tilt(edges, thread),
        outline=_runs(edges, factor),
    )


def _runs(edges: EdgePoints, factor: int) -> tuple[Array, ...]:
    """The edge points of the reduced frame where they are in the frame, parted where the outline is."""
    xy = factor * edges.xy + (factor - 1) / 2
    if not len(xy):
        return ()
    gaps = np.flatnonzero(np.hypot(*np.diff(xy, axis=0).T) > _GAP_PX * factor) + 1
    return tuple(run for run in np.split(xy, gaps) if len(run) > 1)


def _as_picture(light: F32, clipped: float) -> Picture:
    return Picture("", "", light.shape[1], light.shape[0], light, 8, clipped, 1 / 255, ())


def _largest(picture: Picture) -> int | None:
    """The number of the largest of several parts; None where there is one, or none."""
    from vision.outline.silhouette import find_parts

    parts = find_parts(picture)
    if len(parts) < 2:
        return None
    return 1 + max(range(len(parts)), key=lambda i: parts[i][2] * parts[i][3])


def _of_ground(light: F32, full: F32, ground: npt.NDArray[np.bool_]) -> tuple[float, float, float]:
    """Level, unevenness and saturated share of the ground."""
    if ground.sum() < LIMITS.ground_pixels:
        return float(np.median(light)), 0.0, float(full.mean())
    # noise of single pixels is no unevenness
    calm = np.asarray(cv2.blur(light, (9, 9)), np.float32)[ground]
    low, level, high = (float(q) for q in np.quantile(calm, (0.05, 0.5, 0.95)))
    return level, max(0.0, 1 - low / max(high, 1e-6)), float(full[ground].mean())


def _ground(silhouette: Silhouette, light: F32) -> npt.NDArray[np.bool_]:
    """Pixels that are the ground, clear of the part's edge; of other parts what is dark is left out as well."""
    kernel = np.ones((9, 9), np.uint8)
    near = cv2.dilate(silhouette.region, kernel)
    region = cv2.resize(np.asarray(near, np.uint8), light.shape[::-1], interpolation=cv2.INTER_NEAREST)
    ground = np.asarray(region == 0)
    if silhouette.bright_background and silhouette.parts > 1:
        ground &= cv2.GaussianBlur(light, (0, 0), silhouette.presmooth_px) > 0.5 * float(np.median(silhouette.outer))
    return ground


def _thread(silhouette: Silhouette, edges: EdgePoints) -> ThreadedLength | None:
    if edges.xy.shape[0] < LIMITS.least_points:
        return None
    try:
        return find_threaded_length(edges.xy, mask_direction(silhouette.region), edges.normal)
    except (RefusalError, np.linalg.LinAlgError):
        return None


def _direction(edges: EdgePoints) -> float:
    """Direction of two long parallel edges from their normals, radians."""
    x, y = edges.normal[:, 0], edges.normal[:, 1]
    if not x.size:
        return 0.0
    return float(0.5 * np.arctan2(np.sum(2 * x * y), np.sum(x * x - y * y)) - np.pi / 2)


def _blur(edges: EdgePoints, presmooth: float, factor: int) -> float | None:
    """Blur of the frame itself, px: smoothing and the wider pixel of the reduced frame taken out."""
    if edges.xy.shape[0] < LIMITS.least_points:
        return None
    seen = float(np.median(edges.blur_px)) ** 2 - presmooth**2
    return math.sqrt(max(factor**2 * seen - factor**2 * _WHOLE_PIXEL, 0.0))


def _touches(silhouette: Silhouette, shape: tuple[int, ...]) -> tuple[str, ...]:
    x, y = silhouette.outline[:, 0], silhouette.outline[:, 1]
    found = (
        ("left", x.min() < _TOUCH),
        ("right", x.max() >= shape[1] - _TOUCH),
        ("top", y.min() < _TOUCH),
        ("bottom", y.max() >= shape[0] - _TOUCH),
    )
    return tuple(side for side, on in found if on)


def _tilt(edges: EdgePoints, thread: ThreadedLength) -> float | None:
    """Tilt from the widths of the ridges on both edges, degrees, without sign; None where too little is seen.

    A flank of half angle a stands off the axial section by (k cot a)^2 / 2R, k being the lead over 2 pi, plus R tan t
    on one edge and minus it on the other. The ridges at half height so differ in width by 4 k tan t cot a, in pitches
    by (2 / pi) cot a tan t whatever pitch and diameter are (derived here; first order in t).
    """
    whole = math.floor(thread.threads)
    if whole < 2 or thread.slope_up + thread.slope_down <= 0:
        return None
    cot = (thread.slope_up + thread.slope_down) / 2
    frame = AxisFrame(thread.frame.origin, thread.frame.angle)
    u, upper, lower = edges_along(edges.xy, frame, edges.normal)
    start = (thread.start + thread.end - whole * thread.pitch) / 2
    shares, depths, heights = [], [], []
    for edge in (upper - thread.offset, thread.offset - lower):
        run = (u >= start) & (u < start + whole * thread.pitch)
        height = edge[run]
        if np.isfinite(height).mean() < LIMITS.known_share:
            return None
        height = height[np.isfinite(height)]
        low, crest = (float(q) for q in np.quantile(height, (0.04, 0.96)))
        heights.append((height, crest))
        depths.append(crest - low)
    # a root may lie in the shadow of the flanks on one edge, a crest never does
    for height, crest in heights:
        middle = crest - max(depths) / 2
        shares.append(float(np.clip((height - middle) / cot + 0.5, 0, 1).mean()))
    return math.degrees(math.atan(abs(shares[0] - shares[1]) * math.pi / 2 / cot))
