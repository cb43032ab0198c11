"""Further threaded lengths of a part: a rod may carry a thread at both ends."""

from __future__ import annotations

import numpy as np
import numpy.typing as npt

from threads.shared.refusal import RefusalError
from vision.locate.threaded import MIN_PITCH_PX, ThreadedLength, find_threaded_length
from vision.part.axis_view import AxisView, Profile
from vision.part.limits import LIMITS
from vision.part.sections import ThreadSpan

Array = npt.NDArray[np.float64]

_LEAST_THREADS = 3.0  # beside the measured ones: fewer teeth may be anything
_SLOPING = 0.25  # share of the outline that slopes as flanks do
_BESIDE_PITCHES = 1.5  # from the main thread: its own run-out
_MOST_TURN = np.radians(3.0)  # of a second thread against the axis


def further_threads(view: AxisView, profile: Profile, main: ThreadSpan) -> list[ThreadSpan]:
    """The threads beside the measured one, and the measured one itself first.

    A length beside it counts when all that makes the outline a thread to ``find_threaded_length`` holds there and its
    axis is the same. A continuation of the same thread (dirt between) lengthens it.
    """
    found = [main]
    for from_u, to_u in ((-np.inf, main.start - _BESIDE_PITCHES * main.pitch),
                         (main.end + _BESIDE_PITCHES * main.pitch, np.inf)):  # fmt: skip
        beside = (profile.u > from_u) & (profile.u < to_u)
        if beside.sum() < _LEAST_THREADS * MIN_PITCH_PX or not _is_toothed(profile, beside):
            continue
        span = _span(view, from_u, to_u)
        if span is None:
            continue
        if _continues(span, found[0]):
            found[0] = ThreadSpan(
                min(span.start, main.start), max(span.end, main.end), main.pitch, main.crest, main.root
            )
        else:
            found.append(span)
    return found


def numbered_thread(points: Array, normal: Array, first: ThreadedLength, number: int) -> ThreadedLength:
    """The threaded length of that number, from the left (or, on a part that stands, from the top), counted from 1.

    Args:
        points: (n, 2) edge points of the whole part, px, lens distortion taken out.
        normal: (n, 2) outward normals.
        first: the threaded length that the outline shows most clearly.
        number: which one is wanted.

    Raises RefusalError: no_such_thread.
    """
    u = first.frame.to_frame(points)[:, 0]
    reach = _BESIDE_PITCHES * first.pitch
    found = [((first.start + first.end) / 2, first)]
    for beside in (u < first.start - reach, u > first.end + reach):
        if beside.sum() < 2 * _LEAST_THREADS * MIN_PITCH_PX:
            continue
        try:
            other = find_threaded_length(points[beside], first.frame.angle, normal[beside])
        except RefusalError:
            continue
        if abs(np.sin(other.frame.angle - first.frame.angle)) < np.sin(_MOST_TURN):
            middle = other.frame.to_picture(np.array([[(other.start + other.end) / 2, 0.0]]))
            found.append((float(first.frame.to_frame(middle)[0, 0]), other))
    found.sort(key=lambda place: place[0])
    if not 1 <= number <= len(found):
        raise RefusalError("no_such_thread", thread=number, threads=len(found))
    return found[number - 1][1]


def _is_toothed(profile: Profile, beside: npt.NDArray[np.bool_]) -> bool:
    """Whether much of both edges slopes as flanks do: a quick look before the search."""
    for edge in (profile.upper[beside], profile.lower[beside]):
        slope = np.abs(edge[4:] - edge[:-4]) / 4
        flattest, steepest = LIMITS.thread_slope
        if float(np.mean((slope > flattest) & (slope < steepest))) < _SLOPING:
            return False
    return True


def _span(view: AxisView, from_u: float, to_u: float) -> ThreadSpan | None:
    keep = (view.points[:, 0] > from_u) & (view.points[:, 0] < to_u)
    flip = np.array([1.0, -1.0])
    try:
        thread = find_threaded_length(view.points[keep] * flip, 0.0, view.normal[keep] * flip)
    except RefusalError:
        return None
    if abs(np.sin(thread.frame.angle)) > np.sin(_MOST_TURN) or thread.threads < _LEAST_THREADS:
        return None
    ends = thread.frame.to_picture(np.array([[thread.start, thread.offset], [thread.end, thread.offset]]))[:, 0]
    return ThreadSpan(float(ends.min()), float(ends.max()), thread.pitch, thread.crest, thread.root)


def _continues(span: ThreadSpan, main: ThreadSpan) -> bool:
    gap = max(span.start - main.end, main.start - span.end)
    pitches, pitch, crest = LIMITS.same_thread
    alike = abs(span.pitch / main.pitch - 1) < pitch and abs(span.crest / main.crest - 1) < crest
    return gap < pitches * main.pitch and alike
