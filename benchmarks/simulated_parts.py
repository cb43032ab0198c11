"""Screws drawn from the tables, and what a good measurement of each would give: the raw material of ``identify``.

A part is drawn as ``threads.identify.zone_prior``, ``shape_prior`` and ``no_standard`` say that screws come about:
series (all alike), size (all alike), class (``field.CLASS_SHARE``, or all alike), then its dimensions, wear and plating
included. What is drawn here knows the story of these modules and none of their formulas.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from math import atan2, degrees, pi, radians, sqrt, tan

import numpy as np
import numpy.typing as npt

from threads.identify import no_standard, shape_prior, zone_prior
from threads.identify.field import class_shares
from threads.measured.thread import Covariance, MeasuredThread
from threads.rules.forms import FORMS, Form
from threads.shared.quantity import Quantity
from threads.standards.limits import Limits

Array = npt.NDArray[np.float64]

U_DIAMETER_MM = 0.0015
"""Standard uncertainty of every diameter, scale and edge offset included: U95 = 3 um."""
U_OFFSET_MM = 0.0005
"""Of that, common to all diameters: the edges lie a little further in or out than the pins say."""
U_PITCH = (1e-4, 2.5e-4)
"""Relative standard uncertainty of the pitch, from .. to: U95 of 0.02 % to 0.05 %. Most of it is the scale's."""
SCALE_SHARE = 0.8
U_FLANK_DEG = (0.05, 0.15)
"""U95 of 0.1 to 0.3 degrees."""
U_TAPER = 0.5
PX_A_PITCH, BLUR_PX = (40.0, 250.0), (0.6, 2.0)
RESOLVED = 1.5
"""A full rounding shows when its radius exceeds so many blur widths (as ``vision.fit.quantities`` decides)."""
HALF_ROUND = 0.1
"""Share of crests and roots that are neither flat nor round: the picture is sharp, and the answer still open."""

ORDER = (
    "major_diameter", "pitch_diameter", "minor_diameter", "pitch", "flank_angle_left", "flank_angle_right",
    "crest_width", "root_width",
)  # fmt: skip


@dataclass(frozen=True)
class Part:
    """A screw as it is: lengths in mm, angles in degrees, taper in um/mm.

    ``limits`` is the thread it was made as, None for one that belongs to no series; ``state`` one of
    ``zone_prior.STATES``. ``round_crest``, ``round_root``: None when it is neither flat nor round.
    """

    limits: Limits | None
    state: str
    major: float
    pitch_diameter: float
    minor: float
    pitch: float
    flank_left: float
    flank_right: float
    taper: float
    round_crest: bool | None
    round_root: bool | None


def draw_part(
    of: Sequence[Sequence[Limits]],
    rng: np.random.Generator,
    *,
    classes_alike: bool = False,
    share: Mapping[str, float] | None = None,
) -> Part:
    """A screw of one of the sizes ``of``, each of which lists its classes; every series counts alike, or by ``share``.

    With ``classes_alike`` every class of the size does, too.
    """
    series = sorted({size[0].series for size in of})
    chosen = series[int(rng.choice(len(series), p=None if share is None else [share[name] for name in series]))]
    sizes = [size for size in of if size[0].series == chosen]
    classes = sizes[rng.integers(len(sizes))]
    limits = classes[int(rng.choice(len(classes), p=None if classes_alike else class_shares(classes)))]
    return draw_of(limits, rng)


def draw_of(limits: Limits, rng: np.random.Generator) -> Part:
    """A screw that was made as ``limits`` says."""
    form = FORMS[limits.form]
    state = str(rng.choice(list(zone_prior.STATES), p=list(zone_prior.STATES.values())))
    zone = zone_prior.zones_of((limits,))
    sizes = rng.uniform(zone.low[0], zone.high[0])
    if state == "worn":
        sizes = sizes - rng.exponential(zone_prior.WEAR)
    elif state == "plated":
        sizes = sizes + rng.exponential(zone_prior.PLATING)
    major, pitch_diameter = (float(size) for size in sizes)
    pitch = limits.pitch * rng.normal(1.0, zone_prior.PITCH_SPREAD)
    left, right = rng.normal(form.flank_angle_deg, zone_prior.FLANK_SPREAD, 2)
    usual = max((limits.basic_pitch_diameter - limits.basic_minor) / limits.pitch, shape_prior.LEAST_ROOT_DEPTH)
    while True:
        by_form = rng.random() < shape_prior.ROOT_SHARE
        depth = rng.normal(usual, shape_prior.ROOT_SPREAD) if by_form else _any_root_depth(rng)
        shallow = pitch_diameter - depth * pitch > zone.minor_high[0]
        if not shallow or rng.random() < shape_prior.TOO_SHALLOW:
            break
    round_crest, round_root = _shape(form, state, rng)
    return Part(
        limits=limits,
        state=state,
        major=major,
        pitch_diameter=pitch_diameter,
        minor=pitch_diameter - depth * pitch,
        pitch=pitch,
        flank_left=left,
        flank_right=right,
        taper=rng.normal(0.0, zone_prior.TAPER_SPREAD),
        round_crest=round_crest,
        round_root=round_root,
    )


