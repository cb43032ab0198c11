"""The uncertainty budget of one measurement (JCGM 100:2008): each term a covariance of the fitted parameters.

What is counted: edge noise and form error (from the scatter of the fit, neighbouring points taken as correlated), the
gauges behind scale and edge offset, a lens that was refocused since, the edge finder's own limit, the shape of the blur
at corners, the height of the part against the gauges, temperature, the light that pins and flanks mirror, and the
opening of the lens. Not counted: laying the part anew (one picture cannot show it).
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from vision.fit.corner_bounds import corner_bounds, shortened
from vision.fit.lens_blur import blur_doubts
from vision.fit.limits import LIMITS
from vision.fit.marquardt import own_light
from vision.fit.quantities import LENGTHS, NAMES, UNITS
from vision.fit.solve import Solution
from vision.model.blurred import contour
from vision.model.grazing import NO_MIRROR, Mirror
from vision.model.lens import AIRY_MM
from vision.model.shadow import COUNT, INDEX
from vision.shared.correlation import autocorrelation, correlated_square, kernel_length
from vision.shared.plane import PlaneMap
from vision.shared.robust import OUTLIER

Array = npt.NDArray[np.float64]

HEIGHT_U_MM = 0.03
"""Height of the part's axis against the gauges' (same V-block), where it crosses the optical axis, standard
uncertainty; common practice, no source."""
TEMPERATURE_U_K = 2.0  # of the part against 20 degC: a heated workshop, common practice, no source
EXPANSION = 11.5e-6  # steel, 1/K: ISO 1 refers sizes to 20 degC; coefficient from memory, unverified
LEVEL_U_PX = 0.002
"""What the half level between background and part may shift all edges of a picture (measured on rendered pictures)."""
EDGE_FINDER_U_PX = 0.0008
"""What the edge finder may shift all points of one flank, crest or root (measured on rendered pictures)."""
_LEAN_OF_FOCUS = 0.006
"""Of the radius of the disc that the lens makes of a flank out of focus: how far the flank's half level moves one way
beside the crest and the other way beside the root (standard uncertainty, traced pictures)."""
_GRAIN_PX = 0.006  # scatter that eight bits and the grid of the pixels leave without any noise
_LEAST_RUN = 50  # points of an edge: of fewer the autocorrelation is noise
FORM_SHARE = 0.5
"""Part of the scatter that noise does not explain, by which a whole flank, crest or root may be off (judgement)."""
BLUR_SHAPE_RELATIVE_U = 0.008
"""What is left of the blur's uncertainty when corners and flanks agree on it. A lens does not blur like a Gaussian: by
how much the blur that fits the corners differs from that of the flanks is added."""


@dataclass(frozen=True)
class BudgetTerm:
    """One line of a budget: its standard uncertainty in the quantity's unit.

    With ``one_sided`` it is the full bound of what the true value may lie above the measured one.
    """

    source: str
    u: float
    unit: str
    one_sided: bool = False


def shares(terms: Sequence[BudgetTerm]) -> list[float | None]:
    """The part of the variance that each term makes up, None for what acts to one side only."""
    total = sum(t.u**2 for t in terms if not t.one_sided)
    return [None if t.one_sided else t.u**2 / total if total else 0.0 for t in terms]


NOISE_AND_FORM = "edge noise and form"
LOCAL_FORM = "edge finder and local form"
BLUR_SHAPE = "shape of the blur at corners"
LENS_BLUR = "lens blur that is no Gaussian"
HEIGHT = "height of the part against the gauges"
OPEN_FORM = "form of crest and root"
GAUGES = "gauges: scale and edge offset"
REFOCUS = "refocusing between gauges and part"
TEMPERATURE = "temperature"
MIRRORED_BY_PINS = "backlight mirrored by the pins"
MIRRORED_BY_FLANKS = "backlight mirrored by the flanks"
CONE = "cone of the backlight"
OPENING = "opening of the lens"
COMMON_SOURCES = (GAUGES, TEMPERATURE, MIRRORED_BY_PINS, CONE, OPENING)
"""What pictures taken on one bench in one go have in common: it shifts all parts alike."""
COMMON_REFOCUS = 0.5
"""Of the variance by refocusing: the gauges' share, which all parts have in common; the rest is each picture's own."""


@dataclass(frozen=True)
class Budget:
    """All terms.

    Attributes:
        covariance: (len(NAMES), len(NAMES)) of the quantities, in their units.
        terms: per quantity its lines.
        by_source: the covariance that each source gives, by the name of its line; they add up to ``covariance``.
        correlation: correlation length of the residuals along the outline, in points.
    """

    covariance: Array
    terms: dict[str, tuple[BudgetTerm, ...]]
    by_source: dict[str, Array]
    correlation: float


def make_budget(
    solution: Solution,
    plane: PlaneMap,
    values: Array,
    sensitivity: Array,
    mirror: Mirror = NO_MIRROR,
    open_forms: Sequence[Array] = (),
) -> Budget:
    """Budget of the quantities ``values`` (order of quantities.NAMES) with ``sensitivity`` (len(NAMES), COUNT).

    ``mirror`` is what is known of the mirrored light;
    ``open_forms`` are the quantities with other forms of crest and root that the picture allows.
    """
    inverse = inverse_of(solution.fit.normal_matrix)
    kernel = residual_autocorrelation(solution)
    causes = _causes(solution, plane, inverse, parameter_covariance(solution, kernel), mirror)
    for bound in corner_bounds(solution, inverse):
        free = _through(causes, bound.direction[None, :])
        scatter = float(np.sqrt(max(sum(float(c[0, 0]) for c in free.values()), 0.0)))
        sensitivity = shortened(sensitivity, inverse, bound, scatter)
    cov = _through(causes, sensitivity)
    lengths = np.array([v if n in LENGTHS else 0.0 for n, v in zip(NAMES, values, strict=True)])
    warm = lengths * EXPANSION * TEMPERATURE_U_K
    cov[TEMPERATURE] = np.outer(warm, warm)
    if open_forms:  # one of two: each is as likely, half their difference is the standard uncertainty
        farthest = max(open_forms, key=lambda other: abs(float((other - values)[NAMES.index("minor_diameter")])))
        half = (farthest - values) / 2
        cov[OPEN_FORM] = np.outer(half, half)
    total = np.sum(list(cov.values()), axis=0)
    terms = {
        name: tuple(
            BudgetTerm(source, float(np.sqrt(max(c[i, i], 0.0))), UNITS[name])
            for source, c in cov.items()
            if c[i, i] > 0
        )
        for i, name in enumerate(NAMES)
    }
    return Budget(total, terms, cov, kernel_length(kernel))


def _through(causes: dict[str, tuple[Array, Array]], sensitivity: Array) -> dict[str, Array]:
    """By source, the covariance of the quantities (rows of ``sensitivity``) that its causes give."""
    out = {}
    for source, (directions, covariance) in causes.items():
        s = sensitivity @ directions
        out[source] = s @ covariance @ s.T
    return out


def _causes(
    solution: Solution, plane: PlaneMap, inverse: Array, noise: Array, mirror: Mirror
) -> dict[str, tuple[Array, Array]]:
    """What acts through the fit: by source, where its m causes move the parameters (COUNT, m), and their covariance."""
    fit = solution.fit
    pull = inverse @ (fit.jacobian * fit.weight)  # change of the parameters per change of each residual, negative
    mm = solution.seen.px_mm
    everywhere = pull.sum(axis=1) * mm  # the edge offset one px larger: edges move in by one px
    scale = scale_direction(solution)
    u_scale = np.sqrt(plane.covariance[0, 0]) / plane.um_per_px
    u_offset = np.sqrt(plane.covariance[1, 1])
    cross = plane.covariance[0, 1] / plane.um_per_px
    gauge = np.array([[u_scale**2, cross], [cross, u_offset**2]])
    shift = group_shift(solution)
    local = [everywhere * LEVEL_U_PX, *(pull[:, group].sum(axis=1) * shift for group in edge_groups(solution))]
    differs = float(fit.x[INDEX["blur"]]) - solution.edge_blur
    blur = blur_direction(solution) * np.hypot(BLUR_SHAPE_RELATIVE_U * solution.edge_blur, differs)
    causes = {
        NOISE_AND_FORM: (np.eye(COUNT), noise),
        GAUGES: (np.stack([scale, everywhere], axis=1), gauge),
        LOCAL_FORM: _apart(*local),
        BLUR_SHAPE: _apart(blur),
    }
    causes[LENS_BLUR] = _apart(
        *(pull @ (shift * solution.seen.side * fit.jacobian[INDEX["offset"]]) for shift in blur_doubts(solution)),
        *(pull @ lean for lean in _leans(solution, plane.lens_opening)),
    )
    if plane.refocus_u > 0:
        causes[REFOCUS] = _apart(scale * plane.refocus_u)
    if height_counts(solution, noise):
        causes[HEIGHT] = _apart(scale * abs(float(fit.x[INDEX["nearness"]])) * HEIGHT_U_MM)
    return causes if mirror == NO_MIRROR else causes | _mirrored(solution, mirror, pull, scale)


def _leans(solution: Solution, opening: float | None) -> list[Array]:
    """By how far flanks of either kind may lean, mm at each edge point, by what lies before and behind the focus.

    Of a lens that is not stated the least opening counts that diffraction allows.
    """
    seen, p = solution.seen, solution.parameters
    least = AIRY_MM / solution.edge_blur if opening is None else opening
    flank = (p.flank_right + p.flank_left) / 2
    depth = seen.starts * p.pitch / (2 * float(np.pi)) / float(np.tan(flank))
    x = solution.fit.x
    height = np.abs(seen.w - x[INDEX["offset"]] - seen.u * x[INDEX["rotation"]])
    along = np.clip(2 * (height - p.pitch_radius) / (p.crest - p.root), -1, 1) * _LEAN_OF_FOCUS * least * depth
    rising = np.gradient(height, seen.u + 1e-9 * np.arange(seen.u.size)) > 0
    return [np.where(rising, along, 0.0), np.where(rising, 0.0, along)]


def _apart(*directions: Array) -> tuple[Array, Array]:
    """Independent causes: for each, how far its standard uncertainty moves the parameters."""
    return np.stack(directions, axis=1), np.eye(len(directions))


def _mirrored(solution: Solution, mirror: Mirror, pull: Array, scale: Array) -> dict[str, tuple[Array, Array]]:
    """What is not known of the mirrored light and the lens: the surfaces of part and pins, the cone, the opening."""
    x, seen = solution.fit.x, solution.seen
    height, slope, _ = contour(x, seen.u, seen.side, seen.centre, starts=seen.starts, gradient=False, step=1.0)
    part = -pull @ (height * np.sqrt(1 + slope**2))
    light = own_light(x, seen, seen.u - seen.centre[0], height, slope)
    lit = part if mirror.patch is None else -pull @ (height * np.sqrt(1 + slope**2) * light)
    out = {
        MIRRORED_BY_FLANKS: lit * mirror.surface_u,
        MIRRORED_BY_PINS: -scale * mirror.pins_u,
        CONE: lit * mirror.cone_u - scale * mirror.pins_cone_u,
        OPENING: part * mirror.opening_u - scale * mirror.pins_opening_u,
    }
    return {name: _apart(direction) for name, direction in out.items() if direction.any()}


def residual_autocorrelation(solution: Solution) -> Array:
    """(m,) autocorrelation of the fit's residuals at lags 0 .. m - 1 points along an edge, m at most half a pitch."""
    fit, seen = solution.fit, solution.seen
    keep = np.abs(fit.residual) < OUTLIER * fit.scale
    runs = [fit.residual[keep & (seen.side == sign)] for sign in (1.0, -1.0)]
    most = max(int(fit.x[INDEX["pitch"]] / seen.px_mm / 2), 10)
    return autocorrelation([run for run in runs if run.size >= _LEAST_RUN], most)


