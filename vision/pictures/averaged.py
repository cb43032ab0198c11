"""The mean of several frames of one scene in linear light, without frames in which something moved."""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from threads.shared.refusal import RefusalError
from vision.pictures.camera_note import with_camera
from vision.pictures.live_frame import F32, Frame, frame_light, is_colourless
from vision.pictures.picture import LINEAR_LIGHT, Picture
from vision.pictures.registration import displacement
from vision.shared.opencv import cv2

MOST_FRAMES = 64  # noise goes down with the root of the number: more gain nothing beside the edge finder
MOST_SHIFT_PX = 0.25
"""A frame that lies farther from the first is left out: an edge would be blurred by as much."""

_SHARE_LEFT = 0.6  # so many of the frames must lie where the first does
_CHANGED = 0.2  # of the picture's contrast: a pixel that differs by more shows something else
_MOST_CHANGED = 0.002  # of the pixels
_EDGE = 0.05  # of the contrast, light per px: where it rises less there is noise only
_LEAST_EDGE = 50  # pixels on edges that tell a shift
_WIDTH = 960  # px: frames are compared on a copy reduced to about this
_FULL = 65535  # of sixteen bits


@dataclass(frozen=True)
class Averaged:
    """The mean of frames.

    Attributes:
        light: (height, width) float32, linear, 0 to 1.
        frames: how many are in it; left_out: how many had moved.
        shift_px: how far the frames that are in it lay apart at most.
        colourless: the frames had three channels that say the same.
    """

    light: F32
    frames: int
    left_out: int
    shift_px: float
    colourless: bool = False


class Averaging:
    """Accumulates frames one by one; keeps their sum, not the frames."""

    def __init__(self, frames: int) -> None:
        if not 1 <= frames <= MOST_FRAMES:
            raise ValueError(f"1 to {MOST_FRAMES} frames, not {frames}")
        self._wanted = frames
        self._sum: npt.NDArray[np.float32] | None = None
        self._first: _Reference | None = None
        self._used, self._seen = 0, 0
        self._shift = 0.0
        self._moved = 0.0
        self._far: F32 | None = None
        self._colourless = False

    @property
    def complete(self) -> bool:
        """Whether enough frames were given."""
        return self._seen >= self._wanted

    @property
    def share(self) -> float:
        """How many of those wanted were given, 0 to 1."""
        return self._seen / self._wanted

    def add(self, frame: Frame) -> bool:
        """Take one more frame; whether it lies where the first does. One of another size counts as moved.

        Where enough were given already, it takes the place of an average one of them: old frames fade.
        """
        light = frame_light(frame)
        if self._sum is None or self._first is None:
            self._sum, self._first, self._used, self._seen = light.copy(), _Reference(light), 1, 1
            self._colourless = is_colourless(frame)
            return True
        shift = self._first.shift_to(light) if light.shape == self._sum.shape else float(max(light.shape))
        if shift > MOST_SHIFT_PX:
            self._seen += 1
            if math.isinf(shift):
                self._far = light
            else:
                self._moved = max(self._moved, shift)
            return False
        if self.complete:
            self._sum *= np.float32(1 - 1 / self._used)
            self._used, self._seen = self._used - 1, self._seen - 1
        self._shift = max(self._shift, shift)
        self._sum += light
        self._used, self._seen = self._used + 1, self._seen + 1
        return True

    def mean(self) -> Averaged:
        """The mean of what was given so far.

        Raises RefusalError: no_frames; part_moved, where too many frames lie elsewhere than the first.
        """
        if self._sum is None:
            raise RefusalError("no_frames")
        if self._used < _SHARE_LEFT * self._seen:
            far = 0.0 if self._far is None or self._first is None else self._first.distance_to(self._far)
            moved = max(self._moved, far)
            raise RefusalError("part_moved", moved_frames=self._seen - self._used, frames=self._seen, moved_px=moved)
        light = self._sum / np.float32(self._used)
        left_out = self._seen - self._used
        return Averaged(np.asarray(light, np.float32), self._used, left_out, self._shift, self._colourless)


class _Reference:
    """The first frame, reduced, and what is needed to say how far another lies from it."""

    def __init__(self, light: F32) -> None:
        self._factor = max(1, round(light.shape[1] / _WIDTH))
        small = self._reduced(light)
        self._small = small
        low, high = (float(q) for q in np.quantile(small[::3, ::3], (0.02, 0.98)))
        self._contrast = max(high - low, 1e-3)
        gx = cv2.Sobel(small, cv2.CV_32F, 1, 0, scale=1 / 8)
        gy = cv2.Sobel(small, cv2.CV_32F, 0, 1, scale=1 / 8)
        strong = np.hypot(gx, gy) > _EDGE * self._contrast
        self._at = np.flatnonzero(strong)
        self._design = np.stack(
            [np.asarray(a, np.float64).ravel()[self._at] for a in (gx, gy, small, np.ones_like(small))], axis=1
        )
        # a pin shows no motion along itself: that direction is held still
        normal = self._design.T @ self._design
        hold = np.diag([1e-3, 1e-3, 1e-9, 1e-9]) * max(float(np.trace(normal[:2, :2])), 1e-9)
        self._solver = np.linalg.inv(normal + hold) @ self._design.T if self._at.size > _LEAST_EDGE else None

    def _reduced(self, light: F32) -> F32:
        size = (light.shape[1] // self._factor, light.shape[0] // self._factor)
        small = light if self._factor == 1 else cv2.resize(light, size, interpolation=cv2.INTER_AREA)
        return np.asarray(cv2.GaussianBlur(small, (0, 0), 1.0), np.float32)

    def shift_to(self, light: F32) -> float:
        """How far the scene in ``light`` lies from that of the first frame, px; infinite where much of it differs.

        Small shifts are solved for from the gradient, with a change of the light allowed (Lucas and Kanade, IJCAI
        1981), in a tenth of the time of a correlation.
        """
        small = self._reduced(light)
        scale = float(small.mean()) / max(float(self._small.mean()), 1e-6)
        differing = cv2.absdiff(small, np.asarray(self._small * np.float32(scale), np.float32))
        if float((differing > _CHANGED * self._contrast).mean()) > _MOST_CHANGED:
            return math.inf
        if self._solver is None:
            return 0.0
        found = self._solver @ (small - self._small).astype(np.float64).ravel()[self._at]
        return float(self._factor * np.hypot(found[0], found[1]))

    def distance_to(self, light: F32) -> float:
        """The same of a scene that lies far off, by correlation, px."""
        return float(self._factor * max(np.hypot(*displacement(self._small, self._reduced(light))), 1.0))


def picture_of(mean: Averaged) -> Picture:
    """The mean as ``read_picture`` finds it in the file that ``linear_png`` makes of it, without a file."""
    light = np.rint(np.clip(mean.light, 0, 1) * np.float32(_FULL)) / np.float32(_FULL)
    light.setflags(write=False)
    bright = float(np.mean(light >= 1))
    rule = "grey values taken as linear in light: the file states no tone"
    return Picture("", "", light.shape[1], light.shape[0], light, 16, bright, 1 / _FULL, (rule,), LINEAR_LIGHT, "png")


def linear_png(light: F32, camera: str = "") -> bytes:
    """A grey PNG of 16 bits without a tone: read back as linear light. ``camera``: its name, noted in the file."""
    samples = np.rint(np.clip(light, 0, 1) * _FULL).astype(np.uint16)
    done, content = cv2.imencode(".png", samples, [cv2.IMWRITE_PNG_COMPRESSION, 1])
    if not done:
        raise OSError("the picture could not be coded")
    return with_camera(bytes(content), camera)