def draw_foreign(rng: np.random.Generator) -> Part:
    """A screw that belongs to no series, as ``no_standard`` says."""
    median, spread = no_standard.PITCH_TO_MAJOR
    major = float(np.exp(rng.uniform(*np.log(no_standard.MAJOR_RANGE))))
    pitch = median * major * np.exp(rng.normal(0, spread))
    if rng.random() < no_standard.USUAL_PITCH:
        away = np.log(no_standard.PITCHES / (median * major)) / spread
        likely = np.exp(-0.5 * (away**2 - np.min(away**2)))
        pitch = rng.choice(no_standard.PITCHES, p=likely / likely.sum()) * rng.normal(1, zone_prior.PITCH_SPREAD)
    depth = rng.uniform(*no_standard.DEPTH_RANGE) if rng.random() < 0.5 else rng.normal(*no_standard.DEPTH)
    known, shares = list(no_standard.HALF_ANGLES), list(no_standard.HALF_ANGLES.values())
    kind = rng.choice(len(known) + 2, p=[*shares, 1 - sum(shares) - no_standard.ODD, no_standard.ODD])
    half = known[kind] if kind < len(known) else rng.uniform(*no_standard.HALF_ANGLE_RANGE)
    flanks = rng.normal(half, zone_prior.FLANK_SPREAD, 2)
    if kind == len(known) + 1:
        flanks = rng.uniform(*no_standard.HALF_ANGLE_RANGE, 2)
    left, right = np.clip(flanks, 1.0, 80.0)
    taper = no_standard.TAPERED[1] if rng.random() < no_standard.TAPERED[0] else zone_prior.TAPER_SPREAD
    round_crest, round_root = (bool(rng.random() < share) for share in shape_prior.ROUND_ANY)
    return Part(
        limits=None,
        state="as made",
        major=major,
        pitch_diameter=major - depth * pitch,
        minor=major - (depth + _any_root_depth(rng)) * pitch,
        pitch=pitch,
        flank_left=left,
        flank_right=right,
        taper=rng.normal(0.0, taper),
        round_crest=round_crest,
        round_root=round_root,
    )


@dataclass(frozen=True)
class BenchErrors:
    """What one bench does to all its parts: ``scale`` (relative) and ``offset`` (mm) as they are, and their u."""

    scale: float
    offset: float
    scale_u: float = 2e-4
    offset_u: float = 0.0012
    own_u: float = 0.0021
    """What each diameter has of its own, mm: U95 of 5 um in all at 2.5 mm."""


def bench_errors(rng: np.random.Generator) -> BenchErrors:
    """The errors of a bench, drawn as its uncertainties say."""
    errors = BenchErrors(0.0, 0.0)
    return BenchErrors(rng.normal(0.0, errors.scale_u), rng.normal(0.0, errors.offset_u))