def inverse_of(matrix: Array) -> Array:
    """Inverse of a normal matrix whose parameters have very different sizes; undetermined directions get 0."""
    d = np.sqrt(np.maximum(np.diag(matrix), 1e-30))
    return np.asarray(np.linalg.pinv(matrix / np.outer(d, d), rcond=1e-13, hermitian=True) / np.outer(d, d))


def parameter_covariance(solution: Solution, kernel: Array) -> Array:
    """(COUNT, COUNT) covariance of the fitted parameters from the scatter of the points.

    ``kernel`` is the autocorrelation of the residuals; what the priors hold stays as it is.
    """
    fit = solution.fit
    inverse = inverse_of(fit.normal_matrix)
    data = correlated_square(fit.jacobian * fit.weight, solution.seen.side, kernel)
    return np.asarray(inverse @ (data * fit.scale**2 + _prior_part(solution) * fit.scale**4) @ inverse)


def height_counts(solution: Solution, covariance: Array | None = None) -> bool:
    """Whether the camera is near enough for the height of the part to change its size in the picture."""
    j = INDEX["nearness"]
    c = parameter_covariance(solution, residual_autocorrelation(solution)) if covariance is None else covariance
    return abs(float(solution.fit.x[j])) > LIMITS.near_camera * float(np.sqrt(max(c[j, j], 0.0)))


