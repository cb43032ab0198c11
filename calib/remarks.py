"""What a person should know about a calibration: its warnings."""

from __future__ import annotations

import math
from collections.abc import Sequence

from calib.calibration import Calibration, Gauge
from calib.scale import NEAREST_CAMERA_MM, OFFSET_U_PX, ScaleFit
from threads.shared.refusal import Reason
from vision.pictures.camera_note import CameraNote, as_noted, camera_note
from vision.shared.plane import PlaneMap

_MOST_TILT_DEG = 1.0
_MOST_SCATTER_PX = 0.15


def remarks(
    fit: ScaleFit,
    gauges: Sequence[Gauge],
    *,
    assumed_u95_mm: float | None = None,
    assumed_for: Sequence[str] = (),
    customary: bool = False,
    tilt_deg: float = 0.0,
    scatter_px: float = 0.0,
    cameras: Sequence[CameraNote] = (),
    cone_sought: bool = False,
    distance_unknown: bool = False,
) -> list[Reason]:
    """The warnings of a calibration.

    Args:
        fit: of the readings of all gauges.
        gauges: the same, with their residuals.
        assumed_u95_mm: the uncertainty that was assumed.
        assumed_for: the kinds of gauge for which it was.
        customary: rulings too fine to be counted were counted by custom.
        tilt_deg: by how much a grid leans.
        scatter_px: of the points of flat gauges.
        cameras: what the pictures say of the camera.
        cone_sought: there are round and flat gauges, and the cone was not given.
        distance_unknown: there are round gauges, and the distance of the camera was not given.
    """
    found = [*_of_the_offset(fit, gauges), *_of_agreement(fit, gauges)]
    if assumed_u95_mm is not None:
        found += [_assumed(what, assumed_u95_mm) for what in assumed_for]
    if customary:
        found.append(Reason("rulings_not_resolved"))
    if tilt_deg > _MOST_TILT_DEG:
        found.append(Reason("grid_tilted", tilt_deg=tilt_deg))
    if scatter_px > _MOST_SCATTER_PX:
        found.append(Reason("gauge_uneven", scatter_px=scatter_px))
    if fit.doubtful_cone_deg is not None:
        found.append(Reason("light_cone_or_size", cone_deg=fit.doubtful_cone_deg))
    elif cone_sought and fit.cone_deg is None and not fit.disagree:
        found.append(Reason("light_cone_not_told"))
    if distance_unknown:
        found.append(Reason("working_distance_unknown", distance_mm=NEAREST_CAMERA_MM))
    different = _different(cameras)
    if different:
        found.append(Reason("cameras_differ", what=different[0], first=different[1], second=different[2]))
    return found


def _of_the_offset(fit: ScaleFit, gauges: Sequence[Gauge]) -> list[Reason]:
    pins = [g for g in gauges if g.what == "pin"]
    if fit.offset_assumed:
        case = "no_pin" if not pins else "pins_only" if fit.round_only else "pins"
        return [Reason(f"edge_offset_assumed.{case}", u_px=OFFSET_U_PX)]
    u = math.sqrt(fit.covariance[1, 1])
    if not fit.disagree and u > 2 * OFFSET_U_PX:
        return [Reason("edge_offset_uncertain", u95_px=2 * u)]
    return []


def _of_agreement(fit: ScaleFit, gauges: Sequence[Gauge]) -> list[Reason]:
    if not fit.disagree:
        return []
    worst = max(gauges, key=lambda gauge: abs(gauge.residual_um))
    if all(g.what == "pin" for g in gauges):
        return [Reason("pins_disagree", picture=worst.picture, size_mm=worst.nominal_mm, residual_um=worst.residual_um)]
    return [Reason("gauges_disagree", picture=worst.picture, what=worst.what, residual_um=worst.residual_um)]


def _assumed(what: str, u95_mm: float) -> Reason:
    code = {"pin": "pin_u95_assumed", "stage micrometer": "division_u95_assumed", "grid": "grid_u95_assumed"}[what]
    return Reason(code, um=1000 * u95_mm)


def _different(cameras: Sequence[CameraNote]) -> tuple[str, str, str] | None:
    known = [c for c in cameras if c]
    for other in known[1:]:
        difference = known[0].difference(other)
        if difference is not None:
            return difference
    return None


def camera_remarks(plane: PlaneMap | None, picture_path: str) -> tuple[Reason, ...]:
    """A warning where the picture's file says that camera, lens or zoom are not those of the calibration.

    Nothing where ``plane`` is no calibration: a scale given by hand knows of no camera.
    """
    if not isinstance(plane, Calibration):
        return ()
    difference = plane.camera.difference(camera_note(picture_path))
    if difference is None:
        return ()
    return (Reason("camera_differs", what=difference[0], first=difference[1], second=difference[2]),)


def source_remarks(
    plane: PlaneMap, camera: str, size: tuple[int, int], *, colourless: bool = False
) -> tuple[Reason, ...]:
    """What keeps the live pictures of a source, ``size`` px, from being measured by ``plane``, or is to be doubted.

    ``camera`` is its name, "" for a video or where the system tells none; ``colourless``: it gives grey pictures in a
    colour format. The doubtful first: calibration_picture_size, source_differs; then source_not_known, which only says
    that the calibration does not name its camera, and source_colourless.
    """
    if not isinstance(plane, Calibration):
        return ()
    found = []
    valid = (plane.picture_width_px, plane.picture_height_px)
    if valid != size:
        sizes = dict(zip(("width_px", "height_px", "valid_width_px", "valid_height_px"), (*size, *valid), strict=True))
        found.append(Reason("calibration_picture_size.live", **sizes))
    known, here = plane.camera.camera, as_noted(camera)
    if known is None:
        found.append(Reason("source_not_known"))
    elif here is None:
        found.append(Reason("source_differs.unnamed", calibrated=known))
    elif here != known:
        found.append(Reason("source_differs", camera=here, calibrated=known))
    if colourless and (known is None or here != known):
        found.append(Reason("source_colourless"))
    return tuple(found)
