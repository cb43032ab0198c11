"""Two overlapping outlines of one part joined: the shift between them to a part of a pixel, and how sure it is."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from threads.shared.refusal import RefusalError
from vision.part.axis_view import AxisView
from vision.part.marks import faces_of
from vision.result.measurement import Measurement
from vision.several.limits import LIMITS
from vision.shared.robust import GEMAN_MCCLURE, OUTLIER, fit_linear, inliers

Array = npt.NDArray[np.float64]

_ALONG = 0.97  # of the normal across the axis: crests and plain lengths
_NEAR_PX = 2.0  # the two outlines lie so near each other where they are one
_GAP_PX = 0.15  # scale of the gaps between two outlines laid on each other: some scatters of the edge finder
_LEAST_RIDGES = 4  # in both pictures
_SAME_FACE_PX = 4.0  # by which the radius of a face may differ
_NEAR_FACE_PX = 12.0  # by which its place may
_LEAST_POINTS = 40  # in the overlap
_FINDER_U_PX = 0.01  # what the edge finder may be off by between two pictures
_BLOCKS = 10  # of the overlap, whose disagreement is the noise of the shift
_MOST_SCALE = 0.002  # of the radius by which two pictures may differ: another distance or focus
_MOST_SCALE_PX = 1.0  # and so many px


@dataclass(frozen=True)
class Registration:
    """How the right outline lies on the left one (px, radians): u' = u + shift, w' = w + across + turn u'.

    Attributes:
        shift, shift_u: along the axis, and its standard uncertainty.
        across, turn: across it, and the small turn.
        ridges: ridges of the thread that both pictures show and by which the shift was found; 0 where it was found
            from faces, cones or other edges.
        misfit: root mean square distance of the two outlines in the overlap.
    """

    shift: float
    shift_u: float
    across: float
    turn: float
    ridges: int
    misfit: float


def register(
    left: AxisView,
    right: AxisView,
    shift: float,
    measured: tuple[Measurement | None, Measurement | None],
    names: tuple[str, str],
) -> Registration:
    """Lay ``right`` over ``left``, starting from ``shift`` (px).

    Ridges are compared as the fitted helix has them, each with its own pitch error, so that a near camera, which sees
    their flanks from other sides in the two pictures, does not move them. Without a thread in both, faces are compared,
    their rims taken out; without any, edge points are laid on the other outline along its normals.

    Raises RefusalError: joint_ambiguous where nothing in the overlap fixes the shift, different_scale.
    """
    ridges = _ridge_shifts(measured, shift)
    if ridges.size >= _LEAST_RIDGES:
        shift = float(np.median(ridges))
        good = inliers(ridges - shift, OUTLIER, 0.3)
        shift = float(ridges[good].mean())
        noise = float(ridges[good].std(ddof=1) / np.sqrt(good.sum())) if good.sum() > 1 else 0.1
        pairs = _pairs(left, right, shift)
    elif (faces := _face_shifts(left, right, shift)).size:
        weight = 1 / faces[:, 1] ** 2
        shift = float(np.sum(faces[:, 0] * weight) / weight.sum())
        spread = float(np.sqrt(np.sum(weight * (faces[:, 0] - shift) ** 2) / max(len(faces) - 1, 1)))
        noise = max(spread, 1.0) / float(np.sqrt(weight.sum()))
        pairs = _pairs(left, right, shift)
    else:
        shift, noise, pairs = _aligned(left, right, shift, names)
    across, turn, radius_gap = _across(pairs, names)
    radius = float(np.median(np.abs(pairs.w)))
    if abs(2 * radius_gap) > _MOST_SCALE_PX + _MOST_SCALE * 2 * radius:
        raise RefusalError(
            "different_scale.joint", first=names[0], second=names[1], percent=100 * abs(radius_gap) / radius
        )
    gap = pairs.gap - pairs.normal[:, 1] * (across + turn * pairs.u + np.sign(pairs.w) * radius_gap)
    misfit = float(np.sqrt(np.mean(np.minimum(gap**2, _NEAR_PX**2))))
    return Registration(shift, float(np.hypot(noise, _FINDER_U_PX)), across, turn, int(ridges.size), misfit)


def _ridge_shifts(measured: tuple[Measurement | None, Measurement | None], shift: float) -> Array:
    """The shift from each ridge that both pictures show, px."""
    if measured[0] is None or measured[1] is None:
        return np.empty(0)
    mm = measured[0].solution.seen.px_mm
    places = []
    for m in measured:
        assert m is not None
        ridges = [r for r in m.thread.per_thread if r.edge != 0]
        at = [(m.solution.start + r.position + r.pitch_error) / mm for r in ridges]
        places.append((np.array(at), np.array([r.edge for r in ridges])))
    (a, side_a), (b, side_b) = places
    if not a.size or not b.size:
        return np.empty(0)
    pitch = measured[0].thread.pitch.value / mm
    out = []
    for at, side in zip(b, side_b, strict=True):
        same = np.flatnonzero(side_a == side)
        if not same.size:
            continue
        nearest = same[np.argmin(np.abs(a[same] - at - shift))]
        if abs(a[nearest] - at - shift) < LIMITS.same_ridge * pitch:
            out.append(a[nearest] - at)
    return np.array(out)


def _face_shifts(left: AxisView, right: AxisView, shift: float) -> Array:
    """(n, 2) the shift from each face that both pictures show, and its standard uncertainty, px."""
    there = faces_of(left)
    out = []
    for face in faces_of(right):
        like = [
            f for f in there
            if f.outward == face.outward
            and abs(f.radius - face.radius) < _SAME_FACE_PX + LIMITS.same_face * face.radius
            and abs(f.u - face.u - shift) < _NEAR_FACE_PX
        ]  # fmt: skip
        if len(like) == 1:
            out.append((like[0].u - face.u, float(np.hypot(like[0].noise, face.noise))))
    return np.array(out).reshape(-1, 2)


@dataclass(frozen=True)
class _Pairs:
    """Points of the right outline beside their nearest ones of the left: place, normal, distance along it (px)."""

    u: Array
    w: Array
    normal: Array
    gap: Array


def _pairs(left: AxisView, right: AxisView, shift: float) -> _Pairs:
    from scipy.spatial import cKDTree

    moved = right.points + np.array([shift, 0.0])
    low, high = float(moved[:, 0].min()), float(left.points[:, 0].max())
    beyond, within = LIMITS.overlap_margin
    a = (left.points[:, 0] > low - beyond) & (left.points[:, 0] < high + beyond)
    b = (moved[:, 0] > low + within) & (moved[:, 0] < high - within)
    if a.sum() < _LEAST_POINTS or b.sum() < _LEAST_POINTS:
        return _Pairs(np.empty(0), np.empty(0), np.empty((0, 2)), np.empty(0))
    _, nearest = cKDTree(left.points[a]).query(moved[b])
    there, normal = left.points[a][nearest], left.normal[a][nearest]
    gap = ((there - moved[b]) * normal).sum(axis=1)
    near = (np.abs(gap) < 4 * _NEAR_PX) & ((normal * right.normal[b]).sum(axis=1) > LIMITS.facing)
    return _Pairs(moved[b][near, 0], moved[b][near, 1], normal[near], gap[near])


def _aligned(left: AxisView, right: AxisView, shift: float, names: tuple[str, str]) -> tuple[float, float, _Pairs]:
    """The shift that aligns the outlines best, its noise, and the pairs there."""
    pairs = _pairs(left, right, shift)
    noise = np.inf
    for _ in range(12):
        along = pairs.normal[:, 0]
        if pairs.u.size < _LEAST_POINTS or float((along**2).sum()) < LIMITS.least_along:
            raise _ambiguous(names)
        upward = np.sign(pairs.w)
        design = np.stack([along, pairs.normal[:, 1], pairs.normal[:, 1] * (pairs.u - pairs.u.mean()),
                           pairs.normal[:, 1] * upward], axis=1)  # fmt: skip
        weight = np.sqrt(GEMAN_MCCLURE.weights(pairs.gap, _GAP_PX))
        step, *_ = np.linalg.lstsq(design * weight[:, None], pairs.gap * weight, rcond=None)
        miss = pairs.gap - design @ step
        noise = _block_noise(pairs.u, along, miss)
        shift += float(step[0])
        pairs = _pairs(left, right, shift)
        if abs(step[0]) < LIMITS.settled_px:
            break
    if noise > 1.0:
        raise _ambiguous(names)
    return shift, noise, pairs


def _block_noise(u: Array, along: Array, miss: Array) -> float:
    """Noise of the shift from how blocks of the overlap disagree: neighbouring points go together."""
    block = np.clip(((u - u.min()) / max(np.ptp(u), 1e-9) * _BLOCKS).astype(int), 0, _BLOCKS - 1)
    power = np.bincount(block, weights=along**2, minlength=_BLOCKS)
    pull = np.bincount(block, weights=along * miss, minlength=_BLOCKS)
    return float(np.sqrt((pull**2).sum()) / max(power.sum(), 1e-9))


def _across(pairs: _Pairs, names: tuple[str, str]) -> tuple[float, float, float]:
    """Shift across the axis, turn, and by how much the radii differ, from crests and plain lengths."""
    flat = np.abs(pairs.normal[:, 1]) > _ALONG
    if flat.sum() < _LEAST_POINTS or len(set(np.sign(pairs.w[flat]))) < 2:
        raise RefusalError("no_overlap.joint", first=names[0], second=names[1])
    u, upward = pairs.u[flat], np.sign(pairs.w[flat])
    gap = pairs.gap[flat] * np.sign(pairs.normal[flat, 1])
    design = np.stack([np.ones_like(u), u, upward], axis=1)
    coef = fit_linear(design, gap, least=0.01, loss=GEMAN_MCCLURE).coefficients
    return float(coef[0]), float(coef[1]), float(coef[2])


def _ambiguous(names: tuple[str, str]) -> RefusalError:
    return RefusalError("joint_ambiguous.nothing_seen", first=names[0], second=names[1])