def group_shift(solution: Solution) -> float:
    """Standard uncertainty, mm, of where all points of one flank, crest or root of an edge stand."""
    mm = solution.seen.px_mm
    # noise is known to about a third, and eight bits and the grid leave a little that is no form error
    explained = 1.3 * solution.noise + _GRAIN_PX * mm
    form = np.sqrt(max(solution.fit.scale**2 - explained**2, 0.0))
    return float(np.hypot(EDGE_FINDER_U_PX * mm, FORM_SHARE * form))


def _prior_part(solution: Solution) -> Array:
    """The priors' share of the normal matrix, per unit of residual variance."""
    fit = solution.fit
    return np.asarray((fit.normal_matrix - fit.data_matrix) / fit.scale**2)


def scale_direction(solution: Solution) -> Array:
    """Relative change of the parameters for a unit change of scale (all lengths in proportion)."""
    x = solution.fit.x
    d = np.zeros(COUNT)
    for name in ("offset", "phase", "pitch", "crest", "pitch_radius", "root", "crest_corner", "root_corner", "blur"):
        d[INDEX[name]] = x[INDEX[name]]
    d[INDEX["nearness"]] = -x[INDEX["nearness"]]
    return d


def blur_direction(solution: Solution) -> Array:
    """Change of the parameters per change of a blur that is held fixed."""
    fit = solution.fit
    j = INDEX["blur"]
    rest = np.arange(COUNT) != j
    out = np.zeros(COUNT)
    out[j] = 1.0
    out[rest] = -inverse_of(fit.normal_matrix[np.ix_(rest, rest)]) @ fit.normal_matrix[rest, j]
    return out


def edge_groups(solution: Solution) -> list[npt.NDArray[np.bool_]]:
    """Crests, roots and the two kinds of flanks of each edge: within a group the edge finder's error is common."""
    seen, x = solution.seen, solution.fit.x
    height = np.abs(seen.w - x[INDEX["offset"]] - seen.u * x[INDEX["rotation"]])
    crest, root = x[INDEX["crest"]], x[INDEX["root"]]
    band = np.digitize(height, [root + 0.15 * (crest - root), crest - 0.15 * (crest - root)])
    slope = np.gradient(height, seen.u + 1e-9 * np.arange(seen.u.size)) if seen.u.size > 2 else np.zeros(seen.u.size)
    kind = np.where(band == 1, np.where(slope > 0, 1, 2), np.where(band == 0, 0, 3))
    return [
        (kind == k) & (seen.side == s) for s in (1.0, -1.0) for k in range(4) if ((kind == k) & (seen.side == s)).any()
    ]
