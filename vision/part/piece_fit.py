"""A plain length fitted to its edge points: radius, slope and straightness, with what their scatter leaves open."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from vision.part.axis_view import AxisView
from vision.part.limits import LIMITS
from vision.part.profile_pieces import Piece
from vision.shared.correlation import correlation_length
from vision.shared.robust import fit_linear

Array = npt.NDArray[np.float64]

_ALIKE = np.cos(np.radians(15.0))  # of the direction in which an edge of that slope faces
_LEAST_SCALE_PX = 1e-3  # far below what the edge finder scatters: drawn outlines have no noise
_MOST_CONDITION = 1e10  # of the normal matrix
_BLOCKS = 12  # along a plain length, over which a bend is looked for
_MEAN_RANGE = 3.26
"""Expected range of 12 normal values of standard deviation 1 (from the tables of control charts: d2 for n = 12)."""


@dataclass(frozen=True)
class FittedPiece:
    """Both edges of a plain length as straight lines that mirror each other about an axis of their own (px).

    Attributes:
        middle: u where ``radius`` holds.
        radius, slope: of the mean of both edges.
        radius_noise, slope_noise: their standard uncertainties from scatter.
        bend: by how much the middle line between the edges leaves a straight line, the scatter's share taken out.
        bend_noise: its standard uncertainty.
        start, end: the range of u of its points.
    """

    middle: float
    radius: float
    slope: float
    radius_noise: float
    slope_noise: float
    bend: float
    bend_noise: float
    start: float
    end: float

    @property
    def flare(self) -> float:
        """1 / cos of the angle between edge and axis."""
        return float(np.hypot(1.0, self.slope))

    def radius_at(self, u: float) -> float:
        return self.radius + self.slope * (u - self.middle)

    def radius_noise_at(self, u: float) -> float:
        return float(np.hypot(self.radius_noise, self.slope_noise * (u - self.middle)))


def fit_piece(view: AxisView, piece: Piece) -> FittedPiece | None:
    """Fit a straight piece of the profile; None where too few points of either edge are left."""
    margin = min(3 * view.blur_px, piece.length / 4)
    return fit_lines(view, piece.start + margin, piece.end - margin, piece.slope)


def fit_lines(view: AxisView, start: float, end: float, slope: float) -> FittedPiece | None:
    """Fit both edges between ``start`` and ``end`` (px along u), about ``slope`` steep."""
    u, w = view.points[:, 0], view.points[:, 1]
    upward = np.where(w > 0, 1.0, -1.0)
    # its own edges face outward, square to their slope; the walls of a slot do not
    facing = (view.normal[:, 1] * upward - slope * view.normal[:, 0]) / np.hypot(1.0, slope)
    near = (u >= start) & (u <= end) & (facing > _ALIKE)
    if min((near & (upward > 0)).sum(), (near & (upward < 0)).sum()) < LIMITS.edge_points:
        return None
    middle = (start + end) / 2
    x, y, side = u[near] - middle, w[near], upward[near]
    half = max((end - start) / 2, 1.0)
    design = np.stack([np.ones_like(x), x / half, side, side * x / half], axis=1)
    fit = fit_linear(design, y, least=_LEAST_SCALE_PX, settled=1e-4)
    used, miss = fit.used, fit.residual
    if min((used & (side > 0)).sum(), (used & (side < 0)).sum()) < LIMITS.edge_points:
        return None  # outliers alone, or two lines that are not one piece's: nothing that both edges agree on
    square = design[used].T @ design[used]
    if np.linalg.cond(square) > _MOST_CONDITION:
        return None  # all points at one place: they say nothing of a slope
    order = np.lexsort((x[used], side[used]))
    runs = np.split(miss[used][order], [int((side[used] < 0).sum())])
    scatter = float(np.mean(miss[used] ** 2)) * correlation_length(*runs)
    unit = np.array([1.0, 1 / half, 1.0, 1 / half])
    coef = fit.coefficients * unit
    cov = np.linalg.inv(square) * scatter * np.outer(unit, unit)
    radius, steep, unsure = upright_cone(
        float(coef[2]), float(coef[3]), float(view.oblique[near].mean()), view.nearness
    )
    bend, bend_noise = _bend(x[used], miss[used], side[used], scatter)
    return FittedPiece(
        middle,
        radius,
        steep,
        float(np.hypot(np.sqrt(cov[2, 2]), radius * unsure)),
        float(np.hypot(np.sqrt(cov[3, 3]), steep * unsure)),
        bend,
        bend_noise,
        start,
        end,
    )


def upright_cone(radius: float, slope: float, oblique: float, nearness: float) -> tuple[float, float, float]:
    """Radius and slope of a cone in its axial section from those of its shadow.

    The surface point at the angle phi about the axis is seen at u = z - T r sin(phi), w = r cos(phi) (1 + q r
    sin(phi)), q being 1 / distance of the camera and T the obliquity, which changes by -q along the axis. The largest w
    over phi is at sin(phi) = m T + q r: w = r (1 + (m T + q r)^2 / 2) to second order (derived here), and its slope
    follows. A cylinder has m = 0.

    Args:
        radius: of the shadow, px.
        slope: of the shadow's edge, m.
        oblique: T.
        nearness: q, 1/px.

    Returns:
        radius, slope, and the relative standard uncertainty of either that this leaves: a quarter of the correction.
    """
    wider = (slope * oblique + nearness * radius) ** 2 / 2
    steeper = ((slope * oblique) ** 2 + (nearness * radius) ** 2) / 2 + nearness * slope * oblique * radius
    return radius / (1 + wider), slope / (1 + steeper), max(wider, abs(steeper)) / 4


def _bend(x: Array, miss: Array, side: Array, scatter: float) -> tuple[float, float]:
    """Range of the middle line over blocks along the axis, without what scatter alone makes of it; and its noise."""
    block = np.clip(((x - x.min()) / max(np.ptp(x), 1e-9) * _BLOCKS).astype(int), 0, _BLOCKS - 1)
    means = []
    for sign in (1.0, -1.0):
        on = side == sign
        count = np.bincount(block[on], minlength=_BLOCKS)
        total = np.bincount(block[on], weights=miss[on], minlength=_BLOCKS)
        means.append(np.where(count > 2, total / np.maximum(count, 1), np.nan))
    middle = (means[0] + means[1]) / 2
    middle = middle[np.isfinite(middle)]
    noise = float(np.sqrt(scatter / max(x.size / _BLOCKS, 1.0)))
    if middle.size < LIMITS.bend_blocks:
        return 0.0, noise
    extent = float(np.ptp(middle))
    return float(np.sqrt(max(extent**2 - (_MEAN_RANGE * noise) ** 2, 0.0))), 2 * noise
