"""A gauge in the part's own picture: a pin that lies beside the part, or a size of the part measured by hand.

It makes a calibration of its own, valid for that very picture, or sharpens the one that the bench has. Such a gauge
lies where the part lies, so that distance and focus are those of the measurement. One size tells the scale only:
without a bench calibration the edge offset is assumed.
"""

from __future__ import annotations

import math
from dataclasses import dataclass, replace

import numpy as np
import numpy.typing as npt

from calib.calibration import Calibration, Gauge, new_calibration
from calib.lens import NO_LENS
from calib.scale import OFFSET_U_PX, GaugeReading, fit_scale
from threads.shared.file_name import plain_name
from threads.shared.refusal import Reason, RefusalError
from vision.gauges.pin import PinReading, read_cylinder, read_pin
from vision.locate.threaded import edges_along, find_threaded_length, mask_direction
from vision.outline.edges import EdgePoints, find_edges
from vision.outline.silhouette import find_silhouette
from vision.pictures.picture import Picture
from vision.shared.plane import FixedScale, PlaneMap

Array = npt.NDArray[np.float64]

_STRAIGHT_PX = 1.0  # edges of a pin are straighter than this; the finest thread that can be measured is not
_CONTRADICTION = 1.5  # in U95 of the difference
_REFOCUS_U = 0.0015
"""Relative standard uncertainty of the scale of a camera that focuses by itself: 0.3 % at U95 (see REFOCUS_U)."""
_MOST_REFOCUS = 0.01  # of the scale: what changed by more was moved, or is no such pin
_FIRST_UM_PER_PX = 4.0
_OWN_SOURCES = ("edge noise and form", "edge finder and local form", "shape of the blur at corners")
KNOWN = ("major", "shank")


@dataclass(frozen=True)
class _Size:
    """A size in the picture: what it is of, as given (mm), and as read (px)."""

    what: str
    size_mm: float
    u95_mm: float
    seen_px: float
    u_px: float


def pin_beside(
    picture: Picture, diameter_mm: float, u95_mm: float, base: Calibration | None = None, part: int | None = None
) -> tuple[Calibration, int]:
    """The calibration from the one straight-edged part in ``picture``, and the number of the part beside it.

    Args:
        picture: with a pin and the part.
        diameter_mm: of the pin.
        u95_mm: its expanded uncertainty (k = 2).
        base: calibration of the bench, with which the pin is combined.
        part: number of the part to be measured, from left to right from 1, when more than one lies beside the pin.

    Raises:
        RefusalError: what ``find_silhouette`` refuses; no_pin_beside, several_pins, several_parts, no_such_part,
            bad_gauge, bench_changed.
    """
    _check_size("the pin", diameter_mm, u95_mm)
    count = find_silhouette(picture, part=1).parts
    readings: dict[int, PinReading] = {}
    for number in range(1, count + 1):
        try:
            reading = read_pin(picture, None if base is None else base.undistort, part=number)
        except RefusalError:
            continue
        if reading.straightness_px < _STRAIGHT_PX:
            readings[number] = reading
    if len(readings) > 1:  # crests and shank of a screw stand in two straight lines as well
        readings = {number: reading for number, reading in readings.items() if not _has_thread(picture, number)}
    others = [n for n in range(1, count + 1) if n not in readings]
    if not readings or count < 2:
        raise RefusalError("no_pin_beside")
    if len(readings) > 1:
        raise RefusalError("several_pins", parts=tuple(readings))
    pin = next(iter(readings))
    if part is None and len(others) > 1:
        raise RefusalError("several_parts.beside_pin", others=len(others), pin=pin, parts=tuple(others))
    if part is not None and part not in others:
        raise RefusalError("no_such_part.beside_pin", part=part, parts=tuple(others))
    found = readings[pin]
    size = _Size("pin", diameter_mm, u95_mm, found.diameter_px, found.standard_uncertainty_px)
    return _combined(picture, size, base), others[0] if part is None else part


def _has_thread(picture: Picture, part: int) -> bool:
    silhouette = find_silhouette(picture, part=part)
    edges = find_edges(silhouette)
    try:
        find_threaded_length(edges.xy, mask_direction(silhouette.region), edges.normal)
    except RefusalError:
        return False
    return True


