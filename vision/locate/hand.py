"""Right-hand or left-hand: read from a picture of the part lit from the front.

A shadow does not show the hand. On the visible surface a ridge is z = s + k phi with k = lead / 2 pi, k > 0 for a
right hand (frame of ``vision.model.shadow``: u along the axis, w across it, v toward the camera, phi from w toward v).
Going from the edge at +w over the front to the other edge, phi grows from 0 to 180 degrees: where the axis lies level,
the ridges of a right-hand thread come down to the right, those of a left-hand one to the left. At the height w of a
part of radius R, psi = asin(-w / R) from the middle of the front, the pattern of a thread with n starts is shifted by n
psi / 2 pi of a pitch: the shift is known but for its sense.

Method: the axis and the pitch from the direction in which the picture repeats (``vision.locate.repeating``), not from
the ridges; then the phase of the pattern and its harmonics, row by row, turned back by h a psi for every a: the sum is
largest where a is the lean of the ridges, in units of that of one start (of n starts: a = n). Light and shade move
with psi as well, but little in the higher harmonics, which follow the edges of crests and roots; a tilted axis bends
the ridges evenly to both sides of the middle, which no a follows. The hand is told only if the best a is that of the
thread for one sense, clearly better than for the other, in both halves of the stretch and well beyond what the axis is
uncertain by.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from threads.shared.refusal import Reason
from vision.locate.repeating import SAMPLES, Repeating, find_repeating
from vision.pictures.picture import Picture

Array = npt.NDArray[np.float64]

RIGHT, LEFT, NOT_DETERMINED = "right", "left", "not determined"

_LEANS = np.linspace(-5.0, 5.0, 201)  # leans tried, in units of that of one start
_HARMONICS = ((1, 0.5), (2, 1.0), (3, 1.0), (4, 1.0))  # and how much each counts: shade moves the first one most
_FRONT = 1.2  # radians from the middle of the front: near the outline ridges hide each other
_MOST_TILT = 0.25  # radians, of the axis toward the camera: it bends the ridges
_CREDIBLE = (0.5, 1.6)  # lean of a thread in units of its own; drawn threads in any light: 0.7 to 1.5 mostly
_CREDIBLE_HALF = (0.35, 1.9)  # the same for one half of the stretch, which tells less
_LEAST_CLEARNESS = 1.25  # how many times better one sense must fit than the other
_LEAST_COHERENCE = 0.5  # of the pattern, 1 where it follows the lean everywhere
_AXIS_WITHIN = 0.35  # of the lean: single repeats may point so far from their mean,
_EDGES_WITHIN = 0.6  # and the edges of the stretch run so far from the axis
_SLENDER = (3.0, 30.0)  # diameters of threads in pitches


@dataclass(frozen=True)
class HandReading:
    """The hand as read from a picture of the surface.

    Attributes:
        hand: "right", "left" or "not determined".
        lean: of the ridges, as a multiple of what a thread of this pitch, diameter and number of starts has, positive
            for a right hand; None where nothing repeats.
        clearness: how many times better the pattern follows this sense than the other; it is told from 1.25 on.
        why: why the hand is not determined; None where it is.
    """

    hand: str
    lean: float | None
    clearness: float
    why: Reason | None


def read_hand(picture: Picture, *, starts: int = 1) -> HandReading:
    """The hand of the thread in a picture of its surface, lit from the front.

    Args:
        picture: the thread seen from the side, four threads or more, its axis in any direction.
        starts: of the thread, if known.

    Not to be believed for a picture that was mirrored, as some phones and microscopes do. A shadow alone, a plain part
    or a picture of anything else gives "not determined".

    Of 700 drawn threads of one start, tilted up to 8 degrees, in light that nobody chose for it, 84 % were told and
    none wrongly (``benchmarks.hand``): with 95 % confidence under 1 % of such pictures mislead.
    """
    return _judged([_reading(stretch, starts) for stretch in find_repeating(picture.light)])


def _judged(readings: list[HandReading]) -> HandReading:
    determined = [reading for reading in readings if reading.hand != NOT_DETERMINED]
    if len({reading.hand for reading in determined}) > 1:
        return HandReading(NOT_DETERMINED, None, 1.0, Reason("hand_unread.both_ways"))
    if determined:
        return max(determined, key=lambda reading: reading.clearness)
    if readings:
        return readings[0]
    return HandReading(NOT_DETERMINED, None, 1.0, Reason("hand_unread.not_lit"))


def _reading(found: Repeating, starts: int) -> HandReading:
    """The reading of one stretch."""
    lean, clearness, coherence = _lean(found, found.start, found.pitches)
    half = found.pitches // 2
    halves = [_lean(found, start, half)[0] for start in (found.start, found.start + (found.pitches - half) * SAMPLES)]
    lean, halves = lean / starts, [h / starts for h in halves]
    width = (found.last - found.first + 1) / SAMPLES
    # of the ridges against a plane across the axis, radians, at about the pitch diameter
    expected = starts / (np.pi * 0.87 * width)
    sense = 1.0 if lean > 0 else -1.0
    doubts = (
        (_SLENDER[0] <= width <= _SLENDER[1], Reason("hand_unread.no_thread")),
        (
            float(np.abs(found.turns[1:]).max()) < _AXIS_WITHIN * expected
            and abs(found.slope) < _EDGES_WITHIN * expected,
            Reason("hand_unread.axis"),
        ),
        (
            _CREDIBLE[0] <= sense * lean <= _CREDIBLE[1]
            and all(_CREDIBLE_HALF[0] <= sense * h <= _CREDIBLE_HALF[1] for h in halves),
            Reason("hand_unread.lean", times=abs(lean)),
        ),
        (clearness >= _LEAST_CLEARNESS and coherence >= _LEAST_COHERENCE, Reason("hand_unread.light")),
    )
    why = next((reason for holds, reason in doubts if not holds), None)
    hand = NOT_DETERMINED if why else RIGHT if lean > 0 else LEFT
    return HandReading(hand, lean, clearness, why)


def _lean(found: Repeating, start: int, pitches: int) -> tuple[float, float, float]:
    """Lean of the ridges in units of one start, how much better it is followed than its opposite, and how well."""
    follow = _following(found, start, pitches)
    top = int(follow.argmax())
    other = float(follow[np.abs(_LEANS + _LEANS[top]) < 0.5].max())
    return float(_LEANS[top]), float(follow[top]) / max(other, 1e-12), float(follow[top])


def _following(found: Repeating, start: int, pitches: int) -> Array:
    """How well the pattern follows each of _LEANS round the front of the part, 0 to 1, with the bend that suits it."""
    rows = np.arange(found.first, found.last + 1)
    radius = (found.last - found.first + 1) / 2
    psi = np.arcsin((rows - (found.first + found.last) / 2) / radius)
    front = np.abs(psi) < _FRONT
    most = 2 * np.pi * radius / SAMPLES * np.sin(_MOST_TILT)
    bends = np.linspace(-most, most, 2 * int(np.ceil(most / 0.3)) + 1)
    columns = np.arange(start, start + pitches * SAMPLES)
    part = found.shades[rows[front]][:, columns] * np.hanning(columns.size + 2)[1:-1]
    total, follow = 1e-12, np.zeros((_LEANS.size, bends.size))
    for harmonic, counts in _HARMONICS:
        wave = part @ np.exp(-2j * np.pi * harmonic * columns / SAMPLES)
        wave = counts * wave / np.sqrt(np.abs(wave) + 1e-12)  # bright rows shall not say it all
        leant = np.exp(1j * harmonic * np.outer(_LEANS, psi[front])) * wave
        follow += np.abs(leant @ np.exp(1j * harmonic * np.outer(np.cos(psi[front]), bends)))
        total += float(np.abs(wave).sum())
    return np.asarray(follow.max(axis=1) / total)
