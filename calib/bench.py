"""From pictures of gauges of any kind to the calibration of the bench."""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

import numpy as np

from calib.calibration import Calibration, Gauge, new_calibration
from calib.lens import NO_LENS, radial_lens, undistort
from calib.picture_kind import kind_of, offset_assumed, partly_coherent
from calib.pin_softness import ShownCone, shown_cone
from calib.pins import check_fit, check_order
from calib.remarks import remarks
from calib.scale import OFFSET_U_PX, GaugeReading, ScaleFit, fit_scale
from threads.shared.file_name import plain_name
from threads.shared.refusal import Reason, RefusalError
from vision.model.grazing import ASSUMED_CONE_DEG
from vision.outline.sharpness import Sharpness
from vision.pictures.camera_note import NO_NOTE, camera_note
from vision.pictures.picture import LINEAR_LIGHT, SRGB_LIGHT, Picture, retoned

if TYPE_CHECKING:
    from calib.flat_gauges import FlatFit
    from vision.gauges.grid import GridReading
    from vision.gauges.pin import PinReading
    from vision.gauges.rulings import RulingsReading

PIN, RULINGS, GRID = "pin", "stage micrometer", "grid"

DEFAULT_U95_MM = 0.001
"""Assumed for gauges of which nobody said how well they are known, pins, rulings and grids alike: a figure of the
workshop. Of rulings and grids it is the U95 of the distance between any two of their lines."""

WIDEST_OPENING = 0.3
"""Numerical aperture of a lens that still shows both edges of a screw: more is a mistake, such as an f-number."""

FAST_OPENING = 0.05
"""Above it the lens makes flanks of 60 degrees grow by 3 um and more on 2.5 mm: a small error of it counts."""
_OFF_BY_TONE = 0.3
"""Blurs by which edges lie off in the wrong tone at least: sRGB for linear values moves them by 0.6."""

Given = tuple[Picture, float]
U95 = float | Sequence[float] | None


@dataclass(frozen=True)
class _Seen:
    """One gauge: what was given and what was read. ``flat`` is None for pins, ``pin`` for the others."""

    what: str
    picture: Picture
    nominal_mm: float
    u95_mm: float
    pin: PinReading | None = None
    points: RulingsReading | GridReading | None = None
    flat: FlatFit | None = None

    @property
    def reading(self) -> GaugeReading:
        if self.flat is None:
            assert self.pin is not None
            size, seen, u_seen = self.nominal_mm, self.pin.diameter_px, self.pin.standard_uncertainty_px
        else:
            size = self.nominal_mm * self.flat.steps
            seen = self.flat.step_px * self.flat.steps
            u_seen = seen * self.flat.relative_u
        return GaugeReading(self.what, self.flat is None, 1000 * size, 500 * self.u95_mm, seen, u_seen)


