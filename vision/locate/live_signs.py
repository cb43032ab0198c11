"""Three plain signs from a look at a frame: light, focus, alignment. What is to be changed first, and by how much.

All limits are figures of the workshop: where they are kept the measurement's own refusals and warnings stay silent.
"""

from __future__ import annotations

from dataclasses import dataclass

from vision.locate.live_look import LiveLook
from vision.locate.threaded import MIN_PITCH_PX, MIN_THREADS

MOST_SATURATED = 0.005  # of the ground: burnt pixels move edges
MOST_LIGHT, LEAST_LIGHT = 0.92, 0.2
MOST_UNEVEN = 0.35  # of the light: half levels are local, but a corner that dark drowns in noise
MOST_BLUR_PX = 2.0  # edges blurred more hide the corners of most threads
MOST_LEAN_DEG = 5.0  # against the side of the picture: a part that lies straight uses it best
MOST_TILT_DEG = 2.0  # toward the camera: the fit copes with more, its U95 grows
ENOUGH_THREADS = MIN_THREADS + 1  # one more than are needed: an end thread may be cut


@dataclass(frozen=True)
class Sign:
    """One sign.

    Attributes:
        good: whether it is well; None where nothing can be said.
        code: what is to be said, a stable word.
        value: the number that belongs to it, in the unit of ``LiveLook``.
    """

    good: bool | None
    code: str
    value: float = 0.0


def light_sign(look: LiveLook) -> Sign:
    """Level, evenness and saturation of the ground."""
    if look.refusal is not None and look.refusal.code == "black":
        return Sign(False, "black")
    if look.saturated > MOST_SATURATED:
        return Sign(False, "saturated", look.saturated)
    if look.from_behind is False:
        return Sign(False, "from_front")
    if look.light > MOST_LIGHT:
        return Sign(False, "nearly_white", look.light)
    if look.light < LEAST_LIGHT:
        return Sign(False, "dim", look.light)
    if look.uneven > MOST_UNEVEN:
        return Sign(False, "uneven", look.uneven)
    return Sign(True, "even", look.light)


def focus_sign(look: LiveLook) -> Sign:
    """Blur of the part's edges."""
    if look.blur_px is None:
        return Sign(None, "nothing_to_focus_on")
    return Sign(look.blur_px <= MOST_BLUR_PX, "sharp" if look.blur_px <= MOST_BLUR_PX else "soft", look.blur_px)


def alignment_sign(look: LiveLook) -> Sign:
    """How the part lies; the greatest hindrance only."""
    if look.refusal is not None:
        return Sign(None if look.refusal.code in ("black", "saturated") else False, look.refusal.code)
    if look.parts > 1:
        return Sign(False, "several_parts", float(look.parts))
    if len(look.touches) > 2:
        return Sign(False, "too_large")
    if look.lean_deg is not None and abs(look.lean_deg) > MOST_LEAN_DEG:
        return Sign(False, "turn", look.lean_deg)
    if look.threads is None or look.pitch_px is None:
        return Sign(True, "plain", look.lean_deg or 0.0)
    return _of_thread(look.threads, look.pitch_px, look.tilt_deg)


def _of_thread(threads: float, pitch_px: float, tilt_deg: float | None) -> Sign:
    if tilt_deg is not None and tilt_deg > MOST_TILT_DEG:
        return Sign(False, "tilted", tilt_deg)
    if pitch_px < MIN_PITCH_PX:
        return Sign(False, "too_small", pitch_px)
    if threads < ENOUGH_THREADS:
        return Sign(False, "few_threads", threads)
    return Sign(True, "straight", threads)
