"""The one thing that a picture of a part lit from the front tells of its size: the pitch, in pixels.

Without a light pad behind the part no edge is to be trusted, and without a gauge in the plane of its axis no length is.
But what repeats along an axis repeats with the pitch, whatever the light: that number can be counted, and is given with
the refusal so that pictures of one scale can at least be compared.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from vision.picture import Picture
from vision.refusal import Reason, RefusalError
from vision.repeating import SAMPLES, Repeating, find_repeating

PITCH_ONLY = "pitch_in_pixels_only"
_WITHOUT_PAD = ("textured", "no_part")
"""Refusals of pictures that may have been taken without a light pad."""
_LEAST_REPEATS = 6
_LEAST_LIKE = 0.85  # of a thread lit from the front; chance likeness in wood grain and cloth stays under 0.7
_SLENDER = (2.9, 20.0)  # width in pitches: threads have 4 to 20; the edges are seen to half a pitch
_MOST_SLOPE = 0.12  # of the edges against the axis, radians
_ALTERNATE = (
    0.25,
    0.75,
)  # shift of one edge against the other, in pitches: half for a thread, nothing for rules or text
_EDGE = 0.08  # of the width: the rows that count as an edge


@dataclass(frozen=True)
class SeenPitch:
    """What repeats: every so many px, so many times, about the place (x, y) in px. It need not be a thread."""

    pitch_px: float
    repeats: int
    x: float
    y: float


def seen_pitch(picture: Picture) -> SeenPitch | None:
    """The clearest stretch of ``picture`` that repeats along an axis as a thread does, or None.

    The ridges of its two edges alternate, as those of a thread with one start do: rules, stripes and lines of text have
    theirs side by side. Not to be believed as a thread all the same. Good to about 0.5 % (counted by eye on photographs
    of screws).
    """
    for found in find_repeating(picture.light):
        if _is_like_a_thread(found):
            return SeenPitch(float(found.pitch), int(found.pitches), float(found.x), float(found.y))
    return None


def _is_like_a_thread(found: Repeating) -> bool:
    width = (found.last - found.first + 1) / SAMPLES
    return (
        found.pitches >= _LEAST_REPEATS
        and found.likeness >= _LEAST_LIKE
        and _SLENDER[0] <= width <= _SLENDER[1]
        and abs(found.slope) <= _MOST_SLOPE
        and _ALTERNATE[0] < _shift_of_edges(found) < _ALTERNATE[1]
    )


def _shift_of_edges(found: Repeating) -> float:
    """By how much the pattern along one edge is ahead of that along the other, 0 to 1 pitch."""
    columns = np.arange(found.start, found.start + found.pitches * SAMPLES)
    shades = found.shades[found.first : found.last + 1][:, columns] * np.hanning(columns.size + 2)[1:-1]
    wave = shades @ np.exp(-2j * np.pi * columns / SAMPLES)
    few = max(2, round(_EDGE * wave.size))
    return float(np.angle(wave[:few].sum() * wave[-few:].sum().conj()) / (2 * np.pi) % 1.0)


def with_seen_pitch(refusal: RefusalError, picture: Picture) -> RefusalError:
    """``refusal``, with what repeats in the picture added to its reasons where it may lack a light pad."""
    first = refusal.reasons[0]
    if first.code not in _WITHOUT_PAD:
        return refusal
    seen = seen_pitch(picture)
    if seen is None:
        return refusal
    note = Reason(
        PITCH_ONLY,
        f"About ({seen.x:.0f}, {seen.y:.0f}) something repeats {seen.repeats} times, every {seen.pitch_px:.2f} px, as "
        "a thread does along its axis: that is all this picture tells, no size can be read from it.",
    )
    return RefusalError(first.code, first.message, *refusal.reasons[1:], note)