def calibrate_bench(
    *,
    pins: Sequence[Given] = (),
    stage_micrometers: Sequence[Given] = (),
    grids: Sequence[Given] = (),
    pin_u95_mm: U95 = None,
    division_u95_mm: U95 = None,
    grid_u95_mm: U95 = None,
    light_cone_deg: float | None = None,
    light_cone_u_deg: float = 0.0,
    working_distance_mm: float | None = None,
    focus_locked: bool = False,
    lens_opening: float | None = None,
    light_patch_mm: float | None = None,
    light_distance_mm: float | None = None,
) -> Calibration:
    """The calibration from any mix of gauges, at least one.

    Args:
        pins: (picture, diameter in mm) of each.
        stage_micrometers: (picture, distance of neighbouring divisions in mm) of each.
        grids: (picture, side of a square or distance of dots in mm) of each.
        pin_u95_mm: expanded uncertainty (k = 2) of the diameters, mm: one for all, or one for each. None: 0.001 mm, and
            a warning in the calibration says that it was assumed.
        division_u95_mm: the same of the distance between any two rulings.
        grid_u95_mm: the same of the distance between any two points of a grid.
        light_cone_deg: half cone of the backlight seen from the gauges, if known.
        light_cone_u_deg: its standard uncertainty.
        working_distance_mm: distance of the camera from the gauges, math.inf for a telecentric lens, if known.
        focus_locked: the focus was set before the first gauge and stays as it is.
        lens_opening: numerical aperture of the lens at the gauges, if known.
        light_patch_mm: diameter of the patch of light behind the gauges, if known: each edge then has its own cone.
        light_distance_mm: how far behind them it is.

    Grey JPEG files that state no tone are read as sRGB; where the gauges' edges then lie off by more than a third of
    their blur, and do not when read as linear, they are linear.

    Raises:
        RefusalError: what ``read_pin``, ``read_rulings`` and ``read_grid`` refuse; no_gauge, bad_gauge,
            gauge_picture_sizes, same_picture_twice, bad_light_cone, bad_working_distance, bad_lens_opening,
            pins_contradict, gauges_contradict, implausible_scale.
    """
    given = [
        *_with_u95(PIN, pins, pin_u95_mm),
        *_with_u95(RULINGS, stage_micrometers, division_u95_mm),
        *_with_u95(GRID, grids, grid_u95_mm),
    ]
    _check(given)
    _check_set_up(light_cone_deg, light_cone_u_deg, working_distance_mm, lens_opening)
    seen, lens = _through_the_lens([_read(*g) for g in given])
    readings = [s.reading for s in seen]
    sharpness = [s.pin.sharpness for s in seen if s.pin is not None and s.pin.sharpness is not None]
    unclear = [picture for _, picture, _, _ in given if _tone_unclear(picture)]
    offset = offset_assumed(sharpness, tone_unclear=bool(unclear))
    shown = None if sharpness and partly_coherent(sharpness) else _shown_cone(seen, lens_opening)
    said_deg = light_cone_deg
    if shown is not None and said_deg is not None and shown.contradicts(said_deg):
        light_cone_deg, light_cone_u_deg = shown.from_at_least(said_deg)
        if light_distance_mm is not None:  # the patch is then as wide as that asks for
            light_patch_mm = 2 * light_distance_mm * math.tan(math.radians(light_cone_deg))
    elif shown is not None and said_deg is not None:
        light_cone_u_deg = math.hypot(light_cone_u_deg, shown.doubt(said_deg))
    fit = _fitted(readings, light_cone_deg, light_cone_u_deg, working_distance_mm, offset)
    if unclear and sharpness and not fit.offset_assumed:
        other = _as_linear(fit, sharpness, given, light_cone_deg, light_cone_u_deg, working_distance_mm)
        if other is not None:
            seen, lens, fit, sharpness = other
    found = light_cone_deg is None and fit.cone_deg is not None
    if shown is not None and light_cone_deg is None and not found and shown.contradicts(ASSUMED_CONE_DEG):
        light_cone_deg, light_cone_u_deg = shown.from_at_least(0.0)
    by_pins = light_cone_deg != said_deg
    assumed = [
        what
        for what, some, u95 in (
            (PIN, pins, pin_u95_mm),
            (RULINGS, stage_micrometers, division_u95_mm),
            (GRID, grids, grid_u95_mm),
        )
        if some and u95 is None
    ]
    gauges = [_gauge(s, float(left)) for s, left in zip(seen, fit.residuals_um, strict=True)]
    notes = [camera_note(s.picture.path) for s in seen]
    return new_calibration(
        gauges=gauges,
        um_per_px=fit.um_per_px,
        edge_offset_px=fit.edge_offset_px,
        covariance=fit.covariance,
        lens=lens,
        light_cone_deg=fit.cone_deg if found else light_cone_deg,
        light_cone_u_deg=fit.cone_u_deg if found else light_cone_u_deg,
        light_cone_found=found or by_pins,
        light_cone_most_deg=None if shown is None else shown.limit_deg,
        working_distance_mm=working_distance_mm if working_distance_mm != math.inf else None,
        focus_locked=focus_locked,
        lens_opening=lens_opening,
        light_patch_mm=light_patch_mm,
        light_distance_mm=light_distance_mm,
        camera=next((n for n in notes if n), NO_NOTE),
        pictures=kind_of(
            [s.picture for s in seen],
            sharpness,
            fitted=any(_tone_unclear(p) for _, p, _, _ in given) and seen[0].picture.tone == LINEAR_LIGHT,
        ),
        picture_width_px=given[0][1].width_px,
        picture_height_px=given[0][1].height_px,
        warnings=[
            *_of_the_opening(lens_opening),
            *(_of_the_softness(shown, said_deg) if shown is not None and by_pins else []),
            *remarks(
                fit,
                gauges,
                assumed_u95_mm=DEFAULT_U95_MM if assumed else None,
                assumed_for=assumed,
                customary=any(getattr(s.points, "told_by", "") == "custom" for s in seen),
                tilt_deg=max((s.flat.tilt_deg for s in seen if s.flat is not None), default=0.0),
                scatter_px=max((s.flat.scatter_px for s in seen if s.flat is not None), default=0.0),
                cameras=notes,
                cone_sought=light_cone_deg is None and bool(pins) and bool(stage_micrometers or grids),
                distance_unknown=working_distance_mm is None and bool(pins),
            ),
        ],
    )


