"""The outline of a part as seen along its own axis: u along it, w across, the axis itself at w = 0."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from vision.fit.solve import Solution
from vision.locate.frame import Frame
from vision.locate.threaded import edges_along
from vision.model.shadow import INDEX
from vision.outline.edges import EdgePoints
from vision.part.limits import LIMITS
from vision.part.profile_pieces import runs

Array = npt.NDArray[np.float64]
Bool = npt.NDArray[np.bool_]

_ONE_SIDED_PX = 2.5
"""What stands out on one edge only, by more than this against its neighbourhood, is dust or a nick."""
_FEW = 8  # every so many columns tell how wide the part usually is
_NEIGHBOURHOOD = 18  # of the few samples, to each side


@dataclass(frozen=True)
class Joint:
    """Where two pictures were joined (px along u), and the standard uncertainty of the joint."""

    u: float
    noise: float


@dataclass(frozen=True)
class AxisView:
    """Edge points in the frame of the axis, edge offset taken out.

    Attributes:
        points: (n, 2) u along and w across, px; what a near camera shows larger is set right.
        normal: (n, 2) outward normals in the same frame.
        oblique: (n,) sine of the angle between the line of sight and a plane square to the axis, at each point.
        oblique_u: its standard uncertainty.
        cos_tilt: by which lengths along the axis look shorter.
        nearness: 1 / distance of the camera, 1/px; 0 for a telecentric lens.
        px_mm: size of a pixel.
        blur_px: standard deviation of the blur, smoothing included.
        in_view: whether the -u and the +u end of the outline are ends of the part, not of the picture.
        frame: of the axis in the picture, px.
        joints: where pictures were joined.
    """

    points: Array
    normal: Array
    oblique: Array
    oblique_u: float
    cos_tilt: float
    nearness: float
    px_mm: float
    blur_px: float
    in_view: tuple[bool, bool]
    frame: Frame
    joints: tuple[Joint, ...] = ()

    def joint_noise(self, start: float, end: float) -> float:
        """Standard uncertainty of a length from ``start`` to ``end`` (px along u) that comes from joints, px."""
        low, high = min(start, end), max(start, end)
        return float(np.sqrt(sum(j.noise**2 for j in self.joints if low < j.u < high)))


@dataclass(frozen=True)
class Profile:
    """Heights of both edges along the axis, one sample a px.

    Attributes:
        u: (m,) positions, px.
        upper, lower: (m,) heights of the edges, px, NaN where missing.
        radius: (m,) half their distance, NaN where one edge is dirty. Where only one edge is in view, its distance from
            the axis.
    """

    u: Array
    upper: Array
    lower: Array
    radius: Array


def along_axis(
    edges: EdgePoints, undistorted: Array, solution: Solution, edge_offset_px: float, in_view: tuple[bool, bool]
) -> AxisView:
    """The outline in the frame of the fitted thread.

    Args:
        edges: edge points of the whole part.
        undistorted: (n, 2) their positions with the lens distortion taken out, px.
        solution: the fitted thread.
        edge_offset_px: of the calibration.
        in_view: which ends of the outline (-u, +u) are ends of the part.
    """
    x, mm = solution.fit.x, solution.seen.px_mm
    origin = solution.frame.to_picture(np.array([[0.0, x[INDEX["offset"]]]]))[0] / mm
    # w points up while angles turn clockwise on the screen
    frame = Frame((float(origin[0]), float(origin[1])), solution.frame.angle - float(x[INDEX["rotation"]]))
    points = frame.to_frame(undistorted - edge_offset_px * edges.normal)
    c, s = np.cos(frame.angle), np.sin(frame.angle)
    normal = np.stack([c * edges.normal[:, 0] + s * edges.normal[:, 1],
                       s * edges.normal[:, 0] - c * edges.normal[:, 1]], axis=1)  # fmt: skip
    near, tilt = float(x[INDEX["nearness"]]), float(np.clip(x[INDEX["tilt"]], -0.9, 0.9))
    # along a tilted axis what stands nearer is seen larger, away from the optical axis
    centre = np.array([solution.seen.centre[0], 0.0]) / mm
    points = centre + (points - centre) / (1 + near * tilt * (points[:, :1] - centre[0]) * mm)
    oblique = tilt - near * (points[:, 0] * mm - solution.seen.centre[0])
    return AxisView(
        points,
        normal,
        oblique,
        _tilt_u(solution),
        float(np.sqrt(1 - tilt**2)),
        near * mm,
        mm,
        float(np.median(edges.blur_px)),
        in_view,
        frame,
    )


def _tilt_u(solution: Solution) -> float:
    j = INDEX["tilt"]
    inverse = np.linalg.pinv(solution.fit.normal_matrix, hermitian=True)
    return float(solution.fit.scale * np.sqrt(max(inverse[j, j], 0.0)) * 2)  # neighbouring points go together


def profile_of(view: AxisView) -> Profile:
    """Both edges as functions of u, and the radius where both are clean.

    A part of revolution has the same profile on both edges: what bulges on one of them only is not the part's.
    """
    flip = np.array([1.0, -1.0])
    u, upper, lower = edges_along(view.points * flip, Frame((0.0, 0.0), 0.0), view.normal * flip)
    radius = (upper - lower) / 2
    middle = (upper + lower) / 2
    known = np.isfinite(middle)
    if known.sum() > LIMITS.known_points:
        radius[_one_sided(u, middle, known)] = np.nan
    # the picture may cut off one edge of a large head
    lone = np.isfinite(upper) ^ np.isfinite(lower)
    if lone.any():
        radius[lone] = np.where(np.isfinite(upper[lone]), upper[lone], -lower[lone])
    return Profile(u, upper, lower, radius)


def _one_sided(u: Array, middle: Array, known: Bool) -> Bool:
    """Where the middle between both edges leaves its neighbourhood's for a short while; margins included."""
    few = middle[known][::_FEW]
    reach = min(_NEIGHBOURHOOD, few.size // 4)
    padded = np.pad(few, reach, mode="reflect")
    usual = np.median(np.lib.stride_tricks.sliding_window_view(padded, 2 * reach + 1), axis=1)
    expected = np.interp(u, u[known][::_FEW], usual)
    off = known & (np.abs(middle - expected) > _ONE_SIDED_PX)
    out = np.zeros(u.size, bool)
    for i, j in runs(off):
        out[max(i - 3, 0) : j + 3] = True
    return out