def known_size(
    picture: Picture,
    what: str,
    size_mm: float,
    u95_mm: float,
    base: Calibration | None = None,
    part: int | None = None,
) -> Calibration:
    """The calibration from a size of the part itself.

    Args:
        picture: of the part.
        what: "major" for its major diameter, "shank" for the plain length next to its thread.
        size_mm: as measured by hand.
        u95_mm: its expanded uncertainty (k = 2).
        base: calibration of the bench, with which it is combined.
        part: as in ``vision.result.measure.measure_picture``.

    Raises:
        RefusalError: what ``measure_picture`` and ``read_pin`` refuse; no_shank, bad_gauge, bench_changed.
    """
    _check_size(f"the part's {what} diameter", size_mm, u95_mm)
    if what == "shank":
        seen = _shank(picture, base, part)
        return _combined(picture, _Size("shank", size_mm, u95_mm, seen.diameter_px, seen.standard_uncertainty_px), base)
    from vision.result.measure import measure_picture

    plane: PlaneMap = FixedScale(_FIRST_UM_PER_PX) if base is None else base
    measured = measure_picture(picture, plane, part=part)
    if base is None:
        # once more at nearly the right scale: not all that the measurement knows of threads is free of it
        plane = FixedScale(_FIRST_UM_PER_PX * size_mm / measured.thread.major_diameter.value)
        measured = measure_picture(picture, plane, part=part)
    order = list(measured.thread.covariance.order)
    at = order.index("major_diameter")
    own = [c.matrix[at, at] for name, c in measured.by_source.items() if name in _OWN_SOURCES]
    px_mm = plane.um_per_px / 1000
    seen_px = measured.thread.major_diameter.value / px_mm + 2 * plane.edge_offset_px
    return _combined(picture, _Size("major diameter", size_mm, u95_mm, seen_px, math.sqrt(sum(own)) / px_mm), base)


def _check_size(what: str, size_mm: float, u95_mm: float) -> None:
    if not (math.isfinite(size_mm) and 0 < size_mm < 1000 and 0 <= u95_mm < 0.1 * size_mm):
        raise RefusalError("bad_gauge.known", size_mm=size_mm, u95_mm=u95_mm, what=what)


def _shank(picture: Picture, base: Calibration | None, part: int | None) -> PinReading:
    """The plain length that begins next to the thread, the longer one where there are two."""
    silhouette = find_silhouette(picture, part=part)
    edges = find_edges(silhouette)
    undistort = None if base is None else base.undistort
    points = edges.xy if undistort is None else undistort(edges.xy)
    thread = find_threaded_length(points, mask_direction(silhouette.region), edges.normal)
    u, upper, lower = edges_along(points, thread.frame, edges.normal)
    along = thread.frame.to_frame(points)[:, 0]
    best: PinReading | None = None
    for way, edge in ((-1, thread.start), (1, thread.end)):
        first, last = _plain_stretch(u * way, upper - lower, edge * way, thread.pitch)
        on = (along * way > first) & (along * way < last)
        chosen = EdgePoints(edges.xy[on], edges.normal[on], edges.steepness[on])
        try:
            reading = read_cylinder(silhouette, chosen, picture, undistort)
        except RefusalError:
            continue
        if reading.straightness_px < _STRAIGHT_PX and (best is None or reading.length_px > best.length_px):
            best = reading
    if best is None:
        raise RefusalError("no_shank")
    return best


def _plain_stretch(u: Array, thickness: Array, edge: float, pitch: float) -> tuple[float, float]:
    """From where to where along u, outward from the end of the thread, the thickness stays the same."""
    order = np.argsort(u)
    u, thickness = u[order], thickness[order]
    beyond = u > edge + 1.5 * pitch
    near = beyond & (u < edge + 3 * pitch) & np.isfinite(thickness)
    if near.sum() < 10:
        return edge, edge
    usual = float(np.median(thickness[near]))
    off = np.flatnonzero(beyond & ~(np.abs(thickness - usual) < 3))
    return edge + 1.5 * pitch, float(u[off[0]]) if off.size else float(u[-1])


