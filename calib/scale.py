"""Scale, edge offset and the cone of the light from the readings of all gauges, in one weighted fit.

A round gauge of diameter D is seen as D (1 - c) (1 + D^2 q / 8) / scale + 2 offset; a length L on a flat one (rulings,
a grid) as L / scale. c = f A^2 / 8 is what the mirrored backlight takes from its edges (``vision.model.grazing``), q =
1 / distance^2 stands for a near camera, which looks at a cylinder from both sides of its middle (exactly 1 / sqrt(1 -
D^2 q / 4); derived here). Round gauges alone cannot tell c from the scale: c is then left in the scale, and the
measurement takes it out if it knows the cone. With flat gauges beside them c is found: unless what is found is no light
that a bench has, but rather a gauge that is not of the size it is said to be.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from threads.shared.refusal import RefusalError
from vision.model.grazing import ASSUMED_CONE_DEG, MEAN_REFLECTIVITY, PINS_REFLECTIVITY_U

Array = npt.NDArray[np.float64]

OFFSET_U_PX = 0.15
"""Standard uncertainty of an edge offset that is assumed to be 0: a figure of the workshop, as in
vision.shared.plane."""

NEAREST_CAMERA_MM = 60.0
"""A camera whose distance is not stated is anywhere from here to infinity."""

ONE_SIZE = 1.05
"""Pins within 5 % of each other do not separate scale and offset."""

_CREDIBLE_UM_PER_PX = (0.02, 500.0)  # finer than light resolves, coarser than any thread needs
_DISTANCE_RELATIVE_U = 0.1  # of a distance measured with a rule: where inside the lens it ends is a guess
_FINEST_READING_PX = 0.001  # nothing is read better; keeps the equations solvable
_FINEST_READING = 1e-6  # nor to a smaller part of itself
_WIDEST_CONE_DEG = 12.0
BENCH_CONE_DEG = 6.0
"""Half cones found above this are doubted: they stand for 0.1 % of a pin's size, as much as a wrong size or two planes
of focus make, and whoever masks a pad has less (common practice, no source)."""
_CONES = np.radians(np.linspace(0.0, _WIDEST_CONE_DEG, 97))


@dataclass(frozen=True)
class GaugeReading:
    """One gauge as it was read.

    Attributes:
        what: kind of the gauge, for messages; readings of one kind and size are the same gauge seen again.
        round: a pin or another cylinder; else a flat gauge.
        size_um, u_size_um: diameter, or length between the outermost points read, and its standard uncertainty.
        seen_px, u_px: the same in the picture.
    """

    what: str
    round: bool
    size_um: float
    u_size_um: float
    seen_px: float
    u_px: float


@dataclass(frozen=True)
class ScaleFit:
    """What the gauges say together.

    Attributes:
        um_per_px, edge_offset_px: the result.
        covariance: (2, 2) of the two.
        residuals_um: (n,) reading minus prediction.
        chi_squared, degrees_of_freedom: of the residuals, before any widening.
        offset_assumed: nothing in the gauges tells the offset; it is 0 with OFFSET_U_PX.
        disagree: the residuals are larger than the uncertainties allow (chi-squared, 5 %); ``covariance`` is widened.
        doubtful_cone_deg: round and flat gauges go together only in a light of this half cone, more than
            ``BENCH_CONE_DEG``, or a gauge is not of its size: no cone is given then. None if it is not so.
        round_only: no flat gauge; the scale then holds what mirrored light takes from round edges.
        cone_deg, cone_u_deg: half cone of the light found by round against flat gauges; None and 0 if not determined.
    """

    um_per_px: float
    edge_offset_px: float
    covariance: Array
    residuals_um: Array
    chi_squared: float
    degrees_of_freedom: int
    offset_assumed: bool
    disagree: bool
    round_only: bool
    doubtful_cone_deg: float | None = None
    cone_deg: float | None = None
    cone_u_deg: float = 0.0


@dataclass(frozen=True)
class _Solved:
    """The fit at one cone: slope (px per unit) and twice the offset, their covariance, what is left, and log weight."""

    line: Array
    covariance: Array
    left: Array
    chi_squared: float
    log_weight: float


def fit_scale(
    readings: Sequence[GaugeReading],
    *,
    cone_deg: float | None = None,
    cone_u_deg: float = 0.0,
    working_distance_mm: float | None = None,
    offset: tuple[float, float] = (0.0, OFFSET_U_PX),
) -> ScaleFit:
    """The weighted fit of all readings (generalised least squares, see the module).

    The covariance of the readings is u_px^2 + (u_size / scale)^2, gauges of one kind and size fully correlated in their
    size, so that more pictures of a gauge do not make it better known; also what is not known of q, and for mixed
    gauges of c, common to all round ones. It depends on the scale and is iterated (effective variance). Readings that
    disagree widen the result by the Birge ratio squared, chi^2 / degrees of freedom (Birge, Phys. Rev. 40, 1932, 207).
    A cone that ends at either bound of what is tried costs no degree of freedom. Round and flat gauges whose
    chi-squared is above what is usual (1), or that agree only in a light that no bench has, widen the scale until its
    U95 reaches what either kind says alone.

    An unknown cone of mixed gauges is integrated over: uniform prior on the half cone from 0 to 12 deg, mean and
    variance of what comes out (JCGM 101). It is reported as found, through the mean and standard uncertainty of A^2 on
    which everything depends, if that is known to 0.6 of its size or better than by the assumption of 0 to 4 deg.

    Args:
        readings: at least one.
        cone_deg: half cone of the light if stated.
        cone_u_deg: its standard uncertainty.
        working_distance_mm: of the camera's entrance pupil from the gauges, infinite for a telecentric lens; None:
            anywhere from ``NEAREST_CAMERA_MM`` up, corrected by half with mixed gauges. With round ones alone it is not
            corrected, for a part of a pin's size is seen as much larger as the pin; it is in the covariance.
        offset: what is assumed of the edge offset, px, and its standard uncertainty, where the gauges do not tell it.

    Raises RefusalError implausible_scale.

    Returns:
        The fit; not to be believed if the gauges lay at different heights before a lens that is not telecentric.
    """
    size = np.array([r.size_um for r in readings])
    is_round = np.array([r.round for r in readings])
    mixed = bool(is_round.any() and not is_round.all())
    pins = size[is_round]
    one_size = not pins.size or bool(pins.max() < ONE_SIZE * pins.min())
    if mixed and cone_deg is not None:
        one_size = False  # one pin tells the offset where rulings tell the scale and the light is known
    q, u_q = _nearness(working_distance_mm, mixed=mixed)

    def at(cone: float, u_cone: float) -> _Solved:
        full = cone**2 / 8
        c = MEAN_REFLECTIVITY * full if mixed else 0.0
        u_c = math.hypot(PINS_REFLECTIVITY_U * full, MEAN_REFLECTIVITY * cone * u_cone / 4) if mixed else 0.0
        return _solve(readings, c, u_c, q, u_q, offset if one_size else None)

    free = mixed and cone_deg is None
    if free:
        solved = [at(float(cone), 0.0) for cone in _CONES]
        line, covariance, weight = _marginalised(solved)
        best = solved[int(np.argmax(weight))]
    else:
        best = at(math.radians(cone_deg or 0.0), math.radians(cone_u_deg))
        line, covariance, weight = best.line, best.covariance, None

    unit = size.max()
    scale = unit / float(line[0]) if line[0] > 0 else math.inf
    if not _CREDIBLE_UM_PER_PX[0] <= scale <= _CREDIBLE_UM_PER_PX[1]:
        raise RefusalError("implausible_scale", um_per_px=scale)
    at_best = int(np.argmax(weight)) if weight is not None else 0
    at_bound = at_best in (0, len(_CONES) - 1)
    freedom = max(len(readings) - 1 - (0 if one_size else 1) - (0 if at_bound else 1), 0)
    disagree = freedom > 0 and best.chi_squared > _chi_squared_limit(freedom)
    if disagree:
        covariance = covariance * (best.chi_squared / freedom)
    cone = _found(weight) if weight is not None and not disagree else None
    doubtful = cone[0] if cone is not None and cone[0] > BENCH_CONE_DEG else None
    if mixed and (doubtful is not None or best.chi_squared > max(freedom, 1)):
        kinds = [[r for r in readings if r.round is kind] for kind in (True, False)]
        least = max(_apart(kind, scale, working_distance_mm) for kind in kinds)
        covariance = covariance * max(1.0, (least * float(line[0])) ** 2 / covariance[0, 0])
    jacobian = np.diag([-(scale**2) / unit, 0.5])
    return ScaleFit(
        um_per_px=float(scale),
        edge_offset_px=float(line[1] / 2),
        covariance=jacobian @ covariance @ jacobian.T,
        residuals_um=best.left * scale,
        chi_squared=best.chi_squared,
        degrees_of_freedom=freedom,
        offset_assumed=one_size,
        disagree=disagree,
        round_only=bool(is_round.all()),
        doubtful_cone_deg=doubtful,
        cone_deg=None if cone is None or doubtful is not None else cone[0],
        cone_u_deg=0.0 if cone is None or doubtful is not None else cone[1],
    )


def _apart(kind: Sequence[GaugeReading], scale: float, working_distance_mm: float | None) -> float:
    """Standard uncertainty of ``scale``, in parts of it, whose U95 covers what one kind of gauge says alone."""
    alone = fit_scale(kind, working_distance_mm=working_distance_mm)
    return math.hypot((alone.um_per_px - scale) / 2, math.sqrt(alone.covariance[0, 0])) / scale


def _marginalised(solved: Sequence[_Solved]) -> tuple[Array, Array, Array]:
    """Mean and covariance of the line over all cones, and the weight of each cone."""
    weight = np.exp(np.array([s.log_weight for s in solved]) - max(s.log_weight for s in solved))
    weight /= weight.sum()
    lines = np.array([s.line for s in solved])
    line = weight @ lines
    within = np.einsum("k,kij->ij", weight, [s.covariance for s in solved])
    return line, within + (lines - line).T @ ((lines - line) * weight[:, None]), weight


def _nearness(working_distance_mm: float | None, *, mixed: bool) -> tuple[float, float]:
    """1 / distance^2 of the camera and its standard uncertainty, 1/um^2."""
    if working_distance_mm is not None:
        q = 1 / (1000 * working_distance_mm) ** 2
        return q, 2 * _DISTANCE_RELATIVE_U * q
    most = 1 / (1000 * NEAREST_CAMERA_MM) ** 2
    # anywhere from none to most (JCGM 100:2008, F.2.4.3): about its middle, or about none where none is taken out
    return (most / 2, most / math.sqrt(12)) if mixed else (0.0, most / math.sqrt(3))


def _solve(
    readings: Sequence[GaugeReading], c: float, u_c: float, q: float, u_q: float, offset: tuple[float, float] | None
) -> _Solved:
    """``offset``: what is assumed of it where the gauges do not tell it, and its standard uncertainty, px."""
    size = np.array([r.size_um for r in readings])
    u_size = np.array([r.u_size_um for r in readings])
    seen = np.array([r.seen_px for r in readings])
    u_seen = np.maximum([r.u_px for r in readings], np.maximum(_FINEST_READING_PX, _FINEST_READING * seen))
    on = np.array([1.0 if r.round else 0.0 for r in readings])
    unit = size.max()  # keeps the numbers of the two columns alike
    rows = np.stack([size / unit * np.where(on > 0, (1 - c) * (1 + size**2 * q / 8), 1.0), on], axis=1)
    same = np.array([[a.what == b.what and a.size_um == b.size_um for b in readings] for a in readings])
    of_size = np.where(same, np.outer(u_size, u_size), 0.0) / unit**2
    by_light, by_distance = on * size / unit * u_c, on * size * np.minimum(size**2 * u_q, 1.0) / 8 / unit
    of_size = of_size + np.outer(by_light, by_light) + np.outer(by_distance, by_distance)
    slope = float(seen[np.argmax(size)])
    for _ in range(4):
        spread = np.diag(u_seen**2) + slope**2 * of_size
        try:
            weight = np.linalg.inv(spread)
        except np.linalg.LinAlgError:  # a line so far from the readings that what they share drowns what they say
            raise RefusalError("implausible_scale", um_per_px=unit / slope) from None
        normal, right = rows.T @ weight @ rows, rows.T @ weight @ seen
        if offset is not None:
            normal[1, 1] += 1 / (2 * offset[1]) ** 2
            right[1] += 2 * offset[0] / (2 * offset[1]) ** 2
        covariance = np.linalg.inv(normal)
        line = covariance @ right
        slope = float(line[0])
        if slope <= 0:
            break
    left = seen - rows @ line
    chi_squared = float(left @ weight @ left)
    prior = 0.0 if offset is None else ((float(line[1]) - 2 * offset[0]) / (2 * offset[1])) ** 2
    log_weight = -(chi_squared + prior) / 2 - float(np.linalg.slogdet(spread)[1] - np.linalg.slogdet(covariance)[1]) / 2
    return _Solved(line, covariance, left, chi_squared, log_weight)


def _found(weight: Array) -> tuple[float, float] | None:
    """Half cone and its standard uncertainty, degrees, from the weights of ``_CONES``; None if hardly determined."""
    square = _CONES**2
    mean = float(weight @ square)
    u = math.sqrt(max(float(weight @ (square - mean) ** 2), 0.0))
    assumed = math.radians(ASSUMED_CONE_DEG) ** 2 / math.sqrt(12)
    if mean <= 0 or (u > assumed and u > 0.6 * mean):
        return None
    cone = math.sqrt(mean)
    return math.degrees(cone), math.degrees(u / (2 * cone))


def _chi_squared_limit(freedom: int) -> float:
    """The 95 % point of chi-squared."""
    from scipy.special import chdtri  # scipy.stats knows it too, but takes a second to import

    return float(chdtri(freedom, 0.05))