def _tone_unclear(picture: Picture) -> bool:
    """A grey JPEG that states no tone: a camera's, or linear values that somebody packed."""
    return picture.kind == "jpeg" and picture.tone == SRGB_LIGHT and picture.colourless


def _as_linear(
    fit: ScaleFit,
    sharpness: Sequence[Sharpness],
    given: Sequence[tuple[str, Picture, float, float]],
    *light: float | None,
) -> tuple[list[_Seen], Mapping[str, Any], ScaleFit, list[Sharpness]] | None:
    """Gauges and fit with the pictures read as linear, where the edges say that they are; else None."""
    blur = float(np.mean([s.blur_px for s in sharpness]))
    if abs(fit.edge_offset_px) < max(_OFF_BY_TONE * blur, 2 * math.sqrt(fit.covariance[1, 1])):
        return None
    linear = [
        (what, retoned(picture, LINEAR_LIGHT) if _tone_unclear(picture) else picture, nominal, u95)
        for what, picture, nominal, u95 in given
    ]
    seen, lens = _through_the_lens([_read(*g) for g in linear])
    cone, cone_u, distance = light
    other = _fitted([s.reading for s in seen], cone, cone_u or 0.0, distance)
    if abs(other.edge_offset_px) > abs(fit.edge_offset_px) / 2:
        return None
    return seen, lens, other, [s.pin.sharpness for s in seen if s.pin is not None and s.pin.sharpness is not None]


def _with_u95(what: str, some: Sequence[Given], u95_mm: U95) -> list[tuple[str, Picture, float, float]]:
    """What was given of one kind, each with its uncertainty."""
    if u95_mm is None or isinstance(u95_mm, (int, float)):
        each = [DEFAULT_U95_MM if u95_mm is None else float(u95_mm)] * len(some)
    else:
        each = [float(u) for u in u95_mm]
    if len(each) != len(some):
        raise RefusalError("bad_gauge.uncertainties", gauges=len(some), what=what, given=len(each))
    return [(what, picture, nominal, u) for (picture, nominal), u in zip(some, each, strict=True)]


def _check(given: Sequence[tuple[str, Picture, float, float]]) -> None:
    """Refuse what is nonsense before any picture is measured."""
    if not given:
        raise RefusalError("no_gauge")
    first = given[0][1]
    names: dict[str, str] = {}
    for what, picture, nominal, u95 in given:
        name = plain_name(picture.path)
        size = {PIN: "a pin diameter", RULINGS: "a division", GRID: "a grid pitch"}[what]
        if not (math.isfinite(nominal) and nominal > 0):
            raise RefusalError("bad_gauge.size", name=name, what=size, size_mm=nominal)
        # a division of 0.01 mm is one of many: its U95 is that of their whole length
        most = 0.1 * nominal if what == PIN else nominal
        if not (math.isfinite(u95) and 0 <= u95 < most):
            raise RefusalError("bad_gauge.uncertainty", name=name, u95_mm=u95, what=size, size_mm=nominal)
        if (picture.width_px, picture.height_px) != (first.width_px, first.height_px):
            raise RefusalError(
                "gauge_picture_sizes",
                name=name,
                width_px=picture.width_px,
                height_px=picture.height_px,
                first=plain_name(first.path),
                first_width_px=first.width_px,
                first_height_px=first.height_px,
            )
        if picture.sha256 in names:
            raise RefusalError("same_picture_twice.gauges", name=name, same=names[picture.sha256])
        names[picture.sha256] = name


