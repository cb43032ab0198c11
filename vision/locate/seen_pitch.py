"""The pitch in pixels, from a picture of a part lit from the front: all that such a picture shows of its size.

Without a light pad behind the part no edge is to be trusted, and without a gauge in the plane of its axis no length is.
But what repeats along an axis repeats with the pitch, whatever the light: that number can be counted, and is given with
the refusal so that pictures of one scale can at least be compared.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from threads.shared.refusal import Reason, RefusalError
from vision.locate.plain_faults import plain_faults
from vision.locate.repeating import LARGEST_PX, SAMPLES, Repeating, find_repeating
from vision.locate.threaded import MIN_PITCH_PX
from vision.pictures.picture import Picture

_WITHOUT_PAD = ("textured", "no_part")
"""Refusals of pictures that may have been taken without a light pad."""
SIZES_PX = (LARGEST_PX, 1600)
"""Larger pictures are made smaller before they are searched; a second time less, for fine threads."""
_LEAST_REPEATS = 6  # pitches: fewer give no pitch worth telling
_LEAST_LIKE = 0.85  # of a thread lit from the front; chance likeness in wood grain and cloth stays under 0.7
_SLENDER = (2.9, 20.0)  # width in pitches: threads have 4 to 20; the edges are seen to half a pitch
_MOST_SLOPE = 0.12  # of the edges against the axis, radians
_ALTERNATE = (
    0.25,
    0.75,
)  # shift of one edge against the other, in pitches: half for a thread, nothing for rules or text
_EDGE = 0.08  # of the width: the rows that count as an edge
_TOOTHED = (0.35, 0.65)  # the same shift, where the two rows of teeth of a profile are seen
_STRONG = 0.3  # of the strongest ripple: rows of one band of teeth
_TOOTH = (0.25, 1.5)  # width of a band of teeth, in pitches; that of a thread is 0.6 to 1
_FLANKED = 0.5  # of the ripple of a band that there may be between the two
_QUIET = 0.2  # of the strongest ripple that there may be outside them
_STEADY = 0.9  # by how much the teeth of a band stand in line across it


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
    theirs side by side. Or two narrow rows alternate, with less between them that repeats and nothing outside: teeth of
    a dark thread before a bright ground, or on one side its shining ridges. Not to be believed as a thread, even so.
    Good to about 0.5 %, in profile to 1 % (counted by eye on photographs of screws).
    """
    for largest in SIZES_PX:
        for found in find_repeating(picture.light, largest):
            if _is_like_a_thread(found) or _has_a_profile(found):
                return SeenPitch(float(found.pitch), int(found.pitches), float(found.x), float(found.y))
        if largest >= max(picture.light.shape):
            break
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


def _has_a_profile(found: Repeating) -> bool:
    """Whether two narrow bands, a thread's width apart and alternating, repeat much more than all else."""
    if found.pitches < _LEAST_REPEATS or found.likeness < _LEAST_LIKE:
        return False
    columns = np.arange(found.start, found.start + found.pitches * SAMPLES)
    shades = found.shades[:, columns]
    wave = (shades * np.hanning(columns.size + 2)[1:-1]) @ np.exp(-2j * np.pi * columns / SAMPLES)
    ripple = np.abs(wave)
    here, next_on = shades[:, :-SAMPLES], shades[:, SAMPLES:]
    like = 2 * (here * next_on).sum(axis=1) / ((here**2 + next_on**2).sum(axis=1) + 1e-12)
    rows = np.flatnonzero((ripple > _STRONG * ripple.max()) & (like > _LEAST_LIKE))
    bands = np.split(rows, np.flatnonzero(np.diff(rows) > 2) + 1)
    if len(bands) != 2 or not all(_TOOTH[0] <= band.size / SAMPLES <= _TOOTH[1] for band in bands):
        return False
    first, last = bands
    apart = (last.mean() - first.mean()) / SAMPLES
    sums = [wave[band].sum() for band in bands]
    shift = float(np.angle(sums[0] * sums[1].conj()) / (2 * np.pi) % 1.0)
    outside = np.concatenate([ripple[: max(first[0] - SAMPLES, 0)], ripple[last[-1] + SAMPLES :]])
    between = ripple[first[-1] + 1 : last[0]]
    return bool(
        _SLENDER[0] <= apart <= _SLENDER[1]
        and _TOOTHED[0] < shift < _TOOTHED[1]
        and all(abs(total) > _STEADY * ripple[band].sum() for total, band in zip(sums, bands, strict=True))
        and float(np.median(between)) < _FLANKED * min(float(ripple[band].max()) for band in bands)
        and float(outside.max(initial=0.0)) < _QUIET * float(ripple.max())
    )


def with_seen_pitch(refusal: RefusalError, picture: Picture) -> RefusalError:
    """``refusal`` of a picture that may lack a light pad: what is plainly wrong first, what repeats last."""
    if refusal.reasons[0].code not in _WITHOUT_PAD:
        return refusal
    reasons = [*plain_faults(picture), *refusal.reasons]
    seen = seen_pitch(picture)
    if seen is not None:
        reasons.append(
            Reason(
                "pitch_in_pixels_only",
                x_px=seen.x,
                y_px=seen.y,
                repeats=seen.repeats,
                pitch_px=seen.pitch_px,
                least_px=MIN_PITCH_PX,
            )
        )
    return RefusalError(*reasons)
