"""The uncertainty budget of one measurement (JCGM 100:2008): each term a covariance of the fitted parameters.

What is counted: edge noise and form error (from the scatter of the fit, neighbouring points taken as correlated), the
gauges behind scale and edge offset, the edge finder's own limit, the shape of the blur at corners, the height of the
part against the gauges, temperature, and the light that pins and flanks mirror (the flanks' share one-sided when the
cone of the light is unknown). Not counted: laying the part anew (one picture cannot show it).
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from vision.blurred import contour
from vision.grazing import NO_MIRROR, Grazing, Mirror
from vision.plane import PlaneMap
from vision.quantities import NAMES, SCALED_ALONG, UNITS
from vision.shadow import COUNT, INDEX
from vision.solve import Solution

Array = npt.NDArray[np.float64]

HEIGHT_U_MM = 0.03
"""Height of the part's axis against the gauges' (same V-block), standard uncertainty; common practice, no source."""
TEMPERATURE_U_K = 2.0
EXPANSION = 11.5e-6  # steel, 1/K: ISO 1 refers sizes to 20 degC; coefficient from memory, unverified
LEVEL_U_PX = 0.002
"""What the half level between background and part may shift all edges of a picture (measured on rendered pictures)."""
EDGE_FINDER_U_PX = 0.0008
"""What the edge finder may shift all points of one flank, crest or root (measured on rendered pictures)."""
_GRAIN_PX = 0.006
FORM_SHARE = 0.5
"""Part of the scatter that noise does not explain, by which a whole flank, crest or root may be off (judgement)."""
BLUR_SHAPE_RELATIVE_U = 0.008
"""What is left of the blur's uncertainty when corners and flanks agree on it. A lens does not blur like a Gaussian: by
how much the blur that fits the corners differs from that of the flanks is added."""


@dataclass(frozen=True)
class BudgetTerm:
    """One line of a budget: its standard uncertainty in the quantity's unit."""

    source: str
    u: float
    unit: str


GAUGES = "gauges: scale and edge offset"
TEMPERATURE = "temperature"
MIRRORED_BY_PINS = "backlight mirrored by the pins"
MIRRORED_BY_FLANKS = "backlight mirrored by the flanks"
CONE = "cone of the backlight"
COMMON_SOURCES = (GAUGES, TEMPERATURE, MIRRORED_BY_PINS, CONE)
"""What pictures taken on one bench in one go have in common: it shifts all parts alike."""


@dataclass(frozen=True)
class Budget:
    """All terms.

    Attributes:
        covariance: (len(NAMES), len(NAMES)) of the quantities, in their units.
        terms: per quantity its lines.
        by_source: the covariance that each source gives, by the name of its line; they add up to ``covariance``.
        correlation: how many neighbouring edge points carry the news of one.
    """

    covariance: Array
    terms: dict[str, tuple[BudgetTerm, ...]]
    by_source: dict[str, Array]
    correlation: float


_LENGTHS = ("pitch", "lead", "major_diameter", "pitch_diameter", "minor_diameter", "crest_width", "root_width",
            "crest_radius", "root_radius")  # fmt: skip


