"""One part, unmoved, under two or more lights of known half cones: what mirrored light takes, extrapolated to none.

What a polished edge loses goes with A^2, A being the half cone of the light (``vision.model.grazing``), and on rougher
metal with s(A) = A^4 / (A^2 + B^2). With two lights the loss of the pitch diameter between them tells B, for no metal
mirrors more than all of it; every quantity is then q(A) = q(0) - c s(A), whatever the surface is. On polish only the
ratio of the cones counts. Derived here. The scale of round gauges keeps what its own light took from them.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from math import radians, sin

import numpy as np
import numpy.typing as npt

from threads.measured.thread import Covariance, MeasuredThread
from threads.measured.virtual_pitch_diameter import virtual_pitch_diameter
from threads.shared.quantity import COVERAGE_FACTOR, Quantity
from threads.shared.refusal import Reason, RefusalError
from vision.fit.budget import CONE, GAUGES, MIRRORED_BY_FLANKS, MIRRORED_BY_PINS, NOISE_AND_FORM, BudgetTerm
from vision.fit.quantities import LENGTHS, NAMES, UNITS
from vision.model.grazing import NO_MIRROR, REFLECTIVITY, Mirror, mirror_of
from vision.model.shadow import INDEX
from vision.result.measurement import Light, Measurement
from vision.several.limits import LIMITS
from vision.shared.plane import PlaneMap, Points

Array = npt.NDArray[np.float64]

CONE_RELATIVE_U = 0.02
"""Standard uncertainty of the ratio of two cones: holes in a sheet, measured with a caliper (workshop assumption)."""
LEAST_RATIO = 1.3
"""Of the widest cone to the narrowest: below, noise is multiplied by more than two."""
_RULE_RELATIVE_U = 0.1
"""How well the loss follows the rule (pictures from a path tracer): most where a light is wide."""
_ROUGHEST = 3.0  # radians, of B: a surface that mirrors nothing


@dataclass(frozen=True)
class Unlit:
    """A bench on which nothing of the light is put right."""

    plane: PlaneMap
    light_cone_deg: float | None = 0.0
    light_cone_u_deg: float = 0.0
    light_cone_most_deg: float | None = None
    round_gauges: bool = False
    light_patch_mm: float | None = None
    light_distance_mm: float | None = None

    @property
    def id(self) -> str:
        return self.plane.id

    @property
    def um_per_px(self) -> float:
        return self.plane.um_per_px

    @property
    def edge_offset_px(self) -> float:
        return self.plane.edge_offset_px

    @property
    def covariance(self) -> Array:
        return self.plane.covariance

    @property
    def lens_opening(self) -> float | None:
        return self.plane.lens_opening

    @property
    def working_distance_mm(self) -> float | None:
        return self.plane.working_distance_mm

    @property
    def refocus_u(self) -> float:
        return self.plane.refocus_u

    @property
    def traceable(self) -> bool:
        return self.plane.traceable

    def undistort(self, points: Points) -> Points:
        """As the bench does."""
        return self.plane.undistort(points)


def check_cones(cones_deg: Sequence[float]) -> None:
    """Raise RefusalError lights_alike where the lights are too similar, bad_light_cone for what is no half cone."""
    for cone in cones_deg:
        if not 0 <= cone < 45:
            raise RefusalError("bad_light_cone", cone_deg=cone)
    if max(cones_deg) < LEAST_RATIO * min(cones_deg):
        raise RefusalError("lights_alike", low_deg=min(cones_deg), high_deg=max(cones_deg), ratio=LEAST_RATIO)


def without_light(
    each: Sequence[Measurement], cones_deg: Sequence[float], plane: PlaneMap, *, gauges_too: bool = False
) -> Measurement:
    """The part as it is in no mirrored light.

    Args:
        each: the part as measured in ``Unlit(plane)`` from the pictures under the lights.
        cones_deg: half cones of the lights, in the same order.
        plane: the bench.
        gauges_too: each was measured by gauges in its own light: what that took from them goes as well.

    Raises RefusalError: lights_alike, bad_light_cone, part_moved.lights, not_the_same_part.starts.
    """
    check_cones(cones_deg)
    order = sorted(range(len(each)), key=lambda i: cones_deg[i])
    each, cones = [each[i] for i in order], np.radians([cones_deg[i] for i in order])
    base = each[0]
    for other in each[1:]:
        _check_still(base, other)
    rough, part = _roughness(each, cones)
    names = tuple(n for n in NAMES if all(isinstance(getattr(m.thread, n), Quantity) for m in each))
    raw = np.array([[getattr(m.thread, n).value for n in names] for m in each])
    gain = _gain(cones, rough)
    light = _light_u(raw, cones, rough)
    pins = mirror_of(plane) if plane.round_gauges and not gauges_too else NO_MIRROR
    pins = replace(NO_MIRROR, scale_excess=pins.scale_excess, pins_u=pins.pins_u, pins_cone_u=pins.pins_cone_u)
    own = (NOISE_AND_FORM, GAUGES) if gauges_too else (NOISE_AND_FORM,)
    thread, budget, by_source = _extrapolated(base, names, gain @ raw, (own, float(np.sqrt(gain @ gain))), light, pins)
    shadow = {}
    for name, q in base.shadow.items():
        now = getattr(thread, name)
        shadow[name] = replace(now, value=now.value + q.value - getattr(base.thread, name).value)
    dropped = {"light_cone_unknown", "light_differs"}
    warnings = {w.code: w for m in reversed(each) for w in m.quality.warnings if w.code not in dropped}
    pitch_diameter_u = base.thread.pitch_diameter.standard_uncertainty
    slack = COVERAGE_FACTOR * pitch_diameter_u / (_steepness(base) * float(np.ptp(cones**2)))
    more = () if -slack < part < 1 + slack else (Reason("lights_disagree"),)
    return replace(
        base,
        plane=plane,
        thread=thread,
        shadow=shadow,
        budget=budget,
        by_source=by_source,
        quality=replace(base.quality, warnings=(*more, *warnings.values())),
        mirror=replace(pins, cone_deg=float(np.degrees(cones[0]))),
        lights=tuple(
            Light(m.picture.path, m.picture.sha256, float(np.degrees(c)), m.thread.pitch_diameter)
            for m, c in zip(each, cones, strict=True)
        ),
    )


def _check_still(one: Measurement, other: Measurement) -> None:
    """Raise RefusalError where the part lies elsewhere, by more than light does to its edges."""
    if one.thread.starts != other.thread.starts:
        raise RefusalError("not_the_same_part.starts")
    (a, turn_a, pitch), (b, turn_b, _) = _place(one), _place(other)
    along = np.array([np.cos(turn_a), np.sin(turn_a)])
    step, across = float((b - a) @ along), float((b - a) @ np.array([-along[1], along[0]]))
    moved = float(np.hypot((step + pitch / 2) % pitch - pitch / 2, across))
    turned = abs(float(np.degrees(turn_b - turn_a)))
    if moved > LIMITS.still_px or turned > LIMITS.still_deg:
        raise RefusalError("part_moved.lights", moved_px=moved, turned_deg=turned)


def _place(m: Measurement) -> tuple[Array, float, float]:
    """Where a ridge stands on the axis (px), how the axis lies (radians), and the pitch, px."""
    x, frame, px = m.solution.fit.x, m.solution.frame, m.solution.seen.px_mm
    at = np.array([x[INDEX["phase"]], x[INDEX["offset"]] + x[INDEX["rotation"]] * x[INDEX["phase"]]])
    place = frame.to_picture(at[None, :])[0] / px
    return place, frame.angle - float(x[INDEX["rotation"]]), float(x[INDEX["pitch"]]) / px


def _steepness(m: Measurement) -> float:
    """What the pitch diameter loses where all light is mirrored, mm per square radian of the half cone."""
    flank = radians(m.thread.included_angle.value / 2)
    return m.thread.pitch_diameter.value / (8 * sin(flank) ** 2)


def _shape(cones: Array, rough: float) -> Array:
    """s(A) for the roughness B (radians); A^2 for polish."""
    return np.asarray(cones**4 / np.maximum(cones**2 + rough**2, 1e-12))


def _gain(cones: Array, rough: float) -> Array:
    """(k,) weights of the lights, which add up to one, in the quantity without light: a straight line over s(A)."""
    s = _shape(cones, rough)
    apart = s - s.mean()
    return np.asarray(1 / s.size - s.mean() * apart / float(apart @ apart))


def _slope(cones: Array, values: Array) -> float:
    return float(np.polyfit(cones**2, values, 1)[0])


def _roughness(each: Sequence[Measurement], cones: Array) -> tuple[float, float]:
    """B, radians, with which metal loses as much between the lights as the pitch diameter does; and what is mirrored.

    The second is the part f of the light that a smooth surface would mirror for that loss.
    """
    lost = -np.array([m.thread.pitch_diameter.value for m in each]) / _steepness(each[0])
    part = _slope(cones, lost)
    wanted = min(max(part / REFLECTIVITY, 0.0), 1.0)
    low, high = 0.0, _ROUGHEST
    for _ in range(40):
        middle = (low + high) / 2
        low, high = (middle, high) if _slope(cones, _shape(cones, middle)) > wanted else (low, middle)
    return low, part


def _light_u(raw: Array, cones: Array, rough: float) -> Array:
    """(n,) signed standard uncertainty of the extrapolated values: ratio of the cones, and how rough the surface is."""
    value = _gain(cones, rough) @ raw
    by_cone = [_gain(cones * (1 + CONE_RELATIVE_U * step), rough) @ raw - value for step in np.eye(cones.size)]
    by_model = (_gain(cones, 0.0) @ raw - value) / 1.5
    by_rule = _RULE_RELATIVE_U * (raw[-1] - value)  # of what the widest light takes
    size = np.sqrt(np.sum(np.square([*by_cone, by_model, by_rule]), axis=0))
    return np.asarray(np.where(value < raw[0], -size, size))


def _extrapolated(
    base: Measurement,
    names: tuple[str, ...],
    values: Array,
    own: tuple[Sequence[str], float],
    light: Array,
    pins: Mirror,
) -> tuple[MeasuredThread, dict[str, tuple[BudgetTerm, ...]], dict[str, Covariance]]:
    """Thread, budget and covariance.

    ``own`` are the sources that each picture has for itself, and by what they grow; what all share counts once.
    ``light`` is what is left of the light, ``pins`` what it took from round gauges.
    """
    length = np.array([n in LENGTHS for n in names])
    values = np.where(length, values * (1 - pins.scale_excess), values)
    scale = np.where(length, values, 0.0) * pins.scale_u
    sources, grown = own
    gone = (MIRRORED_BY_FLANKS, MIRRORED_BY_PINS, CONE)
    budget: dict[str, tuple[BudgetTerm, ...]] = dict(base.budget)
    q = {}
    for name, value, of_light, of_pins in zip(names, values.tolist(), np.abs(light), np.abs(scale), strict=True):
        terms = [t for t in base.budget[name] if t.source not in gone]
        terms = [replace(t, u=t.u * grown) if t.source in sources else t for t in terms]
        more = ((CONE, float(of_light)), (MIRRORED_BY_PINS, float(of_pins)))
        terms += [BudgetTerm(source, u, UNITS[name]) for source, u in more if u > 0]
        budget[name] = tuple(terms)
        q[name] = Quantity(value, float(np.sqrt(sum(t.u**2 for t in terms))), UNITS[name])
    order = base.thread.covariance.order
    by_light, by_pins = (
        np.array([dict(zip(names, v.tolist(), strict=True)).get(n, 0.0) for n in order]) for v in (light, scale)
    )
    by_source = {
        source: Covariance(order, c.matrix * (grown**2 if source in sources else 1.0))
        for source, c in base.by_source.items()
        if source not in gone
    }
    by_source |= {s: Covariance(order, np.outer(d, d)) for s, d in ((CONE, by_light), (MIRRORED_BY_PINS, by_pins))}
    total = np.sum([c.matrix for c in by_source.values()], axis=0)
    thread = replace(base.thread, covariance=Covariance(order, total), **q)  # type: ignore[arg-type]
    return replace(thread, virtual_pitch_diameter=virtual_pitch_diameter(thread).quantity), budget, by_source
