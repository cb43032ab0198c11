"""Reading a gauge pin: the distance between the two edges of a plain cylinder, in pixels."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from threads.shared.refusal import RefusalError
from vision.gauges.limits import LIMITS
from vision.locate.frame import Frame
from vision.outline.edges import EdgePoints, find_edges
from vision.outline.sharpness import Sharpness, sharpness_of
from vision.outline.silhouette import Silhouette, find_silhouette
from vision.pictures.picture import Picture
from vision.shared.correlation import correlation_length
from vision.shared.robust import MAD_TO_SIGMA, MEDIAN_U, fit_linear

Array = npt.NDArray[np.float64]

_NEIGHBOURS = 3.0  # points along an edge whose blurs share their pixels
_LEAST_SCALE_PX = 1e-4  # far below what the edge finder scatters: drawn pins have no noise
EDGE_FINDER_U_PX = 0.01
"""What the edge finder may be off by on one whole edge (interpolation between pixels), measured on rendered pins."""


@dataclass(frozen=True)
class PinReading:
    """A gauge pin as read from a picture.

    Attributes:
        diameter_px: distance of the two edges, px, lens distortion taken out.
        standard_uncertainty_px: of the diameter.
        blur_px: standard deviation of the blur across the edges, the edge finder's own smoothing taken out.
        straightness_px: root mean square departure of the edges from straight lines.
        angle_deg: direction of the axis, from picture x toward picture y.
        length_px: length over which both edges were read.
        edges: (n, 2) edge points as found in the picture, px.
        side: (n,) +1 or -1 for the two edges.
        width_px, height_px: size of the picture.
        sharpness: of its edges, and the levels of the light.
        blur_u_px: standard uncertainty of the blur, from its scatter along the edges.
    """

    diameter_px: float
    standard_uncertainty_px: float
    blur_px: float
    straightness_px: float
    angle_deg: float
    length_px: float
    edges: Array
    side: Array
    width_px: int
    height_px: int
    sharpness: Sharpness | None = None
    blur_u_px: float = 0.0


def read_pin(
    picture: Picture, undistort: Callable[[Array], Array] | None = None, *, part: int | None = None
) -> PinReading:
    """Measure the diameter of the one pin in ``picture``, or of ``part`` where several parts are in view.

    Raises RefusalError: what find_silhouette refuses; no_pin, not_straight, out_of_focus.
    """
    silhouette = find_silhouette(picture, part=part)
    return read_cylinder(silhouette, find_edges(silhouette), picture, undistort)


def read_cylinder(
    silhouette: Silhouette,
    edges: EdgePoints,
    picture: Picture,
    undistort: Callable[[Array], Array] | None = None,
) -> PinReading:
    """The same from ``edges`` that were found already, or from those of a plain stretch of a part.

    Raises RefusalError: no_pin, not_straight, out_of_focus.
    """
    if edges.xy.shape[0] < LIMITS.least_points:
        raise RefusalError("no_pin")
    points = edges.xy if undistort is None else undistort(edges.xy)
    frame = Frame((float(points[:, 0].mean()), float(points[:, 1].mean())), _direction(edges.normal))
    keep = np.ones(points.shape[0], dtype=bool)
    side = np.ones(points.shape[0])
    for turn in range(8):
        uw = frame.to_frame(points)
        u, w = uw[:, 0], uw[:, 1]
        # which edge: by the direction of the outward normal across the axis
        across = np.sin(frame.angle) * edges.normal[:, 0] - np.cos(frame.angle) * edges.normal[:, 1]
        side = np.where(across > 0, 1.0, -1.0)
        first, last = _common_run(u, side, np.abs(across) > LIMITS.along_edge)
        keep = (u > first) & (u < last) & (np.abs(across) > LIMITS.along_edge)
        both, either = LIMITS.least_used
        if keep.sum() < both or min((side[keep] > 0).sum(), (side[keep] < 0).sum()) < either:
            raise RefusalError("no_pin.edges")
        design = np.stack([np.ones(keep.sum()), u[keep], side[keep]], axis=1)
        fit = fit_linear(design, w[keep], least=_LEAST_SCALE_PX, steps=10)
        coef = fit.coefficients
        frame = Frame(frame.origin, frame.angle - float(np.arctan(coef[1])))
        if turn > 0 and abs(coef[1]) < LIMITS.settled:
            break
    miss, used = fit.residual, fit.used
    straight = float(np.sqrt(np.mean(miss[used] ** 2)))
    diameter = 2 * float(coef[2])
    if diameter < LIMITS.thinnest_pin:
        raise RefusalError("no_pin.thin", width_px=diameter)
    each = edges.blur_px[keep]
    blur = float(np.median(each))
    # of a median, its neighbouring points taken as correlated
    blur_u = float(MEDIAN_U * MAD_TO_SIGMA * np.median(np.abs(each - blur)) * np.sqrt(_NEIGHBOURS / each.size)) * blur
    blur = float(np.sqrt(max(blur**2 - silhouette.presmooth_px**2, 0.0)))
    if blur > LIMITS.blurriest_pin:
        raise RefusalError("out_of_focus.pin", width_px=2.56 * blur)
    if straight > max(LIMITS.roughest_pin[0], LIMITS.roughest_pin[1] * diameter):
        raise RefusalError("not_straight")
    if used.mean() <= LIMITS.least_clean:
        raise RefusalError("not_straight.dirty")
    length = float(last - first)
    return PinReading(
        diameter,
        _uncertainty(miss[used], side[keep][used]),
        blur,
        straight,
        float(np.degrees(frame.angle)),
        length,
        edges.xy[keep][used],
        side[keep][used],
        picture.width_px,
        picture.height_px,
        sharpness_of(silhouette, edges.select(np.flatnonzero(keep)[used])),
        blur_u / max(blur, 1e-3),
    )


def _direction(normal: Array) -> float:
    """Direction of two long parallel edges from the (n, 2) normals of the outline, radians.

    The shape of what is in view says less: of a thick pin that crosses the picture little more than a square is seen.
    """
    x, y = normal[:, 0], normal[:, 1]
    across = 0.5 * np.arctan2(np.sum(2 * x * y), np.sum(x * x - y * y))
    return float(across + np.pi / 2 if across < 0 else across - np.pi / 2)


def _common_run(u: Array, side: Array, along: npt.NDArray[np.bool_]) -> tuple[float, float]:
    """Range of u in which both edges were seen, a little drawn in from the ends."""
    ends = []
    for sign in (1.0, -1.0):
        on = along & (side == sign)
        if not on.any():
            return 0.0, 0.0
        ends.append((float(np.quantile(u[on], 0.005)), float(np.quantile(u[on], 0.995))))
    first, last = max(e[0] for e in ends), min(e[1] for e in ends)
    margin = 0.03 * (last - first)
    return first + margin, last - margin


def _uncertainty(miss: Array, side: Array) -> float:
    """Standard uncertainty of the distance between both edges: correlated scatter, and the edge finder's own limit."""
    total = 2 * EDGE_FINDER_U_PX**2
    for sign in (1.0, -1.0):
        m = miss[side == sign]
        m = m - m.mean()
        variance = float(m @ m) / m.size
        total += variance * correlation_length(m) / m.size
    return float(np.sqrt(total))
