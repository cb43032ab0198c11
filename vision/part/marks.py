"""Where sections of a part begin and end: faces seen edge-on, corners between two lines, and less clear ones.

A face square to the axis is seen as a line only from exactly beside it. Seen under the obliquity T (sine of the angle
between the line of sight and the face) its rim of radius R stands out by |T| y, y = sqrt(R^2 - w^2), outward whichever
way it leans: half of the rim always does (derived here; with T taken where the rim is seen, and not where its axis is,
this holds to second order before a near camera too). That is taken out point by point.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from vision.part.axis_view import AxisView
from vision.part.limits import LIMITS
from vision.shared.correlation import correlation_length
from vision.shared.robust import OUTLIER, inliers

Array = npt.NDArray[np.float64]

_SQUARE = 0.97  # of the normal along the axis: within 14 deg
_CORNER = 0.88  # of the normal on the rounded rim; on a chamfer of 45 deg it stays under 0.71
_LEAST_POINTS = 8  # of a face
_LEAST_RISE_PX = 3.0  # of a face: a lower one is a burr
_CLEAR_RISE_PX = 10.0  # of a face that is looked for without a hint
_NEAR_LEFT = 0.005  # of how far a rim stands out before a near camera: what second order leaves
_FACE_U_PX = 0.015
"""What rounded corners leave in the place of a large face, standard uncertainty (measured on rendered pictures)."""


@dataclass(frozen=True)
class Mark:
    """A place on the axis (px).

    Attributes:
        u: position along the axis.
        noise: its standard uncertainty from what is seen.
        outward: +1 or -1 for a face, the side that it faces; 0 for a corner between two lines.
        radius: outermost radius of a face; 0 for a corner.
        rise: how much of the radius of a face is seen.
        lean: obliquity of a face that is turned to the camera, 0 of any other.
        mirrored: by how much a polished face that is turned to the camera may look cut back: the camera sees the light
            pad in it, and the part seems to end at the farther half of its rim.
    """

    u: float
    noise: float
    outward: int
    radius: float
    rise: float = 0.0
    lean: float = 0.0
    mirrored: float = 0.0


def face_near(
    view: AxisView, u: float, reach: float, *, outward: int = 0, within: float = np.inf, rim: float = 0.0
) -> Mark | None:
    """The face near ``u``, or None where there is none.

    Args:
        view: the outline.
        u: where it is looked for, px.
        reach: how far to both sides, px.
        outward: +1 or -1 to take only faces that face that side of the axis; 0 for either.
        within: only points nearer to the axis than this, px.
        rim: radius of the face where it is known, px.
    """
    points, normal = view.points, view.normal
    near = (np.abs(points[:, 0] - u) < reach) & (np.abs(normal[:, 0]) > _SQUARE) & (np.abs(points[:, 1]) < within)
    side = outward or int(np.sign(np.sum(np.sign(normal[near, 0]))))
    near &= np.sign(normal[:, 0]) == side
    corner = (np.abs(points[:, 0] - u) < reach) & (side * normal[:, 0] > _CORNER) & (np.abs(points[:, 1]) < within)
    if side == 0 or near.sum() < _LEAST_POINTS:
        return None
    at, w = points[near, 0], points[near, 1]
    height = np.abs(w)
    if float(np.ptp(height)) < _LEAST_RISE_PX:
        return None
    # blur rounds the corners: they are left out where enough is left between them
    low, high = float(height.min()), float(height.max())
    clear = min(2.0 * view.blur_px, (high - low) / 4)
    inner = low if low < LIMITS.center_clear * high else low + clear
    between = (height >= inner) & (height <= high - clear)
    at, w, near = at[between], w[between], np.flatnonzero(near)[between]
    rim = max(rim, float(np.abs(points[corner, 1]).max()) + 0.8 * view.blur_px)
    stands_out = rim * np.sqrt(np.maximum(1 - (w / rim) ** 2, 0.0))
    # what of the rim is nearer to the camera is seen farther from the axis than it is
    nearer = -np.sign(view.oblique[near]) * side * view.nearness * stands_out
    stands_out = rim * np.sqrt(np.maximum(1 - (w * (1 - nearer) / rim) ** 2, 0.0))
    flat = at - side * np.abs(view.oblique[near]) * stands_out
    centre = float(np.median(flat))
    good = inliers(flat - centre, OUTLIER, 2.0)
    order = np.argsort(w[good])
    x, y = w[good][order], flat[good][order]
    if min((x > 0).sum(), (x < 0).sum()) >= LIMITS.face_points:
        design = np.stack([np.ones_like(x), x], axis=1)
        coef, *_ = np.linalg.lstsq(design, y, rcond=None)
        miss = y - design @ coef
        centre = float(coef[0])
    else:
        centre = float(y.mean())
        miss = y - centre
    scatter = float(np.sqrt(np.mean(miss**2) * correlation_length(miss) / x.size))
    bulge = float(stands_out.mean())
    # the rim's radius is known to half a pixel
    unsure = 0.5 * float(np.abs(view.oblique[near]).mean()) * rim / max(bulge, 1.0)
    rounded = float(np.hypot(_FACE_U_PX, 0.5 * view.blur_px / (high - low)))
    left = _NEAR_LEFT * bulge * float(np.abs(view.oblique[near]).mean()) if view.nearness else 0.0
    noise = float(np.sqrt(scatter**2 + (view.oblique_u * bulge) ** 2 + unsure**2 + rounded**2 + left**2))
    turned = np.maximum(view.oblique[near] * side, 0.0)
    return Mark(
        centre,
        noise,
        side,
        rim,
        high - low,
        lean=float(turned.mean()),
        mirrored=2 * float((turned * stands_out).mean()),
    )


def faces_of(view: AxisView) -> list[Mark]:
    """All faces square to the axis that rise by ten pixels or more, from left to right."""
    found: list[Mark] = []
    for outward in (-1, 1):
        on = (outward * view.normal[:, 0] > _SQUARE) & (np.abs(view.points[:, 1]) > 0)
        at = np.sort(view.points[on, 0])
        if not at.size:
            continue
        for group in np.split(at, np.flatnonzero(np.diff(at) > LIMITS.face_gap) + 1):
            if group.size < 2 * _LEAST_POINTS:
                continue
            middle = (float(group[0]) + float(group[-1])) / 2
            face = face_near(view, middle, float(np.ptp(group)) / 2 + 3.0, outward=outward)
            if face is not None and face.rise > _CLEAR_RISE_PX:
                found.append(face)
    return sorted(found, key=lambda face: face.u)


def tip(view: AxisView, *, right: bool) -> Mark:
    """The outermost point of the part at one end: a point or a dome, which blur makes a little shorter."""
    u = float(view.points[:, 0].max() if right else view.points[:, 0].min())
    return Mark(u, 0.5 * view.blur_px, 1 if right else -1, 0.0)