def make_budget(
    solution: Solution,
    plane: PlaneMap,
    values: Array,
    sensitivity: Array,
    grazing: Grazing,
    mirror: Mirror = NO_MIRROR,
) -> Budget:
    """Budget of the quantities ``values`` (order of quantities.NAMES) with ``sensitivity`` (len(NAMES), COUNT).

    ``grazing`` is what an unknown cone of the light may do, ``mirror`` what of a known one is uncertain.
    """
    fit = solution.fit
    inverse = _invert(fit.normal_matrix)
    reach = _correlation(solution)
    # data part of the scatter, widened for correlated neighbours; what the priors hold stays as they are
    noise = inverse @ (fit.data_matrix * fit.scale**2 * reach + _prior_part(solution) * fit.scale**4) @ inverse
    pull = inverse @ (fit.jacobian * fit.weight)  # change of the parameters per change of each residual, negative
    mm = solution.seen.px_mm

    offset_direction = pull @ np.full(fit.residual.size, mm)  # the edge offset one px larger: edges move in by one px
    scale_direction = _scale_direction(solution)
    u_scale = np.sqrt(plane.covariance[0, 0]) / plane.um_per_px
    u_offset = np.sqrt(plane.covariance[1, 1])
    cross = plane.covariance[0, 1] / plane.um_per_px

    cov: dict[str, Array] = {"edge noise and form": sensitivity @ noise @ sensitivity.T}
    s_scale = sensitivity @ scale_direction
    s_offset = sensitivity @ offset_direction
    gauge = np.stack([s_scale, s_offset], axis=1)
    cov[GAUGES] = gauge @ np.array([[u_scale**2, cross], [cross, u_offset**2]]) @ gauge.T
    finder = _groups(solution)
    level = sensitivity @ (pull @ np.full(fit.residual.size, LEVEL_U_PX * mm))
    # noise is known to about a third, and eight bits and the grid leave a little that is no form error
    explained = 1.3 * solution.noise + _GRAIN_PX * mm
    form = np.sqrt(max(fit.scale**2 - explained**2, 0.0))
    shift = np.hypot(EDGE_FINDER_U_PX * mm, FORM_SHARE * form)
    term = np.outer(level, level)
    for group in finder:
        s = sensitivity @ (pull[:, group] @ np.full(int(group.sum()), shift))
        term += np.outer(s, s)
    cov["edge finder and local form"] = term
    differs = float(fit.x[INDEX["blur"]]) - solution.edge_blur
    s_blur = sensitivity @ _blur_direction(solution) * np.hypot(BLUR_SHAPE_RELATIVE_U * solution.edge_blur, differs)
    cov["shape of the blur at corners"] = np.outer(s_blur, s_blur)
    near = abs(float(fit.x[INDEX["nearness"]]))
    if near > 2.5 * np.sqrt(max(noise[INDEX["nearness"], INDEX["nearness"]], 0.0)):
        s = s_scale * near * HEIGHT_U_MM
        cov["height of the part against the gauges"] = np.outer(s, s)
    lengths = np.array([v if n in _LENGTHS else 0.0 for n, v in zip(NAMES, values, strict=True)])
    warm = lengths * EXPANSION * TEMPERATURE_U_K
    cov[TEMPERATURE] = np.outer(warm, warm)
    cov.update(_mirrored(solution, mirror, sensitivity, pull, s_scale))
    cov.update(_possibly_mirrored(values, grazing))
    total = np.sum(list(cov.values()), axis=0)
    terms = {
        name: tuple(
            BudgetTerm(source, float(np.sqrt(max(c[i, i], 0.0))), UNITS[name])
            for source, c in cov.items()
            if c[i, i] > 0
        )
        for i, name in enumerate(NAMES)
    }
    return Budget(total, terms, cov, reach)


def _mirrored(solution: Solution, mirror: Mirror, sensitivity: Array, pull: Array, s_scale: Array) -> dict[str, Array]:
    """What is left of the light mirrored in a known cone: the reflectivity of part and pins, and the cone itself."""
    x, seen = solution.fit.x, solution.seen
    height, slope, _ = contour(x, seen.u, seen.side, seen.centre, starts=seen.starts, gradient=False)
    s_part = -sensitivity @ (pull @ (height * np.sqrt(1 + slope**2)))
    s_pins = -s_scale if mirror.scale_excess else np.zeros_like(s_scale)
    out = {
        MIRRORED_BY_FLANKS: np.outer(s_part, s_part) * mirror.part_u**2,
        MIRRORED_BY_PINS: np.outer(s_pins, s_pins) * mirror.pins_u**2,
        CONE: np.outer(s_part + s_pins, s_part + s_pins) * mirror.cone_u**2,
    }
    return {name: c for name, c in out.items() if c.any()}