def _of_the_opening(opening: float | None) -> list[Reason]:
    """A warning for a fast lens."""
    return [] if opening is None or opening <= FAST_OPENING else [Reason("fast_lens", opening=opening)]


def _of_the_softness(shown: ShownCone, said_deg: float | None) -> list[Reason]:
    """The warning that thick pins are softer than thin ones as no light of what is stated, or assumed, makes them."""
    told = {} if said_deg is None else {"stated_deg": said_deg}
    return [Reason("pins_soft.stated" if told else "pins_soft", cone_deg=shown.likely_deg, **told)]


def _shown_cone(seen: Sequence[_Seen], lens_opening: float | None) -> ShownCone | None:
    read = [(s.nominal_mm, s.pin) for s in seen if s.pin is not None]
    if not read:
        return None
    thickest, widest = max(((size, pin) for size, pin in read), key=lambda each: each[0])
    scale = thickest / widest.diameter_px  # one for all: an edge offset changes that of a thin pin more
    angles = [pin.angle_deg for _, pin in read]
    seen_so = [(size, pin.blur_px * scale, pin.blur_u_px * scale) for size, pin in read]
    return shown_cone(seen_so, lens_opening, max(angles) - min(angles))


def _check_set_up(
    light_cone_deg: float | None,
    light_cone_u_deg: float,
    working_distance_mm: float | None,
    lens_opening: float | None,
) -> None:
    if light_cone_deg is not None and not (0 <= light_cone_deg < 90 and 0 <= light_cone_u_deg < 90):
        raise RefusalError("bad_light_cone", cone_deg=light_cone_deg)
    if working_distance_mm is not None and not working_distance_mm >= 5:
        raise RefusalError("bad_working_distance", distance_mm=working_distance_mm)
    if lens_opening is not None and not 0 <= lens_opening <= WIDEST_OPENING:
        raise RefusalError("bad_lens_opening", opening=lens_opening, most=WIDEST_OPENING)


def _read(what: str, picture: Picture, nominal_mm: float, u95_mm: float) -> _Seen:
    if what == PIN:
        from vision.gauges.pin import read_pin

        return _Seen(what, picture, nominal_mm, u95_mm, pin=read_pin(picture))
    from vision.gauges.grid import read_grid
    from vision.gauges.rulings import read_rulings

    points: RulingsReading | GridReading = read_rulings(picture) if what == RULINGS else read_grid(picture)
    return _Seen(what, picture, nominal_mm, u95_mm, points=points)


def _through_the_lens(seen: list[_Seen]) -> tuple[list[_Seen], Mapping[str, Any]]:
    """Find the lens from all gauges, and measure each through it.

    A grid knows the lens best; without one, pins and rulings tell its k1 together.
    """
    from calib.flat_gauges import fit_grid, fit_rulings

    size = (seen[0].picture.width_px, seen[0].picture.height_px)
    grids = sorted((s for s in seen if s.what == GRID), key=lambda s: -len(_grid(s).points))
    lens: Mapping[str, Any] = NO_LENS
    k1_left = 0.0
    if grids:
        lens = fit_grid(_grid(grids[0])).lens
    else:
        k1, u = _k1(seen)
        from calib.straightness import worth_correcting

        if worth_correcting(k1, u):
            lens, k1_left = radial_lens(round(k1, 9), *size), u
        elif math.isfinite(u):
            k1_left = math.hypot(k1, u)
    measured = []
    for s in seen:
        if s.what == PIN:
            measured.append(_pin_through(s, lens))
            continue
        fit = fit_grid(_grid(s), lens) if s.what == GRID else fit_rulings(_rulings(s), lens)
        if s.what == RULINGS and not grids:
            fit = _with_lens_doubt(s, fit, lens, k1_left)
        measured.append(_Seen(s.what, s.picture, s.nominal_mm, s.u95_mm, points=s.points, flat=fit))
    return measured, lens


def _grid(seen: _Seen) -> GridReading:
    from vision.gauges.grid import GridReading

    assert isinstance(seen.points, GridReading)
    return seen.points


