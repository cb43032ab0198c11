"""Three plain signs from one frame: light, focus, alignment. What is to be changed first, and by how much.

All limits are figures of the workshop: where they are kept the measurement's own refusals and warnings stay silent.
"""

from __future__ import annotations

from dataclasses import dataclass

from vision.locate.live_detection import LiveDetection
from vision.locate.threaded import MIN_PITCH_PX, MIN_THREADS

MOST_SATURATED = 0.005  # of the ground: burnt pixels move edges
MOST_LIGHT, LEAST_LIGHT = 0.92, 0.2
MOST_UNEVEN = 0.35  # of the light: half levels are local, but a corner that dark drowns in noise
MOST_BLUR_PX = 2.0  # edges blurred more hide the corners of most threads
MOST_LEAN_DEG = 5.0  # against the side of the picture: a part that lies straight uses it best
MOST_TILT_DEG = 2.0  # toward the camera: the fit copes with more, its U95 grows
ENOUGH_THREADS = MIN_THREADS + 2  # more than are needed: an end thread may be cut, and few tell little


@dataclass(frozen=True)
class Sign:
    """One sign.

    Attributes:
        good: whether it is in order; None if unknown.
        code: of the message, stable.
        value: the number that belongs to it, in the unit of ``LiveDetection``.
    """

    good: bool | None
    code: str
    value: float = 0.0


def light_sign(live: LiveDetection) -> Sign:
    """Level, evenness and saturation of the ground."""
    if live.refusal is not None and live.refusal.code == "black":
        return Sign(False, "black")
    if live.saturated > MOST_SATURATED:
        return Sign(False, "saturated", live.saturated)
    if live.from_behind is False:
        return Sign(False, "from_front")
    if live.light > MOST_LIGHT:
        return Sign(False, "nearly_white", live.light)
    if live.light < LEAST_LIGHT:
        return Sign(False, "dim", live.light)
    if live.uneven > MOST_UNEVEN:
        return Sign(False, "uneven", live.uneven)
    return Sign(True, "even", live.light)


def focus_sign(live: LiveDetection) -> Sign:
    """Blur of the part's edges."""
    if live.blur_px is None:
        return Sign(None, "nothing_to_focus_on")
    return Sign(live.blur_px <= MOST_BLUR_PX, "sharp" if live.blur_px <= MOST_BLUR_PX else "soft", live.blur_px)


def alignment_sign(live: LiveDetection) -> Sign:
    """How the part lies; the greatest hindrance only."""
    if live.refusal is not None:
        return Sign(None if live.refusal.code in ("black", "saturated") else False, live.refusal.code)
    if live.parts > 1:
        return Sign(False, "several_parts", float(live.parts))
    if len(live.touches) > 2:
        return Sign(False, "too_large")
    if live.lean_deg is not None and abs(live.lean_deg) > MOST_LEAN_DEG:
        return Sign(False, "turn", live.lean_deg)
    if live.threads is None or live.pitch_px is None:
        return Sign(True, "plain", live.lean_deg or 0.0)
    return _of_thread(live.threads, live.pitch_px, live.tilt_deg)


def _of_thread(threads: float, pitch_px: float, tilt_deg: float | None) -> Sign:
    if tilt_deg is not None and tilt_deg > MOST_TILT_DEG:
        return Sign(False, "tilted", tilt_deg)
    if pitch_px < MIN_PITCH_PX:
        return Sign(False, "too_small", pitch_px)
    if threads < ENOUGH_THREADS:
        return Sign(False, "few_threads", threads)
    return Sign(True, "straight", threads)
