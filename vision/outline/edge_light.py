"""The light on both sides of the outline: a pad that is burnt out there, a flank that shines inside its edge.

Either moves the half level between pad and part, and the edge with it: a burnt pad outward, a shine inward.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from threads.shared.refusal import Reason, RefusalError
from vision.outline.edges import EdgePoints
from vision.outline.limits import LIMITS
from vision.outline.silhouette import Silhouette, sample
from vision.pictures.picture import Picture
from vision.shared.opencv import cv2
from vision.shared.robust import median

Array = npt.NDArray[np.float64]
Bool = npt.NDArray[np.bool_]
F32 = npt.NDArray[np.float32]

_BURNT = 0.3  # of the pad's pixels near by: with less, noise alone reaches full white
_SHINE = 0.08  # of the contrast
_BLOCK = 4  # px: light beside the outline is judged on blocks of so many
_MOST_BURNT = 0.6  # of the outline beside burnt-out pad: too little is left to take the level from
_MOST_SHINING = 0.12  # of the outline that is seen to shine: half of it does, narrow shines drown in the blur
_LENS_LEAVES = 0.05  # of the outline: more shines although the lens brings light round crests
_PLACE, _EVERY = 400, 10  # edge points that are about one, and at how many of them that is looked at
_SECTORS, _LEAST_SECTOR, _LEAST_SECTORS, _SECTORS_OF_BOTH = 24, 30, 4, 12
"""Directions in which an edge may face, 15 degrees each; points of one that counts; how many must; and how many for
coma that varies three times round as well: opposite edges differ in whatever varies an odd number of times."""
_REACH = 41  # blocks of the pad that count as near by


@dataclass(frozen=True)
class EdgeLight:
    """For each edge point whether the pad before it is burnt out, and whether the part shines there; (n,) each."""

    burnt: Bool
    shining: Bool


def light_at_edges(picture: Picture, silhouette: Silhouette, edges: EdgePoints) -> EdgeLight:
    """Look at the light beside and inside the outline; before a dark ground nothing is burnt or shines.

    Raises RefusalError: saturated or glare, where too much of the outline has it.
    """
    n = edges.xy.shape[0]
    if not silhouette.bright_background or n == 0:
        return EdgeLight(np.zeros(n, np.bool_), np.zeros(n, np.bool_))
    light = EdgeLight(_burnt(picture, silhouette, edges), _shining(silhouette, edges))
    burnt, shining = float(light.burnt.mean()), float(light.shining.mean())
    if burnt > _MOST_BURNT:
        raise RefusalError("saturated.along_outline", percent=100 * burnt)
    if shining > _MOST_SHINING:
        raise RefusalError("glare.refused", percent=100 * shining)
    return light


def light_doubts(light: EdgeLight, *, blurred: bool = False) -> tuple[Reason, ...]:
    """Warnings for burnt light and for flanks that shine; a lens may have ``blurred`` some there."""
    burnt, shining = float(light.burnt.mean()), float(light.shining.mean())
    out = []
    if burnt > LIMITS.stray_burnt:
        out.append(Reason("burnt_edges", percent=100 * burnt))
    if shining > (_LENS_LEAVES if blurred else LIMITS.stray_burnt):
        out.append(Reason("glare", percent=100 * shining))
    return tuple(out)


def _burnt(picture: Picture, silhouette: Silhouette, edges: EdgePoints) -> Bool:
    if silhouette.clipped < LIMITS.clipped_noise:
        return np.zeros(edges.xy.shape[0], np.bool_)
    rows, columns = silhouette.region.shape
    full = (picture.light[: rows * _BLOCK, : columns * _BLOCK] >= LIMITS.full_scale).astype(np.float32)
    share = np.asarray(cv2.resize(full, (columns, rows), interpolation=cv2.INTER_AREA), np.float32)
    clear = 1 - np.asarray(cv2.dilate(silhouette.region, np.ones((5, 5), np.uint8)), np.float32)
    size = (_REACH, _REACH)
    weight = np.maximum(cv2.blur(clear, size), 1e-6)
    local = np.asarray(cv2.blur(share * clear, size) / weight, np.float32)
    x, y = (edges.xy + 0.5).T / _BLOCK - 0.5
    return np.asarray(sample(local, x, y, cv2.INTER_LINEAR) > _BURNT)


def _shining(silhouette: Silhouette, edges: EdgePoints) -> Bool:
    """Brighter just inside the edge than deeper in the part, by more than blur makes it.

    Blur takes from the light outside what it adds inside; a shine does not.
    """
    typical = median(edges.blur_px)
    # the blur of the place, not of the point, which may itself shine
    blur = np.clip(1.1 * _of_the_place(edges.blur_px), 0.8 * typical, 3 * typical)
    outer, inner = silhouette.level(edges.xy[:, 0], edges.xy[:, 1])
    span = np.where(np.abs(outer - inner) < 1e-6, 1e-6, outer - inner)

    def light(distance: npt.NDArray[np.float64]) -> F32:
        x, y = (edges.xy + distance[:, None] * edges.normal).T
        return np.asarray((sample(silhouette.smooth, x, y, cv2.INTER_LINEAR) - inner) / span, np.float32)

    near, deep, missing = light(-1.9 * blur), light(-1.9 * blur - 5), np.maximum(1 - light(1.9 * blur), 0)
    missing = missing + _coma(near - missing, edges.normal)
    # through a thin ridge one comes near its other edge: there it grows brighter with depth
    bright = (near > missing + _SHINE) & (near > deep + 0.5 * _SHINE)
    return _in_runs(np.asarray(bright, np.bool_))


def _coma(excess: F32, normal: Array) -> Array:
    """What of the ``excess`` of light inside the edge (n,) the lens makes: opposite edges lack as much of it.

    Coma smears one way: light that it brings inside one edge it takes from inside the opposite one. A part that shines
    takes nothing from anywhere: what is on average over all directions is no coma, and as much of the rest.
    """
    sector = (np.arctan2(normal[:, 1], normal[:, 0]) / (2 * np.pi) * _SECTORS + 0.5).astype(np.intp) % _SECTORS
    kept = np.flatnonzero(np.bincount(sector, minlength=_SECTORS) >= _LEAST_SECTOR)
    if kept.size < _LEAST_SECTORS:
        return np.zeros(excess.size)
    usual = np.array([median(excess[sector == i]) for i in kept])
    orders = (1, 3) if kept.size >= _SECTORS_OF_BOTH else (1,)

    def opposed(turn: Array) -> Array:
        return np.stack([wave(m * turn) for m in orders for wave in (np.cos, np.sin)], axis=-1)

    turn = 2 * np.pi * kept / _SECTORS
    *of_lens, mean = np.linalg.lstsq(np.column_stack([opposed(turn), np.ones(kept.size)]), usual)[0]
    share = max(1 - abs(mean) / max(float(np.hypot(*of_lens[:2])), 1e-9), 0.0)
    return np.asarray(np.maximum(share * (opposed(np.arctan2(normal[:, 1], normal[:, 0])) @ of_lens), 0.0))


def _of_the_place(blur: Array) -> Array:
    """The lower quartile of ``blur`` (n,) among the 401 points about each, round a closed outline.

    Taken at every tenth point and joined by straight lines: neighbours share nearly all of their points.
    """
    half = min(_PLACE, blur.size) // 2
    round_it = np.concatenate([blur[blur.size - half :], blur, blur[:half]])
    windows = np.lib.stride_tricks.sliding_window_view(round_it, 2 * half + 1)[::_EVERY]
    quarter = (2 * half + 1) // 4
    at = np.arange(windows.shape[0]) * _EVERY
    low = np.partition(windows, quarter, axis=1)[:, quarter]
    return np.interp(np.arange(blur.size), at, low, period=blur.size)


def _in_runs(mark: Bool, least: int = 5) -> Bool:
    """Those marks that stand in runs of ``least`` and more."""
    edge = np.diff(np.concatenate([[0], mark.astype(np.int8), [0]]))
    out = mark.copy()
    for i, j in zip(np.flatnonzero(edge == 1), np.flatnonzero(edge == -1), strict=True):
        if j - i < least:
            out[i:j] = False
    return out