def measure(
    part: Part, rng: np.random.Generator, *, one_sided: float = 0.0, bench: BenchErrors | None = None
) -> MeasuredThread:
    """What a good picture of ``part`` gives: its dimensions with errors, and their covariance.

    The error of the scale is common to all lengths, in proportion; that of the edge offset to all diameters; the rest
    is each quantity's own. ``one_sided``: bound of an uncorrected effect on the pitch diameter, mm (none is simulated).
    ``bench``: scale and edge offset are off by what is said there, the same for all parts.
    """
    slope = tan(radians(part.flank_left)) + tan(radians(part.flank_right))
    crest = part.pitch / 2 - (part.major - part.pitch_diameter) / 2 * slope
    root = part.pitch / 2 - (part.pitch_diameter - part.minor) / 2 * slope
    flanks = part.flank_left, part.flank_right
    true = np.array([part.major, part.pitch_diameter, part.minor, part.pitch, *flanks, crest, root])
    if bench is None:
        covariance = _covariance(true, rng)
        values = rng.multivariate_normal(true, covariance)
    else:
        own, along, across = _of_bench(true, bench, rng)
        covariance = own + np.outer(along, along) * bench.scale_u**2 + np.outer(across, across) * bench.offset_u**2
        values = rng.multivariate_normal(true, own) + along * bench.scale + across * bench.offset
    u = np.sqrt(np.diag(covariance))
    q = {
        name: Quantity(float(value), float(sigma), "deg" if "angle" in name else "mm")
        for name, value, sigma in zip(ORDER, values, u, strict=True)
    }
    if one_sided:
        old = q["pitch_diameter"]
        q["pitch_diameter"] = Quantity(old.value, old.standard_uncertainty, "mm", one_sided)
    both = q["flank_angle_left"], q["flank_angle_right"]
    pitch = q["pitch"]
    per_inch = 25.4 / pitch.value
    blur = rng.uniform(*BLUR_PX) / np.exp(rng.uniform(*np.log(PX_A_PITCH))) * part.pitch
    crest_width, crest_radius, flat_crest = _seen(q["crest_width"], part.round_crest, part, blur)
    root_width, root_radius, flat_root = _seen(q["root_width"], part.round_root, part, blur)
    return MeasuredThread(
        hand="not determined",
        starts=1,
        pitch=pitch,
        lead=pitch,
        threads_per_inch=Quantity(per_inch, per_inch * pitch.standard_uncertainty / pitch.value, "1/in"),
        major_diameter=q["major_diameter"],
        pitch_diameter=q["pitch_diameter"],
        minor_diameter=q["minor_diameter"],
        virtual_pitch_diameter=q["pitch_diameter"],
        included_angle=Quantity(sum(f.value for f in both), sqrt(sum(f.standard_uncertainty**2 for f in both)), "deg"),
        flank_angle_left=both[0],
        flank_angle_right=both[1],
        crest_width=crest_width,
        root_width=root_width,
        crest_radius=crest_radius,
        root_radius=root_radius,
        taper=Quantity(rng.normal(part.taper, U_TAPER), U_TAPER, "um/mm"),
        axis_tilt=Quantity(0.0, 0.05, "deg"),
        lead_angle=Quantity(degrees(atan2(part.pitch, pi * part.pitch_diameter)), 0.01, "deg"),
        threads_in_view=10,
        covariance=Covariance(ORDER, covariance),
        flat_crest=flat_crest,
        flat_root=flat_root,
    )


def _covariance(true: Array, rng: np.random.Generator) -> Array:
    """Covariance of the quantities in ``ORDER``."""
    u_pitch = rng.uniform(*U_PITCH)
    lengths = np.array([1.0, 1, 1, 1, 0, 0, 1, 1])
    diameters = np.array([1.0, 1, 1, 0, 0, 0, 0, 0])
    u_scale = min(SCALE_SHARE * u_pitch, 0.8 * U_DIAMETER_MM / true[0])
    common = true * lengths * u_scale
    offset = diameters * U_OFFSET_MM
    u_flank = rng.uniform(*U_FLANK_DEG)
    own = np.zeros(len(ORDER))
    own[:3] = np.sqrt(U_DIAMETER_MM**2 - U_OFFSET_MM**2 - np.square(common[:3]))
    own[3] = true[3] * sqrt(u_pitch**2 - u_scale**2)
    own[4:6] = u_flank
    own[6:] = U_DIAMETER_MM
    return np.asarray(np.diag(own**2) + np.outer(common, common) + np.outer(offset, offset))


def _of_bench(true: Array, bench: BenchErrors, rng: np.random.Generator) -> tuple[Array, Array, Array]:
    """Covariance of each quantity's own errors, and how scale and edge offset move the quantities."""
    own = np.full(len(ORDER), bench.own_u)
    own[3] = true[3] * 5e-5
    own[4:6] = rng.uniform(*U_FLANK_DEG)
    lengths, diameters = np.array([1.0, 1, 1, 1, 0, 0, 1, 1]), np.array([1.0, 1, 1, 0, 0, 0, 0, 0])
    return np.diag(own**2), true * lengths, diameters


def _shape(form: Form, state: str, rng: np.random.Generator) -> tuple[bool | None, bool | None]:
    """Whether crest and root are round; None for one that is in between."""
    crest = rng.random() < shape_prior.ROUND_CREST[form.rounded_crest]
    if state == "worn" and not crest:
        crest = rng.random() < shape_prior.WORN_ROUND
    root = rng.random() < shape_prior.ROUND_ROOT[form.rounded_root]
    crest_open, root_open = rng.random(2) < HALF_ROUND
    return None if crest_open else bool(crest), None if root_open else bool(root)


def _seen(
    width: Quantity, is_round: bool | None, part: Part, blur: float
) -> tuple[Quantity | None, Quantity | None, bool | None]:
    """Width, radius and ``flat`` of a crest or root as the picture gives them; ``blur``, mm, is that of its edges."""
    half = (part.flank_left + part.flank_right) / 2
    full = max(width.value, 0.0) / 2 / tan(radians(90 - half) / 2)
    flat = None if is_round is None or full < RESOLVED * blur else not is_round
    if flat is False:
        return None, Quantity(full, width.standard_uncertainty, "mm"), flat
    return width, None, flat


def _any_root_depth(rng: np.random.Generator) -> float:
    return float(rng.normal(shape_prior.ROOT_DEPTH_ANY, shape_prior.ROOT_SPREAD_ANY))