def _possibly_mirrored(values: Array, grazing: Grazing) -> dict[str, Array]:
    """What light of an unknown cone may do to both sides of a value; what it does to one side is not a variance."""
    out: dict[str, Array] = {}
    along = np.array([v if n in SCALED_ALONG else 0.0 for n, v in zip(NAMES, values, strict=True)]) * grazing.scale_u
    along[NAMES.index("threads_per_inch")] = -values[NAMES.index("threads_per_inch")] * grazing.scale_u
    if grazing.scale_u > 0:
        out[MIRRORED_BY_PINS] = np.outer(along, along)
    if grazing.cone_deg > 0:
        lean = np.zeros(len(NAMES))
        lean[[NAMES.index("flank_angle_left"), NAMES.index("flank_angle_right")]] = grazing.flank_angle / np.sqrt(3)
        lean[NAMES.index("included_angle")] = 2 * grazing.flank_angle / np.sqrt(3)
        out[MIRRORED_BY_FLANKS] = np.diag(lean**2)
    return out


def _invert(matrix: Array) -> Array:
    d = np.sqrt(np.maximum(np.diag(matrix), 1e-30))
    return np.asarray(np.linalg.pinv(matrix / np.outer(d, d), rcond=1e-13, hermitian=True) / np.outer(d, d))


def _prior_part(solution: Solution) -> Array:
    """The priors' share of the normal matrix, per unit of residual variance."""
    fit = solution.fit
    return np.asarray((fit.normal_matrix - fit.data_matrix) / fit.scale**2)


def _scale_direction(solution: Solution) -> Array:
    """Change of the parameters when the scale is larger by the factor 1 + 1 (all lengths in proportion)."""
    x = solution.fit.x
    d = np.zeros(COUNT)
    for name in ("offset", "phase", "pitch", "crest", "pitch_radius", "root", "crest_corner", "root_corner", "blur"):
        d[INDEX[name]] = x[INDEX[name]]
    d[INDEX["nearness"]] = -x[INDEX["nearness"]]
    return d


def _blur_direction(solution: Solution) -> Array:
    """Change of the parameters per change of a blur that is held fixed."""
    fit = solution.fit
    j = INDEX["blur"]
    rest = np.arange(COUNT) != j
    out = np.zeros(COUNT)
    out[j] = 1.0
    out[rest] = -_invert(fit.normal_matrix[np.ix_(rest, rest)]) @ fit.normal_matrix[rest, j]
    return out


def _groups(solution: Solution) -> list[npt.NDArray[np.bool_]]:
    """Crests, roots and the two kinds of flanks of each edge: within a group the edge finder errs alike."""
    seen, x = solution.seen, solution.fit.x
    height = np.abs(seen.w - x[INDEX["offset"]] - seen.u * x[INDEX["rotation"]])
    crest, root = x[INDEX["crest"]], x[INDEX["root"]]
    band = np.digitize(height, [root + 0.15 * (crest - root), crest - 0.15 * (crest - root)])
    slope = np.gradient(height, seen.u + 1e-9 * np.arange(seen.u.size)) if seen.u.size > 2 else np.zeros(seen.u.size)
    kind = np.where(band == 1, np.where(slope > 0, 1, 2), np.where(band == 0, 0, 3))
    return [
        (kind == k) & (seen.side == s) for s in (1.0, -1.0) for k in range(4) if ((kind == k) & (seen.side == s)).any()
    ]


def _correlation(solution: Solution) -> float:
    """1 + 2 sum of the residuals' autocorrelation along the outline (points in its order), within half a pitch."""
    fit = solution.fit
    keep = np.abs(fit.residual) < 5 * fit.scale
    total = 0.0
    weight = 0.0
    most = max(int(solution.fit.x[INDEX["pitch"]] / solution.seen.px_mm / 2), 10)
    for sign in (1.0, -1.0):
        r = fit.residual[keep & (solution.seen.side == sign)]
        if r.size < 50:
            continue
        r = r - r.mean()
        size = 1 << int(np.ceil(np.log2(2 * r.size)))
        auto = np.fft.irfft(np.abs(np.fft.rfft(r, size)) ** 2, size)[: r.size]
        auto = auto / max(auto[0], 1e-30)
        tail = auto[1 : min(most, r.size // 4)]
        stop = np.flatnonzero(tail < 0.03)
        tail = tail[: stop[0]] if stop.size else tail
        total += (1 + 2 * float(tail.sum())) * r.size
        weight += r.size
    return max(total / weight, 1.0) if weight else 1.0