def _combined(picture: Picture, size: _Size, base: Calibration | None) -> Calibration:
    gauge = Gauge(
        what=size.what,
        nominal_mm=size.size_mm,
        u95_mm=size.u95_mm,
        picture=plain_name(picture.path),
        picture_sha256=picture.sha256,
        diameter_px=size.seen_px,
        u_px=size.u_px,
        residual_um=0.0,
    )
    return _alone(picture, size, gauge) if base is None else _sharpened(size, gauge, base)


def _alone(picture: Picture, size: _Size, gauge: Gauge) -> Calibration:
    fit = fit_scale([GaugeReading(size.what, True, 1000 * size.size_mm, 500 * size.u95_mm, size.seen_px, size.u_px)])
    return new_calibration(
        gauges=[gauge],
        um_per_px=fit.um_per_px,
        edge_offset_px=fit.edge_offset_px,
        covariance=fit.covariance,
        lens=NO_LENS,
        light_cone_deg=None,
        focus_locked=True,  # there is no other picture
        picture_width_px=picture.width_px,
        picture_height_px=picture.height_px,
        warnings=[Reason("edge_offset_assumed.one_size", what=size.what, size_mm=size.size_mm, u_px=OFFSET_U_PX)],
    )


def _sharpened(size: _Size, gauge: Gauge, base: Calibration) -> Calibration:
    """``base`` and one reading more, weighted: a step of least squares from the covariance that ``base`` has.

    What refocusing may have done to the scale, all that a camera does that focuses by itself, is added to that, so that
    the gauge takes it out for this picture. One that shows a change gives the scale by itself, with a warning.
    """
    scale, offset = base.um_per_px, base.edge_offset_px
    lost, u_lost = base.lost_by_round
    predicted = 1000 * size.size_mm * (1 - lost) / scale + 2 * offset
    row = np.array([-1000 * size.size_mm / scale**2, 2.0])
    variance = size.u_px**2 + (1000 * size.size_mm / scale) ** 2 * u_lost**2 + (500 * size.u95_mm / scale) ** 2
    miss = size.seen_px - predicted
    still = float(row @ base.covariance @ row) + variance
    changed = abs(miss) > _CONTRADICTION * 2 * math.sqrt(still)
    if changed and (base.focus_locked or abs(miss) > _MOST_REFOCUS * size.seen_px):
        raise RefusalError(
            "bench_changed.part",
            what=size.what,
            size_mm=size.size_mm,
            change_um=miss * scale,
            times=abs(miss) / (2 * math.sqrt(still)),
        )
    prior = base.covariance.copy()
    if not base.focus_locked:
        prior[0, 0] += (scale * (_MOST_REFOCUS / 2 if changed else _REFOCUS_U)) ** 2
    spread = float(row @ prior @ row) + variance
    gain = prior @ row / spread
    step = gain * miss
    joined = new_calibration(
        gauges=[*base.gauges, replace(gauge, residual_um=round(float(miss - row @ step) * scale, 6) + 0.0)],
        um_per_px=scale + float(step[0]),
        edge_offset_px=offset + float(step[1]),
        covariance=prior - np.outer(gain, gain) * spread,
        lens=base.lens,
        light_cone_deg=base.light_cone_deg,
        light_cone_u_deg=base.light_cone_u_deg,
        light_cone_found=base.light_cone_found,
        light_cone_most_deg=base.light_cone_most_deg,
        working_distance_mm=base.working_distance_mm,
        focus_locked=True,  # as far as this picture goes
        lens_opening=base.lens_opening,
        light_patch_mm=base.light_patch_mm,
        light_distance_mm=base.light_distance_mm,
        camera=base.camera,
        pictures=base.pictures,
        picture_width_px=base.picture_width_px,
        picture_height_px=base.picture_height_px,
        warnings=base.warnings,
    )
    if changed:
        percent = 100 * float(step[0]) / scale
        joined = replace(joined, warnings=(*joined.warnings, Reason("focus_changed", what=size.what, percent=percent)))
    return replace(joined, id=f"{base.id}+{joined.id[:4]}")
