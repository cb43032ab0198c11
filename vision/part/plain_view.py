"""The outline of a part without a measured thread in view, as seen along its own axis."""

from __future__ import annotations

import numpy as np
import numpy.typing as npt

from threads.shared.refusal import RefusalError
from vision.locate.frame import Frame
from vision.locate.threaded import edges_along
from vision.outline.edges import find_edges
from vision.outline.silhouette import find_silhouette
from vision.part.axis_view import AxisView
from vision.part.limits import LIMITS
from vision.part.part_outline import near_border
from vision.pictures.picture import Picture
from vision.shared.plane import PlaneMap
from vision.shared.robust import GEMAN_MCCLURE, fit_linear

Array = npt.NDArray[np.float64]

_STEEPEST_UP = np.radians(80.0)  # u of a part that stands runs down, not up
_OTHER_TILT = np.radians(0.15)
"""By how much the tilt may differ between pictures of one part moved along, standard uncertainty (workshop
assumption)."""


def view_plain(picture: Picture, plane: PlaneMap, px_mm: float, tilt: float = 0.0, nearness: float = 0.0) -> AxisView:
    """The outline along the middle between its two edges.

    Args:
        picture: of one part.
        plane: the calibrated bench.
        px_mm: size of a pixel.
        tilt: sine of the tilt of the axis, as other pictures of the part have it.
        nearness: 1 / distance of the camera, 1/px.

    Raises RefusalError: what find_silhouette refuses; no_part where the outline has not two long edges.
    """
    silhouette = find_silhouette(picture)
    edges = find_edges(silhouette)
    points = plane.undistort(edges.xy) - plane.edge_offset_px * edges.normal
    if points.shape[0] < LIMITS.view_points:
        raise RefusalError("no_part.view", picture=picture.path)
    x, y = edges.normal[:, 0], edges.normal[:, 1]
    # the normals of long edges stand square to the axis
    angle = 0.5 * float(np.arctan2(np.sum(2 * x * y), np.sum(x * x - y * y))) + np.pi / 2
    angle = (angle + _STEEPEST_UP) % np.pi - _STEEPEST_UP
    frame = Frame((float(points[:, 0].mean()), float(points[:, 1].mean())), angle)
    for _ in range(3):
        u, upper, lower = edges_along(points, frame, edges.normal)
        middle = (upper + lower) / 2
        known = np.isfinite(middle)
        if known.sum() < LIMITS.view_columns:
            raise RefusalError("no_part.view_edges", picture=picture.path)
        offset, slope = _line(u[known], middle[known])
        origin = frame.to_picture(np.array([[0.0, offset]]))[0]
        frame = Frame((float(origin[0]), float(origin[1])), frame.angle - float(np.arctan(slope)))
    c, s = np.cos(frame.angle), np.sin(frame.angle)
    centre_px = np.array([[(picture.width_px - 1) / 2, (picture.height_px - 1) / 2]])
    middle_of_picture = float(frame.to_frame(centre_px)[0, 0])
    along = frame.to_frame(points)
    border = along[near_border(edges.xy, (picture.width_px, picture.height_px)), 0]
    centre = (float(along[:, 0].min()) + float(along[:, 0].max())) / 2
    return AxisView(
        along,
        np.stack([c * x + s * y, s * x - c * y], axis=1),
        tilt - nearness * (along[:, 0] - middle_of_picture),
        float(_OTHER_TILT),
        float(np.sqrt(1 - tilt**2)),
        nearness,
        px_mm,
        float(np.median(edges.blur_px)),
        (not bool((border < centre).any()), not bool((border > centre).any())),
        frame,
    )


def _line(u: Array, w: Array) -> tuple[float, float]:
    """Height at u = 0 and slope of the line that most of the points follow."""
    design = np.stack([np.ones_like(u), u], axis=1)
    coef = fit_linear(design, w, least=0.02, loss=GEMAN_MCCLURE).coefficients
    return float(coef[0]), float(coef[1])