def _rulings(seen: _Seen) -> RulingsReading:
    from vision.gauges.rulings import RulingsReading

    assert isinstance(seen.points, RulingsReading)
    return seen.points


def _k1(seen: Sequence[_Seen]) -> tuple[float, float]:
    """Radial distortion from pins and rulings, weighted, and its standard uncertainty; (0, inf) if none tells it."""
    from calib.flat_gauges import fit_rulings
    from calib.straightness import radial_distortion

    found = []
    pins = [s.pin for s in seen if s.pin is not None]
    if pins:
        found.append(radial_distortion(pins))
    for s in seen:
        if s.what == RULINGS:
            fit = fit_rulings(_rulings(s))
            found.append((fit.k1, fit.k1_u))
    known = [(k1, u) for k1, u in found if math.isfinite(u) and u > 0]
    if not known:
        return 0.0, math.inf
    weight = np.array([1 / u**2 for _, u in known])
    return float(weight @ np.array([k1 for k1, _ in known]) / weight.sum()), float(weight.sum() ** -0.5)


def _pin_through(seen: _Seen, lens: Mapping[str, Any]) -> _Seen:
    if lens["model"] == "none":
        return seen
    from vision.gauges.pin import read_pin

    again = read_pin(seen.picture, undistort=lambda points: undistort(points, lens))
    return _Seen(seen.what, seen.picture, seen.nominal_mm, seen.u95_mm, pin=again)


def _with_lens_doubt(seen: _Seen, fit: FlatFit, lens: Mapping[str, Any], k1_left: float) -> FlatFit:
    """``fit`` with what a k1 that was not taken out, or is known only so well, may do to its length."""
    from dataclasses import replace

    from calib.flat_gauges import fit_rulings

    if not k1_left:
        return fit
    k1 = float(lens.get("k1", 0.0))
    moved = fit_rulings(_rulings(seen), radial_lens(k1 + k1_left, seen.picture.width_px, seen.picture.height_px))
    return replace(fit, relative_u=math.hypot(fit.relative_u, moved.step_px / fit.step_px - 1))


def _fitted(
    readings: Sequence[GaugeReading],
    cone_deg: float | None,
    cone_u_deg: float,
    working_distance_mm: float | None,
    offset: tuple[float, float] = (0.0, OFFSET_U_PX),
) -> ScaleFit:
    """The weighted fit, refused where the gauges cannot all be what they are said to be."""
    pins = [r for r in readings if r.round]
    if pins:
        seen, size = np.array([r.seen_px for r in pins]), np.array([r.size_um for r in pins])
        check_order(seen, np.array([r.u_px for r in pins]), size, np.array([r.u_size_um for r in pins]))
    _check_scales(readings)
    fit = fit_scale(
        readings, cone_deg=cone_deg, cone_u_deg=cone_u_deg, working_distance_mm=working_distance_mm, offset=offset
    )
    if len(pins) == len(readings):
        check_fit(fit, np.array([r.size_um for r in readings]))
    return fit


def _check_scales(readings: Sequence[GaugeReading]) -> None:
    """Pins, rulings and grids must agree within 5 %: more is a wrong size, a wrong unit or a moved camera."""
    each: dict[str, ScaleFit] = {}
    for what in dict.fromkeys(r.what for r in readings):
        each[what] = fit_scale([r for r in readings if r.what == what])
    for one, two in zip(list(each)[:-1], list(each)[1:], strict=True):
        a, b = each[one].um_per_px, each[two].um_per_px
        if abs(math.log(a / b)) > 0.05:
            raise RefusalError("gauges_contradict", first_um=a, first=one, second_um=b, second=two)


def _gauge(seen: _Seen, residual_um: float) -> Gauge:
    flat, reading = seen.flat, seen.reading
    steps = 1 if flat is None else flat.steps
    return Gauge(
        what=seen.what,
        nominal_mm=seen.nominal_mm,
        u95_mm=seen.u95_mm,
        picture=plain_name(seen.picture.path),
        picture_sha256=seen.picture.sha256,
        diameter_px=reading.seen_px / steps,
        u_px=reading.u_px / steps,
        residual_um=round(residual_um, 6) + 0.0,  # not 1e-13, nor a negative zero
        steps=steps,
        scatter_px=None if flat is None else flat.scatter_px,
    )
