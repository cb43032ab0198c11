"""What is seen of a part before any thread is fitted: its silhouette and edge points. Enough to measure again.

``detect`` takes most of the time of a measurement. Whoever changes by hand where the thread ends, or leaves a burr out,
gives ``measure.measure_detected`` what was seen once.
"""

from __future__ import annotations

from dataclasses import dataclass, replace

import numpy as np
import numpy.typing as npt

from threads.shared.refusal import Reason, RefusalError
from vision.locate.seen_pitch import with_seen_pitch
from vision.locate.threaded import ThreadedLength
from vision.outline.edge_light import EdgeLight, light_at_edges
from vision.outline.edges import EdgePoints, find_edges
from vision.outline.silhouette import Silhouette, find_silhouette, own_blur
from vision.pictures.picture import Picture

Array = npt.NDArray[np.float64]

MOST_BLUR_PX = 4.1  # standard deviation of what is looked at and measured at all
_NOISY_PX = 0.02  # scatter of an edge point by noise, from which more smoothing is worth its softer corners
_OF_BLUR = 0.6  # smoothing, in blurs of the picture
_MORE = 1.2  # times the usual smoothing: less gains little
_FEWEST = 100  # edge points of a part that can be measured
_SHORTEST_PX = 20.0  # between ends set by hand


@dataclass(frozen=True, eq=False)
class DetectedPart:
    """A part in a picture: its silhouette, its edge points and the light at each."""

    picture: Picture
    silhouette: Silhouette
    edges: EdgePoints
    light: EdgeLight


@dataclass(frozen=True)
class ByHand:
    """What a person set right in the picture.

    Attributes:
        ends: two points (x, y) px; the thread is taken between them along the axis only. None: as found.
        masks: rectangles (left, top, right, bottom) px in which the outline is left out.
    """

    ends: tuple[tuple[float, float], tuple[float, float]] | None = None
    masks: tuple[tuple[float, float, float, float], ...] = ()


NOTHING_BY_HAND = ByHand()


def detect(picture: Picture, *, part: int | None = None) -> DetectedPart:
    """Find the part (``part``: which of several, from the left, from 1) and its edges.

    Raises RefusalError with the codes of ``find_silhouette``, out_of_focus, saturated or glare.
    """
    try:
        silhouette = find_silhouette(picture, part=part)
    except RefusalError as refusal:
        raise with_seen_pitch(refusal, picture) from None
    edges = find_edges(silhouette)
    _check_focus(edges, silhouette)
    best = _best_smoothing(edges, silhouette)
    if best > _MORE * silhouette.presmooth_px:
        silhouette = find_silhouette(picture, part=part, presmooth_px=best)
        edges = find_edges(silhouette)
    return DetectedPart(picture, silhouette, edges, light_at_edges(picture, silhouette, edges))


def unmasked(detected: DetectedPart, by_hand: ByHand) -> tuple[EdgePoints, EdgeLight]:
    """The edge points outside the masks, and the light at each.

    Raises RefusalError: all_masked.
    """
    if not by_hand.masks:
        return detected.edges, detected.light
    x, y = detected.edges.xy.T
    keep = np.ones(x.size, np.bool_)
    for left, top, right, bottom in by_hand.masks:
        keep &= ~((x >= left) & (x <= right) & (y >= top) & (y <= bottom))
    if keep.sum() < _FEWEST:
        raise RefusalError("all_masked")
    light = detected.light
    return detected.edges.select(keep), EdgeLight(light.burnt[keep], light.shining[keep])


def between_ends(points: Array, thread: ThreadedLength, by_hand: ByHand) -> tuple[npt.NDArray[np.intp], ThreadedLength]:
    """The indices of those ``points`` (n, 2) px between the ends set by hand, and the threaded length so shortened.

    Raises RefusalError: ends_too_near.
    """
    if by_hand.ends is None:
        return np.arange(points.shape[0]), thread
    low, high = sorted(thread.frame.to_frame(np.array(by_hand.ends))[:, 0].tolist())
    start, end = max(thread.start, low), min(thread.end, high)
    if end - start < _SHORTEST_PX:
        raise RefusalError("ends_too_near")
    u = thread.frame.to_frame(points)[:, 0]
    return np.flatnonzero((u >= low) & (u <= high)), replace(thread, start=start, end=end)


def doubts_by_hand(detected: DetectedPart, by_hand: ByHand) -> tuple[Reason, ...]:
    """Warnings about what was set by hand."""
    reasons = []
    if by_hand.ends is not None:
        reasons.append(Reason("ends_by_hand"))
    if by_hand.masks:
        left_out = 1 - unmasked(detected, by_hand)[0].xy.shape[0] / detected.edges.xy.shape[0]
        reasons.append(Reason("masked_by_hand", percent=100 * left_out))
    return tuple(reasons)


def _best_smoothing(edges: EdgePoints, silhouette: Silhouette) -> float:
    """Standard deviation of the smoothing, px, under which noise moves the edges little and corners stay sharp.

    Smoothed by p, a straight edge of blur s has (s^2 + p^2) / (2 s p) times the least variance that the noise allows
    (derived in benchmarks/bound.py): 1 at p = s, 1.13 at ``_OF_BLUR``, 2 at a fourth. Corners want less.
    """
    scatter = silhouette.grain / silhouette.contrast / float(np.median(edges.steepness))
    if scatter < _NOISY_PX:
        return silhouette.presmooth_px
    return _OF_BLUR * own_blur(float(np.median(edges.blur_px)), silhouette.presmooth_px)


def _check_focus(edges: EdgePoints, silhouette: Silhouette) -> None:
    if edges.xy.shape[0] < _FEWEST:
        raise RefusalError("out_of_focus.nothing_sharp")
    blur = own_blur(float(np.median(edges.blur_px)), silhouette.presmooth_px)
    if blur > MOST_BLUR_PX:
        raise RefusalError("out_of_focus", width_px=2.56 * blur, most_px=2.56 * MOST_BLUR_PX)
